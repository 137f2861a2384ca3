//! Decoding of requests: each thing that can be wrong, in its place and with its sentence.

use serde_json::{Value, json};
use vat_schemes::figures::{Figures, Supply, TurnoverMethod, UsedFor};

use super::request::MAX_LINES;
use super::{comparison_request, date_in_query};
use crate::problem::{Problem, ProblemCode};
use crate::test_support::REQUEST;

fn request() -> Value {
    serde_json::from_str(REQUEST).expect("JSON")
}

fn refused(request: &Value) -> Problem {
    comparison_request(request.to_string().as_bytes()).expect_err("refused")
}

/// The request with one value put in.
fn with(pointer: &str, value: Value) -> Value {
    let mut request = request();
    let (parent, field) = pointer.rsplit_once('/').expect("a pointer");
    request.pointer_mut(parent).expect("a parent")[field] = value;
    request
}

fn without(pointer: &str) -> Value {
    let mut request = request();
    let (parent, field) = pointer.rsplit_once('/').expect("a pointer");
    request.pointer_mut(parent).and_then(Value::as_object_mut).expect("a parent").remove(field);
    request
}

#[test]
fn defaults_are_filled_in() {
    let request = comparison_request(REQUEST.as_bytes()).expect("read");
    let figures = Figures::from(&request);
    assert_eq!(figures.business.turnover_method, TurnoverMethod::Basic);
    assert_eq!(figures.business.flat_rate_from, None);
    assert_eq!(figures.purchases[0].supply, Supply::Ordinary);
    assert_eq!(figures.purchases[0].used_for, UsedFor::Taxable);
    assert_eq!(figures.purchases[0].for_main_activity, None);
    assert_eq!(figures.sales[0].amounts.net.map(|net| net.to_string()), Some("24000.00".to_owned()));
    assert_eq!(figures.sales[0].amounts.vat, None);
}

#[test]
fn sales_and_purchases_may_be_absent() {
    let mut request = without("/sales");
    request.as_object_mut().expect("an object").remove("purchases");
    let request = comparison_request(request.to_string().as_bytes()).expect("read");
    assert!(request.sales.is_empty() && request.purchases.is_empty());
}

#[test]
fn a_request_written_out_again_is_the_same() {
    let request = comparison_request(REQUEST.as_bytes()).expect("read");
    let written = serde_json::to_vec(&request).expect("JSON");
    assert_eq!(
        serde_json::to_value(comparison_request(&written).expect("read")).expect("JSON"),
        serde_json::to_value(&request).expect("JSON")
    );
}

#[test]
fn each_wrong_value_has_its_place_and_code() {
    for (pointer, value, code) in [
        ("/reference", json!(""), ProblemCode::TextNotValid),
        ("/reference", json!("x".repeat(65)), ProblemCode::TextNotValid),
        ("/reference", json!("a\nb"), ProblemCode::TextNotValid),
        ("/reference", json!(7), ProblemCode::WrongType),
        ("/reference", json!(null), ProblemCode::NullNotAllowed),
        ("/period", json!([]), ProblemCode::WrongType),
        ("/period/start", json!("2026-02-30"), ProblemCode::DateNotValid),
        ("/period/start", json!("1973-03-31"), ProblemCode::DateOutOfRange),
        ("/period/end", json!("2100-01-01"), ProblemCode::DateOutOfRange),
        ("/period/end", json!(20_260_630), ProblemCode::WrongType),
        ("/period/middle", json!("2026-05-15"), ProblemCode::UnknownField),
        ("/business/sector", json!("Management consultancy"), ProblemCode::IdentifierNotValid),
        ("/business/sector", json!("a--b"), ProblemCode::IdentifierNotValid),
        ("/business/sector", json!(""), ProblemCode::IdentifierNotValid),
        ("/business/turnover_method", json!("accrual"), ProblemCode::UnknownValue),
        ("/split_estimate", json!("by_weeks"), ProblemCode::UnknownValue),
        ("/sales", json!({}), ProblemCode::WrongType),
        ("/sales/0", json!(null), ProblemCode::NullNotAllowed),
        ("/sales/0", json!("x"), ProblemCode::WrongType),
        ("/sales/0/net", json!(1234.5), ProblemCode::AmountMustBeString),
        ("/sales/0/net", json!("1,000"), ProblemCode::AmountNotValid),
        ("/sales/0/net", json!(true), ProblemCode::WrongType),
        ("/sales/0/treatment", json!("standard"), ProblemCode::UnknownValue),
        ("/sales/0/nature", json!("ordinary "), ProblemCode::UnknownValue),
        ("/sales/0/part", json!("all"), ProblemCode::WrongType),
        ("/purchases/0/spend", json!("Services"), ProblemCode::UnknownValue),
        ("/purchases/0/business_use_percentage", json!(50), ProblemCode::PercentageMustBeString),
        ("/purchases/0/business_use_percentage", json!("101"), ProblemCode::PercentageNotValid),
        ("/purchases/0/for_main_activity", json!("true"), ProblemCode::WrongType),
        ("/purchases/0/supply", json!("import"), ProblemCode::UnknownValue),
        ("/purchases/0/used_for", json!("all"), ProblemCode::UnknownValue),
        ("/purchases/0/treatment", json!("domestic_reverse_charge"), ProblemCode::UnknownValue),
        ("/purchases/0/nature", json!("ordinary"), ProblemCode::UnknownField),
    ] {
        let request =
            if pointer == "/sales/0" { with("/sales", json!([value.clone()])) } else { with(pointer, value.clone()) };
        let problem = refused(&request);
        let found: Vec<_> = problem.errors.iter().map(|error| (error.pointer.as_str(), error.code)).collect();
        assert_eq!(found, [(pointer, code)], "{value}");
        assert_eq!(problem.code, code);
        let detail = &problem.errors[0].detail;
        assert!(detail.ends_with('.') && !detail.contains("Option") && !detail.contains("expected"), "{detail}");
    }
}

#[test]
fn each_missing_field_is_named_where_it_would_stand() {
    for pointer in [
        "/period",
        "/period/start",
        "/period/end",
        "/business",
        "/business/registered_on",
        "/business/sector",
        "/sales/0/treatment",
        "/purchases/0/spend",
    ] {
        let problem = refused(&without(pointer));
        assert_eq!((problem.code, problem.errors[0].pointer.as_str()), (ProblemCode::MissingField, pointer));
    }
    let problem = refused(&without("/sales/0/net"));
    assert_eq!((problem.code, problem.errors[0].pointer.as_str()), (ProblemCode::AmountMissing, "/sales/0"));
}

#[test]
fn everything_wrong_is_said_at_once() {
    let body = r#"{"period":{"start":"x"},"sales":[{"treatment":"exempt","net":1},{"net":"1","net":"2","treatment":"exempt"}],"nonsense":1}"#;
    let problem = comparison_request(body.as_bytes()).expect_err("refused");
    let found: Vec<_> = problem.errors.iter().map(|error| (error.pointer.as_str(), error.code)).collect();
    assert_eq!(
        found,
        [
            ("/period/start", ProblemCode::DateNotValid),
            ("/period/end", ProblemCode::MissingField),
            ("/sales/0/net", ProblemCode::AmountMustBeString),
            ("/sales/1/net", ProblemCode::DuplicateField),
            ("/nonsense", ProblemCode::UnknownField),
            ("/business", ProblemCode::MissingField),
        ]
    );
    assert_eq!(problem.code, ProblemCode::RequestNotValid);
}

#[test]
fn lines_have_an_end() {
    let line = json!({ "treatment": "exempt", "net": "0.01" });
    let most = with("/sales", Value::Array(vec![line.clone(); MAX_LINES]));
    assert_eq!(comparison_request(most.to_string().as_bytes()).expect("read").sales.len(), MAX_LINES);
    let problem = refused(&with("/sales", Value::Array(vec![line; MAX_LINES + 1])));
    assert_eq!(problem.code, ProblemCode::TooManyLines);
}

#[test]
fn a_negative_nought_is_nought() {
    let request = comparison_request(with("/sales/0/net", json!("-0")).to_string().as_bytes()).expect("read");
    assert_eq!(request.sales[0].net.as_ref().map(ToString::to_string), Some("0.00".to_owned()));
}

#[test]
fn a_date_in_a_query_is_refused_at_its_parameter() {
    let problem = date_in_query("on", "2026-06-31").expect_err("refused");
    assert_eq!(problem.errors[0].pointer, "?on");
}
