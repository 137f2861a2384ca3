//! Bad debts and relief repaid, input tax repaid on unpaid purchases and restored, the annual adjustment of partial exemption, and the
//! evidence of input tax, over HTTP: at each limit a penny and a day either side.

use crate::answers::{ShownLaw, assert_sound, warning, warning_codes};
use acceptance::figures::{list_at, quarter, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

const METHODS: [&str; 3] = ["basic", "retailer", "cash"];

/// A quarter with sales of £12,000.00, goods that pass the goods test, and adjustments.
fn adjusted(method: &str, adjustments: Value) -> Value {
    let mut request = quarter(
        json!([{ "treatment": "standard_rated", "gross": "12000.00" }]),
        json!([{ "spend": "materials", "net": "5000.00", "vat": "0.00" }]),
    );
    request["business"]["turnover_method"] = json!(method);
    request["adjustments"] = adjustments;
    request
}

fn repaid(payment: &str, elsewhere: Option<&str>) -> Value {
    let mut entry = json!({ "relief_claimed": "114.93", "outstanding_at_claim": "771.64", "payment": payment });
    if let Some(elsewhere) = elsewhere {
        entry["allocated_elsewhere"] = json!(elsewhere);
    }
    json!({ "relief_repaid": [entry] })
}

fn unpaid(supplied_on: &str, paid: &str) -> Value {
    json!({ "unpaid_purchases": [
        { "supplied_on": supplied_on, "input_tax_claimed": "200.00", "gross": "1200.00", "paid": paid }
    ] })
}

fn paid_later(payment: &str) -> Value {
    json!({ "purchases_paid_later": [
        { "input_tax_repaid": "150.00", "unpaid_at_repayment": "900.00", "payment": payment }
    ] })
}

fn debt(supplied_on: &str, vat: &str, gross: &str) -> Value {
    json!({ "bad_debts": [{ "supplied_on": supplied_on, "vat": vat, "gross": gross }] })
}

/// Requests that this part of the calculation refuses, for the tests of the catalogue: place and code of each.
pub fn refused() -> Vec<(Value, &'static str, &'static str)> {
    let basic = |adjustments: Value| adjusted("basic", adjustments);
    let mut outside = repaid("500.00", None);
    outside["relief_repaid"][0]["paid_on"] = json!("2025-03-31");
    let mut later = paid_later("300.00");
    later["purchases_paid_later"][0]["paid_on"] = json!("2025-07-01");
    let mut before_registration = basic(debt("2024-10-01", "200.00", "1200.00"));
    before_registration["business"]["registered_on"] = json!("2024-10-02");
    before_registration["business"]["flat_rate_from"] = json!("2024-10-02");
    before_registration["split_estimate"] = json!("by_days");
    let mut nothing_repaid = paid_later("300.00");
    nothing_repaid["purchases_paid_later"][0]["input_tax_repaid"] = json!("0.00");
    let mut leaving = basic(json!({ "leaving": { "on": "2025-05-31" } }));
    leaving["business"]["flat_rate_until"] = json!("2025-06-01");
    leaving["split_estimate"] = json!("by_days");
    vec![
        (basic(repaid("771.65", None)), "/adjustments/relief_repaid/0/payment", "part_more_than_whole"),
        (
            basic(repaid("78.35", Some("78.36"))),
            "/adjustments/relief_repaid/0/allocated_elsewhere",
            "part_more_than_whole",
        ),
        (basic(repaid("0.00", None)), "/adjustments/relief_repaid/0/payment", "amount_not_positive"),
        (basic(repaid("-0.01", None)), "/adjustments/relief_repaid/0/payment", "amount_negative"),
        (basic(outside), "/adjustments/relief_repaid/0/paid_on", "belongs_to_another_period"),
        (basic(unpaid("2024-11-10", "1200.01")), "/adjustments/unpaid_purchases/0/paid", "part_more_than_whole"),
        (
            basic(unpaid("2024-09-30", "0.00")),
            "/adjustments/unpaid_purchases/0/supplied_on",
            "belongs_to_another_period",
        ),
        (
            basic(unpaid("2025-01-01", "0.00")),
            "/adjustments/unpaid_purchases/0/supplied_on",
            "belongs_to_another_period",
        ),
        (basic(paid_later("900.01")), "/adjustments/purchases_paid_later/0/payment", "part_more_than_whole"),
        (basic(nothing_repaid), "/adjustments/purchases_paid_later/0/input_tax_repaid", "amount_not_positive"),
        (basic(later), "/adjustments/purchases_paid_later/0/paid_on", "belongs_to_another_period"),
        (basic(debt("2024-10-01", "1200.01", "1200.00")), "/adjustments/bad_debts/0/vat", "part_more_than_whole"),
        (basic(debt("2024-10-01", "0.00", "0.00")), "/adjustments/bad_debts/0/gross", "amount_not_positive"),
        (before_registration, "/adjustments/bad_debts/0/supplied_on", "dates_out_of_order"),
        (leaving, "/adjustments/leaving/on", "dates_out_of_order"),
        (basic(json!({ "leaving": { "on": "2025-07-01" } })), "/adjustments/leaving/on", "belongs_to_another_period"),
        (
            basic(json!({ "errors": [{ "period_end": "1999-12-31", "amount": "1.00" }] })),
            "/adjustments/errors/0/period_end",
            "dates_out_of_order",
        ),
    ]
}

#[test]
fn what_cannot_be_is_refused_at_its_place() {
    with_server(|client| {
        for (request, place, code) in refused() {
            let problem = client.refuse(422, &request);
            let errors = list_at(&problem, "/errors");
            assert_eq!(errors.len(), 1, "{request:#}\n{problem:#}");
            assert_eq!((text_at(&errors[0], "/pointer"), text_at(&errors[0], "/code")), (place, code), "{problem:#}");
        }
    });
}

/// What each adjustment puts on both returns, by turnover method; every answer replays (VATA 1994 ss 26A, 36; VAT Regulations 1995 regs
/// 55V, 107, 171, 172H, 172I; VBDR4200).
#[test]
fn each_adjustment_stands_where_the_law_puts_it() {
    let claimed = |mut adjustments: Value, list: &str| {
        adjustments[list][0]["claimed_under_flat_rate"] = json!(true);
        adjustments
    };
    // Adjustments; the box; what they put into it: of standard accounting with the basic and with the cash method, of the scheme.
    let cases = [
        (repaid("500.00", Some("78.36")), "box1", "62.80", "0.00", "62.80"),
        (repaid("771.64", None), "box1", "114.93", "0.00", "114.93"),
        (unpaid("2024-11-10", "300.00"), "box4", "-150.00", "0.00", "0.00"),
        (claimed(unpaid("2024-11-10", "300.00"), "unpaid_purchases"), "box4", "-150.00", "0.00", "-150.00"),
        (unpaid("2024-11-10", "1200.00"), "box4", "0.00", "0.00", "0.00"),
        (paid_later("300.00"), "box4", "50.00", "0.00", "0.00"),
        (claimed(paid_later("300.00"), "purchases_paid_later"), "box4", "50.00", "0.00", "50.00"),
        (json!({ "partial_exemption_year": "812.35" }), "box4", "812.35", "812.35", "812.35"),
        (json!({ "partial_exemption_year": "-0.01" }), "box4", "-0.01", "-0.01", "-0.01"),
    ];
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for (adjustments, one_box, standard, standard_on_cash, flat_rate) in cases {
            for method in METHODS {
                let request = adjusted(method, adjustments.clone());
                let answer = client.compare(&request);
                assert_sound(&request, &answer);
                law.assert_states(&answer);
                let expected = [if method == "cash" { standard_on_cash } else { standard }, flat_rate];
                let other = if one_box == "box1" { "box4" } else { "box1" };
                let before = [("standard", "2000.00"), ("flat_rate", "1440.00")];
                for ((scheme, sales), expected) in before.into_iter().zip(expected) {
                    let found = acceptance::figures::pence_at(&answer, &format!("/{scheme}/boxes/{one_box}"));
                    let base = if one_box == "box1" { acceptance::figures::pence(sales) } else { 0 };
                    assert_eq!(found - base, acceptance::figures::pence(expected), "{scheme} {method} {adjustments:#}");
                    let rest = if other == "box1" { sales } else { "0.00" };
                    assert_eq!(text_at(&answer, &format!("/{scheme}/boxes/{other}")), rest);
                }
            }
        }
    });
}

/// The six months end with 30 June, a day later in the next period: the refusal says where the entry belongs.
#[test]
fn an_unpaid_purchase_says_its_period() {
    with_server(|client| {
        for (supplied_on, ends) in [("2024-10-01", "2025-04-01"), ("2024-12-31", "2025-06-30")] {
            let answer = client.compare(&adjusted("basic", unpaid(supplied_on, "0.00")));
            assert_eq!(text_at(&answer, "/adjustments/unpaid_purchases/0/six_months_end"), ends);
            let reason = text_at(&answer, "/adjustments/unpaid_purchases/0/flat_rate_reason");
            assert!(reason.contains("no input tax was claimed"), "{reason}");
        }
        for (supplied_on, ends) in [("2024-09-30", "2025-03-30"), ("2025-01-01", "2025-07-01")] {
            let problem = client.refuse(422, &adjusted("basic", unpaid(supplied_on, "0.00")));
            assert!(text_at(&problem, "/errors/0/detail").contains(ends), "{problem:#}");
        }
    });
}

/// Relief with the cash turnover method a penny either side of nothing (VAT Regulations 1995 reg 55V): never negative, and box 4 with it.
#[test]
fn relief_never_takes_from_box_4() {
    with_server(|client| {
        for (vat, relief) in [("144.01", "0.01"), ("144.00", "0.00"), ("143.99", "0.00"), ("0.00", "0.00")] {
            let mut adjustments = debt("2024-10-01", vat, "1200.00");
            adjustments["bad_debts"][0]["percentage_at_supply"] = json!("12");
            let request = adjusted("cash", adjustments);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/adjustments/bad_debts/0/flat_rate"), relief, "{vat}");
            assert_eq!(text_at(&answer, "/flat_rate/boxes/box4"), relief, "{vat}");
            let reason = text_at(&answer, "/adjustments/bad_debts/0/flat_rate_reason");
            assert_eq!(reason.contains("no relief"), relief == "0.00", "{reason}");
            assert_eq!(warning_codes(&answer).contains(&"adjustment_needs_attention"), relief == "0.00", "{vat}");
        }
        // More VAT than a rate makes of the debt is used, and pointed out.
        for (vat, differs) in [("200.01", false), ("200.02", true)] {
            let answer = client.compare(&adjusted("basic", debt("2024-10-01", vat, "1200.00")));
            assert_eq!(warning_codes(&answer).contains(&"vat_differs_from_rate"), differs, "{vat}");
        }
    });
}

/// The time for a claim about a 29 February, a day either side (VAT Regulations 1995 reg 165A).
#[test]
fn the_time_for_relief_ends_with_a_shorter_month() {
    with_server(|client| {
        let claimed = |start: &str, end: &str| {
            let mut request = adjusted("basic", debt("2019-08-31", "200.00", "1200.00"));
            request["period"] = json!({ "start": start, "end": end });
            request
        };
        client.refuse(422, &claimed("2020-02-01", "2020-02-28"));
        let answer = client.compare(&claimed("2020-02-01", "2020-02-29"));
        assert_eq!(text_at(&answer, "/adjustments/bad_debts/0/earliest_claim"), "2020-02-29");
        assert_eq!(text_at(&answer, "/adjustments/bad_debts/0/latest_claim"), "2024-02-29");
        client.compare(&claimed("2024-02-29", "2024-05-31"));
        client.refuse(422, &claimed("2024-03-01", "2024-05-31"));
    });
}

/// Evidence at its limits, and what is not held (VAT Regulations 1995 reg 29; VIT31000).
#[test]
fn evidence_is_asked_for_where_it_matters() {
    with_server(|client| {
        for (evidence, gross, recovered, warned) in [
            (None, "250.01", "41.67", false),
            (Some("vat_invoice"), "250.01", "41.67", false),
            (Some("less_detailed_invoice"), "250.00", "41.67", false),
            (Some("less_detailed_invoice"), "250.01", "41.67", true),
            (Some("none_needed"), "25.00", "4.17", false),
            (Some("none_needed"), "25.01", "4.17", true),
            (Some("not_held"), "25.00", "0.00", true),
        ] {
            let mut request = adjusted("basic", json!({}));
            let mut line = json!({ "spend": "services", "gross": gross });
            if let Some(evidence) = evidence {
                line["evidence"] = json!(evidence);
            }
            request["purchases"] = json!([request["purchases"][0], line]);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/standard/input_tax"), recovered, "{evidence:?} {gross}");
            assert_eq!(warning_codes(&answer).contains(&"input_tax_evidence"), warned, "{evidence:?} {gross}");
            if warned && evidence != Some("not_held") {
                let limit = if evidence == Some("none_needed") { "25.00" } else { "250.00" };
                assert_eq!(text_at(warning(&answer, "input_tax_evidence"), "/limit"), limit);
            }
        }
        // A flat rate user's claim on capital goods needs evidence too.
        for (evidence, claimed) in
            [("vat_invoice", "400.00"), ("less_detailed_invoice", "400.00"), ("not_held", "0.00")]
        {
            let mut request = adjusted("basic", json!({}));
            let line = json!({ "spend": "capital_goods", "net": "2000.00", "vat": "400.00", "evidence": evidence });
            request["purchases"] = json!([request["purchases"][0], line]);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/flat_rate/input_tax"), claimed, "{evidence}");
            assert_eq!(text_at(&answer, "/standard/input_tax"), claimed, "{evidence}");
        }
    });
}

/// The annual adjustment is the same on both returns and on both bases, and is no error (VAT Regulations 1995 reg 107; PE37600).
#[test]
fn the_annual_adjustment_is_common_to_both() {
    with_server(|client| {
        let mut request = adjusted("basic", json!({ "partial_exemption_year": "812.35" }));
        request["received"] = json!({ "sales": request["sales"], "purchases": request["purchases"] });
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        for prefix in ["", "/received"] {
            for scheme in ["standard", "flat_rate"] {
                assert_eq!(text_at(&answer, &format!("{prefix}/{scheme}/boxes/box4")), "812.35");
            }
            let common = list_at(&answer, &format!("{prefix}/comparison/common_to_both"));
            assert_eq!(text_at(&common[0], "/item"), "partial_exemption_year");
            assert_eq!(text_at(&common[0], "/input_tax"), "812.35");
        }
        assert!(text_at(&answer, "/adjustments/partial_exemption_year/note").contains("no error"));
        assert_eq!(answer.pointer("/adjustments/errors"), None);
    });
}
