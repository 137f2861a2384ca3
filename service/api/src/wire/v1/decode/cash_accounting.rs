//! What is asked about the cash accounting scheme.

use vat_schemes::figures;

use super::scalars::{date, percentage, unsigned_amount};
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::cash_accounting_request::{
    GivenCashAccounting, GivenCashLeaving, GivenCreditor, GivenDebtor, MAX_OUTSTANDING,
};
use crate::wire::v1::vocabulary::OutstandingTreatment;

const CASH_ACCOUNTING: &[&str] = &[
    "expected_turnover",
    "past_turnover",
    "not_to_be_repeated",
    "genuine_commercial_activity",
    "returns_and_payments_up_to_date",
    "no_vat_offence_in_past_year",
    "leaving",
];
const LEAVING: &[&str] =
    &["on", "debtors", "creditors", "turnover_last_three_months", "left_late", "removed", "deregistered"];
const DEBTOR: &[&str] = &["treatment", "gross"];
const CREDITOR: &[&str] = &["treatment", "gross", "recoverable_percentage"];

/// What to do about too many totals.
const ADD_UP: &str = "Add up those of the same treatment.";
/// What to do about a total without its treatment.
const TREATMENT: &str = "say how VAT treats what is owed, for example \"standard_rated\".";
/// What to do about a total without its amount.
const GROSS: &str = "give what is owed, with VAT.";

/// All that is asked.
pub(super) fn cash_accounting(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenCashAccounting> {
    let (mut expected_turnover, mut past_turnover) = (None, None);
    let (mut not_to_be_repeated, mut genuine_commercial_activity) = (None, None);
    let (mut up_to_date, mut no_offence, mut leaving_given) = (None, None, None);
    decoder.object(node, CASH_ACCOUNTING, |decoder, field, node| match field {
        "expected_turnover" => expected_turnover = unsigned_amount(decoder, node),
        "past_turnover" => past_turnover = unsigned_amount(decoder, node),
        "not_to_be_repeated" => not_to_be_repeated = decoder.boolean(node),
        "genuine_commercial_activity" => genuine_commercial_activity = decoder.boolean(node),
        "returns_and_payments_up_to_date" => up_to_date = decoder.boolean(node),
        "no_vat_offence_in_past_year" => no_offence = decoder.boolean(node),
        _ => leaving_given = leaving(decoder, node),
    })?;
    Some(GivenCashAccounting {
        expected_turnover,
        past_turnover,
        not_to_be_repeated,
        genuine_commercial_activity,
        returns_and_payments_up_to_date: up_to_date,
        no_vat_offence_in_past_year: no_offence,
        leaving: leaving_given,
    })
}

fn leaving(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenCashLeaving> {
    let (mut on, mut debtors, mut creditors, mut turnover_last_three_months) = (None, None, None, None);
    let (mut left_late, mut removed, mut deregistered) = (None, None, None);
    let given = decoder.object(node, LEAVING, |decoder, field, node| match field {
        "on" => on = date(decoder, node),
        "debtors" => debtors = decoder.list(node, MAX_OUTSTANDING, ADD_UP, debtor),
        "creditors" => creditors = decoder.list(node, MAX_OUTSTANDING, ADD_UP, creditor),
        "turnover_last_three_months" => turnover_last_three_months = unsigned_amount(decoder, node),
        "left_late" => left_late = decoder.boolean(node),
        "removed" => removed = decoder.boolean(node),
        _ => deregistered = decoder.boolean(node),
    })?;
    decoder.require(given, "on", "give the last day in cash accounting, for example \"2026-06-30\".");
    Some(GivenCashLeaving {
        on: on?,
        debtors: debtors.unwrap_or_default(),
        creditors: creditors.unwrap_or_default(),
        turnover_last_three_months,
        left_late,
        removed,
        deregistered,
    })
}

fn debtor(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenDebtor> {
    let (mut treatment, mut gross) = (None, None);
    let given = decoder.object(node, DEBTOR, |decoder, field, node| match field {
        "treatment" => treatment = words!(decoder, node, figures::OutstandingTreatment, OutstandingTreatment),
        _ => gross = unsigned_amount(decoder, node),
    })?;
    decoder.require(given, "treatment", TREATMENT);
    decoder.require(given, "gross", GROSS);
    Some(GivenDebtor { treatment: treatment?, gross: gross? })
}

fn creditor(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenCreditor> {
    let (mut treatment, mut gross, mut recoverable_percentage) = (None, None, None);
    let given = decoder.object(node, CREDITOR, |decoder, field, node| match field {
        "treatment" => treatment = words!(decoder, node, figures::OutstandingTreatment, OutstandingTreatment),
        "gross" => gross = unsigned_amount(decoder, node),
        _ => recoverable_percentage = percentage(decoder, node),
    })?;
    decoder.require(given, "treatment", TREATMENT);
    decoder.require(given, "gross", GROSS);
    Some(GivenCreditor { treatment: treatment?, gross: gross?, recoverable_percentage })
}
