//! The lines of made-up requests.

use super::requests::{Setting, chance};
use crate::calendar::Day;
use crate::figures::pounds;
use crate::generator::Generator;
use serde_json::{Value, json};

/// Kinds of spend; the commonest stand more than once.
const SPEND: [&str; 25] = [
    "materials",
    "materials",
    "consumable_goods",
    "stock_for_resale",
    "goods_for_hire_out",
    "power_and_water",
    "food_and_drink_for_sale",
    "food_and_drink_for_staff",
    "vehicle_fuel_and_parts",
    "promotional_goods_and_gifts",
    "capital_goods",
    "capital_goods",
    "services",
    "services",
    "services",
    "rent_and_hire",
    "digital_content",
    "business_entertainment",
    "staff_entertainment",
    "car_purchase",
    "car_for_business_only",
    "car_lease",
    "short_car_hire",
    "accommodation_for_directors",
    "wages_and_other_outside_scope",
];

/// An amount in pence: of every size, round ones often, credit notes now and then.
fn amount(generator: &mut Generator) -> i64 {
    let most = *generator.one_of(&[100, 10_000, 200_000, 2_000_000, 2_000_000, 9_000_000, 60_000_000]);
    let pence = generator.between(0, most);
    let round = *generator.one_of(&[1, 1, 1, 50, 100, 1000, 25_000]);
    let sign = if chance(generator, 4) { -1 } else { 1 };
    pence / round * round * sign
}

/// VAT of a net amount at a rate in tenths of a per cent, as books would have it: right, or a few pence off.
fn vat(generator: &mut Generator, net: i64, rate: i64) -> i64 {
    let right = (net * rate + 500).div_euclid(1000);
    if chance(generator, 15) { right + generator.between(-3, 3) } else { right }
}

/// Gives the line its amounts, in one of the ways in which that can be done.
fn put_amounts(generator: &mut Generator, line: &mut Value, net: i64, rate: i64) {
    let vat = if rate == 0 { 0 } else { vat(generator, net, rate) };
    let mut put = |name: &str, pence: i64| line[name] = json!(pounds(pence));
    match generator.between(1, 10) {
        1..=2 => put("net", net),
        3..=4 => put("gross", net + vat),
        5 if rate > 0 => put("vat", vat),
        6 => {
            put("net", net);
            put("gross", net + vat);
        }
        7 if rate > 0 => {
            put("vat", vat);
            put("gross", net + vat);
        }
        8 if rate > 0 => {
            put("net", net);
            put("vat", vat);
            put("gross", net + vat);
        }
        _ if rate > 0 => {
            put("net", net);
            put("vat", vat);
        }
        _ => put("net", net),
    }
}

/// Gives the line its part, mostly, where the period has any.
fn put_part(generator: &mut Generator, line: &mut Value, setting: &Setting) -> (Day, Day) {
    if !setting.cuts.is_empty() && chance(generator, 85) || chance(generator, 3) {
        let (start, end) = setting.part(generator);
        line["part"] = json!({ "start": start.to_string(), "end": end.to_string() });
        return (start, end);
    }
    (setting.start, setting.end)
}

/// Tenths of a per cent of the hospitality rate on all of the days; nothing where there is none.
fn hospitality(days: (Day, Day)) -> Option<i64> {
    let on = |day| super::law::hospitality_rate(day);
    let (first, last) = (on(days.0)?, on(days.1)?);
    (first == last).then(|| if first == super::money::whole(5) { 50 } else { 125 })
}

/// A total of sales.
pub fn sale(generator: &mut Generator, setting: &Setting) -> Value {
    let mut line = json!({});
    let days = put_part(generator, &mut line, setting);
    let usual = [
        ("standard_rated", 200),
        ("standard_rated", 200),
        ("standard_rated", 200),
        ("standard_rated", 200),
        ("reduced_rated", 50),
        ("zero_rated", 0),
        ("outside_scope", 0),
        ("domestic_reverse_charge", 0),
        ("non_business", 0),
    ];
    let (mut treatment, mut rate) = *generator.one_of(&usual);
    if setting.partly_exempt && chance(generator, 45) || chance(generator, 4) {
        (treatment, rate) = ("exempt", 0);
    }
    if let Some(hospitality) = hospitality(days)
        && chance(generator, 30)
    {
        (treatment, rate) = ("hospitality_rated", hospitality);
    }
    line["treatment"] = json!(treatment);
    if chance(generator, 12) {
        let natures = ["capital_asset", "capital_asset_vat_claimed", "deemed_supply", "deemed_supply_vat_claimed"];
        line["nature"] = json!(*generator.one_of(&natures));
    }
    if setting.cash && chance(generator, 15) {
        line["percentage_at_supply"] = json!(*generator.one_of(&["4", "9.5", "12", "15.5", "16.5"]));
    }
    if treatment == "zero_rated" && chance(generator, 15) {
        line["northern_ireland_to_eu"] = json!(chance(generator, 80));
    }
    let net = amount(generator);
    put_amounts(generator, &mut line, net, rate);
    line
}

/// A total of purchases.
pub fn purchase(generator: &mut Generator, setting: &Setting) -> Value {
    let mut line = json!({});
    let spend = *generator.one_of(&SPEND);
    line["spend"] = json!(spend);
    put_part(generator, &mut line, setting);
    let mut net = amount(generator);
    if spend == "wages_and_other_outside_scope" {
        line["net"] = json!(pounds(net));
        return line;
    }
    let mut rate = 200;
    if chance(generator, 15) {
        let (treatment, other) =
            *generator.one_of(&[("standard_rated", 200), ("reduced_rated", 50), ("zero_rated", 0), ("exempt", 0)]);
        line["treatment"] = json!(treatment);
        rate = other;
    }
    if chance(generator, 15) {
        let supplies = [
            "overseas_services_reverse_charge",
            "domestic_reverse_charge",
            "postponed_import",
            "northern_ireland_acquisition",
        ];
        line["supply"] = json!(*generator.one_of(&supplies));
    }
    if setting.partly_exempt && chance(generator, 50) || chance(generator, 4) {
        line["used_for"] = json!(*generator.one_of(&["exempt", "both", "both", "taxable"]));
    }
    if chance(generator, 12) {
        let percentages = ["0", "12.5", "33.33", "50", "99.99", "100"];
        line["business_use_percentage"] = json!(*generator.one_of(&percentages));
    }
    if chance(generator, 8) {
        let kinds = ["vat_invoice", "less_detailed_invoice", "none_needed", "not_held"];
        line["evidence"] = json!(*generator.one_of(&kinds));
    }
    if chance(generator, 3) {
        line["vat_blocked"] = json!(chance(generator, 80));
    }
    let may_turn = ["stock_for_resale", "goods_for_hire_out", "vehicle_fuel_and_parts", "food_and_drink_for_sale"];
    if may_turn.contains(&spend) && chance(generator, 40) {
        line["for_main_activity"] = json!(chance(generator, 50));
    }
    if spend == "capital_goods" && chance(generator, 25) {
        // At the limit of £2,000 with VAT, and a penny or so either side.
        line["gross"] = json!(pounds(200_000 + generator.between(-1, 1)));
        return line;
    }
    if chance(generator, 15) {
        // VAT at or about the limits of partial exemption, for a month, a quarter and a year.
        net = *generator.one_of(&[62_500, 187_500, 750_000, 375_000]) * 5 + generator.between(-1, 1) * 5;
    }
    put_amounts(generator, &mut line, net, rate);
    line
}
