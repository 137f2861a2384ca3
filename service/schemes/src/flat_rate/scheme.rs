//! When the scheme starts for a business, and the days of its first-year reduction.

use jiff::civil::Date;

use crate::figures::Business;
use crate::period::{Period, anniversary, next_day, previous_day};
use crate::refusal::{Place, Refusal, RefusalCode};

/// The dates of a flat rate user that matter in a period.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scheme {
    /// The days of the period that are in the scheme.
    pub days: Period,
    /// The days on which the percentage is reduced, if there are any at all.
    pub newly_registered: Option<Period>,
}

impl Scheme {
    /// Checks the dates of registration and of the scheme against each other and the period.
    ///
    /// # Errors
    /// Refuses a period before registration, a scheme before registration, and one that no day of the period is in.
    pub fn of(business: &Business, period: Period) -> Result<Self, Vec<Refusal>> {
        let mut refusals = Vec::new();
        let registered_on = business.registered_on;
        if period.start() < registered_on {
            refusals.push(Refusal::new(
                Place::PeriodStart,
                RefusalCode::PeriodBeforeRegistration,
                format!(
                    "The period starts on {}, before the business was registered on {registered_on}. Start the first period on the day of \
                     registration, or correct registered_on.",
                    period.start()
                ),
            ));
        }
        let starts = business.flat_rate_from.unwrap_or(period.start());
        if business.flat_rate_from.is_some() && starts < registered_on {
            refusals.push(Refusal::new(
                Place::FlatRateFrom,
                RefusalCode::FlatRateBeforeRegistration,
                format!("The scheme cannot start on {starts}, before the registration on {registered_on}. Correct flat_rate_from or registered_on."),
            ));
        }
        let days = days_within(business, starts, period).map_err(|refusal| refusals.push(refusal)).ok();
        match days {
            Some(days) if refusals.is_empty() => {
                let newly_registered = newly_registered(registered_on, starts, business.liability_notified_on);
                Ok(Self { days, newly_registered })
            }
            _ => Err(refusals),
        }
    }

    /// Whether all the days of a part are in the newly registered period. Parts are cut so that all or none are.
    pub fn reduces(&self, part: Period) -> bool {
        self.newly_registered.is_some_and(|days| days.contains(part))
    }

    /// The days on which the reduction begins and on which it has ended.
    pub fn changes(&self) -> impl Iterator<Item = Date> {
        self.newly_registered.into_iter().flat_map(|days| [days.start(), next_day(days.end())])
    }
}

/// The days of a period from the scheme's start to its end for the business. The rest of the period is accounted for in the
/// ordinary way (VAT Regulations 1995 reg 55C(2)).
fn days_within(business: &Business, starts: Date, period: Period) -> Result<Period, Refusal> {
    let until = business.flat_rate_until.unwrap_or(Date::MAX);
    if until < starts {
        return Err(Refusal::new(
            Place::FlatRateUntil,
            RefusalCode::PeriodEndBeforeStart,
            format!(
                "The scheme ends on {until} before it starts on {starts}. Give the last day in the scheme as flat_rate_until."
            ),
        ));
    }
    let outside = |place, what: String| {
        let detail = format!(
            "{what}, so no day of the period from {} to {} is in it. Give a period that has one, or leave the date out to see the period as if \
             all of it were in the scheme.",
            period.start(),
            period.end()
        );
        Refusal::new(place, RefusalCode::SchemeOutsidePeriod, detail)
    };
    if starts > period.end() {
        return Err(outside(Place::FlatRateFrom, format!("The scheme starts on {starts}")));
    }
    match Period::new(starts, until).and_then(|days| days.common_with(period)) {
        Some(days) => Ok(days),
        None => Err(outside(Place::FlatRateUntil, format!("The scheme ends on {until}"))),
    }
}

/// The newly registered period: from the later of the scheme's start and the day on which HMRC were told of the liability,
/// to the day before the first anniversary of registration; none where the scheme starts, or HMRC were told, later than
/// that (VAT Regulations 1995 reg 55JB; FRS7100).
pub(crate) fn newly_registered(registered_on: Date, starts: Date, notified_on: Option<Date>) -> Option<Period> {
    let begins = notified_on.map_or(starts, |notified| notified.max(starts));
    Period::new(begins, previous_day(anniversary(registered_on, 1)))
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    fn days(start: Date, end: Date) -> Option<Period> {
        Period::new(start, end)
    }

    #[test]
    fn the_reduction_runs_from_the_start_to_the_day_before_the_anniversary_of_registration() {
        // VAT Regulations 1995 reg 55JB; the dates of the first and third are those of Notice 733 para 4.5 and of Croner
        // Taxwise's question on voluntary registration.
        for (registered, starts, notified, expected) in [
            (date(2005, 12, 1), date(2005, 12, 1), None, days(date(2005, 12, 1), date(2006, 11, 30))),
            (date(2024, 1, 1), date(2024, 1, 1), Some(date(2024, 8, 15)), days(date(2024, 8, 15), date(2024, 12, 31))),
            (date(2016, 4, 1), date(2016, 4, 1), None, days(date(2016, 4, 1), date(2017, 3, 31))),
            (date(2024, 1, 1), date(2024, 11, 1), None, days(date(2024, 11, 1), date(2024, 12, 31))),
            (date(2024, 1, 1), date(2024, 12, 31), None, days(date(2024, 12, 31), date(2024, 12, 31))),
            (date(2024, 1, 1), date(2025, 1, 1), None, None),
            (date(2024, 1, 1), date(2024, 1, 1), Some(date(2023, 12, 1)), days(date(2024, 1, 1), date(2024, 12, 31))),
            (
                date(2024, 1, 1),
                date(2024, 1, 1),
                Some(date(2024, 12, 31)),
                days(date(2024, 12, 31), date(2024, 12, 31)),
            ),
            (date(2024, 1, 1), date(2024, 1, 1), Some(date(2025, 1, 1)), None),
            (date(2024, 2, 29), date(2024, 2, 29), None, days(date(2024, 2, 29), date(2025, 2, 27))),
        ] {
            assert_eq!(newly_registered(registered, starts, notified), expected, "{registered} {starts} {notified:?}");
        }
    }
}
