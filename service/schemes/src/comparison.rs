//! Both schemes side by side, for one period.

use std::cmp::Ordering;

use crate::answer::{Answer, Cheaper, Comparison};
use crate::cautions;
use crate::figures::Figures;
use crate::flat_rate::{self, Scheme, Setting};
use crate::law::{Law, ParameterId, Sector, rule as cite};
use crate::lines::{self, Lines};
use crate::money::{Overflow, Rounding};
use crate::period::Period;
use crate::refusal::{LineField, Place, Refusal, RefusalCode, Refusals};
use crate::run::{Name, Run, Scope};
use crate::standard;
use crate::warnings::{self, Findings};
use crate::workings::{Rule, Workings};

static DIFFERENCE: Rule = Rule {
    says: "What the Flat Rate Scheme costs more than standard accounting in the period; a negative amount is what it costs less.",
    authority: &[cite::VATA_1994_SECTION_25, cite::VATA_1994_SECTION_26B],
};
static SAVING: Rule = Rule {
    says: "The difference without its sign.",
    authority: &[cite::VATA_1994_SECTION_25, cite::VATA_1994_SECTION_26B],
};
static BREAK_EVEN: Rule = Rule {
    says: "The recoverable VAT on costs at which both schemes cost the same, the goods test standing as it is: standard accounting's payable and \
           input tax together, less what is payable under the Flat Rate Scheme.",
    authority: &[cite::VATA_1994_SECTION_25, cite::VATA_1994_SECTION_26B],
};

/// Works out one period under both schemes.
///
/// # Errors
/// [`Refusals`] where the law or the figures admit no answer: all reasons that can be told together, each with its place.
pub fn compare(law: &Law, figures: &Figures, workings: Workings) -> Result<Answer, Refusals> {
    let mut run = Run::new(law, workings);
    let checked = check(&mut run, figures)?;
    let Checked { period, sector, scheme, lines } = &checked;

    let claimable = standard::claimable(&mut run, &lines.purchases, period.start())?;
    // Each scheme may have its own reasons to refuse; the caller hears of both.
    let standard = standard::account(&mut run, lines, &claimable, *period);
    let setting = Setting { period: *period, sector, scheme, estimate: figures.split_estimate };
    let flat_rate = flat_rate::account(&mut run, lines, &claimable, &setting);
    let (standard, flat_rate) = match (standard, flat_rate) {
        (Ok(standard), Ok(flat_rate)) => (standard, flat_rate),
        (Err(refusal), Err(more)) => return Err(together(vec![refusal], more)),
        (Err(refusal), Ok(_)) => return Err(refusal.into()),
        (Ok(_), Err(refusals)) => return Err(Refusals(refusals)),
    };
    let comparison = side_by_side(&mut run, &standard, &flat_rate)?;
    let findings = Findings {
        law,
        figures,
        period: *period,
        sector,
        scheme,
        lines,
        standard: &standard.answer,
        flat_rate: &flat_rate,
    };
    let warnings = warnings::all(&findings)?;
    let cautions = cautions::fitting(&findings);
    Ok(Answer {
        period: *period,
        standard: standard.answer,
        goods_test: flat_rate.tested.map(|tested| tested.answer),
        flat_rate: flat_rate.answer,
        comparison,
        warnings,
        cautions,
        law_edition: law.edition().to_owned(),
        law_checked_on: law.checked_on(),
        law_used: run.used,
        workings: run.workings.into_steps(),
    })
}

/// Refusals of both schemes, each said once.
fn together(mut refusals: Vec<Refusal>, more: Vec<Refusal>) -> Refusals {
    for refusal in more {
        if !refusals.contains(&refusal) {
            refusals.push(refusal);
        }
    }
    Refusals(refusals)
}

/// A request that can be calculated.
struct Checked<'law> {
    period: Period,
    sector: &'law Sector,
    scheme: Scheme,
    lines: Lines,
}

fn check<'law>(run: &mut Run<'law>, figures: &Figures) -> Result<Checked<'law>, Refusals> {
    let dates = figures.period;
    let Some(period) = Period::new(dates.start, dates.end) else {
        return Err(Refusals(vec![Refusal::new(
            Place::PeriodEnd,
            RefusalCode::PeriodEndBeforeStart,
            format!(
                "The period ends on {} before it starts on {}. Give its first day as start and its last as end.",
                dates.end, dates.start
            ),
        )]));
    };
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
    let sector = run.law.sector(&figures.business.sector);
    if sector.is_none() {
        refusals.push(Refusal::new(
            Place::Sector,
            RefusalCode::UnknownSector,
            no_such_sector(&figures.business.sector),
        ));
    }
    refusals.extend(early_postponed_imports(run, figures, period)?);
    let lines = lines::complete(run, figures, period).map_err(|found| refusals.extend(found)).ok();
    match (sector, scheme, lines) {
        (Some(sector), Some(scheme), Some(lines)) if refusals.is_empty() => {
            Ok(Checked { period, sector, scheme, lines })
        }
        _ => Err(Refusals(refusals)),
    }
}

fn no_such_sector(id: &str) -> String {
    if id == "limited-cost-business" {
        return "A limited cost business is no category of business: the goods test decides it each period. Give the category of the main \
                business activity."
            .to_owned();
    }
    format!("No category of business has the id \"{id}\".")
}

/// A flat rate user's postponed imports have stood outside the sum only since June 2022; before that their value was part
/// of turnover, which the service does not work out (Revenue and Customs Brief 3 (2022); `decision-postponed-imports`).
fn early_postponed_imports(run: &Run<'_>, figures: &Figures, period: Period) -> Result<Vec<Refusal>, Refusals> {
    let begins = run.law.date(ParameterId::FrsPostponedImports).map_err(Refusal::from)?.value;
    if period.start() >= begins {
        return Ok(Vec::new());
    }
    let postponed = figures
        .purchases
        .iter()
        .enumerate()
        .filter(|(_, purchase)| purchase.supply == crate::figures::Supply::PostponedImport);
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

fn side_by_side(
    run: &mut Run<'_>,
    standard: &standard::Accounted,
    flat_rate: &flat_rate::Accounted<'_>,
) -> Result<Comparison, Overflow> {
    let name = |id, label, rule| Name::new(Scope::Comparison, id, label, rule);
    let (standard_payable, flat_rate_payable) = (standard.vat_return.vat_payable, flat_rate.vat_return.vat_payable);
    let difference = run.difference(
        name("flat_rate_minus_standard", "Flat Rate Scheme less standard accounting", &DIFFERENCE)
            .gives(&["flat_rate_minus_standard"]),
        flat_rate_payable,
        standard_payable,
    )?;
    let saving = run.step(
        name("saving", "Saving by the cheaper scheme", &SAVING).gives(&["saving"]),
        difference.value.magnitude(),
        Rounding::None,
        "abs({})",
        &[difference.operand()],
    );
    let break_even = run.step(
        name("break_even_input_tax", "Break-even input tax", &BREAK_EVEN).gives(&["break_even_input_tax"]),
        standard_payable.value.plus(standard.input_tax.value)?.minus(flat_rate_payable.value)?,
        Rounding::None,
        "{} + {} − {}",
        &[standard_payable.operand(), standard.input_tax.operand(), flat_rate_payable.operand()],
    );
    Ok(Comparison {
        cheaper: match flat_rate_payable.value.cmp(&standard_payable.value) {
            Ordering::Less => Cheaper::FlatRate,
            Ordering::Equal => Cheaper::Equal,
            Ordering::Greater => Cheaper::Standard,
        },
        saving: saving.value,
        flat_rate_minus_standard: difference.value,
        break_even_input_tax: break_even.value,
    })
}
