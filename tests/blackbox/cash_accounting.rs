//! The cash accounting scheme over HTTP: who may use it, who must leave, and what leaving costs.

use crate::answers::{ShownLaw, assert_sound};
use acceptance::figures::{list_at, quarter, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

fn asked(cash: Value) -> Value {
    let mut request = quarter(
        json!([{ "treatment": "standard_rated", "gross": "12000.00" }]),
        json!([{ "spend": "materials", "net": "500.00", "vat": "0.00" }]),
    );
    request["cash_accounting"] = cash;
    request
}

fn unanswered(conditions: &[Value]) -> Vec<&str> {
    conditions
        .iter()
        .filter(|condition| condition["answer"] == "not_known")
        .map(|condition| text_at(condition, "/condition"))
        .collect()
}

#[test]
fn each_limit_a_penny_either_side() {
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for (expected, may_use) in [("1349999.99", true), ("1350000.00", true), ("1350000.01", false)] {
            let request = asked(json!({
                "expected_turnover": expected,
                "returns_and_payments_up_to_date": true,
                "no_vat_offence_in_past_year": true
            }));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            law.assert_states(&answer);
            assert_eq!(answer["cash_accounting"]["may_use"], json!(may_use), "{expected}");
            assert_eq!(answer["cash_accounting"].get("must_leave"), None);
        }
        for (past, must_leave) in [("1599999.99", false), ("1600000.00", false), ("1600000.01", true)] {
            let request = asked(json!({ "past_turnover": past, "genuine_commercial_activity": false }));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            law.assert_states(&answer);
            assert_eq!(answer["cash_accounting"]["must_leave"], json!(must_leave), "{past}");
            assert_eq!(answer["cash_accounting"].get("may_use"), None);
        }
        for (expected, must_leave) in [("1349999.99", false), ("1350000.00", true)] {
            let request = asked(json!({
                "past_turnover": "1600000.01",
                "expected_turnover": expected,
                "not_to_be_repeated": true,
                "genuine_commercial_activity": true
            }));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            law.assert_states(&answer);
            assert_eq!(answer["cash_accounting"]["must_leave"], json!(must_leave), "{expected}");
        }
        for (turnover, time) in [("1350000.00", "at_once_or_within_six_months"), ("1350000.01", "at_once")] {
            let request = asked(json!({ "leaving": {
                "on": "2025-06-30",
                "turnover_last_three_months": turnover,
                "left_late": false, "removed": false, "deregistered": false
            } }));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            law.assert_states(&answer);
            assert_eq!(text_at(&answer, "/cash_accounting/leaving/time"), time);
        }
    });
}

#[test]
fn what_is_not_known_comes_back_as_a_question() {
    with_server(|client| {
        let request = asked(json!({ "leaving": { "on": "2025-06-30" } }));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        let cash = &answer["cash_accounting"];
        assert_eq!((cash.get("may_use"), cash.get("must_leave")), (None, None));
        assert_eq!(
            unanswered(list_at(cash, "/conditions")),
            [
                "expected_turnover_within_limit",
                "returns_and_payments_up_to_date",
                "no_vat_offence_in_past_year",
                "past_turnover_above_limit"
            ]
        );
        assert_eq!(
            unanswered(list_at(cash, "/leaving/conditions")),
            ["last_three_months_above_limit", "left_late", "removed", "deregistered"]
        );
        assert_eq!(cash["leaving"]["time"], "not_known");
        assert_eq!(cash["leaving"].get("six_months_until"), None);
        for condition in list_at(cash, "/conditions").iter().chain(list_at(cash, "/leaving/conditions")) {
            assert!(text_at(condition, "/question").ends_with('?'), "{condition:#}");
            assert!(text_at(condition, "/consequence").ends_with('.'), "{condition:#}");
            assert!(!list_at(condition, "/authority").is_empty(), "{condition:#}");
        }
    });
}

#[test]
fn leaving_is_worked_out_and_stands_on_neither_return() {
    with_server(|client| {
        let leaving = json!({ "leaving": {
            "on": "2025-06-30",
            "debtors": [
                { "treatment": "standard_rated", "gross": "12000.00" },
                { "treatment": "reduced_rated", "gross": "105.00" },
                { "treatment": "exempt", "gross": "999.00" }
            ],
            "creditors": [
                { "treatment": "standard_rated", "gross": "3600.00" },
                { "treatment": "standard_rated", "gross": "1200.00", "recoverable_percentage": "50" },
                { "treatment": "zero_rated", "gross": "50.00", "recoverable_percentage": "0" }
            ],
            "turnover_last_three_months": "400000",
            "left_late": false, "removed": false, "deregistered": false
        } });
        let request = asked(leaving);
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        ShownLaw::of(client).assert_states(&answer);
        let left = &answer["cash_accounting"]["leaving"];
        assert_eq!([&left["output_tax"], &left["input_tax"], &left["net_due"]], ["2005.00", "700.00", "1305.00"]);
        assert_eq!(left["six_months_until"], "2025-12-31");
        let mut plain = request;
        plain.as_object_mut().expect("an object").remove("cash_accounting");
        let without = client.compare(&plain);
        for name in ["standard", "flat_rate", "comparison"] {
            assert_eq!(answer[name], without[name], "{name}");
        }
        assert_eq!(without.get("cash_accounting"), None);
    });
}

/// It is asked once: beside the period by money received there is no second answer.
#[test]
fn it_is_answered_once_where_both_bases_are_given() {
    with_server(|client| {
        let mut request = asked(json!({
            "expected_turnover": "1.00", "past_turnover": "1600000.01", "not_to_be_repeated": false
        }));
        request["received"] = json!({
            "sales": [{ "treatment": "domestic_reverse_charge", "net": "100.00" }],
            "purchases": [{ "spend": "services", "supply": "overseas_services_reverse_charge", "net": "100.00" }]
        });
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(answer["received"].get("cash_accounting"), None);
        let codes = |pointer: &str| -> Vec<&str> {
            list_at(&answer, pointer).iter().map(|warning| text_at(warning, "/code")).collect()
        };
        assert!(codes("/warnings").contains(&"cash_accounting_must_leave"));
        assert!(!codes("/received/warnings").contains(&"cash_accounting_must_leave"));
        assert!(!codes("/warnings").contains(&"supply_outside_cash_accounting"));
        let outside = list_at(&answer, "/received/warnings")
            .iter()
            .find(|warning| warning["code"] == "supply_outside_cash_accounting")
            .expect("a warning");
        assert_eq!(outside["lines"], json!(["/received/sales/0", "/received/purchases/0"]));
    });
}

#[test]
fn what_cannot_be_read_or_used_is_refused() {
    with_server(|client| {
        for (cash, pointer, code) in [
            (json!({ "expected_turnover": "-1.00" }), "/expected_turnover", "amount_not_valid"),
            (json!({ "past_turnover": 1 }), "/past_turnover", "amount_must_be_string"),
            (json!({ "not_to_be_repeated": "yes" }), "/not_to_be_repeated", "wrong_type"),
            (json!({ "turnover": "1.00" }), "/turnover", "unknown_field"),
            (json!({ "leaving": {} }), "/leaving/on", "missing_field"),
            (json!({ "leaving": null }), "/leaving", "null_not_allowed"),
            (
                json!({ "leaving": { "on": "2025-06-30", "debtors": [{ "gross": "1.00" }] } }),
                "/leaving/debtors/0/treatment",
                "missing_field",
            ),
            (
                json!({ "leaving": { "on": "2025-06-30", "creditors": [{ "treatment": "standard_rated" }] } }),
                "/leaving/creditors/0/gross",
                "missing_field",
            ),
            (
                json!({ "leaving": { "on": "2025-06-30", "debtors": [
                    { "treatment": "standard_rated", "gross": "1.00", "recoverable_percentage": "50" }
                ] } }),
                "/leaving/debtors/0/recoverable_percentage",
                "unknown_field",
            ),
            (
                json!({ "leaving": { "on": "2025-06-30", "debtors": [{ "treatment": "hospitality_rated", "gross": "1" }] } }),
                "/leaving/debtors/0/treatment",
                "unknown_value",
            ),
        ] {
            let problem = client.refuse(400, &asked(cash));
            let pointer = format!("/cash_accounting{pointer}");
            assert_eq!(text_at(&problem, "/errors/0/pointer"), pointer, "{problem:#}");
            assert_eq!(text_at(&problem, "/errors/0/code"), code, "{problem:#}");
        }
        for (on, status) in [("2025-03-31", 422), ("2025-04-01", 200), ("2025-06-30", 200), ("2025-07-01", 422)] {
            let answer = client.post_comparison(&asked(json!({ "leaving": { "on": on } })));
            assert_eq!(answer.status, status, "{on}");
            if status == 422 {
                let problem = answer.json();
                assert_eq!(text_at(&problem, "/errors/0/code"), "dates_out_of_order");
                assert_eq!(text_at(&problem, "/errors/0/pointer"), "/cash_accounting/leaving/on");
            }
        }
    });
}
