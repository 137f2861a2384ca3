//! Checks of the limits: what comes back for each, the outlook, the eligibility, and the limits within a comparison.

use crate::answers::{ShownLaw, assert_sound, warning, warning_codes};
use acceptance::client::{Client, THRESHOLD_CHECKS, problem_codes};
use acceptance::document::Document;
use acceptance::figures::{consultant, list_at, pence_at, pounds, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The answer of a check, whose workings replay.
pub fn checked(client: &Client, request: &Value) -> Value {
    let answer = client.calculate(THRESHOLD_CHECKS, request);
    assert_sound(request, &answer);
    answer
}

/// The check of one limit.
pub fn limit<'answer>(answer: &'answer Value, name: &str) -> &'answer Value {
    list_at(answer, "/limits/checks")
        .iter()
        .find(|check| text_at(check, "/check") == name)
        .unwrap_or_else(|| panic!("no check {name} in {answer:#}"))
}

/// Months from a first one on, each with one total of sales at the zero rate, in pence.
pub fn months(first: (i64, i64), totals: &[i64]) -> Value {
    let named = totals.iter().enumerate().map(|(index, pence)| {
        let number = first.0 * 12 + first.1 - 1 + i64::try_from(index).expect("few months");
        json!({ "month": format!("{:04}-{:02}", number / 12, number % 12 + 1), "zero_rated": pounds(*pence) })
    });
    Value::Array(named.collect())
}

/// A user of the scheme since 15 February 2023 with quarters to the end of April.
pub fn user(as_of: &str, turnover: Value) -> Value {
    json!({
        "as_of": as_of,
        "period": { "start": "2025-02-01", "end": "2025-04-30" },
        "business": { "registered_on": "2020-01-01", "flat_rate_from": "2023-02-15" },
        "turnover": turnover
    })
}

/// A business that is not registered.
pub fn unregistered(as_of: &str, turnover: Value) -> Value {
    json!({ "as_of": as_of, "turnover": turnover })
}

/// Requests that are refused, for the codes that only this operation knows.
pub fn refused_requests() -> Vec<Value> {
    let gap = json!([{ "month": "2026-01" }, { "month": "2026-03" }]);
    let ahead = json!([{ "month": "2026-05", "basis": "actual" }]);
    [gap, ahead].map(|months| unregistered("2026-04-30", json!({ "months": months }))).to_vec()
}

/// Requests that between them show every status and every outcome.
fn varied() -> Vec<Value> {
    let level = |month: i64| vec![month; 12];
    let year = |first, total| json!({ "months": months(first, &level(total)) });
    let mut growing: Vec<i64> = level(600_000);
    growing.extend([900_000, 1_000_000, 1_200_000, 1_400_000]);
    let with = |mut request: Value, pointer: &str, value: Value| {
        request[pointer] = value;
        request
    };
    let cash = |total: i64| {
        json!({
            "as_of": "2025-12-31",
            "business": { "registered_on": "2010-01-01", "uses_cash_accounting": true, "uses_annual_accounting": true },
            "period": { "start": "2025-01-01", "end": "2025-12-31" },
            "turnover": year((2025, 1), total)
        })
    };
    let registered = |next: Value| json!({ "as_of": "2025-12-31", "business": { "registered_on": "2020-01-01" }, "turnover": { "next_year": next } });
    vec![
        unregistered("2025-12-31", json!({})),
        unregistered("2025-12-31", year((2025, 1), 200_000)),
        unregistered("2025-12-31", year((2025, 1), 740_000)),
        unregistered(
            "2025-12-31",
            with(year((2025, 1), 800_000), "next_year", json!({ "taxable_supplies": "80000.00" })),
        ),
        unregistered(
            "2025-12-31",
            with(year((2025, 1), 800_000), "next_year", json!({ "taxable_supplies": "88000.01" })),
        ),
        unregistered("2025-12-31", json!({ "months": months((2025, 1), &growing) })),
        unregistered("2025-12-31", json!({ "next_30_days": { "taxable_supplies": "90000.01" } })),
        with(unregistered("2025-12-31", json!({})), "business", json!({ "established_in_uk": false })),
        with(registered(json!({ "taxable_supplies": "80000.00" })), "goods_on_hand", json!({ "vat": "1000.01" })),
        with(registered(json!({ "taxable_supplies": "160000.00" })), "goods_on_hand", json!({ "value": "100.00" })),
        user(
            "2025-02-15",
            json!({ "past_year": { "total_income": "230000.01" }, "next_year": { "total_income": "191500.00" } }),
        ),
        user(
            "2025-02-15",
            json!({ "past_year": { "total_income": "230000.01" }, "next_year": { "total_income": "191500.01" } }),
        ),
        user(
            "2025-02-15",
            json!({ "past_year": { "total_income": "100000.00" }, "next_30_days": { "total_income": "230000.01" } }),
        ),
        user("2025-02-15", json!({ "months": months((2023, 12), &level(2_000_000)) })),
        cash(13_400_000),
        cash(10_000_000),
    ]
}

/// Every word of a list of the document is seen in some answer.
#[test]
fn every_status_outcome_and_way_of_looking_ahead_is_given() {
    let document = Document::checked_in();
    let words = |name: &str| -> BTreeSet<String> { document.words(name).into_iter().collect() };
    let (mut statuses, mut outcomes, mut limits) = (words("LimitStatus"), words("LimitOutcome"), words("LimitName"));
    let mut methods = words("OutlookMethod");
    with_server(|client| {
        let mut law = ShownLaw::of(client);
        for request in varied() {
            let answer = checked(client, &request);
            law.assert_states(&answer);
            for check in list_at(&answer, "/limits/checks") {
                statuses.remove(text_at(check, "/status"));
                outcomes.remove(text_at(check, "/outcome"));
                limits.remove(text_at(check, "/check"));
                for outlook in check["outlook"].as_array().into_iter().flatten() {
                    methods.remove(text_at(outlook, "/method"));
                }
                let finding = text_at(check, "/finding");
                assert!(finding.ends_with('.') && finding.len() > 20, "{check:#}");
                assert!(!list_at(check, "/authority").is_empty(), "{check:#}");
                let wanting = check["status"] == "not_checked";
                assert_eq!(wanting, check["figures_needed"].is_array() && check["measured"].is_null(), "{check:#}");
            }
            let days: Vec<&str> = list_at(&answer, "/act_by").iter().map(|act| text_at(act, "/on")).collect();
            assert!(days.is_sorted(), "{days:?}");
        }
    });
    assert_eq!((statuses, outcomes, limits, methods), Default::default(), "words that no request showed");
}

/// A fixed series that looks like trade: no two months are alike, some are credit notes.
fn series(months: usize) -> Vec<i64> {
    let mut state: i64 = 20_251_127;
    (0..months)
        .map(|_| {
            state = (state * 1_103_515_245 + 12_345).rem_euclid(2_147_483_648);
            state % 1_200_000 - 60_000
        })
        .collect()
}

/// Thirty-six months, each twelve added up here from nothing.
#[test]
fn twelve_months_at_each_month_end_are_what_they_add_up_to() {
    with_server(|client| {
        let totals = series(36);
        for (request, name, first_limit) in [
            (
                unregistered("2025-12-31", json!({ "months": months((2023, 1), &totals) })),
                "registration_past_year",
                8_500_000,
            ),
            (
                user("2025-12-31", json!({ "months": months((2023, 1), &totals) })),
                "flat_rate_running_income",
                23_000_000,
            ),
        ] {
            let answer = checked(client, &request);
            let check = limit(&answer, name);
            let days = list_at(check, "/days");
            assert_eq!(days.len(), 25);
            for (index, day) in days.iter().enumerate() {
                let sum: i64 = totals[index..index + 12].iter().sum();
                assert_eq!(pence_at(day, "/measured"), sum, "{day:#}");
                let limit = if first_limit == 8_500_000 && text_at(day, "/on") > "2024-03-31" {
                    9_000_000
                } else {
                    first_limit
                };
                assert_eq!(pence_at(day, "/limit"), limit, "{day:#}");
                assert_eq!(pence_at(day, "/headroom"), limit - sum, "{day:#}");
                assert_eq!(text_at(day, "/basis"), "actual");
            }
            assert_eq!(text_at(&days[0], "/on"), "2023-12-31");
            assert_eq!(text_at(&days[14], "/on"), "2025-02-28");
            assert_eq!(text_at(&days[2], "/on"), "2024-02-29");
            let crossed = days.iter().find(|day| pence_at(day, "/headroom") < 0).map(|day| text_at(day, "/on"));
            if name == "registration_past_year" {
                assert_eq!(check["crossed_on"].as_str(), crossed, "{check:#}");
                assert_eq!(check["status"] == "crossed", crossed.is_some(), "{check:#}");
            }
        }
    });
}

/// Twelve level months and then a higher run: each month ahead added up here.
#[test]
fn the_run_is_carried_forward_month_by_month() {
    with_server(|client| {
        let mut totals = vec![500_000; 9];
        totals.extend([900_000, 900_001, 1_000_000]);
        let request = unregistered("2025-12-31", json!({ "months": months((2025, 1), &totals) }));
        let answer = checked(client, &request);
        let check = limit(&answer, "registration_past_year");
        assert_eq!(text_at(check, "/status"), "expected");
        for (method, back) in [("trailing_three_months", 3), ("trailing_twelve_months", 12)] {
            let outlook = list_at(check, "/outlook")
                .iter()
                .find(|outlook| text_at(outlook, "/method") == method)
                .unwrap_or_else(|| panic!("no {method}"));
            let sum: i64 = totals[12 - back..].iter().sum();
            let back = i64::try_from(back).expect("few");
            let monthly = (2 * sum + back) / (2 * back);
            assert_eq!(pence_at(outlook, "/monthly"), monthly);
            let at = |ahead: usize| totals[ahead..].iter().sum::<i64>() + monthly * i64::try_from(ahead).expect("few");
            let crossing = (1..=12).find(|ahead| at(*ahead) > 9_000_000);
            assert_eq!(pence_at(outlook, "/measured"), at(crossing.unwrap_or(12)), "{outlook:#}");
            let ends = ["2026-01-31", "2026-02-28", "2026-03-31", "2026-04-30", "2026-05-31", "2026-06-30"];
            assert_eq!(outlook["crosses_on"].as_str(), crossing.map(|ahead| ends[ahead - 1]), "{outlook:#}");
        }
        // The caller's own forecast, which may be another.
        let mut turnover = request["turnover"].clone();
        let ahead = months((2026, 1), &[100_000, 100_000]);
        turnover["months"].as_array_mut().expect("months").extend(ahead.as_array().expect("months").clone());
        let answer = checked(client, &unregistered("2025-12-31", turnover));
        let own = &list_at(limit(&answer, "registration_past_year"), "/outlook")[0];
        assert_eq!(text_at(own, "/method"), "own_forecast");
        assert!(own.get("crosses_on").is_none() && own["on"] == "2026-02-28", "{own:#}");
    });
}

/// Fewer months than twelve are enough where the business is younger, or where they alone pass the limit.
#[test]
fn a_young_business_has_fewer_months() {
    with_server(|client| {
        let short =
            |total| unregistered("2025-12-31", json!({ "months": months((2025, 9), &[total, total, total, total]) }));
        let check = |request: &Value| limit(&checked(client, request), "registration_past_year").clone();
        assert_eq!(check(&short(1_000_000))["status"], "not_checked");
        assert_eq!(check(&short(2_250_001))["status"], "crossed");
        assert_eq!(check(&short(2_250_001))["liable_on"], "2025-12-31");
        let mut young = short(1_000_000);
        young["business"] = json!({ "trading_from": "2025-09-15" });
        let young = check(&young);
        assert_eq!(young["status"], "expected", "{young:#}");
        assert_eq!(young["measured"], "40000.00");
        assert_eq!(list_at(&young, "/days").len(), 4);
    });
}

/// VATA 1994 Sch 1; regs 55L, 55M: each kind of total counts where it belongs, and nowhere else.
#[test]
fn every_kind_of_total_counts_towards_its_limits() {
    with_server(|client| {
        for (field, taxable, registration, income) in [
            ("standard_rated", "100.00", "100.00", "120.00"),
            ("reduced_rated", "100.00", "100.00", "105.00"),
            ("zero_rated", "100.00", "100.00", "100.00"),
            ("domestic_reverse_charge_made", "100.00", "100.00", "100.00"),
            ("exempt", "0.00", "0.00", "100.00"),
            ("outside_scope", "0.00", "0.00", "100.00"),
            ("non_business", "0.00", "0.00", "0.00"),
            ("capital_assets", "0.00", "0.00", "0.00"),
            ("taxable_capital_land", "0.00", "100.00", "0.00"),
            ("own_building_work", "0.00", "100.00", "0.00"),
            ("overseas_services_received", "0.00", "100.00", "0.00"),
            ("construction_reverse_charge_received", "0.00", "0.00", "0.00"),
            ("other_domestic_reverse_charge_received", "0.00", "100.00", "0.00"),
            ("vat_on_sales", "0.00", "0.00", "100.00"),
        ] {
            let request = unregistered("2025-12-31", json!({ "months": [{ "month": "2025-12", field: "100.00" }] }));
            let answer = checked(client, &request);
            let month = &list_at(&answer, "/limits/months")[0];
            assert_eq!(
                (&month["taxable_supplies"], &month["registration_supplies"], &month["total_income"]),
                (&json!(taxable), &json!(registration), &json!(income)),
                "{field}"
            );
        }
        let both =
            json!({ "month": "2025-12", "standard_rated": "10.03", "reduced_rated": "0.10", "vat_on_sales": "2.00" });
        let mut worked_out = both.clone();
        worked_out.as_object_mut().map(|month| month.remove("vat_on_sales"));
        let income = |month: Value| {
            let answer = checked(client, &unregistered("2025-12-31", json!({ "months": [month] })));
            text_at(&answer, "/limits/months/0/total_income").to_owned()
        };
        assert_eq!(income(both), "12.13");
        // 2.006 + 0.005 is 2.01 to the penny.
        assert_eq!(income(worked_out), "12.14");
    });
}

#[test]
fn what_cannot_be_is_refused_with_its_place() {
    with_server(|client| {
        for (request, pointer, code) in [
            (refused_requests()[0].clone(), "/turnover/months/1/month", "months_out_of_order"),
            (refused_requests()[1].clone(), "/turnover/months/0/basis", "actual_month_in_future"),
            (
                unregistered("2026-04-30", json!({ "months": [{ "month": "2026-01" }, { "month": "2026-01" }] })),
                "/turnover/months/1/month",
                "months_out_of_order",
            ),
            (
                unregistered("2026-04-30", json!({ "months": [{ "month": "2010-12" }] })),
                "/turnover/months/0/month",
                "date_outside_law",
            ),
            (unregistered("2011-01-03", json!({})), "/as_of", "date_outside_law"),
            (
                unregistered("2026-04-30", json!({ "past_year": { "end": "2026-05-01" } })),
                "/turnover/past_year/end",
                "dates_out_of_order",
            ),
            (
                json!({ "as_of": "2026-04-30", "business": { "registered_on": "2020-01-02", "flat_rate_from": "2020-01-01" } }),
                "/business/flat_rate_from",
                "flat_rate_before_registration",
            ),
            (
                json!({ "as_of": "2026-04-30", "business": { "flat_rate_from": "2020-01-02", "flat_rate_until": "2020-01-01" } }),
                "/business/flat_rate_until",
                "dates_out_of_order",
            ),
            (
                json!({ "as_of": "2026-04-30", "business": { "flat_rate_until": "2020-01-01" } }),
                "/business/flat_rate_until",
                "dates_out_of_order",
            ),
            (
                json!({ "as_of": "2026-04-30", "period": { "start": "2026-04-01", "end": "2026-03-31" } }),
                "/period/end",
                "period_end_before_start",
            ),
            (
                unregistered(
                    "2026-04-30",
                    json!({ "months": [
                    { "month": "2026-04", "zero_rated": "9999999999999.99", "standard_rated": "9999999999999.99" }
                ] }),
                ),
                "",
                "",
            ),
        ] {
            let answer = client.post(THRESHOLD_CHECKS, &request);
            if code.is_empty() {
                // The largest amounts that can be written still add up exactly.
                assert_eq!(answer.status, 200, "{}", answer.text());
                continue;
            }
            assert_eq!(answer.status, 422, "{request:#}\n{}", answer.text());
            let problem = answer.json();
            assert_eq!(text_at(&problem, "/errors/0/pointer"), pointer, "{problem:#}");
            assert_eq!(problem_codes(&problem), [code.to_owned()].into(), "{problem:#}");
        }
        for (request, code) in [
            (json!({}), "missing_field"),
            (json!({ "as_of": "2026-04-30", "goods_on_hand": {} }), "missing_field"),
            (
                json!({ "as_of": "2026-04-30", "goods_on_hand": { "value": "1.00", "vat": "1.00" } }),
                "fields_exclude_each_other",
            ),
            (json!({ "as_of": "2026-04-30", "goods_on_hand": { "value": "-1.00" } }), "amount_not_valid"),
            (unregistered("2026-04-30", json!({ "months": [{ "month": "2026-13" }] })), "date_not_valid"),
            (unregistered("2026-04-30", json!({ "months": [{ "month": "1999-12" }] })), "date_not_valid"),
            (unregistered("2026-04-30", json!({ "months": [{ "month": "2026-04-01" }] })), "date_not_valid"),
            (unregistered("2026-04-30", json!({ "months": [{ "month": 202604 }] })), "wrong_type"),
            (unregistered("2026-04-30", json!({ "months": [{}] })), "missing_field"),
            (
                unregistered("2026-04-30", json!({ "months": vec![json!({ "month": "2026-04" }); 61] })),
                "too_many_lines",
            ),
            (
                unregistered("2026-04-30", json!({ "months": [{ "month": "2026-04", "basis": "guess" }] })),
                "unknown_value",
            ),
        ] {
            let answer = client.post(THRESHOLD_CHECKS, &request);
            assert_eq!((answer.status, problem_codes(&answer.json())), (400, [code.to_owned()].into()), "{request:#}");
        }
    });
}

/// What is not told is asked, and never assumed.
#[test]
fn nothing_known_means_everything_asked() {
    with_server(|client| {
        let answer = checked(client, &json!({ "as_of": "2026-04-30" }));
        let eligibility = &answer["flat_rate_eligibility"];
        assert_eq!((&eligibility["may_join"], eligibility.get("must_leave")), (&json!("not_known"), None));
        let open: Vec<&str> = list_at(eligibility, "/conditions")
            .iter()
            .filter(|question| question["bearing"] == "open")
            .map(|question| text_at(question, "/question"))
            .collect();
        let asked: Vec<&str> = list_at(eligibility, "/questions_to_ask").iter().filter_map(Value::as_str).collect();
        assert_eq!(open, asked);
        // Only whether cash accounting is used has a default.
        assert_eq!(open.len() + 1, list_at(eligibility, "/conditions").len());
    });
}

fn facts(known: Value) -> Value {
    json!({
        "as_of": "2026-04-30",
        "business": { "registered_on": "2020-01-01" },
        "turnover": { "next_year": { "taxable_supplies": "100000.00" } },
        "flat_rate_facts": known
    })
}

fn all_clear() -> Value {
    json!({
        "tour_operator": false, "capital_goods_scheme": false, "second_hand_margin_scheme": false,
        "vat_offence_in_past_year": false, "left_flat_rate_in_past_year": false,
        "eligible_for_vat_group": false, "eligible_for_vat_group_in_past_two_years": false,
        "registered_in_divisions": false, "registered_in_divisions_in_past_two_years": false,
        "dominant_influence": false, "financial_links": true, "economic_links": true, "organisational_links": false,
        "associated_in_past_two_years": false, "retail_scheme": false
    })
}

/// Reg 55L(1): every condition must be met, and each one alone can keep the business out; reg 55A(2): all three links together.
#[test]
fn every_condition_of_joining_counts_alone() {
    with_server(|client| {
        let may_join = |known: &Value| {
            text_at(&checked(client, &facts(known.clone())), "/flat_rate_eligibility/may_join").to_owned()
        };
        assert_eq!(may_join(&all_clear()), "yes");
        let names: Vec<String> = all_clear().as_object().expect("facts").keys().cloned().collect();
        for name in &names {
            let mut changed = all_clear();
            changed[name] = json!(true);
            let links = ["financial_links", "economic_links"].contains(&name.as_str());
            assert_eq!(may_join(&changed), if links { "yes" } else { "no" }, "{name}");
            let mut unknown = all_clear();
            unknown.as_object_mut().map(|facts| facts.remove(name));
            // Two of three links are there and the third is not: the others decide nothing.
            assert_eq!(may_join(&unknown), if links { "yes" } else { "not_known" }, "{name}");
        }
        let mut over = facts(all_clear());
        over["turnover"]["next_year"]["taxable_supplies"] = json!("150000.01");
        assert_eq!(checked(client, &over)["flat_rate_eligibility"]["may_join"], "no");
        let mut cash = facts(all_clear());
        cash["business"]["uses_cash_accounting"] = json!(true);
        assert_eq!(checked(client, &cash)["flat_rate_eligibility"]["may_join"], "no");
    });
}

/// Regs 55M(1), 55N, 55Q: the first day outside by cause, and thirty days for telling HMRC.
#[test]
fn every_cause_of_leaving_has_its_day() {
    with_server(|client| {
        for (field, id, told) in [
            ("tour_operator_from", "tour_operator", true),
            ("capital_item_intended_on", "capital_item", true),
            ("margin_scheme_from", "margin_scheme", true),
            ("associated_from", "group_or_association", true),
            ("opts_out_on", "opts_out", true),
            ("terminated_by_hmrc_on", "terminated_by_hmrc", false),
        ] {
            let mut request = user("2025-03-31", json!({}));
            request["flat_rate_facts"] = json!({ field: "2025-03-10" });
            let answer = checked(client, &request);
            let eligibility = &answer["flat_rate_eligibility"];
            assert_eq!(eligibility["must_leave"], "yes", "{field}");
            assert_eq!(eligibility["out_from"], "2025-03-10", "{field}");
            assert_eq!(eligibility["return_from"], "2026-03-10", "{field}");
            let cause = list_at(eligibility, "/causes_of_leaving")
                .iter()
                .find(|cause| text_at(cause, "/id") == id)
                .unwrap_or_else(|| panic!("no {id}"));
            assert_eq!(cause["notify_by"], if told { json!("2025-04-09") } else { Value::Null }, "{field}");
            assert_eq!(list_at(&answer, "/act_by").len(), if told { 2 } else { 1 }, "{field}");
        }
        // The earliest of several counts; a fact without a day is a cause without a day.
        let mut request = user("2025-03-31", json!({}));
        request["flat_rate_facts"] =
            json!({ "opts_out_on": "2025-05-01", "associated_from": "2025-04-02", "tour_operator": true });
        let answer = checked(client, &request);
        assert_eq!(answer["flat_rate_eligibility"]["out_from"], "2025-04-02");
        let mut clear = user(
            "2025-02-15",
            json!({
                "past_year": { "total_income": "1.00" }, "next_30_days": { "total_income": "1.00" }
            }),
        );
        clear["flat_rate_facts"] = all_clear();
        let answer = checked(client, &clear);
        // Only whether HMRC ended the use is not known.
        assert_eq!(answer["flat_rate_eligibility"]["must_leave"], "not_known");
        assert_eq!(list_at(&answer, "/flat_rate_eligibility/questions_to_ask"), [json!("Have HMRC ended its use?")]);
    });
}

/// A business that left is told until when it stays out (reg 55L(1)(c)).
#[test]
fn a_business_that_left_may_come_back_after_twelve_months() {
    with_server(|client| {
        for (as_of, answer_expected) in [("2025-01-01", "yes"), ("2025-12-31", "yes"), ("2026-01-01", "no")] {
            let request = json!({
                "as_of": as_of,
                "business": { "registered_on": "2020-01-01", "flat_rate_from": "2020-01-01", "flat_rate_until": "2024-12-31" }
            });
            let answer = checked(client, &request);
            let left = list_at(&answer, "/flat_rate_eligibility/conditions")
                .iter()
                .find(|question| question["id"] == "left_flat_rate_in_past_year")
                .cloned()
                .unwrap_or_default();
            assert_eq!(left["answer"], answer_expected, "{as_of}");
            assert_eq!(answer["flat_rate_eligibility"]["return_from"], "2026-01-01", "{as_of}");
        }
    });
}

/// A comparison for a quarter of a user since February 2023, seen from its end.
fn comparison(turnover: Value) -> Value {
    let mut request = consultant();
    request["period"] = json!({ "start": "2025-02-01", "end": "2025-04-30" });
    request["business"]["flat_rate_from"] = json!("2023-02-15");
    request["turnover"] = turnover;
    request
}

/// The requests of comparisons that show each kind of warning about a limit.
pub fn comparisons_with_warnings() -> Vec<(&'static str, Value)> {
    let mut joining = comparison(json!({ "next_year": { "taxable_supplies": "150000.01" } }));
    joining["business"].as_object_mut().map(|business| business.remove("flat_rate_from"));
    let mut near = joining.clone();
    near["turnover"]["next_year"]["taxable_supplies"] = json!("140000.00");
    let mut cash = comparison(json!({ "past_year": { "taxable_supplies": "1600000.01" } }));
    cash["business"]["turnover_method"] = json!("cash");
    vec![
        ("joining_limit_exceeded", joining),
        ("joining_limit_close", near),
        (
            "leaving_limit_exceeded",
            comparison(json!({ "past_year": { "end": "2025-02-15", "total_income": "230000.01" } })),
        ),
        (
            "leaving_limit_close",
            comparison(json!({ "past_year": { "end": "2025-02-14", "total_income": "230000.00" } })),
        ),
        ("deregistration_possible", comparison(json!({ "next_year": { "taxable_supplies": "88000.00" } }))),
        ("cash_accounting_limit_exceeded", cash),
    ]
}

#[test]
fn a_comparison_tests_the_limits_on_the_figures_that_it_gets() {
    with_server(|client| {
        let request = comparison(json!({ "past_year": { "end": "2025-02-15", "total_income": "230000.01" } }));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        let leaving = warning(&answer, "leaving_limit_exceeded");
        assert_eq!((&leaving["act_by"], &leaving["limit"]), (&json!("2025-03-17"), &json!("230000.00")));
        let check = limit(&answer, "flat_rate_leaving_anniversary");
        assert_eq!(check["effective_from"], "2025-05-01");
        let exact =
            client.compare(&comparison(json!({ "past_year": { "end": "2025-02-15", "total_income": "207000.00" } })));
        assert!(warning_codes(&exact).contains(&"leaving_limit_close"), "{exact:#}");
        let below =
            client.compare(&comparison(json!({ "past_year": { "end": "2025-02-15", "total_income": "206999.99" } })));
        assert!(!warning_codes(&below).iter().any(|code| code.starts_with("leaving_limit")), "{below:#}");
        // Months serve as well, and their places are those of this request.
        let by_months = comparison(json!({ "months": months((2024, 2), &[1_920_000; 15]) }));
        let answer = client.compare(&by_months);
        assert_sound(&by_months, &answer);
        assert_eq!(limit(&answer, "flat_rate_leaving_anniversary")["measured"], "230400.00");
    });
}

/// Without figures nothing is tested, and the answer says so.
#[test]
fn a_comparison_without_turnover_says_what_was_not_tested() {
    with_server(|client| {
        let cautions = |request: &Value| {
            let answer = client.compare(request);
            list_at(&answer, "/cautions").iter().filter_map(Value::as_str).collect::<String>()
        };
        let without = client.compare(&consultant());
        assert!(without.get("limits").is_none());
        assert!(cautions(&consultant()).contains("no limit is tested"));
        assert!(!cautions(&comparison(json!({}))).contains("no limit is tested"));
        // By money received too the limits are tested once.
        let mut both = comparison(json!({ "next_year": { "taxable_supplies": "80000.00" } }));
        both["received"] = json!({ "sales": [{ "treatment": "standard_rated", "net": "100.00" }] });
        let answer = client.compare(&both);
        assert_sound(&both, &answer);
        assert!(answer["received"].get("limits").is_none());
    });
}
