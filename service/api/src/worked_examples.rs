//! The published cases that this build reproduces, as they lie in `tests/worked-examples`.

use std::sync::LazyLock;

use crate::wire::v1::worked_examples::WorkedExample;

/// The text of each case file, in the order of their names.
const FILES: &[&str] = include!(concat!(env!("OUT_DIR"), "/worked_examples.rs"));

static ALL: LazyLock<Result<Vec<WorkedExample>, String>> = LazyLock::new(|| {
    let mut all: Vec<WorkedExample> = FILES
        .iter()
        .map(|text| serde_json::from_str(text).map_err(|error| format!("a case file is not one: {error}: {text:.80}")))
        .collect::<Result<_, _>>()?;
    all.sort_by(|one, other| one.id.cmp(&other.id));
    Ok(all)
});

/// Every case, by id.
///
/// # Errors
/// A case file that is not one, which tests find before a release does.
pub fn all() -> Result<&'static [WorkedExample], anyhow::Error> {
    ALL.as_ref().map(Vec::as_slice).map_err(|fault| anyhow::anyhow!("{fault}"))
}
