//! The words of dates.

use serde::{Serialize, Serializer};
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::Schema;
use vat_schemes::due_dates;
use vat_schemes::law;

use super::vocabulary::{vocabulary, word_schema};

vocabulary! {
    /// A part of the United Kingdom with bank holidays of its own.
    Nation of law::Nation, in law::Nation::ALL, extensible: false {
        law::Nation::EnglandAndWales => "England and Wales",
        law::Nation::Scotland => "Scotland",
        law::Nation::NorthernIreland => "Northern Ireland",
    }
}

vocabulary! {
    /// HMRC's ordinary VAT periods.
    ReturnPeriods of due_dates::ReturnPeriods, in due_dates::ReturnPeriods::ALL, extensible: false {
        due_dates::ReturnPeriods::Monthly => "every month",
        due_dates::ReturnPeriods::QuarterlyStagger1 => "quarters to the ends of March, June, September and December",
        due_dates::ReturnPeriods::QuarterlyStagger2 => "quarters to the ends of January, April, July and October",
        due_dates::ReturnPeriods::QuarterlyStagger3 => "quarters to the ends of February, May, August and November",
    }
}

vocabulary! {
    /// The instalments of annual accounting.
    Instalments of due_dates::Instalments, in due_dates::Instalments::ALL, extensible: false {
        due_dates::Instalments::Nine => "nine, each 10 per cent, at the ends of months 4 to 12 of the year",
        due_dates::Instalments::Three => "three, each 25 per cent, at the ends of months 4, 7 and 10",
    }
}

vocabulary! {
    /// Something that starts a time, and the day that is meant.
    EventKind of due_dates::EventKind, in due_dates::EventKind::ALL, extensible: false {
        due_dates::EventKind::RegistrationLimitPassed => "taxable supplies of the twelve months to the end of a month were more than the limit for registration: that month's last day",
        due_dates::EventKind::RegistrationLimitExpected => "supplies of the next thirty days alone are expected to be more than it: the day on which that was first expected",
        due_dates::EventKind::TaxableSuppliesCeased => "the business made its last taxable supply: that day",
        due_dates::EventKind::ActivityChanged => "a flat rate user began or gave up an activity: that day",
        due_dates::EventKind::FlatRateEndsEarly => "a flat rate user ceased to be eligible otherwise than at an anniversary: that day",
        due_dates::EventKind::ErrorInPeriod => "an error was made in a VAT period: the period's last day",
        due_dates::EventKind::InputTaxNotClaimed => "input tax of a VAT period was not claimed: the period's last day",
        due_dates::EventKind::CustomerHasNotPaid => "a customer has not paid: the later of the supply and the day on which payment was due",
        due_dates::EventKind::SupplierNotPaid => "the business has not paid a supplier: the later of the supply and the day on which payment was due",
    }
}

vocabulary! {
    /// What a day is. More may come.
    DateKind of due_dates::DateKind, in due_dates::DateKind::ALL, extensible: true {
        due_dates::DateKind::ReturnAndPaymentDue => "return and payment of a VAT period are due",
        due_dates::DateKind::DirectDebitCollected => "HMRC collect the payment, where it is made by direct debit",
        due_dates::DateKind::InstalmentDue => "an instalment of annual accounting is due",
        due_dates::DateKind::PreRegistrationClaim => "the first return is due, on which VAT from before registration is claimed",
        due_dates::DateKind::FirstYearReductionBegins => "the first day of the first-year reduction, where that is later than the first day in the scheme",
        due_dates::DateKind::FirstYearReductionEnds => "its last day",
        due_dates::DateKind::RegistrationAnniversary => "the first anniversary of registration",
        due_dates::DateKind::FlatRateAnniversary => "an anniversary of the first day in the Flat Rate Scheme: income of the year is tested",
        due_dates::DateKind::FlatRateLeavingNotice => "the last day for telling HMRC that the scheme ends",
        due_dates::DateKind::FlatRateCategoryCheck => "the first day of the VAT period that holds such an anniversary: the category is chosen afresh",
        due_dates::DateKind::FlatRateCategoryNotice => "the last day for telling HMRC of the percentage that follows",
        due_dates::DateKind::FlatRateReturnPossible => "the first day on which a business that left may use the scheme again",
        due_dates::DateKind::ActivityChangeNotice => "the last day for telling HMRC of an activity begun or given up",
        due_dates::DateKind::RegistrationNotice => "the last day for telling HMRC of the liability to be registered",
        due_dates::DateKind::RegistrationBegins => "the day from which the business is registered",
        due_dates::DateKind::DeregistrationNotice => "the last day for telling HMRC that taxable supplies have ceased",
        due_dates::DateKind::ErrorCorrectionEnds => "the last day for correcting errors of a VAT period",
        due_dates::DateKind::InputTaxClaimEnds => "the last day for claiming input tax of a VAT period",
        due_dates::DateKind::BadDebtClaimBegins => "the first day on which relief for a bad debt may be claimed",
        due_dates::DateKind::BadDebtClaimEnds => "the last",
        due_dates::DateKind::InputTaxRepayment => "the day on which a purchase has been unpaid for six months",
    }
}
