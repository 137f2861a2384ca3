//! The days that follow from a limit passed: month ends, leap years, anniversaries, and the end of a scheme.

use crate::answers::{assert_sound, warning_codes};
use crate::thresholds::{checked, limit, months, unregistered, user};
use acceptance::figures::{consultant, list_at, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

/// VATA 1994 Sch 1 paras 5, 6; VATREG18300: thirty days from the month end, registered from the second month.
#[test]
fn the_backward_test_counts_from_the_month_end() {
    with_server(|client| {
        for (end, as_of, liable, notify, from) in [
            ("2025-04-22", "2025-04-30", "2025-04-30", "2025-05-30", "2025-06-01"),
            ("2025-05-01", "2025-05-31", "2025-05-31", "2025-06-30", "2025-07-01"),
            ("2024-01-31", "2024-01-31", "2024-01-31", "2024-03-01", "2024-03-01"),
            ("2025-01-31", "2025-01-31", "2025-01-31", "2025-03-02", "2025-03-01"),
            ("2024-02-29", "2024-02-29", "2024-02-29", "2024-03-30", "2024-04-01"),
            ("2023-02-28", "2023-02-28", "2023-02-28", "2023-03-30", "2023-04-01"),
            ("2025-11-15", "2025-12-31", "2025-11-30", "2025-12-30", "2026-01-01"),
            ("2025-12-31", "2025-12-31", "2025-12-31", "2026-01-30", "2026-02-01"),
        ] {
            let request = unregistered(as_of, json!({ "past_year": { "end": end, "taxable_supplies": "95000.00" } }));
            let answer = checked(client, &request);
            let check = limit(&answer, "registration_past_year");
            assert_eq!(
                (&check["status"], &check["liable_on"], &check["notify_by"], &check["effective_from"]),
                (&json!("crossed"), &json!(liable), &json!(notify), &json!(from)),
                "{end}"
            );
        }
    });
}

/// Over the limit before the month is over: the test is still to come.
#[test]
fn a_month_that_is_not_over_is_expected() {
    with_server(|client| {
        for (as_of, status) in [("2025-04-22", "expected"), ("2025-04-29", "expected"), ("2025-04-30", "crossed")] {
            let request =
                unregistered(as_of, json!({ "past_year": { "end": "2025-04-22", "taxable_supplies": "90000.01" } }));
            let answer = checked(client, &request);
            let check = limit(&answer, "registration_past_year");
            assert_eq!((&check["status"], &check["liable_on"]), (&json!(status), &json!("2025-04-30")), "{as_of}");
            assert_eq!(check["crossed_on"].is_string(), status == "crossed", "{as_of}");
        }
        // By months the same: a month called actual may have begun, and the test comes at its end.
        let mut begun = months((2024, 5), &[750_001; 12]);
        begun[11]["basis"] = json!("actual");
        for (as_of, status) in [("2025-04-01", "expected"), ("2025-04-30", "crossed")] {
            let answer = checked(client, &unregistered(as_of, json!({ "months": begun })));
            assert_eq!(limit(&answer, "registration_past_year")["status"], status, "{as_of}");
        }
    });
}

/// The first month end over the limit makes the business liable, whatever comes after.
#[test]
fn the_first_month_end_over_the_limit_counts() {
    with_server(|client| {
        let mut totals = vec![700_000; 12];
        totals.extend([1_400_000, 0, 0, 0]);
        let answer = checked(client, &unregistered("2025-04-30", json!({ "months": months((2024, 1), &totals) })));
        let check = limit(&answer, "registration_past_year");
        assert_eq!((&check["status"], &check["liable_on"]), (&json!("crossed"), &json!("2025-01-31")));
        assert_eq!(check["what_to_do"].as_str().map(|text| text.contains("That day has passed")), Some(true));
        // Late, the exception looks at the year that began then; here only three months of it are known.
        assert_eq!(limit(&answer, "registration_exception")["status"], "not_checked");
    });
}

/// Seen in time, the exception looks at the year ahead.
#[test]
fn the_exception_follows_the_backward_test() {
    with_server(|client| {
        let mut totals = vec![750_001; 12];
        totals.extend([733_333; 12]);
        for (last, outcome) in [(733_337, "may_ask_for_exception"), (733_338, "no_exception")] {
            totals[23] = last;
            let answer = checked(client, &unregistered("2025-12-31", json!({ "months": months((2025, 1), &totals) })));
            assert_eq!(limit(&answer, "registration_exception")["outcome"], outcome, "{last}");
            assert_eq!(limit(&answer, "registration_exception")["tested_on"], "2025-12-31");
        }
    });
}

/// VATREG18300: belief formed on 22 April, tell HMRC by 22 May, registered from 22 April.
#[test]
fn the_forward_test_counts_from_the_day() {
    with_server(|client| {
        for (as_of, notify) in [
            ("2025-04-22", "2025-05-22"),
            ("2024-01-31", "2024-03-01"),
            ("2024-02-28", "2024-03-29"),
            ("2024-02-29", "2024-03-30"),
            ("2025-02-28", "2025-03-30"),
            ("2025-12-31", "2026-01-30"),
        ] {
            let answer =
                checked(client, &unregistered(as_of, json!({ "next_30_days": { "taxable_supplies": "100000.00" } })));
            let check = limit(&answer, "registration_next_30_days");
            assert_eq!(
                (&check["liable_on"], &check["notify_by"], &check["effective_from"]),
                (&json!(as_of), &json!(notify), &json!(as_of))
            );
        }
    });
}

fn leaving(from: &str, period: [&str; 2], as_of: &str, end: &str, annual: bool) -> Value {
    json!({
        "as_of": as_of,
        "period": { "start": period[0], "end": period[1] },
        "business": { "registered_on": "2011-01-04", "flat_rate_from": from, "uses_annual_accounting": annual },
        "turnover": { "past_year": { "end": end, "total_income": "240000.00" } }
    })
}

/// Reg 55Q(1)(a): the end of the period in which the anniversary falls; with annual accounting no later than the end of the month
/// after the anniversary's month. 28 February stands for 29 February.
#[test]
fn the_scheme_ends_with_the_period_of_the_anniversary() {
    with_server(|client| {
        let (april, year) = (["2026-02-01", "2026-04-30"], ["2025-04-01", "2026-03-31"]);
        for (from, period, anniversary, annual, out, notify) in [
            ("2024-02-15", april, "2026-02-15", false, "2026-05-01", "2026-03-17"),
            ("2024-02-01", april, "2026-02-01", false, "2026-05-01", "2026-03-03"),
            ("2024-01-31", april, "2026-01-31", false, "2026-02-01", "2026-03-02"),
            ("2024-04-30", april, "2025-04-30", false, "2025-05-01", "2025-05-30"),
            ("2024-05-01", april, "2025-05-01", false, "2025-08-01", "2025-05-31"),
            ("2024-02-29", april, "2025-02-28", false, "2025-05-01", "2025-03-30"),
            ("2020-02-29", april, "2024-02-29", false, "2024-05-01", "2024-03-30"),
            ("2024-06-10", year, "2025-06-10", true, "2025-08-01", "2025-07-10"),
            ("2024-03-10", year, "2026-03-10", true, "2026-04-01", "2026-04-09"),
            ("2024-06-10", year, "2025-06-10", false, "2026-04-01", "2025-07-10"),
            ("2024-02-15", ["2026-06-01", "2026-06-30"], "2026-02-15", false, "2026-03-01", "2026-03-17"),
        ] {
            let request = leaving(from, period, anniversary, anniversary, annual);
            let answer = checked(client, &request);
            let check = limit(&answer, "flat_rate_leaving_anniversary");
            assert_eq!(
                (&check["crossed_on"], &check["effective_from"], &check["notify_by"]),
                (&json!(anniversary), &json!(out), &json!(notify)),
                "{from}"
            );
            assert_eq!(answer["flat_rate_eligibility"]["out_from"], out, "{from}");
        }
        let mut without = leaving("2024-02-15", april, "2026-02-15", "2026-02-15", false);
        without.as_object_mut().map(|request| request.remove("period"));
        let answer = checked(client, &without);
        let check = limit(&answer, "flat_rate_leaving_anniversary");
        assert!(check.get("effective_from").is_none() && check["figures_needed"].is_array(), "{check:#}");
    });
}

/// By months: exact where the anniversary is at the edge of a month, the last whole months before it otherwise.
#[test]
fn whole_months_stand_for_a_year_that_ends_inside_one() {
    with_server(|client| {
        // January 2024 to April 2025: December 2024 and later months are dearer.
        let mut totals = vec![1_000_000; 11];
        totals.extend([12_000_000, 100, 100, 10_000_000, 100]);
        let given = json!({ "months": months((2024, 1), &totals) });
        for (from, on, first, last) in [
            ("2023-02-01", "2025-02-01", 1, 12),
            ("2023-01-31", "2025-01-31", 1, 12),
            ("2023-02-15", "2025-02-15", 1, 12),
            ("2023-02-28", "2025-02-28", 2, 13),
            ("2024-02-29", "2025-02-28", 2, 13),
            ("2023-03-01", "2025-03-01", 2, 13),
        ] {
            let request = json!({
                "as_of": "2025-04-30",
                "business": { "registered_on": "2011-01-04", "flat_rate_from": from },
                "turnover": given
            });
            let answer = checked(client, &request);
            let day = answer
                .pointer("/limits/checks/6/days")
                .and_then(Value::as_array)
                .and_then(|days| days.iter().find(|day| day["on"] == on))
                .unwrap_or_else(|| panic!("no {on} in {answer:#}"));
            let sum: i64 = totals[first..=last].iter().sum();
            assert_eq!(day["measured"], acceptance::figures::pounds(sum), "{from}");
        }
        // Inside a month the twelve that end with it may have the other outcome: close, and said. A quiet year follows.
        totals.extend([100; 10]);
        let request = json!({
            "as_of": "2026-02-28",
            "business": { "registered_on": "2011-01-04", "flat_rate_from": "2024-03-15" },
            "turnover": { "months": months((2024, 1), &totals) }
        });
        let answer = checked(client, &request);
        let check = limit(&answer, "flat_rate_leaving_anniversary");
        assert_eq!((&check["status"], &check["outcome"]), (&json!("close"), &json!("stays")), "{check:#}");
        assert_eq!(check["finding"].as_str().map(|text| text.contains("other outcome")), Some(true));
    });
}

/// A figure over the limit between anniversaries is an early warning; the next anniversary is looked at too.
#[test]
fn between_anniversaries_there_is_an_early_warning() {
    with_server(|client| {
        let mut totals = vec![1_500_000; 12];
        totals.extend([3_000_000; 6]);
        // To 15 February 2025 all is well; August 2025 is past the limit, and so will be February 2026.
        let answer = checked(client, &user("2025-08-31", json!({ "months": months((2024, 3), &totals) })));
        let running = limit(&answer, "flat_rate_running_income");
        assert_eq!((&running["status"], &running["outcome"]), (&json!("close"), &json!("stays")), "{running:#}");
        let anniversary = limit(&answer, "flat_rate_leaving_anniversary");
        assert_eq!(anniversary["status"], "expected", "{anniversary:#}");
        assert!(anniversary.get("notify_by").is_none(), "{anniversary:#}");
        let outlook = &anniversary["outlook"][0];
        assert_eq!(
            (&outlook["on"], &outlook["crosses_on"]),
            (&json!("2026-01-31"), &json!("2026-01-31")),
            "{outlook:#}"
        );
    });
}

/// Reg 55M(1)(b), 55Q: the beginning of the thirty days is the first day outside.
#[test]
fn thirty_days_of_income_end_the_scheme_at_once() {
    with_server(|client| {
        let answer = checked(client, &user("2025-03-10", json!({ "next_30_days": { "total_income": "230000.01" } })));
        let check = limit(&answer, "flat_rate_leaving_next_30_days");
        assert_eq!((&check["effective_from"], &check["notify_by"]), (&json!("2025-03-10"), &json!("2025-04-09")));
        assert_eq!(answer["flat_rate_eligibility"]["out_from"], "2025-03-10");
        assert_eq!(answer["flat_rate_eligibility"]["return_from"], "2026-03-10");
        // No relief for a lower year ahead.
        assert_eq!(limit(&answer, "flat_rate_staying")["status"], "not_applicable");
    });
}

/// Reg 60(1): only the end of a VAT period counts for cash accounting.
#[test]
fn cash_accounting_ends_with_a_period() {
    with_server(|client| {
        let mut totals = vec![13_300_000; 12];
        totals.extend([13_700_000, 13_300_000, 13_300_000]);
        let asked = |totals: &[i64], period: Option<Value>| {
            let mut request = json!({
                "as_of": "2025-03-31",
                "business": { "registered_on": "2011-01-04", "uses_cash_accounting": true },
                "turnover": { "months": months((2024, 1), totals) }
            });
            if let Some(period) = period {
                request["period"] = period;
            }
            limit(&checked(client, &request), "cash_accounting_leaving").clone()
        };
        // Twelve months are £1,600,000.00 from January 2025 on: not over.
        assert_eq!(asked(&totals, None)["outcome"], "stays");
        totals[12] += 1;
        assert_eq!(asked(&totals, None)["effective_from"], "2025-02-01");
        let quarter = asked(&totals, Some(json!({ "start": "2025-01-01", "end": "2025-03-31" })));
        assert_eq!((&quarter["crossed_on"], &quarter["effective_from"]), (&json!("2025-03-31"), &json!("2025-04-01")));
    });
}

/// FRS4400, reg 55M(1)(a): a year over the limit that doesn't end at an anniversary crosses nothing, and isn't passed over either.
#[test]
fn a_year_given_as_one_figure_between_anniversaries_is_an_early_warning() {
    with_server(|client| {
        for (income, status, warned) in [
            ("230000.01", "close", true),
            ("230000.00", "close", true),
            ("207000.00", "close", true),
            ("206999.99", "clear", false),
        ] {
            let turnover = json!({ "past_year": { "end": "2025-03-31", "total_income": income } });
            let request = user("2025-04-30", turnover.clone());
            let answer = checked(client, &request);
            let running = limit(&answer, "flat_rate_running_income");
            assert_eq!((&running["status"], &running["outcome"]), (&json!(status), &json!("stays")), "{running:#}");
            assert_eq!((&running["measured"], &running["days"][0]["on"]), (&json!(income), &json!("2025-03-31")));
            assert_eq!(limit(&answer, "flat_rate_leaving_anniversary")["status"], "not_checked");

            let mut request = consultant();
            request["period"] = json!({ "start": "2025-02-01", "end": "2025-04-30" });
            request["business"]["flat_rate_from"] = json!("2023-02-15");
            request["turnover"] = turnover;
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let early = warning_codes(&answer).iter().filter(|code| **code == "leaving_limit_close").count();
            assert_eq!(early, usize::from(warned), "{income}: {answer:#}");
        }
        // At the anniversary one warning says it all.
        let mut request = consultant();
        request["period"] = json!({ "start": "2025-02-01", "end": "2025-04-30" });
        request["business"]["flat_rate_from"] = json!("2023-02-15");
        request["turnover"] = json!({ "past_year": { "end": "2025-02-15", "total_income": "207000.00" } });
        let codes = client.compare(&request);
        let said = warning_codes(&codes).iter().filter(|code| code.starts_with("leaving_limit")).count();
        assert_eq!(said, 1, "{codes:#}");
    });
}

/// A year in one figure beside months counts where the months do not reach, and every figure has one step.
#[test]
fn a_past_year_and_months_stand_side_by_side() {
    with_server(|client| {
        for (end, year, status, on) in [
            // Before the months: what it crosses was crossed first.
            ("2024-06-30", "95000.00", "crossed", "2024-06-30"),
            ("2024-06-30", "80000.00", "crossed", "2025-06-30"),
            // Within them, and covered by them: the months are finer.
            ("2025-06-30", "1.00", "crossed", "2025-06-30"),
        ] {
            let request = unregistered(
                "2025-07-31",
                json!({
                    "past_year": { "end": end, "taxable_supplies": year, "total_income": year },
                    "months": months((2024, 7), &[760_000; 13])
                }),
            );
            let answer = checked(client, &request);
            let check = limit(&answer, "registration_past_year");
            assert_eq!((&check["status"], &check["crossed_on"]), (&json!(status), &json!(on)), "{check:#}");
            let days: Vec<&str> = list_at(check, "/days").iter().map(|day| text_at(day, "/on")).collect();
            assert!(days.is_sorted(), "{days:?}");
        }
        // The year ends after the months: the last figure decides.
        let mut request = user(
            "2025-08-31",
            json!({
                "past_year": { "end": "2025-08-31", "taxable_supplies": "1700000.00", "total_income": "240000.00" },
                "months": months((2024, 7), &[760_000; 12])
            }),
        );
        request["business"]["uses_cash_accounting"] = json!(true);
        let answer = checked(client, &request);
        assert_eq!(limit(&answer, "flat_rate_running_income")["measured"], "240000.00");
        assert_eq!(limit(&answer, "cash_accounting_leaving")["measured"], "1700000.00");
    });
}

/// A month end that could not be tested is named: the limit may have been passed there.
#[test]
fn month_ends_that_were_not_tested_are_named() {
    with_server(|client| {
        let request = unregistered("2025-07-31", json!({ "months": months((2024, 7), &[700_000; 13]) }));
        let answer = checked(client, &request);
        let check = limit(&answer, "registration_past_year");
        assert_eq!(check["status"], "close", "{check:#}");
        assert!(text_at(check, "/finding").contains("from 2024-07-31 to 2025-05-31 were not tested"), "{check:#}");
        assert_eq!(list_at(check, "/figures_needed").len(), 1);
        let mut whole = request;
        whole["business"]["trading_from"] = json!("2024-07-08");
        let answer = checked(client, &whole);
        let check = limit(&answer, "registration_past_year");
        assert!(!text_at(check, "/finding").contains("not tested"), "{check:#}");
        assert!(check.get("figures_needed").is_none(), "{check:#}");
    });
}
