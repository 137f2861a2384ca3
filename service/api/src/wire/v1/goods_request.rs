//! The request of a goods test. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::refusal::Place;

use super::request::{GivenPeriod, Purchase, Sale};
use super::scalars::{GivenAmount, Reference, SectorId, UnsignedAmount};
use super::vocabulary::SplitEstimate;

/// What the limited cost test of one VAT period is made from (VAT Regulations 1995 regulation 55A(4)): turnover and spending, each
/// as one figure or as lines. Unknown fields are refused, and so is `null`: leave out what does not apply.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GoodsTestRequest {
    /// The caller's own name for the request; it comes back in the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The VAT period. It ends on 2017-04-01 or later: the test began on that day.
    pub period: GivenPeriod,
    /// The business.
    pub business: GoodsTestBusiness,
    /// Flat rate turnover of the period with VAT, in pounds (VATA 1994 section 26B(2)). Instead of `sales`: one of the two is
    /// given, never both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover: Option<GivenAmount>,
    /// Totals of sales, of which those that count make the turnover. Instead of `turnover`; an empty list means nil.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_items = 5000)]
    pub sales: Option<Vec<Sale>>,
    /// Spending on relevant goods in the period with VAT, in pounds. Instead of `purchases`: one of the two is given, never both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub relevant_goods: Option<UnsignedAmount>,
    /// Totals of purchases, each of which is classified with the reason. Instead of `relevant_goods`; an empty list means nil.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_items = 5000)]
    pub purchases: Option<Vec<Purchase>>,
    /// How totals that do not say their part of the period are to be shared out where it straddles 2017-04-01. Absent: such totals
    /// are refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub split_estimate: Option<SplitEstimate>,
}

/// The fact of the business that the goods test depends on.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GoodsTestBusiness {
    /// The category of business. It decides whether fuel and goods for hire out can count, and gives the percentage shown (VAT
    /// Regulations 1995 regulations 55A(4), 55K).
    pub sector: SectorId,
}

impl GoodsTestRequest {
    /// The category of business given at a place.
    pub fn sector_at(&self, place: Place) -> Option<&str> {
        (place == Place::Sector).then_some(&self.business.sector.0)
    }
}
