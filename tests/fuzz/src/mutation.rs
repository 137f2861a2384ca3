//! Changes to a request that leave it a request: what the fuzzer does instead of turning bytes.

use crate::schema::{Grammar, amount, day};
use acceptance::calendar::Day;
use acceptance::figures::pounds;
use acceptance::generator::Generator;
use serde_json::{Value, json};

/// Changes the case in `data[..size]`, and says how long it is then; nothing where the change does not fit.
pub fn mutate(grammar: &Grammar, data: &mut [u8], size: usize, most: usize, seed: u32) -> Option<usize> {
    let mut generator = Generator::new(u64::from(seed));
    let case: Value = serde_json::from_slice(&data[..size]).unwrap_or_default();
    let known = case["path"].as_str().unwrap_or("/v1/comparisons");
    let other: Vec<&str> = grammar.paths().collect();
    let path = if case["request"].is_object() && other.contains(&known) { known } else { *generator.one_of(&other) };
    let schema = grammar.request(path);
    let mut request = case["request"].clone();
    if !request.is_object() {
        request = grammar.make(schema, 0, &mut generator);
    }
    for _ in 0..generator.between(1, 4) {
        change_one(grammar, schema, &mut request, &mut generator);
    }
    let text = json!({ "path": path, "request": request }).to_string();
    let room = data.get_mut(..text.len().min(most))?;
    if room.len() < text.len() {
        return None;
    }
    room.copy_from_slice(text.as_bytes());
    Some(text.len())
}

/// Changes the value at one place of a request.
fn change_one(grammar: &Grammar, schema: &Value, request: &mut Value, generator: &mut Generator) {
    let mut places = Vec::new();
    collect(grammar, schema, request, String::new(), &mut places);
    let (pointer, schema) = generator.one_of(&places).clone();
    let same: Vec<&String> =
        places.iter().filter(|(_, other)| std::ptr::eq(*other, schema)).map(|(pointer, _)| pointer).collect();
    let other: &str = generator.one_of(&same).as_str();
    let other = request.pointer(other).cloned().unwrap_or_default();
    let Some(value) = request.pointer_mut(&pointer) else { return };
    match (generator.between(0, 7), &mut *value) {
        (0, value) if !pointer.is_empty() => *value = grammar.make(schema, 2, generator),
        (1, value) => *value = other,
        (2 | 3, Value::Object(members)) if !members.is_empty() => {
            let names: Vec<String> = members.keys().cloned().collect();
            members.remove(generator.one_of(&names));
        }
        (_, Value::Object(members)) => {
            let missing: Vec<(&str, &Value)> =
                grammar.fields(schema).into_iter().filter(|(name, _)| !members.contains_key(*name)).collect();
            if !missing.is_empty() {
                let (name, field) = *generator.one_of(&missing);
                members.insert(name.to_owned(), grammar.make(field, 2, generator));
            }
        }
        (2, Value::Array(items)) if !items.is_empty() => {
            let index = generator.next_bits() as usize % items.len();
            items.remove(index);
        }
        (3 | 4, Value::Array(items)) if !items.is_empty() => {
            let twice = generator.one_of(items).clone();
            items.push(twice);
        }
        (_, Value::Array(items)) => items.push(grammar.make(&schema["items"], 2, generator)),
        (_, Value::String(text)) => *text = near(text, generator),
        (_, value) => *value = grammar.make(schema, 2, generator),
    }
    // A word or an example is made anew where nothing lies near it.
    if let Some(text) = request.pointer_mut(&pointer)
        && text.as_str() == Some("")
    {
        *text = grammar.make(schema, 2, generator);
    }
}

/// A text near this one: a penny more, a day later. Empty where nothing lies near it.
fn near(text: &str, generator: &mut Generator) -> String {
    if let Some(known) = Day::read(text) {
        return match generator.between(0, 4) {
            0 => day(generator),
            1 => known.months_later(generator.between(-13, 13)),
            2 => known.months_later(generator.between(-13, 13)).days_later(-1),
            _ => known.days_later(generator.between(-2, 2)),
        }
        .to_string();
    }
    let pence = text.replacen('.', "", 1).parse::<i64>().ok().filter(|_| text.contains('.'));
    match (pence, generator.between(0, 4)) {
        (Some(pence), 0) => pounds(pence.saturating_neg()),
        (Some(pence), 1) => pounds(pence.saturating_mul(10)),
        (Some(pence), 2 | 3) => pounds(pence.saturating_add(generator.between(-1, 1))),
        (Some(_), _) => amount(text.starts_with('-'), generator),
        (None, _) => String::new(),
    }
}

/// The places of a value with what may stand there.
fn collect<'grammar>(
    grammar: &'grammar Grammar,
    schema: &'grammar Value,
    value: &Value,
    pointer: String,
    places: &mut Vec<(String, &'grammar Value)>,
) {
    let schema = grammar.resolve(schema);
    match value {
        Value::Object(members) => {
            let fields = grammar.fields(schema);
            for (name, member) in members {
                if let Some((_, field)) = fields.iter().find(|(known, _)| known == name) {
                    collect(grammar, field, member, format!("{pointer}/{name}"), places);
                }
            }
        }
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                collect(grammar, &schema["items"], item, format!("{pointer}/{index}"), places);
            }
        }
        _ => {}
    }
    places.push((pointer, schema));
}
