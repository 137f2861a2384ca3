//! Which part of a period a total belongs to.

use jiff::civil::Date;

use crate::figures::SplitEstimate;
use crate::law::rule as cite;
use crate::length;
use crate::lines::LineId;
use crate::money::{Money, Overflow, Percentage, Ratio, Rounding};
use crate::period::Period;
use crate::refusal::{LineField, Refusal, RefusalCode};
use crate::run::Run;
use crate::workings::{Formula, Operand, Rule, Step, Traced};

static BY_DAYS: Rule = Rule {
    says: "An estimate: a total that does not say its part is shared out by days, each share but the last to the nearest penny and the last \
           the rest. The law asks for the supplies of each part.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55H, cite::COMMON_PRACTICE],
};

/// An amount to be put into one or more parts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Total {
    pub amount: Traced<Money>,
    /// The dates that the caller gave for it.
    pub part: Option<Period>,
    /// For receipts for supplies of an earlier period: the percentage in force when they were made.
    pub percentage_at_supply: Option<Traced<Percentage>>,
    pub line: LineId,
}

/// Where a total goes.
pub(crate) enum Allotted {
    /// All of it into one part.
    To(usize),
    /// A share into each part.
    Shared(Vec<Traced<Money>>),
}

/// Puts a total into the parts of a period. The purpose names the steps of an estimate.
///
/// # Errors
/// A total whose dates run across a change, or that has no dates while nobody asked for an estimate, is refused.
pub(crate) fn allot(
    run: &mut Run<'_>,
    purpose: &'static str,
    total: &Total,
    parts: &[Period],
    estimate: Option<SplitEstimate>,
) -> Result<Allotted, Refusal> {
    if let Some(days) = total.part {
        return match parts.iter().position(|part| part.contains(days)) {
            Some(position) => Ok(Allotted::To(position)),
            None => Err(Refusal::new(
                total.line.place(LineField::Part),
                RefusalCode::PartSpansChange,
                format!(
                    "The part from {} to {} runs across a change on {}. Split the total at that day, or give it the dates of one part: {}.",
                    days.start(),
                    days.end(),
                    change_within(parts, days),
                    named(parts)
                ),
            )),
        };
    }
    match estimate {
        Some(SplitEstimate::ByDays) => Ok(Allotted::Shared(share_by_days(run, purpose, total, parts)?)),
        None => Err(Refusal::new(
            total.line.place(LineField::Whole),
            RefusalCode::PeriodMustBeSplit,
            format!(
                "The period falls into parts: {}. Give each total its part, splitting it where it belongs to more than one, or send \
                 \"split_estimate\": \"by_days\" for an estimate.",
                named(parts)
            ),
        )),
    }
}

fn share_by_days(
    run: &mut Run<'_>,
    purpose: &'static str,
    total: &Total,
    parts: &[Period],
) -> Result<Vec<Traced<Money>>, Overflow> {
    let Some((last, earlier)) = parts.split_last() else { return Ok(vec![total.amount]) };
    let Some(whole) = parts.first().and_then(|first| Period::new(first.start(), last.end())) else {
        return Ok(vec![total.amount]);
    };
    let all_days = length::days(run, whole);
    let mut shares: Vec<Traced<Money>> = Vec::with_capacity(parts.len());
    let mut rest = total.amount.value;
    for part in earlier {
        let days = length::days(run, *part);
        let fraction = Ratio::new(i128::from(days.value), i128::from(all_days.value))?;
        let share = total.amount.value.exact().times(fraction)?.to_money(Rounding::NearestPenny)?;
        rest = rest.minus(share)?;
        let operands = vec![total.amount.operand(), days.operand(), all_days.operand()];
        let rounded = (share, Rounding::NearestPenny);
        shares.push(record(run, (purpose, total, *part), rounded, "{} × {} ÷ {}", operands));
    }
    let before = run.workings.trace(total.amount.value.minus(rest)?, |before| {
        Step::new(
            total.line.id(&format!("{purpose}/before/{}", last.start())),
            "Shares of the earlier parts together",
            Formula::Total,
            shares.iter().map(|share| share.operand()).collect(),
            (*before, Rounding::None),
            &BY_DAYS,
        )
    });
    let operands = vec![total.amount.operand(), before.operand()];
    shares.push(record(run, (purpose, total, *last), (rest, Rounding::None), "{} − {}", operands));
    Ok(shares)
}

fn record(
    run: &mut Run<'_>,
    (purpose, total, part): (&'static str, &Total, Period),
    (share, rounding): (Money, Rounding),
    formula: &'static str,
    operands: Vec<Operand>,
) -> Traced<Money> {
    run.workings.trace(share, |share| {
        Step::new(
            total.line.id(&format!("{purpose}/{}", part.start())),
            format!("Share of the part from {} to {}", part.start(), part.end()),
            Formula::Text(formula),
            operands,
            (*share, rounding),
            &BY_DAYS,
        )
    })
}

/// The parts as a sentence names them.
fn named(parts: &[Period]) -> String {
    let names: Vec<_> = parts.iter().map(|part| format!("{} to {}", part.start(), part.end())).collect();
    names.join(", ")
}

fn change_within(parts: &[Period], days: Period) -> Date {
    parts.iter().map(|part| part.start()).find(|start| *start > days.start()).unwrap_or(days.end())
}
