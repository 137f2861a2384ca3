//! What a request gives of debtors who pay after relief, and of purchases that stay unpaid.

use jiff::civil::Date;

use crate::money::Money;

/// A payment by a debtor for whose debt relief was claimed.
#[derive(Debug, Clone)]
pub struct ReliefRepaid {
    /// The relief that was claimed.
    pub relief_claimed: Money,
    /// What was outstanding when it was claimed, with VAT, of the supplies on which it was claimed.
    pub outstanding_at_claim: Money,
    /// The payment, with VAT.
    pub payment: Money,
    /// What of the payment went to supplies on which no relief was claimed, if any.
    pub allocated_elsewhere: Option<Money>,
    /// The day of the payment, where stated: in the period.
    pub paid_on: Option<Date>,
}

/// A purchase that is not paid in full when six months are over.
#[derive(Debug, Clone)]
pub struct UnpaidPurchase {
    /// The day of the supply.
    pub supplied_on: Date,
    /// The day on which payment was due, where that is later.
    pub due_on: Option<Date>,
    /// The input tax claimed on it under standard accounting.
    pub input_tax_claimed: Money,
    /// Its price with VAT.
    pub gross: Money,
    /// What of the price was paid when the six months were over.
    pub paid: Money,
    /// Whether a flat rate user claimed the input tax too.
    pub claimed_under_flat_rate: bool,
}

/// A payment for a purchase on which input tax was repaid.
#[derive(Debug, Clone)]
pub struct PurchasePaidLater {
    /// The input tax that was repaid.
    pub input_tax_repaid: Money,
    /// What was unpaid of the price when it was repaid.
    pub unpaid_at_repayment: Money,
    /// The payment, with VAT.
    pub payment: Money,
    /// The day of the payment, where stated: in the period.
    pub paid_on: Option<Date>,
    /// Whether a flat rate user claimed and repaid the input tax too.
    pub claimed_under_flat_rate: bool,
}
