//! Why a request gets no answer: the right shape, but the law or the figures admit none.

use std::fmt;

use crate::money::Overflow;
use crate::words::words;

/// A figure of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Amount {
    /// Without VAT.
    Net,
    /// The VAT.
    Vat,
    /// With VAT.
    Gross,
}

/// A field of a sale or a purchase.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineField {
    /// The line as a whole.
    Whole,
    /// One of its amounts.
    Amount(Amount),
    /// Its treatment.
    Treatment,
    /// The dates of the part of the period that it belongs to.
    Part,
    /// The last day of that part.
    PartEnd,
    /// How a purchase was supplied.
    Supply,
    /// The share of business use of a purchase.
    BusinessUse,
}

/// A place in what the caller gave. Displayed as a path: `/sales/0/net`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// All of it.
    Whole,
    /// The first day of the period.
    PeriodStart,
    /// The last day of the period.
    PeriodEnd,
    /// The category of business.
    Sector,
    /// The effective date of registration.
    RegisteredOn,
    /// The day on which the Flat Rate Scheme starts or would start.
    FlatRateFrom,
    /// All sales.
    Sales,
    /// A sale, by its position.
    Sale(usize, LineField),
    /// A purchase, by its position.
    Purchase(usize, LineField),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Whole => Ok(()),
            Self::PeriodStart => f.write_str("/period/start"),
            Self::PeriodEnd => f.write_str("/period/end"),
            Self::Sector => f.write_str("/business/sector"),
            Self::RegisteredOn => f.write_str("/business/registered_on"),
            Self::FlatRateFrom => f.write_str("/business/flat_rate_from"),
            Self::Sales => f.write_str("/sales"),
            Self::Sale(index, field) => write!(f, "/sales/{index}{field}"),
            Self::Purchase(index, field) => write!(f, "/purchases/{index}{field}"),
        }
    }
}

impl fmt::Display for LineField {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Whole => "",
            Self::Amount(Amount::Net) => "/net",
            Self::Amount(Amount::Vat) => "/vat",
            Self::Amount(Amount::Gross) => "/gross",
            Self::Treatment => "/treatment",
            Self::Part => "/part",
            Self::PartEnd => "/part/end",
            Self::Supply => "/supply",
            Self::BusinessUse => "/business_use_percentage",
        })
    }
}

words! {
    /// What kind of refusal it is. The word of each is stable.
    RefusalCode {
        /// The last day of a period or part comes before its first.
        PeriodEndBeforeStart => "period_end_before_start",
        /// The period starts before the tables begin.
        PeriodTooEarly => "period_too_early",
        /// The period starts before the business was registered.
        PeriodBeforeRegistration => "period_before_registration",
        /// The Flat Rate Scheme cannot start before registration.
        FlatRateBeforeRegistration => "flat_rate_before_registration",
        /// The Flat Rate Scheme starts after the first day of the period.
        SchemeStartsInsidePeriod => "scheme_starts_inside_period",
        /// No category of business has this id.
        UnknownSector => "unknown_sector",
        /// Totals must say which part of the period they belong to.
        PeriodMustBeSplit => "period_must_be_split",
        /// A part lies, wholly or partly, outside the period.
        PartOutsidePeriod => "part_outside_period",
        /// A part runs across a day on which the percentage applied changes.
        PartSpansChange => "part_spans_change",
        /// Net and VAT do not add up to gross.
        AmountsDoNotAddUp => "amounts_do_not_add_up",
        /// VAT stands on something that carries none.
        VatNotChargeable => "vat_not_chargeable",
        /// The VAT alone does not tell the other amounts.
        VatAloneNotEnough => "vat_alone_not_enough",
        /// The rate named was not in force on the line's dates.
        RateNotInForce => "rate_not_in_force",
        /// The rate changed within the line's dates.
        RateChangesInsideLine => "rate_changes_inside_line",
        /// A flat rate user's postponed import in a period that starts before 1 June 2022.
        PostponedImportTooEarly => "postponed_import_too_early",
        /// Residual input tax and no supplies to attribute it by.
        PartialExemptionPercentageUnknown => "partial_exemption_percentage_unknown",
        /// Amounts too large for an exact sum.
        AmountTooLarge => "amount_too_large",
        /// A date on which the tables have no value.
        DateOutsideLaw => "date_outside_law",
    }
}

/// One reason why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// Where in the request.
    pub place: Place,
    /// What kind.
    pub code: RefusalCode,
    /// What is wrong and what to change, in plain English.
    pub detail: String,
}

impl Refusal {
    pub(crate) fn new(place: Place, code: RefusalCode, detail: impl Into<String>) -> Self {
        Self { place, code, detail: detail.into() }
    }
}

impl From<Overflow> for Refusal {
    fn from(_: Overflow) -> Self {
        Self::new(
            Place::Whole,
            RefusalCode::AmountTooLarge,
            "The amounts add up to more than can be worked out exactly. Check them for misplaced digits, or give pounds rather \
             than pence.",
        )
    }
}

/// All reasons why there is no answer, in the order of the request.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusals(pub Vec<Refusal>);

impl<R: Into<Refusal>> From<R> for Refusals {
    fn from(refusal: R) -> Self {
        Self(vec![refusal.into()])
    }
}
