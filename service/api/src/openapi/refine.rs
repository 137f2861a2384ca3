//! What the schemas must say beyond what their types say of themselves.

use anyhow::Context as _;
use serde_json::{Value, json};

/// The fields that can be `null`: everywhere else a value that there is not is absent.
const NULLABLE: [(&str, &str); 3] =
    [("Comparison", "goods_test"), ("Received", "goods_test"), ("GoodsTest", "share_percentage")];

/// The schemas of lines of a request, each of which gives at least one amount.
const LINES_WITH_AMOUNTS: [&str; 2] = ["Sale", "Purchase"];

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
        let schema = schemas.get_mut(name).with_context(|| format!("there is no schema {name}"))?;
        schema["anyOf"] = json!([{ "required": ["net"] }, { "required": ["vat"] }, { "required": ["gross"] }]);
    }
    let goods_test = schemas.get_mut("GoodsTestRequest").context("there is no schema GoodsTestRequest")?;
    goods_test["allOf"] = json!([
        { "oneOf": [{ "required": ["turnover"] }, { "required": ["sales"] }] },
        { "oneOf": [{ "required": ["relevant_goods"] }, { "required": ["purchases"] }] },
    ]);
    let line = schemas.get_mut("BatchLine").context("there is no schema BatchLine")?;
    line["oneOf"] = json!(["answer", "summary", "problem", "end"].map(|member| json!({ "required": [member] })));
    let line = schemas.get_mut("InvoiceLine").context("there is no schema InvoiceLine")?;
    // Each way excludes the others in words of its own: tools that make requests from a schema pass over `oneOf` here.
    line["anyOf"] = json!([
        { "required": ["net"], "properties": absent(&["gross", "unit_price", "quantity"]) },
        { "required": ["gross"], "properties": absent(&["net", "unit_price", "quantity"]) },
        { "required": ["unit_price", "quantity"], "properties": absent(&["net", "gross"]) },
    ]);
    let car = schemas.get_mut("GivenFuelScaleCar").context("there is no schema GivenFuelScaleCar")?;
    car["oneOf"] = json!([{ "required": ["co2_emissions"] }, { "required": ["engine_capacity"] }]);
    let goods_on_hand = schemas.get_mut("GoodsOnHand").context("there is no schema GoodsOnHand")?;
    goods_on_hand["oneOf"] = json!([{ "required": ["value"] }, { "required": ["vat"] }]);
    let business = schemas.get_mut("DatesBusiness").context("there is no schema DatesBusiness")?;
    business["oneOf"] = json!([
        { "required": ["return_periods"] },
        { "required": ["annual_accounting"] },
        { "required": ["vat_periods"] },
    ]);
    let operand = schemas.get_mut("Operand").context("there is no schema Operand")?;
    operand["oneOf"] = json!([{ "required": ["step"] }, { "required": ["input"] }]);
    Ok(())
}

/// The properties of a schema that lets none of these fields be there.
fn absent(fields: &[&str]) -> Value {
    fields.iter().map(|field| ((*field).to_owned(), Value::Bool(false))).collect()
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
