//! Reading a JSON body so that everything wrong with it can be said at once, in the caller's words.
//!
//! [`read`] turns the bytes into a tree of [`Node`]s that still knows fields given twice and how numbers were written.
//! A [`Decoder`] then walks that tree, names every error with its JSON Pointer, and goes on.
//! [`written`] turns answers into bytes.

mod decoder;
mod reader;
mod writer;

pub use decoder::{Decoder, Given, shown};
pub use reader::{MAX_DEPTH, Node, ReadFault, read};
pub use writer::{WriteFault, escape, write_to, written};

#[cfg(test)]
mod tests;
