//! Debtors who pay after relief, and purchases that stay unpaid.

use super::scalars::{amount, date};
use crate::json::{Decoder, Node};
use crate::wire::v1::adjustments_request::{GivenPurchasePaidLater, GivenReliefRepaid, GivenUnpaidPurchase};

const RELIEF_REPAID: &[&str] = &["relief_claimed", "outstanding_at_claim", "payment", "allocated_elsewhere", "paid_on"];
const UNPAID_PURCHASE: &[&str] =
    &["supplied_on", "due_on", "input_tax_claimed", "gross", "paid", "claimed_under_flat_rate"];
const PAID_LATER: &[&str] =
    &["input_tax_repaid", "unpaid_at_repayment", "payment", "paid_on", "claimed_under_flat_rate"];

pub(super) fn relief_repaid(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenReliefRepaid> {
    let (mut relief_claimed, mut outstanding_at_claim, mut payment) = (None, None, None);
    let (mut allocated_elsewhere, mut paid_on) = (None, None);
    let given = decoder.object(node, RELIEF_REPAID, |decoder, field, node| match field {
        "relief_claimed" => relief_claimed = amount(decoder, node),
        "outstanding_at_claim" => outstanding_at_claim = amount(decoder, node),
        "payment" => payment = amount(decoder, node),
        "allocated_elsewhere" => allocated_elsewhere = amount(decoder, node),
        _ => paid_on = date(decoder, node),
    })?;
    decoder.require(given, "relief_claimed", "give the relief that was claimed.");
    decoder.require(given, "outstanding_at_claim", "give what was outstanding, with VAT, when the relief was claimed.");
    decoder.require(given, "payment", "give what the debtor paid.");
    Some(GivenReliefRepaid {
        relief_claimed: relief_claimed?,
        outstanding_at_claim: outstanding_at_claim?,
        payment: payment?,
        allocated_elsewhere,
        paid_on,
    })
}

pub(super) fn unpaid_purchase(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenUnpaidPurchase> {
    let (mut supplied_on, mut due_on, mut input_tax_claimed) = (None, None, None);
    let (mut gross, mut paid, mut claimed_under_flat_rate) = (None, None, None);
    let given = decoder.object(node, UNPAID_PURCHASE, |decoder, field, node| match field {
        "supplied_on" => supplied_on = date(decoder, node),
        "due_on" => due_on = date(decoder, node),
        "input_tax_claimed" => input_tax_claimed = amount(decoder, node),
        "gross" => gross = amount(decoder, node),
        "paid" => paid = amount(decoder, node),
        _ => claimed_under_flat_rate = decoder.boolean(node),
    })?;
    decoder.require(given, "supplied_on", "give the day of the supply, for example \"2025-11-10\".");
    decoder.require(given, "input_tax_claimed", "give the input tax that was claimed on the purchase.");
    decoder.require(given, "gross", "give its price, with VAT.");
    decoder.require(given, "paid", "give what was paid of it, \"0.00\" for nothing.");
    Some(GivenUnpaidPurchase {
        supplied_on: supplied_on?,
        due_on,
        input_tax_claimed: input_tax_claimed?,
        gross: gross?,
        paid: paid?,
        claimed_under_flat_rate,
    })
}

pub(super) fn purchase_paid_later(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenPurchasePaidLater> {
    let (mut input_tax_repaid, mut unpaid_at_repayment, mut payment) = (None, None, None);
    let (mut paid_on, mut claimed_under_flat_rate) = (None, None);
    let given = decoder.object(node, PAID_LATER, |decoder, field, node| match field {
        "input_tax_repaid" => input_tax_repaid = amount(decoder, node),
        "unpaid_at_repayment" => unpaid_at_repayment = amount(decoder, node),
        "payment" => payment = amount(decoder, node),
        "paid_on" => paid_on = date(decoder, node),
        _ => claimed_under_flat_rate = decoder.boolean(node),
    })?;
    decoder.require(given, "input_tax_repaid", "give the input tax that was repaid.");
    decoder.require(given, "unpaid_at_repayment", "give what was unpaid, with VAT, when it was repaid.");
    decoder.require(given, "payment", "give what was paid now.");
    Some(GivenPurchasePaidLater {
        input_tax_repaid: input_tax_repaid?,
        unpaid_at_repayment: unpaid_at_repayment?,
        payment: payment?,
        paid_on,
        claimed_under_flat_rate,
    })
}
