//! The amounts of a year of annual accounting: instalments, what they come to, and the balance.

use super::answer::AnnualAmounts;
use super::figures::{DatesFigures, Instalments, Periods};
use crate::law::{ParameterId, rule as cite};
use crate::money::Rounding;
use crate::refusal::{DatesField, Place, Refusal};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

static INSTALMENT: Rule = Rule {
    says: "Each of nine instalments is 10 per cent, and each of three 25 per cent, of the VAT expected for the year, to the nearest penny.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_49,
        cite::GOV_UK_ANNUAL_ACCOUNTING_DEADLINES,
        cite::DECISION_ROUNDING,
    ],
};
static PAID: Rule = Rule {
    says: "The instalments of a whole year together.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_50, cite::GOV_UK_ANNUAL_ACCOUNTING_DEADLINES],
};
static BALANCE: Rule = Rule {
    says: "With the return the VAT of the year less the instalments is paid; where it is negative, HMRC repay it.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_50, cite::GOV_UK_ANNUAL_ACCOUNTING_DEADLINES],
};

/// Works out the amounts of annual accounting, where a liability was given.
///
/// # Errors
/// Refuses amounts too large for an exact sum.
pub(super) fn work_out(run: &mut Run<'_>, figures: &DatesFigures) -> Result<Option<AnnualAmounts>, Refusal> {
    let Periods::Annual(annual) = &figures.business.periods else { return Ok(None) };
    let Some(liability) = annual.liability else { return Ok(None) };
    let (parameter, label, count) = match annual.instalments {
        Instalments::Nine => (ParameterId::AnnualAccountingInstalmentOfNine, "Share of one of nine instalments", 9),
        Instalments::Three => (ParameterId::AnnualAccountingInstalmentOfThree, "Share of one of three instalments", 3),
    };
    let share = run.percentage(parameter, figures.from, label)?;
    let expected = Traced::given(liability.expected, Place::Dates(DatesField::ExpectedLiability));
    let name = |id, label, rule| Name::new(Scope::AnnualAccounting, id, label, rule);
    let instalment = run.step(
        name("instalment", "One instalment", &INSTALMENT).gives(&["instalment"]),
        liability.expected.share(share.value)?.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} × {} ÷ 100",
        &[expected.operand(), share.operand()],
    );
    let paid = run.total(name("paid", "All instalments", &PAID).gives(&["paid"]), &vec![instalment; count])?;
    let balance = match liability.actual {
        None => None,
        Some(actual) => {
            let actual = Traced::given(actual, Place::Dates(DatesField::ActualLiability));
            Some(run.difference(
                name("balance", "Balance with the return", &BALANCE).gives(&["balance"]),
                actual,
                paid,
            )?)
        }
    };
    Ok(Some(AnnualAmounts {
        instalments: annual.instalments,
        instalment: instalment.value,
        paid: paid.value,
        balance: balance.map(|balance| balance.value),
    }))
}
