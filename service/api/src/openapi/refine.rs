//! What the schemas must say beyond what their types say of themselves.

use anyhow::Context as _;
use serde_json::{Map, Value, json};

/// The fields that can be `null`: everywhere else a value that there is not is absent.
const NULLABLE: [(&str, &str); 3] =
    [("ComparisonAnswer", "goods_test"), ("Received", "goods_test"), ("GoodsTest", "share_percentage")];

/// The schemas of lines of a request, each of which gives at least one amount.
const LINES_WITH_AMOUNTS: [&str; 2] = ["Sale", "Purchase"];

/// The schemas of which exactly one of some fields is there.
const ONE_OF_FIELDS: [(&str, &[&str]); 5] = [
    ("BatchLine", &["answer", "summary", "problem", "end"]),
    ("DatesBusiness", &["return_periods", "annual_accounting", "vat_periods"]),
    ("GivenFuelScaleCar", &["co2_emissions", "engine_capacity"]),
    ("GoodsOnHand", &["value", "vat"]),
    ("Operand", &["step", "input"]),
];

/// Refines all schemas.
pub(super) fn schemas(components: &mut Value) -> Result<(), anyhow::Error> {
    let schemas = components["schemas"].as_object_mut().context("the document has no schemas")?;
    for (name, schema) in schemas.iter_mut() {
        as_paragraphs(schema);
        let Some(properties) = schema.get_mut("properties").and_then(Value::as_object_mut) else { continue };
        for (field, property) in properties {
            if NULLABLE.contains(&(name.as_str(), field.as_str())) {
                describe_choice(property);
            } else {
                without_null(property);
            }
            as_paragraphs(property);
            bound_items(property);
            as_examples(property);
        }
    }
    for name in LINES_WITH_AMOUNTS {
        hold(schemas, name, json!([{ "anyOf": each_required(&["net", "vat", "gross"]) }]))?;
    }
    hold(
        schemas,
        "GoodsTestRequest",
        json!([
            { "oneOf": each_required(&["turnover", "sales"]) },
            { "oneOf": each_required(&["relevant_goods", "purchases"]) },
        ]),
    )?;
    // Each way excludes the others in words of its own: tools that make requests from a schema pass over `oneOf` here.
    let ways = json!([
        { "required": ["net"], "properties": absent(&["gross", "unit_price", "quantity"]) },
        { "required": ["gross"], "properties": absent(&["net", "unit_price", "quantity"]) },
        { "required": ["unit_price", "quantity"], "properties": absent(&["net", "gross"]) },
    ]);
    hold(schemas, "InvoiceLine", json!([{ "anyOf": ways }]))?;
    for (name, fields) in ONE_OF_FIELDS {
        hold(schemas, name, json!([{ "oneOf": each_required(fields) }]))?;
    }
    Ok(())
}

/// Adds rules to a schema, all of which hold. A choice stands among them and never beside the properties: makers of clients take a
/// choice that stands there for the type itself, and lose the properties.
fn hold(schemas: &mut Map<String, Value>, name: &str, rules: Value) -> Result<(), anyhow::Error> {
    let schema = schemas.get_mut(name).with_context(|| format!("there is no schema {name}"))?;
    schema["allOf"] = rules;
    Ok(())
}

/// For each field, the rule that it is there.
fn each_required(fields: &[&str]) -> Value {
    fields.iter().map(|field| json!({ "required": [field] })).collect()
}

/// The properties of a schema that lets none of these fields be there.
fn absent(fields: &[&str]) -> Value {
    // The plain `false` would say the same, but not every maker of clients reads it.
    fields.iter().map(|field| ((*field).to_owned(), json!({ "not": {} }))).collect()
}

/// Takes `null` out of what a field can be: an optional field is left out instead.
fn without_null(property: &mut Value) {
    if let Some(kinds) = property.get_mut("type").and_then(Value::as_array_mut) {
        kinds.retain(|kind| kind != "null");
        if let [only] = kinds.as_slice() {
            property["type"] = only.clone();
        }
    }
    let Some(choices) = property.get_mut("oneOf").and_then(Value::as_array_mut) else { return };
    choices.retain(|choice| choice["type"] != "null");
    if let [only] = choices.as_slice() {
        let mut only = only.clone();
        if let Some(description) = property.get("description") {
            only["description"] = description.clone();
        }
        *property = only;
    }
}

/// Moves the description of a field that can be `null` from the one choice to the field.
fn describe_choice(property: &mut Value) {
    let choices = property.get_mut("oneOf").and_then(Value::as_array_mut).into_iter().flatten();
    let description = choices.filter_map(Value::as_object_mut).find_map(|choice| choice.remove("description"));
    if let Some(description) = description {
        property["description"] = description;
    }
}

/// Makes one line of each paragraph: in a doc comment it was broken where the source's lines end.
pub(super) fn as_paragraphs(described: &mut Value) {
    let Some(Value::String(description)) = described.get_mut("description") else { return };
    let paragraphs = description
        .split("\n\n")
        .map(|paragraph| if paragraph.starts_with("- ") { paragraph.to_owned() } else { paragraph.replace('\n', " ") });
    *description = paragraphs.collect::<Vec<_>>().join("\n\n");
}

/// JSON Schema 2020-12 has a list of examples.
fn as_examples(property: &mut Value) {
    if let Some(example) = property.as_object_mut().and_then(|property| property.remove("example")) {
        property["examples"] = json!([example]);
    }
}

/// Bounds plain texts in a list: they are sentences or pointers.
fn bound_items(property: &mut Value) {
    if let Some(items) = property.get_mut("items")
        && items["type"] == "string"
        && items.get("maxLength").is_none()
    {
        items["maxLength"] = json!(4000);
    }
}
