//! Partial exemption years over HTTP (VAT Regulations 1995 regs 99, 107; Notice 706), and what a comparison takes of the year.

use crate::answers::{ShownLaw, assert_sound, warning_codes};
use acceptance::client::{Client, PARTIAL_EXEMPTION_YEARS, problem_codes};
use acceptance::differences::differences;
use acceptance::figures::{list_at, pence_at, pounds, quarter, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

/// The kinds of warning that only a year has.
pub const WARNINGS: [&str; 5] = [
    "annual_test_not_upheld",
    "attribution_changes_total",
    "claim_differs_from_calculation",
    "longer_period_unusual",
    "standard_method_override_possible",
];

/// A period from its days and its five totals in pence.
fn period(start: &str, end: &str, [taxable, exempt, for_taxable, for_exempt, for_both]: [i64; 5]) -> Value {
    json!({
        "period": { "start": start, "end": end },
        "taxable_supplies": pounds(taxable),
        "exempt_supplies": pounds(exempt),
        "input_tax_taxable": pounds(for_taxable),
        "input_tax_exempt": pounds(for_exempt),
        "input_tax_both": pounds(for_both)
    })
}

/// A first longer period of one quarter.
pub fn one_quarter() -> Value {
    json!({
        "year": { "start": "2026-04-01", "end": "2026-06-30" },
        "periods": [period("2026-04-01", "2026-06-30", [3_000_000, 2_000_000, 250_000, 240_000, 260_000])]
    })
}

/// The tax year to 31 March 2026 of four like quarters.
fn year(totals: [i64; 5]) -> Value {
    let quarters = [
        ("2025-04-01", "2025-06-30"),
        ("2025-07-01", "2025-09-30"),
        ("2025-10-01", "2025-12-31"),
        ("2026-01-01", "2026-03-31"),
    ];
    json!({
        "year": { "start": "2025-04-01", "end": "2026-03-31" },
        "periods": quarters.map(|(start, end)| period(start, end, totals))
    })
}

/// Requests that are refused, for the codes that only this operation knows.
pub fn refused_requests() -> Vec<Value> {
    let mut gap = year([1, 0, 0, 0, 0]);
    gap["periods"][1]["period"]["start"] = json!("2025-07-02");
    let mut long = one_quarter();
    long["year"]["end"] = json!("2027-06-30");
    vec![gap, long]
}

fn worked_out(client: &Client, request: &Value) -> Value {
    let answer = client.calculate(PARTIAL_EXEMPTION_YEARS, request);
    assert_sound(request, &answer);
    answer
}

/// Whatever the figures, the adjustment is the entitlement less the claims, and nothing of the year's input tax is lost in between.
#[test]
fn the_figures_of_a_year_hang_together() {
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for totals in [
            [3_000_000, 2_000_000, 250_000, 240_000, 260_000],
            [1, 0, 0, 0, 0],
            [9_999_999, 1, 333_333, 187_501, 1],
            [5_000_000, 5_000_000, 0, 93_750, 93_751],
            [100, -50, 10_000, 5_000, 2_500],
        ] {
            let request = year(totals);
            let answer = worked_out(client, &request);
            law.assert_states(&answer);
            let say = format!("{totals:?}");
            let periods = list_at(&answer, "/periods");
            let claimed: i64 = periods.iter().map(|period| pence_at(period, "/claimed")).sum();
            assert_eq!(pence_at(&answer, "/annual/claimed"), claimed, "{say}");
            let entitlement = pence_at(&answer, "/annual/entitlement");
            assert_eq!(pence_at(&answer, "/annual/adjustment"), entitlement - claimed, "{say}");
            let input_tax = 4 * (totals[2] + totals[3] + totals[4]);
            let annual = &answer["annual"]["partial_exemption"];
            assert_eq!(pence_at(annual, "/recoverable") + pence_at(annual, "/not_recovered"), input_tax, "{say}");
            for calculation in periods.iter().map(|period| &period["partial_exemption"]).chain([annual]) {
                let words: Vec<&str> =
                    list_at(calculation, "/tests").iter().map(|test| text_at(test, "/test")).collect();
                assert_eq!(words, ["simplified_1", "simplified_2", "main"]);
                let passed: Vec<&Value> = list_at(calculation, "/tests").iter().map(|test| &test["passed"]).collect();
                let named = ["simplified_test_1", "simplified_test_2", "main_test"].map(|name| &calculation[name]);
                assert_eq!(passed, named, "{say}");
            }
        }
    });
}

/// A quarter and a year through one calculation: the quarter of a year is what a comparison of that quarter says.
#[test]
fn a_period_of_a_year_is_calculated_as_in_a_comparison() {
    with_server(|client| {
        for of_the_year in [
            json!({}),
            json!({ "previous_year_percentage": "84" }),
            json!({ "annual_test": { "previous_year_de_minimis": true, "expected_input_tax": "1000000.00" } }),
            json!({
                "previous_year_percentage": "33.33",
                "annual_test": { "previous_year_de_minimis": true, "expected_input_tax": "1000000.01" }
            }),
        ] {
            let purchase = |used_for: &str, vat: i64| json!({ "spend": "services", "net": pounds(vat * 5), "vat": pounds(vat), "used_for": used_for });
            let mut comparison = quarter(
                json!([{ "treatment": "zero_rated", "net": "30000.00" }, { "treatment": "exempt", "net": "20000.00" }]),
                json!([purchase("taxable", 250_000), purchase("exempt", 240_000), purchase("both", 260_000)]),
            );
            comparison["partial_exemption"] = of_the_year.clone();
            let compared = client.compare(&comparison);
            assert_sound(&comparison, &compared);
            let mut request = json!({
                "year": comparison["period"],
                "ends_by": "deregistration",
                "periods": [period("2025-04-01", "2025-06-30", [3_000_000, 2_000_000, 250_000, 240_000, 260_000])]
            });
            for (name, value) in of_the_year.as_object().into_iter().flatten() {
                request[name] = value.clone();
            }
            let answer = worked_out(client, &request);
            let found = &compared["standard"]["partial_exemption"];
            assert_eq!(answer["periods"][0]["partial_exemption"], *found, "{of_the_year:#}");
            assert_eq!(compared["standard"]["input_tax"], found["recoverable"], "{of_the_year:#}");
        }
    });
}

/// Both bases of a comparison take what it says of the year.
#[test]
fn the_second_basis_takes_the_percentage_of_the_year_before_too() {
    with_server(|client| {
        let sales =
            json!([{ "treatment": "zero_rated", "net": "30000.00" }, { "treatment": "exempt", "net": "20000.00" }]);
        let purchases = json!([{ "spend": "services", "net": "50000.00", "vat": "10000.00", "used_for": "both" }]);
        let mut request = quarter(sales.clone(), purchases.clone());
        request["partial_exemption"] = json!({ "previous_year_percentage": "70" });
        request["received"] = json!({ "sales": sales, "purchases": purchases });
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        for pointer in ["/standard", "/received/standard"] {
            assert_eq!(text_at(&answer, &format!("{pointer}/partial_exemption/percentage")), "70");
            assert_eq!(text_at(&answer, &format!("{pointer}/partial_exemption/percentage_basis")), "previous_year");
            assert_eq!(text_at(&answer, &format!("{pointer}/input_tax")), "7000.00");
        }
    });
}

#[test]
fn each_kind_of_warning_of_a_year_is_given() {
    let failing = [3_000_000, 2_000_000, 250_000, 240_000, 260_000];
    let mut tested = year(failing);
    tested["annual_test"] = json!({ "previous_year_de_minimis": true, "expected_input_tax": "30000.00" });
    let mut afresh = year(failing);
    afresh["attributed_afresh"] = json!({
        "taxable_supplies": "120000.00", "exempt_supplies": "80000.00",
        "input_tax_taxable": "10000.01", "input_tax_exempt": "9600.00", "input_tax_both": "10400.00"
    });
    let mut claimed = year(failing);
    claimed["periods"][3]["claimed"] = json!("4060.01");
    let requests = [tested, afresh, claimed, one_quarter(), year([3_000_000, 2_000_000, 0, 0, 1_250_001])];
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for (code, request) in WARNINGS.iter().zip(requests) {
            let answer = worked_out(client, &request);
            law.assert_states(&answer);
            assert!(warning_codes(&answer).contains(code), "{code}: {:#}", answer["warnings"]);
            for warning in list_at(&answer, "/warnings") {
                assert!(text_at(warning, "/message").ends_with('.'), "{warning:#}");
                for line in warning["lines"].as_array().into_iter().flatten() {
                    assert!(request.pointer(line.as_str().unwrap_or_default()).is_some(), "{line}");
                }
            }
        }
        let plain = worked_out(client, &year(failing));
        assert_eq!(warning_codes(&plain), Vec::<&str>::new());
        let cautions: String = list_at(&plain, "/cautions").iter().filter_map(Value::as_str).collect();
        for part in ["not advice", "standard method", "previous_year_percentage"] {
            assert!(cautions.contains(part), "{part} is not said: {cautions}");
        }
    });
}

/// Every shape fault has its place and code; all are told at once.
#[test]
fn a_year_that_cannot_be_read_is_refused_at_its_places() {
    with_server(|client| {
        for (pointer, value, code) in [
            ("/periods/0/taxable_supplies", json!(1), "amount_must_be_string"),
            ("/periods/0/claimed", json!("1,000"), "amount_not_valid"),
            ("/previous_year_percentage", json!(84), "percentage_must_be_string"),
            ("/previous_year_percentage", json!("100.01"), "percentage_not_valid"),
            ("/ends_by", json!("cessation"), "unknown_value"),
            ("/annual_test", json!({ "previous_year_de_minimis": "yes", "expected_input_tax": "1" }), "wrong_type"),
            (
                "/annual_test",
                json!({ "previous_year_de_minimis": true, "expected_input_tax": "-1" }),
                "amount_not_valid",
            ),
            ("/annual_test", json!({}), "missing_field"),
            ("/attributed_afresh", json!({ "claimed": "1.00" }), "unknown_field"),
            ("/periods/0/period", json!(null), "null_not_allowed"),
            ("/periods", json!(vec![one_quarter()["periods"][0].clone(); 25]), "too_many_lines"),
        ] {
            let mut request = one_quarter();
            let (parent, name) = pointer.rsplit_once('/').unwrap_or_default();
            let parent = request.pointer_mut(parent).unwrap_or_else(|| panic!("no {parent}"));
            parent[name] = value;
            let answer = client.post(PARTIAL_EXEMPTION_YEARS, &request);
            assert_eq!(answer.status, 400, "{pointer}: {}", answer.text());
            let problem = answer.json();
            assert!(problem_codes(&problem).contains(code), "{problem:#}");
            assert!(
                list_at(&problem, "/errors").iter().all(|error| text_at(error, "/pointer").starts_with(pointer)),
                "{problem:#}"
            );
        }
        let missing = client.post(PARTIAL_EXEMPTION_YEARS, &json!({ "periods": [{}] })).json();
        assert_eq!(list_at(&missing, "/errors").len(), 7, "{missing:#}");
        for request in refused_requests() {
            assert_eq!(client.post(PARTIAL_EXEMPTION_YEARS, &request).status, 422, "{request:#}");
        }
    });
}

/// The greatest amounts that a request can hold are added up exactly.
#[test]
fn the_greatest_year_is_answered_exactly() {
    with_server(|client| {
        let most = 999_999_999_999_999;
        let request = year([most; 5]);
        let answer = worked_out(client, &request);
        let expected =
            json!({ "percentage": "50", "input_tax_both": "39999999999999.96", "recoverable": "59999999999999.94" });
        assert_eq!(differences(&expected, &answer["annual"]["partial_exemption"]), Vec::<String>::new());
    });
}
