//! Whether residual input tax is small enough for the standard method override not to apply.

use crate::law::{ParameterId, rule as cite};
use crate::length::TracedLength;
use crate::money::{Money, Rounding};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::answer::MethodOverride;

static OVERRIDE: Rule = Rule {
    says: "The standard method override does not apply while residual input tax is at most so much a year, in proportion to the longer period's \
           length.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_107E, cite::VAT_REGULATIONS_1995_REGULATION_107B],
};

/// Measures the year's residual input tax (VAT Regulations 1995 reg 107E(1)(b)).
pub(super) fn measure(run: &mut Run<'_>, residual: Traced<Money>, year: Period) -> Result<MethodOverride, Refusal> {
    let name = |id, label| Name::new(Scope::MethodOverride, id, label, &OVERRIDE);
    let shown = run.total(
        name("residual_input_tax", "Residual input tax of the year").gives(&["residual_input_tax"]),
        &[residual],
    )?;
    let yearly = run.amount(
        ParameterId::PartialExemptionOverrideResidual,
        year.start(),
        "Residual input tax of a year up to which the standard method override does not apply",
    )?;
    let (exact, formula, operands) = TracedLength::of(run, year).of_yearly(yearly)?;
    let within = residual.value.exact().at_most(exact)?;
    let limit = run.step(
        name("limit", "The most residual input tax without the override").gives(&["limit"]),
        exact.to_money(Rounding::DownToPenny)?,
        Rounding::DownToPenny,
        formula,
        &operands,
    );
    let within = run.step(
        name("within_limit", "Whether residual input tax is at most that").gives(&["within_limit"]),
        within,
        Rounding::None,
        "{} ≤ {}",
        &[shown.operand(), limit.operand()],
    );
    Ok(MethodOverride { residual_input_tax: shown.value, limit: limit.value, within_limit: within.value })
}
