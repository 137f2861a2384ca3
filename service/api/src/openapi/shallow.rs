//! How the document is written: lines of their own for what people compare, and short for what is nested deeper, so that a change shows in
//! few lines and the document stays small.

use std::io::{self, Write};

use serde_json::ser::Formatter;

/// The depth down to which each member has a line of its own: an operation's parts, and the fields of a schema.
const DEPTH: usize = 5;

/// Writes members on lines of their own down to a depth, and all that is deeper on one line.
#[derive(Default)]
pub(super) struct Shallow {
    depth: usize,
    has_value: bool,
}

impl Shallow {
    fn begin<W: ?Sized + Write>(&mut self, writer: &mut W, bracket: &[u8]) -> io::Result<()> {
        self.depth += 1;
        self.has_value = false;
        writer.write_all(bracket)
    }

    fn end<W: ?Sized + Write>(&mut self, writer: &mut W, bracket: &[u8]) -> io::Result<()> {
        let own_line = self.depth <= DEPTH && self.has_value;
        self.depth -= 1;
        self.has_value = true;
        if own_line {
            self.new_line(writer)?;
        }
        writer.write_all(bracket)
    }

    fn separate<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if !first {
            writer.write_all(b",")?;
        }
        if self.depth <= DEPTH { self.new_line(writer) } else { Ok(()) }
    }

    fn new_line<W: ?Sized + Write>(&self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b"\n")?;
        (0..self.depth).try_for_each(|_| writer.write_all(b" "))
    }
}

impl Formatter for Shallow {
    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.begin(writer, b"[")
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.end(writer, b"]")
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.separate(writer, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.has_value = true;
        Ok(())
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.begin(writer, b"{")
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.end(writer, b"}")
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.separate(writer, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.has_value = true;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use serde::Serialize as _;
    use serde_json::{Value, json};

    use super::Shallow;

    #[test]
    fn what_is_written_reads_back_and_is_short_where_it_is_deep() {
        let value = json!({ "a": { "b": { "c": { "d": { "e": { "f": [1, [], {}] } } } } }, "empty": {}, "list": [] });
        let mut text = Vec::new();
        value.serialize(&mut serde_json::Serializer::with_formatter(&mut text, Shallow::default())).expect("written");
        let text = String::from_utf8(text).expect("UTF-8");
        assert_eq!(serde_json::from_str::<Value>(&text).expect("JSON"), value);
        assert!(text.contains("{\"f\": [1,[],{}]}"), "{text}");
        assert!(text.starts_with("{\n \"a\": {\n  \"b\": {"), "{text}");
    }
}
