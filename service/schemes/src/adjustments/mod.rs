//! What stands on a return beside the period's own figures: relief for bad debts, VAT from before registration and road fuel scale
//! charges; and what is asked about with it: goods on hand on leaving the scheme, and errors of earlier returns.

mod bad_debts;
mod errors;
mod fuel_scale_charges;
mod leaving;
mod pre_registration;

pub(crate) use errors::correct;

use jiff::ToSpan;
use jiff::civil::Date;

use crate::answer::AdjustmentsAnswer;
use crate::figures::Figures;
use crate::law::{InForce, NotInForce};
use crate::money::Money;
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::Run;
use crate::workings::Traced;

/// What was worked out, and what it puts into the boxes of each scheme.
#[derive(Default)]
pub(crate) struct Adjusted {
    pub answer: AdjustmentsAnswer,
    pub standard_box1: Vec<Traced<Money>>,
    pub standard_box4: Vec<Traced<Money>>,
    pub standard_box6: Vec<Traced<Money>>,
    pub flat_rate_box4: Vec<Traced<Money>>,
    /// VAT from before registration, which stands in both.
    pub pre_registration: Option<Traced<Money>>,
    /// The last day for correcting each error of an earlier return.
    pub correct_by: Vec<Date>,
}

/// Works out everything but the net of the errors, which needs box 6.
///
/// # Errors
/// Every refusal of every adjustment, together.
pub(crate) fn adjust(run: &mut Run<'_>, figures: &Figures, period: Period) -> Result<Adjusted, Vec<Refusal>> {
    let mut adjusted = Adjusted::default();
    let mut refusals = Vec::new();
    bad_debts::relieve(run, figures, period, &mut adjusted).unwrap_or_else(|found| refusals.extend(found));
    pre_registration::claim(run, figures, period, &mut adjusted).unwrap_or_else(|found| refusals.extend(found));
    leaving::on_hand(run, figures, period, &mut adjusted).unwrap_or_else(|found| refusals.extend(found));
    fuel_scale_charges::charge(run, figures, period, &mut adjusted).unwrap_or_else(|found| refusals.extend(found));
    match errors::correct_by(run, figures, period) {
        Ok(days) => adjusted.correct_by = days,
        Err(found) => refusals.extend(found),
    }
    if refusals.is_empty() { Ok(adjusted) } else { Err(refusals) }
}

/// A day so many months later, by a number of the law; the last day of a shorter month stands for one that it lacks.
fn months_after(day: Date, months: Result<InForce<'_, u16>, NotInForce>) -> Result<Date, Refusal> {
    Ok(day.saturating_add(i32::from(months?.value).months()))
}

/// A day so many months earlier.
fn months_before(day: Date, months: Result<InForce<'_, u16>, NotInForce>) -> Result<Date, Refusal> {
    Ok(day.saturating_sub(i32::from(months?.value).months()))
}
