//! The API document, and whether an exchange is as it says.

use crate::paths;
use jsonschema::Validator;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock};

/// Where the document is checked in.
pub const PATH: &str = "openapi/v1.json";

const METHODS: [&str; 8] = ["get", "put", "post", "delete", "options", "head", "patch", "trace"];

/// The API document.
pub struct Document {
    root: Value,
    validators: Mutex<BTreeMap<String, Arc<Validator>>>,
}

/// An operation of the document.
#[derive(Clone, Copy)]
pub struct Operation<'document> {
    /// The path as the document writes it, with its parameters in braces.
    pub path: &'document str,
    /// The method in lower case.
    pub method: &'document str,
    value: &'document Value,
    document: &'document Document,
}

/// What the document says of one answer of an operation.
#[derive(Clone, Copy)]
pub struct Response<'document> {
    value: &'document Value,
    document: &'document Document,
}

impl Document {
    /// The checked-in document, read once.
    pub fn checked_in() -> &'static Document {
        static DOCUMENT: OnceLock<Document> = OnceLock::new();
        DOCUMENT.get_or_init(|| {
            let root =
                serde_json::from_str(&paths::read(PATH)).unwrap_or_else(|error| panic!("{PATH} is not JSON: {error}"));
            Document { root, validators: Mutex::default() }
        })
    }

    /// The whole document.
    pub fn root(&self) -> &Value {
        &self.root
    }

    /// Every operation, in the order of paths and methods.
    pub fn operations(&self) -> Vec<Operation<'_>> {
        let paths = self.root["paths"].as_object().unwrap_or_else(|| panic!("the document has no paths"));
        paths
            .iter()
            .flat_map(|(path, item)| {
                METHODS.iter().filter_map(move |method| {
                    item.get(*method).map(|value| Operation { path, method, value, document: self })
                })
            })
            .collect()
    }

    /// The operation of a concrete path (without its query); `HEAD` is that of `GET`.
    pub fn operation(&self, method: &str, path: &str) -> Option<Operation<'_>> {
        let method = match method.to_ascii_lowercase().as_str() {
            "head" => "get".to_owned(),
            other => other.to_owned(),
        };
        self.operations()
            .into_iter()
            .filter(|operation| operation.method == method && matches(operation.path, path))
            // A path without parameters goes before one with them.
            .min_by_key(|operation| operation.path.matches('{').count())
    }

    /// Whether the document knows a path at all.
    pub fn knows_path(&self, path: &str) -> bool {
        self.operations().iter().any(|operation| matches(operation.path, path))
    }

    /// The schema of this name, as a reference.
    pub fn schema(&self, name: &str) -> Value {
        assert!(
            self.root.pointer(&format!("/components/schemas/{name}")).is_some(),
            "the document has no schema {name}"
        );
        json!({ "$ref": format!("#/components/schemas/{name}") })
    }

    /// What `schema`, a schema within this document, finds wrong with `value`.
    pub fn faults(&self, schema: &Value, value: &Value) -> Vec<String> {
        self.validator(schema).iter_errors(value).map(|error| format!("{}: {error}", error.instance_path())).collect()
    }

    fn validator(&self, schema: &Value) -> Arc<Validator> {
        let mut validators = crate::server::lock(&self.validators);
        let key = schema.to_string();
        Arc::clone(validators.entry(key).or_insert_with(|| {
            // References are looked up from the root, so the components travel with the schema.
            let whole = json!({
                "$schema": "https://json-schema.org/draft/2020-12/schema",
                "components": self.root["components"],
                "allOf": [schema]
            });
            let validator = jsonschema::draft202012::options()
                .should_validate_formats(true)
                .build(&whole)
                .unwrap_or_else(|error| panic!("not a schema: {error}: {schema}"));
            Arc::new(validator)
        }))
    }

    /// The words that a schema of this name lists: its `enum`, or `x-extensible-enum` where more may come.
    pub fn words(&self, name: &str) -> Vec<String> {
        let schema = self.root.pointer(&format!("/components/schemas/{name}"));
        schema
            .and_then(|schema| schema.get("enum").or_else(|| schema.get("x-extensible-enum")))
            .and_then(Value::as_array)
            .unwrap_or_else(|| panic!("the document lists no words for {name}"))
            .iter()
            .filter_map(Value::as_str)
            .map(str::to_owned)
            .collect()
    }

    /// Follows a reference to its target; anything else is its own target.
    fn target<'document>(&'document self, value: &'document Value) -> &'document Value {
        match value.get("$ref").and_then(Value::as_str).and_then(|reference| reference.strip_prefix('#')) {
            Some(pointer) => {
                self.root.pointer(pointer).unwrap_or_else(|| panic!("the document has nothing at {pointer}"))
            }
            None => value,
        }
    }
}

impl<'document> Operation<'document> {
    /// Its name in the document.
    pub fn id(&self) -> &'document str {
        self.value["operationId"].as_str().unwrap_or_else(|| panic!("{} {} has no operationId", self.method, self.path))
    }

    /// The statuses that it documents.
    pub fn statuses(&self) -> Vec<u16> {
        self.value["responses"]
            .as_object()
            .into_iter()
            .flat_map(|responses| responses.keys())
            .map(|status| status.parse().unwrap_or_else(|_| panic!("{}: status `{status}`", self.id())))
            .collect()
    }

    /// What it says of a status.
    pub fn response(&self, status: u16) -> Option<Response<'document>> {
        let value = self.value.get("responses")?.get(status.to_string())?;
        Some(Response { value: self.document.target(value), document: self.document })
    }

    /// The schema of its JSON request body.
    pub fn request_schema(&self) -> Option<&'document Value> {
        let body = self.document.target(self.value.get("requestBody")?);
        body.pointer("/content/application~1json/schema")
    }

    /// The schema of its query parameter of this name.
    pub fn query_parameter(&self, name: &str) -> Option<&'document Value> {
        self.value
            .get("parameters")?
            .as_array()?
            .iter()
            .map(|parameter| self.document.target(parameter))
            .find(|parameter| parameter["in"] == "query" && parameter["name"] == name)
            .and_then(|parameter| parameter.get("schema"))
    }
}

impl<'document> Response<'document> {
    /// The media types that it may have; none when it has no body.
    pub fn media_types(&self) -> Vec<&'document str> {
        self.value
            .get("content")
            .and_then(Value::as_object)
            .into_iter()
            .flat_map(|content| content.keys())
            .map(String::as_str)
            .collect()
    }

    /// What is wrong with a body of a media type.
    pub fn body_faults(&self, media_type: &str, body: &Value) -> Vec<String> {
        match self
            .value
            .get("content")
            .and_then(|content| content.get(media_type))
            .and_then(|media| media.get("schema"))
        {
            Some(schema) => self.document.faults(schema, body),
            None => vec![format!("no schema for {media_type}")],
        }
    }

    /// What is wrong with a header; `None` stands for one that is not there.
    pub fn header_faults(&self, present: impl Fn(&str) -> Option<String>) -> Vec<String> {
        let mut faults = Vec::new();
        for (name, header) in self.value.get("headers").and_then(Value::as_object).into_iter().flatten() {
            let header = self.document.target(header);
            match present(name) {
                None if header["required"] == true => faults.push(format!("the header {name} is missing")),
                None => {}
                Some(text) => {
                    let value = match text.parse::<u64>() {
                        Ok(number) if header["schema"]["type"] == "integer" => json!(number),
                        _ => json!(text),
                    };
                    if let Some(schema) = header.get("schema") {
                        let found = self.document.faults(schema, &value);
                        faults.extend(found.iter().map(|fault| format!("header {name}{fault}")));
                    }
                }
            }
        }
        faults
    }
}

/// Whether a concrete path is one of those that a path with parameters stands for.
fn matches(template: &str, path: &str) -> bool {
    let (template, path) = (template.split('/'), path.split('/'));
    template.clone().count() == path.clone().count()
        && template.zip(path).all(|(wanted, found)| wanted == found || (wanted.starts_with('{') && !found.is_empty()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn document() -> Document {
        let root = json!({
            "paths": {
                "/v1/things/{id}": { "get": {
                    "operationId": "get_thing",
                    "parameters": [{ "in": "query", "name": "on", "schema": { "type": "string" } }],
                    "responses": { "200": { "$ref": "#/components/responses/Thing" } }
                } },
                "/v1/things/all": { "get": { "operationId": "get_all", "responses": {} } }
            },
            "components": {
                "responses": { "Thing": {
                    "headers": { "ETag": { "required": true, "schema": { "type": "string", "pattern": "^\"" } } },
                    "content": { "application/json": { "schema": { "$ref": "#/components/schemas/Thing" } } }
                } },
                "schemas": {
                    "Thing": { "type": "object", "required": ["on"], "properties": { "on": { "$ref": "#/components/schemas/Day" } } },
                    "Day": { "type": "string", "format": "date" },
                    "Word": { "type": "string", "enum": ["a", "b"] },
                    "Open": { "type": "string", "x-extensible-enum": ["c"] }
                }
            }
        });
        Document { root, validators: Mutex::default() }
    }

    #[test]
    fn paths_find_their_operations() {
        let document = document();
        let id = |method, path| document.operation(method, path).map(|operation| operation.id());
        assert_eq!(id("GET", "/v1/things/7"), Some("get_thing"));
        assert_eq!(id("HEAD", "/v1/things/7"), Some("get_thing"));
        assert_eq!(id("GET", "/v1/things/all"), Some("get_all"));
        assert_eq!(id("POST", "/v1/things/7"), None);
        assert_eq!(id("GET", "/v1/things/"), None);
        assert_eq!(id("GET", "/v1/things"), None);
        assert!(document.knows_path("/v1/things/7") && !document.knows_path("/v1/other"));
    }

    #[test]
    fn bodies_and_headers_are_held_to_the_document() {
        let document = document();
        let operation = document.operation("GET", "/v1/things/7").expect("an operation");
        let response = operation.response(200).expect("a response");
        assert!(operation.response(404).is_none());
        assert_eq!(response.media_types(), ["application/json"]);
        let faults = |day: &str| response.body_faults("application/json", &json!({ "on": day }));
        assert!(faults("2025-02-28").is_empty());
        assert_eq!(faults("2025-02-30").len(), 1);
        assert_eq!(response.body_faults("application/json", &json!({})).len(), 1);
        assert!(response.header_faults(|_| Some("\"x\"".to_owned())).is_empty());
        assert_eq!(response.header_faults(|_| Some("x".to_owned())).len(), 1);
        assert_eq!(response.header_faults(|_| None), ["the header ETag is missing"]);
        assert!(operation.query_parameter("on").is_some() && operation.query_parameter("q").is_none());
        assert_eq!(
            (document.words("Word"), document.words("Open")),
            (vec!["a".to_owned(), "b".to_owned()], vec!["c".to_owned()])
        );
    }
}
