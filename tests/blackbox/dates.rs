//! The day before, the day, and the day after every date of the comparison.

use crate::answers::{assert_sound, warning, warning_codes};
use acceptance::client::{Client, problem_codes};
use acceptance::figures::{one_day, request, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

const SERVICES: &str = "business-services-not-listed-elsewhere";

/// Flat rate percentage of one day, in the first part.
fn percentage(client: &Client, request: &Value) -> String {
    let answer = client.compare(request);
    assert_sound(request, &answer);
    text_at(&answer, "/flat_rate/parts/0/percentage").to_owned()
}

fn registered(day: &str, on: &str, notified: Option<&str>, flat_rate_from: Option<&str>) -> Value {
    let mut request = one_day(day, SERVICES);
    request["business"] = json!({ "registered_on": on, "sector": SERVICES });
    if let Some(notified) = notified {
        request["business"]["liability_notified_on"] = json!(notified);
    }
    if let Some(from) = flat_rate_from {
        request["business"]["flat_rate_from"] = json!(from);
    }
    request
}

/// The reduction ends the day before the first anniversary of registration (VAT Regulations 1995 reg 55JB; FRS7100).
#[test]
fn the_first_year_ends_with_the_day_before_the_anniversary() {
    with_server(|client| {
        for (registered_on, day, expected) in [
            ("2024-05-10", "2024-05-10", "11"),
            ("2024-05-10", "2025-05-08", "11"),
            ("2024-05-10", "2025-05-09", "11"),
            ("2024-05-10", "2025-05-10", "12"),
            ("2024-05-10", "2025-05-11", "12"),
            // An anniversary of 29 February is 28 February in other years: our reading, no source.
            ("2024-02-29", "2025-02-27", "11"),
            ("2024-02-29", "2025-02-28", "12"),
        ] {
            let request = registered(day, registered_on, None, Some(registered_on));
            assert_eq!(percentage(client, &request), expected, "registered {registered_on}, on {day}");
        }
    });
}

/// Told late of the liability: the reduction starts on that day; none at all when more than a year has gone (VAT Regulations
/// 1995 reg 55JB(4)).
#[test]
fn the_first_year_begins_when_the_liability_was_notified() {
    with_server(|client| {
        for (notified, day, expected) in [
            ("2024-08-15", "2024-08-13", "12"),
            ("2024-08-15", "2024-08-14", "12"),
            ("2024-08-15", "2024-08-15", "11"),
            ("2024-08-15", "2024-08-16", "11"),
            ("2024-08-15", "2024-12-31", "11"),
            ("2024-08-15", "2025-01-01", "12"),
            ("2024-12-31", "2024-12-31", "11"),
            ("2025-01-02", "2025-01-02", "12"),
        ] {
            let request = registered(day, "2024-01-01", Some(notified), Some("2024-01-01"));
            assert_eq!(percentage(client, &request), expected, "notified {notified}, on {day}");
        }
    });
}

/// The reduction needs the scheme to start within a year of registration (VAT Regulations 1995 reg 55JB; FRS7100).
#[test]
fn the_first_year_runs_from_registration_not_from_joining() {
    with_server(|client| {
        for (from, day, expected) in [
            ("2024-11-01", "2024-11-01", "11"),
            ("2024-12-31", "2024-12-31", "11"),
            ("2025-01-01", "2025-01-01", "12"),
            ("2025-01-02", "2025-01-02", "12"),
        ] {
            let request = registered(day, "2024-01-01", None, Some(from));
            assert_eq!(percentage(client, &request), expected, "from {from}, on {day}");
        }
        // Without a start the period's first day stands for it.
        assert_eq!(percentage(client, &registered("2024-12-31", "2024-01-01", None, None)), "11");
        assert_eq!(percentage(client, &registered("2025-01-01", "2024-01-01", None, None)), "12");
    });
}

/// The temporary percentages (SI 2020/728; Finance Act 2021 sections 92 and 93).
#[test]
fn hospitality_percentages_change_on_their_days() {
    let days = [
        ("2020-07-13", ["12.5", "10.5", "6.5"]),
        ("2020-07-14", ["12.5", "10.5", "6.5"]),
        ("2020-07-15", ["4.5", "0", "1"]),
        ("2020-07-16", ["4.5", "0", "1"]),
        ("2021-09-29", ["4.5", "0", "1"]),
        ("2021-09-30", ["4.5", "0", "1"]),
        ("2021-10-01", ["8.5", "5.5", "4"]),
        ("2021-10-02", ["8.5", "5.5", "4"]),
        ("2022-03-30", ["8.5", "5.5", "4"]),
        ("2022-03-31", ["8.5", "5.5", "4"]),
        ("2022-04-01", ["12.5", "10.5", "6.5"]),
        ("2022-04-02", ["12.5", "10.5", "6.5"]),
    ];
    let sectors = ["catering-services-including-restaurants-and-takeaways", "hotel-or-accommodation", "pubs"];
    with_server(|client| {
        for (day, expected) in days {
            for (sector, expected) in sectors.iter().zip(expected) {
                assert_eq!(percentage(client, &one_day(day, sector)), expected, "{sector} on {day}");
            }
        }
        // A percentage never falls below nothing, first year or not.
        let mut hotel = one_day("2021-01-01", "hotel-or-accommodation");
        hotel["business"]["registered_on"] = json!("2020-10-01");
        hotel["business"]["flat_rate_from"] = json!("2020-10-01");
        assert_eq!(percentage(client, &hotel), "0");
    });
}

/// The temporary rates of VAT (SI 2020/728; Finance Act 2021 sections 92 and 93): at other times the treatment has no rate.
#[test]
fn the_hospitality_rate_of_vat_is_known_on_its_days_only() {
    with_server(|client| {
        for (day, vat) in [
            ("2020-07-13", None),
            ("2020-07-14", None),
            ("2020-07-15", Some("5.00")),
            ("2021-09-30", Some("5.00")),
            ("2021-10-01", Some("12.50")),
            ("2022-03-31", Some("12.50")),
            ("2022-04-01", None),
            ("2022-04-02", None),
        ] {
            let mut request = one_day(day, "pubs");
            request["sales"] = json!([{ "treatment": "hospitality_rated", "net": "100.00" }]);
            match vat {
                Some(vat) => {
                    let answer = client.compare(&request);
                    assert_sound(&request, &answer);
                    assert_eq!(text_at(&answer, "/standard/output_tax"), vat, "{day}");
                }
                None => {
                    let problem = client.refuse(422, &request);
                    assert_eq!(problem["code"], "rate_not_in_force", "{day}");
                    assert_eq!(problem["errors"][0]["pointer"], "/sales/0/treatment", "{day}");
                }
            }
        }
    });
}

/// The limited cost rule applies from 1 April 2017 (SI 2017/295 reg 1).
#[test]
fn there_is_no_goods_test_before_april_2017() {
    with_server(|client| {
        for (day, tested) in [("2017-03-30", false), ("2017-03-31", false), ("2017-04-01", true), ("2017-04-02", true)]
        {
            let mut request = one_day(day, SERVICES);
            request["purchases"] = json!([]);
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(answer["goods_test"].is_null(), !tested, "{day}");
            let percentage = if tested { "16.5" } else { "12" };
            assert_eq!(text_at(&answer, "/flat_rate/parts/0/percentage"), percentage, "{day}");
            // The contract has the member in every answer, empty where there is no test.
            assert!(answer.get("goods_test").is_some(), "{day}");
        }
    });
}

/// A period that straddles that day: no test before it, and the days from it taken as a period of their own (SI 2017/295 reg
/// 1), whose purchases say that they belong to it.
#[test]
fn a_period_across_april_2017_is_tested_in_its_second_part() {
    with_server(|client| {
        let part = |start: &str, end: &str| json!({ "start": start, "end": end });
        let (before, after) = (part("2017-02-01", "2017-03-31"), part("2017-04-01", "2017-04-30"));
        for (goods, limited, percentage, vat) in [("83.33", true, "16.5", "990.00"), ("120.00", false, "12", "720.00")]
        {
            let request = request(
                "2017-02-01",
                "2017-04-30",
                SERVICES,
                json!([
                    { "treatment": "standard_rated", "gross": "12000.00", "part": before },
                    { "treatment": "standard_rated", "gross": "6000.00", "part": after }
                ]),
                json!([
                    { "spend": "materials", "net": "5000.00", "vat": "0.00", "part": before },
                    { "spend": "materials", "net": goods, "vat": "0.00", "part": after }
                ]),
            );
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            let test = &answer["goods_test"];
            assert_eq!(test["limited_cost_business"], limited, "{test:#}");
            assert_eq!((&test["start"], &test["end"]), (&json!("2017-04-01"), &json!("2017-04-30")));
            assert_eq!((&test["turnover"], &test["relevant_goods"]), (&json!("6000.00"), &json!(goods)));
            assert_eq!(test["minimum_for_period"], "83.33");
            let last = answer["flat_rate"]["parts"].as_array().and_then(|parts| parts.last()).expect("a part");
            if limited {
                assert_eq!(last["start"], "2017-04-01");
                assert_eq!((&last["percentage"], &last["vat"]), (&json!(percentage), &json!(vat)));
            } else {
                assert_eq!(last["percentage"], percentage);
            }
        }
    });
}

/// The tables begin with the 20% rate and the present percentages, on 4 January 2011 (Finance (No. 2) Act 2010 section 3; SI
/// 2010/2940).
#[test]
fn a_period_may_not_start_before_the_tables_do() {
    with_server(|client| {
        for (day, refused) in [("2011-01-03", true), ("2011-01-04", false), ("2011-01-05", false)] {
            let request = one_day(day, SERVICES);
            if refused {
                let problem = client.refuse(422, &request);
                assert_eq!(problem["code"], "period_too_early");
                assert_eq!(problem["errors"][0]["pointer"], "/period/start");
            } else {
                assert_eq!(percentage(client, &request), "12");
            }
        }
    });
}

/// Postponed imports of a flat rate user: for periods that start on or after 1 June 2022 (Revenue and Customs Brief 3 (2022)).
#[test]
fn postponed_imports_are_answered_for_periods_from_june_2022() {
    with_server(|client| {
        for (day, refused) in [("2022-05-31", true), ("2022-06-01", false), ("2022-06-02", false)] {
            let mut request = one_day(day, SERVICES);
            request["purchases"] = json!([{ "spend": "materials", "supply": "postponed_import", "net": "500.00" }]);
            if refused {
                let problem = client.refuse(422, &request);
                assert_eq!(problem["code"], "postponed_import_too_early", "{day}");
                assert_eq!(problem["errors"][0]["pointer"], "/purchases/0/supply", "{day}");
            } else {
                let answer = client.compare(&request);
                assert_sound(&request, &answer);
                assert_eq!(text_at(&answer, "/standard/boxes/box1"), "116.67", "{day}");
            }
        }
        // The period's first day decides, not its last.
        let across = request(
            "2022-05-01",
            "2022-07-31",
            SERVICES,
            json!([]),
            json!([{ "spend": "materials", "supply": "postponed_import", "net": "500.00" }]),
        );
        assert_eq!(client.refuse(422, &across)["code"], "postponed_import_too_early");
    });
}

/// A registration and a start of the scheme must be there by the period's first day.
#[test]
fn registration_and_the_scheme_come_before_the_period() {
    with_server(|client| {
        let ask = |registered_on: &str, flat_rate_from: Option<&str>| {
            let request = registered("2025-04-01", registered_on, None, flat_rate_from);
            let answer = client.post_comparison(&request);
            (answer.status, if answer.status == 200 { None } else { problem_codes(&answer.json()).pop_first() })
        };
        assert_eq!(ask("2025-04-01", None), (200, None));
        assert_eq!(ask("2025-04-01", Some("2025-04-01")), (200, None));
        assert_eq!(ask("2025-04-02", None), (422, Some("period_before_registration".to_owned())));
        assert_eq!(ask("2024-06-01", Some("2024-05-31")), (422, Some("flat_rate_before_registration".to_owned())));
        assert_eq!(ask("2024-06-01", Some("2024-06-01")), (200, None));
        let mut later = registered("2025-04-01", "2024-06-01", None, Some("2025-07-01"));
        later["period"]["end"] = json!("2025-06-30");
        assert_eq!(client.refuse(422, &later)["code"], "scheme_outside_period");
    });
}

/// A period that ends later than the tables were last checked is answered with a warning.
#[test]
fn a_period_after_the_last_check_of_the_law_is_pointed_out() {
    with_server(|client| {
        let checked_on = text_at(&client.compare(&one_day("2025-04-01", SERVICES)), "/law/checked_on").to_owned();
        let warned = |day: &str| {
            let answer = client.compare(&one_day(day, SERVICES));
            warning_codes(&answer).contains(&"law_not_checked_for_period")
        };
        assert!(!warned(&checked_on), "the law was checked on {checked_on}");
        assert!(warned("2099-12-31"));
        assert!(!warned("2025-04-01"));
    });
}

/// The end of the first year is announced in the period before, and dated (VAT Regulations 1995 reg 55JB).
#[test]
fn the_end_of_the_first_year_is_announced() {
    with_server(|client| {
        let ask = |start: &str, end: &str| {
            let mut request = request(
                start,
                end,
                SERVICES,
                json!([]),
                json!([{ "spend": "materials", "net": "250.00", "vat": "0.00" }]),
            );
            request["business"]["registered_on"] = json!("2024-08-10");
            request["business"]["flat_rate_from"] = json!("2024-08-10");
            client.compare(&request)
        };
        let announced = |answer: &Value| warning_codes(answer).contains(&"first_year_reduction_ends");
        assert!(!announced(&ask("2025-01-01", "2025-03-31")));
        let before = ask("2025-04-01", "2025-06-30");
        let act_by = text_at(warning(&before, "first_year_reduction_ends"), "/act_by").to_owned();
        assert!(act_by == "2025-08-09" || act_by == "2025-08-10", "{act_by}");
        assert!(announced(&ask("2025-07-01", "2025-09-30")));
        assert!(!announced(&ask("2025-10-01", "2025-12-31")));
    });
}

/// Leap days, ends of months and the ends of the calendar that requests may use.
#[test]
fn the_calendar_is_kept() {
    with_server(|client| {
        for (start, end, minimum) in [
            ("2024-02-29", "2024-02-29", "2.74"),
            ("2024-02-01", "2024-02-29", "83.33"),
            ("2025-01-31", "2025-02-27", "83.33"),
            ("2024-12-31", "2025-03-30", "250.00"),
            ("2099-12-01", "2099-12-31", "83.33"),
        ] {
            let request = request(start, end, SERVICES, json!([]), json!([]));
            let answer = client.compare(&request);
            assert_sound(&request, &answer);
            assert_eq!(text_at(&answer, "/goods_test/minimum_for_period"), minimum, "{start} to {end}");
        }
    });
}
