use jiff::civil::Date;

use crate::law::{ParameterId, ParameterTimeline};
use crate::money::Percentage;
use crate::period::Period;
use crate::refusal::{LineField, Refusal, RefusalCode};
use crate::run::Run;
use crate::workings::Traced;

use super::LineId;

/// The rates that a treatment had on the days of a line.
pub(super) struct Rates {
    /// The only rate, with its parameter and a day on which it was in force.
    only: Option<(ParameterId, Date)>,
    pub lowest: Percentage,
    pub highest: Percentage,
    changes_on: Option<Date>,
}

pub(super) fn rates_on(run: &Run<'_>, line: LineId, parameter: ParameterId, days: Period) -> Result<Rates, Refusal> {
    let mut rates: Option<Rates> = None;
    if let ParameterTimeline::Percentage(timeline) = run.law.parameter(parameter).timeline() {
        for row in timeline.rows() {
            let from = row.from.max(days.start());
            if from > row.to.unwrap_or(Date::MAX).min(days.end()) {
                continue;
            }
            match &mut rates {
                None => {
                    rates = Some(Rates {
                        only: Some((parameter, from)),
                        lowest: row.value,
                        highest: row.value,
                        changes_on: None,
                    });
                }
                Some(found) => {
                    found.only = None;
                    found.lowest = found.lowest.min(row.value);
                    found.highest = found.highest.max(row.value);
                    found.changes_on.get_or_insert(from);
                }
            }
        }
    }
    rates.ok_or_else(|| {
        let known = run.law.parameter(parameter);
        line.refuse(
            LineField::Treatment,
            RefusalCode::RateNotInForce,
            format!(
                "{} was not in force on any day from {} to {}. Choose the treatment whose rate was charged.",
                known.title(),
                days.start(),
                days.end()
            ),
        )
    })
}

/// The one rate that a lone figure is completed at.
pub(super) fn lone_rate(run: &mut Run<'_>, line: LineId, rates: &Rates) -> Result<Traced<Percentage>, Refusal> {
    let number = rates.only.and_then(|(parameter, on)| run.law.percentage(parameter, on).ok());
    match number {
        Some(number) => Ok(run.number(&number, "Rate of VAT")),
        None => {
            let day = rates.changes_on.map(|day| format!(" on {day}")).unwrap_or_default();
            Err(line.refuse(
                LineField::Whole,
                RefusalCode::RateChangesInsideLine,
                format!(
                    "The rate changed from {}% to {}% within the line's dates{day}, so one figure does not tell the others. Give two of net, vat \
                     and gross, or split the line and give each its part.",
                    rates.lowest, rates.highest
                ),
            ))
        }
    }
}
