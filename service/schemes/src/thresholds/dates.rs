//! Days that follow from other days.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::period::{Length, Period, next_day, previous_day};

/// So many days later, the day after counting as the first: thirty days after 30 April is 30 May.
pub(super) fn days_after(day: Date, days: u16) -> Date {
    day.saturating_add(i64::from(days).days())
}

/// The first day of a later month, or with a negative number of an earlier one.
pub(super) fn month_later(first: Date, months: i32) -> Date {
    first.first_of_month().saturating_add(months.months())
}

/// The month of a day as a number, so that months can be told apart and counted.
pub(super) fn month_number(day: Date) -> i32 {
    i32::from(day.year()) * 12 + i32::from(day.month())
}

/// From when a business that was liable at a month end is registered: the end of the month that follows, which is in effect the
/// first day of the second month (VATA 1994 Sch 1 para 5).
pub(super) fn registered_from(month_end: Date) -> Date {
    month_later(month_end, 2)
}

/// The period that holds a day, of the run of periods of one length to which a known one belongs.
pub(super) fn period_holding(known: Period, day: Date) -> Period {
    if day <= known.end() {
        return known.of_run_with(day);
    }
    let start_after = |lengths: i32| match known.length() {
        Length::Months(months) => known.start().saturating_add((months * lengths).months()),
        Length::Days { days, .. } => known.start().saturating_add((days * lengths).days()),
    };
    let lengths = match known.length() {
        Length::Months(months) => (month_number(day) - month_number(known.start())) / months,
        Length::Days { days, .. } => known.start().until(day).map_or(0, |span| span.get_days()) / days,
    };
    // A month may begin before the day of the month on which periods do.
    let lengths = if start_after(lengths) > day { lengths - 1 } else { lengths };
    let (start, end) = (start_after(lengths), previous_day(start_after(lengths + 1)));
    Period::new(start, end.max(start)).unwrap_or(known)
}

/// The last month end on or before a day.
pub(super) fn month_end_by(day: Date) -> Date {
    if day == day.last_of_month() { day } else { previous_day(day.first_of_month()) }
}

/// Whether whole months make up a year that ends on this day, or on the day before.
pub(super) fn ends_whole_months(day: Date) -> bool {
    day == day.last_of_month() || day == day.first_of_month()
}

/// The days of a number of whole months that begin with the month of a day.
pub(super) fn whole_months(first: Date, months: i32) -> Option<Period> {
    let start = first.first_of_month();
    Period::new(start, previous_day(month_later(start, months)))
}

/// The day after the last one in the scheme.
pub(super) fn out_after(last_day: Date) -> Date {
    next_day(last_day)
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn thirty_days_are_counted_from_the_day_after() {
        for (day, last) in [
            (date(2025, 4, 30), date(2025, 5, 30)),
            (date(2025, 4, 22), date(2025, 5, 22)),
            (date(2024, 1, 31), date(2024, 3, 1)),
            (date(2025, 1, 31), date(2025, 3, 2)),
            (date(2020, 7, 31), date(2020, 8, 30)),
            (date(2024, 2, 29), date(2024, 3, 30)),
        ] {
            assert_eq!(days_after(day, 30), last, "{day}");
        }
    }

    #[test]
    fn registration_begins_with_the_second_month() {
        for (month_end, from) in [
            (date(2025, 4, 30), date(2025, 6, 1)),
            (date(2025, 12, 31), date(2026, 2, 1)),
            (date(2024, 2, 29), date(2024, 4, 1)),
            (date(2025, 11, 30), date(2026, 1, 1)),
        ] {
            assert_eq!(registered_from(month_end), from, "{month_end}");
        }
    }

    #[test]
    fn a_day_is_found_in_the_run_of_periods_on_either_side() {
        let quarter = Period::new(date(2025, 2, 1), date(2025, 4, 30)).expect("a period");
        for (day, start, end) in [
            (date(2025, 4, 30), date(2025, 2, 1), date(2025, 4, 30)),
            (date(2025, 5, 1), date(2025, 5, 1), date(2025, 7, 31)),
            (date(2026, 2, 15), date(2026, 2, 1), date(2026, 4, 30)),
            (date(2024, 2, 15), date(2024, 2, 1), date(2024, 4, 30)),
            (date(2028, 2, 29), date(2028, 2, 1), date(2028, 4, 30)),
        ] {
            assert_eq!(period_holding(quarter, day), Period::new(start, end).expect("a period"), "{day}");
        }
        let mid_month = Period::new(date(2025, 4, 15), date(2025, 7, 14)).expect("a period");
        for (day, start) in [(date(2025, 10, 14), date(2025, 7, 15)), (date(2025, 10, 15), date(2025, 10, 15))] {
            assert_eq!(period_holding(mid_month, day).start(), start, "{day}");
        }
        let ten_days = Period::new(date(2025, 4, 1), date(2025, 4, 10)).expect("a period");
        assert_eq!(period_holding(ten_days, date(2025, 4, 30)).start(), date(2025, 4, 21));
        assert_eq!(period_holding(ten_days, date(2099, 12, 31)).days(), 10);
    }

    #[test]
    fn month_ends_on_or_before_a_day() {
        assert_eq!(month_end_by(date(2025, 2, 15)), date(2025, 1, 31));
        assert_eq!(month_end_by(date(2024, 2, 28)), date(2024, 1, 31));
        assert_eq!(month_end_by(date(2024, 2, 29)), date(2024, 2, 29));
        assert!(ends_whole_months(date(2025, 2, 1)) && ends_whole_months(date(2025, 2, 28)));
        assert!(!ends_whole_months(date(2024, 2, 28)) && !ends_whole_months(date(2025, 2, 15)));
    }
}
