//! What was asked beside the period's own figures, answered.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::answer as calculated;

use super::scalars::{Amount, Date};

/// What was asked beside the period's own figures. Relief for bad debts and VAT from before registration stand in box 4, road fuel
/// scale charges in boxes 1 and 6 of standard accounting; goods on hand on leaving and errors of earlier returns stand on no return of this answer.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Adjustments {
    /// Relief for each debt, in the order of the request; absent where none was given.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub bad_debts: Vec<BadDebtRelief>,
    /// VAT from before registration; absent where no purchase was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pre_registration: Option<PreRegistrationClaims>,
    /// Goods on hand on leaving the scheme; absent where the request says nothing of leaving.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaving: Option<LeavingAdjustment>,
    /// Errors of earlier returns; absent where none was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub errors: Option<Corrections>,
    /// The road fuel scale charge of each car, in the order of the request; absent where none was given.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub fuel_scale_charges: Vec<FuelScaleCharge>,
}

/// The road fuel scale charge of one car under standard accounting (VATA 1994 section 57).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FuelScaleCharge {
    /// The emissions figure of the car's band, in g/km.
    #[schema(minimum = 1, maximum = 20000, example = 160)]
    pub band: i32,
    /// The charge with VAT, in pounds.
    pub charge: Amount,
    /// The VAT in it, in pounds: in box 1 of standard accounting.
    pub vat: Amount,
    /// The charge without VAT, in pounds: in box 6 of standard accounting.
    pub net: Amount,
}

/// Relief for one debt (VATA 1994 section 36; VAT Regulations 1995 regulations 55V, 165A).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct BadDebtRelief {
    /// The first day on which it may be claimed.
    pub earliest_claim: Date,
    /// The last day on which it may be claimed.
    pub latest_claim: Date,
    /// Relief under standard accounting, in pounds.
    pub standard: Amount,
    /// Relief under the Flat Rate Scheme, in pounds; with the cash turnover method the VAT charged less the flat rate amount.
    pub flat_rate: Amount,
}

/// VAT on purchases before registration, the same under both schemes (VAT Regulations 1995 regulations 55F, 111).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PreRegistrationClaims {
    /// What is claimed altogether, in pounds.
    pub claimed: Amount,
    /// Each purchase, in the order of the request.
    #[schema(max_items = 100)]
    pub purchases: Vec<PreRegistrationClaim>,
}

/// Whether the VAT on one purchase before registration is claimed.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PreRegistrationClaim {
    /// Whether it may be claimed.
    pub claimable: bool,
    /// Why, in plain English.
    #[schema(max_length = 1000)]
    pub reason: &'static str,
}

/// What goods on hand mean for the first ordinary return after leaving the scheme (VAT Regulations 1995 regulations 55R, 55S).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LeavingAdjustment {
    /// VAT to claim on stock, in pounds.
    pub stock_claim: Amount,
    /// VAT due on capital goods on hand, in pounds: a fully taxable business recovers it on the same return.
    pub capital_goods_vat: Amount,
}

/// Errors of earlier returns together, and how they are corrected (VAT Regulations 1995 regulation 34; VAT Notice 700/45).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Corrections {
    /// The net of the errors that may still be corrected, in pounds: under-declared, or negative where over-declared.
    pub net_error: Amount,
    /// Whether the return of the period may carry it under standard accounting, by its box 6.
    pub on_return_standard: bool,
    /// Whether the return of the period may carry it under the Flat Rate Scheme, by its box 6.
    pub on_return_flat_rate: bool,
    /// The last day for correcting each error, in the order of the request.
    #[schema(max_items = 50)]
    pub correct_by: Vec<Date>,
    /// Whether each error is still in time at the end of the period, in the order of the request.
    #[schema(max_items = 50)]
    pub in_time: Vec<bool>,
}

impl Adjustments {
    /// The answers, where anything was asked.
    pub(super) fn of(answer: calculated::AdjustmentsAnswer) -> Option<Self> {
        let asked = answer != calculated::AdjustmentsAnswer::default();
        asked.then(|| Self {
            bad_debts: answer.bad_debts.into_iter().map(Into::into).collect(),
            pre_registration: answer.pre_registration.map(Into::into),
            leaving: answer.leaving.map(Into::into),
            errors: answer.errors.map(Into::into),
            fuel_scale_charges: answer.fuel_scale_charges.into_iter().map(Into::into).collect(),
        })
    }
}

impl From<calculated::BadDebtRelief> for BadDebtRelief {
    fn from(relief: calculated::BadDebtRelief) -> Self {
        Self {
            earliest_claim: Date(relief.earliest_claim),
            latest_claim: Date(relief.latest_claim),
            standard: Amount(relief.standard),
            flat_rate: Amount(relief.flat_rate),
        }
    }
}

impl From<calculated::PreRegistrationClaims> for PreRegistrationClaims {
    fn from(claims: calculated::PreRegistrationClaims) -> Self {
        let purchases = claims.purchases.into_iter();
        Self {
            claimed: Amount(claims.claimed),
            purchases: purchases
                .map(|claim| PreRegistrationClaim { claimable: claim.claimable, reason: claim.reason })
                .collect(),
        }
    }
}

impl From<calculated::LeavingAdjustment> for LeavingAdjustment {
    fn from(adjustment: calculated::LeavingAdjustment) -> Self {
        Self { stock_claim: Amount(adjustment.stock_claim), capital_goods_vat: Amount(adjustment.capital_goods_vat) }
    }
}

impl From<calculated::Corrections> for Corrections {
    fn from(corrections: calculated::Corrections) -> Self {
        Self {
            net_error: Amount(corrections.net_error),
            on_return_standard: corrections.on_return_standard,
            on_return_flat_rate: corrections.on_return_flat_rate,
            correct_by: corrections.correct_by.into_iter().map(Date).collect(),
            in_time: corrections.in_time,
        }
    }
}

impl From<calculated::FuelScaleCharge> for FuelScaleCharge {
    fn from(charge: calculated::FuelScaleCharge) -> Self {
        Self { band: charge.band, charge: Amount(charge.charge), vat: Amount(charge.vat), net: Amount(charge.net) }
    }
}
