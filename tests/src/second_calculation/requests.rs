//! Made-up requests: mostly what a bookkeeper would send, with limits, changes of the law and odd combinations more often than in
//! life.

use super::law;
use super::requests_adjustments::adjust;
use super::requests_lines::{purchase, sale};
use crate::calendar::Day;
use crate::generator::Generator;
use serde_json::{Value, json};

/// The days on which a percentage or a rule changed.
const CHANGES: [&str; 6] = ["2017-04-01", "2020-07-15", "2021-10-01", "2022-04-01", "2022-06-01", "2021-01-01"];

/// What the lines of a request are made for.
pub struct Setting {
    /// First day of the period.
    pub start: Day,
    /// Last day of the period.
    pub end: Day,
    /// Days inside the period on which something may change: a line with a part lies between two of them.
    pub cuts: Vec<Day>,
    /// Whether turnover is counted by receipts.
    pub cash: bool,
    /// Whether the business has exempt supplies.
    pub partly_exempt: bool,
}

impl Setting {
    /// A run of days that no cut goes through.
    pub fn part(&self, generator: &mut Generator) -> (Day, Day) {
        let mut starts = vec![self.start];
        starts.extend(&self.cuts);
        let start = *generator.one_of(&starts);
        let next = self.cuts.iter().filter(|cut| **cut > start).min();
        (start, next.map_or(self.end, |next| next.days_later(-1)))
    }
}

/// Whether something happens that happens so many times in a hundred.
pub fn chance(generator: &mut Generator, in_a_hundred: i64) -> bool {
    generator.between(1, 100) <= in_a_hundred
}

fn day(text: &str) -> Day {
    Day::read(text).unwrap_or_else(|| panic!("{text} is no day"))
}

/// A period, from 4 January 2011 to 2027.
fn period(generator: &mut Generator) -> (Day, Day) {
    let first = day("2011-02-01");
    let start = match generator.between(1, 10) {
        // Near a change of the law.
        1..=3 => day(generator.one_of::<&str>(&CHANGES)).days_later(-generator.between(0, 95)),
        4 => day("2011-01-04").days_later(generator.between(0, 5800)),
        _ => first.months_later(generator.between(0, 190)),
    };
    let end = match generator.between(1, 10) {
        1 => start.months_later(1).days_later(-1),
        2 => start.days_later(generator.between(0, 120)),
        3 => start.months_later(12).days_later(-1),
        _ => start.months_later(3).days_later(-1),
    };
    (start, end)
}

/// A request.
pub fn request(generator: &mut Generator) -> Value {
    let (start, end) = period(generator);
    let days = end.number() - start.number();
    let young = chance(generator, 35);
    let registered = start.days_later(-generator.between(0, if young { 460 } else { 6000 }));
    let mut business = json!({
        "registered_on": registered.to_string(),
        "sector": *generator.one_of(&law::categories()),
    });
    let mut cuts = Vec::new();
    let mut from = start;
    if chance(generator, 70) {
        from = if chance(generator, 60) {
            registered.days_later(generator.between(0, start.number() - registered.number()))
        } else {
            registered
        };
    }
    if days > 0 && chance(generator, 6) {
        from = start.days_later(generator.between(1, days));
    }
    if from != start || chance(generator, 50) {
        business["flat_rate_from"] = json!(from.to_string());
    }
    cuts.push(from);
    if chance(generator, 5) {
        let until = end.days_later(-generator.between(0, (days / 2).min(end.number() - from.number())));
        business["flat_rate_until"] = json!(until.to_string());
        cuts.push(until.days_later(1));
    }
    if young && chance(generator, 25) {
        let told = registered.days_later(generator.between(0, 420));
        business["liability_notified_on"] = json!(told.to_string());
        cuts.push(told);
    }
    cuts.push(registered.months_later(12));
    cuts.extend(CHANGES.iter().take(4).map(|change| day(change)));
    if days > 1 && chance(generator, 6) {
        let mut changes = Vec::new();
        let mut on = start.days_later(generator.between(-30, days / 2));
        for _ in 0..generator.between(1, 2) {
            changes.push(json!({
                "on": on.to_string(),
                "sector": *generator.one_of(&law::categories()),
                "reason": *generator.one_of(&["activity_started", "activity_stopped"]),
            }));
            cuts.push(on);
            on = on.days_later(generator.between(1, 30));
        }
        business["sector_changes"] = json!(changes);
    }
    let method = match generator.between(1, 10) {
        1..=2 => "cash",
        3 => "retailer",
        _ => "basic",
    };
    if method != "basic" || chance(generator, 30) {
        business["turnover_method"] = json!(method);
    }
    cuts.retain(|cut| start < *cut && *cut <= end);
    cuts.sort_unstable();
    cuts.dedup();
    let setting = Setting { start, end, cuts, cash: method == "cash", partly_exempt: chance(generator, 35) };

    let sales: Vec<Value> = (0..generator.between(0, 4)).map(|_| sale(generator, &setting)).collect();
    let purchases: Vec<Value> = (0..generator.between(0, 6)).map(|_| purchase(generator, &setting)).collect();
    let mut request = json!({
        "period": { "start": start.to_string(), "end": end.to_string() },
        "business": business,
        "sales": sales,
        "purchases": purchases,
    });
    if chance(generator, if setting.cuts.is_empty() { 10 } else { 40 }) {
        request["split_estimate"] = json!("by_days");
    }
    if chance(generator, 12) {
        request["marginal_tax_percentage"] = json!(*generator.one_of(&["0", "19", "25", "26.5", "42.75", "100"]));
    }
    if setting.partly_exempt && chance(generator, 25) {
        request["partial_exemption"] = json!({});
        if chance(generator, 60) {
            let percentage = *generator.one_of(&["0", "37", "66.67", "99.99", "100"]);
            request["partial_exemption"]["previous_year_percentage"] = json!(percentage);
        }
        if chance(generator, 40) {
            request["partial_exemption"]["annual_test"] = json!({
                "previous_year_de_minimis": chance(generator, 70),
                "expected_input_tax": *generator.one_of(&["0", "999999.99", "1000000", "1000000.01"]),
            });
        }
    }
    adjust(generator, &mut request, &setting, registered);
    if chance(generator, 10) {
        put_goods_at_limit(generator, &mut request);
    }
    request
}

/// Adds goods that bring spending to what the goods test requires, or to a penny either side of it.
fn put_goods_at_limit(generator: &mut Generator, request: &mut Value) {
    let Some(Ok(figures)) = super::compare(request) else { return };
    let Some(headroom) = figures.answer["goods_test"]["headroom"].as_str() else { return };
    let more = generator.between(-1, 1) - crate::figures::pence(headroom);
    let goods = json!({
        "spend": "materials",
        "net": crate::figures::pounds(more),
        "vat": "0.00",
        "part": { "start": figures.answer["goods_test"]["start"], "end": figures.answer["goods_test"]["end"] },
    });
    if let Some(purchases) = request["purchases"].as_array_mut() {
        purchases.push(goods);
    }
}
