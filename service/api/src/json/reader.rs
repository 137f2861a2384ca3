//! From bytes to a tree.

use std::borrow::Cow;
use std::cell::Cell;
use std::fmt;

use serde::de::{DeserializeSeed, Error, MapAccess, SeqAccess, Visitor};
use serde::{Serialize, Serializer};

use crate::problem::{FieldError, Problem, ProblemCode};

/// How deep objects and lists may stand inside one another.
pub const MAX_DEPTH: usize = 8;

/// Room for the fields of most objects.
const USUAL_FIELDS: usize = 8;

/// A JSON value as it was written: fields given twice are both there.
#[derive(Debug, PartialEq)]
pub enum Node<'a> {
    /// `null`.
    Null,
    /// `true` or `false`.
    Boolean(bool),
    /// A number, in digits.
    Number(String),
    /// A text.
    Text(Cow<'a, str>),
    /// A list.
    List(Vec<Node<'a>>),
    /// An object's fields, in their order.
    Object(Vec<(Cow<'a, str>, Node<'a>)>),
}

/// Why a body is not one JSON value.
#[derive(Debug, PartialEq, Eq)]
pub enum ReadFault {
    /// There is nothing, or nothing but blanks.
    Empty,
    /// It is not UTF-8 from this byte on, counted from 1.
    NotUtf8(usize),
    /// It begins with a byte order mark.
    ByteOrderMark,
    /// It is not JSON; reading stopped at this line and column.
    NotJson(usize, usize),
    /// It breaks off before the value ends.
    BreaksOff,
    /// Something follows the value at this line and column.
    TrailingData(usize, usize),
    /// It is nested too deeply.
    TooDeep,
}

/// Reads a body that should be one JSON value.
pub fn read(body: &[u8]) -> Result<Node<'_>, ReadFault> {
    let text = std::str::from_utf8(body).map_err(|error| ReadFault::NotUtf8(error.valid_up_to() + 1))?;
    if text.starts_with('\u{feff}') {
        return Err(ReadFault::ByteOrderMark);
    }
    if text.trim_ascii().is_empty() {
        return Err(ReadFault::Empty);
    }
    let too_deep = Cell::new(false);
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let seed = NodeSeed { room: MAX_DEPTH, too_deep: &too_deep };
    let node = seed.deserialize(&mut deserializer).map_err(|error| {
        if too_deep.get() {
            ReadFault::TooDeep
        } else if error.is_eof() {
            ReadFault::BreaksOff
        } else {
            ReadFault::NotJson(error.line(), error.column())
        }
    })?;
    deserializer.end().map_err(|error| ReadFault::TrailingData(error.line(), error.column()))?;
    Ok(node)
}

/// The value is written as it was read.
impl Serialize for Node<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Null => serializer.serialize_unit(),
            Self::Boolean(value) => serializer.serialize_bool(*value),
            Self::Number(digits) => {
                let number: serde_json::Number = digits.parse().map_err(serde::ser::Error::custom)?;
                number.serialize(serializer)
            }
            Self::Text(text) => serializer.serialize_str(text),
            Self::List(items) => serializer.collect_seq(items),
            Self::Object(members) => serializer.collect_map(members.iter().map(|(name, value)| (name, value))),
        }
    }
}

impl From<ReadFault> for Problem {
    fn from(fault: ReadFault) -> Self {
        let (code, detail) = match fault {
            ReadFault::Empty => (
                ProblemCode::BodyEmpty,
                "The body is empty: send a JSON object with at least period and business.".to_owned(),
            ),
            ReadFault::NotUtf8(byte) => (
                ProblemCode::BodyNotUtf8,
                format!("The body is not UTF-8 from byte {byte} on: write it in UTF-8."),
            ),
            ReadFault::ByteOrderMark => (
                ProblemCode::JsonNotValid,
                "The body begins with a byte order mark: leave it out and begin with the opening brace.".to_owned(),
            ),
            ReadFault::NotJson(line, column) => (
                ProblemCode::JsonNotValid,
                format!(
                    "The body is not JSON: reading stopped at line {line}, column {column}. Look there for a missing comma, bracket or quotation mark."
                ),
            ),
            ReadFault::BreaksOff => (
                ProblemCode::JsonNotValid,
                "The body breaks off before the JSON value ends: close every bracket and quotation mark, and send all of it.".to_owned(),
            ),
            ReadFault::TrailingData(line, column) => (
                ProblemCode::TrailingData,
                format!(
                    "The JSON value ends, and something follows at line {line}, column {column}: send one object and nothing after it."
                ),
            ),
            ReadFault::TooDeep => (
                ProblemCode::NestingTooDeep,
                format!(
                    "Objects and lists stand more than {MAX_DEPTH} deep inside one another: no request of this service needs that."
                ),
            ),
        };
        Self::of_fields(code, vec![FieldError { pointer: String::new(), code, detail }], false)
    }
}

#[derive(Clone, Copy)]
struct NodeSeed<'c> {
    room: usize,
    too_deep: &'c Cell<bool>,
}

impl NodeSeed<'_> {
    /// The seed for what stands inside an object or list, if that may stand here at all.
    fn inside<E: Error>(self) -> Result<Self, E> {
        match self.room.checked_sub(1) {
            Some(room) => Ok(Self { room, ..self }),
            None => {
                self.too_deep.set(true);
                Err(E::custom("nested too deeply"))
            }
        }
    }
}

impl<'de> DeserializeSeed<'de> for NodeSeed<'_> {
    type Value = Node<'de>;

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<Self::Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for NodeSeed<'_> {
    type Value = Node<'de>;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Self::Value, E> {
        Ok(Node::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Self::Value, E> {
        Ok(Node::Boolean(value))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Self::Value, E> {
        Ok(Node::Number(value.to_string()))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Self::Value, E> {
        Ok(Node::Number(value.to_string()))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Self::Value, E> {
        // Only for the message that shows how the number should have been written: no sum is made from it.
        Ok(Node::Number(value.to_string()))
    }

    fn visit_borrowed_str<E>(self, value: &'de str) -> Result<Self::Value, E> {
        Ok(Node::Text(Cow::Borrowed(value)))
    }

    fn visit_str<E>(self, value: &str) -> Result<Self::Value, E> {
        Ok(Node::Text(Cow::Owned(value.to_owned())))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Self::Value, A::Error> {
        let inside = self.inside()?;
        let mut list = Vec::new();
        while let Some(item) = items.next_element_seed(inside)? {
            list.push(item);
        }
        Ok(Node::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Self::Value, A::Error> {
        let inside = self.inside()?;
        let mut object = Vec::with_capacity(USUAL_FIELDS);
        while let Some(name) = fields.next_key_seed(NameSeed)? {
            object.push((name, fields.next_value_seed(inside)?));
        }
        Ok(Node::Object(object))
    }
}

/// The name of a field, borrowed from the body where it holds no escapes.
struct NameSeed;

impl<'de> DeserializeSeed<'de> for NameSeed {
    type Value = Cow<'de, str>;

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<Self::Value, D::Error> {
        deserializer.deserialize_str(self)
    }
}

impl<'de> Visitor<'de> for NameSeed {
    type Value = Cow<'de, str>;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a field's name")
    }

    fn visit_borrowed_str<E>(self, value: &'de str) -> Result<Self::Value, E> {
        Ok(Cow::Borrowed(value))
    }

    fn visit_str<E>(self, value: &str) -> Result<Self::Value, E> {
        Ok(Cow::Owned(value.to_owned()))
    }
}
