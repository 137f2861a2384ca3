//! Dates over HTTP: due dates against a count of their own, every kind of day and event, and the calendar read back by a library.

use crate::answers::{ShownLaw, assert_sound, warning_codes};
use acceptance::calendar::Day;
use acceptance::client::{Call, Client, DATES, problem_codes};
use acceptance::diary;
use acceptance::document::Document;
use acceptance::figures::{list_at, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The warnings that only dates bring.
pub const WARNINGS: [&str; 3] = ["due_date_not_computed", "working_days_not_known", "bank_holidays_not_proclaimed"];

/// The dates of a business with quarters to March, June, September and December.
pub fn quarterly(from: &str, until: &str) -> Value {
    json!({
        "from": from,
        "until": until,
        "business": {
            "registered_on": "2009-04-01",
            "nation": "england_and_wales",
            "return_periods": "quarterly_stagger_1"
        }
    })
}

/// A young flat rate user with annual accounting, a customer and a supplier unpaid, and everything else that can happen.
fn eventful() -> Value {
    let mut request = quarterly("2026-01-01", "2030-12-31");
    request["reference"] = json!("Smith, Jones; and\\sons – café");
    request["business"]["registered_on"] = json!("2025-03-10");
    request["business"]["flat_rate_from"] = json!("2025-03-10");
    request["business"]["liability_notified_on"] = json!("2026-01-15");
    request["events"] = Document::checked_in()
        .words("EventKind")
        .iter()
        .map(|kind| json!({ "kind": kind, "on": "2026-03-31" }))
        .collect();
    request
}

/// Requests that are refused, each with the code that it gets.
pub fn refused_requests() -> Vec<(Value, &'static str)> {
    let with = |pointer: &str, value: Value| {
        let mut request = quarterly("2026-04-01", "2026-06-30");
        let (parent, name) = pointer.rsplit_once('/').unwrap_or_else(|| panic!("{pointer} has no parent"));
        request.pointer_mut(parent).unwrap_or_else(|| panic!("no {parent}"))[name] = value;
        request
    };
    let mut none = quarterly("2026-04-01", "2026-06-30");
    none["business"].as_object_mut().map(|members| members.remove("return_periods"));
    let backwards = json!([{ "start": "2026-04-01", "end": "2026-03-31" }]);
    let mut listed = none.clone();
    listed["business"]["vat_periods"] = backwards;
    vec![
        (quarterly("2026-04-01", "2031-04-01"), "window_too_long"),
        (quarterly("2026-04-01", "2026-03-31"), "period_end_before_start"),
        (quarterly("2010-12-01", "2011-02-01"), "date_outside_law"),
        (with("/events", json!([{ "kind": "registration_limit_passed", "on": "2026-04-29" }])), "dates_out_of_order"),
        (with("/events", json!([{ "kind": "no_such_thing", "on": "2026-04-29" }])), "unknown_value"),
        (
            with("/events", Value::Array(vec![json!({ "kind": "error_in_period", "on": "2026-03-31" }); 101])),
            "too_many_lines",
        ),
        (with("/business/nation", json!("wales")), "unknown_value"),
        (with("/business/vat_periods", json!([])), "fields_exclude_each_other"),
        (
            with("/business/annual_accounting", json!({ "year_ends_on": "2026-12-31", "instalments": "nine" })),
            "fields_exclude_each_other",
        ),
        (with("/business/flat_rate_from", json!("2009-03-31")), "flat_rate_before_registration"),
        (with("/business/sector", json!("pubs")), "unknown_field"),
        (with("/reference", Value::Null), "null_not_allowed"),
        (none, "missing_field"),
        (listed, "period_end_before_start"),
    ]
}

fn kinds(answer: &Value) -> BTreeSet<String> {
    list_at(answer, "/dates").iter().map(|date| text_at(date, "/kind").to_owned()).collect()
}

/// The days of one kind, in order.
fn days(answer: &Value, kind: &str) -> Vec<String> {
    let of_kind = |date: &&Value| text_at(date, "/kind") == kind;
    list_at(answer, "/dates").iter().filter(of_kind).map(|date| text_at(date, "/on").to_owned()).collect()
}

fn calendar(client: &Client, request: &Value) -> String {
    let answer = client.send(&Call::post(DATES, request.to_string()).header("accept", "text/calendar"));
    assert_eq!((answer.status, answer.media_type()), (200, "text/calendar"), "{}", answer.text());
    assert_eq!(answer.header("content-type"), Some("text/calendar; charset=utf-8"));
    assert_eq!(answer.header("vary"), Some("Accept"));
    assert_eq!(answer.header("cache-control"), Some("no-store"));
    answer.text().to_owned()
}

/// HMRC manual VDSOG400: one calendar month and seven days. Counted here apart: the seventh of the second month after.
#[test]
fn every_due_date_of_fifteen_years_is_the_seventh_of_the_second_month_after() {
    with_server(|client| {
        for (stagger, first_month) in
            [("monthly", 0), ("quarterly_stagger_1", 3), ("quarterly_stagger_2", 1), ("quarterly_stagger_3", 2)]
        {
            for year in (2012..2027).step_by(5) {
                let mut request = quarterly(&format!("{year}-01-01"), &format!("{}-12-31", year + 4));
                request["business"]["return_periods"] = json!(stagger);
                let answer = client.calculate(DATES, &request);
                let mut expected = Vec::new();
                for month in 0..60 {
                    // Due on the 7th: the period ended two months earlier, at the end of that month.
                    let (due_year, due_month) = (year + month / 12, month % 12 + 1);
                    let ended = (due_month + 12 - 2 - 1) % 12 + 1;
                    if first_month == 0 || ended % 3 == first_month % 3 {
                        expected.push(format!("{due_year}-{due_month:02}-07"));
                    }
                }
                // The first due after the window is paid in it, where it falls on a weekend.
                let found: Vec<String> = days(&answer, "return_and_payment_due");
                assert_eq!(found[..expected.len()], expected, "{stagger} {year}");
                assert!(found.len() <= expected.len() + 1);
            }
        }
    });
}

/// Four years after the end of the period (reg 34(1A)), and after the due date of its return (reg 29(1A)), counted here apart.
#[test]
fn four_years_are_counted_from_each_period_and_its_return() {
    with_server(|client| {
        let request = quarterly("2026-01-01", "2026-12-31");
        let answer = client.calculate(DATES, &request);
        let later = |day: &str| Day::read(day).map(|day| day.months_later(48).number());
        let number = |day: &String| Day::read(day).map(Day::number);
        let ends: Vec<_> = ["2022-03-31", "2022-06-30", "2022-09-30", "2022-12-31"].map(later).into();
        assert_eq!(days(&answer, "error_correction_ends").iter().map(number).collect::<Vec<_>>(), ends);
        let dues: Vec<_> = ["2022-02-07", "2022-05-07", "2022-08-07", "2022-11-07"].map(later).into();
        assert_eq!(days(&answer, "input_tax_claim_ends").iter().map(number).collect::<Vec<_>>(), dues);
    });
}

#[test]
fn every_kind_of_day_is_given_in_words_and_cites() {
    let document = Document::checked_in();
    let mut listed: BTreeSet<String> = document.words("DateKind").into_iter().collect();
    let mut annual = eventful();
    annual["business"].as_object_mut().map(|members| members.remove("return_periods"));
    annual["business"]["annual_accounting"] = json!({ "year_ends_on": "2026-12-31", "instalments": "nine", "liability": { "expected": "1234.56", "actual": "-1.00" } });
    let mut left = eventful();
    left["business"]["flat_rate_until"] = json!("2026-06-30");
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for request in [eventful(), annual, left] {
            let answer = client.calculate(DATES, &request);
            assert_sound(&request, &answer);
            law.assert_states(&answer);
            assert_eq!(answer["reference"], request["reference"]);
            for kind in kinds(&answer) {
                listed.remove(&kind);
            }
            let dates = list_at(&answer, "/dates");
            assert!(dates.windows(2).all(|pair| text_at(&pair[0], "/on") <= text_at(&pair[1], "/on")));
            for date in dates {
                for member in ["/title", "/what_to_do", "/rule"] {
                    assert!(text_at(date, member).len() > 15, "{date:#}");
                }
                assert!(
                    text_at(date, "/what_to_do").ends_with('.') && text_at(date, "/rule").ends_with('.'),
                    "{date:#}"
                );
                assert!(!list_at(date, "/authority").is_empty(), "{date:#}");
                if let Some(pointer) = date["event"].as_str() {
                    assert!(request.pointer(pointer).is_some(), "{date:#}");
                }
                let last = date["working_day"]["previous_working_day"].as_str();
                let is_one = date["working_day"]["is_working_day"].as_bool();
                assert!(is_one.is_none_or(|is_one| is_one == (last == date["on"].as_str())), "{date:#}");
            }
        }
    });
    assert!(listed.is_empty(), "kinds of day that no request of this test brings: {listed:?}");
}

#[test]
fn what_is_not_known_is_said() {
    let mut odd = quarterly("2026-01-01", "2026-12-31");
    odd["business"].as_object_mut().map(|members| members.remove("return_periods"));
    odd["business"]["vat_periods"] = json!([{ "start": "2026-01-01", "end": "2026-03-28" }]);
    with_server(|client| {
        for (request, codes) in [
            (odd, &["due_date_not_computed"][..]),
            (quarterly("2028-07-01", "2029-06-30"), &["working_days_not_known", "bank_holidays_not_proclaimed"]),
            (quarterly("2026-01-01", "2026-12-31"), &[]),
        ] {
            let answer = client.calculate(DATES, &request);
            assert_sound(&request, &answer);
            ShownLaw::of(client).assert_states(&answer);
            assert_eq!(warning_codes(&answer), codes, "{request:#}");
        }
    });
}

#[test]
fn requests_that_cannot_be_answered_are_refused() {
    with_server(|client| {
        for (request, code) in refused_requests() {
            let answer = client.post(DATES, &request);
            assert!(problem_codes(&answer.json()).contains(code), "{code}: {}", answer.text());
        }
        // All at once.
        let answer = client.post(DATES, &json!({ "business": { "nation": "england" }, "events": [{}] }));
        let pointers: Vec<String> =
            list_at(&answer.json(), "/errors").iter().map(|error| text_at(error, "/pointer").to_owned()).collect();
        assert_eq!(
            pointers,
            [
                "/business/nation",
                "/business/registered_on",
                "/business/return_periods",
                "/events/0/kind",
                "/events/0/on",
                "/from",
                "/until"
            ]
        );
    });
}

/// The calendar holds the days of the JSON answer, each on the day to act by, read back by a library.
#[test]
fn a_calendar_holds_the_same_days_as_the_answer_in_json() {
    with_server(|client| {
        for request in [eventful(), quarterly("2026-01-01", "2026-12-31"), quarterly("2026-01-01", "2026-01-02")] {
            let answer = client.calculate(DATES, &request);
            let text = calendar(client, &request);
            let entries = diary::entries(&text);
            let dates = list_at(&answer, "/dates");
            assert_eq!(entries.len(), dates.len());
            let stamp = format!("{}T000000Z", text_at(&answer, "/law/checked_on").replace('-', ""));
            for (entry, date) in entries.iter().zip(dates) {
                assert_eq!(entry.on, text_at(date, "/act_by"), "{date:#}");
                assert_eq!(entry.stamp, stamp);
                let title = match request["reference"].as_str() {
                    Some(reference) => format!("{reference}: {}", text_at(date, "/title")),
                    None => text_at(date, "/title").to_owned(),
                };
                assert_eq!(entry.title, title);
                for part in [text_at(date, "/what_to_do"), text_at(date, "/rule"), text_at(&answer, "/cautions/0")] {
                    assert!(entry.description.contains(part), "{part} is not in {}", entry.description);
                }
                for authority in list_at(date, "/authority").iter().filter_map(Value::as_str) {
                    assert!(entry.description.contains(authority), "{authority} is not in {}", entry.description);
                }
            }
            // Those to act by remind a week before.
            assert_eq!(text.matches("BEGIN:VALARM").count(), text.matches("TRIGGER:-P7D").count());
        }
        assert!(calendar(client, &quarterly("2026-02-01", "2026-02-28")).contains("BEGIN:VALARM"));
    });
}

#[test]
fn the_same_request_gives_the_same_calendar_and_another_client_other_entries() {
    with_server(|client| {
        let uids =
            |text: &str| -> BTreeSet<String> { diary::entries(text).into_iter().map(|entry| entry.uid).collect() };
        let year = calendar(client, &quarterly("2026-01-01", "2026-12-31"));
        assert_eq!(year, calendar(client, &quarterly("2026-01-01", "2026-12-31")));
        // A window that overlaps brings the entries of the days in both under the same UIDs.
        let half = uids(&calendar(client, &quarterly("2026-04-01", "2026-10-31")));
        assert!(!half.is_empty() && half.is_subset(&uids(&year)));
        let mut other = quarterly("2026-01-01", "2026-12-31");
        other["reference"] = json!("another client");
        assert!(uids(&calendar(client, &other)).is_disjoint(&uids(&year)));
        let mut younger = quarterly("2026-01-01", "2026-12-31");
        younger["business"]["registered_on"] = json!("2010-04-01");
        assert!(uids(&calendar(client, &younger)).is_disjoint(&uids(&year)));
    });
}

#[test]
fn the_form_of_the_answer_is_the_one_that_the_caller_prefers() {
    with_server(|client| {
        let body = quarterly("2026-04-01", "2026-06-30").to_string();
        for (accept, media_type) in [
            ("application/json", "application/json"),
            ("*/*", "application/json"),
            ("text/calendar", "text/calendar"),
            ("text/calendar, application/json;q=0.9", "text/calendar"),
            ("text/calendar;q=0.5, application/json;q=0.9", "application/json"),
            ("text/*, */*;q=0.1", "text/calendar"),
        ] {
            let answer = client.send(&Call::post(DATES, body.clone()).header("accept", accept));
            assert_eq!((answer.status, answer.media_type()), (200, media_type), "{accept}");
        }
        for accept in ["text/html", "application/json;q=0, text/calendar;q=0", "text/csv"] {
            let answer = client.send(&Call::post(DATES, body.clone()).header("accept", accept));
            assert_eq!(answer.status, 406, "{accept}");
            assert!(text_at(&answer.json(), "/detail").contains("application/json or text/calendar"));
        }
        // A refusal is a problem, whatever was asked for.
        let answer = client.send(&Call::post(DATES, "{}").header("accept", "text/calendar"));
        assert_eq!((answer.status, answer.media_type()), (400, "application/problem+json"));
    });
}
