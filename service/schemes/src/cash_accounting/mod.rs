//! The cash accounting scheme of standard accounting: who may use it, who must leave, and what leaving costs (VAT Regulations 1995
//! Part VIII). Nothing of it stands on a return of the answer: totals of a period are given as money or as invoices.

pub(crate) mod answer;
pub(crate) mod figures;
mod joining;
mod leaving;
mod staying;

use crate::answer::CashAccountingAnswer;
use crate::figures::Figures;
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::Run;

/// Judges what was asked about the scheme, if anything was.
///
/// # Errors
/// A day of leaving outside the period, and a day for which the tables of law have no value.
pub(crate) fn judge(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
) -> Result<Option<CashAccountingAnswer>, Refusal> {
    let Some(asked) = &figures.cash_accounting else { return Ok(None) };
    let mut conditions = Vec::with_capacity(7);
    let may_use = joining::judge(run, asked, period, &mut conditions)?;
    let must_leave = staying::judge(run, asked, period, &mut conditions)?;
    let leaving = asked.leaving.as_ref().map(|leaving| leaving::work_out(run, leaving, period)).transpose()?;
    Ok(Some(CashAccountingAnswer { may_use, must_leave, conditions, leaving }))
}
