//! The documents say what the service does: the API document, its examples, and the paths that the developers' page names.

use acceptance::client::{COMPARISONS, Call, DATES, GOODS_TESTS, INVOICES, PARTIAL_EXEMPTION_YEARS, THRESHOLD_CHECKS};
use acceptance::differences::differences;
use acceptance::document::{self, Document};
use acceptance::figures::list_at;
use acceptance::paths;
use acceptance::server::with_server;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Request and answer pairs.
const EXAMPLES: &str = "openapi/examples";

#[test]
fn the_document_served_is_the_document_checked_in() {
    let checked_in = paths::read(document::PATH);
    with_server(|client| {
        let served = client.get("/openapi.json");
        assert_eq!(served.media_type(), "application/json");
        assert!(served.body == checked_in.as_bytes(), "other bytes are served than those of {}", document::PATH);
    });
    let printed = acceptance::server::command().arg("openapi").output().expect("the binary runs");
    assert!(printed.status.success());
    assert!(printed.stdout == checked_in.as_bytes(), "{} is not what the binary prints", document::PATH);
    assert!(checked_in.len() < 500_000, "{} bytes", checked_in.len());
    assert_eq!(Document::checked_in().root()["openapi"].as_str().map(|version| &version[..4]), Some("3.1."));
}

#[test]
fn every_operation_is_named_and_described() {
    let document = Document::checked_in();
    let mut ids = BTreeSet::new();
    let tags: BTreeSet<&str> =
        list_at(document.root(), "/tags").iter().filter_map(|tag| tag["name"].as_str()).collect();
    for operation in document.operations() {
        let id = operation.id();
        assert!(id.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_') && id.contains('_'), "{id}");
        assert!(ids.insert(id), "{id} stands twice");
        let pointer = format!("/paths/{}/{}", operation.path.replace('/', "~1"), operation.method);
        let value = document.root().pointer(&pointer).expect("the operation");
        for name in ["summary", "description"] {
            assert!(value[name].as_str().is_some_and(|text| !text.trim().is_empty()), "{id} has no {name}");
        }
        let own: Vec<&str> = value["tags"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        assert!(!own.is_empty() && own.iter().all(|tag| tags.contains(tag)), "{id}: {own:?} of {tags:?}");
    }
}

/// Every field is described; every text, list and number has its bounds; every object of a request is closed.
#[test]
fn every_field_is_described_and_bounded() {
    let document = Document::checked_in();
    let schemas = document.root().pointer("/components/schemas").and_then(Value::as_object).expect("schemas");
    let mut faults = Vec::new();
    for (name, schema) in schemas {
        check_schema(name, schema, &mut faults);
    }
    let mut requests = BTreeSet::new();
    collect_references(&document.schema("ComparisonRequest"), document, &mut requests);
    for name in &requests {
        let schema = &schemas[name];
        if schema["type"] == "object" && schema["additionalProperties"] != false {
            faults.push(format!("{name} of a request is not closed"));
        }
    }
    assert!(requests.len() > 5, "{requests:?}");
    assert!(faults.is_empty(), "{faults:#?}");
}

fn check_schema(place: &str, schema: &Value, faults: &mut Vec<String>) {
    let has = |name: &str| schema.get(name).is_some();
    let kinds: Vec<&str> = match &schema["type"] {
        Value::String(kind) => vec![kind],
        Value::Array(kinds) => kinds.iter().filter_map(Value::as_str).collect(),
        _ => Vec::new(),
    };
    if kinds.contains(&"string") && !has("enum") && !has("const") && !has("maxLength") {
        faults.push(format!("{place}: a text without bounds"));
    }
    if kinds.contains(&"array") && !has("maxItems") {
        faults.push(format!("{place}: a list without bounds"));
    }
    if (kinds.contains(&"integer") || kinds.contains(&"number")) && !(has("minimum") && has("maximum")) {
        faults.push(format!("{place}: a number without bounds"));
    }
    for (name, property) in schema["properties"].as_object().into_iter().flatten() {
        let place = format!("{place}/{name}");
        // A field that may not be there has nothing to be described.
        if *property == json!({ "not": {} }) {
            continue;
        }
        if !is_described(property) {
            faults.push(format!("{place} is not described"));
        }
        check_schema(&place, property, faults);
    }
    if let Some(items) = schema.get("items") {
        check_schema(&format!("{place}/*"), items, faults);
    }
    for name in ["allOf", "oneOf", "anyOf"] {
        for (index, part) in schema[name].as_array().into_iter().flatten().enumerate() {
            check_schema(&format!("{place}/{name}/{index}"), part, faults);
        }
    }
}

/// Whether a field is described, itself or in the part of it that is not null.
fn is_described(property: &Value) -> bool {
    let parts = property["oneOf"].as_array().into_iter().flatten();
    std::iter::once(property)
        .chain(parts)
        .any(|part| part["description"].as_str().is_some_and(|text| !text.trim().is_empty()))
}

fn collect_references(schema: &Value, document: &Document, found: &mut BTreeSet<String>) {
    match schema {
        Value::Object(members) => {
            let name = members
                .get("$ref")
                .and_then(Value::as_str)
                .and_then(|reference| reference.strip_prefix("#/components/schemas/"));
            match name {
                Some(name) if found.insert(name.to_owned()) => {
                    collect_references(&document.root()["components"]["schemas"][name], document, found);
                }
                _ => {}
            }
            members.values().for_each(|member| collect_references(member, document, found));
        }
        Value::Array(items) => items.iter().for_each(|item| collect_references(item, document, found)),
        _ => {}
    }
}

/// Each example of the document is what its schema says, and every body has one.
#[test]
fn every_body_has_examples_that_are_valid() {
    let document = Document::checked_in();
    let mut faults = Vec::new();
    let mut count = 0;
    let mut check = |place: String, media: &Value| {
        let named = media["examples"]
            .as_object()
            .into_iter()
            .flatten()
            .map(|(_, example)| follow(document, example)["value"].clone());
        let examples: Vec<Value> = media.get("example").cloned().into_iter().chain(named).collect();
        if examples.is_empty() {
            faults.push(format!("{place} has no example"));
        }
        for example in examples {
            count += 1;
            for fault in document.faults(&media["schema"], &example) {
                faults.push(format!("{place}: {fault}"));
            }
        }
    };
    let media_types = |holder: &Value| -> Vec<(String, Value)> {
        let content = holder["content"].as_object().into_iter().flatten();
        content.filter(|(name, _)| name.ends_with("json")).map(|(name, media)| (name.clone(), media.clone())).collect()
    };
    for operation in document.operations() {
        let pointer = format!("/paths/{}/{}", operation.path.replace('/', "~1"), operation.method);
        let value = document.root().pointer(&pointer).cloned().unwrap_or_default();
        for (name, media) in media_types(follow(document, &value["requestBody"])) {
            check(format!("the request of {} ({name})", operation.id()), &media);
        }
        for (status, response) in value["responses"].as_object().into_iter().flatten() {
            for (name, media) in media_types(follow(document, response)) {
                // The document itself is too long to be an example of itself.
                if operation.path != "/openapi.json" || status != "200" {
                    check(format!("{status} of {} ({name})", operation.id()), &media);
                }
            }
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
    assert!(count > 20, "{count} examples");
}

pub fn follow<'document>(document: &'document Document, value: &'document Value) -> &'document Value {
    match value["$ref"].as_str().and_then(|reference| reference.strip_prefix('#')) {
        Some(pointer) => document.root().pointer(pointer).unwrap_or_else(|| panic!("nothing at {pointer}")),
        None => value,
    }
}

#[test]
fn every_example_comes_back_as_it_is_written() {
    let names = paths::files(EXAMPLES, ".json");
    assert!(!names.is_empty(), "no examples in {EXAMPLES}");
    with_server(|client| {
        for name in names {
            let example: Value = serde_json::from_str(&paths::read(&format!("{EXAMPLES}/{name}")))
                .unwrap_or_else(|error| panic!("{name}: {error}"));
            assert!(example["summary"].as_str().is_some_and(|summary| !summary.is_empty()), "{name} has no summary");
            let path = match name.as_str() {
                name if name.starts_with("goods_test_") => GOODS_TESTS,
                name if name.starts_with("threshold_check_") => THRESHOLD_CHECKS,
                name if name.starts_with("invoice") => INVOICES,
                name if name.starts_with("dates_") => DATES,
                name if name.starts_with("partial_exemption_year_") => PARTIAL_EXEMPTION_YEARS,
                _ => COMPARISONS,
            };
            let answer = client.calculate(path, &example["request"]);
            let mut found = differences(&example["answer"], &answer);
            found.extend(
                differences(&answer, &example["answer"])
                    .into_iter()
                    .map(|fault| format!("the other way round, {fault}")),
            );
            assert!(found.is_empty(), "{name} is not what comes back: {found:#?}");
            // Members that are null on one side only are no difference above.
            assert_eq!(example["answer"].to_string(), answer.to_string(), "{name}");
            crate::answers::assert_sound(&example["request"], &answer);
        }
    });
}

/// The page that shows the document is whole in itself: its scripts and styles are there, and nothing comes from outside.
#[test]
fn the_page_of_the_document_needs_nothing_from_outside() {
    with_server(|client| {
        let redirect = client.get("/docs");
        assert_eq!((redirect.status, redirect.header("location")), (308, Some("/docs/")));
        let page = client.get("/docs/");
        assert_eq!((page.status, page.media_type()), (200, "text/html"));
        let policy = page.header("content-security-policy").unwrap_or_default().to_owned();
        for part in ["default-src 'none'", "script-src 'self'", "connect-src 'self'", "frame-ancestors 'none'"] {
            assert!(policy.contains(part), "{part} is not in {policy}");
        }
        assert!(!policy.contains("http") && !policy.contains("script-src 'self' 'unsafe"), "{policy}");
        let html = page.text().to_owned();
        let mut assets = BTreeSet::new();
        for attribute in ["src=\"", "href=\""] {
            for piece in html.split(attribute).skip(1) {
                assets.insert(piece.split('"').next().unwrap_or_default().to_owned());
            }
        }
        assert!(assets.len() >= 3, "{assets:?}");
        let mut scripts = String::new();
        for asset in &assets {
            assert!(!asset.contains("//"), "from outside: {asset}");
            let target = format!("/docs/{}", asset.trim_start_matches("./").trim_start_matches("/docs/"));
            let answer = client.get(&target);
            assert_eq!(answer.status, 200, "{target}");
            if target.contains("initializer") {
                scripts.push_str(answer.text());
            }
        }
        assert!(!html.contains("<script>"), "a script in the page itself is against its policy");
        assert!(scripts.contains("/openapi.json"), "the page does not read the document: {scripts}");
        assert_eq!(client.get("/docs/no-such-file.js").status, 404);
        // The large files travel compressed to those who take that, and are told apart by their tags.
        let script = "/docs/swagger-ui-bundle.js";
        let plain = client.get(script);
        let packed = client.send(&Call::new("GET", script).header("accept-encoding", "gzip"));
        assert_eq!((plain.header("content-encoding"), packed.header("content-encoding")), (None, Some("gzip")));
        assert_eq!((plain.header("vary"), packed.header("vary")), (Some("Accept-Encoding"), Some("Accept-Encoding")));
        assert_ne!(plain.header("etag"), packed.header("etag"));
        assert!(packed.body.starts_with(&[0x1F, 0x8B]) && packed.body.len() * 2 < plain.body.len());
        let tag = packed.header("etag").expect("a tag");
        let again = Call::new("GET", script).header("accept-encoding", "gzip").header("if-none-match", tag);
        assert_eq!(client.send(&again).status, 304);
    });
}

/// Every file and folder that DEVELOPERS.md names is there: from the root of the project, in the calculation or its sources, or in the
/// sources of the service.
#[test]
fn every_path_of_the_developers_page_is_there() {
    let text = paths::read("DEVELOPERS.md");
    let mut checked = 0;
    let mut missing = Vec::new();
    for name in text.split('`').skip(1).step_by(2) {
        let looks_like_a_path = (name.contains('/') || name.ends_with(".rs") || name.ends_with(".toml"))
            && name.chars().all(|character| character.is_ascii_alphanumeric() || "/._-".contains(character))
            && !name.starts_with('/');
        if !looks_like_a_path {
            continue;
        }
        checked += 1;
        let folders = [
            "",
            "service/schemes",
            "service/schemes/src",
            "service/schemes/data",
            "service/schemes/src/flat_rate",
            "service/schemes/src/due_dates",
            "service/api/src",
        ];
        if !folders.iter().any(|folder| paths::exists(format!("{folder}/{name}").trim_start_matches('/'))) {
            missing.push(name);
        }
    }
    assert!(checked > 40, "{checked} paths were found");
    assert!(missing.is_empty(), "named in DEVELOPERS.md and not there: {missing:#?}");
}
