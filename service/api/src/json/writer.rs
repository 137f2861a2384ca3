//! From values to bytes of JSON: what serde_json would write, to the byte, at a fraction of the cost.
//!
//! An answer is mostly texts, and nearly all of them hold nothing that JSON writes in another way. So texts are looked through sixteen
//! bytes at a time, and copied whole where nothing stands against it; amounts, dates and the like go straight to where they belong
//! instead of through a text of their own.

use std::fmt::{self, Write as _};

use serde::ser::{self, Serialize};

/// The JSON of a value, at the end of some bytes.
pub fn write_to(bytes: &mut Vec<u8>, value: &impl Serialize) -> Result<(), WriteFault> {
    value.serialize(Writer { bytes })
}

/// The JSON of a value; `about` so many bytes are kept ready for it.
pub fn written(value: &impl Serialize, about: usize) -> Result<Vec<u8>, WriteFault> {
    let mut bytes = Vec::with_capacity(about);
    write_to(&mut bytes, value)?;
    Ok(bytes)
}

/// Why a value cannot be written.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct WriteFault(String);

impl ser::Error for WriteFault {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self(message.to_string())
    }
}

/// Writes one value.
struct Writer<'b> {
    bytes: &'b mut Vec<u8>,
}

impl Writer<'_> {
    fn no<T>(what: &str) -> Result<T, WriteFault> {
        Err(ser::Error::custom(format!("answers have no {what}")))
    }
}

macro_rules! whole_numbers {
    ($($method:ident($type:ty))*) => {
        $(fn $method(self, value: $type) -> Result<(), WriteFault> {
            self.bytes.extend_from_slice(itoa::Buffer::new().format(value).as_bytes());
            Ok(())
        })*
    };
}

impl<'b> ser::Serializer for Writer<'b> {
    type Ok = ();
    type Error = WriteFault;
    type SerializeSeq = Members<'b>;
    type SerializeTuple = Members<'b>;
    type SerializeTupleStruct = ser::Impossible<(), WriteFault>;
    type SerializeTupleVariant = ser::Impossible<(), WriteFault>;
    type SerializeMap = Members<'b>;
    type SerializeStruct = Members<'b>;
    type SerializeStructVariant = ser::Impossible<(), WriteFault>;

    fn serialize_bool(self, value: bool) -> Result<(), WriteFault> {
        self.bytes.extend_from_slice(if value { b"true" } else { b"false" });
        Ok(())
    }

    whole_numbers! {
        serialize_i8(i8) serialize_i16(i16) serialize_i32(i32) serialize_i64(i64)
        serialize_u8(u8) serialize_u16(u16) serialize_u32(u32) serialize_u64(u64)
    }

    fn serialize_f32(self, _: f32) -> Result<(), WriteFault> {
        Self::no("floating-point numbers")
    }

    fn serialize_f64(self, _: f64) -> Result<(), WriteFault> {
        Self::no("floating-point numbers")
    }

    fn serialize_char(self, value: char) -> Result<(), WriteFault> {
        self.serialize_str(value.encode_utf8(&mut [0; 4]))
    }

    fn serialize_str(self, value: &str) -> Result<(), WriteFault> {
        push_text(self.bytes, value);
        Ok(())
    }

    fn serialize_bytes(self, _: &[u8]) -> Result<(), WriteFault> {
        Self::no("bytes")
    }

    fn serialize_none(self) -> Result<(), WriteFault> {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), WriteFault> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), WriteFault> {
        self.bytes.extend_from_slice(b"null");
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), WriteFault> {
        self.serialize_unit()
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, variant: &'static str) -> Result<(), WriteFault> {
        self.serialize_str(variant)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Result<(), WriteFault> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Result<(), WriteFault> {
        Self::no("variants with values")
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Members<'b>, WriteFault> {
        Ok(Members::between(self.bytes, b'[', b']'))
    }

    fn serialize_tuple(self, _: usize) -> Result<Members<'b>, WriteFault> {
        Ok(Members::between(self.bytes, b'[', b']'))
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Self::SerializeTupleStruct, WriteFault> {
        Self::no("tuples with names")
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self::SerializeTupleVariant, WriteFault> {
        Self::no("variants with values")
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Members<'b>, WriteFault> {
        Ok(Members::between(self.bytes, b'{', b'}'))
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Members<'b>, WriteFault> {
        Ok(Members::between(self.bytes, b'{', b'}'))
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self::SerializeStructVariant, WriteFault> {
        Self::no("variants with values")
    }

    fn collect_str<T: fmt::Display + ?Sized>(self, value: &T) -> Result<(), WriteFault> {
        self.bytes.push(b'"');
        write!(Escaping(self.bytes), "{value}").map_err(ser::Error::custom)?;
        self.bytes.push(b'"');
        Ok(())
    }
}

/// Writes the members of an object or a list.
struct Members<'b> {
    bytes: &'b mut Vec<u8>,
    is_first: bool,
    close: u8,
}

impl<'b> Members<'b> {
    fn between(bytes: &'b mut Vec<u8>, open: u8, close: u8) -> Self {
        bytes.push(open);
        Self { bytes, is_first: true, close }
    }

    fn next(&mut self) -> Writer<'_> {
        if !std::mem::replace(&mut self.is_first, false) {
            self.bytes.push(b',');
        }
        Writer { bytes: self.bytes }
    }

    fn close(self) -> Result<(), WriteFault> {
        self.bytes.push(self.close);
        Ok(())
    }
}

impl ser::SerializeSeq for Members<'_> {
    type Ok = ();
    type Error = WriteFault;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), WriteFault> {
        value.serialize(self.next())
    }

    fn end(self) -> Result<(), WriteFault> {
        self.close()
    }
}

impl ser::SerializeTuple for Members<'_> {
    type Ok = ();
    type Error = WriteFault;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), WriteFault> {
        value.serialize(self.next())
    }

    fn end(self) -> Result<(), WriteFault> {
        self.close()
    }
}

impl ser::SerializeMap for Members<'_> {
    type Ok = ();
    type Error = WriteFault;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), WriteFault> {
        // Keys of answers are texts; anything else would not be JSON, and the debug build of every test says so.
        let before = self.bytes.len() + usize::from(!self.is_first);
        key.serialize(self.next())?;
        debug_assert_eq!(self.bytes.get(before), Some(&b'"'), "a key is a text");
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), WriteFault> {
        self.bytes.push(b':');
        value.serialize(Writer { bytes: self.bytes })
    }

    fn end(self) -> Result<(), WriteFault> {
        self.close()
    }
}

impl ser::SerializeStruct for Members<'_> {
    type Ok = ();
    type Error = WriteFault;

    // So that the length of the name is known where it is written, and copying it takes no call.
    #[expect(
        clippy::inline_always,
        reason = "measured: 4% of an answer's instructions without workings, 7% of a whole one's"
    )]
    #[inline(always)]
    fn serialize_field<T: Serialize + ?Sized>(&mut self, name: &'static str, value: &T) -> Result<(), WriteFault> {
        // Names of fields hold nothing that is written in another way.
        let bytes = &mut *self.bytes;
        bytes.reserve(name.len() + 4);
        bytes.extend_from_slice(if std::mem::replace(&mut self.is_first, false) { b"\"" } else { b",\"" });
        bytes.extend_from_slice(name.as_bytes());
        bytes.extend_from_slice(b"\":");
        value.serialize(Writer { bytes })
    }

    fn end(self) -> Result<(), WriteFault> {
        self.close()
    }
}

/// Texts are written as they stand in JSON, without their quotation marks.
struct Escaping<'b>(&'b mut Vec<u8>);

impl fmt::Write for Escaping<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        push_escaped(self.0, text);
        Ok(())
    }
}

fn push_text(bytes: &mut Vec<u8>, text: &str) {
    bytes.reserve(text.len() + 2);
    bytes.push(b'"');
    push_escaped(bytes, text);
    bytes.push(b'"');
}

fn push_escaped(bytes: &mut Vec<u8>, text: &str) {
    if is_plain(text.as_bytes()) {
        bytes.extend_from_slice(text.as_bytes());
        return;
    }
    // What takes the pieces here never refuses one.
    let _ = escape(text, |piece| {
        bytes.extend_from_slice(piece.as_bytes());
        Ok(())
    });
}

/// Hands on a text in pieces as they stand in JSON, without quotation marks around it.
pub fn escape(text: &str, mut take: impl FnMut(&str) -> fmt::Result) -> fmt::Result {
    if is_plain(text.as_bytes()) {
        return take(text);
    }
    let mut rest = text;
    while let Some(position) = rest.bytes().position(is_special) {
        // What is special has one byte, so that both cuts lie between characters.
        let (plain, special) = rest.split_at(position);
        take(plain)?;
        take_special(special.as_bytes()[0], &mut take)?;
        rest = &special[1..];
    }
    take(rest)
}

/// Whether JSON writes all of a text as it is.
#[inline]
fn is_plain(text: &[u8]) -> bool {
    if let Some(last) = text.last_chunk::<16>() {
        // What is left over is looked at with some of what stands before it.
        return text.as_chunks::<16>().0.iter().chain([last]).all(|chunk| !has_special(chunk));
    }
    if let (Some(first), Some(last)) = (text.first_chunk::<8>(), text.last_chunk::<8>()) {
        return !has_special(first) && !has_special(last);
    }
    if let (Some(first), Some(last)) = (text.first_chunk::<4>(), text.last_chunk::<4>()) {
        return !has_special(first) && !has_special(last);
    }
    !has_special(text)
}

/// Whether a byte is among these that JSON does not write as it is. Without branches, so that the compiler looks at sixteen at once.
fn has_special<'b>(bytes: impl IntoIterator<Item = &'b u8>) -> bool {
    bytes.into_iter().fold(0, |found, byte| found | u8::from(is_special(*byte))) != 0
}

/// A quotation mark, a backslash or a control character.
fn is_special(byte: u8) -> bool {
    // With that bit turned the quotation mark stands next to the control characters, which stay among themselves.
    ((byte ^ 0x02) < 0x21) | (byte == b'\\')
}

fn take_special(byte: u8, take: &mut impl FnMut(&str) -> fmt::Result) -> fmt::Result {
    let short = match byte {
        b'"' => "\\\"",
        b'\\' => "\\\\",
        b'\n' => "\\n",
        b'\r' => "\\r",
        b'\t' => "\\t",
        0x08 => "\\b",
        0x0c => "\\f",
        other => return take(&format!("\\u{other:04x}")),
    };
    take(short)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use serde::Serialize;

    use super::{WriteFault, written};

    /// The JSON of a value, which is that of serde_json to the byte.
    fn same(value: &impl Serialize) -> String {
        let ours = written(value, 0).expect("a value that answers have");
        assert_eq!(ours, serde_json::to_vec(value).expect("JSON"));
        String::from_utf8(ours).expect("UTF-8")
    }

    #[test]
    fn texts_are_written_as_serde_json_writes_them() {
        for special in (0..=0x7f_u8).map(char::from).chain(['\u{80}', '£', '−', '\u{2028}', '\u{10ffff}']) {
            // At every place of sixteen bytes, before and after others.
            for before in 0..=17 {
                for after in [0, 1, 7, 8, 9, 15, 16, 17] {
                    let text = format!("{}{special}{}", "a".repeat(before), "b".repeat(after));
                    same(&text);
                    same(&format!("{text}{text}"));
                    same(&format!("{special}{special}{text}\u{1}"));
                }
            }
        }
        assert_eq!(same(&"a \"b\" \\ \n\u{1f}"), r#""a \"b\" \\ \n\u001f""#);
    }

    #[derive(Serialize)]
    struct Everything {
        unit: (),
        truth: bool,
        small: i8,
        large: u64,
        negative: i64,
        letter: char,
        none: Option<u32>,
        some: Option<&'static str>,
        list: Vec<Newtype>,
        empty: Vec<u8>,
        pair: (u16, i32),
        word: Word,
        map: BTreeMap<String, Vec<bool>>,
        shown: Shown,
        #[serde(skip_serializing_if = "Option::is_none")]
        absent: Option<u8>,
    }

    #[derive(Serialize)]
    struct Newtype(u8);

    #[derive(Serialize)]
    enum Word {
        #[serde(rename = "a_word")]
        OfMany,
    }

    struct Shown;

    impl Serialize for Shown {
        fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
            serializer.collect_str(&format_args!("{}\"{}", 12, "\n"))
        }
    }

    #[test]
    fn values_are_written_as_serde_json_writes_them() {
        let everything = Everything {
            unit: (),
            truth: true,
            small: -8,
            large: u64::MAX,
            negative: i64::MIN,
            letter: '"',
            none: None,
            some: Some("text"),
            list: vec![Newtype(1), Newtype(2)],
            empty: vec![],
            pair: (1, -2),
            word: Word::OfMany,
            map: BTreeMap::from([("one\n".to_owned(), vec![true, false]), ("two".to_owned(), vec![])]),
            shown: Shown,
            absent: None,
        };
        same(&everything);
        same(&BTreeMap::<String, u8>::new());
    }

    #[test]
    fn what_no_answer_has_is_refused() {
        assert_eq!(written(&1.5_f64, 0), Err(WriteFault("answers have no floating-point numbers".to_owned())));
    }
}
