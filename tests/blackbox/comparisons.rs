//! The contract of `POST /v1/comparisons`: the example, determinism, and what an answer always holds.

use crate::answers::{ShownLaw, assert_sound, warning, warning_codes};
use acceptance::client::Call;
use acceptance::differences::differences;
use acceptance::document::Document;
use acceptance::figures::{consultant, list_at, quarter, request, text_at};
use acceptance::server::{Server, with_server};
use serde_json::{Value, json};

/// A consultant with exempt income whose goods are £263.00 short. Turnover holds the exempt income (Value Added Tax Act 1994
/// section 26B(2)(c)); goods are tested with their VAT (VAT Regulations 1995 reg 55A(4)); 16.5% is reg 55KA.
#[test]
fn the_example_comes_back_figure_for_figure() {
    let expected = json!({
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "standard": {
            "output_tax": "4800.00", "input_tax": "354.17", "vat_payable": "4445.83",
            "boxes": {
                "box1": "4800.00", "box2": "0.00", "box3": "4800.00", "box4": "354.17", "box5": "4445.83",
                "box6": "24600", "box7": "1770", "box8": "0", "box9": "0"
            }
        },
        "flat_rate": {
            "turnover": "29400.00",
            "parts": [{
                "start": "2026-04-01", "end": "2026-06-30", "turnover": "29400.00", "percentage": "16.5",
                "basis": "limited_cost", "vat": "4851.00", "first_year_reduction": null
            }],
            "input_tax": "0.00", "vat_payable": "4851.00",
            "boxes": {
                "box1": "4851.00", "box2": "0.00", "box3": "4851.00", "box4": "0.00", "box5": "4851.00",
                "box6": "29400", "box7": "0", "box8": "0", "box9": "0"
            },
            "partial_exemption": null
        },
        "goods_test": {
            "limited_cost_business": true, "relevant_goods": "325.00", "turnover": "29400.00",
            "share_percentage": "1.11", "two_percent_of_turnover": "588.00", "minimum_for_period": "250.00",
            "required": "588.00", "headroom": "-263.00", "start": "2026-04-01", "end": "2026-06-30",
            "lines": [
                { "line": "/purchases/0", "spend": "services", "relevant": false, "amount": "0.00" },
                { "line": "/purchases/1", "spend": "consumable_goods", "relevant": true, "amount": "325.00" }
            ]
        },
        "comparison": {
            "cheaper": "standard", "saving": "405.17", "flat_rate_minus_standard": "405.17",
            "break_even_input_tax": "-51.00"
        },
        "reference": null
    });
    with_server(|client| {
        let answer = client.compare(&consultant());
        assert_eq!(differences(&expected, &answer), Vec::<String>::new());
        assert_sound(&consultant(), &answer);
        assert_eq!(text_at(warning(&answer, "limited_cost_business"), "/severity"), "action");
        assert!(warning_codes(&answer).contains(&"exempt_income_taxed"));
    });
}

#[test]
fn the_same_request_gives_the_same_bytes_again_and_from_another_server() {
    let call = Call::post("/v1/comparisons", consultant().to_string());
    let (one, other) = (Server::start(), Server::start());
    let first = one.client().send(&call).body;
    assert_eq!(first, one.client().send(&call).body, "again");
    assert_eq!(first, other.client().send(&call).body, "from another server");
    one.finish();
    other.finish();
}

#[test]
fn white_space_and_the_order_of_members_change_nothing() {
    let text = r#"
        { "purchases": [ { "vat": "300.00", "net": "1500.00", "spend": "services" },
                         { "vat": "54.17", "net": "270.83", "spend": "consumable_goods" } ],
          "sales": [ { "vat": "4800.00", "net": "24000.00", "treatment": "standard_rated" },
                     { "net": "600.00", "treatment": "exempt" } ],
          "business": { "turnover_method": "basic", "flat_rate_from": "2019-02-01",
                        "sector": "management-consultancy", "registered_on": "2019-02-01" },
          "period": { "end": "2026-06-30", "start": "2026-04-01" } }
    "#;
    with_server(|client| {
        let plain = client.post_comparison(&consultant()).body;
        assert_eq!(client.send(&Call::post("/v1/comparisons", text)).body, plain);
    });
}

#[test]
fn a_reference_comes_back_first_and_untouched() {
    with_server(|client| {
        for reference in ["x", "client 4711 / Æther £ 日本", &"r".repeat(64)] {
            let mut request = consultant();
            request["reference"] = json!(reference);
            let answer = client.post_comparison(&request);
            assert_eq!(answer.json()["reference"], reference);
            assert!(answer.text().trim_start_matches('{').trim_start().starts_with("\"reference\""));
        }
    });
}

/// The three methods say when turnover counts, not how it is taxed (Notice 733 sections 8 to 10): totals that were placed in
/// the period already give the same figures by each.
#[test]
fn every_turnover_method_gives_the_figures_of_its_totals() {
    with_server(|client| {
        let figures = |method: &str| {
            let mut request = consultant();
            request["business"]["turnover_method"] = json!(method);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let warned = warning_codes(&answer).contains(&"turnover_basis");
            (warned, answer["standard"].clone(), answer["flat_rate"].clone(), answer["goods_test"].clone())
        };
        let basic = figures("basic");
        assert!(!basic.0, "a warning about the basis without a reason");
        for method in Document::checked_in().words("TurnoverMethod") {
            let (warned, standard, flat_rate, goods_test) = figures(&method);
            assert_eq!((&standard, &flat_rate, &goods_test), (&basic.1, &basic.2, &basic.3), "{method}");
            // Receipts and takings can stand on another basis than the invoices of standard accounting.
            assert_eq!(warned, method != "basic", "{method}");
        }
    });
}

#[test]
fn what_is_left_out_of_a_request_has_its_default() {
    with_server(|client| {
        let full = quarter(
            json!([{ "treatment": "standard_rated", "nature": "ordinary", "net": "1000.00" }]),
            json!([{
                "spend": "materials", "treatment": "standard_rated", "supply": "ordinary", "used_for": "taxable",
                "business_use_percentage": "100", "for_main_activity": true, "net": "500.00"
            }]),
        );
        let mut short = quarter(
            json!([{ "treatment": "standard_rated", "net": "1000.00" }]),
            json!([{ "spend": "materials", "net": "500.00" }]),
        );
        if let Some(business) = short["business"].as_object_mut() {
            business.remove("flat_rate_from");
        }
        let (full, short) = (client.compare(&full), client.compare(&short));
        for part in ["standard", "flat_rate", "goods_test", "comparison"] {
            assert_eq!(full[part], short[part], "{part}");
        }
        let empty = quarter(json!([]), json!([]));
        let mut absent = empty.clone();
        if let Some(members) = absent.as_object_mut() {
            members.remove("sales");
            members.remove("purchases");
        }
        let (empty, absent) = (client.compare(&empty), client.compare(&absent));
        assert_eq!(empty["flat_rate"], absent["flat_rate"]);
        assert_eq!(text_at(&absent, "/comparison/cheaper"), "equal");
    });
}

/// One, two or three of net, VAT and gross say the same (VAT fraction: VIT55400; to the penny: VATREC12030).
#[test]
fn a_line_is_completed_from_any_of_its_amounts() {
    with_server(|client| {
        let whole = json!({ "net": "1234.56", "vat": "246.91", "gross": "1481.47" });
        let combinations: [&[&str]; 6] =
            [&["net"], &["gross"], &["net", "vat"], &["net", "gross"], &["vat", "gross"], &["net", "vat", "gross"]];
        for names in combinations {
            let mut line = json!({ "treatment": "standard_rated" });
            let mut purchase = json!({ "spend": "services" });
            for name in names {
                line[*name] = whole[*name].clone();
                purchase[*name] = whole[*name].clone();
            }
            let request = quarter(json!([line]), json!([purchase]));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/standard/output_tax"), "246.91", "{names:?}");
            assert_eq!(text_at(&answer, "/standard/input_tax"), "246.91", "{names:?}");
            assert_eq!(text_at(&answer, "/standard/boxes/box6"), "1234", "{names:?}");
            assert_eq!(text_at(&answer, "/flat_rate/turnover"), "1481.47", "{names:?}");
        }
    });
}

/// The rate that completes a purchase: its own treatment, else standard; wages carry no VAT.
#[test]
fn a_purchase_is_completed_at_its_treatment() {
    with_server(|client| {
        for (treatment, vat) in [
            (Some("standard_rated"), "20.00"),
            (Some("reduced_rated"), "5.00"),
            (Some("zero_rated"), "0.00"),
            (Some("exempt"), "0.00"),
            (Some("outside_scope"), "0.00"),
            (None, "20.00"),
        ] {
            let mut purchase = json!({ "spend": "services", "net": "100.00" });
            if let Some(treatment) = treatment {
                purchase["treatment"] = json!(treatment);
            }
            let request = quarter(json!([]), json!([purchase]));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/standard/input_tax"), vat, "{treatment:?}");
        }
        let wages = json!([{ "spend": "wages_and_other_outside_scope", "gross": "5000.00" }]);
        let answer = client.compare(&quarter(json!([]), wages));
        assert_eq!(text_at(&answer, "/standard/input_tax"), "0.00");
        assert_eq!(text_at(&answer, "/standard/boxes/box7"), "0");
    });
}

/// Boxes 6 to 9 are whole pounds with the pence cut off once, at the end (common practice, no source).
#[test]
fn pence_are_cut_off_once() {
    with_server(|client| {
        let sales = json!([
            { "treatment": "zero_rated", "net": "10.60" },
            { "treatment": "zero_rated", "net": "10.60" }
        ]);
        let answer = client.compare(&quarter(sales, json!([{ "spend": "services", "net": "-1.99", "vat": "0.00" }])));
        assert_eq!(text_at(&answer, "/standard/boxes/box6"), "21");
        assert_eq!(text_at(&answer, "/flat_rate/boxes/box6"), "21");
        assert_eq!(text_at(&answer, "/standard/boxes/box7"), "-1");
    });
}

/// Credit notes are negative lines; a repayment is negative, box 5 is not (VAT Notice 700/12, box 5).
#[test]
fn credits_make_repayments() {
    with_server(|client| {
        let request = quarter(
            json!([{ "treatment": "standard_rated", "net": "-1000.00" }]),
            json!([{ "spend": "capital_goods", "net": "5000.00" }]),
        );
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        let expected = json!({
            "standard": { "vat_payable": "-1200.00", "boxes": { "box1": "-200.00", "box4": "1000.00", "box5": "1200.00", "box6": "-1000" } },
            "flat_rate": { "turnover": "-1200.00", "vat_payable": "-1198.00", "boxes": { "box1": "-198.00", "box4": "1000.00", "box5": "1198.00" } },
            "goods_test": { "share_percentage": null, "two_percent_of_turnover": "-24.00", "required": "250.00" },
            "comparison": { "cheaper": "standard", "saving": "2.00" }
        });
        assert_eq!(differences(&expected, &answer), Vec::<String>::new());
    });
}

#[test]
fn the_largest_amounts_and_the_longest_lists_are_answered() {
    with_server(|client| {
        let request = quarter(
            json!([{ "treatment": "standard_rated", "net": "9999999999999.99" }]),
            json!([{ "spend": "services", "gross": "9999999999999.99" }]),
        );
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/standard/output_tax"), "2000000000000.00");
        assert_eq!(text_at(&answer, "/standard/input_tax"), "1666666666666.67");
        let lines = |line: Value| Value::Array(vec![line; 5000]);
        let request = quarter(
            lines(json!({ "treatment": "zero_rated", "net": "1.01" })),
            lines(json!({ "spend": "services", "net": "1", "vat": "0.2" })),
        );
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/flat_rate/turnover"), "5050.00");
        assert_eq!(text_at(&answer, "/standard/input_tax"), "1000.00");
    });
}

/// Sums are exact up to the greatest request that there can be, so that none is ever refused for its size.
#[test]
fn the_greatest_request_is_answered_exactly() {
    with_server(|client| {
        let amount = "9999999999999.99";
        let mut sales = vec![json!({ "treatment": "zero_rated", "net": amount }); 2500];
        sales.extend(vec![json!({ "treatment": "exempt", "net": amount }); 2500]);
        let purchases = vec![json!({ "spend": "services", "vat": amount, "used_for": "both" }); 5000];
        // Days, not months: the limits in proportion have the greatest numbers.
        let request = request("2025-04-01", "2025-07-03", "pubs", Value::Array(sales), Value::Array(purchases));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/flat_rate/turnover"), "49999999999999950.00");
        assert_eq!(text_at(&answer, "/standard/partial_exemption/percentage"), "50");
        assert_eq!(text_at(&answer, "/standard/input_tax"), "24999999999999975.00");
    });
}

#[test]
fn the_law_used_is_named_with_its_edition() {
    with_server(|client| {
        let mut request = consultant();
        // Without its VAT a line is completed at the rate in force.
        request["sales"] = json!([{ "treatment": "standard_rated", "net": "24000.00" }]);
        let answer = client.compare(&request);
        ShownLaw::of(client).assert_states(&answer);
        let ids: Vec<&str> = list_at(&answer, "/law/parameters").iter().map(|used| text_at(used, "/id")).collect();
        for id in ["limited_cost_business", "vat_rate_standard"] {
            assert!(ids.contains(&id), "{id} is not among {ids:?}");
        }
        assert!(!text_at(&answer, "/law/edition").is_empty());
        assert_eq!(text_at(&answer, "/law/checked_on").len(), 10);
    });
}
