//! Working days: the bank holidays of the three parts of the United Kingdom that have their own.

use std::collections::BTreeSet;

use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

use super::authority::AuthorityId;
use super::evidence::Evidence;
use crate::period::{next_day, previous_day};
use crate::words::words;

words! {
    /// A part of the United Kingdom with bank holidays of its own (Banking and Financial Dealings Act 1971 Sch 1).
    Nation {
        /// England and Wales.
        EnglandAndWales => "england_and_wales",
        /// Scotland.
        Scotland => "scotland",
        /// Northern Ireland.
        NorthernIreland => "northern_ireland",
    }
}

/// When a holiday comes back each year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Recurrence {
    /// On a day of a month; on a Saturday or Sunday another stands for it.
    DayOfMonth { month: i8, day: i8 },
    /// So many days after Easter Sunday.
    AfterEaster(i32),
    /// On the first Monday of a month.
    FirstMonday(i8),
    /// On the last Monday of a month.
    LastMonday(i8),
}

/// A holiday that comes back each year.
#[derive(Clone, Debug)]
pub(super) struct Yearly {
    pub recurrence: Recurrence,
    pub nations: Vec<Nation>,
}

/// A day that a proclamation made a holiday.
#[derive(Clone, Debug)]
pub(super) struct Proclaimed {
    pub on: Date,
    pub in_place_of: Option<Date>,
    pub nations: Vec<Nation>,
}

/// The bank holidays of each nation, for the days for which they are known. No question outside those days has an answer.
///
/// A working day is a Monday to Friday that is no bank holiday in the nation (HMRC's "bank working day").
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BankHolidays {
    known_from: Date,
    proclaimed_to: Date,
    known_to: Date,
    /// Of each nation, in the order of [`Nation::ALL`]; each list in the order of days.
    days: [Vec<Date>; 3],
    authority: BTreeSet<AuthorityId>,
    evidence: Evidence,
    checked_on: Date,
}

impl BankHolidays {
    pub(super) fn new(
        [known_from, proclaimed_to, known_to]: [Date; 3],
        yearly: &[Yearly],
        proclaimed: &[Proclaimed],
        authority: BTreeSet<AuthorityId>,
        evidence: Evidence,
        checked_on: Date,
    ) -> Self {
        let of = |nation| {
            let mut days = BTreeSet::new();
            for year in known_from.year()..=known_to.year() {
                days.extend(of_year(year, nation, yearly, proclaimed));
            }
            days.into_iter().collect()
        };
        let days = [of(Nation::EnglandAndWales), of(Nation::Scotland), of(Nation::NorthernIreland)];
        Self { known_from, proclaimed_to, known_to, days, authority, evidence, checked_on }
    }

    /// The first day and the last for which working days are known.
    #[must_use]
    pub fn known_days(&self) -> (Date, Date) {
        (self.known_from, self.known_to)
    }

    /// The weakest support that one of the holidays has.
    #[must_use]
    pub fn weakest_evidence(&self) -> Evidence {
        self.evidence
    }

    /// The day on which the table was last checked.
    #[must_use]
    pub fn checked_on(&self) -> Date {
        self.checked_on
    }

    /// The last day for which the proclamations have been looked at; after it the rules alone speak.
    #[must_use]
    pub fn proclaimed_to(&self) -> Date {
        self.proclaimed_to
    }

    /// Every authority that the table cites, by id.
    pub fn authority(&self) -> impl Iterator<Item = &AuthorityId> {
        self.authority.iter()
    }

    /// The bank holidays of a nation, in the order of days.
    #[must_use]
    pub fn of(&self, nation: Nation) -> &[Date] {
        let [england_and_wales, scotland, northern_ireland] = &self.days;
        match nation {
            Nation::EnglandAndWales => england_and_wales,
            Nation::Scotland => scotland,
            Nation::NorthernIreland => northern_ireland,
        }
    }

    /// Whether a day is a working day; none outside the days known.
    #[must_use]
    pub fn is_working_day(&self, nation: Nation, day: Date) -> Option<bool> {
        let known = self.known_from <= day && day <= self.known_to;
        known.then(|| !is_weekend(day) && self.of(nation).binary_search(&day).is_err())
    }

    /// The day itself where it is a working day, otherwise the last one before it; none outside the days known.
    #[must_use]
    pub fn working_day_on_or_before(&self, nation: Nation, day: Date) -> Option<Date> {
        let mut day = day;
        while !self.is_working_day(nation, day)? {
            day = previous_day(day);
        }
        Some(day)
    }

    /// The day that is so many working days after a day; none outside the days known.
    #[must_use]
    pub fn working_days_after(&self, nation: Nation, day: Date, count: u16) -> Option<Date> {
        let mut day = day;
        for _ in 0..count {
            day = next_day(day);
            while !self.is_working_day(nation, day)? {
                day = next_day(day);
            }
        }
        Some(day)
    }
}

fn is_weekend(day: Date) -> bool {
    matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday)
}

/// The holidays of one year: those of the rules, less those moved, and those proclaimed. Of the holidays on a day of a month, one that falls
/// on a Saturday or Sunday goes to the next weekday that is no holiday.
fn of_year(year: i16, nation: Nation, yearly: &[Yearly], proclaimed: &[Proclaimed]) -> BTreeSet<Date> {
    let days: BTreeSet<Date> = yearly
        .iter()
        .filter(|holiday| holiday.nations.contains(&nation))
        .filter_map(|holiday| in_year(holiday.recurrence, year))
        .collect();
    let (at_weekends, mut holidays): (BTreeSet<Date>, BTreeSet<Date>) = days.iter().partition(|day| is_weekend(**day));
    for mut day in at_weekends {
        while is_weekend(day) || holidays.contains(&day) {
            day = next_day(day);
        }
        holidays.insert(day);
    }
    for proclaimed in proclaimed.iter().filter(|day| day.on.year() == year && day.nations.contains(&nation)) {
        if let Some(moved) = proclaimed.in_place_of {
            holidays.remove(&moved);
        }
        holidays.insert(proclaimed.on);
    }
    holidays
}

fn in_year(recurrence: Recurrence, year: i16) -> Option<Date> {
    match recurrence {
        Recurrence::DayOfMonth { month, day } => Date::new(year, month, day).ok(),
        Recurrence::AfterEaster(days) => Some(easter_sunday(year)?.saturating_add(days.days())),
        Recurrence::FirstMonday(month) => Date::new(year, month, 1).ok()?.nth_weekday_of_month(1, Weekday::Monday).ok(),
        Recurrence::LastMonday(month) => Date::new(year, month, 1).ok()?.nth_weekday_of_month(-1, Weekday::Monday).ok(),
    }
}

/// Easter Sunday by the Gregorian reckoning, in its usual arithmetical form without exceptions (the tables of the Calendar (New
/// Style) Act 1750, continued).
fn easter_sunday(year: i16) -> Option<Date> {
    let year_number = i32::from(year);
    let golden = year_number % 19;
    let (century, of_century) = (year_number / 100, year_number % 100);
    let moon = (century - (century + 8) / 25 + 1) / 3;
    let epact = (19 * golden + century - century / 4 - moon + 15) % 30;
    let weekday = (32 + 2 * (century % 4) + 2 * (of_century / 4) - epact - of_century % 4) % 7;
    let correction = (golden + 11 * epact + 22 * weekday) / 451;
    let days = epact + weekday - 7 * correction + 114;
    Date::new(year, i8::try_from(days / 31).ok()?, i8::try_from(days % 31 + 1).ok()?).ok()
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn easter_is_where_the_calendar_has_it() {
        // Easter Sundays behind the Good Fridays of gov.uk's list, and the outermost days of a century.
        for day in [
            date(2008, 3, 23),
            date(2012, 4, 8),
            date(2016, 3, 27),
            date(2019, 4, 21),
            date(2024, 3, 31),
            date(2026, 4, 5),
            date(2027, 3, 28),
            date(2038, 4, 25),
        ] {
            assert_eq!(easter_sunday(day.year()), Some(day));
        }
    }

    /// Calendar (New Style) Act 1750 s 3, and the table of the Book of Common Prayer for 1900 to 2199: Easter Day is the Sunday after the full
    /// moon of the year's golden number.
    #[test]
    fn easter_is_the_sunday_after_the_full_moon_of_the_table() {
        #[rustfmt::skip]
        let full_moons = [
            (4, 14), (4, 3), (3, 23), (4, 11), (3, 31), (4, 18), (4, 8), (3, 28), (4, 16), (4, 5),
            (3, 25), (4, 13), (4, 2), (3, 22), (4, 10), (3, 30), (4, 17), (4, 7), (3, 27),
        ];
        for year in 1900..=2199 {
            let golden_number = usize::try_from(year % 19).expect("a position");
            let (month, day) = full_moons[golden_number];
            let sunday = date(year, month, day).nth_weekday(1, Weekday::Sunday).expect("a Sunday");
            assert_eq!(easter_sunday(year), Some(sunday));
        }
    }
}
