//! Decoding of requests: each thing that can be wrong, in its place and with its sentence.

use serde_json::{Value, json};
use vat_schemes::figures::{Figures, GoodsFigures, GoodsGiven, Supply, TurnoverGiven, TurnoverMethod, UsedFor};
use vat_schemes::partial_exemption_year::figures::{ExemptionTotals, YearFigures};

use super::goods_request::GoodsTestRequest;
use super::request::MAX_LINES;
use super::{comparison_request, date_in_query, goods_test_request, partial_exemption_year_request, read_invoice};
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
        ("/business/flat_rate_until", json!("2026-06"), ProblemCode::DateNotValid),
        ("/business/sector_changes", json!({}), ProblemCode::WrongType),
        ("/business/activities", json!("advice"), ProblemCode::WrongType),
        ("/business/sector_reason", json!(""), ProblemCode::TextNotValid),
        ("/business/sector_reason", json!("x".repeat(501)), ProblemCode::TextNotValid),
        ("/business/sector_reason", json!("a\tb"), ProblemCode::TextNotValid),
        ("/received", json!([]), ProblemCode::WrongType),
        ("/adjustments", json!([]), ProblemCode::WrongType),
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
        ("/sales/0/percentage_at_supply", json!(12), ProblemCode::PercentageMustBeString),
        ("/purchases/0/percentage_at_supply", json!("12"), ProblemCode::UnknownField),
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
fn what_stands_deeper_has_its_place_too() {
    let change = json!({ "on": "2026-05-10", "sector": "pubs", "reason": "activity_started" });
    let activity = json!({ "description": "advice", "sector": "pubs", "expected_turnover": "1.00" });
    let debt = json!({ "supplied_on": "2025-09-01", "vat": "20.00", "gross": "120.00" });
    let bought = json!({ "kind": "goods", "bought_on": "2025-09-01", "vat": "20.00" });
    let error = json!({ "period_end": "2025-12-31", "amount": "-20.00" });
    for (list, item, field, value, code) in [
        ("/business/sector_changes", &change, "on", json!("tomorrow"), ProblemCode::DateNotValid),
        ("/business/sector_changes", &change, "sector", json!("Pubs"), ProblemCode::IdentifierNotValid),
        ("/business/sector_changes", &change, "reason", json!("moved"), ProblemCode::UnknownValue),
        ("/business/sector_changes", &change, "from", json!("2026-05-10"), ProblemCode::UnknownField),
        ("/business/activities", &activity, "description", json!("x".repeat(101)), ProblemCode::TextNotValid),
        ("/business/activities", &activity, "sector", json!(""), ProblemCode::IdentifierNotValid),
        ("/business/activities", &activity, "expected_turnover", json!(1), ProblemCode::AmountMustBeString),
        ("/business/activities", &activity, "materials", json!("1,0"), ProblemCode::AmountNotValid),
        ("/adjustments/bad_debts", &debt, "due_on", json!("2025-02-29"), ProblemCode::DateNotValid),
        ("/adjustments/bad_debts", &debt, "vat", json!("£20"), ProblemCode::AmountNotValid),
        ("/adjustments/bad_debts", &debt, "gross", json!(null), ProblemCode::NullNotAllowed),
        ("/adjustments/bad_debts", &debt, "percentage_at_supply", json!("12%"), ProblemCode::PercentageNotValid),
        ("/adjustments/pre_registration", &bought, "kind", json!("both"), ProblemCode::UnknownValue),
        ("/adjustments/pre_registration", &bought, "on_hand", json!("true"), ProblemCode::WrongType),
        ("/adjustments/errors", &error, "period_end", json!(2025), ProblemCode::WrongType),
        ("/adjustments/errors", &error, "amount", json!("(20.00)"), ProblemCode::AmountNotValid),
        (
            "/received/sales",
            &json!({ "treatment": "exempt", "net": "1" }),
            "nature",
            json!("?"),
            ProblemCode::UnknownValue,
        ),
    ] {
        let mut item = item.clone();
        let read = comparison_request(with_list(list, json!([item.clone()])).to_string().as_bytes());
        assert!(read.is_ok(), "{list}");
        item[field] = value;
        let problem = refused(&with_list(list, json!([item])));
        let found: Vec<_> = problem.errors.iter().map(|error| (error.pointer.clone(), error.code)).collect();
        assert_eq!(found, [(format!("{list}/0/{field}"), code)]);
    }
}

/// The request with a list put in, in an object of its own where the request has none there.
fn with_list(pointer: &str, list: Value) -> Value {
    let (parent, field) = pointer.rsplit_once('/').expect("a pointer");
    if request().pointer(parent).is_some() { with(pointer, list) } else { with(parent, json!({ field: list })) }
}

#[test]
fn the_lists_of_the_business_have_their_own_ends() {
    let change = json!({ "on": "2026-05-10", "sector": "pubs", "reason": "balance_shifted" });
    let activity = json!({ "description": "advice", "sector": "pubs", "expected_turnover": "1.00" });
    let debt = json!({ "supplied_on": "2025-09-01", "vat": "20.00", "gross": "120.00" });
    let bought = json!({ "kind": "services", "bought_on": "2025-09-01", "vat": "20.00" });
    let error = json!({ "period_end": "2025-12-31", "amount": "-20.00" });
    for (list, item, most) in [
        ("/business/sector_changes", change, 12),
        ("/business/activities", activity, 20),
        ("/adjustments/bad_debts", debt, 100),
        ("/adjustments/pre_registration", bought, 100),
        ("/adjustments/errors", error, 50),
    ] {
        let body = |count: usize| with_list(list, Value::Array(vec![item.clone(); count]));
        assert!(comparison_request(body(most).to_string().as_bytes()).is_ok(), "{list}");
        let problem = refused(&body(most + 1));
        assert_eq!((problem.code, problem.errors[0].pointer.as_str()), (ProblemCode::TooManyLines, list));
    }
    let goods = |count: usize| {
        with("/adjustments", json!({ "leaving": { "on": "2026-06-30", "capital_goods": vec!["1.00"; count] } }))
    };
    assert!(comparison_request(goods(50).to_string().as_bytes()).is_ok());
    assert_eq!(refused(&goods(51)).errors[0].pointer, "/adjustments/leaving/capital_goods");
}

#[test]
fn what_is_left_out_of_an_adjustment_is_filled_in() {
    let adjustments = json!({
        "pre_registration": [{ "kind": "goods", "bought_on": "2018-09-01", "vat": "20.00" }],
        "leaving": { "on": "2026-06-30" },
    });
    let request = comparison_request(with("/adjustments", adjustments).to_string().as_bytes()).expect("read");
    let adjustments = Figures::from(&request).adjustments;
    assert!(
        adjustments.pre_registration[0].on_hand && adjustments.bad_debts.is_empty() && adjustments.errors.is_empty()
    );
    let leaving = adjustments.leaving.expect("leaving");
    assert!(
        leaving.stock_on_joining.is_none() && leaving.stock_on_leaving.is_none() && leaving.capital_goods.is_empty()
    );
}

fn goods_test(change: impl FnOnce(&mut Value)) -> Result<GoodsTestRequest, Problem> {
    let mut request = json!({
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "business": { "sector": "pubs" },
        "turnover": "9480.00",
        "relevant_goods": "262.75",
    });
    change(&mut request);
    goods_test_request(request.to_string().as_bytes())
}

#[test]
fn a_goods_test_takes_one_figure_or_lines() {
    let totals = GoodsFigures::from(&goods_test(|_| ()).expect("read"));
    assert!(matches!(totals.turnover, TurnoverGiven::Total(_)) && matches!(totals.goods, GoodsGiven::Total(_)));
    let lines = goods_test(|request| {
        let request = request.as_object_mut().expect("an object");
        request.remove("turnover");
        request.remove("relevant_goods");
        request.insert("sales".to_owned(), json!([{ "treatment": "exempt", "net": "1.00" }]));
        request.insert("purchases".to_owned(), json!([]));
    });
    let lines = GoodsFigures::from(&lines.expect("read"));
    assert!(matches!(lines.turnover, TurnoverGiven::Sales(sales) if sales.len() == 1));
    assert!(matches!(lines.goods, GoodsGiven::Purchases(purchases) if purchases.is_empty()));
}

#[test]
fn each_wrong_goods_test_has_its_place_and_code() {
    for (field, value, pointer, code) in [
        ("sales", json!([]), "/turnover", ProblemCode::FieldsExcludeEachOther),
        ("purchases", json!([]), "/relevant_goods", ProblemCode::FieldsExcludeEachOther),
        ("relevant_goods", json!("-0.01"), "/relevant_goods", ProblemCode::AmountNotValid),
        ("relevant_goods", json!(262.75), "/relevant_goods", ProblemCode::AmountMustBeString),
        ("turnover", json!("9,480"), "/turnover", ProblemCode::AmountNotValid),
        (
            "business",
            json!({ "sector": "pubs", "registered_on": "2019-02-01" }),
            "/business/registered_on",
            ProblemCode::UnknownField,
        ),
        ("business", json!({}), "/business/sector", ProblemCode::MissingField),
        ("split_estimate", json!("by_weeks"), "/split_estimate", ProblemCode::UnknownValue),
        ("reference", json!("a\u{7}b"), "/reference", ProblemCode::TextNotValid),
    ] {
        let problem = goods_test(|request| request[field] = value).expect_err("refused");
        let found: Vec<_> = problem.errors.iter().map(|error| (error.pointer.as_str(), error.code)).collect();
        assert_eq!(found, [(pointer, code)]);
    }
    for field in ["period", "business", "turnover", "relevant_goods"] {
        let problem = goods_test(|request| {
            request.as_object_mut().expect("an object").remove(field);
        });
        let problem = problem.expect_err("refused");
        assert_eq!((problem.code, problem.errors[0].pointer.clone()), (ProblemCode::MissingField, format!("/{field}")));
    }
    assert!(goods_test(|request| request["turnover"] = json!("-5.00")).is_ok());
}

#[test]
fn each_wrong_line_of_an_invoice_has_its_place_and_code() {
    let read = |line: Value| {
        let request = json!({
            "date": "2026-06-30", "issued_by": "invoice_trader", "rounding": "line_nearest_penny", "lines": [line],
        });
        read_invoice(request.to_string().as_bytes())
    };
    for (mut line, pointer, code) in [
        (json!({}), "/lines/0", ProblemCode::AmountMissing),
        (json!({ "quantity": "1" }), "/lines/0", ProblemCode::AmountMissing),
        (json!({ "net": "1", "gross": "1" }), "/lines/0", ProblemCode::FieldsExcludeEachOther),
        (json!({ "gross": "1", "unit_price": "1", "quantity": "1" }), "/lines/0", ProblemCode::FieldsExcludeEachOther),
        (json!({ "unit_price": "1" }), "/lines/0/quantity", ProblemCode::MissingField),
        (json!({ "net": "1", "quantity": "1" }), "/lines/0/unit_price", ProblemCode::MissingField),
        (json!({ "net": "1.001" }), "/lines/0/net", ProblemCode::AmountNotValid),
        (json!({ "unit_price": "0.00001", "quantity": "1" }), "/lines/0/unit_price", ProblemCode::AmountNotValid),
        (json!({ "unit_price": 1, "quantity": "1" }), "/lines/0/unit_price", ProblemCode::AmountMustBeString),
        (json!({ "unit_price": "1", "quantity": "-1" }), "/lines/0/quantity", ProblemCode::AmountNotValid),
        (json!({ "unit_price": "1", "quantity": 1 }), "/lines/0/quantity", ProblemCode::AmountMustBeString),
        (json!({ "unit_price": true, "quantity": "1" }), "/lines/0/unit_price", ProblemCode::WrongType),
        (json!({ "net": "1", "vat": "1" }), "/lines/0/vat", ProblemCode::UnknownField),
    ] {
        line["treatment"] = json!("standard_rated");
        let problem = read(line.clone()).expect_err("refused");
        let found: Vec<_> = problem.errors.iter().map(|error| (error.pointer.as_str(), error.code)).collect();
        assert_eq!(found, [(pointer, code)], "{line}");
    }
    let line = json!({ "treatment": "exempt", "unit_price": "-0.0125", "quantity": "999999999.999" });
    assert_eq!(read(line).expect("read").lines.len(), 1);
    let missing = read_invoice(b"{}").expect_err("refused");
    let places: Vec<_> = missing.errors.iter().map(|error| error.pointer.as_str()).collect();
    assert_eq!(places, ["/date", "/issued_by", "/rounding", "/lines"]);
    let line = json!({ "treatment": "exempt", "net": "1" });
    let with_lines = |count: usize| {
        let request = json!({
            "date": "2026-06-30", "issued_by": "retailer", "rounding": "line_nearest_penny", "lines": vec![line.clone(); count],
        });
        read_invoice(request.to_string().as_bytes())
    };
    assert_eq!(with_lines(500).expect("read").lines.len(), 500);
    assert_eq!(with_lines(501).expect_err("refused").code, ProblemCode::TooManyLines);
}

#[test]
fn what_a_comparison_says_of_the_year_is_read() {
    let of_the_year = json!({
        "previous_year_percentage": "84.5",
        "annual_test": { "previous_year_de_minimis": true, "expected_input_tax": "90000" },
    });
    let request = comparison_request(with("/partial_exemption", of_the_year).to_string().as_bytes()).expect("read");
    let given = Figures::from(&request).partial_exemption;
    assert_eq!(given.previous_year_percentage.map(|found| found.to_string()).as_deref(), Some("84.5"));
    let test = given.annual_test.expect("a test");
    assert!(test.previous_year_de_minimis);
    assert_eq!(test.expected_input_tax.to_string(), "90000.00");
    let nothing = comparison_request(with("/partial_exemption", json!({})).to_string().as_bytes()).expect("read");
    let given = Figures::from(&nothing).partial_exemption;
    assert!(given.previous_year_percentage.is_none() && given.annual_test.is_none());
    for (value, pointer, code) in [
        (json!({ "percentage": "84" }), "/partial_exemption/percentage", ProblemCode::UnknownField),
        (
            json!({ "previous_year_percentage": "84.123" }),
            "/partial_exemption/previous_year_percentage",
            ProblemCode::PercentageNotValid,
        ),
        (
            json!({ "annual_test": { "previous_year_de_minimis": true } }),
            "/partial_exemption/annual_test/expected_input_tax",
            ProblemCode::MissingField,
        ),
    ] {
        let problem = refused(&with("/partial_exemption", value));
        assert_eq!((problem.errors[0].pointer.as_str(), problem.errors[0].code), (pointer, code));
    }
}

#[test]
fn a_partial_exemption_year_written_out_again_is_the_same() {
    let totals = json!({
        "taxable_supplies": "1.00", "exempt_supplies": "2.00", "input_tax_taxable": "3.00", "input_tax_exempt": "4.00",
        "input_tax_both": "-5.00",
    });
    let mut period = totals.clone();
    period["period"] = json!({ "start": "2025-04-01", "end": "2026-03-31" });
    period["claimed"] = json!("6.00");
    let request = json!({
        "reference": "r1",
        "year": { "start": "2025-04-01", "end": "2026-03-31" },
        "ends_by": "deregistration",
        "previous_year_percentage": "84",
        "annual_test": { "previous_year_de_minimis": false, "expected_input_tax": "7.00" },
        "periods": [period],
        "attributed_afresh": totals,
    });
    let read = partial_exemption_year_request(request.to_string().as_bytes()).expect("read");
    assert_eq!(serde_json::to_value(&read).expect("JSON"), request);
    let figures = YearFigures::from(&read);
    let of = |totals: ExemptionTotals| {
        [
            totals.taxable_supplies,
            totals.exempt_supplies,
            totals.input_tax_taxable,
            totals.input_tax_exempt,
            totals.input_tax_both,
        ]
        .map(|amount| amount.to_string())
    };
    let expected = ["1.00", "2.00", "3.00", "4.00", "-5.00"];
    assert_eq!(of(figures.periods[0].totals), expected);
    assert_eq!(figures.attributed_afresh.map(of), Some(expected.map(str::to_owned)));
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
