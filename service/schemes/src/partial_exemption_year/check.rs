//! Whether the periods given make up a longer period.

use crate::law::{Law, ParameterId};
use crate::period::{Period, anniversary, next_day, previous_day};
use crate::refusal::{ExemptionYearField, Place, Refusal, RefusalCode};

use super::figures::YearFigures;

/// The year and its periods, once they are known to follow one another and to fill it.
pub(super) struct Checked {
    pub year: Period,
    pub periods: Vec<Period>,
}

/// Whether a year has all of the twelve months that it may have.
pub(crate) fn is_whole(year: Period) -> bool {
    year.end() == longest_end(year)
}

fn longest_end(year: Period) -> jiff::civil::Date {
    previous_day(anniversary(year.start(), 1))
}

/// Checks the days of the year and of its periods.
///
/// # Errors
/// Every reason why the periods make no year: days out of order, a gap, an overlap, more than twelve months.
pub(super) fn check(law: &Law, figures: &YearFigures) -> Result<Checked, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let year = days(figures.year.start, figures.year.end, ExemptionYearField::End).map_err(|refusal| vec![refusal])?;
    let earliest = law.date(ParameterId::EarliestPeriodStart).map_err(|missing| vec![Refusal::from(missing)])?.value;
    if year.start() < earliest {
        refusals.push(refuse(
            ExemptionYearField::Start,
            RefusalCode::PeriodTooEarly,
            format!(
                "The year starts on {}; the tables of law begin on {earliest}. Give a year that starts on that day or later.",
                year.start()
            ),
        ));
    }
    if year.end() > longest_end(year) {
        refusals.push(refuse(
            ExemptionYearField::End,
            RefusalCode::LongerPeriodTooLong,
            format!(
                "The year from {} ends on {}, after {}: a longer period is twelve months at most. A first one, from registration to the day before the \
                 first full tax year, is given by itself.",
                year.start(),
                year.end(),
                longest_end(year)
            ),
        ));
    }
    let mut periods: Vec<Period> = Vec::with_capacity(figures.periods.len());
    for (index, given) in figures.periods.iter().enumerate() {
        let (start, end) = (given.period.start, given.period.end);
        match days(start, end, ExemptionYearField::PeriodEnd(index)) {
            Ok(period) => periods.push(period),
            Err(refusal) => refusals.push(refusal),
        }
    }
    // With one period missing the next would seem to leave a gap.
    if periods.len() == figures.periods.len() {
        refusals.extend(gaps(year, &periods));
    }
    if refusals.is_empty() { Ok(Checked { year, periods }) } else { Err(refusals) }
}

/// Where periods don't follow one another from the first day of the year to its last.
fn gaps(year: Period, periods: &[Period]) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    let mut expected = year.start();
    for (index, period) in periods.iter().enumerate() {
        if period.start() != expected {
            refusals.push(refuse(
                ExemptionYearField::PeriodStart(index),
                RefusalCode::PeriodsDoNotMakeUpYear,
                format!(
                    "This period starts on {}, but {expected} is the day on which it must: periods follow one another from the first day of the year, \
                     without a gap and without a day twice.",
                    period.start()
                ),
            ));
        }
        expected = next_day(period.end());
    }
    match periods.last() {
        Some(last) if last.end() != year.end() => refusals.push(refuse(
            ExemptionYearField::PeriodEnd(periods.len() - 1),
            RefusalCode::PeriodsDoNotMakeUpYear,
            format!(
                "The last period ends on {}, but the year on {}. Give all periods of the year, and the year as they make it.",
                last.end(),
                year.end()
            ),
        )),
        Some(_) => {}
        None => refusals.push(refuse(
            ExemptionYearField::Periods,
            RefusalCode::PeriodsDoNotMakeUpYear,
            "A year is made up of its VAT periods: give at least one.".to_owned(),
        )),
    }
    refusals
}

fn days(start: jiff::civil::Date, end: jiff::civil::Date, place: ExemptionYearField) -> Result<Period, Refusal> {
    Period::new(start, end).ok_or_else(|| {
        refuse(
            place,
            RefusalCode::PeriodEndBeforeStart,
            format!(
                "The last day, {end}, comes before the first, {start}. Give the first day as start and the last as end."
            ),
        )
    })
}

fn refuse(field: ExemptionYearField, code: RefusalCode, detail: String) -> Refusal {
    Refusal::new(Place::ExemptionYear(field), code, detail)
}
