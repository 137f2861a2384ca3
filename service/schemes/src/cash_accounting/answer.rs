//! What is answered about the cash accounting scheme.

use jiff::civil::Date;

use crate::money::Money;
use crate::words::words;

/// Whether the cash accounting scheme may be used, and what leaving it costs. It stands on no return of the answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CashAccountingAnswer {
    /// Whether the business may begin to use it; none while a fact that decides is not known.
    pub may_use: Option<bool>,
    /// Whether a business in it must leave at the end of the period; none while a fact that decides is not known.
    pub must_leave: Option<bool>,
    /// The conditions, in the order in which they are looked at.
    pub conditions: Vec<CashCondition>,
    /// What leaving costs, where it was asked about.
    pub leaving: Option<CashLeavingAnswer>,
}

/// A condition and how it is met.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CashCondition {
    /// Which.
    pub kind: CashConditionKind,
    /// What is asked.
    pub question: String,
    /// The answer, from the facts given.
    pub answer: CashConditionAnswer,
    /// What follows from either answer.
    pub consequence: &'static str,
    /// On what authority.
    pub authority: &'static [&'static str],
}

words! {
    /// A condition of the cash accounting scheme.
    CashConditionKind {
        /// Expected supplies are within the limit for joining.
        ExpectedTurnoverWithinLimit => "expected_turnover_within_limit",
        /// Returns and payments are up to date.
        ReturnsAndPaymentsUpToDate => "returns_and_payments_up_to_date",
        /// The past year is free of VAT offences.
        NoVatOffenceInPastYear => "no_vat_offence_in_past_year",
        /// Past supplies are above the limit for staying.
        PastTurnoverAboveLimit => "past_turnover_above_limit",
        /// The increase happened once only.
        NotToBeRepeated => "not_to_be_repeated",
        /// It came from genuine commercial activity.
        GenuineCommercialActivity => "genuine_commercial_activity",
        /// Expected supplies are below the limit for staying after it.
        ExpectedTurnoverBelowLimit => "expected_turnover_below_limit",
        /// Supplies of the last three months are above the limit for having time on leaving.
        LastThreeMonthsAboveLimit => "last_three_months_above_limit",
        /// The business left late.
        LeftLate => "left_late",
        /// HMRC removed it.
        Removed => "removed",
        /// Its registration ends.
        Deregistered => "deregistered",
    }
}

words! {
    /// An answer from the facts given.
    CashConditionAnswer {
        /// Yes.
        Yes => "yes",
        /// No.
        No => "no",
        /// The fact was not given.
        NotKnown => "not_known",
    }
}

impl From<Option<bool>> for CashConditionAnswer {
    fn from(fact: Option<bool>) -> Self {
        match fact {
            Some(true) => Self::Yes,
            Some(false) => Self::No,
            None => Self::NotKnown,
        }
    }
}

words! {
    /// When what is outstanding on leaving is accounted for.
    LeavingTime {
        /// On the return of the last period in the scheme.
        AtOnce => "at_once",
        /// On that return, or as it is paid within six months.
        AtOnceOrWithinSixMonths => "at_once_or_within_six_months",
        /// A fact that decides was not given.
        NotKnown => "not_known",
    }
}

/// What leaving the cash accounting scheme costs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CashLeavingAnswer {
    /// VAT on what customers owe.
    pub output_tax: Money,
    /// VAT to recover on what is owed to suppliers.
    pub input_tax: Money,
    /// The one less the other; negative for a repayment.
    pub net_due: Money,
    /// When it is accounted for.
    pub time: LeavingTime,
    /// The last day of the six months, where they are allowed.
    pub six_months_until: Option<Date>,
    /// What decides that, in the order in which it is looked at.
    pub conditions: Vec<CashCondition>,
}
