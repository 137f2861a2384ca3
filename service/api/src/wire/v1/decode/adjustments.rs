//! What stands on a return beside the period's own figures.

use vat_schemes::figures;

use super::scalars::{amount, date, percentage, whole_number};
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::adjustments_request::{
    GivenAdjustments, GivenBadDebt, GivenError, GivenFuelScaleCar, GivenLeaving, GivenPreRegistration, MAX_ADJUSTMENTS,
    MAX_CARS, MAX_CO2, MAX_ENGINE, MAX_ERRORS,
};
use crate::wire::v1::vocabulary::BoughtBefore;

const ADJUSTMENTS: &[&str] = &["bad_debts", "pre_registration", "leaving", "errors", "fuel_scale_charges"];
const BAD_DEBT: &[&str] = &["supplied_on", "due_on", "vat", "gross", "percentage_at_supply"];
const PRE_REGISTRATION: &[&str] = &["kind", "bought_on", "vat", "on_hand"];
const LEAVING: &[&str] = &["on", "stock_on_joining", "stock_on_leaving", "capital_goods"];
const FUEL_SCALE_CAR: &[&str] = &["co2_emissions", "engine_capacity"];
const ERROR: &[&str] = &["period_end", "amount"];

/// What to do about too many debts or purchases.
const ADD_UP: &str = "Add up those of the same day.";
/// What to do about too many errors.
const NET: &str = "Net those of the same period.";
/// What to do about too many cars.
const FEWER_CARS: &str = "Ask for fewer cars at a time.";
/// What to do about too many capital goods.
const TOGETHER: &str = "Give several together by their value.";

/// All adjustments.
pub(super) fn adjustments(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenAdjustments> {
    let (mut bad_debts, mut bought_before, mut leaving_given, mut errors) = (None, None, None, None);
    let mut cars = None;
    decoder.object(node, ADJUSTMENTS, |decoder, field, node| match field {
        "bad_debts" => bad_debts = decoder.list(node, MAX_ADJUSTMENTS, ADD_UP, bad_debt),
        "pre_registration" => bought_before = decoder.list(node, MAX_ADJUSTMENTS, ADD_UP, pre_registration),
        "leaving" => leaving_given = leaving(decoder, node),
        "fuel_scale_charges" => cars = decoder.list(node, MAX_CARS, FEWER_CARS, fuel_scale_car),
        _ => errors = decoder.list(node, MAX_ERRORS, NET, error),
    })?;
    Some(GivenAdjustments {
        bad_debts: bad_debts.unwrap_or_default(),
        pre_registration: bought_before.unwrap_or_default(),
        leaving: leaving_given,
        errors: errors.unwrap_or_default(),
        fuel_scale_charges: cars.unwrap_or_default(),
    })
}

fn bad_debt(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenBadDebt> {
    let (mut supplied_on, mut due_on, mut vat, mut gross) = (None, None, None, None);
    let mut percentage_at_supply = None;
    let given = decoder.object(node, BAD_DEBT, |decoder, field, node| match field {
        "supplied_on" => supplied_on = date(decoder, node),
        "due_on" => due_on = date(decoder, node),
        "vat" => vat = amount(decoder, node),
        "gross" => gross = amount(decoder, node),
        _ => percentage_at_supply = percentage(decoder, node),
    })?;
    decoder.require(given, "supplied_on", "give the day of the supply, for example \"2025-09-12\".");
    decoder.require(given, "vat", "give the VAT charged on what is unpaid.");
    decoder.require(given, "gross", "give what is unpaid, with VAT.");
    Some(GivenBadDebt { supplied_on: supplied_on?, due_on, vat: vat?, gross: gross?, percentage_at_supply })
}

fn pre_registration(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenPreRegistration> {
    let (mut kind, mut bought_on, mut vat, mut on_hand) = (None, None, None, None);
    let given = decoder.object(node, PRE_REGISTRATION, |decoder, field, node| match field {
        "kind" => kind = words!(decoder, node, figures::BoughtBefore, BoughtBefore),
        "bought_on" => bought_on = date(decoder, node),
        "vat" => vat = amount(decoder, node),
        _ => on_hand = decoder.boolean(node),
    })?;
    decoder.require(given, "kind", "say whether goods or services were bought.");
    decoder.require(given, "bought_on", "give the day of the purchase, for example \"2026-01-20\".");
    decoder.require(given, "vat", "give the VAT on the purchase.");
    Some(GivenPreRegistration { kind: kind?, bought_on: bought_on?, vat: vat?, on_hand })
}

fn leaving(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenLeaving> {
    let (mut on, mut stock_on_joining, mut stock_on_leaving, mut capital_goods) = (None, None, None, None);
    let given = decoder.object(node, LEAVING, |decoder, field, node| match field {
        "on" => on = date(decoder, node),
        "stock_on_joining" => stock_on_joining = amount(decoder, node),
        "stock_on_leaving" => stock_on_leaving = amount(decoder, node),
        _ => capital_goods = decoder.list(node, MAX_ERRORS, TOGETHER, amount),
    })?;
    decoder.require(given, "on", "give the last day in the scheme, for example \"2026-06-30\".");
    Some(GivenLeaving { on: on?, stock_on_joining, stock_on_leaving, capital_goods: capital_goods.unwrap_or_default() })
}

fn error(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenError> {
    let (mut period_end, mut amount_given) = (None, None);
    let given = decoder.object(node, ERROR, |decoder, field, node| match field {
        "period_end" => period_end = date(decoder, node),
        _ => amount_given = amount(decoder, node),
    })?;
    decoder.require(given, "period_end", "give the last day of the period of the error, for example \"2025-12-31\".");
    decoder.require(given, "amount", "give the VAT under-declared, or over-declared with a minus sign in front.");
    Some(GivenError { period_end: period_end?, amount: amount_given? })
}

fn fuel_scale_car(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenFuelScaleCar> {
    let (mut co2_emissions, mut engine_capacity) = (None, None);
    let given = decoder.object(node, FUEL_SCALE_CAR, |decoder, field, node| match field {
        "co2_emissions" => co2_emissions = whole_number(decoder, node, 1..=MAX_CO2),
        _ => engine_capacity = whole_number(decoder, node, 1..=MAX_ENGINE),
    })?;
    let hint = "give the CO2 emissions of the car, or its cylinder capacity where it has no such figure.";
    decoder.require_one(given, ["co2_emissions", "engine_capacity"], hint);
    Some(GivenFuelScaleCar { co2_emissions, engine_capacity })
}
