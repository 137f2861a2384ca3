//! Relief for debts that customers did not pay.

use jiff::civil::Date;

use crate::answer::BadDebtRelief;
use crate::figures::{BadDebt, Figures, TurnoverMethod};
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Overflow, Percentage, Rounding};
use crate::period::Period;
use crate::refusal::{DebtField, Place, Refusal, RefusalCode};
use crate::run::{Run, Scope};
use crate::workings::{Rule, Traced};

use super::checks::{not_negative, part_of, positive};
use super::sides::{Sides, Stands, Sum};
use super::{Adjusted, months_after};

static ORDINARY_RELIEF: Rule = Rule {
    says: "Relief for a debt is the VAT charged on what is unpaid. With the basic and the retailer's turnover method a flat rate user has the same \
           relief; a published answer says otherwise.",
    authority: &[
        cite::VATA_1994_SECTION_36,
        cite::NOTICE_700_18,
        cite::VBDR2300,
        cite::VAT_REGULATIONS_1995_REGULATION_55V,
        cite::COMMON_PRACTICE,
    ],
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
static NO_MARGIN: Rule = Rule {
    says: "With the cash turnover method relief is the VAT charged on the supply less the percentage, at the time of supply, of what is unpaid. Here that \
           percentage of it is not less than the VAT charged, so there is no relief.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_55V,
        cite::NOTICE_733_SECTION_14,
        cite::DECISION_BAD_DEBT_NEVER_NEGATIVE,
    ],
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
        match relieve_one(run, index, debt, figures, period) {
            Ok((relief, sides)) => {
                adjusted.answer.bad_debts.push(relief);
                adjusted.standard_box4.push(sides.standard);
                adjusted.flat_rate_box4.push(sides.flat_rate);
            }
            Err(found) => refusals.extend(found),
        }
    }
    if refusals.is_empty() { Ok(()) } else { Err(refusals) }
}

fn relieve_one(
    run: &mut Run<'_>,
    index: usize,
    debt: &BadDebt,
    figures: &Figures,
    period: Period,
) -> Result<(BadDebtRelief, Sides), Vec<Refusal>> {
    let place = |field| Place::BadDebt(index, field);
    let mut refusals = Vec::new();
    refusals.extend(not_negative(debt.vat, place(DebtField::Vat), "The VAT on a debt"));
    refusals.extend(positive(debt.gross, place(DebtField::Gross), "The debt"));
    if refusals.is_empty() {
        let part = (debt.vat, place(DebtField::Vat), "The VAT on the debt");
        refusals.extend(part_of(part, (debt.gross, "what is unpaid with VAT")));
    }
    let registered_on = figures.business.registered_on;
    if debt.supplied_on < registered_on {
        refusals.push(Refusal::new(
            place(DebtField::SuppliedOn),
            RefusalCode::DatesOutOfOrder,
            format!(
                "The supply of {} was made before the registration on {registered_on}, so it carried no VAT to relieve. Correct the day, or leave the debt \
                 out.",
                debt.supplied_on
            ),
        ));
    }
    let time = match time_to_claim(run, place(DebtField::SuppliedOn), debt, period) {
        Ok(time) => Some(time),
        Err(refusal) => {
            refusals.push(refusal);
            None
        }
    };
    let method = figures.business.turnover_method;
    let percentage =
        percentage_at_supply(debt, method, place(DebtField::PercentageAtSupply)).unwrap_or_else(|refusal| {
            refusals.push(refusal);
            None
        });
    let Some((earliest_claim, latest_claim)) = time.filter(|_| refusals.is_empty()) else { return Err(refusals) };
    let sides = match percentage {
        None => ordinary_relief(run, index, debt),
        Some(percentage) => cash_method_relief(run, index, debt, percentage),
    };
    let sides = sides.map_err(|overflow| vec![overflow.into()])?;
    Ok((BadDebtRelief { earliest_claim, latest_claim, relief: sides.answer }, sides))
}

/// The percentage that the cash turnover method needs; none with the others, which use none.
fn percentage_at_supply(
    debt: &BadDebt,
    method: TurnoverMethod,
    place: Place,
) -> Result<Option<Traced<Percentage>>, Refusal> {
    match (method, debt.percentage_at_supply) {
        (TurnoverMethod::Basic | TurnoverMethod::Retailer, None) => Ok(None),
        (TurnoverMethod::Basic | TurnoverMethod::Retailer, Some(_)) => Err(Refusal::new(
            place,
            RefusalCode::PercentageAtSupplyNotUsed,
            "Only the cash turnover method uses the percentage at the time of supply. Leave it out.",
        )),
        (TurnoverMethod::Cash, Some(percentage)) => Ok(Some(Traced::given(percentage, place))),
        (TurnoverMethod::Cash, None) => Err(Refusal::new(
            place,
            RefusalCode::PercentageAtSupplyNeeded,
            "With the cash turnover method relief is the VAT charged less the flat rate amount. Give the percentage that was in force when the \
             supply was made.",
        )),
    }
}

/// The whole VAT charged, on both returns (VATA 1994 s 36).
fn ordinary_relief(run: &mut Run<'_>, index: usize, debt: &BadDebt) -> Result<Sides, Overflow> {
    let vat = Traced::given(debt.vat, Place::BadDebt(index, DebtField::Vat));
    let sum = Sum {
        scope: Scope::BadDebt(index),
        label: "Relief for a bad debt",
        rule: &ORDINARY_RELIEF,
        value: debt.vat,
        rounding: Rounding::None,
        formula: "{}",
        operands: &[vat.operand()],
    };
    sum.on(run, Stands::Yes, Stands::Yes)
}

/// The VAT charged less what the scheme would have charged, at the percentage of the time of supply, never less than nothing (VAT
/// Regulations 1995 reg 55V; `decision-bad-debt-never-negative`); nothing with cash accounting.
fn cash_method_relief(
    run: &mut Run<'_>,
    index: usize,
    debt: &BadDebt,
    percentage: Traced<Percentage>,
) -> Result<Sides, Overflow> {
    let vat = Traced::given(debt.vat, Place::BadDebt(index, DebtField::Vat));
    let gross = Traced::given(debt.gross, Place::BadDebt(index, DebtField::Gross));
    let margin = vat.value.exact().minus(gross.value.share(percentage.value)?)?;
    let nothing = Money::ZERO.exact();
    let sum = Sum {
        scope: Scope::BadDebt(index),
        label: "Relief for a bad debt",
        rule: if margin.at_most(nothing)? { &NO_MARGIN } else { &CASH_METHOD_RELIEF },
        value: margin.larger(nothing)?.to_money(Rounding::NearestPenny)?,
        rounding: Rounding::NearestPenny,
        formula: "max({} − {} × {} ÷ 100, 0)",
        operands: &[vat.operand(), gross.operand(), percentage.operand()],
    };
    sum.on(run, Stands::No(&NO_RELIEF_ON_CASH), Stands::Yes)
}

/// The first and last day for the claim, counted from the later of the supply and the day on which payment was due (VAT
/// Regulations 1995 reg 165A; VR7420).
fn time_to_claim(run: &Run<'_>, place: Place, debt: &BadDebt, period: Period) -> Result<(Date, Date), Refusal> {
    let counted_from = debt.due_on.map_or(debt.supplied_on, |due| due.max(debt.supplied_on));
    let on = period.start();
    let earliest = months_after(counted_from, run.law.months(ParameterId::BadDebtWaitingMonths, on))?;
    let latest = months_after(counted_from, run.law.months(ParameterId::BadDebtClaimMonths, on))?;
    let refuse = |code, detail| Refusal::new(place, code, detail);
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
