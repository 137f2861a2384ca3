//! Days and months, counted apart from the service.

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day {
    year: i64,
    month: i64,
    day: i64,
}

impl Day {
    /// Reads `2026-04-01`.
    pub fn read(text: &str) -> Option<Day> {
        let mut parts = text.split('-').map(str::parse::<i64>);
        let (year, month, day) = (parts.next()?.ok()?, parts.next()?.ok()?, parts.next()?.ok()?);
        let real = (1..=12).contains(&month) && (1..=days_of_month(year, month)).contains(&day);
        (real && parts.next().is_none() && text.len() == 10).then_some(Day { year, month, day })
    }

    /// Days since the first of March of the year 0.
    pub fn number(self) -> i64 {
        // Years that begin in March have their leap day at the end.
        let (year, month) = if self.month > 2 { (self.year, self.month - 3) } else { (self.year - 1, self.month + 9) };
        let before_month = (153 * month + 2) / 5;
        year * 365 + year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400) + before_month + self.day - 1
    }

    /// The day of this number.
    pub fn of_number(number: i64) -> Day {
        // The number of its year is at most one too small.
        let mut year = number.div_euclid(366);
        while (Day { year: year + 1, month: 3, day: 1 }).number() <= number {
            year += 1;
        }
        let mut month = Day { year, month: 3, day: 1 };
        while month.months_later(1).number() <= number {
            month = month.months_later(1);
        }
        Day { day: number - month.number() + 1, ..month }
    }

    /// So many days later.
    pub fn days_later(self, days: i64) -> Day {
        Day::of_number(self.number() + days)
    }

    /// The same day `months` later; the last day of the month where there is no such day.
    pub fn months_later(self, months: i64) -> Day {
        let index = self.year * 12 + self.month - 1 + months;
        let (year, month) = (index.div_euclid(12), index.rem_euclid(12) + 1);
        Day { year, month, day: self.day.min(days_of_month(year, month)) }
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

fn days_of_month(year: i64, month: i64) -> i64 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        _ => 31,
    }
}

/// The days from `start` to `end`, both included.
pub fn days(start: Day, end: Day) -> i64 {
    end.number() - start.number() + 1
}

/// The whole months from `start` to `end`, where it is so many: `end` is the day before the same day of a later month.
pub fn whole_months(start: Day, end: Day) -> Option<i64> {
    let after = end.number() + 1;
    (1..)
        .map(|months| (months, start.months_later(months).number()))
        .take_while(|(_, number)| *number <= after)
        .find(|(_, number)| *number == after)
        .map(|(months, _)| months)
}

/// The days of the year that begins with `start`.
pub fn days_of_year_from(start: Day) -> i64 {
    start.months_later(12).number() - start.number()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> Day {
        Day::read(text).unwrap_or_else(|| panic!("{text} is no day"))
    }

    #[test]
    fn days_are_counted_over_leap_years_and_ends_of_months() {
        assert_eq!(days(day("2026-04-01"), day("2026-06-30")), 91);
        assert_eq!(days(day("2024-02-28"), day("2024-03-01")), 3);
        assert_eq!(days(day("2023-02-28"), day("2023-03-01")), 2);
        assert_eq!(day("2000-03-01").number() - day("1970-01-01").number(), 11_017);
        assert_eq!(days_of_year_from(day("2023-05-10")), 366);
        assert_eq!(days_of_year_from(day("2024-02-29")), 365);
        for text in ["2026-02-29", "2026-04-31", "2026-13-01", "2026-1-1", "2026-04", "x"] {
            assert!(Day::read(text).is_none(), "{text}");
        }
    }

    #[test]
    fn a_day_is_found_by_its_number() {
        for text in ["2000-02-29", "2000-03-01", "2023-12-31", "2024-01-01", "2024-02-28", "2100-02-28", "2100-03-01"] {
            assert_eq!(Day::of_number(day(text).number()).to_string(), text);
        }
        assert_eq!(day("2026-02-28").days_later(1).to_string(), "2026-03-01");
        assert_eq!(day("2026-01-01").days_later(-1).to_string(), "2025-12-31");
    }

    #[test]
    fn months_are_whole_when_the_day_after_is_the_same_day() {
        let months = |start, end| whole_months(day(start), day(end));
        assert_eq!(months("2026-04-01", "2026-06-30"), Some(3));
        assert_eq!(months("2025-08-31", "2025-11-29"), Some(3));
        assert_eq!(months("2025-08-31", "2025-11-30"), None);
        assert_eq!(months("2024-04-01", "2025-03-31"), Some(12));
        assert_eq!(months("2026-04-01", "2026-04-29"), None);
    }
}
