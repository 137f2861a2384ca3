//! Comparisons by the thousand: lines of JSON in, lines of JSON out, in order, with as much in memory as is being worked on.
//!
//! Lines are taken in pieces; several pieces are worked on at once, on threads of their own, and their answers are written in the order
//! of the lines. No more is read than can be worked on, so that a caller who does not read its answers is not read either.

mod answers;
mod line;
mod lines;
mod tally;

pub use answers::{Batch, answers};
pub use line::Form;
