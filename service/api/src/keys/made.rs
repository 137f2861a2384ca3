//! New keys.

use std::fmt::Write as _;

use anyhow::bail;
use sha2::{Digest as _, Sha256};

use super::file::is_name;

/// The beginning of every key, by which those who look for secrets where none should be find it.
const PREFIX: &str = "vsk_";

/// A key just made: it is nowhere else.
pub struct MadeKey {
    /// The key, for its caller.
    pub key: String,
    /// Its entry for the keys file.
    pub entry: String,
}

/// Makes a key of 256 bits from the system's own randomness.
///
/// # Errors
/// Where the name cannot be one, or the system has no randomness.
pub fn make(name: &str) -> Result<MadeKey, anyhow::Error> {
    if !is_name(name) {
        bail!("\"{name}\" cannot name a key: write 1 to 64 letters, digits, points, underscores and hyphens");
    }
    let mut random = [0; 32];
    getrandom::fill(&mut random).map_err(|error| anyhow::anyhow!("the system has no randomness: {error}"))?;
    let key = format!("{PREFIX}{}", hexadecimal(&random));
    let entry = format!("[[key]]\nname = \"{name}\"\nsha256 = \"{}\"\n", hexadecimal(&Sha256::digest(&key)));
    Ok(MadeKey { key, entry })
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(2 * bytes.len()), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
