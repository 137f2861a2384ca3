//! From a tree to values, collecting every error on the way.

use std::fmt::Write as _;

use super::Node;
use crate::near::nearest;
use crate::problem::{FieldError, MAX_FIELD_ERRORS, Problem, ProblemCode};

/// Collects errors while a body is walked. Each names the place by its JSON Pointer (RFC 6901).
#[derive(Debug, Default)]
pub struct Decoder {
    place: Vec<Step>,
    errors: Vec<FieldError>,
    more: bool,
}

/// One step down from the root of a body. Most places are never spoken of, so that they are no texts until one is.
#[derive(Debug)]
enum Step {
    Field(&'static str),
    UnknownField(String),
    Line(usize),
}

/// Which of an object's fields were given, whether or not their values could be used.
#[derive(Clone, Copy, Debug)]
pub struct Given {
    fields: &'static [&'static str],
    seen: u32,
}

impl Decoder {
    /// A decoder at the root of a body.
    pub fn new() -> Self {
        Self::default()
    }

    /// Ends the walk: the value, or all that stood against it.
    pub fn finish<T>(self, value: Option<T>) -> Result<T, Problem> {
        match value {
            Some(value) if self.errors.is_empty() => Ok(value),
            _ => Err(Problem::of_fields(ProblemCode::RequestNotValid, self.errors, self.more)),
        }
    }

    /// Whether so many errors are known that looking for more is of no use.
    pub fn is_full(&self) -> bool {
        self.more
    }

    /// An error at this place. Cold, as are the others: what leads there is kept out of the way of requests without errors.
    #[cold]
    pub fn fault(&mut self, code: ProblemCode, detail: impl Into<String>) {
        if self.errors.len() >= MAX_FIELD_ERRORS {
            self.more = true;
            return;
        }
        self.errors.push(FieldError { pointer: self.pointer(), code, detail: detail.into() });
    }

    /// The JSON Pointer of this place.
    fn pointer(&self) -> String {
        let mut pointer = String::new();
        for step in &self.place {
            pointer.push('/');
            match step {
                Step::Field(name) => pointer.push_str(name),
                Step::UnknownField(name) => pointer.push_str(&name.replace('~', "~0").replace('/', "~1")),
                // Writing to a String cannot fail.
                Step::Line(position) => drop(write!(pointer, "{position}")),
            }
        }
        pointer
    }

    /// The name of the field at this place, for a sentence; "the body" at the root, "this line" in a list.
    #[cold]
    pub fn name(&self) -> String {
        match self.place.last() {
            None => "the body".to_owned(),
            Some(Step::Line(_)) => "this line".to_owned(),
            Some(Step::Field(name)) => (*name).to_owned(),
            Some(Step::UnknownField(name)) => name.clone(),
        }
    }

    /// Does something one step further down.
    fn within<T>(&mut self, step: Step, inner: impl FnOnce(&mut Self) -> T) -> T {
        self.place.push(step);
        let result = inner(self);
        self.place.pop();
        result
    }

    /// Walks an object: `visit` gets each known field once, in the order of the body. Unknown fields, fields given twice
    /// and nulls are errors of their own.
    pub fn object<'n>(
        &mut self,
        node: &'n Node<'_>,
        fields: &'static [&'static str],
        mut visit: impl FnMut(&mut Self, &'static str, &'n Node<'n>),
    ) -> Option<Given> {
        let Node::Object(members) = node else {
            self.wrong_type("an object", node);
            return None;
        };
        let mut seen = 0_u32;
        for (name, value) in members {
            if self.is_full() {
                break;
            }
            let Some((position, field)) = fields.iter().copied().enumerate().find(|(_, field)| *field == name) else {
                self.within(Step::UnknownField(name.to_string()), |decoder| decoder.unknown_field(name, fields));
                continue;
            };
            self.within(Step::Field(field), |decoder| {
                if seen & (1 << position) != 0 {
                    decoder.fault(
                        ProblemCode::DuplicateField,
                        format!("{field} stands more than once in this object: give it once."),
                    );
                    return;
                }
                seen |= 1 << position;
                if *value == Node::Null {
                    decoder.fault(
                        ProblemCode::NullNotAllowed,
                        format!("{field} is null: leave it out, or give its value."),
                    );
                } else {
                    visit(decoder, field, value);
                }
            });
        }
        Some(Given { fields, seen })
    }

    /// Walks a list. `instead` says what to do where it has too many items.
    pub fn list<'n, T>(
        &mut self,
        node: &'n Node<'_>,
        most: usize,
        instead: &str,
        mut visit: impl FnMut(&mut Self, &'n Node<'n>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let Node::List(items) = node else {
            self.wrong_type("a list", node);
            return None;
        };
        if items.len() > most {
            let (name, given) = (self.name(), items.len());
            self.fault(
                ProblemCode::TooManyLines,
                format!("{name} has {given} lines: at most {most} are taken. {instead}"),
            );
            return None;
        }
        let mut values = Vec::with_capacity(items.len());
        for (position, item) in items.iter().enumerate() {
            if self.is_full() {
                break;
            }
            let value = self.within(Step::Line(position), |decoder| {
                if *item == Node::Null {
                    decoder.fault(ProblemCode::NullNotAllowed, "A line is null: leave it out.");
                    return None;
                }
                visit(decoder, item)
            });
            values.extend(value);
        }
        Some(values)
    }

    /// A field without which there is no value.
    pub fn require(&mut self, given: Given, field: &'static str, hint: &str) {
        if !given.has(field) {
            self.within(Step::Field(field), |decoder| {
                decoder.fault(ProblemCode::MissingField, format!("{field} is missing: {hint}"));
            });
        }
    }

    /// Two fields of which exactly one is given: the error stands at the first.
    pub fn require_one(&mut self, given: Given, [one, other]: [&'static str; 2], hint: &str) {
        let (code, detail) = match (given.has(one), given.has(other)) {
            (true, true) => (
                ProblemCode::FieldsExcludeEachOther,
                format!("{one} and {other} are both given, and they say the same thing: {hint}"),
            ),
            (false, false) => (ProblemCode::MissingField, format!("Neither {one} nor {other} is there: {hint}")),
            _ => return,
        };
        self.within(Step::Field(one), |decoder| decoder.fault(code, detail));
    }

    /// Several fields of which exactly one is given: the error stands at the first.
    pub fn require_one_of<const N: usize>(&mut self, given: Given, fields: [&'static str; N], hint: &str) {
        let count = fields.iter().filter(|field| given.has(field)).count();
        let Some(first) = fields.first() else { return };
        let (code, detail) = match count {
            1 => return,
            0 => (ProblemCode::MissingField, format!("None of {} is there: {hint}", fields.join(", "))),
            _ => (
                ProblemCode::FieldsExcludeEachOther,
                format!("More than one of {} is given, and they say the same thing: {hint}", fields.join(", ")),
            ),
        };
        self.within(Step::Field(first), |decoder| decoder.fault(code, detail));
    }

    /// A text.
    pub fn text<'n>(&mut self, node: &'n Node<'_>) -> Option<&'n str> {
        match node {
            Node::Text(text) => Some(text),
            other => {
                self.wrong_type("a text in quotation marks", other);
                None
            }
        }
    }

    /// `true` or `false`.
    pub fn boolean(&mut self, node: &Node<'_>) -> Option<bool> {
        match node {
            Node::False => Some(false),
            Node::True => Some(true),
            Node::Text(text) if text == "true" || text == "false" => {
                let name = self.name();
                self.fault(
                    ProblemCode::WrongType,
                    format!("{name} must be true or false: write {text} without quotation marks."),
                );
                None
            }
            other => {
                self.wrong_type("true or false", other);
                None
            }
        }
    }

    /// A word of a list of words.
    pub fn word<T>(
        &mut self,
        node: &Node<'_>,
        words: impl Iterator<Item = &'static str> + Clone,
        find: impl FnOnce(&str) -> Option<T>,
    ) -> Option<T> {
        let text = self.text(node)?;
        let found = find(text);
        if found.is_none() {
            let name = self.name();
            let near = nearest(text, words.clone()).map_or(String::new(), |near| format!("; did you mean \"{near}\"?"));
            let stop = if near.is_empty() { "." } else { "" };
            let allowed = listed(words.map(|word| format!("\"{word}\"")));
            self.fault(
                ProblemCode::UnknownValue,
                format!("{} is not one of the words for {name}{near}{stop} Allowed: {allowed}.", shown(text)),
            );
        }
        found
    }

    /// A value of another type than belongs here.
    #[cold]
    pub fn wrong_type(&mut self, wanted: &str, node: &Node<'_>) {
        let name = self.name();
        let name = if name == "the body" { "The body".to_owned() } else { name };
        let detail = format!("{name} must be {wanted}, and this is {}.", kind(node));
        self.fault(ProblemCode::WrongType, detail);
    }

    #[cold]
    fn unknown_field(&mut self, name: &str, fields: &'static [&'static str]) {
        let near =
            nearest(name, fields.iter().copied()).map_or(String::new(), |near| format!("; did you mean {near}?"));
        let stop = if near.is_empty() { "." } else { "" };
        let known = listed(fields.iter().map(|field| (*field).to_owned()));
        self.fault(
            ProblemCode::UnknownField,
            format!("There is no field {} here{near}{stop} Known: {known}.", shown(name)),
        );
    }
}

impl Given {
    /// Whether the field was given.
    pub fn has(self, field: &str) -> bool {
        self.fields.iter().position(|known| *known == field).is_some_and(|position| self.seen & (1 << position) != 0)
    }
}

/// What a value is, for a sentence.
fn kind(node: &Node<'_>) -> &'static str {
    match node {
        Node::Null => "null",
        Node::False | Node::True => "true or false",
        Node::Number(_) => "a number",
        Node::Text(_) => "a text",
        Node::List(_) => "a list",
        Node::Object(_) => "an object",
    }
}

/// A caller's text in quotation marks, cut short where it is long, without control characters.
pub fn shown(text: &str) -> String {
    const MOST: usize = 40;
    let mut shown: String =
        text.chars().take(MOST).map(|character| if character.is_control() { '\u{fffd}' } else { character }).collect();
    if text.chars().nth(MOST).is_some() {
        shown.push('…');
    }
    format!("\"{shown}\"")
}

/// "a, b and c".
fn listed(items: impl Iterator<Item = String>) -> String {
    let items: Vec<String> = items.collect();
    match items.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}
