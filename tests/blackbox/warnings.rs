//! Warnings: each kind that the document lists is produced, says what it says in a sentence, and cites.

use crate::answers::{ShownLaw, assert_sound, warning_codes};
use acceptance::client::INVOICES;
use acceptance::document::Document;
use acceptance::figures::{list_at, quarter, request, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};
use std::collections::BTreeSet;

const SERVICES: &str = "business-services-not-listed-elsewhere";

fn takings(gross: &str) -> Value {
    json!([{ "treatment": "standard_rated", "gross": gross }])
}

fn goods(net: &str) -> Value {
    json!([{ "spend": "materials", "net": net, "vat": "0.00" }])
}

/// A request for each kind of warning.
fn requests() -> Vec<(&'static str, Value)> {
    let capital = |gross: &str| json!([{ "spend": "capital_goods", "gross": gross }]);
    let sector =
        |sector: &str, sales: Value, purchases: Value| request("2025-04-01", "2025-06-30", sector, sales, purchases);
    let mut first_year = quarter(takings("1200.00"), goods("250.00"));
    first_year["business"]["registered_on"] = json!("2024-08-01");
    first_year["business"]["flat_rate_from"] = json!("2024-08-01");
    let mut estimated = first_year.clone();
    estimated["business"]["registered_on"] = json!("2024-05-10");
    estimated["business"]["flat_rate_from"] = json!("2024-05-10");
    estimated["split_estimate"] = json!("by_days");
    let mut cash = quarter(takings("1200.00"), goods("250.00"));
    cash["business"]["turnover_method"] = json!("cash");
    let partly_exempt = quarter(
        json!([{ "treatment": "standard_rated", "net": "1000.00" }, { "treatment": "exempt", "net": "9000.00" }]),
        json!([{ "spend": "services", "net": "50000.00", "used_for": "both" }]),
    );
    let import = json!([{ "spend": "materials", "supply": "postponed_import", "net": "5000.00" }]);
    let hire = json!([{ "spend": "goods_for_hire_out", "net": "5000.00" }]);
    let changed = |pointer: &str, value: Value| {
        let mut request = quarter(takings("12000.00"), goods("500.00"));
        request[pointer] = value;
        request
    };
    let business = |name: &str, value: Value| {
        let mut request = quarter(takings("12000.00"), goods("500.00"));
        request["business"][name] = value;
        request["split_estimate"] = json!("by_days");
        request
    };
    let started = json!([{ "on": "2025-05-01", "sector": "pubs", "reason": "activity_started" }]);
    let activities = json!([{ "description": "Bar", "sector": "pubs", "expected_turnover": "1.00" }]);
    let errors = json!({ "errors": [{ "period_end": "2024-06-30", "amount": "10000.00" }] });
    let fuel = |vat: &str, business_use: &str, co2: u16| {
        let lines = json!([
            { "spend": "materials", "net": "500.00", "vat": "0.00" },
            { "spend": "vehicle_fuel_and_parts", "vat": vat, "business_use_percentage": business_use },
        ]);
        let mut request = request("2025-06-01", "2025-08-31", SERVICES, takings("12000.00"), lines);
        request["adjustments"] = json!({ "fuel_scale_charges": [{ "co2_emissions": co2 }] });
        request
    };
    let mut cash_with_import = quarter(takings("12000.00"), import.clone());
    cash_with_import["business"]["turnover_method"] = json!("cash");
    let too_large = json!({ "expected_turnover": "1350000.01" });
    let must_leave =
        json!({ "past_turnover": "1600000.01", "not_to_be_repeated": false, "genuine_commercial_activity": true });
    vec![
        ("fuel_scale_charge_without_claim", fuel("100.00", "0", 163)),
        ("fuel_in_two_ways", fuel("100.00", "99.99", 163)),
        ("fuel_scale_charge_above_claim", fuel("60.49", "100", 163)),
        ("supply_outside_cash_accounting", cash_with_import),
        ("cash_accounting_not_open", changed("cash_accounting", too_large)),
        ("cash_accounting_left", changed("cash_accounting", json!({ "leaving": { "on": "2025-06-30" } }))),
        ("cash_accounting_must_leave", changed("cash_accounting", must_leave)),
        ("category_changes", business("sector_changes", started)),
        ("category_not_the_largest", business("activities", activities)),
        ("scheme_covers_part", business("flat_rate_from", json!("2025-05-01"))),
        ("scheme_ends", business("flat_rate_until", json!("2025-06-30"))),
        ("adjustment_needs_attention", changed("adjustments", errors)),
        (
            "input_tax_evidence",
            quarter(takings("12000.00"), json!([{ "spend": "services", "net": "50.00", "evidence": "not_held" }])),
        ),
        ("capital_goods_claimed", quarter(takings("12000.00"), capital("2400.00"))),
        ("limited_cost_business", quarter(takings("12000.00"), json!([]))),
        ("goods_close_to_limit", quarter(takings("12000.00"), goods("251.00"))),
        ("goods_test_rests_on_default", quarter(takings("12000.00"), hire)),
        ("first_year_reduction_ends", first_year),
        ("capital_goods_at_limit", quarter(takings("12000.00"), capital("2000.00"))),
        ("capital_goods_under_limit", quarter(takings("12000.00"), capital("1999.00"))),
        ("exempt_income_taxed", quarter(json!([{ "treatment": "exempt", "net": "900.00" }]), json!([]))),
        (
            "vat_differs_from_rate",
            quarter(json!([{ "treatment": "standard_rated", "net": "1000.00", "vat": "150.00" }]), json!([])),
        ),
        ("standard_partly_exempt", partly_exempt),
        ("law_not_checked_for_period", request("2099-10-01", "2099-12-31", SERVICES, json!([]), json!([]))),
        ("split_estimated_by_days", estimated),
        ("vat_without_recovery", quarter(takings("12000.00"), import)),
        ("percentage_not_confirmed", sector("sport-or-recreation", takings("12000.00"), goods("250.00"))),
        (
            "motor_trade_goods",
            sector(
                "repairing-vehicles",
                takings("12000.00"),
                json!([{ "spend": "vehicle_fuel_and_parts", "net": "500.00" }]),
            ),
        ),
        (
            "supply_contradicts_spend",
            quarter(
                takings("12000.00"),
                json!([{ "spend": "services", "supply": "postponed_import", "net": "500.00" }]),
            ),
        ),
        ("turnover_basis", cash),
        ("long_period", request("2020-01-01", "2024-12-31", SERVICES, takings("12000.00"), json!([]))),
    ]
}

#[test]
fn every_kind_of_warning_is_given_in_words_and_cites() {
    let mut listed: BTreeSet<String> = Document::checked_in().words("WarningKind").into_iter().collect();
    // Those of dates have their own test.
    listed.retain(|code| !crate::due_dates::WARNINGS.contains(&code.as_str()));
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for (code, request) in requests().into_iter().chain(crate::thresholds::comparisons_with_warnings()) {
            listed.remove(code);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            law.assert_states(&answer);
            assert!(warning_codes(&answer).contains(&code), "{code} is not among {:#}", answer["warnings"]);
            for warning in list_at(&answer, "/warnings") {
                let message = text_at(warning, "/message");
                assert!(message.ends_with('.') && message.len() > 30, "{message}");
                assert!(!list_at(warning, "/authority").is_empty(), "{warning:#}");
                for line in warning["lines"].as_array().into_iter().flatten() {
                    let pointer = line.as_str().unwrap_or_default();
                    assert!(request.pointer(pointer).is_some(), "{pointer} is not in the request");
                }
            }
        }
        for (code, request) in crate::invoices::warned_requests() {
            listed.remove(code);
            let answer = client.calculate(INVOICES, &request);
            assert!(warning_codes(&answer).contains(&code), "{code} is not among {:#}", answer["warnings"]);
        }
    });
    // Those of other operations are produced in their own tests.
    listed.retain(|code| !crate::partial_exemption_years::WARNINGS.contains(&code.as_str()));
    assert!(listed.is_empty(), "kinds of warning without a request in this test: {listed:?}");
}

#[test]
fn an_ordinary_quarter_has_nothing_to_warn_of() {
    with_server(|client| {
        let request = quarter(takings("12000.00"), goods("500.00"));
        let answer = client.compare(&request);
        assert_eq!(warning_codes(&answer), Vec::<&str>::new());
    });
}

/// A warning with a measured figure names its limit too.
#[test]
fn what_is_measured_is_set_against_a_limit() {
    with_server(|client| {
        let answer = client.compare(&quarter(takings("12000.00"), goods("100.00")));
        let warning = crate::answers::warning(&answer, "limited_cost_business");
        assert_eq!((&warning["measured"], &warning["limit"]), (&json!("100.00"), &json!("250.00")));
    });
}

/// The cautions fit the case: partial exemption is spoken of where it matters.
#[test]
fn cautions_are_sentences_fit_for_the_case() {
    with_server(|client| {
        let plain = client.compare(&quarter(takings("12000.00"), goods("500.00")));
        let exempt = client.compare(&quarter(
            json!([{ "treatment": "exempt", "net": "9000.00" }]),
            json!([{ "spend": "services", "net": "50000.00", "used_for": "both" }]),
        ));
        let cautions = |answer: &Value| -> BTreeSet<String> {
            list_at(answer, "/cautions").iter().filter_map(Value::as_str).map(str::to_owned).collect()
        };
        for caution in cautions(&plain).union(&cautions(&exempt)) {
            assert!(caution.ends_with('.') && caution.len() > 30, "{caution}");
        }
        assert!(cautions(&exempt).difference(&cautions(&plain)).next().is_some(), "no caution for exempt supplies");
        let all = cautions(&plain).into_iter().collect::<String>();
        assert!(all.contains("HMRC"), "who decides is not said: {all}");
    });
}
