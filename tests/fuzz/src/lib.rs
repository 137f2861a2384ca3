//! What the fuzzing targets share: a mutator that knows the API document.

pub mod mutation;
pub mod schema;
