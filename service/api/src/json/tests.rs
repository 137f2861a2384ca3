use super::{Decoder, MAX_DEPTH, Node, ReadFault, read};
use crate::problem::{MAX_FIELD_ERRORS, ProblemCode};

const FIELDS: &[&str] = &["net", "vat"];

fn errors(body: &str) -> Vec<(String, ProblemCode)> {
    let node = read(body.as_bytes()).expect("JSON");
    let mut decoder = Decoder::new();
    let given = decoder.object(&node, FIELDS, |decoder, _, node| {
        decoder.text(node);
    });
    if let Some(given) = given {
        decoder.require(given, "net", "give it.");
    }
    match decoder.finish(Some(())) {
        Ok(()) => Vec::new(),
        Err(problem) => problem.errors.into_iter().map(|error| (error.pointer, error.code)).collect(),
    }
}

fn nested(depth: usize) -> String {
    format!("{}{}", "[".repeat(depth), "]".repeat(depth))
}

#[test]
fn a_body_is_one_json_value_in_utf_8() {
    assert_eq!(read(b"").unwrap_err(), ReadFault::Empty);
    assert_eq!(read(b" \r\n\t").unwrap_err(), ReadFault::Empty);
    assert_eq!(read(b"{\"a\":\"\xa3\"}").unwrap_err(), ReadFault::NotUtf8(7));
    assert_eq!(read("\u{feff}{}".as_bytes()).unwrap_err(), ReadFault::ByteOrderMark);
    assert_eq!(read(b"{\"a\":").unwrap_err(), ReadFault::BreaksOff);
    assert!(matches!(read(b"{'a':1}").unwrap_err(), ReadFault::NotJson(1, _)));
    assert!(matches!(read(b"{}\n{}").unwrap_err(), ReadFault::TrailingData(2, _)));
    assert!(matches!(read(b"{}}").unwrap_err(), ReadFault::TrailingData(1, _)));
    assert!(matches!(read(b"{\"a\":NaN}").unwrap_err(), ReadFault::NotJson(1, _)));
    assert!(matches!(read(br#"{"a":"\ud800"}"#).unwrap_err(), ReadFault::NotJson(1, _)));
}

#[test]
fn depth_has_an_end() {
    assert!(read(nested(MAX_DEPTH).as_bytes()).is_ok());
    assert_eq!(read(nested(MAX_DEPTH + 1).as_bytes()).unwrap_err(), ReadFault::TooDeep);
    assert_eq!(read("[".repeat(1_000_000).as_bytes()).unwrap_err(), ReadFault::TooDeep);
}

#[test]
fn numbers_keep_their_digits() {
    assert_eq!(read(b"1234.5").expect("JSON"), Node::Number("1234.5".to_owned()));
    assert_eq!(read(b"-7").expect("JSON"), Node::Number("-7".to_owned()));
}

#[test]
fn every_error_is_named_in_the_order_of_the_body() {
    assert_eq!(
        errors(r#"{"vat":null,"vat":"1.00","a/b~c":1,"net":1}"#),
        [
            ("/vat".to_owned(), ProblemCode::NullNotAllowed),
            ("/vat".to_owned(), ProblemCode::DuplicateField),
            ("/a~1b~0c".to_owned(), ProblemCode::UnknownField),
            ("/net".to_owned(), ProblemCode::WrongType),
        ]
    );
    assert_eq!(errors(r#"{"vat":"1"}"#), [("/net".to_owned(), ProblemCode::MissingField)]);
    assert_eq!(errors("[]"), [(String::new(), ProblemCode::WrongType)]);
    assert_eq!(errors(r#"{"net":"1"}"#), []);
}

#[test]
fn a_name_written_with_escapes_is_the_same_name() {
    assert_eq!(errors(r#"{"net":"1","n\u0065t":"1"}"#), [("/net".to_owned(), ProblemCode::DuplicateField)]);
}

#[test]
fn errors_beyond_a_hundred_are_only_counted_as_more() {
    let fields: Vec<String> = (0..MAX_FIELD_ERRORS + 20).map(|number| format!("\"x{number}\":1")).collect();
    let body = format!("{{{}}}", fields.join(","));
    let node = read(body.as_bytes()).expect("JSON");
    let mut decoder = Decoder::new();
    decoder.object(&node, FIELDS, |_, _, _| ());
    let problem = decoder.finish(Some(())).expect_err("refused");
    assert_eq!(problem.errors.len(), MAX_FIELD_ERRORS);
    assert!(problem.truncated);
    assert_eq!(problem.code, ProblemCode::UnknownField);
}

#[test]
fn a_long_stranger_is_cut_short_in_the_sentence() {
    let body = format!("{{\"{}\":1}}", "x".repeat(10_000));
    let node = read(body.as_bytes()).expect("JSON");
    let mut decoder = Decoder::new();
    decoder.object(&node, FIELDS, |_, _, _| ());
    let problem = decoder.finish(Some(())).expect_err("refused");
    assert!(problem.errors[0].detail.len() < 200);
}
