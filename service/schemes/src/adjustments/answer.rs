//! What is answered of debtors who pay after relief, of purchases that stay unpaid, and of the partial exemption year.

use jiff::civil::Date;

use crate::money::Money;

/// What an adjustment puts on the return of each scheme.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BothSides {
    /// On that of standard accounting.
    pub standard: Money,
    /// On that of the Flat Rate Scheme.
    pub flat_rate: Money,
    /// Why under standard accounting.
    pub standard_reason: &'static str,
    /// Why under the Flat Rate Scheme.
    pub flat_rate_reason: &'static str,
}

/// Input tax to repay on one unpaid purchase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UnpaidPurchaseAnswer {
    /// The day on which the six months end.
    pub six_months_end: Date,
    /// What is repaid: a negative entry in box 4.
    pub repaid: BothSides,
}

/// The annual adjustment of partial exemption, the same under both schemes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartialExemptionYearAdjustment {
    /// What stands in box 4: positive to claim, negative to repay.
    pub amount: Money,
    /// What it is, and what it is not.
    pub note: &'static str,
}
