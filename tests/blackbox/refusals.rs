//! Requests that are refused: which place, which code, and a sentence that says what to change.

use acceptance::client::{
    Call, Client, DATES, GOODS_TESTS, INVOICES, PARTIAL_EXEMPTION_YEARS, THRESHOLD_CHECKS, problem_codes,
};
use acceptance::document::Document;
use acceptance::figures::{consultant, list_at, quarter, text_at};
use acceptance::server::{Server, with_server};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The contract's example with the value at `pointer` replaced.
fn with(pointer: &str, value: Value) -> Value {
    let mut request = consultant();
    let (parent, name) = pointer.rsplit_once('/').unwrap_or_else(|| panic!("{pointer} has no parent"));
    let parent = request.pointer_mut(parent).unwrap_or_else(|| panic!("no {parent}"));
    match parent {
        Value::Object(members) => {
            members.insert(name.to_owned(), value);
        }
        Value::Array(items) => {
            let index: usize = name.parse().unwrap_or_else(|_| panic!("no index: {name}"));
            items[index] = value;
        }
        other => panic!("{pointer} goes into {other}"),
    }
    request
}

fn without(pointer: &str) -> Value {
    let mut request = consultant();
    let (parent, name) = pointer.rsplit_once('/').unwrap_or_else(|| panic!("{pointer} has no parent"));
    let removed = request.pointer_mut(parent).and_then(Value::as_object_mut).and_then(|members| members.remove(name));
    assert!(removed.is_some(), "{pointer} is not there");
    request
}

/// Places and codes of a problem's errors.
fn errors(problem: &Value) -> Vec<(String, String)> {
    list_at(problem, "/errors")
        .iter()
        .map(|error| (text_at(error, "/pointer").to_owned(), text_at(error, "/code").to_owned()))
        .collect()
}

fn assert_one(problem: &Value, pointer: &str, code: &str) {
    assert_eq!(errors(problem), [(pointer.to_owned(), code.to_owned())], "{problem:#}");
    assert_eq!(problem["code"], code, "{problem:#}");
}

/// What amounts are not (each a text that some program writes).
const BAD_AMOUNTS: [&str; 30] = [
    "1e3",
    "1E3",
    "1_000",
    "1,000",
    "1,000.00",
    "1.000,00",
    "+1",
    ".5",
    "5.",
    "00.1",
    "01",
    "１",
    "１２.００",
    "29.999",
    "0.001",
    "12345678901234",
    "12345678901234567890123456789",
    "NaN",
    "Infinity",
    "",
    " ",
    "1 ",
    " 1",
    "\u{a0}1",
    "1\u{a0}000",
    "£1",
    "1.00 GBP",
    "(1.00)",
    "--1",
    "0x10",
];

#[test]
fn an_amount_is_written_in_one_way() {
    with_server(|client| {
        for amount in BAD_AMOUNTS {
            for pointer in ["/sales/0/net", "/sales/0/vat", "/purchases/1/net"] {
                let problem = client.refuse(400, &with(pointer, json!(amount)));
                assert_one(&problem, pointer, "amount_not_valid");
            }
        }
        let details: BTreeSet<String> = ["1,000", "1e3", "29.999", "+1", ".5", "１", "12345678901234567890123456789"]
            .iter()
            .map(|amount| {
                let problem = client.refuse(400, &with("/sales/0/net", json!(amount)));
                text_at(&problem, "/errors/0/detail").to_owned()
            })
            .collect();
        assert!(details.len() >= 6, "one sentence for different mistakes: {details:#?}");
        let separators = client.refuse(400, &with("/sales/0/net", json!("1,000")));
        assert!(text_at(&separators, "/errors/0/detail").contains("\"1000\""), "{separators:#}");
    });
}

#[test]
fn amounts_that_are_right_are_taken() {
    with_server(|client| {
        for (amount, pence) in
            [("0", "0.00"), ("-0", "0.00"), ("-0.00", "0.00"), ("7", "7.00"), ("7.5", "7.50"), ("-7.05", "-7.05")]
        {
            let request = quarter(json!([{ "treatment": "zero_rated", "net": amount }]), json!([]));
            let answer = client.compare(&request);
            assert_eq!(text_at(&answer, "/flat_rate/turnover"), pence, "{amount}");
        }
    });
}

#[test]
fn a_number_where_an_amount_belongs_is_shown_as_it_should_be() {
    with_server(|client| {
        for (number, shown) in [("1234.5", "\"1234.50\""), ("7", "\"7.00\""), ("-3.25", "\"-3.25\"")] {
            let body = consultant().to_string().replace("\"24000.00\"", number);
            let answer = client.send(&Call::post("/v1/comparisons", body));
            assert_eq!(answer.status, 400);
            let problem = answer.json();
            assert_one(&problem, "/sales/0/net", "amount_must_be_string");
            assert!(text_at(&problem, "/errors/0/detail").contains(shown), "{problem:#}");
        }
        let body = consultant().to_string().replace("\"24000.00\"", "1e400");
        let problem = client.send(&Call::post("/v1/comparisons", body)).json();
        assert_eq!(problem["status"], 400, "{problem:#}");
        let mut request = consultant();
        request["purchases"][0]["business_use_percentage"] = json!(40);
        let problem = client.refuse(400, &request);
        assert_one(&problem, "/purchases/0/business_use_percentage", "percentage_must_be_string");
    });
}

#[test]
fn a_percentage_is_written_in_one_way() {
    with_server(|client| {
        for percentage in ["101", "100.01", "-1", "40%", "0.4.0", "040", "33.333", "", "half", "1e1", "+5"] {
            let problem = client.refuse(400, &with("/purchases/0/business_use_percentage", json!(percentage)));
            assert_one(&problem, "/purchases/0/business_use_percentage", "percentage_not_valid");
        }
        for percentage in ["0", "0.5", "33.33", "99.99", "100", "100.00"] {
            client.compare(&with("/purchases/0/business_use_percentage", json!(percentage)));
        }
    });
}

#[test]
fn a_date_is_a_day_that_there_is() {
    with_server(|client| {
        for (date, code) in [
            ("2026-02-30", "date_not_valid"),
            ("2025-02-29", "date_not_valid"),
            ("2026-04-31", "date_not_valid"),
            ("2026-13-01", "date_not_valid"),
            ("2026-00-10", "date_not_valid"),
            ("2026-4-1", "date_not_valid"),
            ("01/04/2026", "date_not_valid"),
            ("20260401", "date_not_valid"),
            ("2026-04-01T00:00:00Z", "date_not_valid"),
            ("2026-04-01 ", "date_not_valid"),
            ("", "date_not_valid"),
            ("today", "date_not_valid"),
            ("２０２６-04-01", "date_not_valid"),
            ("0000-01-01", "date_out_of_range"),
            ("9999-12-31", "date_out_of_range"),
            ("1973-03-31", "date_out_of_range"),
            ("2100-01-01", "date_out_of_range"),
        ] {
            for pointer in ["/period/start", "/business/registered_on"] {
                let problem = client.refuse(400, &with(pointer, json!(date)));
                let found = problem_codes(&problem);
                // A year of no calendar may be either.
                assert!(
                    found == [code.to_owned()].into()
                        || (date.starts_with("0000") && found == ["date_not_valid".to_owned()].into()),
                    "{date}: {problem:#}"
                );
                assert_eq!(errors(&problem)[0].0, pointer);
            }
        }
        let problem = client.refuse(400, &with("/period/end", json!("2026-02-30")));
        let detail = text_at(&problem, "/errors/0/detail");
        assert!(detail.contains("30 February"), "{detail}");
        client.compare(&with("/business/registered_on", json!("1973-04-01")));
    });
}

#[test]
fn words_are_those_of_the_document_and_near_ones_are_offered() {
    with_server(|client| {
        for (pointer, word, near) in [
            ("/sales/0/treatment", "standard", "standard_rated"),
            ("/sales/0/treatment", "zero-rated", "zero_rated"),
            ("/sales/0/nature", "capital_assets", "capital_asset"),
            ("/purchases/0/spend", "service", "services"),
            ("/purchases/0/treatment", "Exempt", "exempt"),
            ("/purchases/0/supply", "postponed_imports", "postponed_import"),
            ("/purchases/0/used_for", "taxabel", "taxable"),
            ("/business/turnover_method", "Cash", "cash"),
            ("/split_estimate", "by_day", "by_days"),
        ] {
            let problem = client.refuse(400, &with(pointer, json!(word)));
            assert_one(&problem, pointer, "unknown_value");
            let detail = text_at(&problem, "/errors/0/detail");
            assert!(detail.contains(&format!("\"{near}\"")), "{detail}");
        }
    });
}

#[test]
fn names_are_those_of_the_document_and_near_ones_are_offered() {
    with_server(|client| {
        for (pointer, near) in [
            ("/referense", "reference"),
            ("/Sales", "sales"),
            ("/period/begin", ""),
            ("/business/registeredOn", "registered_on"),
            ("/sales/0/nett", "net"),
            ("/purchases/0/spending", "spend"),
        ] {
            let problem = client.refuse(400, &with(pointer, json!("x")));
            assert_one(&problem, pointer, "unknown_field");
            assert!(text_at(&problem, "/errors/0/detail").contains(near), "{problem:#}");
        }
        // A name that needs escaping in a JSON Pointer (RFC 6901).
        let mut request = consultant();
        request["sales"][0]["a/b~c"] = json!("x");
        assert_one(&client.refuse(400, &request), "/sales/0/a~1b~0c", "unknown_field");
    });
}

#[test]
fn what_is_needed_must_be_there_and_of_its_kind() {
    with_server(|client| {
        for pointer in [
            "/period",
            "/business",
            "/period/start",
            "/period/end",
            "/business/registered_on",
            "/business/sector",
            "/sales/0/treatment",
            "/purchases/0/spend",
        ] {
            assert_one(&client.refuse(400, &without(pointer)), pointer, "missing_field");
        }
        for (pointer, value) in [
            ("/period", json!([])),
            ("/period", json!("2026-Q2")),
            ("/sales", json!({})),
            ("/sales/0", json!("24000.00")),
            ("/purchases", json!("none")),
            ("/business/sector", json!(12)),
            ("/reference", json!(7)),
            ("/period/start", json!(20260401)),
            ("/purchases/0/for_main_activity", json!("yes")),
            ("/sales/0/treatment", json!(true)),
            ("/sales/0/net", json!(["1.00"])),
        ] {
            let problem = client.refuse(400, &with(pointer, value));
            assert_one(&problem, pointer, "wrong_type");
        }
        for pointer in ["/reference", "/sales", "/sales/0/vat", "/business/flat_rate_from", "/split_estimate"] {
            assert_one(&client.refuse(400, &with(pointer, Value::Null)), pointer, "null_not_allowed");
        }
        assert_one(
            &client.refuse(400, &with("/sales/0", json!({ "treatment": "exempt" }))),
            "/sales/0",
            "amount_missing",
        );
        for body in ["[]", "\"text\"", "7", "true"] {
            let answer = client.send(&Call::post("/v1/comparisons", body));
            assert_one(&answer.json(), "", "wrong_type");
        }
        let problem = client.send(&Call::post("/v1/comparisons", "null")).json();
        assert!(["wrong_type", "null_not_allowed"].contains(&text_at(&problem, "/code")), "{problem:#}");
        let problem = client.send(&Call::post("/v1/comparisons", "{}")).json();
        assert_eq!(errors(&problem).len(), 2, "period and business are missing: {problem:#}");
    });
}

#[test]
fn texts_and_identifiers_have_their_bounds() {
    with_server(|client| {
        for reference in ["", &"r".repeat(65), "a\nb", "a\u{7f}b", "\u{85}"] {
            assert_one(&client.refuse(400, &with("/reference", json!(reference))), "/reference", "text_not_valid");
        }
        // Characters, not bytes, are counted.
        client.compare(&with("/reference", json!("é".repeat(64))));
        for sector in ["Pubs", "Management consultancy", "", "pubs ", "-pubs", "pubs--x", &"p".repeat(101)] {
            let problem = client.refuse(400, &with("/business/sector", json!(sector)));
            assert_one(&problem, "/business/sector", "identifier_not_valid");
        }
        let problem = client.refuse(422, &with("/business/sector", json!("management-consultant")));
        assert_one(&problem, "/business/sector", "unknown_sector");
        assert!(text_at(&problem, "/errors/0/detail").contains("management-consultancy"), "{problem:#}");
        // The limited cost percentage is no category of business.
        let problem = client.refuse(422, &with("/business/sector", json!("limited-cost-business")));
        assert_one(&problem, "/business/sector", "unknown_sector");
    });
}

#[test]
fn lists_have_their_bounds() {
    with_server(|client| {
        for (name, line) in [
            ("sales", json!({ "treatment": "exempt", "net": "1" })),
            ("purchases", json!({ "spend": "services", "net": "1" })),
        ] {
            let mut request = consultant();
            request[name] = Value::Array(vec![line; 5001]);
            assert_one(&client.refuse(400, &request), &format!("/{name}"), "too_many_lines");
        }
    });
}

/// All faults at once, in the order of the request; a hundred at most.
#[test]
fn every_fault_is_named_at_once_and_in_order() {
    with_server(|client| {
        let mut request = consultant();
        request["period"]["start"] = json!("2026-02-30");
        request["business"]["sector"] = json!("No Such");
        request["sales"][0]["net"] = json!("1,000");
        request["sales"][1]["treatment"] = json!("exampt");
        request["purchases"][1]["spend"] = json!(3);
        let problem = client.refuse(400, &request);
        assert_eq!(problem["code"], "request_not_valid");
        let found: BTreeSet<(String, String)> = errors(&problem).into_iter().collect();
        let expected = [
            ("/business/sector", "identifier_not_valid"),
            ("/period/start", "date_not_valid"),
            ("/purchases/1/spend", "wrong_type"),
            ("/sales/0/net", "amount_not_valid"),
            ("/sales/1/treatment", "unknown_value"),
        ]
        .map(|(pointer, code)| (pointer.to_owned(), code.to_owned()));
        assert_eq!(found, expected.into());
        assert!(problem.get("truncated").is_none(), "{problem:#}");
        // One code in many places is the code of the whole.
        let mut request = consultant();
        request["sales"] = Value::Array(vec![json!({ "treatment": "exempt", "net": "1,000" }); 100]);
        let problem = client.refuse(400, &request);
        assert_eq!((errors(&problem).len(), &problem["code"]), (100, &json!("amount_not_valid")));
        assert!(problem.get("truncated").is_none());
        let pointers: Vec<String> = errors(&problem).into_iter().map(|(pointer, _)| pointer).collect();
        assert_eq!(pointers, (0..100).map(|index| format!("/sales/{index}/net")).collect::<Vec<_>>());
        request["sales"] = Value::Array(vec![json!({ "treatment": "exempt", "net": "1,000" }); 101]);
        let problem = client.refuse(400, &request);
        assert_eq!((errors(&problem).len(), &problem["truncated"]), (100, &json!(true)));
    });
}

/// Faults of the figures (422) are all named at once too, but only when the shape is right.
#[test]
fn faults_of_the_figures_come_after_those_of_the_shape() {
    with_server(|client| {
        let mut request = consultant();
        request["period"]["end"] = json!("2026-03-01");
        assert_one(&client.refuse(422, &request), "/period/end", "period_end_before_start");
        let mut request = consultant();
        request["sales"][0]["gross"] = json!("28800.01");
        request["sales"][1]["vat"] = json!("1.00");
        let problem = client.refuse(422, &request);
        assert_eq!(problem["code"], "figures_not_accepted");
        let found = problem_codes(&problem);
        assert_eq!(found, ["amounts_do_not_add_up", "vat_not_chargeable"].map(str::to_owned).into(), "{problem:#}");
        request["reference"] = json!("");
        assert_one(&client.refuse(400, &request), "/reference", "text_not_valid");
    });
}

#[test]
fn figures_that_contradict_themselves_are_refused() {
    with_server(|client| {
        let sale = |line: Value| quarter(json!([line]), json!([]));
        let purchase = |line: Value| quarter(json!([]), json!([line]));
        for (request, place, code) in [
            (
                sale(json!({ "treatment": "standard_rated", "net": "1.00", "vat": "0.20", "gross": "1.21" })),
                "/sales/0",
                "amounts_do_not_add_up",
            ),
            (
                purchase(json!({ "spend": "services", "net": "1.00", "vat": "0.20", "gross": "1.21" })),
                "/purchases/0",
                "amounts_do_not_add_up",
            ),
            (
                sale(json!({ "treatment": "zero_rated", "net": "1.00", "vat": "0.01" })),
                "/sales/0",
                "vat_not_chargeable",
            ),
            (sale(json!({ "treatment": "exempt", "net": "1.00", "gross": "1.20" })), "/sales/0", "vat_not_chargeable"),
            (
                sale(json!({ "treatment": "non_business", "net": "1.00", "vat": "0.20" })),
                "/sales/0",
                "vat_not_chargeable",
            ),
            (
                sale(json!({ "treatment": "outside_scope", "net": "1.00", "vat": "0.20" })),
                "/sales/0",
                "vat_not_chargeable",
            ),
            (
                sale(json!({ "treatment": "domestic_reverse_charge", "net": "1.00", "vat": "0.20" })),
                "/sales/0",
                "vat_not_chargeable",
            ),
            (
                purchase(json!({ "spend": "wages_and_other_outside_scope", "net": "1.00", "vat": "0.20" })),
                "/purchases/0",
                "vat_not_chargeable",
            ),
            (
                purchase(json!({ "spend": "services", "treatment": "exempt", "net": "1.00", "vat": "0.20" })),
                "/purchases/0",
                "vat_not_chargeable",
            ),
            (sale(json!({ "treatment": "zero_rated", "vat": "0.00" })), "/sales/0", "vat_alone_not_enough"),
            (
                purchase(json!({ "spend": "services", "treatment": "zero_rated", "vat": "0.00" })),
                "/purchases/0",
                "vat_alone_not_enough",
            ),
        ] {
            let problem = client.refuse(422, &request);
            assert_eq!(problem["code"], code, "{request:#}\n{problem:#}");
            let pointer = text_at(&problem, "/errors/0/pointer");
            assert!(pointer.starts_with(place), "{pointer}");
        }
        // VAT of nothing is no VAT.
        client.compare(&sale(json!({ "treatment": "exempt", "net": "1.00", "vat": "0.00", "gross": "1.00" })));
    });
}

/// JSON that is not JSON, and JSON that is too much (RFC 8259).
#[test]
fn bytes_that_are_no_request_are_refused() {
    let plain = consultant().to_string();
    let deep = |levels: usize| format!("{}{}", "[".repeat(levels), "]".repeat(levels));
    let cases: Vec<(Vec<u8>, &str)> = vec![
        (b"".to_vec(), "body_empty"),
        (b" \n\t ".to_vec(), "body_empty"),
        (b"{".to_vec(), "json_not_valid"),
        (b"{'period': 1}".to_vec(), "json_not_valid"),
        (b"{\"a\": NaN}".to_vec(), "json_not_valid"),
        (b"{\"a\": 01}".to_vec(), "json_not_valid"),
        (b"period=2026".to_vec(), "json_not_valid"),
        (plain.replace('}', "},").into_bytes(), "json_not_valid"),
        (format!("{plain}{plain}").into_bytes(), "trailing_data"),
        (format!("{plain} x").into_bytes(), "trailing_data"),
        (plain.replacen("\"sales\"", "\"sales\":[],\"sales\"", 1).into_bytes(), "duplicate_field"),
        (plain.replacen("\"treatment\"", "\"treatment\":\"exempt\",\"treatment\"", 1).into_bytes(), "duplicate_field"),
        (plain.replacen("24000.00", "\\ud800", 1).into_bytes(), "json_not_valid"),
        (plain.bytes().map(|byte| if byte == b'2' { 0xA3 } else { byte }).collect(), "body_not_utf8"),
        (b"\xff\xfe{\x00}\x00".to_vec(), "body_not_utf8"),
        (format!("{{\"sales\":{}}}", deep(9)).into_bytes(), "nesting_too_deep"),
        (deep(200_000).into_bytes(), "nesting_too_deep"),
        (format!("{{\"a\":{}", "[".repeat(200_000)).into_bytes(), "nesting_too_deep"),
    ];
    with_server(|client| {
        for (body, code) in cases {
            let start = String::from_utf8_lossy(&body[..body.len().min(60)]).into_owned();
            let answer = client.send(&Call::post("/v1/comparisons", body));
            assert_eq!(answer.status, 400, "{start}");
            let problem = answer.json();
            let codes = problem_codes(&problem);
            assert!(codes.contains(code), "{start}: {problem:#}");
        }
        // A mark of the byte order is passed over or refused, never read as part of a value.
        let marked = [b"\xef\xbb\xbf".to_vec(), plain.clone().into_bytes()].concat();
        let answer = client.send(&Call::post("/v1/comparisons", marked));
        assert!(
            answer.status == 200 || problem_codes(&answer.json()) == ["json_not_valid".to_owned()].into(),
            "{}",
            answer.text()
        );
    });
}

#[test]
fn a_query_is_known_and_given_once() {
    with_server(|client| {
        for (target, pointer) in [
            ("/v1/sectors?date=2026-04-01", "?date"),
            ("/v1/sectors?on=2026-04-01&on=2026-04-01", "?on"),
            ("/v1/sectors/pubs?on=2026-04-01", "?on"),
            ("/v1/spend-kinds?x=", "?x"),
            ("/v1/parameters?q=vat", "?q"),
            ("/v1/parameters/vat_registration?x=1", "?x"),
            ("/v1/authorities?x=1", "?x"),
            ("/v1/problems/not_found?x=1", "?x"),
        ] {
            let answer = client.get(target);
            assert_eq!(answer.status, 400, "{target}");
            assert_one(&answer.json(), pointer, "query_not_valid");
        }
        let answer = client.send(&Call::post("/v1/comparisons?explain=true", consultant().to_string()));
        assert_one(&answer.json(), "?explain", "query_not_valid");
        for (date, code) in [
            ("2026-02-30", "date_not_valid"),
            ("yesterday", "date_not_valid"),
            ("", "date_not_valid"),
            ("2100-01-01", "date_out_of_range"),
        ] {
            for path in ["/v1/sectors", "/v1/parameters"] {
                let answer = client.get(&format!("{path}?on={date}"));
                assert_eq!(answer.status, 400, "{path} {date}");
                assert_one(&answer.json(), "?on", code);
            }
        }
        let answer = client.get("/v1/sectors?on=2010-12-31");
        assert_eq!(answer.status, 422, "{}", answer.text());
        assert_one(&answer.json(), "?on", "date_outside_law");
    });
}

/// Each code of the catalogue comes out of some request. The internal error is made inside the service's own tests; no request
/// is so great that its sums are not exact (see `the_greatest_request_is_answered_exactly`).
#[test]
fn every_code_of_the_catalogue_is_produced() {
    let mut left: BTreeSet<String> = Document::checked_in().words("ProblemCode").into_iter().collect();
    let server = Server::start_with(&["--body-timeout-seconds", "1"]);
    let client = server.client();
    for code in crate::transport::codes(&server, &client) {
        left.remove(&code);
    }
    for request in refused_requests() {
        let answer = client.post_comparison(&request);
        assert!(answer.status >= 400, "{request:#}");
        let problem = answer.json();
        for code in problem_codes(&problem) {
            left.remove(&code);
        }
        left.remove(text_at(&problem, "/code"));
    }
    for (request, _, _) in crate::debts_and_unpaid::refused() {
        left.retain(|code| !problem_codes(&client.post_comparison(&request).json()).contains(code));
    }
    for request in crate::thresholds::refused_requests() {
        left.retain(|code| !problem_codes(&client.post(THRESHOLD_CHECKS, &request).json()).contains(code));
    }
    for request in crate::goods_tests::refused_requests() {
        left.retain(|code| !problem_codes(&client.post(GOODS_TESTS, &request).json()).contains(code));
    }
    for request in crate::invoices::refused_requests() {
        left.retain(|code| !problem_codes(&client.post(INVOICES, &request).json()).contains(code));
    }
    for (request, code) in crate::due_dates::refused_requests() {
        assert!(problem_codes(&client.post(DATES, &request).json()).contains(code), "{code}: {request:#}");
        left.remove(code);
    }
    for request in crate::partial_exemption_years::refused_requests() {
        left.retain(|code| !problem_codes(&client.post(PARTIAL_EXEMPTION_YEARS, &request).json()).contains(code));
    }
    server.finish();
    let unreachable: BTreeSet<String> = ["amount_too_large", "internal_error"].map(str::to_owned).into();
    assert_eq!(left, unreachable, "codes that no request of this test produces");
}

/// One request at least for each code that a body of JSON can produce.
fn refused_requests() -> Vec<Value> {
    let mut many_faults = with("/sales/0/net", json!("1,000"));
    many_faults["reference"] = json!("");
    let mut many_figures = with("/sales/0/gross", json!("1.00"));
    many_figures["sales"][1]["vat"] = json!("1.00");
    let split = |part: Option<(&str, &str)>, estimate: bool| {
        let mut request = with("/business/registered_on", json!("2025-05-10"));
        request["business"]["flat_rate_from"] = json!("2025-05-10");
        request["sales"] = json!([{ "treatment": "standard_rated", "gross": "1.00" }]);
        request["purchases"] = json!([]);
        if let Some((start, end)) = part {
            request["sales"][0]["part"] = json!({ "start": start, "end": end });
        }
        if estimate {
            request["split_estimate"] = json!("by_days");
        }
        request
    };
    let hospitality = |start: &str, end: &str| {
        let mut request = with("/period", json!({ "start": start, "end": end }));
        request["sales"] = json!([{ "treatment": "hospitality_rated", "net": "1.00" }]);
        request
    };
    let mut early_import = with("/period", json!({ "start": "2022-05-01", "end": "2022-05-31" }));
    early_import["purchases"] = json!([{ "spend": "materials", "supply": "postponed_import", "net": "1.00" }]);
    let mut early_dispatch = with("/period", json!({ "start": "2020-12-01", "end": "2020-12-31" }));
    early_dispatch["sales"] = json!([{ "treatment": "zero_rated", "net": "1.00", "northern_ireland_to_eu": true }]);
    let mut no_fraction = with("/sales", json!([]));
    no_fraction["purchases"] = json!([
        { "spend": "services", "net": "50000.00", "used_for": "exempt" },
        { "spend": "services", "net": "50000.00", "used_for": "both" }
    ]);
    let mut too_many = consultant();
    too_many["sales"] = Value::Array(vec![json!({ "treatment": "exempt", "net": "1" }); 5001]);
    let mut before_tables = with("/period", json!({ "start": "2010-10-01", "end": "2010-12-31" }));
    before_tables["business"]["registered_on"] = json!("2009-01-01");
    before_tables["business"]["flat_rate_from"] = json!("2009-01-01");
    let adjusted = |adjustments: Value| with("/adjustments", adjustments);
    let fuel = |start: &str, end: &str, flat_rate_from: &str| {
        let mut request = adjusted(json!({ "fuel_scale_charges": [{ "co2_emissions": 163 }] }));
        request["period"] = json!({ "start": start, "end": end });
        request["business"]["flat_rate_from"] = json!(flat_rate_from);
        request
    };
    let debt = |supplied_on: &str| json!({ "supplied_on": supplied_on, "vat": "200.00", "gross": "1200.00" });
    let mut cash_debt = adjusted(json!({ "bad_debts": [debt("2025-01-01")] }));
    cash_debt["business"]["turnover_method"] = json!("cash");
    let mut other_method = with("/received", json!({}));
    other_method["business"]["turnover_method"] = json!("retailer");
    let activity = |turnover: &str| json!([{ "description": "x", "sector": "pubs", "expected_turnover": turnover }]);
    let change = |on: &str| json!({ "on": on, "sector": "pubs", "reason": "activity_started" });
    vec![
        early_dispatch,
        adjusted(json!({ "bad_debts": [debt("2026-05-01")] })),
        adjusted(json!({ "bad_debts": [debt("2020-05-01")] })),
        cash_debt,
        with("/sales/0/percentage_at_supply", json!("12")),
        adjusted(json!({ "pre_registration": [{ "kind": "goods", "bought_on": "2018-05-01", "vat": "1.00" }] })),
        adjusted(json!({ "fuel_scale_charges": [{ "co2_emissions": 0 }] })),
        fuel("2025-06-01", "2025-07-31", "2020-01-01"),
        fuel("2025-06-01", "2025-08-31", "2025-06-02"),
        adjusted(json!({ "errors": [{ "period_end": "2026-05-01", "amount": "1.00" }] })),
        adjusted(json!({ "leaving": { "on": "2026-06-30", "stock_on_joining": "-1.00" } })),
        other_method,
        with("/business/activities", activity("0.00")),
        with("/business/sector_changes", json!([change("2026-05-02"), change("2026-05-01")])),
        with("/business/flat_rate_from", json!("2026-07-01")),
        many_faults,
        many_figures,
        with("/extra", json!("x")),
        without("/period"),
        with("/reference", Value::Null),
        with("/sales", json!("x")),
        with("/sales/0/net", json!(1)),
        with("/sales/0/net", json!("1,000")),
        with("/purchases/0/business_use_percentage", json!(1)),
        with("/purchases/0/business_use_percentage", json!("1%")),
        with("/period/end", json!("2026-02-30")),
        with("/period/end", json!("2100-01-01")),
        with("/reference", json!("")),
        with("/sales/0/treatment", json!("x")),
        too_many,
        with("/business/sector", json!("No such")),
        with("/sales/0", json!({ "treatment": "exempt" })),
        with("/period/end", json!("2026-03-01")),
        before_tables,
        with("/business/registered_on", json!("2026-05-01")),
        with("/business/flat_rate_from", json!("2019-01-01")),
        with("/business/flat_rate_from", json!("2026-05-01")),
        with("/business/sector", json!("no-such")),
        split(None, false),
        split(Some(("2026-03-31", "2026-04-02")), false),
        split(Some(("2026-05-09", "2026-05-10")), false),
        with("/sales/0/gross", json!("1.00")),
        with("/sales/1/vat", json!("1.00")),
        with("/sales/0", json!({ "treatment": "zero_rated", "vat": "0.00" })),
        hospitality("2026-04-01", "2026-06-30"),
        hospitality("2021-09-01", "2021-10-31"),
        early_import,
        no_fraction,
    ]
}

/// A refused request leaves no trace in the next answer.
#[test]
fn a_refusal_changes_nothing_for_the_next_request() {
    with_server(|client| {
        let ask = |client: &Client| client.post_comparison(&consultant()).body;
        let first = ask(client);
        client.refuse(400, &with("/sales/0/net", json!(1)));
        client.refuse(422, &with("/period/end", json!("2026-03-01")));
        assert_eq!(first, ask(client));
    });
}
