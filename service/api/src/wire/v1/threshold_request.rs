//! The request of a check of the limits. The schemas state every bound; `decode` keeps exactly these.

use serde::Serialize;
use utoipa::ToSchema;

use super::request::GivenPeriod;
use super::scalars::{GivenAmount, GivenDate, Month, Reference, UnsignedAmount};
use super::threshold_vocabulary::MonthBasis;

/// The most months.
pub const MAX_MONTHS: usize = 60;

/// What the limits of registration and of the schemes are tested on, and what is known of the conditions of the Flat Rate Scheme.
/// Give what is at hand: a limit for which figures are wanting says which. Unknown fields are refused, and so is `null`.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ThresholdCheckRequest {
    /// The caller's own name for the request; it comes back in the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The day from which past and future are seen, 2011-01-04 or later.
    pub as_of: GivenDate,
    /// A VAT period of the business, any one: the others are counted from it. It tells the day on which a scheme ends. Absent: that
    /// day is not worked out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub period: Option<GivenPeriod>,
    /// The business. Absent: not registered, and established in the United Kingdom.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub business: Option<ThresholdBusiness>,
    /// Its turnover. Absent: no limit on turnover is tested.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover: Option<Turnover>,
    /// Goods on hand, for the day on which a registration would end. Absent: not tested.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub goods_on_hand: Option<GoodsOnHand>,
    /// What is known of the conditions of the Flat Rate Scheme. What is absent is not known, and asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_facts: Option<FlatRateFacts>,
}

/// The facts of the business that its limits depend on.
#[derive(Clone, Debug, Default, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ThresholdBusiness {
    /// Effective date of registration for VAT. Absent: not registered.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub registered_on: Option<GivenDate>,
    /// The day on which the business began, where it is younger than twelve months at the first month given: fewer months then make
    /// its whole past. Absent: months before the first one given are wanting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub trading_from: Option<GivenDate>,
    /// Whether it is established in the United Kingdom; otherwise there is no limit of registration (VATA 1994 Schedule 1A). Absent:
    /// true.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub established_in_uk: Option<bool>,
    /// The first day in the Flat Rate Scheme, past or planned. Absent: it does not use the scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_from: Option<GivenDate>,
    /// The last day in the Flat Rate Scheme. Absent: no end is set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat_rate_until: Option<GivenDate>,
    /// Whether it uses cash accounting. Absent: false.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uses_cash_accounting: Option<bool>,
    /// Whether it uses annual accounting; `period` is then the accounting year. Absent: false.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uses_annual_accounting: Option<bool>,
}

/// Turnover of the past and the future: by months, or by longer times where months are not at hand. Both may be given; months come
/// first where they suffice, except that a given `next_year` goes before forecast months and a given year to an anniversary before
/// whole months.
#[derive(Clone, Debug, Default, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Turnover {
    /// The past year.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub past_year: Option<PastYearTotals>,
    /// The year to come.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next_year: Option<TurnoverTotals>,
    /// The thirty days that begin on the day from which the future is seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next_30_days: Option<TurnoverTotals>,
    /// Months in order, without a gap; past ones from the books, later ones as forecast. Absent means none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 60, required = false)]
    pub months: Vec<TurnoverMonth>,
}

/// The totals of a past year.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PastYearTotals {
    /// The last day of the year, not after the day from which all is seen. Absent: that day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end: Option<GivenDate>,
    /// As in the other totals.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taxable_supplies: Option<GivenAmount>,
    /// As in the other totals.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overseas_services_received: Option<GivenAmount>,
    /// As in the other totals.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total_income: Option<GivenAmount>,
}

/// Totals of a longer time, in pounds.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TurnoverTotals {
    /// Taxable supplies without VAT at every rate, the zero rate included; capital assets and services bought from abroad left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taxable_supplies: Option<GivenAmount>,
    /// Services bought from abroad under the reverse charge: they count for registration and its end. Absent means nil.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overseas_services_received: Option<GivenAmount>,
    /// All income with VAT, exempt income and business supplies outside the scope included; capital assets and what is no business
    /// left out: for leaving the Flat Rate Scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total_income: Option<GivenAmount>,
}

/// The totals of one month without VAT, in pounds; what is absent is nil. Each is counted towards the limits that it counts for.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TurnoverMonth {
    /// The month.
    pub month: Month,
    /// Whether the figures are actual. Absent: actual where the month has ended on the day from which all is seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub basis: Option<MonthBasis>,
    /// Sales at the standard rate, with goods lent or hired out, private use, barter and gifts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub standard_rated: Option<GivenAmount>,
    /// Sales at the reduced rate of 5 per cent; for others give `vat_on_sales`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reduced_rated: Option<GivenAmount>,
    /// Sales at the zero rate.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zero_rated: Option<GivenAmount>,
    /// Sales for which the customer accounts for the VAT, construction services for example.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub domestic_reverse_charge_made: Option<GivenAmount>,
    /// Exempt sales: they count only for leaving the Flat Rate Scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exempt: Option<GivenAmount>,
    /// Business supplies where no UK VAT arises: they count only for leaving the Flat Rate Scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outside_scope: Option<GivenAmount>,
    /// Receipts that are no business: they count for nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub non_business: Option<GivenAmount>,
    /// Capital assets sold, other than land below: they count for nothing (VATA 1994 Schedule 1 paragraph 1(7)).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capital_assets: Option<GivenAmount>,
    /// Land sold as a capital asset, taxable at more than the zero rate: it counts for registration and its end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taxable_capital_land: Option<GivenAmount>,
    /// Own building work of £100,000 or more that counts as a supply: it counts for registration and its end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own_building_work: Option<GivenAmount>,
    /// Services bought from abroad: they count for registration and its end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overseas_services_received: Option<GivenAmount>,
    /// Construction services bought under the domestic reverse charge: they count for nothing (SI 2019/892).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub construction_reverse_charge_received: Option<GivenAmount>,
    /// Other purchases under a domestic reverse charge: they count for registration and its end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other_domestic_reverse_charge_received: Option<GivenAmount>,
    /// VAT charged on these sales. Absent: worked out at the rates.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat_on_sales: Option<GivenAmount>,
}

/// Goods on hand of which VAT was recovered: their value or the VAT on them, one of the two (VATA 1994 Schedule 4 paragraph 8).
#[derive(Clone, Debug, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GoodsOnHand {
    /// Value without VAT, all at the standard rate, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<UnsignedAmount>,
    /// The VAT on them, in pounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat: Option<UnsignedAmount>,
}

/// What is known of the conditions of joining the Flat Rate Scheme and of the causes of leaving it (VAT Regulations 1995 regulations
/// 55A(2), 55L, 55M). Each is optional; what is absent is not known.
#[derive(Clone, Debug, Default, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FlatRateFacts {
    /// Uses the margin scheme of tour operators.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tour_operator: Option<bool>,
    /// Must make adjustments under the capital goods scheme, or intends to get an item of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capital_goods_scheme: Option<bool>,
    /// Uses, or intends to use, a margin scheme for second-hand goods.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub second_hand_margin_scheme: Option<bool>,
    /// In the past year convicted of a VAT offence, had one compounded, or was charged a penalty for dishonesty.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vat_offence_in_past_year: Option<bool>,
    /// Ceased to use the Flat Rate Scheme in the past year; worked out where `flat_rate_until` is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_flat_rate_in_past_year: Option<bool>,
    /// Eligible to be in a VAT group.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eligible_for_vat_group: Option<bool>,
    /// Was so in the past 24 months.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eligible_for_vat_group_in_past_two_years: Option<bool>,
    /// Registered in the names of divisions.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub registered_in_divisions: Option<bool>,
    /// Was so in the past 24 months.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub registered_in_divisions_in_past_two_years: Option<bool>,
    /// One business is under the dominant influence of another: with the three next, whether they are associated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub dominant_influence: Option<bool>,
    /// Bound to another business by financial links.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub financial_links: Option<bool>,
    /// Bound to it by economic links.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub economic_links: Option<bool>,
    /// Bound to it by organisational links.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub organisational_links: Option<bool>,
    /// Was associated with another person in the past 24 months.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub associated_in_past_two_years: Option<bool>,
    /// Uses a retail scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub retail_scheme: Option<bool>,
    /// The day on which a user of the scheme became a tour operator.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tour_operator_from: Option<GivenDate>,
    /// The day on which a user came to intend getting an item of the capital goods scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capital_item_intended_on: Option<GivenDate>,
    /// The first day of the VAT period for which a user opted for a margin scheme.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_scheme_from: Option<GivenDate>,
    /// The day on which a user became eligible for a VAT group, was registered in divisions, or became associated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub associated_from: Option<GivenDate>,
    /// The day on which HMRC are told in writing that the user leaves by choice, or another that they agree.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opts_out_on: Option<GivenDate>,
    /// The day from which HMRC end the use.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub terminated_by_hmrc_on: Option<GivenDate>,
}
