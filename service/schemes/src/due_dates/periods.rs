//! The VAT periods of a business, and the ends of months.

use jiff::ToSpan;
use jiff::civil::Date;

use super::figures::{AnnualAccounting, DatesBusiness, Periods, ReturnPeriods};
use crate::figures::Dates;
use crate::period::{Period, next_day};
use crate::refusal::{DatesField, Place, Refusal, RefusalCode};

/// The last day of the month that is so many months after a day's.
pub(super) fn month_end(day: Date, months: i32) -> Date {
    day.first_of_month().saturating_add(months.months()).last_of_month()
}

/// Whether a day is the last of its month.
pub(super) fn ends_month(day: Date) -> bool {
    day == day.last_of_month()
}

/// The periods of the business that end on the days of `span`, in order: the first begins with the registration.
///
/// # Errors
/// Refuses listed periods that end before they start, or overlap or stand out of order.
pub(super) fn ending_in(business: &DatesBusiness, span: Period) -> Result<Vec<Period>, Vec<Refusal>> {
    match &business.periods {
        Periods::Ordinary(every) => Ok(ordinary(*every, business.registered_on, span)),
        Periods::Annual(annual) => Ok(years(annual, business.registered_on, span)),
        Periods::Listed(periods) => {
            let listed = listed(periods)?;
            Ok(listed.into_iter().filter(|period| span.start() <= period.end() && period.end() <= span.end()).collect())
        }
    }
}

/// The period that holds a day; none where the periods given do not reach it.
pub(super) fn current_at(business: &DatesBusiness, day: Date) -> Option<Period> {
    // No period of the kinds known is longer than a year, save listed ones, which are all looked at.
    let last = match business.periods {
        Periods::Ordinary(_) | Periods::Annual(_) => day.saturating_add(1.year()),
        Periods::Listed(_) => Date::MAX,
    };
    let span = Period::new(day, last)?;
    ending_in(business, span).ok()?.into_iter().find(|period| period.start() <= day)
}

fn ordinary(every: ReturnPeriods, registered_on: Date, span: Period) -> Vec<Period> {
    let mut periods = Vec::new();
    let first = span.start().max(registered_on);
    let mut end = first.last_of_month();
    while end <= span.end() {
        if every.end_with(end.month()) {
            let months = match every {
                ReturnPeriods::Monthly => 0,
                ReturnPeriods::QuarterlyStagger1
                | ReturnPeriods::QuarterlyStagger2
                | ReturnPeriods::QuarterlyStagger3 => -2,
            };
            let start = month_end(end, months).first_of_month().max(registered_on);
            periods.extend(Period::new(start, end));
        }
        if end >= Date::MAX {
            break;
        }
        end = month_end(end, 1);
    }
    periods
}

/// The years of annual accounting: each ends on the same day, or on the last day of the same month.
fn years(annual: &AnnualAccounting, registered_on: Date, span: Period) -> Vec<Period> {
    let end_in = |year: i16| {
        let years = i32::from(year) - i32::from(annual.year_ends_on.year());
        if ends_month(annual.year_ends_on) {
            month_end(annual.year_ends_on, years * 12)
        } else {
            annual.year_ends_on.saturating_add(years.years())
        }
    };
    let begins = annual.from.unwrap_or(registered_on).max(registered_on);
    let mut periods = Vec::new();
    for year in span.start().year()..=span.end().year() {
        let end = end_in(year);
        if span.start() <= end && end <= span.end() && begins <= end {
            periods.extend(Period::new(next_day(end_in(year - 1)).max(begins), end));
        }
    }
    periods
}

fn listed(given: &[Dates]) -> Result<Vec<Period>, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let mut periods: Vec<Period> = Vec::with_capacity(given.len());
    for (index, dates) in given.iter().enumerate() {
        let place = Place::Dates(DatesField::VatPeriod(index));
        match Period::new(dates.start, dates.end) {
            None => refusals.push(Refusal::new(
                Place::Dates(DatesField::VatPeriodEnd(index)),
                RefusalCode::PeriodEndBeforeStart,
                format!(
                    "The period ends on {} before it starts on {}. Give its first day as start and its last as end.",
                    dates.end, dates.start
                ),
            )),
            Some(period) => {
                if let Some(before) = periods.last().filter(|before| before.end() >= period.start()) {
                    refusals.push(Refusal::new(
                        place,
                        RefusalCode::DatesOutOfOrder,
                        format!(
                            "The period starts on {} before the one above it ends on {}. Give the periods in order, none over another.",
                            period.start(),
                            before.end()
                        ),
                    ));
                }
                periods.push(period);
            }
        }
    }
    if refusals.is_empty() { Ok(periods) } else { Err(refusals) }
}
