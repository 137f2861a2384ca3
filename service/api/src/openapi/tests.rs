//! The document is complete, and is the one that is kept.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use utoipa::ToSchema;
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::Schema;

use super::{checked_in, document};
use crate::problem::{ProblemBody, ProblemCode, ProblemEntry};
use crate::routes::{Allowed, Resource};
use crate::test_support::law;
use crate::wire::v1::answer::Comparison;
use crate::wire::v1::batch::BatchLine;
use crate::wire::v1::dates_answer::DatesAnswer;
use crate::wire::v1::dates_request::DatesRequest;
use crate::wire::v1::fuel_scale_charges::FuelScaleCharges;
use crate::wire::v1::goods_answer::GoodsTestAnswer;
use crate::wire::v1::goods_request::GoodsTestRequest;
use crate::wire::v1::invoice_answer::InvoiceAnswer;
use crate::wire::v1::invoice_request::InvoiceRequest;
use crate::wire::v1::law::{AuthorityList, ParameterHistory, ParameterList, SectorHistory, SectorList};
use crate::wire::v1::partial_exemption_answer::PartialExemptionYearAnswer;
use crate::wire::v1::partial_exemption_request::PartialExemptionYearRequest;
use crate::wire::v1::request::ComparisonRequest;
use crate::wire::v1::spend_kinds::SpendKindList;
use crate::wire::v1::threshold_answer::ThresholdCheck;
use crate::wire::v1::threshold_request::ThresholdCheckRequest;
use crate::wire::v1::worked_examples::{GivenCaseEvidence, GivenTopic, WorkedExampleList};

fn parsed() -> Value {
    serde_json::from_str(&document(&law()).expect("a document")).expect("JSON")
}

fn operations(document: &Value) -> Vec<(&str, &str, &Value)> {
    let paths = document["paths"].as_object().expect("paths");
    paths
        .iter()
        .flat_map(|(path, item)| {
            let item = item.as_object().expect("an item");
            item.iter().map(move |(method, operation)| (path.as_str(), method.as_str(), operation))
        })
        .collect()
}

#[test]
fn the_document_kept_is_the_one_made() {
    let made = document(&law()).expect("a document");
    assert!(
        made.as_bytes() == checked_in().expect("packed").body(),
        "openapi/v1.json is not what the code makes: write it anew with \
         `cargo run -p vat-schemes-api -- openapi > openapi.new && mv openapi.new openapi/v1.json`"
    );
}

#[test]
fn it_is_small_enough_to_be_read() {
    let size = checked_in().expect("packed").body().len();
    assert!(size <= 500_000, "{size} bytes");
}

#[test]
fn it_describes_each_resource_and_nothing_else() {
    let document = parsed();
    let described: BTreeSet<(&str, &str)> =
        operations(&document).into_iter().map(|(path, method, _)| (path, method)).collect();
    let served: BTreeSet<(&str, &str)> = Resource::ALL
        .iter()
        .filter(|resource| resource.is_documented())
        .map(|resource| {
            let method = if resource.allowed() == Allowed::Post { "post" } else { "get" };
            (resource.path(), method)
        })
        .collect();
    assert_eq!(described, served);
}

#[test]
fn each_operation_has_its_name_words_and_examples() {
    let document = parsed();
    let mut names = BTreeSet::new();
    for (path, method, operation) in operations(&document) {
        let place = format!("{method} {path}");
        assert!(names.insert(operation["operationId"].as_str().expect("a name")), "{place}");
        for member in ["summary", "description"] {
            assert!(operation[member].as_str().is_some_and(|text| !text.is_empty()), "{member} of {place}");
        }
        assert_eq!(operation["tags"].as_array().map(Vec::len), Some(1), "{place}");
        let form = if path.ends_with("/batch") { "application/x-ndjson" } else { "application/json" };
        let content = &operation["responses"]["200"]["content"][form];
        assert!(content["examples"].as_object().is_some_and(|examples| !examples.is_empty()), "{place}");
        if method == "post" {
            let content = &operation["requestBody"]["content"][form];
            assert!(content["examples"].as_object().is_some_and(|examples| !examples.is_empty()), "{place}");
        } else {
            assert!(operation["responses"]["304"].is_object(), "{place}");
        }
        assert!(operation["responses"]["500"].is_object(), "{place}");
    }
}

#[test]
fn each_problem_code_has_an_example() {
    let document = parsed();
    let responses = document["components"]["responses"].as_object().expect("responses");
    let shown: BTreeSet<&str> = responses
        .values()
        .flat_map(|response| {
            response["content"]["application/problem+json"]["examples"].as_object().expect("examples").keys()
        })
        .map(String::as_str)
        .collect();
    let all: BTreeSet<&str> = ProblemCode::ALL.iter().map(|code| code.as_str()).collect();
    assert_eq!(shown, all);
}

#[test]
fn each_field_is_described_and_each_text_and_list_bounded() {
    let document = parsed();
    for (name, schema) in document["components"]["schemas"].as_object().expect("schemas") {
        let place = name.as_str();
        assert!(has_text(schema, "description"), "{place}");
        assert_bounded(schema, place);
        for (field, property) in schema["properties"].as_object().into_iter().flatten() {
            let place = format!("{name}.{field}");
            assert!(has_text(property, "description"), "{place}");
            assert_bounded(property, &place);
        }
    }
}

fn has_text(schema: &Value, member: &str) -> bool {
    schema[member].as_str().is_some_and(|text| !text.is_empty())
}

fn assert_bounded(schema: &Value, place: &str) {
    match schema["type"].as_str() {
        Some("string") => assert!(schema.get("maxLength").is_some() || schema.get("enum").is_some(), "{place}"),
        Some("array") => {
            assert!(schema.get("maxItems").is_some(), "{place}");
            assert_bounded(&schema["items"], &format!("{place}[]"));
        }
        Some("integer" | "number") => assert!(schema.get("maximum").is_some(), "{place}"),
        _ => {}
    }
}

#[test]
fn requests_are_closed_and_answers_open() {
    let document = parsed();
    let schemas = document["components"]["schemas"].as_object().expect("schemas");
    for name in [
        "ComparisonRequest",
        "GivenPeriod",
        "Business",
        "SectorChange",
        "Sale",
        "Purchase",
        "GoodsTestRequest",
        "GoodsTestBusiness",
        "InvoiceRequest",
        "InvoiceLine",
        "ThresholdCheckRequest",
        "ThresholdBusiness",
        "Turnover",
        "TurnoverMonth",
        "FlatRateFacts",
        "GivenPartialExemption",
        "PartialExemptionYearRequest",
        "GivenYearPeriod",
    ] {
        assert_eq!(schemas[name]["additionalProperties"], false, "{name}");
    }
    for name in [
        "ComparisonAnswer",
        "FlatRate",
        "GoodsTestAnswer",
        "InvoiceAnswer",
        "LineFigures",
        "ThresholdCheck",
        "Limits",
        "Problem",
        "SectorList",
        "WorkedExample",
    ] {
        assert!(schemas[name].get("additionalProperties").is_none(), "{name}");
    }
}

/// Makers of clients take a choice that stands beside the properties for the type itself: a line would be anything at all.
#[test]
fn no_choice_stands_beside_properties() {
    let document = parsed();
    for (name, schema) in document["components"]["schemas"].as_object().expect("schemas") {
        let choice = schema.get("oneOf").or(schema.get("anyOf"));
        assert!(choice.is_none() || schema.get("properties").is_none(), "{name}");
    }
    assert!(document["components"]["schemas"]["Sale"]["allOf"].is_array());
}

#[test]
fn null_is_possible_only_where_a_description_says_so() {
    let document = parsed();
    let mut nullable = Vec::new();
    for (name, schema) in document["components"]["schemas"].as_object().expect("schemas") {
        for (field, property) in schema["properties"].as_object().into_iter().flatten() {
            if property.to_string().contains("\"null\"") {
                assert!(property["description"].as_str().is_some_and(|text| text.contains("`null`")), "{name}.{field}");
                assert!(schema["required"].as_array().is_some_and(|all| all.iter().any(|one| one == field)));
                nullable.push(format!("{name}.{field}"));
            }
        }
    }
    assert_eq!(nullable, ["ComparisonAnswer.goods_test", "GoodsTest.share_percentage", "Received.goods_test"]);
}

#[test]
fn no_two_types_share_a_name() {
    let mut all: Vec<(String, RefOr<Schema>)> = Vec::new();
    macro_rules! collect {
        ($($type:ty),*) => {
            $(<$type>::schemas(&mut all); all.push((<$type>::name().into_owned(), <$type as utoipa::PartialSchema>::schema()));)*
        };
    }
    collect!(
        ComparisonRequest,
        Comparison,
        BatchLine,
        DatesRequest,
        DatesAnswer,
        GoodsTestRequest,
        GoodsTestAnswer,
        InvoiceRequest,
        InvoiceAnswer,
        ThresholdCheckRequest,
        ThresholdCheck,
        PartialExemptionYearRequest,
        PartialExemptionYearAnswer,
        SectorList,
        SectorHistory,
        ParameterList,
        ParameterHistory,
        FuelScaleCharges,
        AuthorityList,
        SpendKindList,
        WorkedExampleList,
        GivenTopic,
        GivenCaseEvidence,
        ProblemBody,
        ProblemEntry
    );
    let mut by_name: BTreeMap<String, RefOr<Schema>> = BTreeMap::new();
    for (name, schema) in all {
        let known = by_name.entry(name.clone()).or_insert_with(|| schema.clone());
        assert!(*known == schema, "two types are called {name}");
    }
    let document = parsed();
    let shown: BTreeSet<&String> = document["components"]["schemas"].as_object().expect("schemas").keys().collect();
    assert_eq!(shown, by_name.keys().collect());
}
