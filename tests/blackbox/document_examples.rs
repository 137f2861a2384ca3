//! The examples of the API document are what the service answers.

use acceptance::client::{Call, Client, LINES};
use acceptance::differences::differences;
use acceptance::document::{Document, Operation};
use acceptance::server::with_server;
use serde_json::Value;

use crate::documents::follow;

/// What the document says of an operation.
fn described<'document>(document: &'document Document, operation: &Operation<'_>) -> &'document Value {
    let pointer = format!("/paths/{}/{}", operation.path.replace('/', "~1"), operation.method);
    document.root().pointer(&pointer).expect("the operation")
}

/// The names and values of the examples of a body, by media type.
fn examples<'document>(
    document: &'document Document,
    holder: &'document Value,
) -> Vec<(&'document str, String, &'document Value)> {
    let content = follow(document, holder)["content"].as_object().into_iter().flatten();
    content
        .flat_map(|(media, described)| {
            let examples = described["examples"].as_object().into_iter().flatten();
            examples.map(move |(name, example)| (media.as_str(), name.clone(), follow(document, example)))
        })
        .collect()
}

/// The path of an operation, with the examples of the parameters that stand in it.
fn path_of(operation: &Operation<'_>, value: &Value) -> String {
    let mut path = operation.path.to_owned();
    for parameter in list_of(value, "parameters") {
        if parameter["in"] == "path" {
            let (name, example) = (parameter["name"].as_str(), parameter["example"].as_str());
            path = path.replace(&format!("{{{}}}", name.expect("a name")), example.expect("an example"));
        }
    }
    assert!(!path.contains('{'), "{path}");
    path
}

/// Of a list, whose example shows its beginning or the entries that are meant, the entries that the example shows.
fn as_far_as_shown(mut answer: Value, shown: &Value) -> Value {
    let wanted = list_of(shown, "items");
    if let Some(items) = answer["items"].as_array_mut() {
        items.retain(|item| wanted.contains(item));
    }
    answer
}

#[test]
fn every_request_is_answered_as_the_document_shows() {
    let document = Document::checked_in();
    let mut sent = 0;
    with_server(|client| {
        for operation in document.operations() {
            let value = described(document, &operation);
            let answers = examples(document, &value["responses"]["200"]);
            for (media, name, request) in examples(document, &value["requestBody"]) {
                let shown = answers.iter().find(|(_, answer, _)| *answer == name);
                let shown = shown.map_or_else(|| panic!("{name} of {} has no answer", operation.id()), |shown| shown.2);
                let body = request["value"].to_string();
                if media == LINES {
                    let answer = client.send(&Call::post_lines(operation.path, format!("{body}\n")));
                    let mut lines =
                        answer.text().lines().map(|line| serde_json::from_str::<Value>(line).expect("JSON"));
                    assert_eq!(lines.next_back().as_ref(), Some(&shown["value"]), "{name}");
                } else {
                    let answer = client.send(&Call::post(operation.path, body));
                    assert_eq!(answer.status, 200, "{name}: {}", answer.text());
                    assert_eq!(answer.json(), shown["value"], "{name}");
                }
                sent += 1;
            }
        }
    });
    assert!(sent >= 7, "{sent} requests were sent");
}

#[test]
fn what_the_law_and_the_service_say_is_as_the_document_shows() {
    let document = Document::checked_in();
    let mut asked = 0;
    with_server(|client| {
        for operation in document.operations().into_iter().filter(|operation| operation.method == "get") {
            let value = described(document, &operation);
            for (_, name, example) in examples(document, &value["responses"]["200"]) {
                // A summary names the query, where there is one.
                let summary = example["summary"].as_str().unwrap_or_default();
                let query = summary.split_whitespace().find(|word| word.starts_with('?')).unwrap_or_default();
                let answer = client.get(&format!("{}{query}", path_of(&operation, value))).json();
                let found = differences(&example["value"], &as_far_as_shown(answer, &example["value"]));
                assert!(found.is_empty(), "{name} of {}: {found:#?}", operation.id());
                asked += 1;
            }
        }
    });
    assert!(asked >= 11, "{asked} examples were compared");
}

#[test]
fn every_parameter_takes_its_example() {
    let document = Document::checked_in();
    let mut asked = 0;
    with_server(|client| {
        for operation in document.operations().into_iter().filter(|operation| operation.method == "get") {
            let value = described(document, &operation);
            for parameter in list_of(value, "parameters").iter().filter(|parameter| parameter["in"] == "query") {
                let (name, example) = (parameter["name"].as_str().expect("a name"), parameter["example"].as_str());
                let example = example.unwrap_or_else(|| panic!("{name} of {} has no example", operation.id()));
                let target = format!("{}?{name}={}", path_of(&operation, value), example.replace(' ', "%20"));
                let answer = client.get(&target);
                assert_eq!(answer.status, 200, "{target}: {}", answer.text());
                // An example that finds nothing shows nothing.
                assert!(answer.json()["items"].as_array().is_none_or(|items| !items.is_empty()), "{target}");
                asked += 1;
            }
        }
    });
    assert!(asked >= 5, "{asked} parameters were tried");
}

/// The problems shown have the words and the status under which the catalogue explains them.
#[test]
fn every_problem_shown_is_in_the_catalogue() {
    let document = Document::checked_in();
    let responses = document.root()["components"]["responses"].as_object().expect("responses");
    let mut compared = 0;
    with_server(|client| {
        for response in responses.values() {
            for (_, name, example) in examples(document, response) {
                let problem = &example["value"];
                let entry = entry(client, problem);
                for member in ["code", "status", "title"] {
                    assert_eq!(problem[member], entry[member], "{member} of {name}");
                }
                compared += 1;
            }
        }
    });
    assert!(compared > 50, "{compared} problems were compared");
}

fn entry(client: &Client, problem: &Value) -> Value {
    client.get(problem["type"].as_str().expect("an address")).json()
}

/// The examples of single fields are what their schemas allow.
#[test]
fn every_field_allows_its_examples() {
    let document = Document::checked_in();
    let schemas = document.root()["components"]["schemas"].as_object().expect("schemas");
    let mut checked = 0;
    for (name, schema) in schemas {
        let fields =
            schema["properties"].as_object().into_iter().flatten().map(|(field, property)| (field.as_str(), property));
        for (field, property) in fields.chain([("", schema)]) {
            for example in list_of(property, "examples") {
                let faults = document.faults(property, example);
                assert!(faults.is_empty(), "{name}/{field}: {example}: {faults:?}");
                checked += 1;
            }
        }
    }
    assert!(checked > 20, "{checked} examples were checked");
}

fn list_of<'value>(value: &'value Value, member: &str) -> &'value [Value] {
    value.get(member).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}
