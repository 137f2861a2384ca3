use std::collections::HashSet;

use vat_schemes::refusal::RefusalCode;

use super::{FieldError, MAX_FIELD_ERRORS, Problem, ProblemBody, ProblemCode};

fn error(code: ProblemCode) -> FieldError {
    FieldError { pointer: "/period".to_owned(), code, detail: "Say so.".to_owned() }
}

#[test]
fn each_entry_is_whole_and_its_own() {
    let mut codes = HashSet::new();
    let mut titles = HashSet::new();
    for code in ProblemCode::ALL {
        let entry = code.entry();
        assert!(codes.insert(entry.code) && titles.insert(entry.title), "{} stands twice", entry.code);
        assert!(entry.code.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_'));
        assert!(
            [400, 401, 404, 405, 406, 408, 413, 415, 422, 429, 431, 500, 503].contains(&entry.status),
            "{}",
            entry.code
        );
        for text in [entry.meaning, entry.caller, entry.operator, entry.developer, entry.example.detail] {
            assert!(text.ends_with('.'), "{}: {text}", entry.code);
        }
    }
}

#[test]
fn each_refusal_of_the_calculation_has_its_entry() {
    for refusal in RefusalCode::ALL {
        let code = ProblemCode::from(*refusal);
        assert_eq!(code.as_str(), refusal.as_str());
        assert_eq!(code.entry().status, 422);
    }
}

#[test]
fn codes_are_found_by_their_word() {
    for code in ProblemCode::ALL {
        assert_eq!(ProblemCode::from_word(code.as_str()), Some(*code));
    }
    assert_eq!(ProblemCode::from_word("no_such_code"), None);
}

#[test]
fn one_kind_of_error_gives_the_problem_its_code() {
    let same = vec![error(ProblemCode::MissingField), error(ProblemCode::MissingField)];
    assert_eq!(Problem::of_fields(ProblemCode::RequestNotValid, same, false).code, ProblemCode::MissingField);
    let mixed = vec![error(ProblemCode::MissingField), error(ProblemCode::UnknownField)];
    let problem = Problem::of_fields(ProblemCode::RequestNotValid, mixed, false);
    assert_eq!(problem.code, ProblemCode::RequestNotValid);
    assert!(problem.detail.starts_with("2 places"));
}

#[test]
fn a_hundred_errors_are_enough() {
    let many = (0..=MAX_FIELD_ERRORS).map(|_| error(ProblemCode::MissingField)).collect();
    let problem = Problem::of_fields(ProblemCode::RequestNotValid, many, false);
    assert!(problem.truncated);
    assert_eq!(problem.errors.len(), MAX_FIELD_ERRORS);
    let body = serde_json::to_value(ProblemBody::new(&problem, "mine", None)).expect("JSON");
    assert_eq!(body["truncated"], true);
    assert!(body.get("instance").is_none() && body.get("trace_id").is_none());
}

#[test]
fn the_instance_is_the_request() {
    let id = uuid::Uuid::now_v7().to_string();
    let body = serde_json::to_value(ProblemBody::new(&Problem::internal(), &id, Some("abc"))).expect("JSON");
    assert_eq!(body["instance"], format!("urn:uuid:{id}"));
    assert_eq!(body["trace_id"], "abc");
    assert!(body.get("errors").is_none());
}
