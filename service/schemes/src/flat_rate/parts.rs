//! Turnover and VAT of each part of a period.

use crate::answer::{EarlierSupplies, Part};
use crate::figures::SplitEstimate;
use crate::law::rule as cite;
use crate::lines::LineId;
use crate::money::{Money, Percentage, Rounding};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::{Name, Run, Scope};
use crate::workings::{Rule, Traced};

use super::allot::{Allotted, Total, allot};
use super::percentage::Rated;

static PART_TURNOVER: Rule = Rule {
    says: "Turnover goes to the part of the period in which it falls.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55H, cite::DECISION_CUTS],
};
static FLAT_RATE_VAT: Rule = Rule {
    says: "The VAT of a part is its percentage of its turnover, to the nearest penny.",
    authority: &[cite::VATA_1994_SECTION_26B, cite::VAT_REGULATIONS_1995_REGULATION_55D, cite::DECISION_ROUNDING],
};
static AT_SUPPLY: Rule = Rule {
    says: "With the cash method the percentage of a receipt is the one in force when the supply was made.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55G, cite::NOTICE_733, cite::DECISION_CASH_TURNOVER],
};

/// Turnover by part.
pub(super) struct Parts {
    pub turnover: Vec<Vec<Traced<Money>>>,
    /// Receipts for supplies of earlier periods, by the percentage in force when they were made.
    pub earlier: Vec<Earlier>,
    pub all: Vec<Traced<Money>>,
    pub shared_by_days: Vec<LineId>,
}

impl Parts {
    /// Puts each total into its part, or shares it out.
    pub fn of(
        run: &mut Run<'_>,
        rated: &[Rated],
        totals: &[Total],
        estimate: Option<SplitEstimate>,
    ) -> Result<Self, Vec<Refusal>> {
        let mut parts = Self {
            turnover: vec![Vec::new(); rated.len()],
            earlier: Vec::new(),
            all: totals.iter().map(|total| total.amount).collect(),
            shared_by_days: Vec::new(),
        };
        let mut of_the_period = Vec::with_capacity(totals.len());
        for total in totals {
            match total.percentage_at_supply {
                None => of_the_period.push(total),
                Some(percentage) => parts.put_earlier(percentage, total.amount),
            }
        }
        if let [only] = parts.turnover.as_mut_slice() {
            only.extend(of_the_period.iter().map(|total| total.amount));
            return Ok(parts);
        }
        let days: Vec<Period> = rated.iter().map(|part| part.days).collect();
        let mut refusals = Vec::new();
        for total in of_the_period {
            match allot(run, "share", total, &days, estimate) {
                Ok(Allotted::To(part)) => parts.turnover[part].push(total.amount),
                Ok(Allotted::Shared(shares)) => {
                    parts.shared_by_days.push(total.line);
                    for (part, share) in parts.turnover.iter_mut().zip(shares) {
                        part.push(share);
                    }
                }
                Err(refusal) => refusals.push(refusal),
            }
        }
        if refusals.is_empty() { Ok(parts) } else { Err(refusals) }
    }

    fn put_earlier(&mut self, percentage: Traced<Percentage>, amount: Traced<Money>) {
        match self.earlier.iter_mut().find(|earlier| earlier.percentage.value == percentage.value) {
            Some(earlier) => earlier.turnover.push(amount),
            None => self.earlier.push(Earlier { percentage, turnover: vec![amount] }),
        }
    }
}

/// Receipts for supplies to which one percentage applied.
pub(super) struct Earlier {
    percentage: Traced<Percentage>,
    turnover: Vec<Traced<Money>>,
}

/// Works out the VAT on receipts for supplies of an earlier period: the cash method changes when turnover counts, not which
/// percentage applies (authority `decision-cash-turnover`).
pub(super) fn earlier_answer(
    run: &mut Run<'_>,
    index: usize,
    earlier: &Earlier,
) -> Result<(EarlierSupplies, Traced<Money>), Refusal> {
    let name = |id, label, figures| Name::new(Scope::FlatRateEarlier(index), id, label, &AT_SUPPLY).gives(figures);
    let turnover = run.total(name("turnover", "Receipts for earlier supplies", &["turnover"]), &earlier.turnover)?;
    let percentage = run.step(
        name("percentage", "Percentage at the time of supply", &["percentage"]),
        earlier.percentage.value,
        Rounding::None,
        "{}",
        &[earlier.percentage.operand()],
    );
    let vat = run.step(
        name("vat", "Flat rate VAT on earlier supplies", &["vat"]),
        turnover.value.share(percentage.value)?.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} × {} ÷ 100",
        &[turnover.operand(), percentage.operand()],
    );
    let answer = EarlierSupplies { percentage: percentage.value, turnover: turnover.value, vat: vat.value };
    Ok((answer, vat))
}

/// Works out a part of the answer.
pub(super) fn part_answer(
    run: &mut Run<'_>,
    index: usize,
    rated: &Rated,
    turnover: &[Traced<Money>],
) -> Result<(Part, Traced<Money>), Refusal> {
    let scope = Scope::FlatRatePart(index);
    let turnover =
        run.total(Name::new(scope, "turnover", "Turnover of the part", &PART_TURNOVER).gives(&["turnover"]), turnover)?;
    let (percentage, first_year_reduction) = rated.record(run, index)?;
    let vat = run.step(
        Name::new(scope, "vat", "Flat rate VAT of the part", &FLAT_RATE_VAT).gives(&["vat"]),
        turnover.value.share(percentage.value)?.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} × {} ÷ 100",
        &[turnover.operand(), percentage.operand()],
    );
    let part = Part {
        days: rated.days,
        turnover: turnover.value,
        percentage: percentage.value,
        basis: rated.basis,
        sector: rated.sector.clone(),
        first_year_reduction,
        vat: vat.value,
    };
    Ok((part, vat))
}
