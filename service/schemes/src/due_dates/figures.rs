//! What dates are worked out from: the facts of a business, as the caller gave them.

use jiff::civil::Date;

use crate::figures::Dates;
use crate::law::Nation;
use crate::money::Money;
use crate::words::words;

words! {
    /// How often returns are made where HMRC's ordinary periods are used (DMBM530020).
    ReturnPeriods {
        /// Every month.
        Monthly => "monthly",
        /// Quarters to the ends of March, June, September and December.
        QuarterlyStagger1 => "quarterly_stagger_1",
        /// Quarters to the ends of January, April, July and October.
        QuarterlyStagger2 => "quarterly_stagger_2",
        /// Quarters to the ends of February, May, August and November.
        QuarterlyStagger3 => "quarterly_stagger_3",
    }
}

impl ReturnPeriods {
    /// Whether a period ends with this month, January being 1.
    pub(super) fn end_with(self, month: i8) -> bool {
        match self {
            Self::Monthly => true,
            Self::QuarterlyStagger1 => month % 3 == 0,
            Self::QuarterlyStagger2 => month % 3 == 1,
            Self::QuarterlyStagger3 => month % 3 == 2,
        }
    }
}

words! {
    /// The instalments of annual accounting (VAT Regulations 1995 reg 50(2)).
    Instalments {
        /// Nine, in months 4 to 12 of the year.
        Nine => "nine",
        /// Three, in months 4, 7 and 10.
        Three => "three",
    }
}

words! {
    /// A fact that starts a time within which something is to be done, or from which something may be.
    EventKind {
        /// Taxable supplies of the twelve months to the end of a month exceeded the limit for registration; the day is that month's last.
        RegistrationLimitPassed => "registration_limit_passed",
        /// The day on which the supplies of the next thirty days alone came to be expected to exceed it.
        RegistrationLimitExpected => "registration_limit_expected",
        /// The day on which taxable supplies ceased.
        TaxableSuppliesCeased => "taxable_supplies_ceased",
        /// The day on which a flat rate user began or gave up a business activity.
        ActivityChanged => "activity_changed",
        /// The day on which a flat rate user ceased to be eligible, or decided to leave.
        FlatRateEndsEarly => "flat_rate_ends_early",
        /// An error was made in a period; the day is that period's last.
        ErrorInPeriod => "error_in_period",
        /// Input tax of a period was not claimed; the day is that period's last.
        InputTaxNotClaimed => "input_tax_not_claimed",
        /// A customer has not paid; the day is the later of the supply and the day on which payment was due.
        CustomerHasNotPaid => "customer_has_not_paid",
        /// The business has not paid a supplier; the day is the later of the supply and the day on which payment was due.
        SupplierNotPaid => "supplier_not_paid",
    }
}

/// A fact and its day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Event {
    /// What happened.
    pub kind: EventKind,
    /// On which day.
    pub on: Date,
}

/// The VAT of a year of annual accounting, in pounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Liability {
    /// What was expected, from which the instalments are made.
    pub expected: Money,
    /// What the return came to, where it is known.
    pub actual: Option<Money>,
}

/// Annual accounting (VAT Regulations 1995 regs 49 to 55).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AnnualAccounting {
    /// The last day of any of its years.
    pub year_ends_on: Date,
    /// The first day in the scheme; none for the day of registration.
    pub from: Option<Date>,
    /// How the instalments are paid.
    pub instalments: Instalments,
    /// Amounts, where the instalments are to be worked out.
    pub liability: Option<Liability>,
}

/// The VAT periods of the business.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Periods {
    /// HMRC's ordinary ones.
    Ordinary(ReturnPeriods),
    /// The years of annual accounting.
    Annual(AnnualAccounting),
    /// Others, each with its days, in order.
    Listed(Vec<Dates>),
}

/// The facts of the business that dates turn on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DatesBusiness {
    /// Effective date of registration.
    pub registered_on: Date,
    /// Whose bank holidays count.
    pub nation: Nation,
    /// The VAT periods.
    pub periods: Periods,
    /// The first day in the Flat Rate Scheme; none for a business that is not in it.
    pub flat_rate_from: Option<Date>,
    /// The last day in it; none while it goes on.
    pub flat_rate_until: Option<Date>,
    /// The day on which HMRC were told of the liability to be registered, if later than registration.
    pub liability_notified_on: Option<Date>,
}

/// What dates are asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DatesFigures {
    /// The first day of the window.
    pub from: Date,
    /// Its last day.
    pub until: Date,
    /// The business.
    pub business: DatesBusiness,
    /// What has happened.
    pub events: Vec<Event>,
}
