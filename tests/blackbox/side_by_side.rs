//! What a comparison says beside the two liabilities: the VAT that is lost under both schemes, what stands on both returns alike,
//! and the difference after tax.

use crate::answers::assert_sound;
use acceptance::differences::differences;
use acceptance::figures::{list_at, quarter, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

/// Sales of £10,000.00 without VAT in a quarter, and goods that pass the goods test.
fn with_purchases(mut purchases: Vec<Value>) -> Value {
    purchases.push(json!({ "spend": "materials", "net": "250.00", "vat": "0.00" }));
    quarter(json!([{ "treatment": "standard_rated", "net": "10000.00", "vat": "2000.00" }]), Value::from(purchases))
}

fn assert_answer(request: &Value, expected: &Value) {
    with_server(|client| {
        let answer = client.compare(request);
        assert_sound(request, &answer);
        assert_eq!(differences(expected, &answer), Vec::<String>::new(), "{request:#}");
    });
}

/// Blocked and private VAT is lost under both schemes (Input Tax Order 1992 arts 5 and 7; VATA 1994 section 24).
#[test]
fn vat_that_is_lost_under_both_schemes_is_shown() {
    for (line, lost) in [
        (json!({ "spend": "services" }), "0.00"),
        (json!({ "spend": "business_entertainment" }), "20.00"),
        (json!({ "spend": "car_lease" }), "10.00"),
        (json!({ "spend": "services", "business_use_percentage": "30" }), "14.00"),
        (json!({ "spend": "services", "vat_blocked": true }), "20.00"),
        (json!({ "spend": "services", "vat_blocked": false }), "0.00"),
        (json!({ "spend": "accommodation_for_directors" }), "20.00"),
    ] {
        let mut line = line;
        line["net"] = json!("100.00");
        line["vat"] = json!("20.00");
        let expected = json!({ "standard": { "vat_on_purchases": "20.00", "vat_not_recovered": lost } });
        assert_answer(&with_purchases(vec![line]), &expected);
    }
}

/// What is not recovered in a period that passes no de minimis test (VAT Regulations 1995 regs 101, 105A, 106).
#[test]
fn vat_lost_to_exempt_supplies_is_shown() {
    let request = quarter(
        json!([{ "treatment": "standard_rated", "net": "10000.00" }, { "treatment": "exempt", "net": "30000.00" }]),
        json!([
            { "spend": "services", "net": "20000.00", "vat": "4000.00", "used_for": "exempt" },
            { "spend": "services", "net": "5000.00", "vat": "1000.00", "used_for": "both" },
            { "spend": "business_entertainment", "net": "50.00", "vat": "10.00" },
        ]),
    );
    // 25% of £1,000.00 comes back.
    let expected = json!({ "standard": {
        "vat_on_purchases": "5010.00", "vat_not_recovered": "4760.00", "input_tax": "250.00"
    } });
    assert_answer(&request, &expected);
}

/// Blocked VAT stays blocked in the scheme: no claim on capital goods, none on reverse charges (VAT Regulations 1995 reg 55E(4)).
#[test]
fn a_blocked_purchase_gives_neither_scheme_anything() {
    for (supply, due) in [("ordinary", "0.00"), ("domestic_reverse_charge", "400.00"), ("postponed_import", "400.00")] {
        let line = json!({ "spend": "capital_goods", "supply": supply, "net": "2000.00", "vat": "400.00", "vat_blocked": true });
        let request = with_purchases(vec![line]);
        with_server(|client| {
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/standard/input_tax"), "0.00", "{supply}");
            assert_eq!(text_at(&answer, "/flat_rate/input_tax"), "0.00", "{supply}");
            match list_at(&answer, "/comparison/common_to_both") {
                [] => assert_eq!(due, "0.00"),
                [item] => {
                    assert_eq!(text_at(item, "/item"), "reverse_charges_and_imports");
                    assert_eq!(text_at(item, "/output_tax"), due);
                    assert_eq!(text_at(item, "/input_tax"), "0.00");
                }
                more => panic!("{more:#?}"),
            }
        });
    }
}

/// Reverse charges net to nil for a fully taxable business on both returns, and goods from abroad come back on one alone (VAT
/// Regulations 1995 regs 55C(6), 55E(3); Revenue and Customs Brief 3 (2022)). Capital goods claimed under both, assets sold after a
/// claim and VAT from before registration stand on both (regs 55C(4), 55E, 55F).
#[test]
fn what_stands_on_both_returns_is_shown_as_such() {
    let mut request = with_purchases(vec![
        json!({ "spend": "services", "supply": "overseas_services_reverse_charge", "net": "500.00", "vat": "100.00" }),
        json!({ "spend": "stock_for_resale", "supply": "postponed_import", "net": "300.00", "vat": "60.00" }),
        json!({ "spend": "stock_for_resale", "supply": "northern_ireland_acquisition", "net": "200.00", "vat": "40.00" }),
        json!({ "spend": "capital_goods", "net": "2000.00", "vat": "400.00" }),
    ]);
    request["sales"].as_array_mut().expect("sales").push(
        json!({ "treatment": "standard_rated", "nature": "capital_asset_vat_claimed", "net": "900.00", "vat": "180.00" }),
    );
    request["business"]["registered_on"] = json!("2025-04-01");
    request["business"]["flat_rate_from"] = json!("2025-04-01");
    request["adjustments"] =
        json!({ "pre_registration": [{ "kind": "services", "bought_on": "2025-03-01", "vat": "35.00" }] });
    let expected = json!({ "comparison": { "common_to_both": [
        { "item": "reverse_charges_and_imports", "output_tax": "200.00", "input_tax": "100.00" },
        { "item": "capital_goods", "output_tax": null, "input_tax": "400.00" },
        { "item": "assets_with_vat_claimed", "output_tax": "180.00", "input_tax": null },
        { "item": "pre_registration", "output_tax": null, "input_tax": "35.00" },
    ] } });
    assert_answer(&request, &expected);
    let expected = json!({ "comparison": { "common_to_both": [] } });
    assert_answer(&with_purchases(vec![json!({ "spend": "services", "net": "1.00", "vat": "0.20" })]), &expected);
}

/// Where one return reclaims less than the other, no common amount is shown: private use cuts a capital purchase under standard
/// accounting alone (VAT Regulations 1995 reg 55E(2)), and exempt supplies cut what is recovered.
#[test]
fn what_one_return_cuts_is_not_called_common() {
    let line = json!({ "spend": "capital_goods", "net": "2000.00", "vat": "400.00", "business_use_percentage": "60" });
    let expected = json!({ "comparison": { "common_to_both": [{ "item": "capital_goods", "input_tax": null }] } });
    assert_answer(&with_purchases(vec![line]), &expected);

    let request = quarter(
        json!([{ "treatment": "standard_rated", "net": "10000.00" }, { "treatment": "exempt", "net": "30000.00" }]),
        json!([
            { "spend": "services", "net": "20000.00", "vat": "4000.00", "used_for": "exempt" },
            { "spend": "services", "supply": "domestic_reverse_charge", "net": "500.00", "vat": "100.00" },
        ]),
    );
    let expected = json!({ "comparison": { "common_to_both": [
        { "item": "reverse_charges_and_imports", "output_tax": "100.00", "input_tax": null }
    ] } });
    assert_answer(&request, &expected);
}

/// What is left after tax: (100 − t) per cent, to the nearest penny, half up in magnitude (HMRC manual BIM31585).
#[test]
fn the_difference_is_shown_after_tax_where_a_rate_is_given() {
    // Standard accounting £2,000.00, flat rate £1,440.00.
    for (rate, saving, difference) in [
        ("0", "560.00", "-560.00"),
        ("19", "453.60", "-453.60"),
        ("26.5", "411.60", "-411.60"),
        ("42.01", "324.74", "-324.74"),
        ("100", "0.00", "0.00"),
    ] {
        let mut request = with_purchases(vec![]);
        request["marginal_tax_percentage"] = json!(rate);
        let expected = json!({ "comparison": {
            "saving": "560.00",
            "after_tax": { "saving": saving, "flat_rate_minus_standard": difference }
        } });
        assert_answer(&request, &expected);
    }
    assert_answer(&with_purchases(vec![]), &json!({ "comparison": { "after_tax": null } }));
}

/// Half a penny goes up in magnitude, whichever scheme is cheaper.
#[test]
fn half_a_penny_after_tax_goes_up_in_magnitude() {
    for (purchases, difference, after) in [
        (vec![], "-560.00", "-280.00"),
        (vec![json!({ "spend": "services", "net": "2800.05", "vat": "560.01" })], "0.01", "0.01"),
        (vec![json!({ "spend": "services", "net": "2799.95", "vat": "559.99" })], "-0.01", "-0.01"),
    ] {
        let mut request = with_purchases(purchases);
        request["marginal_tax_percentage"] = json!("50");
        let expected = json!({ "comparison": {
            "flat_rate_minus_standard": difference, "after_tax": { "flat_rate_minus_standard": after }
        } });
        assert_answer(&request, &expected);
    }
}

/// A caution says how capital items and disallowed costs are relieved, where a rate of tax is given and only there.
#[test]
fn a_caution_comes_with_the_figures_after_tax() {
    with_server(|client| {
        let mut request = with_purchases(vec![]);
        let cautioned = |answer: &Value| {
            list_at(answer, "/cautions")
                .iter()
                .filter_map(Value::as_str)
                .any(|caution| caution.contains("capital allowances"))
        };
        assert!(!cautioned(&client.compare(&request)));
        request["marginal_tax_percentage"] = json!("20");
        assert!(cautioned(&client.compare(&request)));
    });
}
