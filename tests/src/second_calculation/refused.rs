//! What admits no answer.

/// A refusal: its code, and a place that it names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// The code.
    pub code: &'static str,
    /// The place, a JSON Pointer into the request.
    pub pointer: String,
}

impl Refused {
    /// A refusal of one place.
    pub fn one(code: &'static str, pointer: &str) -> Refused {
        Refused { code, pointer: pointer.to_owned() }
    }
}
