//! One period under both schemes.

use crate::adjustments;
use crate::answer::Answer;
use crate::cash_accounting;
use crate::category_choice;
use crate::cautions;
use crate::figures::{Figures, Supply, TurnoverMethod};
use crate::flat_rate::{self, Categories, Scheme, Setting, Sides, divide};
use crate::law::{Law, ParameterId};
use crate::lines::{self, Lines};
use crate::northern_ireland;
use crate::period::Period;
use crate::refusal::{LineField, Place, Refusal, RefusalCode, Refusals};
use crate::run::Run;
use crate::side_by_side::{Compared, side_by_side};
use crate::standard::{self, Beside, OfTheYear};
use crate::thresholds;
use crate::warnings::{self, Findings};
use crate::workings::Workings;

/// Works out one period under both schemes.
///
/// ```
/// use jiff::civil::date;
/// use vat_schemes::figures::*;
/// use vat_schemes::law::Law;
/// use vat_schemes::workings::Workings;
///
/// let law = Law::built_in().expect("the built-in tables are sound");
/// let money = |text: &str| Some(text.parse().expect("an amount"));
/// let figures = Figures {
///     period: Dates { start: date(2026, 4, 1), end: date(2026, 6, 30) },
///     business: Business {
///         registered_on: date(2021, 3, 1),
///         sector: "photography".to_owned(),
///         sector_changes: Vec::new(),
///         flat_rate_from: None,
///         flat_rate_until: None,
///         liability_notified_on: None,
///         turnover_method: TurnoverMethod::Basic,
///         activities: Vec::new(),
///     },
///     sales: vec![Sale {
///         treatment: Treatment::StandardRated,
///         nature: Nature::Ordinary,
///         amounts: Amounts { gross: money("12000.00"), ..Amounts::default() },
///         part: None,
///         percentage_at_supply: None,
///         northern_ireland_to_eu: false,
///     }],
///     purchases: Vec::new(),
///     adjustments: Adjustments::default(),
///     partial_exemption: PartialExemptionGiven::default(),
///     marginal_tax: None,
///     cash_accounting: None,
///     turnover: None,
///     split_estimate: None,
/// };
/// let answer = vat_schemes::compare(&law, &figures, Workings::kept()).expect("an answer");
/// // A sixth of the takings; and as nothing was spent on goods, 16.5 per cent of them in place of the category's percentage.
/// assert_eq!(answer.standard.vat_payable.to_string(), "2000.00");
/// assert_eq!(answer.flat_rate.vat_payable.to_string(), "1980.00");
/// assert_eq!(answer.comparison.saving.to_string(), "20.00");
/// ```
///
/// # Errors
/// [`Refusals`] where the law or the figures admit no answer: all reasons that can be told together, each with its place.
pub fn compare(law: &Law, figures: &Figures, workings: Workings) -> Result<Answer, Refusals> {
    let mut run = Run::new(law, workings);
    let checked = check(&mut run, figures)?;
    let Checked { period, categories, scheme, lines } = &checked;
    let adjusted = adjustments::adjust(&mut run, figures, *period);
    let category =
        category_choice::show(&mut run, &figures.business.activities, categories.on(period.start()).id(), *period);
    let cash = cash_accounting::judge(&mut run, figures, *period);
    let limits = match &figures.turnover {
        Some(turnover) => Some(thresholds::limits_of_comparison(&mut run, figures, turnover, *period)?),
        None => None,
    };
    let (adjusted, category, cash_accounting) = match (adjusted, category, cash) {
        (Ok(adjusted), Ok(category), Ok(cash)) => (adjusted, category, cash),
        (adjusted, category, cash) => {
            let mut refusals = adjusted.err().unwrap_or_default();
            refusals.extend(cash.err());
            return Err(together(refusals, category.err().unwrap_or_default()));
        }
    };

    let claimable = standard::claimable(&mut run, &lines.purchases, period.start())?;
    let of_the_year = OfTheYear::given(&figures.partial_exemption, Place::PartialExemption);
    // Each scheme may have its own reasons to refuse; the caller hears of both.
    let beside = Beside { box1: &adjusted.standard_box1, box4: &adjusted.standard_box4, box6: &adjusted.standard_box6 };
    let standard = standard::account(&mut run, lines, &claimable, beside, *period, &of_the_year);
    let setting = Setting {
        period: *period,
        categories,
        scheme,
        estimate: figures.split_estimate,
        adjustments_in_box1: &adjusted.flat_rate_box1,
        adjustments: &adjusted.flat_rate_box4,
        of_the_year: &of_the_year,
    };
    let sides = sides(&mut run, lines, &setting);
    let flat_rate = sides
        .as_ref()
        .map_err(Clone::clone)
        .and_then(|sides| flat_rate::account(&mut run, lines, sides.as_ref(), &claimable, &setting));
    let (standard, flat_rate) = match (standard, flat_rate) {
        (Ok(standard), Ok(flat_rate)) => (standard, flat_rate),
        (standard, flat_rate) => {
            let refusal = standard.err().into_iter().collect();
            return Err(together(refusal, flat_rate.err().unwrap_or_default()));
        }
    };
    let comparison = side_by_side(
        &mut run,
        &Compared {
            lines,
            claimable: &claimable,
            standard: &standard,
            flat_rate: &flat_rate,
            pre_registration: adjusted.pre_registration,
            partial_exemption_year: adjusted.partial_exemption_year,
            marginal_tax: figures.marginal_tax,
        },
    )?;
    let mut adjustments = adjusted.answer;
    let box6 = [standard.vat_return.box6, flat_rate.vat_return.box6];
    adjustments.errors = adjustments::correct(&mut run, figures, *period, adjusted.correct_by, box6)?;
    let findings = Findings {
        law,
        figures,
        period: *period,
        categories,
        scheme,
        lines,
        standard: &standard.answer,
        flat_rate: &flat_rate,
        adjustments: &adjustments,
        cash_accounting: cash_accounting.as_ref(),
        category: category.as_ref(),
        limits: limits.as_ref(),
    };
    let warnings = warnings::all(&findings)?;
    let cautions = cautions::fitting(&findings);
    Ok(Answer {
        period: *period,
        standard: standard.answer,
        goods_test: flat_rate.tested.map(|tested| tested.answer),
        flat_rate: flat_rate.answer,
        comparison,
        adjustments,
        cash_accounting,
        category,
        limits,
        warnings,
        cautions,
        law: run.law_behind(),
        workings: run.workings.into_steps(),
    })
}

/// The lines divided where only some of the period's days are in the scheme.
fn sides(run: &mut Run<'_>, lines: &Lines, setting: &Setting<'_>) -> Result<Option<Sides>, Vec<Refusal>> {
    if setting.scheme.days == setting.period {
        return Ok(None);
    }
    divide(run, lines, (setting.period, setting.scheme.days), setting.estimate).map(Some)
}

/// Refusals of both schemes, each said once.
fn together(mut refusals: Vec<Refusal>, more: Vec<Refusal>) -> Refusals {
    let first = refusals.len();
    for refusal in more {
        if !refusals[..first].contains(&refusal) {
            refusals.push(refusal);
        }
    }
    Refusals(refusals)
}

/// A request that can be calculated.
struct Checked<'law> {
    period: Period,
    categories: Categories<'law>,
    scheme: Scheme,
    lines: Lines,
}

fn check<'law>(run: &mut Run<'law>, figures: &Figures) -> Result<Checked<'law>, Refusals> {
    let dates = figures.period;
    let period = Period::checked(dates.start, dates.end)?;
    let mut refusals = Vec::new();
    let earliest = run.law.date(ParameterId::EarliestPeriodStart).map_err(Refusal::from)?.value;
    if period.start() < earliest {
        refusals.push(Refusal::new(
            Place::PeriodStart,
            RefusalCode::PeriodTooEarly,
            format!(
                "The period starts on {}; the tables of law begin on {earliest}, the date of the present Table of percentages and of the 20% rate. \
                 Give a period that starts on that day or later.",
                period.start()
            ),
        ));
        // No rate or percentage is known for such days, so nothing more can be told.
        return Err(Refusals(refusals));
    }
    let scheme = Scheme::of(&figures.business, period).map_err(|found| refusals.extend(found)).ok();
    let starts = figures.business.flat_rate_from.unwrap_or(period.start());
    let categories =
        Categories::of(run.law, &figures.business, starts, period).map_err(|found| refusals.extend(found)).ok();
    refusals.extend(early_postponed_imports(run, figures, period)?);
    refusals.extend(northern_ireland::too_early(run, figures, period)?);
    refusals.extend(unused_percentages(figures));
    let lines =
        lines::complete(run, &figures.sales, &figures.purchases, period).map_err(|found| refusals.extend(found)).ok();
    match (categories, scheme, lines) {
        (Some(categories), Some(scheme), Some(lines)) if refusals.is_empty() => {
            Ok(Checked { period, categories, scheme, lines })
        }
        _ => Err(Refusals(refusals)),
    }
}

/// Only the cash turnover method looks at the percentage in force when a receipt's supplies were made.
fn unused_percentages(figures: &Figures) -> Vec<Refusal> {
    if figures.business.turnover_method == TurnoverMethod::Cash {
        return Vec::new();
    }
    let stated = figures.sales.iter().enumerate().filter(|(_, sale)| sale.percentage_at_supply.is_some());
    stated
        .map(|(index, _)| {
            Refusal::new(
                Place::Sale(index, LineField::PercentageAtSupply),
                RefusalCode::PercentageAtSupplyNotUsed,
                "Only the cash turnover method uses the percentage at the time of supply. Leave it out, or choose that method.",
            )
        })
        .collect()
}

/// A flat rate user's postponed imports have stood outside the sum only since June 2022; before that their value was part
/// of turnover, which the service does not work out (Revenue and Customs Brief 3 (2022); `decision-postponed-imports`).
fn early_postponed_imports(run: &Run<'_>, figures: &Figures, period: Period) -> Result<Vec<Refusal>, Refusals> {
    let begins = run.law.date(ParameterId::FrsPostponedImports).map_err(Refusal::from)?.value;
    if period.start() >= begins {
        return Ok(Vec::new());
    }
    let postponed =
        figures.purchases.iter().enumerate().filter(|(_, purchase)| purchase.supply == Supply::PostponedImport);
    Ok(postponed
        .map(|(index, _)| {
            Refusal::new(
                Place::Purchase(index, LineField::Supply),
                RefusalCode::PostponedImportTooEarly,
                format!(
                    "Postponed imports of a flat rate user are worked out for periods that start on or after {begins}; this one starts on {}. Until \
                     then the value of the import was part of flat rate turnover, which is not covered here.",
                    period.start()
                ),
            )
        })
        .collect())
}
