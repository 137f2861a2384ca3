//! A run of days, such as a VAT period, and its length in months.

use jiff::civil::Date;
use jiff::{Span, ToSpan};

use crate::money::{Overflow, Ratio};
use crate::refusal::{Place, Refusal, RefusalCode};

/// A run of whole days, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Period {
    start: Date,
    end: Date,
}

/// How long a period is, in the measure that limits in proportion to a year use.
///
/// A period is whole months when its end is the day before the same day of a later month; where that month has no such
/// day, its last day stands for it. Any other period is a number of days of the year that begins at its start. The law
/// speaks only of the proportion to one year (VAT Regulations 1995 reg 55A(4)); HMRC give £250 for a quarter; the measure
/// is this service's own (authority `decision-length-of-period`).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Length {
    /// So many whole months.
    Months(i32),
    /// So many days of a year of so many days.
    Days {
        /// Days of the period.
        days: i32,
        /// Days of the year that begins at the period's start: 365 or 366.
        year: i32,
    },
}

impl Length {
    /// The length as a share of one year.
    ///
    /// # Errors
    /// [`Overflow`] never in practice: a year has days.
    pub fn share_of_year(self) -> Result<Ratio, Overflow> {
        match self {
            Self::Months(months) => Ratio::new(i128::from(months), 12),
            Self::Days { days, year } => Ratio::new(i128::from(days), i128::from(year)),
        }
    }
}

impl Period {
    /// The days from `start` to `end`; none where the end comes first.
    #[must_use]
    pub fn new(start: Date, end: Date) -> Option<Self> {
        (start <= end).then_some(Self { start, end })
    }

    /// The days of a request's period.
    ///
    /// # Errors
    /// A refusal where the end comes before the start.
    pub(crate) fn checked(start: Date, end: Date) -> Result<Self, Refusal> {
        Self::new(start, end).ok_or_else(|| {
            Refusal::new(
                Place::PeriodEnd,
                RefusalCode::PeriodEndBeforeStart,
                format!("The period ends on {end} before it starts on {start}. Give its first day as start and its last as end."),
            )
        })
    }

    /// The first day.
    #[must_use]
    pub fn start(self) -> Date {
        self.start
    }

    /// The last day.
    #[must_use]
    pub fn end(self) -> Date {
        self.end
    }

    /// Whether all days of the other lie in this one.
    #[must_use]
    pub fn contains(self, other: Self) -> bool {
        self.start <= other.start && other.end <= self.end
    }

    /// The days common to both.
    #[must_use]
    pub fn common_with(self, other: Self) -> Option<Self> {
        Self::new(self.start.max(other.start), self.end.min(other.end))
    }

    /// The number of days.
    #[must_use]
    pub fn days(self) -> i32 {
        days_between(self.start, self.end) + 1
    }

    /// The length in whole months where it has one, otherwise in days.
    #[must_use]
    pub fn length(self) -> Length {
        let after = next_day(self.end);
        // The number of whole months is the calendar's difference, or one more where the calendar has no day after.
        let calendar = months_between(self.start, after);
        for months in [calendar, calendar + 1] {
            if months > 0 && later(self.start, months.months()) == after {
                return Length::Months(months);
            }
        }
        let year = days_between(self.start, later(self.start, 1.year()));
        Length::Days { days: self.days(), year }
    }

    /// The same length of time, starting the day after this period ends.
    #[must_use]
    pub fn next(self) -> Self {
        let start = next_day(self.end);
        let end = match self.length() {
            Length::Months(months) => previous_day(later(start, months.months())),
            Length::Days { days, .. } => later(start, (days - 1).days()),
        };
        Self { start, end: end.max(start) }
    }

    /// The period that holds a day, of a run of periods of this length that ends with this one; this one where the day does not
    /// come before it.
    #[must_use]
    pub fn of_run_with(self, day: Date) -> Self {
        let length = self.length();
        let mut current = self;
        while day < current.start {
            // Whole lengths between the day and the start: never so many as to pass the day.
            let lengths = match length {
                Length::Months(months) => months_between(day, current.start) / months,
                Length::Days { days, .. } => days_between(day, current.start) / days,
            };
            let back = |lengths: i32| match length {
                Length::Months(months) => later(current.start, (-months * lengths).months()),
                Length::Days { days, .. } => later(current.start, (-days * lengths).days()),
            };
            let lengths = lengths.max(1);
            let end = previous_day(back(lengths - 1));
            current = Self { start: back(lengths).min(end), end };
        }
        current
    }

    /// The period cut so that each of the given days begins a part. Days outside the period, and its first, cut nothing.
    #[must_use]
    pub fn cut_at(self, days: &[Date]) -> Vec<Self> {
        let mut cuts: Vec<Date> = days.iter().copied().filter(|day| self.start < *day && *day <= self.end).collect();
        cuts.sort_unstable();
        cuts.dedup();
        let mut parts = Vec::with_capacity(cuts.len() + 1);
        let mut start = self.start;
        for cut in cuts {
            parts.push(Self { start, end: previous_day(cut) });
            start = cut;
        }
        parts.push(Self { start, end: self.end });
        parts
    }
}

/// The same day of a later year; 28 February stands for 29 February in a year without one (this service's own reading,
/// authority `decision-anniversary-29-february`).
#[must_use]
pub fn anniversary(of: Date, years: i32) -> Date {
    later(of, years.years())
}

/// The day before.
#[must_use]
pub fn previous_day(day: Date) -> Date {
    day.yesterday().unwrap_or(Date::MIN)
}

/// The day after.
#[must_use]
pub fn next_day(day: Date) -> Date {
    day.tomorrow().unwrap_or(Date::MAX)
}

/// A later day, or with a negative span an earlier one; the calendar's last or first where it would pass that.
fn later(day: Date, span: Span) -> Date {
    day.saturating_add(span)
}

/// The difference of the months of two days, whatever the days in them.
fn months_between(from: Date, to: Date) -> i32 {
    (i32::from(to.year()) - i32::from(from.year())) * 12 + i32::from(to.month()) - i32::from(from.month())
}

fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn period(start: Date, end: Date) -> Period {
        Period::new(start, end).expect("a period")
    }

    #[test]
    fn whole_months_are_seen_and_others_counted_in_days() {
        for (start, end, length) in [
            (date(2026, 4, 1), date(2026, 6, 30), Length::Months(3)),
            (date(2026, 4, 1), date(2026, 4, 30), Length::Months(1)),
            (date(2024, 4, 1), date(2025, 3, 31), Length::Months(12)),
            (date(2025, 8, 31), date(2025, 11, 29), Length::Months(3)),
            (date(2025, 8, 31), date(2025, 11, 30), Length::Days { days: 92, year: 365 }),
            (date(2025, 11, 30), date(2026, 2, 27), Length::Months(3)),
            (date(2024, 2, 29), date(2025, 2, 27), Length::Months(12)),
            (date(2024, 1, 31), date(2024, 2, 28), Length::Months(1)),
            (date(2026, 4, 1), date(2026, 6, 29), Length::Days { days: 90, year: 365 }),
            (date(2026, 4, 1), date(2026, 7, 1), Length::Days { days: 92, year: 365 }),
            (date(2023, 5, 10), date(2023, 5, 10), Length::Days { days: 1, year: 366 }),
            (date(2026, 4, 15), date(2026, 7, 14), Length::Months(3)),
            (date(2025, 12, 1), date(2026, 2, 28), Length::Months(3)),
        ] {
            assert_eq!(period(start, end).length(), length, "{start} to {end}");
        }
    }

    #[test]
    fn a_cut_begins_a_part_and_days_outside_cut_nothing() {
        let quarter = period(date(2025, 4, 1), date(2025, 6, 30));
        let cuts = [date(2025, 5, 10), date(2025, 4, 1), date(2025, 7, 1), date(2025, 5, 10)];
        assert_eq!(
            quarter.cut_at(&cuts),
            [period(date(2025, 4, 1), date(2025, 5, 9)), period(date(2025, 5, 10), date(2025, 6, 30))]
        );
        assert_eq!(quarter.cut_at(&[date(2025, 6, 30)]).len(), 2);
        assert_eq!(quarter.cut_at(&[]), [quarter]);
    }

    #[test]
    fn the_anniversary_of_29_february_is_28_february() {
        assert_eq!(anniversary(date(2024, 2, 29), 1), date(2025, 2, 28));
        assert_eq!(anniversary(date(2024, 2, 29), 4), date(2028, 2, 29));
        assert_eq!(anniversary(date(2024, 5, 10), 1), date(2025, 5, 10));
    }

    #[test]
    fn the_next_period_has_the_same_length() {
        assert_eq!(period(date(2026, 4, 1), date(2026, 6, 30)).next(), period(date(2026, 7, 1), date(2026, 9, 30)));
        assert_eq!(period(date(2026, 4, 1), date(2026, 4, 10)).next(), period(date(2026, 4, 11), date(2026, 4, 20)));
        assert_eq!(period(date(2026, 12, 1), date(2027, 2, 28)).next().end(), date(2027, 5, 31));
    }

    #[test]
    fn a_day_is_found_in_the_run_of_periods_before() {
        let quarter = period(date(2026, 4, 1), date(2026, 6, 30));
        for (day, start, end) in [
            (date(2026, 5, 1), date(2026, 4, 1), date(2026, 6, 30)),
            (date(2026, 3, 31), date(2026, 1, 1), date(2026, 3, 31)),
            (date(2026, 1, 1), date(2026, 1, 1), date(2026, 3, 31)),
            (date(2025, 12, 31), date(2025, 10, 1), date(2025, 12, 31)),
            (date(2020, 2, 29), date(2020, 1, 1), date(2020, 3, 31)),
        ] {
            assert_eq!(quarter.of_run_with(day), period(start, end), "{day}");
        }
        let mid_month = period(date(2026, 4, 15), date(2026, 7, 14));
        assert_eq!(mid_month.of_run_with(date(2026, 1, 14)), period(date(2025, 10, 15), date(2026, 1, 14)));
        assert_eq!(mid_month.of_run_with(date(2026, 1, 15)), period(date(2026, 1, 15), date(2026, 4, 14)));
        let ten_days = period(date(2026, 4, 11), date(2026, 4, 20));
        assert_eq!(ten_days.of_run_with(date(2026, 4, 10)), period(date(2026, 4, 1), date(2026, 4, 10)));
        assert_eq!(ten_days.of_run_with(date(2026, 4, 2)), period(date(2026, 4, 1), date(2026, 4, 10)));
        assert_eq!(ten_days.of_run_with(date(2026, 4, 1)), period(date(2026, 4, 1), date(2026, 4, 10)));
        assert_eq!(ten_days.of_run_with(date(2026, 3, 31)), period(date(2026, 3, 22), date(2026, 3, 31)));
        // One day, half a century earlier: found without going through every day between.
        let day = date(2026, 4, 11);
        assert_eq!(period(day, day).of_run_with(date(1976, 4, 11)), period(date(1976, 4, 11), date(1976, 4, 11)));
    }

    #[test]
    fn the_end_of_the_calendar_is_not_passed() {
        let last = period(date(9999, 1, 1), date(9999, 12, 31));
        assert_eq!(last.days(), 365);
        assert!(last.next().end() <= Date::MAX);
        assert_eq!(last.length(), Length::Months(12));
        assert_eq!(period(date(9999, 10, 1), date(9999, 12, 31)).length(), Length::Months(3));
        assert_ne!(period(Date::MAX, Date::MAX).length(), Length::Months(0));
    }
}
