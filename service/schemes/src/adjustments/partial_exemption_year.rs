//! The annual adjustment of partial exemption, where it stands on the return.

use crate::figures::Figures;
use crate::law::rule as cite;
use crate::refusal::{Place, Refusal};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::Adjusted;
use super::answer::PartialExemptionYearAdjustment;

static ADJUSTMENT: Rule = Rule {
    says: "The annual adjustment of partial exemption stands in box 4 of the first return after the partial exemption year, or of the last in it, alike \
           under both schemes.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_107],
};
const NOTE: &str = "The annual adjustment is taken as given. It is no error of an earlier return and does not count among errors; nor does it mend one.";

/// Puts the annual adjustment into box 4 of both schemes (VAT Regulations 1995 reg 107).
pub(super) fn put(run: &mut Run<'_>, figures: &Figures, adjusted: &mut Adjusted) -> Result<(), Refusal> {
    let Some(amount) = figures.adjustments.partial_exemption_year else { return Ok(()) };
    let name = Name::new(Scope::PartialExemptionYear, "amount", "Annual adjustment of partial exemption", &ADJUSTMENT);
    let amount = run.total(name.gives(&["amount"]), &[Traced::given(amount, Place::PartialExemptionYear)])?;
    adjusted.standard_box4.push(amount);
    adjusted.flat_rate_box4.push(amount);
    adjusted.partial_exemption_year = Some(amount);
    adjusted.answer.partial_exemption_year = Some(PartialExemptionYearAdjustment { amount: amount.value, note: NOTE });
    Ok(())
}
