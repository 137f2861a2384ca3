use crate::figures::Amounts;
use crate::law::{ParameterId, rule as cite};
use crate::money::{Money, Overflow, Percentage, Ratio, Rounding};
use crate::period::Period;
use crate::refusal::{Amount, LineField, Refusal, RefusalCode};
use crate::run::Run;
use crate::workings::{Formula, Operand, Rule, Step, Traced};

use super::carries::Carries;
use super::rates::{Rates, lone_rate, rates_on};
use super::{Completed, LineId, Mismatch};

static VAT_FROM_NET: Rule = Rule {
    says: "VAT is charged at the rate of the supply on its value; a lone net figure is completed to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_2, cite::DECISION_COMPLETING_A_LINE, cite::DECISION_ROUNDING],
};
static VAT_FROM_GROSS: Rule = Rule {
    says: "A price in money includes the VAT, so the VAT in it is rate ÷ (100 + rate) of the price, to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_19, cite::DECISION_COMPLETING_A_LINE, cite::DECISION_ROUNDING],
};
static NET_FROM_VAT: Rule = Rule {
    says: "The value is that on which the VAT given is charged at the rate of the supply, to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_2, cite::DECISION_COMPLETING_A_LINE, cite::DECISION_ROUNDING],
};
static ADDS_UP: Rule =
    Rule { says: "The price is the value and the VAT on it.", authority: &[cite::VATA_1994_SECTION_19] };

/// Checks the amounts given against each other and the rate, and completes them.
pub(super) fn complete_amounts(
    run: &mut Run<'_>,
    line: LineId,
    amounts: Amounts,
    carries: Carries,
    days: Period,
    mismatches: &mut Vec<Mismatch>,
) -> Result<Completed, Refusal> {
    let (parameter, named) = match carries {
        Carries::Nothing(what) => return without_vat(line, amounts, what),
        Carries::Rate(parameter) => (parameter, true),
        Carries::AnyRate => (ParameterId::VatRateStandard, false),
    };
    let rates = rates_on(run, line, parameter, days)?;
    let completed = with_vat(run, line, amounts, &rates)?;
    let given = [amounts.net, amounts.vat, amounts.gross].iter().flatten().count();
    if let Some(vat) = completed.vat
        && given > 1
    {
        let lowest = if named { rates.lowest } else { Percentage::ZERO };
        if let Some(expected) = unexplained(completed.net.value, vat.value, lowest, rates.highest)? {
            let field = if amounts.vat.is_some() { LineField::Amount(Amount::Vat) } else { LineField::Whole };
            mismatches.push(Mismatch { place: line.place(field), given: vat.value, expected });
        }
    }
    Ok(completed)
}

/// Net and gross are the same where no VAT is carried.
fn without_vat(line: LineId, amounts: Amounts, what: &str) -> Result<Completed, Refusal> {
    if let Some(vat) = amounts.vat
        && !vat.is_zero()
    {
        return Err(line.refuse(
            LineField::Amount(Amount::Vat),
            RefusalCode::VatNotChargeable,
            format!("{what} carries no VAT, but vat is {vat}. Leave vat out or give \"0.00\", or choose the treatment that the VAT was charged under."),
        ));
    }
    let (value, amount) = match (amounts.net, amounts.gross) {
        (Some(net), Some(gross)) if net != gross => {
            return Err(line.refuse(
                LineField::Amount(Amount::Gross),
                RefusalCode::VatNotChargeable,
                format!("{what} carries no VAT, so net and gross are the same, but net is {net} and gross is {gross}."),
            ));
        }
        (Some(net), _) => (net, Amount::Net),
        (None, Some(gross)) => (gross, Amount::Gross),
        (None, None) => {
            return Err(line.refuse(
                LineField::Whole,
                RefusalCode::VatAloneNotEnough,
                format!("{what} carries no VAT, so VAT does not tell its amount. Give net or gross."),
            ));
        }
    };
    let figure = line.given(value, amount);
    Ok(Completed { net: figure, vat: None, gross: figure })
}

fn with_vat(run: &mut Run<'_>, line: LineId, amounts: Amounts, rates: &Rates) -> Result<Completed, Refusal> {
    let net = amounts.net.map(|value| line.given(value, Amount::Net));
    let vat = amounts.vat.map(|value| line.given(value, Amount::Vat));
    let gross = amounts.gross.map(|value| line.given(value, Amount::Gross));
    let (net, vat, gross) = match (net, vat, gross) {
        (Some(net), Some(vat), Some(gross)) => {
            let sum = net.value.plus(vat.value)?;
            if sum != gross.value {
                return Err(line.refuse(
                    LineField::Whole,
                    RefusalCode::AmountsDoNotAddUp,
                    format!(
                        "net {} and vat {} make {sum}, but gross is {}. Correct one of them or leave one out.",
                        net.value, vat.value, gross.value
                    ),
                ));
            }
            (net, vat, gross)
        }
        (Some(net), Some(vat), None) => (net, vat, add(run, line, net, vat)?),
        (Some(net), None, Some(gross)) => {
            let vat = difference(run, line, "vat", "VAT", gross, net)?;
            (net, vat, gross)
        }
        (None, Some(vat), Some(gross)) => {
            let net = difference(run, line, "net", "Net value", gross, vat)?;
            (net, vat, gross)
        }
        (Some(net), None, None) => {
            let rate = lone_rate(run, line, rates)?;
            let vat = Completion {
                amount: "vat",
                label: "VAT",
                formula: "{} × {} ÷ 100",
                operands: &[net.operand(), rate.operand()],
                exact: net.value.share(rate.value)?,
                rule: &VAT_FROM_NET,
            };
            let vat = worked_out(run, line, vat)?;
            (net, vat, add(run, line, net, vat)?)
        }
        (None, None, Some(gross)) => {
            let rate = lone_rate(run, line, rates)?;
            let vat = Completion {
                amount: "vat",
                label: "VAT",
                formula: "{} × {} ÷ (100 + {})",
                operands: &[gross.operand(), rate.operand(), rate.operand()],
                exact: gross.value.exact().times(rate.value.vat_fraction()?)?,
                rule: &VAT_FROM_GROSS,
            };
            let vat = worked_out(run, line, vat)?;
            (difference(run, line, "net", "Net value", gross, vat)?, vat, gross)
        }
        (None, Some(vat), None) => {
            let rate = lone_rate(run, line, rates)?;
            let net = Completion {
                amount: "net",
                label: "Net value",
                formula: "{} × 100 ÷ {}",
                operands: &[vat.operand(), rate.operand()],
                exact: vat.value.exact().times(Ratio::new(10_000, rate.value.hundredths())?)?,
                rule: &NET_FROM_VAT,
            };
            let net = worked_out(run, line, net)?;
            (net, vat, add(run, line, net, vat)?)
        }
        (None, None, None) => {
            return Err(line.refuse(
                LineField::Whole,
                RefusalCode::VatAloneNotEnough,
                "The line has no amount. Give net, vat or gross.",
            ));
        }
    };
    Ok(Completed { net, vat: Some(vat), gross })
}

fn add(run: &mut Run<'_>, line: LineId, net: Traced<Money>, vat: Traced<Money>) -> Result<Traced<Money>, Overflow> {
    let gross = net.value.plus(vat.value)?;
    Ok(run.workings.trace(gross, |gross| {
        Step::new(
            line.id("gross"),
            line.label("Gross"),
            Formula::Total,
            vec![net.operand(), vat.operand()],
            (*gross, Rounding::None),
            &ADDS_UP,
        )
    }))
}

fn difference(
    run: &mut Run<'_>,
    line: LineId,
    amount: &str,
    what: &str,
    from: Traced<Money>,
    less: Traced<Money>,
) -> Result<Traced<Money>, Overflow> {
    let rest = from.value.minus(less.value)?;
    Ok(run.workings.trace(rest, |rest| {
        Step::new(
            line.id(amount),
            line.label(what),
            Formula::Text("{} − {}"),
            vec![from.operand(), less.operand()],
            (*rest, Rounding::None),
            &ADDS_UP,
        )
    }))
}

/// How a lone figure tells another.
struct Completion<'a> {
    amount: &'static str,
    label: &'static str,
    formula: &'static str,
    operands: &'a [Operand],
    exact: Ratio,
    rule: &'static Rule,
}

fn worked_out(run: &mut Run<'_>, line: LineId, completion: Completion<'_>) -> Result<Traced<Money>, Overflow> {
    let value = completion.exact.to_money(Rounding::NearestPenny)?;
    Ok(run.workings.trace(value, |value| {
        Step::new(
            line.id(completion.amount),
            line.label(completion.label),
            Formula::Text(completion.formula),
            completion.operands.to_vec(),
            (*value, Rounding::NearestPenny),
            completion.rule,
        )
    }))
}

/// The VAT to expect where the VAT given differs from it by more than the rounding of many invoices explains: half a penny
/// for every £10 of value, and at least £1 (authority `decision-rounding-tolerance`).
fn unexplained(net: Money, vat: Money, lowest: Percentage, highest: Percentage) -> Result<Option<Money>, Overflow> {
    let tolerance = net.magnitude().exact().times(Ratio::new(1, 2_000)?)?.larger(Ratio::whole(1))?;
    let at_lowest = net.share(lowest)?.to_money(Rounding::NearestPenny)?;
    let at_highest = net.share(highest)?.to_money(Rounding::NearestPenny)?;
    let (least, most) = (at_lowest.min(at_highest), at_lowest.max(at_highest));
    let nearest = vat.clamp(least, most);
    let apart = vat.minus(nearest)?.magnitude();
    Ok(if apart.exact().at_most(tolerance)? { None } else { Some(nearest) })
}
