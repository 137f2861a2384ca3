//! Bytes to a request or a problem: never a panic, always a reason, and a tree that is what another reader of JSON makes of the bytes.

#![no_main]

use libfuzzer_sys::fuzz_target;
use serde_json::Value;
use vat_schemes_api::json::{self, MAX_DEPTH, Node, ReadFault};
use vat_schemes_api::problem::{MAX_FIELD_ERRORS, Problem, ProblemCode};
use vat_schemes_api::wire::v1::{
    comparison_request, decode_dates, goods_test_request, partial_exemption_year_request, read_invoice, reference_of,
    threshold_check_request,
};

fuzz_target!(|data: &[u8]| {
    let read = json::read(data);
    let value = serde_json::from_slice::<Value>(data).ok();
    match (&read, &value) {
        (Ok(node), Some(value)) => the_same(node, value),
        (Ok(_), None) => panic!("read here, and no JSON elsewhere"),
        (Err(ReadFault::TooDeep), Some(value)) => assert!(depth(value) > MAX_DEPTH),
        (Err(fault), Some(_)) => panic!("JSON elsewhere, and not here: {fault:?}"),
        (Err(_), None) => {}
    }
    let is_object = matches!(read, Ok(Node::Object(_)));
    for problem in [
        comparison_request(data).err(),
        goods_test_request(data).err(),
        read_invoice(data).err(),
        threshold_check_request(data).err(),
        decode_dates(data).err(),
        partial_exemption_year_request(data).err(),
    ] {
        match problem {
            // Where a field is given twice, a pointer may mean the one that the other reader left out.
            Some(problem) => {
                let once = read.as_ref().is_ok_and(|node| !given_twice(node));
                says_why(&problem, value.as_ref().filter(|_| once));
            }
            None => assert!(is_object),
        }
    }
    if let Some(reference) = reference_of(data) {
        assert!((1..=64).contains(&reference.0.chars().count()) && !reference.0.contains(char::is_control));
    }
});

/// The tree says what another reader says, and is written as that writes it. Numbers with a fraction or an exponent are no part of any
/// request, and kept only to be shown.
fn the_same(node: &Node<'_>, value: &Value) {
    if has_fraction(value) {
        return;
    }
    let written = serde_json::to_vec(node).expect("a tree can be written");
    assert_eq!(json::read(&written).as_ref(), Ok(node));
    assert_eq!(json::written(node, 0).expect("a tree can be written"), written);
    // Of fields given twice, the other reader keeps one.
    if !given_twice(node) {
        assert_eq!(serde_json::from_slice::<Value>(&written).ok().as_ref(), Some(value));
    }
}

fn given_twice(node: &Node<'_>) -> bool {
    match node {
        Node::Object(members) => members.iter().enumerate().any(|(place, (name, member))| {
            given_twice(member) || members[..place].iter().any(|(earlier, _)| earlier == name)
        }),
        Node::List(items) => items.iter().any(given_twice),
        _ => false,
    }
}

fn has_fraction(value: &Value) -> bool {
    match value {
        Value::Number(number) => number.is_f64(),
        Value::Array(items) => items.iter().any(has_fraction),
        Value::Object(members) => members.values().any(has_fraction),
        _ => false,
    }
}

fn depth(value: &Value) -> usize {
    match value {
        Value::Array(items) => 1 + items.iter().map(depth).max().unwrap_or(0),
        Value::Object(members) => 1 + members.values().map(depth).max().unwrap_or(0),
        _ => 0,
    }
}

/// A problem names each place and says what to change there.
fn says_why(problem: &Problem, value: Option<&Value>) {
    assert_eq!(problem.status().as_u16(), 400, "{problem:?}");
    assert!(!problem.errors.is_empty() && problem.errors.len() <= MAX_FIELD_ERRORS, "{problem:?}");
    for error in &problem.errors {
        let sentence = &error.detail;
        assert!(sentence.ends_with('.') && !sentence.contains(char::is_control), "{error:?}");
        assert!(sentence.len() < 5_000, "{error:?}");
        if let Some(value) = value {
            let place = match error.code {
                ProblemCode::MissingField | ProblemCode::FieldsExcludeEachOther => {
                    error.pointer.rsplit_once('/').map_or("", |(parent, _)| parent)
                }
                _ => error.pointer.as_str(),
            };
            assert!(value.pointer(place).is_some(), "{error:?}");
        }
    }
}
