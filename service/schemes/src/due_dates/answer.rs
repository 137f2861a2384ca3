//! What is answered about dates.

use std::borrow::Cow;

use jiff::civil::Date;

use super::figures::Instalments;
use crate::answer::{LawBehind, Warning};
use crate::law::Evidence;
use crate::money::Money;
use crate::period::Period;
use crate::words::words;
use crate::workings::{Rule, Step};

words! {
    /// What a day is. The word of each is stable.
    DateKind {
        /// Return and payment of a VAT period are due.
        ReturnAndPaymentDue => "return_and_payment_due",
        /// HMRC collect the payment by direct debit.
        DirectDebitCollected => "direct_debit_collected",
        /// An instalment of annual accounting is due.
        InstalmentDue => "instalment_due",
        /// VAT from before registration is claimed on the first return, due on this day.
        PreRegistrationClaim => "pre_registration_claim",
        /// The first day of the first-year reduction, where it begins after the scheme.
        FirstYearReductionBegins => "first_year_reduction_begins",
        /// The last day of the first-year reduction.
        FirstYearReductionEnds => "first_year_reduction_ends",
        /// The first anniversary of registration.
        RegistrationAnniversary => "registration_anniversary",
        /// An anniversary of the start in the Flat Rate Scheme: the leaving test.
        FlatRateAnniversary => "flat_rate_anniversary",
        /// The last day for telling HMRC that the scheme ends.
        FlatRateLeavingNotice => "flat_rate_leaving_notice",
        /// The first day of the period current at an anniversary: the category is checked.
        FlatRateCategoryCheck => "flat_rate_category_check",
        /// The last day for telling HMRC that the percentage changes from that day.
        FlatRateCategoryNotice => "flat_rate_category_notice",
        /// The first day on which a business that left may use the scheme again.
        FlatRateReturnPossible => "flat_rate_return_possible",
        /// The last day for telling HMRC of an activity begun or given up.
        ActivityChangeNotice => "activity_change_notice",
        /// The last day for telling HMRC of the liability to be registered.
        RegistrationNotice => "registration_notice",
        /// The effective date of registration that follows.
        RegistrationBegins => "registration_begins",
        /// The last day for telling HMRC that taxable supplies have ceased.
        DeregistrationNotice => "deregistration_notice",
        /// The last day for correcting errors of a period.
        ErrorCorrectionEnds => "error_correction_ends",
        /// The last day for claiming input tax of a period.
        InputTaxClaimEnds => "input_tax_claim_ends",
        /// The first day on which relief for a bad debt may be claimed.
        BadDebtClaimBegins => "bad_debt_claim_begins",
        /// The last.
        BadDebtClaimEnds => "bad_debt_claim_ends",
        /// The day after whose period input tax on an unpaid purchase must be repaid.
        InputTaxRepayment => "input_tax_repayment",
    }
}

impl DateKind {
    /// Whether money must arrive by the day.
    #[must_use]
    pub const fn is_payment(self) -> bool {
        matches!(self, Self::ReturnAndPaymentDue | Self::InstalmentDue)
    }

    /// Whether something must be done by the day; otherwise it is a day from which something holds.
    #[must_use]
    pub const fn is_deadline(self) -> bool {
        match self {
            Self::ReturnAndPaymentDue
            | Self::InstalmentDue
            | Self::PreRegistrationClaim
            | Self::FirstYearReductionEnds
            | Self::FlatRateAnniversary
            | Self::FlatRateLeavingNotice
            | Self::FlatRateCategoryCheck
            | Self::FlatRateCategoryNotice
            | Self::ActivityChangeNotice
            | Self::RegistrationNotice
            | Self::RegistrationBegins
            | Self::DeregistrationNotice
            | Self::ErrorCorrectionEnds
            | Self::InputTaxClaimEnds
            | Self::BadDebtClaimEnds
            | Self::InputTaxRepayment => true,
            Self::DirectDebitCollected
            | Self::FirstYearReductionBegins
            | Self::RegistrationAnniversary
            | Self::FlatRateReturnPossible
            | Self::BadDebtClaimBegins => false,
        }
    }
}

/// What a day is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// A VAT period.
    Period(Period),
    /// An event of the request, by its position.
    Event(usize),
    /// The registration or the scheme of the business.
    Business,
}

/// Whether a day is a working day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorkingDay {
    /// Whether it is one.
    pub is_working_day: bool,
    /// The day itself, or the last working day before it.
    pub previous_working_day: Date,
}

/// A rule by which a day is worked out.
#[derive(Debug, PartialEq, Eq)]
pub struct DateRule {
    /// What kind of day it gives.
    pub kind: DateKind,
    /// The rule and its authorities.
    pub rule: Rule,
    /// How well they were read.
    pub evidence: Evidence,
}

/// A day that the business should know of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DiaryDate {
    /// The day.
    pub on: Date,
    /// The day to act by: for a payment the last working day up to it, where that is known.
    pub act_by: Date,
    /// The rule behind it, with what kind of day it is.
    pub by: &'static DateRule,
    /// What it is, in a line.
    pub title: String,
    /// What to do.
    pub what_to_do: String,
    /// What it is about.
    pub about: About,
    /// The day that it is counted from.
    pub counted_from: Date,
    /// Whether it is a working day; none outside the days for which bank holidays are known.
    pub working_day: Option<WorkingDay>,
}

/// The amounts of a year of annual accounting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AnnualAmounts {
    /// How many instalments.
    pub instalments: Instalments,
    /// Each of them.
    pub instalment: Money,
    /// All of them.
    pub paid: Money,
    /// What is due with the return, or negative where HMRC repay; none where what the return came to is not known.
    pub balance: Option<Money>,
}

/// The dates of a business in a window of time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DatesAnswer {
    /// The window.
    pub window: Period,
    /// The days, in order.
    pub dates: Vec<DiaryDate>,
    /// The amounts of annual accounting, where they were asked for.
    pub annual_accounting: Option<AnnualAmounts>,
    /// What the reader should know.
    pub warnings: Vec<Warning>,
    /// Every sum, in order.
    pub workings: Vec<Step>,
    /// What the answer leaves out, and who decides.
    pub cautions: Vec<Cow<'static, str>>,
    /// The law that it rests on.
    pub law: LawBehind,
}
