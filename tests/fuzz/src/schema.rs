//! The API document as a grammar of requests.

use acceptance::calendar::Day;
use acceptance::figures::pounds;
use acceptance::generator::Generator;
use serde_json::{Map, Value, json};
use vat_schemes::law::Law;

const DOCUMENT: &str = include_str!("../../../openapi/v1.json");

/// Days on which something in the law changes, and days beside which calendars turn.
const DAYS: [&str; 14] = [
    "1973-04-01",
    "2011-01-04",
    "2014-01-01",
    "2016-12-31",
    "2017-04-01",
    "2020-02-29",
    "2020-07-15",
    "2021-01-01",
    "2021-10-01",
    "2022-04-01",
    "2024-02-29",
    "2025-05-01",
    "2026-04-01",
    "2099-12-31",
];
const AMOUNTS: [&str; 12] = [
    "0",
    "0.00",
    "0.01",
    "1",
    "100.00",
    "120.00",
    "250.00",
    "2000.00",
    "7500.00",
    "90000.00",
    "230000.00",
    "9999999999999.99",
];

/// The document, and the categories of business, which it does not list.
pub struct Grammar {
    document: Value,
    sectors: Vec<String>,
    words: Vec<(String, String)>,
}

impl Grammar {
    /// The grammar of this build.
    pub fn new(law: &Law) -> Grammar {
        let document: Value = serde_json::from_str(DOCUMENT).expect("the API document");
        let mut words = Vec::new();
        for (path, methods) in document["paths"].as_object().into_iter().flatten() {
            let schema = methods.pointer("/post/requestBody/content/application~1json/schema/$ref");
            if let Some(schema) = schema.and_then(Value::as_str) {
                words.push((path.clone(), schema.to_owned()));
            }
        }
        Grammar { document, sectors: law.sectors().map(|sector| sector.id().to_owned()).collect(), words }
    }

    /// The paths of all calculations.
    pub fn paths(&self) -> impl ExactSizeIterator<Item = &str> {
        self.words.iter().map(|(path, _)| path.as_str())
    }

    /// What a calculation takes.
    pub fn request(&self, path: &str) -> &Value {
        let schema = self.words.iter().find(|(known, _)| known == path).or(self.words.first());
        schema.map_or(&Value::Null, |(_, schema)| self.at(schema))
    }

    fn at(&self, reference: &str) -> &Value {
        self.document.pointer(reference.trim_start_matches('#')).unwrap_or(&Value::Null)
    }

    /// What a schema refers to.
    pub fn resolve<'grammar>(&'grammar self, schema: &'grammar Value) -> &'grammar Value {
        schema.get("$ref").and_then(Value::as_str).map_or(schema, |reference| self.at(reference))
    }

    /// All fields that an object may have, whichever of its forms it takes.
    pub fn fields<'grammar>(&'grammar self, schema: &'grammar Value) -> Vec<(&'grammar str, &'grammar Value)> {
        let schema = self.resolve(schema);
        let own = schema["properties"].as_object().into_iter().flatten();
        let mut fields: Vec<(&str, &Value)> =
            own.filter(|(_, field)| field.is_object()).map(|(name, field)| (name.as_str(), field)).collect();
        for form in forms(schema) {
            for field in self.fields(form) {
                if !fields.iter().any(|(name, _)| *name == field.0) {
                    fields.push(field);
                }
            }
        }
        fields
    }

    /// A value that the schema mostly allows. Deeper down, less is made.
    pub fn make(&self, schema: &Value, depth: u32, generator: &mut Generator) -> Value {
        let schema = self.resolve(schema);
        if let Some(words) = schema["enum"].as_array() {
            return generator.one_of(words).clone();
        }
        match schema["type"].as_str() {
            Some("object") => Value::Object(self.make_object(schema, depth, generator)),
            Some("array") => {
                let most = if depth > 3 { 1 } else { 3 };
                (0..generator.between(0, most)).map(|_| self.make(&schema["items"], depth + 1, generator)).collect()
            }
            Some("string") => Value::String(self.make_text(schema, generator)),
            Some("integer") => {
                let bound = |name: &str, otherwise| schema[name].as_i64().unwrap_or(otherwise);
                let (least, most) = (bound("minimum", 0), bound("maximum", 100));
                json!(match generator.between(0, 9) {
                    0 => least,
                    1 => most,
                    2..=6 => generator.between(least, most.min(least + 12)),
                    _ => generator.between(least, most),
                })
            }
            Some("boolean") => json!(generator.between(0, 1) == 1),
            _ => {
                let forms: Vec<&Value> = forms(schema).collect();
                if forms.is_empty() {
                    Value::Null
                } else {
                    let form = *generator.one_of(&forms);
                    self.make(form, depth, generator)
                }
            }
        }
    }

    fn make_object(&self, schema: &Value, depth: u32, generator: &mut Generator) -> Map<String, Value> {
        let mut required: Vec<&str> = names(schema);
        let forms: Vec<&Value> = forms(schema).collect();
        let mut left_out: Vec<&str> = Vec::new();
        if !forms.is_empty() {
            let form = generator.one_of(&forms);
            required.extend(names(form));
            let excluded =
                form["properties"].as_object().into_iter().flatten().filter(|(_, field)| **field == json!(false));
            left_out.extend(excluded.map(|(name, _)| name.as_str()));
        }
        let mut object = Map::new();
        for (name, field) in self.fields(schema) {
            let wanted = required.contains(&name) || generator.between(0, 2 + 2 * i64::from(depth)) == 0;
            if wanted && !left_out.contains(&name) {
                object.insert(name.to_owned(), self.make(field, depth + 1, generator));
            }
        }
        object
    }

    fn make_text(&self, schema: &Value, generator: &mut Generator) -> String {
        let example = schema.pointer("/examples/0").and_then(Value::as_str).unwrap_or("x");
        if Day::read(example).is_some() {
            return day(generator).to_string();
        }
        if example == "management-consultancy" {
            return generator.one_of(&self.sectors).clone();
        }
        let pattern = schema["pattern"].as_str().unwrap_or_default();
        match schema["format"].as_str() {
            Some("decimal") if pattern.contains("100") => {
                let hundredths = generator.between(0, 10_000);
                match generator.between(0, 5) {
                    0 => "0".to_owned(),
                    1 => "100".to_owned(),
                    _ => pounds(hundredths),
                }
            }
            Some("decimal") => {
                let signed = pattern.starts_with("^-?");
                amount(signed, generator)
            }
            _ if example.len() == 7 && example.starts_with("20") => day(generator).to_string()[..7].to_owned(),
            _ => example.to_owned(),
        }
    }
}

fn forms(schema: &Value) -> impl Iterator<Item = &Value> {
    ["allOf", "oneOf", "anyOf"].into_iter().flat_map(|name| schema[name].as_array().into_iter().flatten())
}

fn names(schema: &Value) -> Vec<&str> {
    schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str).collect()
}

/// A day near one that matters, or any.
pub fn day(generator: &mut Generator) -> Day {
    let known = Day::read(DAYS[generator.next_bits() as usize % DAYS.len()]).expect("a day");
    match generator.between(0, 3) {
        0 => known.days_later(generator.between(-1, 1)),
        1 => known.days_later(generator.between(-500, 500)),
        _ => Day::read("2011-01-04").expect("a day").days_later(generator.between(0, 6_000)),
    }
}

/// An amount: one that matters, or any of so many digits.
pub fn amount(signed: bool, generator: &mut Generator) -> String {
    let amount = match generator.between(0, 3) {
        0 => (*generator.one_of(&AMOUNTS[..])).to_owned(),
        _ => {
            let digits = generator.between(1, 9);
            let most = 10_i64.pow(u32::try_from(digits).unwrap_or(1));
            pounds(generator.between(0, most))
        }
    };
    if signed && generator.between(0, 6) == 0 { format!("-{amount}") } else { amount }
}
