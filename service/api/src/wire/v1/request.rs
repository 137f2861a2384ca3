//! The request of a comparison. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;

use super::scalars::{GivenAmount, GivenDate, GivenPercentage, Reference, SectorId};
use super::vocabulary::{
    PurchaseTreatment, SaleNature, SaleTreatment, SpendKind, SplitEstimate, Supply, TurnoverMethod, UsedFor,
};

/// The most lines of sales, and of purchases.
pub const MAX_LINES: usize = 5000;

/// One VAT period's totals and the facts of the business that go with them. Unknown fields are refused, and so is `null`:
/// leave out what does not apply.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ComparisonRequest {
    /// The caller's own name for the request; it comes back in the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The VAT period.
    pub period: GivenPeriod,
    /// The business.
    pub business: Business,
    /// Totals of sales. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5000, required = false)]
    pub sales: Vec<Sale>,
    /// Totals of purchases; each purchase of capital goods is a line of its own. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5000, required = false)]
    pub purchases: Vec<Purchase>,
    /// How totals that do not say their part of the period are to be shared out where the percentage changes inside it.
    /// Absent: such totals are refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub split_estimate: Option<SplitEstimate>,
}

/// A run of days, both ends included.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenPeriod {
    /// The first day. A VAT period starts on 2011-01-04 at the earliest.
    pub start: GivenDate,
    /// The last day.
    pub end: GivenDate,
}

/// The facts of the business that its percentage depends on.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Business {
    /// Effective date of registration for VAT. The first-year reduction runs to the day before its first anniversary (VAT
    /// Regulations 1995 regulation 55JB).
    pub registered_on: GivenDate,
    /// The category of business of the main activity, as the business has chosen it (VAT Regulations 1995 regulation 55K).
    pub sector: SectorId,
    /// The day on which the Flat Rate Scheme started or would start. Absent: the period's first day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_from: Option<GivenDate>,
    /// The day on which HMRC were told of the liability to register, or became fully aware of it, if later than registration
    /// (VAT Regulations 1995 regulation 55JB). Absent: not later.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liability_notified_on: Option<GivenDate>,
    /// How flat rate turnover is counted. Absent: `basic`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover_method: Option<TurnoverMethod>,
}

/// A total of sales of one kind. It gives one, two or three of `net`, `vat` and `gross`: two give the third, three must add up,
/// and one is completed at the rate of its treatment on the line's dates.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Sale {
    /// How VAT treats it.
    pub treatment: SaleTreatment,
    /// What was sold. Absent: `ordinary`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nature: Option<SaleNature>,
    /// Without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub net: Option<GivenAmount>,
    /// The VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<GivenAmount>,
    /// With VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross: Option<GivenAmount>,
    /// The days that the total belongs to; needed where the percentage applied changes inside the period.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<GivenPeriod>,
}

/// A total of purchases of one kind; for `capital_goods`, one purchase. It gives one, two or three of `net`, `vat` and `gross`
/// like a sale.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Purchase {
    /// What was bought.
    pub spend: SpendKind,
    /// What a lone figure is completed at. Absent: `standard_rated`, and `outside_scope` for `wages_and_other_outside_scope`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub treatment: Option<PurchaseTreatment>,
    /// Who accounts for the VAT. For all but `ordinary`, `vat` is the VAT to account for. Absent: `ordinary`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply: Option<Supply>,
    /// Which supplies it was used for. Absent: `taxable`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used_for: Option<UsedFor>,
    /// The share used for the business, in per cent. Absent: 100.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub business_use_percentage: Option<GivenPercentage>,
    /// For goods for resale or for hire out: whether selling or hiring out such goods is what the main business activity
    /// ordinarily does; for fuel and parts of vehicles in the transport category: whether the business owns or leases a vehicle
    /// for it (VAT Regulations 1995 regulation 55A(4)). Absent: true, but for `goods_for_hire_out` true only in the category
    /// `hiring-or-renting-goods`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub for_main_activity: Option<bool>,
    /// Without VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub net: Option<GivenAmount>,
    /// The VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<GivenAmount>,
    /// With VAT, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gross: Option<GivenAmount>,
    /// The days that the total belongs to; needed only where the period straddles 2017-04-01, when the goods test began.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<GivenPeriod>,
}
