//! The published cases that this build reproduces, as they lie in `tests/worked-examples`.

use std::sync::LazyLock;

use crate::packed;
use crate::wire::v1::worked_examples::WorkedExample;

static ALL: LazyLock<Result<Vec<WorkedExample>, String>> = LazyLock::new(|| {
    let text = packed::unpack(packed::WORKED_EXAMPLES).map_err(|error| error.to_string())?;
    let mut all: Vec<WorkedExample> =
        serde_json::from_slice(&text).map_err(|error| format!("a case file is not one: {error}"))?;
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
