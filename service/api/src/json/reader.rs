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
// No variant holds less than a word: copying what lies across words is slow.
#[derive(Debug, PartialEq)]
pub enum Node<'a> {
    /// `null`.
    Null,
    /// `false`.
    False,
    /// `true`.
    True,
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
    let mut node = Node::Null;
    let seed = NodeSeed { slot: &mut node, room: MAX_DEPTH, too_deep: &too_deep };
    seed.deserialize(&mut deserializer).map_err(|error| {
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
            Self::False => serializer.serialize_bool(false),
            Self::True => serializer.serialize_bool(true),
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

/// Reads a value to where it belongs: a tree whose nodes are handed up from one to the other takes twice as long.
struct NodeSeed<'s, 'de> {
    slot: &'s mut Node<'de>,
    room: usize,
    too_deep: &'s Cell<bool>,
}

impl NodeSeed<'_, '_> {
    /// How deep what stands inside an object or list may go on, if that may stand here at all.
    fn room_inside<E: Error>(&self) -> Result<usize, E> {
        self.room.checked_sub(1).ok_or_else(|| {
            self.too_deep.set(true);
            E::custom("nested too deeply")
        })
    }
}

impl<'de> DeserializeSeed<'de> for NodeSeed<'_, 'de> {
    type Value = ();

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for NodeSeed<'_, 'de> {
    type Value = ();

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<(), E> {
        *self.slot = Node::Null;
        Ok(())
    }

    fn visit_bool<E>(self, value: bool) -> Result<(), E> {
        *self.slot = if value { Node::True } else { Node::False };
        Ok(())
    }

    fn visit_u64<E>(self, value: u64) -> Result<(), E> {
        *self.slot = Node::Number(value.to_string());
        Ok(())
    }

    fn visit_i64<E>(self, value: i64) -> Result<(), E> {
        *self.slot = Node::Number(value.to_string());
        Ok(())
    }

    fn visit_f64<E>(self, value: f64) -> Result<(), E> {
        // Only for the message that shows how the number should have been written: no sum is made from it.
        *self.slot = Node::Number(value.to_string());
        Ok(())
    }

    fn visit_borrowed_str<E>(self, value: &'de str) -> Result<(), E> {
        *self.slot = Node::Text(Cow::Borrowed(value));
        Ok(())
    }

    fn visit_str<E>(self, value: &str) -> Result<(), E> {
        *self.slot = Node::Text(Cow::Owned(value.to_owned()));
        Ok(())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<(), A::Error> {
        let (room, too_deep) = (self.room_inside()?, self.too_deep);
        let mut list = Vec::new();
        while items.next_element_seed(ItemSeed { list: &mut list, room, too_deep })?.is_some() {}
        *self.slot = Node::List(list);
        Ok(())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<(), A::Error> {
        let (room, too_deep) = (self.room_inside()?, self.too_deep);
        let mut object = Vec::with_capacity(USUAL_FIELDS);
        while fields.next_key_seed(NameSeed(&mut object))?.is_some() {
            let Some((_, slot)) = object.last_mut() else { break };
            fields.next_value_seed(NodeSeed { slot, room, too_deep })?;
        }
        *self.slot = Node::Object(object);
        Ok(())
    }
}

/// Reads an item to the end of a list.
struct ItemSeed<'s, 'de> {
    list: &'s mut Vec<Node<'de>>,
    room: usize,
    too_deep: &'s Cell<bool>,
}

impl<'de> DeserializeSeed<'de> for ItemSeed<'_, 'de> {
    type Value = ();

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        let Self { list, room, too_deep } = self;
        list.push(Node::Null);
        match list.last_mut() {
            Some(slot) => NodeSeed { slot, room, too_deep }.deserialize(deserializer),
            None => Ok(()),
        }
    }
}

/// Begins a field: its name, borrowed from the body where it holds no escapes, and no value yet.
struct NameSeed<'s, 'de>(&'s mut Vec<(Cow<'de, str>, Node<'de>)>);

impl<'de> DeserializeSeed<'de> for NameSeed<'_, 'de> {
    type Value = ();

    fn deserialize<D: serde::Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_str(self)
    }
}

impl<'de> Visitor<'de> for NameSeed<'_, 'de> {
    type Value = ();

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a field's name")
    }

    fn visit_borrowed_str<E>(self, name: &'de str) -> Result<(), E> {
        self.0.push((Cow::Borrowed(name), Node::Null));
        Ok(())
    }

    fn visit_str<E>(self, name: &str) -> Result<(), E> {
        self.0.push((Cow::Owned(name.to_owned()), Node::Null));
        Ok(())
    }
}
