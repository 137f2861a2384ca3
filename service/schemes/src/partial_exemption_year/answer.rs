//! What a partial exemption year answers.

use std::borrow::Cow;

use jiff::civil::Date;

use crate::answer::{LawBehind, PartialExemption, Warning};
use crate::money::Money;
use crate::period::Period;
use crate::words::words;
use crate::workings::Step;

words! {
    /// A return that may carry the annual adjustment (VAT Regulations 1995 regs 107(1), 107B(2)).
    AdjustmentReturn {
        /// That of the first period after the year.
        FirstAfterYear => "first_after_year",
        /// That of the last period in the year, where the business chooses so.
        LastInYear => "last_in_year",
        /// The final return, on deregistration.
        FinalReturn => "final_return",
    }
}

/// A VAT period of the year.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PeriodInYear {
    /// Its days.
    pub days: Period,
    /// Its calculation, provisional until the year's.
    pub partial_exemption: PartialExemption,
    /// What was claimed.
    pub claimed: Money,
}

/// A return that may carry the adjustment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReturnForAdjustment {
    /// Which.
    pub kind: AdjustmentReturn,
    /// The first day of its period.
    pub period_start: Date,
    /// The last, where it is known.
    pub period_end: Option<Date>,
}

/// The year's own calculation and the annual adjustment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Annual {
    /// The calculation on the year's totals.
    pub partial_exemption: PartialExemption,
    /// What was claimed in its periods.
    pub claimed: Money,
    /// What may be recovered of the year's input tax.
    pub entitlement: Money,
    /// The entitlement less what was claimed: to claim, or negative to repay.
    pub adjustment: Money,
    /// How the year comes out, in a sentence.
    pub outcome: String,
    /// What is to be done with the adjustment, in sentences.
    pub what_to_do: String,
    /// The returns that may carry it.
    pub returns: Vec<ReturnForAdjustment>,
}

/// Whether residual input tax is small enough for the standard method override to be out of the question (VAT Regulations 1995 reg
/// 107E).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MethodOverride {
    /// Residual input tax of the year.
    pub residual_input_tax: Money,
    /// £50,000 a year in proportion to its length, down to a whole penny.
    pub limit: Money,
    /// Whether it is at most that.
    pub within_limit: bool,
}

/// A partial exemption year.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YearAnswer {
    /// Its days.
    pub year: Period,
    /// Its periods.
    pub periods: Vec<PeriodInYear>,
    /// The year as a whole.
    pub annual: Annual,
    /// The standard method override.
    pub standard_method_override: MethodOverride,
    /// What the reader should know or do.
    pub warnings: Vec<Warning>,
    /// Every sum, in order.
    pub workings: Vec<Step>,
    /// What the answer leaves out, and who decides.
    pub cautions: Vec<Cow<'static, str>>,
    /// The law that it rests on.
    pub law: LawBehind,
}
