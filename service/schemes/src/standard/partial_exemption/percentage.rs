//! The percentage by which residual input tax is shared.

use std::cmp::Ordering;

use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Percentage, Ratio, Rounding};
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::monthly::MonthlyLimits;
use super::totals::Totals;

static ROUNDING_OF_PERCENTAGE: Rule = Rule {
    says: "The percentage goes up to the next whole number while residual input tax is at most its monthly limit on average.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101, cite::SI_2005_762],
};
static PERCENTAGE: Rule = Rule {
    says: "The recoverable percentage of residual input tax is taxable supplies over all supplies, rounded up.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_101,
        cite::SI_2005_762,
        cite::DECISION_PARTIAL_EXEMPTION_FRACTION,
    ],
};
static PREVIOUS_YEAR: Rule = Rule {
    says: "In the periods of a longer period, the percentage of the longer period before is used, where there was one; the year's own is worked \
           out at its end.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_101],
};

/// The recoverable percentage from the supplies (VAT Regulations 1995 reg 101(2)(d), (4), (5)); none where they give no fraction
/// between nought and one.
pub(super) fn of_supplies(
    run: &mut Run<'_>,
    scope: Scope,
    totals: &Totals,
    limits: &mut MonthlyLimits,
) -> Result<Option<Traced<Percentage>>, Refusal> {
    let (taxable, all) = (totals.taxable_supplies, totals.all_supplies);
    if !all.value.is_positive() || taxable.value.is_negative() || totals.exempt_supplies.value.is_negative() {
        return Ok(None);
    }
    let rounding = if residual_is_small(run, scope, totals.input_tax_both, limits)? {
        Rounding::UpToWholePercent
    } else {
        Rounding::UpToTwoDecimals
    };
    let fraction = Ratio::new(taxable.value.pence(), all.value.pence())?;
    let name = Name::new(scope, "percentage", "Recoverable percentage", &PERCENTAGE).gives(&["percentage"]);
    let operands = [taxable.operand(), all.operand()];
    Ok(Some(run.step(name, fraction.to_percentage(rounding)?, rounding, "{} ÷ {} × 100", &operands)))
}

/// The percentage of the longer period before, as it was given (VAT Regulations 1995 reg 101(2)(f)).
pub(super) fn of_previous_year(run: &mut Run<'_>, scope: Scope, given: Traced<Percentage>) -> Traced<Percentage> {
    let name = Name::new(scope, "percentage", "Recoverable percentage: that of the year before", &PREVIOUS_YEAR)
        .gives(&["percentage"]);
    run.step(name, given.value, Rounding::None, "{}", &[given.operand()])
}

/// Whether residual input tax is at most £400,000 a month on average.
fn residual_is_small(
    run: &mut Run<'_>,
    scope: Scope,
    residual: Traced<Money>,
    limits: &mut MonthlyLimits,
) -> Result<bool, Refusal> {
    let limit = limits.limit(
        run,
        ParameterId::PartialExemptionRoundingMonthly,
        "Monthly residual input tax up to which the percentage is a whole number",
    )?;
    let small = residual.value.exact().compare(limit.exact)? != Ordering::Greater;
    let formula = if limit.whole_months { "{} ≤ {} × {}" } else { "{} ≤ {} × 12 × {} ÷ {}" };
    let mut operands = vec![residual.operand()];
    operands.extend(limit.operands);
    let name = Name::new(
        scope,
        "whole_percentage",
        "Whether the percentage is rounded to a whole number",
        &ROUNDING_OF_PERCENTAGE,
    );
    Ok(run.step(name, small, Rounding::None, formula, &operands).value)
}
