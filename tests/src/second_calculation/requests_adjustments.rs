//! What stands beside the period's own figures in made-up requests, now and then.

use super::requests::{Setting, chance};
use crate::calendar::{Day, whole_months};
use crate::figures::pounds;
use crate::generator::Generator;
use serde_json::{Value, json};

/// Adds it.
pub fn adjust(generator: &mut Generator, request: &mut Value, setting: &Setting, registered: Day) {
    if chance(generator, 3)
        && let Some(debt) = bad_debt(generator, setting, registered)
    {
        request["adjustments"]["bad_debts"] = json!([debt]);
    }
    if setting.start == registered && chance(generator, 40) {
        request["adjustments"]["pre_registration"] = json!([bought_before(generator, registered)]);
    }
    if chance(generator, 2) {
        let sign = *generator.one_of(&["", "-"]);
        request["adjustments"]["partial_exemption_year"] = json!(format!("{sign}{}", some(generator, 90_000)));
    }
    if chance(generator, 2) {
        let outstanding = generator.between(1, 300_000);
        let payment = generator.between(1, outstanding);
        let mut repaid = json!({
            "relief_claimed": pounds(generator.between(1, outstanding)),
            "outstanding_at_claim": pounds(outstanding),
            "payment": pounds(payment),
        });
        if chance(generator, 30) {
            repaid["allocated_elsewhere"] = json!(pounds(generator.between(0, payment)));
        }
        request["adjustments"]["relief_repaid"] = json!([repaid]);
    }
    if chance(generator, 3) {
        unpaid_purchase(generator, request, setting, registered);
    }
    if chance(generator, 2) {
        let unpaid = generator.between(1, 300_000);
        request["adjustments"]["purchases_paid_later"] = json!([{
            "input_tax_repaid": pounds(generator.between(1, unpaid)),
            "unpaid_at_repayment": pounds(unpaid),
            "payment": pounds(generator.between(1, unpaid)),
            "claimed_under_flat_rate": chance(generator, 30),
        }]);
    }
    fuel_scale_charges(generator, request, setting);
}

/// An amount from a penny up.
fn some(generator: &mut Generator, most: i64) -> String {
    pounds(generator.between(1, most))
}

/// A debt about the earliest or the latest day for its relief, or between them.
fn bad_debt(generator: &mut Generator, setting: &Setting, registered: Day) -> Option<Value> {
    let supplied = setting.end.months_later(-generator.between(5, 58)).days_later(generator.between(-3, 3));
    (supplied >= registered).then_some(())?;
    let gross = generator.between(100, 500_000);
    let mut debt = json!({ "supplied_on": supplied.to_string(), "gross": pounds(gross), "vat": pounds(gross / 6) });
    if setting.cash {
        debt["percentage_at_supply"] = json!(*generator.one_of(&["4", "9.5", "14.5", "16.5", "20"]));
    }
    Some(debt)
}

/// A purchase about the first day from which VAT before registration may be claimed, or later.
fn bought_before(generator: &mut Generator, registered: Day) -> Value {
    let days = *generator.one_of(&[1, 170, 180, 181, 182, 183, 184, 200, 1400, 1460, 1461, 1462, 1500]);
    let bought = registered.days_later(-days);
    let mut before = json!({
        "kind": *generator.one_of(&["goods", "services"]),
        "bought_on": bought.to_string(),
        "vat": some(generator, 90_000),
    });
    if chance(generator, 30) {
        before["on_hand"] = json!(chance(generator, 50));
    }
    before
}

/// A purchase whose six months end in the period, mostly.
fn unpaid_purchase(generator: &mut Generator, request: &mut Value, setting: &Setting, registered: Day) {
    let days = setting.end.number() - setting.start.number();
    let supplied = setting.start.days_later(generator.between(-1, days)).months_later(-6);
    if supplied < registered {
        return;
    }
    let gross = generator.between(100, 500_000);
    request["adjustments"]["unpaid_purchases"] = json!([{
        "supplied_on": supplied.to_string(),
        "gross": pounds(gross),
        "input_tax_claimed": pounds(generator.between(0, gross / 6)),
        "paid": pounds(generator.between(0, gross)),
        "claimed_under_flat_rate": chance(generator, 30),
    }]);
}

/// Road fuel scale charges, where the period begins in the year that is known and is wholly in the scheme.
fn fuel_scale_charges(generator: &mut Generator, request: &mut Value, setting: &Setting) {
    let known = ("2025-05-01".to_owned()..="2026-04-30".to_owned()).contains(&setting.start.to_string());
    let length = whole_months(setting.start, setting.end).is_some_and(|months| [1, 3, 12].contains(&months));
    if known && length && setting.cuts.is_empty() && chance(generator, 40) {
        let emissions = json!({ "co2_emissions": generator.between(100, 240) });
        let engine = json!({ "engine_capacity": *generator.one_of(&[1400, 1401, 2000, 2001]) });
        let car = if chance(generator, 70) { emissions } else { engine };
        request["adjustments"]["fuel_scale_charges"] = json!([car]);
    }
}
