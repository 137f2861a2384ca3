//! The request of a comparison.

use vat_schemes::figures;

use super::adjustments::adjustments;
use super::business::business;
use super::cash_accounting::cash_accounting;
use super::lines::{purchases, sales};
use super::partial_exemption::partial_exemption;
use super::scalars::{percentage, period, reference};
use super::thresholds::turnover;
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::request::{ComparisonRequest, GivenReceived};
use crate::wire::v1::vocabulary::SplitEstimate;

const REQUEST: &[&str] = &[
    "reference",
    "period",
    "business",
    "sales",
    "purchases",
    "received",
    "adjustments",
    "cash_accounting",
    "marginal_tax_percentage",
    "turnover",
    "partial_exemption",
    "split_estimate",
];
const RECEIVED: &[&str] = &["sales", "purchases"];

/// A comparison's request.
pub(super) fn request(decoder: &mut Decoder, node: &Node<'_>) -> Option<ComparisonRequest> {
    let (mut reference_given, mut period_given, mut business_given) = (None, None, None);
    let (mut sales_given, mut purchases_given, mut received_given) = (None, None, None);
    let (mut adjustments_given, mut cash_given, mut marginal_tax_percentage) = (None, None, None);
    let (mut partial_exemption_given, mut turnover_given, mut split_estimate) = (None, None, None);
    let given = decoder.object(node, REQUEST, |decoder, field, node| match field {
        "reference" => reference_given = reference(decoder, node),
        "period" => period_given = period(decoder, node),
        "business" => business_given = business(decoder, node),
        "sales" => sales_given = sales(decoder, node),
        "purchases" => purchases_given = purchases(decoder, node),
        "received" => received_given = received(decoder, node),
        "adjustments" => adjustments_given = adjustments(decoder, node),
        "marginal_tax_percentage" => marginal_tax_percentage = percentage(decoder, node),
        "cash_accounting" => cash_given = cash_accounting(decoder, node),
        "turnover" => turnover_given = turnover(decoder, node),
        "partial_exemption" => partial_exemption_given = partial_exemption(decoder, node),
        _ => split_estimate = words!(decoder, node, figures::SplitEstimate, SplitEstimate),
    })?;
    decoder.require(given, "period", "give the VAT period as an object with start and end.");
    decoder.require(given, "business", "give the business as an object with at least registered_on and sector.");
    Some(ComparisonRequest {
        reference: reference_given,
        period: period_given?,
        business: business_given?,
        sales: sales_given.unwrap_or_default(),
        purchases: purchases_given.unwrap_or_default(),
        received: received_given,
        adjustments: adjustments_given,
        marginal_tax_percentage,
        cash_accounting: cash_given,
        turnover: turnover_given,
        partial_exemption: partial_exemption_given,
        split_estimate,
    })
}

fn received(decoder: &mut Decoder, node: &Node<'_>) -> Option<GivenReceived> {
    let (mut sales_given, mut purchases_given) = (None, None);
    decoder.object(node, RECEIVED, |decoder, field, node| match field {
        "sales" => sales_given = sales(decoder, node),
        _ => purchases_given = purchases(decoder, node),
    })?;
    Some(GivenReceived { sales: sales_given.unwrap_or_default(), purchases: purchases_given.unwrap_or_default() })
}
