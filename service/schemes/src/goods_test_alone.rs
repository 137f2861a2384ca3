//! The limited cost test by itself, and what would change its outcome.

use jiff::civil::Date;

use crate::answer::{GoodsAnswer, WhatWouldChange};
use crate::cautions;
use crate::figures::{Evidence, GoodsFigures, GoodsGiven, Spend, Supply, TurnoverGiven, UsedFor};
use crate::flat_rate::{Categories, Tested, Total, test_spending, tested_days, turnover_totals};
use crate::law::{Law, ParameterId, rule as cite};
use crate::lines::{self, Completed, LineId, List, PurchaseLine};
use crate::money::{Money, Percentage, Ratio, Rounding};
use crate::period::Period;
use crate::refusal::{Place, Refusal, RefusalCode, Refusals};
use crate::run::{Name, Run, Scope};
use crate::warnings;
use crate::workings::{Rule, Traced, Workings};

static SPEND_NEEDED: Rule = Rule {
    says: "The further spending on relevant goods, with VAT, that the test needs before the period ends; none where it is passed.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A],
};
static MOST_TURNOVER: Rule = Rule {
    says: "The most turnover of which the spending on relevant goods is still the statutory percentage.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55A],
};
static PERCENTAGES: Rule = Rule {
    says: "The percentage in force on the last day of the period, before any first-year reduction.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55K, cite::VAT_REGULATIONS_1995_REGULATION_55KA],
};

/// Makes the limited cost test alone (VAT Regulations 1995 reg 55A(4)), and says what would change its outcome.
///
/// ```
/// use jiff::civil::date;
/// use vat_schemes::figures::{Dates, GoodsFigures, GoodsGiven, TurnoverGiven};
/// use vat_schemes::law::Law;
/// use vat_schemes::workings::Workings;
///
/// let law = Law::built_in().expect("the built-in tables are sound");
/// let figures = GoodsFigures {
///     period: Dates { start: date(2026, 4, 1), end: date(2026, 6, 30) },
///     sector: "photography".to_owned(),
///     turnover: TurnoverGiven::Total("29400.00".parse().expect("an amount")),
///     goods: GoodsGiven::Total("325.00".parse().expect("an amount")),
///     split_estimate: None,
/// };
/// let answer = vat_schemes::test_goods(&law, &figures, Workings::kept()).expect("an answer");
/// // Two per cent of turnover is more than the quarter's share of the amount for a year.
/// assert!(answer.goods_test.limited_cost_business);
/// assert_eq!(answer.goods_test.required.to_string(), "588.00");
/// ```
///
/// # Errors
/// [`Refusals`] where the law or the figures admit no test: a period that ends before the rule began, an unknown category,
/// lines that do not add up, or one figure for a period that straddles the day on which the rule began.
pub fn test_goods(law: &Law, figures: &GoodsFigures, workings: Workings) -> Result<GoodsAnswer, Refusals> {
    let mut run = Run::new(law, workings);
    let dates = figures.period;
    let period = Period::checked(dates.start, dates.end)?;
    let Some(days) = tested_days(&run, period) else {
        let (begins, _) = law.parameter(ParameterId::FrsLimitedCostPercent).timeline().known_days();
        return Err(Refusal::new(
            Place::PeriodEnd,
            RefusalCode::DateOutsideLaw,
            format!("There was no limited cost test before {begins}. Give a period that ends on that day or later."),
        )
        .into());
    };
    let mut refusals = Vec::new();
    let categories = Categories::only(law, &figures.sector).map_err(|refusal| refusals.push(refusal)).ok();
    if days != period {
        refusals.extend(totals_of_a_straddling_period(figures, days.start()));
    }
    let sales: &[_] = match &figures.turnover {
        TurnoverGiven::Sales(sales) => sales,
        TurnoverGiven::Total(_) => &[],
    };
    let purchases: &[_] = match &figures.goods {
        GoodsGiven::Purchases(purchases) => purchases,
        GoodsGiven::Total(_) => &[],
    };
    let lines = lines::complete(&mut run, sales, purchases, period).map_err(|found| refusals.extend(found)).ok();
    let (Some(categories), Some(mut lines), true) = (categories, lines, refusals.is_empty()) else {
        return Err(Refusals(refusals));
    };
    let turnover = match &figures.turnover {
        TurnoverGiven::Sales(_) => turnover_totals(&lines.sales),
        TurnoverGiven::Total(total) => vec![turnover_total(*total)],
    };
    if let GoodsGiven::Total(total) = &figures.goods {
        lines.purchases.push(goods_total(*total));
    }
    let mut tested = test_spending(&mut run, &lines, &turnover, (period, days), &categories, figures.split_estimate)
        .map_err(Refusals)?;
    if matches!(figures.goods, GoodsGiven::Total(_)) {
        // The total is no line of the request.
        tested.answer.lines.clear();
    }
    let what_would_change = what_would_change(&mut run, &tested, &categories)?;
    let warnings = warnings::of_goods_test(law, period, &tested, &categories, &lines.purchases)?;
    Ok(GoodsAnswer {
        period,
        goods_test: tested.answer,
        what_would_change,
        warnings,
        cautions: cautions::of_goods_test(law),
        law: run.law_behind(),
        workings: run.workings.into_steps(),
    })
}

fn totals_of_a_straddling_period(figures: &GoodsFigures, begins: Date) -> Vec<Refusal> {
    let refuse = |place| {
        Refusal::new(
            place,
            RefusalCode::PeriodMustBeSplit,
            format!(
                "The test began on {begins}, inside the period: one figure does not tell what falls after it. Give the days from {begins} as the period."
            ),
        )
    };
    let turnover = matches!(figures.turnover, TurnoverGiven::Total(_)).then(|| refuse(Place::Turnover));
    let goods = matches!(figures.goods, GoodsGiven::Total(_)).then(|| refuse(Place::RelevantGoods));
    turnover.into_iter().chain(goods).collect()
}

fn turnover_total(total: Money) -> Total {
    // One figure for the whole period is never shared out, so its line is never named.
    Total {
        amount: Traced::given(total, Place::Turnover),
        part: None,
        percentage_at_supply: None,
        line: LineId { list: List::Sales, index: 0 },
    }
}

/// Relevant goods given as one figure: a line of goods that count.
fn goods_total(total: Money) -> PurchaseLine {
    let gross = Traced::given(total, Place::RelevantGoods);
    PurchaseLine {
        index: 0,
        spend: Spend::ConsumableGoods,
        supply: Supply::Ordinary,
        used_for: UsedFor::Taxable,
        business_use: None,
        vat_blocked: false,
        evidence: Evidence::VatInvoice,
        for_main_activity: None,
        amounts: Completed { net: gross, vat: None, gross },
        part: None,
        share_of: None,
    }
}

fn what_would_change(
    run: &mut Run<'_>,
    tested: &Tested,
    categories: &Categories<'_>,
) -> Result<WhatWouldChange, Refusal> {
    let name = |id, label, rule| Name::new(Scope::WhatWouldChange, id, label, rule);
    let test = &tested.answer;
    let last = test.days.end();
    let short = test.required.minus(test.relevant_goods)?.max(Money::ZERO);
    let operands = [tested.required.operand(), tested.relevant_goods.operand()];
    let spend_needed = run.step(
        name("spend_needed", "Further spending needed", &SPEND_NEEDED).gives(&["spend_needed"]),
        short,
        Rounding::None,
        "max({} − {}, 0)",
        &operands,
    );
    let percent = run.percentage(
        ParameterId::FrsLimitedCostPercent,
        test.days.start(),
        "Percentage of turnover that relevant goods must reach",
    )?;
    let most_turnover = if tested.reaches_minimum {
        let exact = test.relevant_goods.exact().times(Ratio::new(10_000, percent.value.hundredths())?)?;
        Some(
            run.step(
                name("most_turnover", "Most turnover with which the spending passes", &MOST_TURNOVER)
                    .gives(&["most_turnover"]),
                exact.to_money(Rounding::DownToPenny)?,
                Rounding::DownToPenny,
                "{} × 100 ÷ {}",
                &[tested.relevant_goods.operand(), percent.operand()],
            ),
        )
    } else {
        None
    };
    let number = categories.on(last).percentage(last)?;
    let category = run.number(&number, "Percentage of the category of business");
    let limited = run.percentage(ParameterId::LimitedCostBusiness, last, "Limited cost percentage")?;
    let mut shown = |id: &'static str, label, figure: &'static [&'static str], percentage: Traced<Percentage>| {
        run.step(
            name(id, label, &PERCENTAGES).gives(figure),
            percentage.value,
            Rounding::None,
            "{}",
            &[percentage.operand()],
        )
    };
    Ok(WhatWouldChange {
        spend_needed: spend_needed.value,
        most_turnover: most_turnover.map(|most| most.value),
        category_percentage: shown(
            "category_percentage",
            "Percentage of the category",
            &["category_percentage"],
            category,
        )
        .value,
        limited_cost_percentage: shown(
            "limited_cost_percentage",
            "Limited cost percentage",
            &["limited_cost_percentage"],
            limited,
        )
        .value,
    })
}
