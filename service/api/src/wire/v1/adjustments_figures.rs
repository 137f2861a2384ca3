//! Adjustments from the wire to the calculation: defaults are filled in here.

use vat_schemes::figures::{Adjustments, BadDebt, FuelScaleCar, Leaving, PreRegistration, ReturnError};

use super::adjustments_request::{
    GivenAdjustments, GivenBadDebt, GivenError, GivenFuelScaleCar, GivenLeaving, GivenPreRegistration,
};

impl From<&GivenAdjustments> for Adjustments {
    fn from(given: &GivenAdjustments) -> Self {
        Self {
            bad_debts: given.bad_debts.iter().map(Into::into).collect(),
            pre_registration: given.pre_registration.iter().map(Into::into).collect(),
            leaving: given.leaving.as_ref().map(Into::into),
            errors: given.errors.iter().map(Into::into).collect(),
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

/// The reader takes a car with one of the two figures only.
fn car(given: &GivenFuelScaleCar) -> Option<FuelScaleCar> {
    let emissions = given.co2_emissions.map(FuelScaleCar::Co2Emissions);
    emissions.or(given.engine_capacity.map(FuelScaleCar::EngineCapacity))
}
