//! The limited cost test alone, and what would turn its outcome round (VAT Regulations 1995 reg 55A(4); Notice 733 para 4.4).

use crate::answers::{ShownLaw, assert_sound};
use acceptance::client::{Client, GOODS_TESTS, problem_codes};
use acceptance::figures::{list_at, pence, pence_at, pounds, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

/// A goods test of a quarter from two totals.
pub fn totals(turnover: &str, relevant_goods: &str) -> Value {
    json!({
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "business": { "sector": "management-consultancy" },
        "turnover": turnover,
        "relevant_goods": relevant_goods
    })
}

/// Requests that are refused, for the codes that only this operation knows.
pub fn refused_requests() -> Vec<Value> {
    let mut both = totals("1.00", "1.00");
    both["sales"] = json!([]);
    let mut before_the_rule = totals("1.00", "1.00");
    before_the_rule["period"] = json!({ "start": "2016-04-01", "end": "2016-06-30" });
    vec![both, before_the_rule]
}

fn is_limited(client: &Client, turnover: i64, goods: i64) -> bool {
    let answer = client.calculate(GOODS_TESTS, &totals(&pounds(turnover), &pounds(goods)));
    answer["goods_test"]["limited_cost_business"] == true
}

/// With the spending named the test passes, with a penny less it fails; with the turnover named it passes, with a penny more it
/// fails.
#[test]
fn the_turning_points_hold_to_the_penny() {
    with_server(|client| {
        for (turnover, goods) in [
            ("29400.00", "325.00"),
            ("20000.01", "400.00"),
            ("10000.00", "260.00"),
            ("0.00", "0.00"),
            ("4321.09", "333.33"),
        ] {
            let request = totals(turnover, goods);
            let answer = client.calculate(GOODS_TESTS, &request);
            assert_sound(&request, &answer);
            let (turnover, goods) = (pence(turnover), pence(goods));
            let needed = pence_at(&answer, "/what_would_change/spend_needed");
            assert!(!is_limited(client, turnover, goods + needed), "{request:#}");
            if needed > 0 {
                assert!(is_limited(client, turnover, goods + needed - 1), "{request:#}");
            }
            match answer.pointer("/what_would_change/most_turnover").and_then(Value::as_str).map(pence) {
                Some(most) => {
                    assert!(!is_limited(client, most, goods), "{request:#}");
                    assert!(is_limited(client, most + 1, goods), "{request:#}");
                }
                None => assert!(is_limited(client, 0, goods), "{request:#}"),
            }
        }
    });
}

#[test]
fn each_line_is_classified_with_its_reason() {
    with_server(|client| {
        let request = json!({
            "period": { "start": "2026-04-01", "end": "2026-06-30" },
            "business": { "sector": "management-consultancy" },
            "sales": [
                { "treatment": "standard_rated", "gross": "12000.00" },
                { "treatment": "outside_scope", "net": "900.00" }
            ],
            "purchases": [
                { "spend": "consumable_goods", "gross": "300.00" },
                { "spend": "services", "gross": "700.00" },
                { "spend": "power_and_water", "gross": "90.00", "business_use_percentage": "50" }
            ]
        });
        let answer = client.calculate(GOODS_TESTS, &request);
        assert_sound(&request, &answer);
        ShownLaw::of(client).assert_states(&answer);
        let lines = list_at(&answer, "/goods_test/lines");
        let counted: Vec<(&str, bool, &str)> = lines
            .iter()
            .map(|line| (text_at(line, "/line"), line["relevant"] == true, text_at(line, "/amount")))
            .collect();
        assert_eq!(
            counted,
            [("/purchases/0", true, "300.00"), ("/purchases/1", false, "0.00"), ("/purchases/2", false, "0.00")]
        );
        assert!(lines.iter().all(|line| text_at(line, "/reason").ends_with('.')), "{lines:#?}");
        // The same as one figure each.
        let mut same = client.calculate(GOODS_TESTS, &totals("12000.00", "300.00"));
        same["goods_test"]["lines"] = answer["goods_test"]["lines"].clone();
        assert_eq!(same["goods_test"], answer["goods_test"]);
        assert_eq!(same["what_would_change"], answer["what_would_change"]);
        // And the same as the test within a comparison.
        let mut comparison = request.clone();
        comparison["business"]["registered_on"] = json!("2019-01-01");
        comparison["business"]["flat_rate_from"] = json!("2019-01-01");
        assert_eq!(client.compare(&comparison)["goods_test"], answer["goods_test"]);
    });
}

#[test]
fn exactly_one_of_each_pair_is_given() {
    with_server(|client| {
        let without = |name: &str| {
            let mut request = totals("10000.00", "260.00");
            request.as_object_mut().map(|members| members.remove(name));
            request
        };
        let with = |name: &str| {
            let mut request = totals("10000.00", "260.00");
            request[name] = json!([]);
            request
        };
        for (request, code) in [
            (without("turnover"), "missing_field"),
            (without("relevant_goods"), "missing_field"),
            (with("sales"), "fields_exclude_each_other"),
            (with("purchases"), "fields_exclude_each_other"),
        ] {
            let answer = client.post(GOODS_TESTS, &request);
            assert_eq!(answer.status, 400, "{request:#}");
            assert_eq!(problem_codes(&answer.json()), [code.to_owned()].into(), "{request:#}");
        }
        // Empty lists mean nothing sold and nothing bought.
        let mut nil = without("turnover");
        nil.as_object_mut().map(|members| members.remove("relevant_goods"));
        nil["sales"] = json!([]);
        nil["purchases"] = json!([]);
        let answer = client.calculate(GOODS_TESTS, &nil);
        assert_eq!(answer["what_would_change"]["spend_needed"], "250.00");
    });
}

/// SI 2017/295 reg 1: no test before 1 April 2017, and one figure is not enough for a period that straddles that day.
#[test]
fn there_is_no_test_before_april_2017() {
    with_server(|client| {
        for (start, end, codes) in [
            ("2017-01-01", "2017-03-31", &["date_outside_law"][..]),
            ("2017-01-01", "2017-04-01", &["period_must_be_split"]),
            ("2017-03-31", "2017-06-30", &["period_must_be_split"]),
            ("2017-04-01", "2017-06-30", &[]),
        ] {
            let mut request = totals("10000.00", "260.00");
            request["period"] = json!({ "start": start, "end": end });
            let answer = client.post(GOODS_TESTS, &request);
            let expected = codes.iter().map(|code| (*code).to_owned()).collect();
            if codes.is_empty() {
                assert_eq!(answer.status, 200, "{}", answer.text());
            } else {
                assert_eq!((answer.status, problem_codes(&answer.json())), (422, expected), "{start} to {end}");
            }
        }
    });
}
