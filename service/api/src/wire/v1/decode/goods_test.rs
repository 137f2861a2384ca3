//! The request of a goods test.

use vat_schemes::figures;

use super::business::SECTOR_MISSING;
use super::lines::{purchases, sales};
use super::scalars::{amount, period, reference, sector, unsigned_amount};
use super::words;
use crate::json::{Decoder, Node};
use crate::wire::v1::goods_request::{GoodsTestBusiness, GoodsTestRequest};
use crate::wire::v1::vocabulary::SplitEstimate;

const REQUEST: &[&str] =
    &["reference", "period", "business", "turnover", "sales", "relevant_goods", "purchases", "split_estimate"];
const BUSINESS: &[&str] = &["sector"];

/// A goods test's request.
pub(super) fn request(decoder: &mut Decoder, node: &Node<'_>) -> Option<GoodsTestRequest> {
    let (mut reference_given, mut period_given, mut business_given) = (None, None, None);
    let (mut turnover, mut sales_given, mut relevant_goods, mut purchases_given) = (None, None, None, None);
    let mut split_estimate = None;
    let given = decoder.object(node, REQUEST, |decoder, field, node| match field {
        "reference" => reference_given = reference(decoder, node),
        "period" => period_given = period(decoder, node),
        "business" => business_given = business(decoder, node),
        "turnover" => turnover = amount(decoder, node),
        "sales" => sales_given = sales(decoder, node),
        "relevant_goods" => relevant_goods = unsigned_amount(decoder, node),
        "purchases" => purchases_given = purchases(decoder, node),
        _ => split_estimate = words!(decoder, node, figures::SplitEstimate, SplitEstimate),
    })?;
    decoder.require(given, "period", "give the VAT period as an object with start and end.");
    decoder.require(given, "business", "give the business as an object with sector.");
    decoder.require_one(given, ["turnover", "sales"], "give flat rate turnover as one figure, or sales as lines.");
    decoder.require_one(
        given,
        ["relevant_goods", "purchases"],
        "give spending on relevant goods as one figure, or purchases as lines, of which each is classified.",
    );
    Some(GoodsTestRequest {
        reference: reference_given,
        period: period_given?,
        business: business_given?,
        turnover,
        sales: sales_given,
        relevant_goods,
        purchases: purchases_given,
        split_estimate,
    })
}

fn business(decoder: &mut Decoder, node: &Node<'_>) -> Option<GoodsTestBusiness> {
    let mut sector_given = None;
    let given = decoder.object(node, BUSINESS, |decoder, _, node| sector_given = sector(decoder, node))?;
    decoder.require(given, "sector", SECTOR_MISSING);
    Some(GoodsTestBusiness { sector: sector_given? })
}
