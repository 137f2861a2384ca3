//! Version 1 of the wire.
//!
//! A request is decoded by hand, so that everything wrong with it can be said at once, and its types say in their schemas
//! exactly the bounds that the decoder keeps. An answer is plain data.

pub mod answer;
mod answer_from;
mod decode;
mod explain;
mod figures;
pub mod law;
mod law_from;
pub mod request;
pub mod scalars;
pub mod spend_kinds;
pub mod vocabulary;

pub use decode::{comparison_request, date_in_query};

#[cfg(test)]
mod tests;
