//! What the limits are tested on: turnover of the past and the future, and the facts of the business.

use jiff::civil::Date;

use crate::figures::Dates;
use crate::money::Money;
use crate::words::words;

words! {
    /// Whether a month's figures are those of the books or expected.
    Basis {
        /// From the books.
        Actual => "actual",
        /// Expected.
        Forecast => "forecast",
    }
}

/// The totals of a month, each without VAT; none means nil. What is sold free, lent or used privately counts with the sales of its
/// rate.
#[derive(Debug, Clone, Copy, Default)]
pub struct MonthAmounts {
    /// Sales at the standard rate.
    pub standard_rated: Option<Money>,
    /// Sales at the reduced rate.
    pub reduced_rated: Option<Money>,
    /// Sales at the zero rate.
    pub zero_rated: Option<Money>,
    /// Sales for which the customer accounts for the VAT.
    pub domestic_reverse_charge_made: Option<Money>,
    /// Exempt sales.
    pub exempt: Option<Money>,
    /// Business supplies made where no UK VAT arises.
    pub outside_scope: Option<Money>,
    /// Receipts that are no business.
    pub non_business: Option<Money>,
    /// Capital assets sold, other than land in the next field.
    pub capital_assets: Option<Money>,
    /// Land sold as a capital asset and taxable at more than the zero rate.
    pub taxable_capital_land: Option<Money>,
    /// Own building work that counts as a supply.
    pub own_building_work: Option<Money>,
    /// Services bought from abroad.
    pub overseas_services_received: Option<Money>,
    /// Construction services bought under the domestic reverse charge.
    pub construction_reverse_charge_received: Option<Money>,
    /// Other purchases under a domestic reverse charge.
    pub other_domestic_reverse_charge_received: Option<Money>,
    /// VAT charged on the ordinary sales.
    pub vat_on_sales: Option<Money>,
}

/// The totals of one month.
#[derive(Debug, Clone, Copy)]
pub struct Month {
    /// Its first day.
    pub first: Date,
    /// Whether the figures are actual, where stated.
    pub basis: Option<Basis>,
    /// The totals.
    pub amounts: MonthAmounts,
}

/// The totals of a longer time, where months are not at hand.
#[derive(Debug, Clone, Copy, Default)]
pub struct Totals {
    /// Taxable supplies without VAT, without capital assets and without services bought from abroad.
    pub taxable_supplies: Option<Money>,
    /// Services bought from abroad.
    pub overseas_services_received: Option<Money>,
    /// All income with VAT, capital assets left out.
    pub total_income: Option<Money>,
}

/// The totals of a past year.
#[derive(Debug, Clone, Copy, Default)]
pub struct PastYear {
    /// The last day of the year; none means the day from which all is seen.
    pub end: Option<Date>,
    /// The totals.
    pub totals: Totals,
}

/// Turnover of the past and the future.
#[derive(Debug, Clone, Default)]
pub struct Turnover {
    /// The past year.
    pub past_year: Option<PastYear>,
    /// The year that begins after the day from which all is seen.
    pub next_year: Option<Totals>,
    /// The thirty days that begin on that day.
    pub next_30_days: Option<Totals>,
    /// Months, one after another.
    pub months: Vec<Month>,
}

/// Goods on hand for the day on which a registration ends: one of value and VAT.
#[derive(Debug, Clone, Copy)]
pub enum GoodsOnHand {
    /// Value without VAT, at the standard rate.
    Value(Money),
    /// The VAT on them.
    Vat(Money),
}

/// The facts of the business that the limits depend on.
#[derive(Debug, Clone, Copy)]
pub struct CheckedBusiness {
    /// Effective date of registration; none where the business is not registered.
    pub registered_on: Option<Date>,
    /// The first day of the business, where it is younger than the months.
    pub trading_from: Option<Date>,
    /// Whether it is established in the United Kingdom.
    pub established_in_uk: bool,
    /// The first day in the Flat Rate Scheme.
    pub flat_rate_from: Option<Date>,
    /// The last day in it.
    pub flat_rate_until: Option<Date>,
    /// Whether it uses cash accounting.
    pub uses_cash_accounting: bool,
    /// Whether it uses annual accounting.
    pub uses_annual_accounting: bool,
}

/// Facts that let a business into the Flat Rate Scheme, keep it out or end its use; none means not known.
#[derive(Debug, Clone, Copy, Default)]
pub struct FlatRateFacts {
    /// Uses the margin scheme of tour operators.
    pub tour_operator: Option<bool>,
    /// Must make adjustments under the capital goods scheme, or intends to get a capital item.
    pub capital_goods_scheme: Option<bool>,
    /// Uses or intends to use a margin scheme for second-hand goods.
    pub second_hand_margin_scheme: Option<bool>,
    /// In the past year a VAT offence, an offence compounded, or a penalty for dishonesty.
    pub vat_offence_in_past_year: Option<bool>,
    /// Ceased to use the Flat Rate Scheme in the past year.
    pub left_flat_rate_in_past_year: Option<bool>,
    /// Eligible for a VAT group.
    pub eligible_for_vat_group: Option<bool>,
    /// Was so in the past 24 months.
    pub eligible_for_vat_group_in_past_two_years: Option<bool>,
    /// Registered in the names of divisions.
    pub registered_in_divisions: Option<bool>,
    /// Was so in the past 24 months.
    pub registered_in_divisions_in_past_two_years: Option<bool>,
    /// One business is under the dominant influence of another.
    pub dominant_influence: Option<bool>,
    /// Bound to another by financial links.
    pub financial_links: Option<bool>,
    /// Bound to it by economic links.
    pub economic_links: Option<bool>,
    /// Bound to it by organisational links.
    pub organisational_links: Option<bool>,
    /// Was associated with another person in the past 24 months.
    pub associated_in_past_two_years: Option<bool>,
    /// Uses a retail scheme.
    pub retail_scheme: Option<bool>,
    /// The day on which it became a tour operator.
    pub tour_operator_from: Option<Date>,
    /// The day on which it came to intend getting a capital item.
    pub capital_item_intended_on: Option<Date>,
    /// The first day for which it opted for a margin scheme.
    pub margin_scheme_from: Option<Date>,
    /// The day on which it became eligible for a group, was registered in divisions, or became associated.
    pub associated_from: Option<Date>,
    /// The day from which it opts out: that on which HMRC are told in writing, or another agreed.
    pub opts_out_on: Option<Date>,
    /// The day from which HMRC end its use.
    pub terminated_by_hmrc_on: Option<Date>,
}

/// What the limits are tested on.
#[derive(Debug, Clone)]
pub struct ThresholdFigures {
    /// The day from which past and future are seen.
    pub as_of: Date,
    /// A VAT period of the business, from which the others are counted.
    pub period: Option<Dates>,
    /// The business.
    pub business: CheckedBusiness,
    /// Its turnover.
    pub turnover: Turnover,
    /// Goods on hand.
    pub goods_on_hand: Option<GoodsOnHand>,
    /// Facts for the Flat Rate Scheme.
    pub facts: FlatRateFacts,
}
