//! Adjustments from the wire to the calculation: defaults are filled in here.

use vat_schemes::figures::{
    Adjustments, BadDebt, FuelScaleCar, Leaving, PreRegistration, PurchasePaidLater, ReliefRepaid, ReturnError,
    UnpaidPurchase,
};

use super::adjustments_request::{
    GivenAdjustments, GivenBadDebt, GivenError, GivenFuelScaleCar, GivenLeaving, GivenPreRegistration,
    GivenPurchasePaidLater, GivenReliefRepaid, GivenUnpaidPurchase,
};

impl From<&GivenAdjustments> for Adjustments {
    fn from(given: &GivenAdjustments) -> Self {
        Self {
            bad_debts: given.bad_debts.iter().map(Into::into).collect(),
            pre_registration: given.pre_registration.iter().map(Into::into).collect(),
            leaving: given.leaving.as_ref().map(Into::into),
            errors: given.errors.iter().map(Into::into).collect(),
            relief_repaid: given.relief_repaid.iter().map(Into::into).collect(),
            unpaid_purchases: given.unpaid_purchases.iter().map(Into::into).collect(),
            purchases_paid_later: given.purchases_paid_later.iter().map(Into::into).collect(),
            partial_exemption_year: given.partial_exemption_year.as_ref().map(|amount| amount.0),
            fuel_scale_charges: given.fuel_scale_charges.iter().filter_map(car).collect(),
        }
    }
}

impl From<&GivenBadDebt> for BadDebt {
    fn from(debt: &GivenBadDebt) -> Self {
        Self {
            supplied_on: debt.supplied_on.0,
            due_on: debt.due_on.as_ref().map(|day| day.0),
            vat: debt.vat.0,
            gross: debt.gross.0,
            percentage_at_supply: debt.percentage_at_supply.as_ref().map(|percentage| percentage.0),
        }
    }
}

impl From<&GivenPreRegistration> for PreRegistration {
    fn from(purchase: &GivenPreRegistration) -> Self {
        Self {
            kind: purchase.kind.0,
            bought_on: purchase.bought_on.0,
            vat: purchase.vat.0,
            on_hand: purchase.on_hand.unwrap_or(true),
        }
    }
}

impl From<&GivenLeaving> for Leaving {
    fn from(leaving: &GivenLeaving) -> Self {
        Self {
            on: leaving.on.0,
            stock_on_joining: leaving.stock_on_joining.as_ref().map(|value| value.0),
            stock_on_leaving: leaving.stock_on_leaving.as_ref().map(|value| value.0),
            capital_goods: leaving.capital_goods.iter().map(|value| value.0).collect(),
        }
    }
}

impl From<&GivenError> for ReturnError {
    fn from(error: &GivenError) -> Self {
        Self { period_end: error.period_end.0, amount: error.amount.0 }
    }
}

impl From<&GivenReliefRepaid> for ReliefRepaid {
    fn from(repaid: &GivenReliefRepaid) -> Self {
        Self {
            relief_claimed: repaid.relief_claimed.0,
            outstanding_at_claim: repaid.outstanding_at_claim.0,
            payment: repaid.payment.0,
            allocated_elsewhere: repaid.allocated_elsewhere.as_ref().map(|amount| amount.0),
            paid_on: repaid.paid_on.as_ref().map(|day| day.0),
        }
    }
}

impl From<&GivenUnpaidPurchase> for UnpaidPurchase {
    fn from(purchase: &GivenUnpaidPurchase) -> Self {
        Self {
            supplied_on: purchase.supplied_on.0,
            due_on: purchase.due_on.as_ref().map(|day| day.0),
            input_tax_claimed: purchase.input_tax_claimed.0,
            gross: purchase.gross.0,
            paid: purchase.paid.0,
            claimed_under_flat_rate: purchase.claimed_under_flat_rate.unwrap_or(false),
        }
    }
}

impl From<&GivenPurchasePaidLater> for PurchasePaidLater {
    fn from(paid: &GivenPurchasePaidLater) -> Self {
        Self {
            input_tax_repaid: paid.input_tax_repaid.0,
            unpaid_at_repayment: paid.unpaid_at_repayment.0,
            payment: paid.payment.0,
            paid_on: paid.paid_on.as_ref().map(|day| day.0),
            claimed_under_flat_rate: paid.claimed_under_flat_rate.unwrap_or(false),
        }
    }
}

/// The reader takes a car with one of the two figures only.
fn car(given: &GivenFuelScaleCar) -> Option<FuelScaleCar> {
    let emissions = given.co2_emissions.map(FuelScaleCar::Co2Emissions);
    emissions.or(given.engine_capacity.map(FuelScaleCar::EngineCapacity))
}
