//! The texts that the binary carries packed (`build.rs`).

use std::io::{self, Read as _};

use flate2::read::GzDecoder;

/// The API document.
pub static OPENAPI: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/openapi.json.gz"));
/// The files of `openapi/examples`: one JSON object, by their names.
pub static EXAMPLES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/examples.json.gz"));
/// The published cases: one JSON list.
pub static WORKED_EXAMPLES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/worked_examples.json.gz"));

/// A text as it was before it was packed.
///
/// # Errors
/// Where it is not one of those that were packed.
pub fn unpack(packed: &[u8]) -> Result<Vec<u8>, io::Error> {
    let mut text = Vec::new();
    GzDecoder::new(packed).read_to_end(&mut text)?;
    Ok(text)
}

#[cfg(test)]
mod tests {
    use super::{OPENAPI, unpack};

    #[test]
    fn a_text_comes_out_as_it_went_in() {
        assert_eq!(unpack(OPENAPI).expect("packed"), include_bytes!("../../../openapi/v1.json"));
        assert!(unpack(b"{}").is_err());
    }
}
