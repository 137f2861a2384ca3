//! What may be asked about the cash accounting scheme.

use jiff::civil::Date;

use crate::money::{Money, Percentage};
use crate::words::words;

/// The facts on which the use of the cash accounting scheme depends. What is not given is asked for.
#[derive(Debug, Clone, Default)]
pub struct CashAccounting {
    /// Taxable supplies without VAT, expected in the next twelve months.
    pub expected_turnover: Option<Money>,
    /// Taxable supplies without VAT of the twelve months to the end of the period.
    pub past_turnover: Option<Money>,
    /// Whether an increase in past supplies never happened before and is not expected again.
    pub not_to_be_repeated: Option<bool>,
    /// Whether that increase came from genuine commercial activity.
    pub genuine_commercial_activity: Option<bool>,
    /// Whether all returns are made and all that is due on them is paid or arranged for.
    pub returns_and_payments_up_to_date: Option<bool>,
    /// Whether the past year is free of VAT offences, sums paid to compound them, penalties for evasion, and removal from the scheme.
    pub no_vat_offence_in_past_year: Option<bool>,
    /// What is outstanding on leaving, if the business leaves.
    pub leaving: Option<CashLeaving>,
}

/// What is outstanding when a business leaves the cash accounting scheme.
#[derive(Debug, Clone)]
pub struct CashLeaving {
    /// The last day in the scheme.
    pub on: Date,
    /// What customers owe for supplies made in the scheme.
    pub debtors: Vec<Outstanding>,
    /// What is owed to suppliers for supplies received in the scheme.
    pub creditors: Vec<Outstanding>,
    /// Taxable supplies without VAT of the three months to that day.
    pub turnover_last_three_months: Option<Money>,
    /// Whether the business left later than it had to.
    pub left_late: Option<bool>,
    /// Whether HMRC removed it from the scheme.
    pub removed: Option<bool>,
    /// Whether its registration ends.
    pub deregistered: Option<bool>,
}

/// A total that is owed.
#[derive(Debug, Clone, Copy)]
pub struct Outstanding {
    /// How VAT treats what it is owed for.
    pub treatment: OutstandingTreatment,
    /// What is owed, with VAT.
    pub gross: Money,
    /// Of a debt to suppliers: the share of its VAT that may be recovered; none means all.
    pub recoverable: Option<Percentage>,
}

words! {
    /// How VAT treats what is outstanding.
    OutstandingTreatment {
        /// At the standard rate.
        StandardRated => "standard_rated",
        /// At the reduced rate of 5%.
        ReducedRated => "reduced_rated",
        /// At the zero rate.
        ZeroRated => "zero_rated",
        /// Exempt.
        Exempt => "exempt",
        /// Outside the scope of VAT.
        OutsideScope => "outside_scope",
    }
}
