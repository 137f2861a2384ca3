//! The limited cost test of a period (VAT Regulations 1995 reg 55A(4), from 1 April 2017).

use crate::answer::{GoodsTest, TestedLine};
use crate::figures::{SplitEstimate, Supply};
use crate::law::{ParameterId, rule as cite};
use crate::length::TracedLength;
use crate::lines::{LineId, Lines, List, PurchaseLine};
use crate::money::{Money, Percentage, Ratio, Rounding};
use crate::period::{Period, previous_day};
use crate::refusal::{LineField, Place, Refusal, RefusalCode};
use crate::run::{Name, Run, Scope};
use crate::spend::{Facts, Standing, standing};
use crate::workings::{Operand, Rule, Traced};

use super::allot::{Allotted, Total, allot};
use super::category::Categories;

/// The outcome, with what the warnings look at.
pub(crate) struct Tested {
    pub answer: GoodsTest,
    /// The purchases whose unanswered question about the main activity decides the outcome.
    pub rests_on_default: Vec<usize>,
    /// Spending on relevant goods and what is required, with their steps.
    pub relevant_goods: Traced<Money>,
    pub required: Traced<Money>,
    /// Whether the spending reaches the yearly amount in proportion, whatever the turnover.
    pub reaches_minimum: bool,
    /// Whether relevant goods lie within a tenth of the limit, on either side.
    pub close_to_limit: bool,
}

static RELEVANT_GOODS: Rule = Rule {
    says: "Relevant goods are goods used exclusively for the business, with any VAT charged on them, less those that the regulation leaves out.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::NOTICE_733_SECTION_4],
};
static TURNOVER: Rule = Rule {
    says: "The test measures goods against the flat rate turnover of the same days.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::SI_2017_295_REGULATION_1],
};
static TWO_PERCENT: Rule = Rule {
    says: "The statutory percentage of flat rate turnover, shown to the nearest penny.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::SI_2017_295_REGULATION_3],
};
static MINIMUM: Rule = Rule {
    says: "The statutory yearly amount in proportion to the length of the period, shown to the nearest penny.",
    authority: &[
        cite::VAT_REGULATIONS_1995_REGULATION_55A,
        cite::SI_2017_295_REGULATION_3,
        cite::DECISION_LENGTH_OF_PERIOD,
    ],
};
static REQUIRED: Rule = Rule {
    says: "The smallest spending that passes is the higher of the percentage of turnover and the yearly amount in proportion, up to the next whole penny.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::DECISION_LENGTH_OF_PERIOD],
};
static LIMITED: Rule = Rule {
    says: "A business whose relevant goods cost less than the higher of the percentage of turnover and the yearly amount in proportion is a limited cost \
           business in the period; the exact figures are compared, and equality passes.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A, cite::NOTICE_733_SECTION_4],
};
static HEADROOM: Rule = Rule {
    says: "What was spent on relevant goods less what is required.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A],
};
static SHARE: Rule = Rule {
    says: "Relevant goods as a percentage of flat rate turnover, for information.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A],
};

/// The days of a period that are tested; none where it ends before the rule began. A period that straddles that day is
/// tested from it, as a period of its own (SI 2017/295 reg 1).
pub(crate) fn tested_days(run: &Run<'_>, period: Period) -> Option<Period> {
    let (begins, _) = run.law.parameter(ParameterId::FrsLimitedCostPercent).timeline().known_days();
    Period::new(period.start().max(begins), period.end())
}

/// Makes the test on the turnover totals given.
pub(crate) fn test_spending(
    run: &mut Run<'_>,
    lines: &Lines,
    turnover: &[Total],
    (period, days): (Period, Period),
    categories: &Categories<'_>,
    estimate: Option<SplitEstimate>,
) -> Result<Tested, Vec<Refusal>> {
    let within = Within { period, days, estimate };
    let turnover = within.totals(run, turnover)?;
    let name = |id, label, rule| Name::new(Scope::GoodsTest, id, label, rule);
    let turnover = run
        .total(name("turnover", "Flat rate turnover of the days tested", &TURNOVER).gives(&["turnover"]), &turnover)
        .map_err(|overflow| vec![overflow.into()])?;
    let limit = Limit::of(run, turnover, days).map_err(|refusal| vec![refusal])?;

    let judged: Vec<(usize, Standing)> =
        lines.purchases.iter().enumerate().map(|(index, line)| (index, judge(line, categories, days))).collect();
    let goods = goods_of(run, lines, &judged, &within, &limit)?;
    finish(run, lines, &judged, goods, turnover, limit, days).map_err(|refusal| vec![refusal])
}

/// The limit of a test: the higher of two figures, and what made them.
struct Limit {
    exact: Ratio,
    percent: Traced<Percentage>,
    minimum: Ratio,
    minimum_formula: &'static str,
    minimum_operands: Vec<Operand>,
    whole_months: bool,
}

impl Limit {
    fn of(run: &mut Run<'_>, turnover: Traced<Money>, days: Period) -> Result<Self, Refusal> {
        let percent = run.percentage(
            ParameterId::FrsLimitedCostPercent,
            days.start(),
            "Percentage of turnover that relevant goods must reach",
        )?;
        let yearly = run.amount(
            ParameterId::FrsLimitedCostAmount,
            days.start(),
            "Amount a year that relevant goods must reach",
        )?;
        let length = TracedLength::of(run, days);
        let (minimum, minimum_formula, minimum_operands) = length.of_yearly(yearly)?;
        let exact = turnover.value.share(percent.value)?.larger(minimum)?;
        Ok(Self { exact, percent, minimum, minimum_formula, minimum_operands, whole_months: length.whole_months() })
    }

    fn is_missed_by(&self, goods: Money) -> Result<bool, Refusal> {
        Ok(goods.exact().less_than(self.exact)?)
    }

    /// Within a tenth of the limit, on either side.
    fn is_close_to(&self, goods: Money) -> Result<bool, Refusal> {
        let goods = goods.exact();
        let nine_tenths = self.exact.times(Ratio::new(9, 10)?)?;
        let eleven_tenths = self.exact.times(Ratio::new(11, 10)?)?;
        Ok(nine_tenths.at_most(goods)? && goods.at_most(eleven_tenths)?)
    }
}

/// Whether a purchase counts, in the category of business on the first of its days that are tested.
fn judge(line: &PurchaseLine, categories: &Categories<'_>, days: Period) -> Standing {
    let on = line.part.map_or(days.start(), |part| part.start().max(days.start()));
    standing(Facts {
        spend: line.spend,
        overseas_service: line.supply == Supply::OverseasServicesReverseCharge,
        exclusively_for_business: line.business_use.is_none_or(|share| share.value == Percentage::HUNDRED),
        for_main_activity: line.for_main_activity,
        sector: categories.on(on).id(),
    })
}

/// The days tested, within the period.
struct Within {
    period: Period,
    days: Period,
    estimate: Option<SplitEstimate>,
}

impl Within {
    /// The part of each total that falls on the days tested.
    fn totals(&self, run: &mut Run<'_>, totals: &[Total]) -> Result<Vec<Traced<Money>>, Vec<Refusal>> {
        let mut found = Vec::with_capacity(totals.len());
        let mut refusals = Vec::new();
        for total in totals {
            match self.amount(run, total) {
                Ok(amount) => found.extend(amount),
                Err(refusal) => refusals.push(refusal),
            }
        }
        if refusals.is_empty() { Ok(found) } else { Err(refusals) }
    }

    /// What of a total falls on the days tested; none where nothing does.
    fn amount(&self, run: &mut Run<'_>, total: &Total) -> Result<Option<Traced<Money>>, Refusal> {
        let Some(before) = Period::new(self.period.start(), previous_day(self.days.start())) else {
            return Ok(Some(total.amount));
        };
        Ok(match allot(run, "goods_test_share", total, &[before, self.days], self.estimate)? {
            Allotted::To(1) => Some(total.amount),
            Allotted::To(_) => None,
            Allotted::Shared(shares) => shares.last().copied(),
        })
    }

    /// Whether all days of the period are tested, so that purchases need no dates.
    fn is_whole(&self) -> bool {
        self.days == self.period
    }
}

/// Spending on relevant goods in the days tested, with the lines that count and for how much.
struct Goods {
    counted: Vec<(usize, Traced<Money>)>,
}

impl Goods {
    fn total(&self) -> Result<Money, Refusal> {
        let mut sum = Money::ZERO;
        for (_, amount) in &self.counted {
            sum = sum.plus(amount.value)?;
        }
        Ok(sum)
    }
}

fn goods_of(
    run: &mut Run<'_>,
    lines: &Lines,
    judged: &[(usize, Standing)],
    within: &Within,
    limit: &Limit,
) -> Result<Goods, Vec<Refusal>> {
    let mut counted = Vec::new();
    let mut undated = Vec::new();
    let mut refusals = Vec::new();
    for (index, _) in judged.iter().filter(|(_, standing)| standing.relevant) {
        let line = &lines.purchases[*index];
        let amount = line.amounts.gross;
        if !within.is_whole() && amount.value.is_zero() {
            // Nothing was bought on either side, whatever days the line names.
            continue;
        }
        if !within.is_whole() && line.part.is_none() && within.estimate.is_none() {
            undated.push((*index, amount));
            continue;
        }
        let total = Total {
            amount,
            part: line.part,
            percentage_at_supply: None,
            line: LineId { list: List::Purchases, index: line.index },
        };
        match within.amount(run, &total) {
            Ok(Some(amount)) => counted.push((*index, amount)),
            Ok(None) => {}
            Err(refusal) => refusals.push(refusal),
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let goods = Goods { counted };
    if undated.is_empty() {
        return Ok(goods);
    }
    settle_undated(goods, &undated, limit).map_err(|refusal| match refusal {
        Some(refusal) => vec![refusal],
        None => undated.iter().map(|(index, _)| must_be_dated(lines.purchases[*index].index, within)).collect(),
    })
}

/// Purchases without dates in a period that straddles the start of the rule: they may lie on either side of it, so they are
/// settled only where the outcome is the same either way.
fn settle_undated(goods: Goods, undated: &[(usize, Traced<Money>)], limit: &Limit) -> Result<Goods, Option<Refusal>> {
    let mut with_all = Goods { counted: goods.counted.clone() };
    with_all.counted.extend_from_slice(undated);
    with_all.counted.sort_by_key(|(index, _)| *index);
    let limited_without = limit.is_missed_by(goods.total()?)?;
    let limited_with = limit.is_missed_by(with_all.total()?)?;
    match (limited_without, limited_with) {
        (false, false) => Ok(goods),
        (true, true) => Ok(with_all),
        _ => Err(None),
    }
}

fn must_be_dated(index: usize, within: &Within) -> Refusal {
    Refusal::new(
        Place::Purchase(index, LineField::Whole),
        RefusalCode::PeriodMustBeSplit,
        format!(
            "The limited cost test began on {}, inside the period, and these goods decide it. Give the purchase its part: dates before that day or \
             from it on.",
            within.days.start()
        ),
    )
}

fn finish(
    run: &mut Run<'_>,
    lines: &Lines,
    judged: &[(usize, Standing)],
    goods: Goods,
    turnover: Traced<Money>,
    limit: Limit,
    days: Period,
) -> Result<Tested, Refusal> {
    let name = |id, label, rule| Name::new(Scope::GoodsTest, id, label, rule);
    let amounts: Vec<_> = goods.counted.iter().map(|(_, amount)| *amount).collect();
    let relevant = run.total(
        name("relevant_goods", "Spending on relevant goods", &RELEVANT_GOODS).gives(&["relevant_goods"]),
        &amounts,
    )?;
    let two_percent = run.step(
        name("two_percent_of_turnover", "Statutory percentage of turnover", &TWO_PERCENT)
            .gives(&["two_percent_of_turnover"]),
        turnover.value.share(limit.percent.value)?.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        "{} × {} ÷ 100",
        &[turnover.operand(), limit.percent.operand()],
    );
    let minimum = run.step(
        name("minimum_for_period", "Statutory yearly amount in proportion", &MINIMUM).gives(&["minimum_for_period"]),
        limit.minimum.to_money(Rounding::NearestPenny)?,
        Rounding::NearestPenny,
        limit.minimum_formula,
        &limit.minimum_operands,
    );
    let mut limit_operands = vec![turnover.operand(), limit.percent.operand()];
    limit_operands.extend_from_slice(&limit.minimum_operands);
    let required = run.step(
        name("required", "Smallest spending that passes", &REQUIRED).gives(&["required"]),
        limit.exact.to_money(Rounding::UpToPenny)?,
        Rounding::UpToPenny,
        if limit.whole_months {
            "max({} × {} ÷ 100, {} × {} ÷ 12)"
        } else {
            "max({} × {} ÷ 100, {} × {} ÷ {})"
        },
        &limit_operands,
    );
    let limited = limit.is_missed_by(relevant.value)?;
    limit_operands.insert(0, relevant.operand());
    run.step(
        name("limited_cost_business", "Whether this is a limited cost business", &LIMITED)
            .gives(&["limited_cost_business"]),
        limited,
        Rounding::None,
        if limit.whole_months {
            "{} < max({} × {} ÷ 100, {} × {} ÷ 12)"
        } else {
            "{} < max({} × {} ÷ 100, {} × {} ÷ {})"
        },
        &limit_operands,
    );
    let headroom = run.difference(name("headroom", "Headroom", &HEADROOM).gives(&["headroom"]), relevant, required)?;
    let share_percentage = if turnover.value.is_positive() {
        let share = Ratio::new(relevant.value.pence(), turnover.value.pence())?.to_share()?;
        let name =
            name("share_percentage", "Relevant goods as a share of turnover", &SHARE).gives(&["share_percentage"]);
        let operands = [relevant.operand(), turnover.operand()];
        Some(run.step(name, share, Rounding::NearestHundredth, "{} ÷ {} × 100", &operands).value)
    } else {
        None
    };
    let answer = GoodsTest {
        days,
        limited_cost_business: limited,
        relevant_goods: relevant.value,
        turnover: turnover.value,
        share_percentage,
        two_percent_of_turnover: two_percent.value,
        minimum_for_period: minimum.value,
        required: required.value,
        headroom: headroom.value,
        lines: tested_lines(lines, judged, &goods),
    };
    Ok(Tested {
        rests_on_default: resting_on_default(lines, judged, &goods, &limit, limited)?,
        close_to_limit: limit.is_close_to(relevant.value)?,
        relevant_goods: relevant,
        required,
        reaches_minimum: limit.minimum.at_most(relevant.value.exact())?,
        answer,
    })
}

fn tested_lines(lines: &Lines, judged: &[(usize, Standing)], goods: &Goods) -> Vec<TestedLine> {
    let mut counted = goods.counted.iter().peekable();
    judged
        .iter()
        .map(|(index, standing)| {
            let line = &lines.purchases[*index];
            let amount = counted.next_if(|(counted, _)| counted == index).map(|(_, amount)| amount.value);
            TestedLine {
                purchase: line.index,
                spend: line.spend,
                relevant: standing.relevant,
                amount: amount.unwrap_or(Money::ZERO),
                reason: standing.reason,
                authority: standing.authority,
            }
        })
        .collect()
}

/// The lines whose unanswered question about the main activity decides the outcome: if all of them were answered the other
/// way, it would turn round.
fn resting_on_default(
    lines: &Lines,
    judged: &[(usize, Standing)],
    goods: &Goods,
    limit: &Limit,
    limited: bool,
) -> Result<Vec<usize>, Refusal> {
    let mut other = goods.total()?;
    let mut asked = Vec::new();
    // A business with too few goods is helped only by counting more, one with enough is harmed only by counting fewer.
    for (index, _) in judged.iter().filter(|(_, standing)| standing.rests_on_default && standing.relevant != limited) {
        let line = &lines.purchases[*index];
        let counted = goods.counted.iter().find(|(counted, _)| counted == index).map(|(_, amount)| amount.value);
        other = if limited {
            other.plus(line.amounts.gross.value)?
        } else {
            other.minus(counted.unwrap_or(Money::ZERO))?
        };
        asked.push(line.index);
    }
    Ok(if limit.is_missed_by(other)? == limited { Vec::new() } else { asked })
}
