//! What a partial exemption year is made from.

use crate::figures::{Dates, PartialExemptionGiven};
use crate::money::Money;
use crate::words::words;

words! {
    /// How a longer period comes to its end (VAT Regulations 1995 reg 99(1)(d), (e)).
    YearEndsBy {
        /// With the tax year: 31 March, 30 April or 31 May.
        TaxYear => "tax_year",
        /// With the registration for VAT.
        Deregistration => "deregistration",
    }
}

/// The five totals of a period or of the year, in pounds.
#[derive(Debug, Clone, Copy)]
pub struct ExemptionTotals {
    /// Taxable supplies and those treated like them, without VAT.
    pub taxable_supplies: Money,
    /// Exempt supplies.
    pub exempt_supplies: Money,
    /// Input tax used only for taxable supplies.
    pub input_tax_taxable: Money,
    /// Input tax used only for exempt supplies.
    pub input_tax_exempt: Money,
    /// Input tax used for both.
    pub input_tax_both: Money,
}

/// A VAT period of the year.
#[derive(Debug, Clone, Copy)]
pub struct YearPeriod {
    /// Its days.
    pub period: Dates,
    /// Its totals.
    pub totals: ExemptionTotals,
    /// What was claimed, where that is not what is worked out.
    pub claimed: Option<Money>,
}

/// A partial exemption year: in the law's words, a longer period.
#[derive(Debug, Clone)]
pub struct YearFigures {
    /// Its days.
    pub year: Dates,
    /// How it comes to its end.
    pub ends_by: YearEndsBy,
    /// What is told of the year before and was expected of this one.
    pub of_the_year: PartialExemptionGiven,
    /// Its VAT periods, in order.
    pub periods: Vec<YearPeriod>,
    /// The year's own totals, where the attribution at its end is not the sum of its periods.
    pub attributed_afresh: Option<ExemptionTotals>,
}
