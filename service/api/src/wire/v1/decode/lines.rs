//! Totals of sales and purchases.

use vat_schemes::figures;

use super::scalars::{amount, percentage, period};
use super::words;
use crate::json::{Decoder, Given, Node};
use crate::problem::ProblemCode;
use crate::wire::v1::request::{MAX_LINES, Purchase, Sale};
use crate::wire::v1::vocabulary::{PurchaseTreatment, SaleNature, SaleTreatment, SpendKind, Supply, UsedFor};

const SALE: &[&str] =
    &["treatment", "nature", "net", "vat", "gross", "part", "percentage_at_supply", "northern_ireland_to_eu"];
const PURCHASE: &[&str] = &[
    "spend",
    "treatment",
    "supply",
    "used_for",
    "business_use_percentage",
    "for_main_activity",
    "vat_blocked",
    "net",
    "vat",
    "gross",
    "part",
];

/// What to do about too many lines.
const ADD_UP: &str = "Add up lines of the same kind.";

/// Totals of sales.
pub(super) fn sales(decoder: &mut Decoder, node: &Node<'_>) -> Option<Vec<Sale>> {
    decoder.list(node, MAX_LINES, ADD_UP, sale)
}

/// Totals of purchases.
pub(super) fn purchases(decoder: &mut Decoder, node: &Node<'_>) -> Option<Vec<Purchase>> {
    decoder.list(node, MAX_LINES, ADD_UP, purchase)
}

fn sale(decoder: &mut Decoder, node: &Node<'_>) -> Option<Sale> {
    let (mut treatment, mut nature, mut part, mut percentage_at_supply) = (None, None, None, None);
    let (mut net, mut vat, mut gross, mut northern_ireland_to_eu) = (None, None, None, None);
    let given = decoder.object(node, SALE, |decoder, field, node| match field {
        "treatment" => treatment = words!(decoder, node, figures::Treatment, SaleTreatment),
        "nature" => nature = words!(decoder, node, figures::Nature, SaleNature),
        "net" => net = amount(decoder, node),
        "vat" => vat = amount(decoder, node),
        "gross" => gross = amount(decoder, node),
        "part" => part = period(decoder, node),
        "percentage_at_supply" => percentage_at_supply = percentage(decoder, node),
        _ => northern_ireland_to_eu = decoder.boolean(node),
    })?;
    decoder.require(given, "treatment", "say how VAT treats the sale, for example \"standard_rated\".");
    require_amount(decoder, given);
    Some(Sale { treatment: treatment?, nature, net, vat, gross, part, percentage_at_supply, northern_ireland_to_eu })
}

fn purchase(decoder: &mut Decoder, node: &Node<'_>) -> Option<Purchase> {
    let (mut spend, mut treatment, mut supply, mut used_for) = (None, None, None, None);
    let (mut business_use_percentage, mut for_main_activity, mut part) = (None, None, None);
    let mut vat_blocked = None;
    let (mut net, mut vat, mut gross) = (None, None, None);
    let given = decoder.object(node, PURCHASE, |decoder, field, node| match field {
        "spend" => spend = words!(decoder, node, figures::Spend, SpendKind),
        "treatment" => treatment = words!(decoder, node, figures::PurchaseTreatment, PurchaseTreatment),
        "supply" => supply = words!(decoder, node, figures::Supply, Supply),
        "used_for" => used_for = words!(decoder, node, figures::UsedFor, UsedFor),
        "business_use_percentage" => business_use_percentage = percentage(decoder, node),
        "for_main_activity" => for_main_activity = decoder.boolean(node),
        "vat_blocked" => vat_blocked = decoder.boolean(node),
        "net" => net = amount(decoder, node),
        "vat" => vat = amount(decoder, node),
        "gross" => gross = amount(decoder, node),
        _ => part = period(decoder, node),
    })?;
    decoder.require(given, "spend", "say what was bought, for example \"services\"; GET /v1/spend-kinds lists them.");
    require_amount(decoder, given);
    Some(Purchase {
        spend: spend?,
        treatment,
        supply,
        used_for,
        business_use_percentage,
        for_main_activity,
        vat_blocked,
        net,
        vat,
        gross,
        part,
    })
}

fn require_amount(decoder: &mut Decoder, given: Given) {
    if !["net", "vat", "gross"].into_iter().any(|field| given.has(field)) {
        decoder.fault(
            ProblemCode::AmountMissing,
            "This line has no amount: give one, two or three of net, vat and gross.",
        );
    }
}
