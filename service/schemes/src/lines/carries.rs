use crate::figures::{Purchase, PurchaseTreatment, Spend, Treatment};
use crate::law::ParameterId;

/// What VAT a line may carry.
pub(super) enum Carries {
    /// None at all; the word says what carries none.
    Nothing(&'static str),
    /// VAT at the rate of a parameter.
    Rate(ParameterId),
    /// VAT at rates that the caller did not name: a lone figure is completed at the standard rate.
    AnyRate,
}

impl From<Treatment> for Carries {
    fn from(treatment: Treatment) -> Self {
        match treatment {
            Treatment::StandardRated => Self::Rate(ParameterId::VatRateStandard),
            Treatment::ReducedRated => Self::Rate(ParameterId::VatRateReduced),
            Treatment::HospitalityRated => Self::Rate(ParameterId::VatRateHospitality),
            Treatment::ZeroRated => Self::Nothing("A zero-rated supply"),
            Treatment::Exempt => Self::Nothing("An exempt supply"),
            Treatment::DomesticReverseCharge => {
                Self::Nothing("A sale under the domestic reverse charge, on which the customer accounts for the VAT,")
            }
            Treatment::OutsideScope => Self::Nothing("A supply outside the scope of UK VAT"),
            Treatment::NonBusiness => Self::Nothing("Non-business income"),
        }
    }
}

impl Carries {
    pub fn of_purchase(purchase: &Purchase) -> Self {
        if purchase.spend == Spend::WagesAndOtherOutsideScope {
            return Self::Nothing("A payment outside the scope of VAT");
        }
        match purchase.treatment {
            None => Self::AnyRate,
            Some(PurchaseTreatment::StandardRated) => Self::Rate(ParameterId::VatRateStandard),
            Some(PurchaseTreatment::ReducedRated) => Self::Rate(ParameterId::VatRateReduced),
            Some(PurchaseTreatment::HospitalityRated) => Self::Rate(ParameterId::VatRateHospitality),
            Some(PurchaseTreatment::ZeroRated) => Self::Nothing("A zero-rated purchase"),
            Some(PurchaseTreatment::Exempt) => Self::Nothing("An exempt purchase"),
            Some(PurchaseTreatment::OutsideScope) => Self::Nothing("A purchase outside the scope of VAT"),
        }
    }
}
