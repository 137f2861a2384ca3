//! Every limit to the penny, and on the days on which it changed.

use crate::thresholds::{checked, limit, unregistered, user};
use acceptance::figures::pounds;
use acceptance::server::with_server;
use serde_json::{Value, json};

/// A request that measures one figure against one limit on a day.
type Asks = fn(&str, &str) -> Value;

fn registered(as_of: &str, turnover: Value) -> Value {
    json!({ "as_of": as_of, "business": { "registered_on": "2011-01-04" }, "turnover": turnover })
}

fn accounting(as_of: &str, scheme: &str, amount: &str) -> Value {
    json!({
        "as_of": as_of,
        "business": { "registered_on": "2011-01-04", scheme: true },
        "turnover": { "past_year": { "taxable_supplies": amount } }
    })
}

type Limit = (&'static str, Asks, &'static str, &'static str, &'static [(&'static str, i64)]);

/// Each limit: its check, the request, the outcome at the limit and the one a penny over it, and what it was on which day.
const LIMITS: &[Limit] = &[
    (
        "registration_past_year",
        |on, amount| unregistered(on, json!({ "past_year": { "taxable_supplies": amount } })),
        "need_not_register",
        "must_register",
        &[
            ("2011-03-31", 70_000),
            ("2011-04-30", 73_000),
            ("2012-04-30", 77_000),
            ("2013-04-30", 79_000),
            ("2014-04-30", 81_000),
            ("2015-04-30", 82_000),
            ("2016-04-30", 83_000),
            ("2017-03-31", 83_000),
            ("2017-04-30", 85_000),
            ("2024-03-31", 85_000),
            ("2024-04-30", 90_000),
        ],
    ),
    (
        "registration_next_30_days",
        |on, amount| unregistered(on, json!({ "next_30_days": { "taxable_supplies": amount } })),
        "need_not_register",
        "must_register",
        &[
            ("2011-01-04", 70_000),
            ("2011-03-31", 70_000),
            ("2011-04-01", 73_000),
            ("2012-03-31", 73_000),
            ("2012-04-01", 77_000),
            ("2017-03-31", 83_000),
            ("2017-04-01", 85_000),
            ("2024-03-31", 85_000),
            ("2024-04-01", 90_000),
        ],
    ),
    (
        "deregistration",
        |on, amount| registered(on, json!({ "next_year": { "taxable_supplies": amount } })),
        "may_deregister",
        "may_not_deregister",
        &[
            ("2011-03-31", 68_000),
            ("2011-04-01", 71_000),
            ("2017-03-31", 81_000),
            ("2017-04-01", 83_000),
            ("2024-03-31", 83_000),
            ("2024-04-01", 88_000),
        ],
    ),
    (
        "goods_on_hand",
        |on, amount| json!({ "as_of": on, "business": { "registered_on": "2011-01-04" }, "goods_on_hand": { "vat": amount } }),
        "no_vat_due_on_goods",
        "vat_due_on_goods",
        &[("2011-01-04", 1_000), ("2026-04-30", 1_000)],
    ),
    (
        "flat_rate_joining",
        |on, amount| registered(on, json!({ "next_year": { "taxable_supplies": amount } })),
        "may_join",
        "may_not_join",
        &[("2011-01-04", 150_000), ("2026-04-30", 150_000)],
    ),
    (
        "flat_rate_leaving_anniversary",
        |on, amount| user(on, json!({ "past_year": { "total_income": amount } })),
        "stays",
        "must_leave",
        &[("2024-02-15", 230_000), ("2025-02-15", 230_000), ("2026-02-15", 230_000)],
    ),
    (
        "flat_rate_leaving_next_30_days",
        |on, amount| user(on, json!({ "next_30_days": { "total_income": amount } })),
        "stays",
        "must_leave",
        &[("2023-02-15", 230_000), ("2026-04-30", 230_000)],
    ),
    (
        "flat_rate_staying",
        |on, amount| {
            user(on, json!({ "past_year": { "total_income": "230000.01" }, "next_year": { "total_income": amount } }))
        },
        "may_ask_to_stay",
        "may_not_ask_to_stay",
        &[("2025-02-15", 191_500)],
    ),
    (
        "registration_exception",
        |on, amount| {
            unregistered(
                on,
                json!({ "past_year": { "taxable_supplies": "95000.00" }, "next_year": { "taxable_supplies": amount } }),
            )
        },
        "may_ask_for_exception",
        "no_exception",
        &[("2024-03-31", 83_000), ("2024-04-30", 88_000)],
    ),
    (
        "cash_accounting_joining",
        |on, amount| registered(on, json!({ "next_year": { "taxable_supplies": amount } })),
        "may_join",
        "may_not_join",
        &[("2011-01-04", 1_350_000), ("2026-04-30", 1_350_000)],
    ),
    (
        "cash_accounting_leaving",
        |on, amount| accounting(on, "uses_cash_accounting", amount),
        "stays",
        "must_leave",
        &[("2011-01-31", 1_600_000), ("2026-04-30", 1_600_000)],
    ),
    (
        "annual_accounting_joining",
        |on, amount| registered(on, json!({ "next_year": { "taxable_supplies": amount } })),
        "may_join",
        "may_not_join",
        &[("2011-01-04", 1_350_000), ("2026-04-30", 1_350_000)],
    ),
    (
        "annual_accounting_leaving",
        |on, amount| accounting(on, "uses_annual_accounting", amount),
        "stays",
        "must_leave",
        &[("2011-01-31", 1_600_000), ("2026-04-30", 1_600_000)],
    ),
];

/// Exactly the limit is not over it; a penny more is; a tenth below is close, and a penny less than that clear.
#[test]
fn exactly_the_limit_is_not_over_it() {
    with_server(|client| {
        for (name, asks, at_limit, over, days) in LIMITS {
            for (on, whole) in *days {
                let limit_pence = whole * 100;
                for (pence, status, outcome) in [
                    (limit_pence * 9 / 10 - 1, "clear", at_limit),
                    (limit_pence * 9 / 10, "close", at_limit),
                    (limit_pence - 1, "close", at_limit),
                    (limit_pence, "close", at_limit),
                    (limit_pence + 1, "crossed", over),
                ] {
                    let answer = checked(client, &asks(on, &pounds(pence)));
                    let check = limit(&answer, name);
                    assert_eq!(
                        (&check["status"], &check["outcome"], &check["limit"], &check["headroom"]),
                        (
                            &json!(status),
                            &json!(outcome),
                            &json!(pounds(limit_pence)),
                            &json!(pounds(limit_pence - pence))
                        ),
                        "{name} on {on} with {pence}"
                    );
                }
            }
        }
    });
}

/// Between anniversaries, on the day before one and on the day after, nothing is crossed (reg 55M(1)(a)).
#[test]
fn only_a_year_that_ends_at_an_anniversary_counts() {
    with_server(|client| {
        for (end, status) in [
            ("2025-02-13", "not_checked"),
            ("2025-02-14", "crossed"),
            ("2025-02-15", "crossed"),
            ("2025-02-16", "not_checked"),
        ] {
            let request = user("2025-04-30", json!({ "past_year": { "end": end, "total_income": "230000.01" } }));
            assert_eq!(limit(&checked(client, &request), "flat_rate_leaving_anniversary")["status"], status, "{end}");
        }
    });
}

/// VATA 1994 Sch 1A: no limit for those who are not established here.
#[test]
fn a_person_not_established_has_no_limit() {
    with_server(|client| {
        let mut request = unregistered("2026-04-30", json!({ "past_year": { "taxable_supplies": "1.00" } }));
        request["business"] = json!({ "established_in_uk": false });
        let answer = checked(client, &request);
        for name in ["registration_past_year", "registration_next_30_days"] {
            let check = limit(&answer, name);
            assert_eq!((&check["status"], &check["outcome"]), (&json!("not_applicable"), &json!("no_limit")), "{name}");
            assert!(check.get("limit").is_none());
        }
    });
}

/// Services bought from abroad count for registration and for its end, and not for joining the scheme (reg 55L(2)).
#[test]
fn services_from_abroad_count_for_registration_alone() {
    with_server(|client| {
        let next = json!({ "next_year": { "taxable_supplies": "87000.00", "overseas_services_received": "1000.01" } });
        let answer = checked(client, &registered("2026-04-30", next));
        assert_eq!(limit(&answer, "deregistration")["measured"], "88000.01");
        assert_eq!(limit(&answer, "deregistration")["outcome"], "may_not_deregister");
        assert_eq!(limit(&answer, "flat_rate_joining")["measured"], "87000.00");
        let past = json!({ "past_year": { "taxable_supplies": "89000.00", "overseas_services_received": "1000.01" } });
        let answer = checked(client, &unregistered("2026-04-30", past));
        assert_eq!(limit(&answer, "registration_past_year")["status"], "crossed");
    });
}
