//! Periods in which the percentage changes: parts, totals that do not say where they belong, and shares by days.

use crate::answers::{assert_sound, warning, warning_codes};
use acceptance::client::problem_codes;
use acceptance::differences::differences;
use acceptance::figures::{list_at, quarter, request, text_at};
use acceptance::server::with_server;
use serde_json::{Value, json};

const SERVICES: &str = "business-services-not-listed-elsewhere";

/// A quarter in which the first year ends on 9 May (VAT Regulations 1995 reg 55JB).
fn cut_quarter(sales: Value) -> Value {
    let mut request = request(
        "2025-04-01",
        "2025-06-30",
        SERVICES,
        sales,
        json!([{ "spend": "materials", "net": "1000.00", "vat": "0.00" }]),
    );
    request["business"]["registered_on"] = json!("2024-05-10");
    request["business"]["flat_rate_from"] = json!("2024-05-10");
    request
}

fn sale(gross: &str, part: Option<(&str, &str)>) -> Value {
    let mut sale = json!({ "treatment": "standard_rated", "gross": gross });
    if let Some((start, end)) = part {
        sale["part"] = json!({ "start": start, "end": end });
    }
    sale
}

/// HMRC's three steps: the old percentage on the turnover up to the change, the new one on the rest, and the sum of both
/// (Notice 733 section 4); each part to the nearest penny.
#[test]
fn each_part_pays_its_own_percentage_to_the_nearest_penny() {
    with_server(|client| {
        let request = cut_quarter(json!([
            sale("1000.05", Some(("2025-04-01", "2025-05-09"))),
            sale("2000.04", Some(("2025-05-10", "2025-06-30")))
        ]));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        let expected = json!({ "flat_rate": { "turnover": "3000.09", "vat_payable": "350.01", "parts": [
            { "start": "2025-04-01", "end": "2025-05-09", "turnover": "1000.05", "percentage": "11", "vat": "110.01", "first_year_reduction": "1" },
            { "start": "2025-05-10", "end": "2025-06-30", "turnover": "2000.04", "percentage": "12", "vat": "240.00", "first_year_reduction": null }
        ] } });
        assert_eq!(differences(&expected, &answer), Vec::<String>::new());
    });
}

#[test]
fn totals_must_say_their_part_where_the_percentage_changes() {
    with_server(|client| {
        let problem = client.refuse(422, &cut_quarter(json!([sale("6000.00", None), sale("60.00", None)])));
        assert_eq!(problem["code"], "period_must_be_split");
        let text = problem.to_string();
        assert!(text.contains("2025-05-10") || text.contains("10 May 2025"), "the day is not named: {text}");
        // What stays out of turnover needs no part.
        let outside = cut_quarter(json!([
            { "treatment": "outside_scope", "net": "500.00" },
            { "treatment": "non_business", "net": "500.00" },
            { "treatment": "domestic_reverse_charge", "net": "500.00" },
            { "treatment": "standard_rated", "nature": "capital_asset_vat_claimed", "net": "500.00" }
        ]));
        let answer = client.compare(&outside);
        assert_sound(&outside, &answer);
        assert_eq!(text_at(&answer, "/flat_rate/turnover"), "0.00");
        assert_eq!(text_at(&answer, "/flat_rate/boxes/box1"), "100.00");
    });
}

#[test]
fn a_part_lies_inside_the_period_and_on_one_side_of_the_change() {
    with_server(|client| {
        for (part, code) in [
            (("2025-03-31", "2025-05-09"), "part_outside_period"),
            (("2025-05-10", "2025-07-01"), "part_outside_period"),
            (("2025-04-01", "2025-05-10"), "part_spans_change"),
            (("2025-05-09", "2025-06-30"), "part_spans_change"),
            (("2025-06-30", "2025-06-01"), "period_end_before_start"),
        ] {
            let problem = client.refuse(422, &cut_quarter(json!([sale("6000.00", Some(part))])));
            assert_eq!(problem_codes(&problem), [code.to_owned()].into(), "{part:?}");
            let pointer = text_at(&problem, "/errors/0/pointer");
            assert!(pointer.starts_with("/sales/0/part"), "{pointer}");
        }
        // Any days of one side will do.
        let request = cut_quarter(json!([
            sale("1000.00", Some(("2025-04-07", "2025-04-07"))),
            sale("1000.00", Some(("2025-06-01", "2025-06-30")))
        ]));
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/flat_rate/vat_payable"), "230.00");
    });
}

/// Shares by days are an estimate: the law itself does not share by days, so there is a warning. Each share but the last is
/// rounded to the penny, the last takes the rest.
#[test]
fn by_days_each_total_is_shared_and_nothing_is_lost() {
    with_server(|client| {
        let mut request = cut_quarter(json!([
            sale("1000.00", None),
            sale("0.01", None),
            sale("50.00", Some(("2025-05-10", "2025-06-30")))
        ]));
        request["split_estimate"] = json!("by_days");
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        // 39 of 91 days: 428.571 of 1000.00, and 0.004 of a penny.
        let expected = json!({ "flat_rate": { "turnover": "1050.01", "parts": [
            { "turnover": "428.57", "percentage": "11", "vat": "47.14" },
            { "turnover": "621.44", "percentage": "12", "vat": "74.57" }
        ] } });
        assert_eq!(differences(&expected, &answer), Vec::<String>::new());
        let lines = list_at(warning(&answer, "split_estimated_by_days"), "/lines").to_vec();
        assert_eq!(lines, [json!("/sales/0"), json!("/sales/1")]);
        // Standard accounting needs no split: its VAT is that of the whole totals.
        let mut whole = request.clone();
        whole["period"] = json!({ "start": "2025-07-01", "end": "2025-09-30" });
        whole["sales"][2]["part"] = json!({ "start": "2025-07-01", "end": "2025-09-30" });
        let whole = client.compare(&whole);
        assert_eq!(answer["standard"], whole["standard"]);
        assert!(!warning_codes(&whole).contains(&"split_estimated_by_days"), "nothing was shared");
    });
}

/// A relevant date that leaves the percentage applied as it was needs no parts: hospitality changed its percentage on
/// 15 July 2020, limited cost businesses kept theirs.
#[test]
fn a_period_is_cut_only_where_the_percentage_applied_changes() {
    let quarter = |sector: &str, purchases: Value| {
        request(
            "2020-07-01",
            "2020-09-30",
            sector,
            json!([{ "treatment": "standard_rated", "gross": "6000.00" }]),
            purchases,
        )
    };
    with_server(|client| {
        let limited = quarter("pubs", json!([]));
        let answer = client.compare(&limited);
        assert_sound(&limited, &answer);
        let expected = json!({ "flat_rate": { "parts": [
            { "start": "2020-07-01", "end": "2020-09-30", "percentage": "16.5", "basis": "limited_cost", "vat": "990.00" }
        ] } });
        assert_eq!(differences(&expected, &answer), Vec::<String>::new());
        let goods = json!([{ "spend": "materials", "net": "1000.00", "vat": "0.00" }]);
        assert_eq!(client.refuse(422, &quarter("pubs", goods.clone()))["code"], "period_must_be_split");
        client.compare(&quarter(SERVICES, goods));
    });
}

/// Three percentages in one year: the first year ends, and hospitality changes (VAT Regulations 1995 reg 55JB; SI 2020/728).
#[test]
fn a_period_can_have_many_parts() {
    with_server(|client| {
        let sales: Vec<Value> = [
            ("2020-06-01", "2020-07-14"),
            ("2020-07-15", "2020-12-31"),
            ("2021-01-01", "2021-05-31"),
        ]
        .iter()
        .map(|(start, end)| json!({ "treatment": "zero_rated", "net": "1000.00", "part": { "start": start, "end": end } }))
        .collect();
        let mut request = request(
            "2020-06-01",
            "2021-05-31",
            "catering-services-including-restaurants-and-takeaways",
            Value::Array(sales),
            json!([{ "spend": "food_and_drink_for_sale", "net": "2000.00", "vat": "0.00" }]),
        );
        request["business"]["registered_on"] = json!("2020-01-01");
        request["business"]["flat_rate_from"] = json!("2020-01-01");
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        let expected = json!({ "flat_rate": { "vat_payable": "195.00", "parts": [
            { "percentage": "11.5", "vat": "115.00" }, { "percentage": "3.5", "vat": "35.00" }, { "percentage": "4.5", "vat": "45.00" }
        ] } });
        assert_eq!(differences(&expected, &answer), Vec::<String>::new());
    });
}

/// The rate of a line must be one rate: hospitality rose from 5% to 12.5% on 1 October 2021. Before 15 July 2020 and from 1 April
/// 2022 nothing was sold at it, so that a line which reaches past an end has the one rate that there was.
#[test]
fn a_line_may_not_span_a_change_of_its_rate() {
    with_server(|client| {
        let ask = |start: &str, end: &str, line: Value| {
            let mut request = request(start, end, "pubs", json!([line]), json!([]));
            request["split_estimate"] = json!("by_days");
            request
        };
        let net = json!({ "treatment": "hospitality_rated", "net": "100.00" });
        let problem = client.refuse(422, &ask("2021-09-01", "2021-10-31", net.clone()));
        assert_eq!(problem["code"], "rate_changes_inside_line");
        for (start, end, vat) in [("2020-07-01", "2020-08-31", "5.00"), ("2022-03-01", "2022-04-30", "12.50")] {
            let answer = client.compare(&ask(start, end, net.clone()));
            assert_eq!(text_at(&answer, "/standard/output_tax"), vat, "{start} to {end}");
        }
        let dated = json!({
            "treatment": "hospitality_rated", "net": "100.00", "part": { "start": "2021-10-01", "end": "2021-10-31" }
        });
        let request = ask("2021-09-01", "2021-10-31", dated);
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(text_at(&answer, "/standard/output_tax"), "12.50");
    });
}

/// A change between categories of one percentage cuts nothing (`decision-cuts`), and only numbers that a step uses are listed as used.
#[test]
fn a_change_to_a_category_of_the_same_percentage_lists_no_number_that_is_not_used() {
    with_server(|client| {
        let mut request = quarter(json!([{ "treatment": "standard_rated", "gross": "12000.00" }]), json!([]));
        request["business"]["flat_rate_from"] = json!("2022-01-01");
        request["business"]["sector"] = json!("labour-only-building-or-construction-services");
        request["business"]["sector_changes"] = json!([{
            "on": "2025-05-01", "sector": "computer-and-it-consultancy-or-data-processing", "reason": "activity_started"
        }]);
        request["purchases"] = json!([{ "spend": "materials", "net": "3000.00", "vat": "600.00" }]);
        let answer = client.compare(&request);
        assert_sound(&request, &answer);
        assert_eq!(answer["flat_rate"]["parts"].as_array().map(Vec::len), Some(1), "{}", answer["flat_rate"]);
        assert_eq!(text_at(&answer, "/flat_rate/parts/0/percentage"), "14.5");
    });
}
