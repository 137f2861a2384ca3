//! Relief for debts that customers did not pay.

use jiff::civil::Date;

use crate::answer::BadDebtRelief;
use crate::figures::{BadDebt, Figures, TurnoverMethod};
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Rounding};
use crate::period::Period;
use crate::refusal::{DebtField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::{Adjusted, months_after};

static ORDINARY_RELIEF: Rule = Rule {
    says: "Relief for a debt is the VAT charged on what is unpaid. With the basic and the retailer's turnover method a flat rate user has the same \
           relief; a published answer says otherwise.",
    authority: &[cite::VATA_1994_SECTION_36, cite::VAT_REGULATIONS_1995_REGULATION_55V, cite::COMMON_PRACTICE],
};
static NO_RELIEF_ON_CASH: Rule = Rule {
    says: "With cash accounting no VAT was accounted for on what is unpaid, so there is nothing to relieve.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_57],
};
static CASH_METHOD_RELIEF: Rule = Rule {
    says: "With the cash turnover method relief is the VAT charged on the supply less the percentage, at the time of supply, of what is unpaid, to \
           the nearest penny.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55V, cite::NOTICE_733_SECTION_14, cite::DECISION_ROUNDING],
};

/// Relieves each debt, in box 4 of both schemes (VATA 1994 s 36; VAT Regulations 1995 regs 55V and 165A).
pub(super) fn relieve(
    run: &mut Run<'_>,
    figures: &Figures,
    period: Period,
    adjusted: &mut Adjusted,
) -> Result<(), Vec<Refusal>> {
    let mut refusals = Vec::new();
    for (index, debt) in figures.adjustments.bad_debts.iter().enumerate() {
        match relieve_one(run, index, debt, figures.business.turnover_method, period) {
            Ok((relief, standard, flat_rate)) => {
                adjusted.answer.bad_debts.push(relief);
                adjusted.standard_box4.push(standard);
                adjusted.flat_rate_box4.push(flat_rate);
            }
            Err(refusal) => refusals.push(refusal),
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

fn relieve_one(
    run: &mut Run<'_>,
    index: usize,
    debt: &BadDebt,
    method: TurnoverMethod,
    period: Period,
) -> Result<(BadDebtRelief, Traced<Money>, Traced<Money>), Refusal> {
    for (amount, field) in [(debt.vat, DebtField::Vat), (debt.gross, DebtField::Gross)] {
        if amount.is_negative() {
            return Err(Refusal::new(
                Place::BadDebt(index, field),
                RefusalCode::AmountNegative,
                "A debt is an amount owed to the business. Give it without a minus sign.",
            ));
        }
    }
    let (earliest_claim, latest_claim) = time_to_claim(run, index, debt, period)?;
    let vat = Traced::given(debt.vat, Place::BadDebt(index, DebtField::Vat));
    let scope = Scope::BadDebt(index);
    let whole = |id, label, figure| Name::new(scope, id, label, &ORDINARY_RELIEF).gives(figure);
    let (standard, flat_rate) = match method {
        TurnoverMethod::Basic | TurnoverMethod::Retailer => {
            if debt.percentage_at_supply.is_some() {
                return Err(Refusal::new(
                    Place::BadDebt(index, DebtField::PercentageAtSupply),
                    RefusalCode::PercentageAtSupplyNotUsed,
                    "Only the cash turnover method uses the percentage at the time of supply. Leave it out.",
                ));
            }
            (
                run.total(whole("standard", "Relief under standard accounting", &["standard"]), &[vat])?,
                run.total(whole("flat_rate", "Relief under the Flat Rate Scheme", &["flat_rate"]), &[vat])?,
            )
        }
        TurnoverMethod::Cash => {
            let name = Name::new(scope, "standard", "Relief under cash accounting", &NO_RELIEF_ON_CASH);
            let none = run.total(name.gives(&["standard"]), &[])?;
            (none, cash_method_relief(run, index, debt, vat)?)
        }
    };
    let relief = BadDebtRelief { earliest_claim, latest_claim, standard: standard.value, flat_rate: flat_rate.value };
    Ok((relief, standard, flat_rate))
}

/// The VAT charged less what the scheme would have charged, at the percentage of the time of supply (VAT Regulations 1995
/// reg 55V).
fn cash_method_relief(
    run: &mut Run<'_>,
    index: usize,
    debt: &BadDebt,
    vat: Traced<Money>,
) -> Result<Traced<Money>, Refusal> {
    let place = Place::BadDebt(index, DebtField::PercentageAtSupply);
    let Some(percentage) = debt.percentage_at_supply else {
        return Err(Refusal::new(
            place,
            RefusalCode::PercentageAtSupplyNeeded,
            "With the cash turnover method relief is the VAT charged less the flat rate amount. Give the percentage that was in force when the \
             supply was made.",
        ));
    };
    let percentage = Traced::given(percentage, place);
    let gross = Traced::given(debt.gross, Place::BadDebt(index, DebtField::Gross));
    let exact = vat.value.exact().minus(gross.value.share(percentage.value)?)?;
    let name = Name::new(Scope::BadDebt(index), "flat_rate", "Relief under the Flat Rate Scheme", &CASH_METHOD_RELIEF);
    Ok(run.step(
        name.gives(&["flat_rate"]),
        exact.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} − {} × {} ÷ 100",
        &[vat.operand(), gross.operand(), percentage.operand()],
    ))
}

/// The first and last day for the claim, counted from the later of the supply and the day on which payment was due (VAT
/// Regulations 1995 reg 165A; VR7420).
fn time_to_claim(run: &Run<'_>, index: usize, debt: &BadDebt, period: Period) -> Result<(Date, Date), Refusal> {
    let counted_from = debt.due_on.map_or(debt.supplied_on, |due| due.max(debt.supplied_on));
    let on = period.start();
    let earliest = months_after(counted_from, run.law.months(ParameterId::BadDebtWaitingMonths, on))?;
    let latest = months_after(counted_from, run.law.months(ParameterId::BadDebtClaimMonths, on))?;
    let refuse = |code, detail| Refusal::new(Place::BadDebt(index, DebtField::SuppliedOn), code, detail);
    if period.end() < earliest {
        return Err(refuse(
            RefusalCode::BadDebtTooEarly,
            format!(
                "The debt counts from {counted_from}, so relief may be claimed from {earliest}, after the period ends on {}. Claim it in the period of \
                 that day or a later one.",
                period.end()
            ),
        ));
    }
    if period.start() > latest {
        return Err(refuse(
            RefusalCode::BadDebtTooLate,
            format!(
                "The debt counts from {counted_from}, so relief could be claimed until {latest}, before the period starts. It cannot be claimed now."
            ),
        ));
    }
    Ok((earliest, latest))
}
