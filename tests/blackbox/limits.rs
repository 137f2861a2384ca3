//! A penny below, at and above every limit of the comparison.

use crate::answers::{assert_sound, warning, warning_codes};
use acceptance::figures::{list_at, pence_at, pounds, quarter, request, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

fn goods(pence: i64) -> Value {
    json!([{ "spend": "materials", "net": pounds(pence), "vat": "0.00" }])
}

fn takings(pence: i64) -> Value {
    json!([{ "treatment": "standard_rated", "gross": pounds(pence) }])
}

/// The goods test passes at the higher of 2% of turnover and £1,000 a year in proportion, and fails below (VAT Regulations 1995
/// reg 55A(4), "less than"). Limits are compared exactly; the smallest passing spend is a whole penny.
#[test]
fn the_goods_test_turns_on_a_penny() {
    let cases: [(&str, &str, i64, i64); 12] = [
        // 2% of £20,000.00.
        ("2025-04-01", "2025-06-30", 2_000_000, 40_000),
        // 2% of £20,000.01 is £400.0002.
        ("2025-04-01", "2025-06-30", 2_000_001, 40_001),
        ("2025-04-01", "2025-06-30", 2_000_050, 40_001),
        // A quarter of £1,000 where 2% is less.
        ("2025-04-01", "2025-06-30", 1_000_000, 25_000),
        // Both limits at once.
        ("2025-04-01", "2025-06-30", 1_250_000, 25_000),
        ("2025-04-01", "2025-06-30", 1_250_001, 25_001),
        // One month, five months and a year.
        ("2025-04-01", "2025-04-30", 100_000, 8_334),
        ("2025-04-01", "2025-08-31", 100_000, 41_667),
        ("2024-04-01", "2025-03-31", 1_000_000, 100_000),
        // Whole months that do not begin on the first: from 31 August to 29 November is three.
        ("2025-08-31", "2025-11-29", 100_000, 25_000),
        // 92 and 90 days that are not whole months: £1,000 × 92 ÷ 365 is £252.0548, × 90 ÷ 365 is £246.5753.
        ("2025-04-01", "2025-07-01", 100_000, 25_206),
        ("2025-04-01", "2025-06-29", 100_000, 24_658),
    ];
    with_server(|client| {
        for (start, end, turnover, required) in cases {
            for (spent, limited) in [(required - 1, true), (required, false), (required + 1, false)] {
                let request =
                    request(start, end, "business-services-not-listed-elsewhere", takings(turnover), goods(spent));
                let answer = client.compare(&request);
                assert_sound(&request, &answer);
                let say = format!("{start} to {end}, {spent} pence of {turnover}: {:#}", answer["goods_test"]);
                assert_eq!(answer["goods_test"]["limited_cost_business"], limited, "{say}");
                assert_eq!(pence_at(&answer, "/goods_test/required"), required, "{say}");
                assert_eq!(pence_at(&answer, "/goods_test/headroom"), spent - required, "{say}");
                let basis = if limited { "limited_cost" } else { "sector" };
                assert_eq!(text_at(&answer, "/flat_rate/parts/0/basis"), basis, "{say}");
                assert_eq!(warning_codes(&answer).contains(&"limited_cost_business"), limited, "{say}");
            }
        }
    });
}

/// Both sides of the goods test hold VAT (VAT Regulations 1995 reg 55A(4), "together with any VAT chargeable").
#[test]
fn both_sides_of_the_goods_test_include_vat() {
    with_server(|client| {
        for (net, limited) in [("333.32", true), ("333.33", false)] {
            let request = quarter(
                json!([{ "treatment": "standard_rated", "net": "16666.67" }]),
                json!([{ "spend": "materials", "net": net }]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/goods_test/turnover"), "20000.00");
            assert_eq!(answer["goods_test"]["limited_cost_business"], limited, "{net}");
        }
    });
}

/// Goods within a tenth of the limit on either side are pointed out; the limit here is £400.00.
#[test]
fn goods_within_a_tenth_of_the_limit_are_pointed_out() {
    with_server(|client| {
        for (spent, close) in [(35_999, false), (36_000, true), (40_000, true), (44_000, true), (44_001, false)] {
            let answer = client.compare(&quarter(takings(2_000_000), goods(spent)));
            assert_eq!(warning_codes(&answer).contains(&"goods_close_to_limit"), close, "{spent} pence");
        }
    });
}

/// Capital goods: £2,000 or more with VAT (FRS6500), with a warning at the limit itself, where the regulation says more than
/// £2,000 (VAT Regulations 1995 reg 55E(1)). One line is one purchase.
#[test]
fn the_capital_goods_claim_turns_on_a_penny() {
    with_server(|client| {
        for (gross, claimed, code) in [
            (199_999, false, Some("capital_goods_under_limit")),
            (200_000, true, Some("capital_goods_at_limit")),
            (200_001, true, None),
        ] {
            let vat = 33_333;
            let line = json!({ "spend": "capital_goods", "gross": pounds(gross), "vat": pounds(vat) });
            let request = quarter(takings(1_000_000), json!([line]));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(pence_at(&answer, "/flat_rate/input_tax"), if claimed { vat } else { 0 }, "{gross}");
            assert_eq!(pence_at(&answer, "/standard/input_tax"), vat, "{gross}");
            for known in ["capital_goods_under_limit", "capital_goods_at_limit"] {
                assert_eq!(warning_codes(&answer).contains(&known), code == Some(known), "{gross} {known}");
            }
            if let Some(code) = code {
                let warning = warning(&answer, code);
                assert_eq!(warning["measured"], pounds(gross));
                assert_eq!(warning["limit"], "2000.00");
                assert_eq!(list_at(warning, "/lines"), [json!("/purchases/0")]);
            }
        }
    });
}

/// Imported capital goods are measured with the import VAT (VAT Regulations 1995 reg 55E(1), "together with the VAT").
#[test]
fn imported_capital_goods_are_measured_with_their_vat() {
    with_server(|client| {
        for supply in ["postponed_import", "northern_ireland_acquisition"] {
            for (net, claimed) in [(166_666, false), (166_667, true)] {
                let line = json!({ "spend": "capital_goods", "supply": supply, "net": pounds(net), "vat": "333.33" });
                let request = quarter(takings(1_000_000), json!([line]));
                let answer = client.compare(&request);
                assert_sound(&request, &answer);
                let back = if claimed { "333.33" } else { "0.00" };
                assert_eq!(text_at(&answer, "/flat_rate/input_tax"), back, "{supply} {net}");
            }
        }
    });
}

/// VAT given by the books is used as given; a difference that rounding invoices cannot explain is pointed out.
#[test]
fn vat_that_is_not_what_its_rate_makes_is_used_and_pointed_out() {
    with_server(|client| {
        for (vat, differs) in [("200.00", false), ("200.01", false), ("210.00", true), ("50.00", true)] {
            let request = quarter(
                json!([{ "treatment": "standard_rated", "net": "1000.00", "vat": vat }]),
                json!([{ "spend": "materials", "net": "250.00", "vat": "0.00" }]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/standard/output_tax"), vat);
            assert_eq!(warning_codes(&answer).contains(&"vat_differs_from_rate"), differs, "{vat}");
        }
    });
}
