//! What a request says of partial exemption: of a comparison's period, and of a whole year. The schemas state every bound; `decode`
//! keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;

use super::request::GivenPeriod;
use super::scalars::{GivenAmount, GivenPercentage, Reference, UnsignedAmount};
use super::vocabulary::YearEndsBy;

/// The most periods of a year.
pub const MAX_PERIODS: usize = 24;

/// What partial exemption is told of the year, for both schemes. It counts where there are exempt supplies, or where residual input
/// tax is shared.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenPartialExemption {
    /// The recoverable percentage of the longer period before, which is used in the periods of this one (VAT Regulations 1995
    /// regulation 101(2)(f)). Absent: the period's own supplies form the percentage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub previous_year_percentage: Option<GivenPercentage>,
    /// What the annual test is judged by (regulation 106ZA). Absent: it is not used.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub annual_test: Option<GivenAnnualTest>,
}

/// The conditions of the annual test: where both are met, all input tax is recovered in the period and the year decides (VAT
/// Regulations 1995 regulation 106ZA).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenAnnualTest {
    /// Whether the longer period before passed a de minimis test.
    pub previous_year_de_minimis: bool,
    /// Input tax expected in this longer period, in pounds.
    pub expected_input_tax: UnsignedAmount,
}

/// A partial exemption year, in the law's words a longer period, as the totals of its VAT periods (VAT Regulations 1995 regulations
/// 99, 107). Unknown fields are refused, and so is `null`: leave out what does not apply.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PartialExemptionYearRequest {
    /// The caller's own name for the request; it comes back in the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The year: twelve months at most, from 2011-01-04 at the earliest. A first one, from registration, may be shorter.
    pub year: GivenPeriod,
    /// How it comes to its end. Absent: `tax_year`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ends_by: Option<YearEndsBy>,
    /// The recoverable percentage of the longer period before, which is used in every period (regulation 101(2)(f)). Absent: each
    /// period's own supplies form its percentage. The year always has one of its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub previous_year_percentage: Option<GivenPercentage>,
    /// What the annual test was judged by in the periods (regulation 106ZA). Absent: it was not used.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub annual_test: Option<GivenAnnualTest>,
    /// Its VAT periods in order, from the first day of the year to its last without a gap.
    #[schema(max_items = 24)]
    pub periods: Vec<GivenYearPeriod>,
    /// The year's own totals, where the attribution at its end is not the sum of its periods. Absent: their sum.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub attributed_afresh: Option<GivenExemptionTotals>,
}

/// A VAT period of a partial exemption year.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenYearPeriod {
    /// Its days.
    pub period: GivenPeriod,
    /// Taxable supplies and those treated like them without VAT, in pounds; without capital assets sold (regulation 101(3)).
    pub taxable_supplies: GivenAmount,
    /// Exempt supplies, in pounds; without capital assets sold and incidental interest, land and finance (regulation 101(3)).
    pub exempt_supplies: GivenAmount,
    /// Input tax used only for taxable supplies, in pounds; without what is blocked or not for business.
    pub input_tax_taxable: GivenAmount,
    /// Input tax used only for exempt supplies, in pounds.
    pub input_tax_exempt: GivenAmount,
    /// Input tax used for both, in pounds: residual.
    pub input_tax_both: GivenAmount,
    /// What was claimed in the period, in pounds, where that is not what is worked out. Absent: what is worked out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub claimed: Option<GivenAmount>,
}

/// The five totals of a partial exemption calculation.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GivenExemptionTotals {
    /// Taxable supplies and those treated like them without VAT, in pounds.
    pub taxable_supplies: GivenAmount,
    /// Exempt supplies, in pounds.
    pub exempt_supplies: GivenAmount,
    /// Input tax used only for taxable supplies, in pounds.
    pub input_tax_taxable: GivenAmount,
    /// Input tax used only for exempt supplies, in pounds.
    pub input_tax_exempt: GivenAmount,
    /// Input tax used for both, in pounds: residual.
    pub input_tax_both: GivenAmount,
}
