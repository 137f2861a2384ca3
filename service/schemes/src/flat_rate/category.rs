//! Which category of business applies on each day of a period.

use jiff::civil::Date;

use crate::answer::SectorAt;
use crate::figures::{Business, SectorChangeReason};
use crate::law::{Law, Sector};
use crate::period::{Period, anniversary};
use crate::refusal::{Place, Refusal, RefusalCode};

/// A change of category, with the day on which it takes effect.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Change<'law> {
    /// Its position among the changes of the request.
    pub index: usize,
    /// The day on which the activities or their balance changed.
    pub on: Date,
    /// What changed.
    pub reason: SectorChangeReason,
    /// The new category.
    pub sector: &'law Sector,
    /// The day from which its percentage applies; none where that comes after the period.
    pub takes_effect: Option<Date>,
}

/// The categories of a period.
#[derive(Debug, Clone)]
pub(crate) struct Categories<'law> {
    first: &'law Sector,
    pub changes: Vec<Change<'law>>,
}

impl<'law> Categories<'law> {
    /// Resolves the changes that the business states. The category stated for the business is the one before the first of
    /// them.
    ///
    /// # Errors
    /// Unknown categories, and changes that are not in the order of their days.
    pub fn of(law: &'law Law, business: &Business, starts: Date, period: Period) -> Result<Self, Vec<Refusal>> {
        let mut refusals = Vec::new();
        let first = law.sector(&business.sector);
        if first.is_none() {
            refusals.push(Refusal::new(Place::Sector, RefusalCode::UnknownSector, no_such_sector(&business.sector)));
        }
        let mut changes: Vec<Change<'law>> = Vec::with_capacity(business.sector_changes.len());
        let mut before: Option<Date> = None;
        for (index, change) in business.sector_changes.iter().enumerate() {
            if before.is_some_and(|before| change.on <= before) {
                refusals.push(Refusal::new(
                    Place::SectorChange(index),
                    RefusalCode::SectorChangesOutOfOrder,
                    format!("The change on {} does not come after the one before it. Give changes in the order of their days.", change.on),
                ));
            }
            before = Some(change.on);
            let Some(sector) = law.sector(&change.sector) else {
                refusals.push(Refusal::new(
                    Place::SectorChangeSector(index),
                    RefusalCode::UnknownSector,
                    no_such_sector(&change.sector),
                ));
                continue;
            };
            let takes_effect = match change.reason {
                SectorChangeReason::ActivityStarted | SectorChangeReason::ActivityStopped => {
                    Some(change.on).filter(|on| *on <= period.end())
                }
                SectorChangeReason::BalanceShifted => shift_takes_effect(change.on, starts, period),
            };
            changes.push(Change { index, on: change.on, reason: change.reason, sector, takes_effect });
        }
        match first {
            Some(first) if refusals.is_empty() => Ok(Self { first, changes }),
            _ => Err(refusals),
        }
    }

    /// One category throughout.
    ///
    /// # Errors
    /// An unknown category.
    pub fn only(law: &'law Law, sector: &str) -> Result<Self, Refusal> {
        match law.sector(sector) {
            Some(first) => Ok(Self { first, changes: Vec::new() }),
            None => Err(Refusal::new(Place::Sector, RefusalCode::UnknownSector, no_such_sector(sector))),
        }
    }

    /// The category on a day of the period: that of the latest change in effect.
    pub fn on(&self, day: Date) -> &'law Sector {
        self.changes
            .iter()
            .filter(|change| change.takes_effect.is_some_and(|effect| effect <= day))
            .max_by_key(|change| (change.takes_effect, change.index))
            .map_or(self.first, |change| change.sector)
    }

    /// The categories of a run of days, each with the first day from which it applies.
    pub fn timeline(&self, days: Period) -> Vec<SectorAt> {
        let mut starts: Vec<Date> = self.changes.iter().filter_map(|change| change.takes_effect).collect();
        starts.retain(|start| days.start() < *start && *start <= days.end());
        starts.push(days.start());
        starts.sort_unstable();
        let mut timeline: Vec<SectorAt> = Vec::with_capacity(starts.len());
        for from in starts {
            let sector = self.on(from).id();
            if timeline.last().is_none_or(|last| last.sector != sector) {
                timeline.push(SectorAt { from, sector: sector.to_owned() });
            }
        }
        timeline
    }

    /// The days of a period on which the percentage of its category may change.
    pub fn cuts(&self, period: Period) -> Vec<Date> {
        let mut cuts: Vec<Date> = self.changes.iter().filter_map(|change| change.takes_effect).collect();
        let sectors = std::iter::once(self.first).chain(self.changes.iter().map(|change| change.sector));
        cuts.extend(sectors.flat_map(|sector| sector.changes_within(period.start(), period.end())));
        cuts
    }
}

/// A shift in the balance of the same activities counts from the first day of the period that contains the next anniversary of
/// the scheme's start: on that day the category is chosen afresh, looking ahead (VAT Regulations 1995 reg 55A(3)). Earlier
/// periods are taken to have had the length of this one.
fn shift_takes_effect(on: Date, starts: Date, period: Period) -> Option<Date> {
    // A choice at a period's first day that came before the shift does not count: the next anniversary's period decides.
    (1..)
        .map(|years| anniversary(starts, years))
        .take_while(|anniversary| *anniversary <= period.end())
        .map(|anniversary| period.of_run_with(anniversary).start())
        .find(|choice| on <= *choice)
}

fn no_such_sector(id: &str) -> String {
    if id == "limited-cost-business" {
        return "A limited cost business is no category of business: the goods test decides it each period. Give the category of the main \
                business activity."
            .to_owned();
    }
    format!("No category of business has the id \"{id}\".")
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn quarter(year: i16, month: i8) -> Period {
        let start = date(year, month, 1);
        let after = start.saturating_add(jiff::ToSpan::months(3));
        Period::new(start, after.yesterday().expect("a day")).expect("a quarter")
    }

    #[test]
    fn a_shift_counts_from_the_period_of_the_next_anniversary() {
        // The first row is the carpenter of a published question on changes of balance (Solid Accountants / Croner): started on 1 January
        // 2016, shifted in March 2018, so from 1 January 2019.
        for (starts, on, period, effect) in [
            (date(2016, 1, 1), date(2018, 3, 1), quarter(2018, 10), None),
            (date(2016, 1, 1), date(2018, 3, 1), quarter(2019, 1), Some(date(2019, 1, 1))),
            (date(2016, 1, 1), date(2018, 3, 1), quarter(2019, 4), Some(date(2019, 1, 1))),
            // Anniversary on 15 February: the period from 1 January contains it.
            (date(2024, 2, 15), date(2025, 12, 31), quarter(2026, 1), Some(date(2026, 1, 1))),
            (date(2024, 2, 15), date(2026, 1, 1), quarter(2026, 1), Some(date(2026, 1, 1))),
            // On the anniversary itself, the first day of its period: the choice is made that day.
            (date(2016, 1, 1), date(2018, 1, 1), quarter(2018, 1), Some(date(2018, 1, 1))),
            (date(2016, 1, 1), date(2018, 1, 2), quarter(2018, 1), None),
            // Anniversary on the last day of the period.
            (date(2024, 3, 31), date(2025, 12, 31), quarter(2026, 1), Some(date(2026, 1, 1))),
            // A day into that period: the choice had been made.
            (date(2024, 2, 15), date(2026, 1, 2), quarter(2026, 1), None),
            (date(2024, 2, 15), date(2026, 1, 2), quarter(2026, 10), None),
            (date(2024, 2, 15), date(2026, 1, 2), quarter(2027, 1), Some(date(2027, 1, 1))),
            (date(2024, 2, 15), date(2026, 1, 2), quarter(2027, 4), Some(date(2027, 1, 1))),
        ] {
            assert_eq!(shift_takes_effect(on, starts, period), effect, "{starts} {on} {period:?}");
        }
    }
}
