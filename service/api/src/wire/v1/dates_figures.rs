//! From a request for dates to the calculation.

use vat_schemes::due_dates;

use super::dates_request::{DatesBusiness, DatesRequest, GivenAnnualAccounting, GivenEvent};
use super::scalars::GivenDate;

impl From<&DatesRequest> for due_dates::DatesFigures {
    fn from(request: &DatesRequest) -> Self {
        Self {
            from: request.from.0,
            until: request.until.0,
            business: (&request.business).into(),
            events: request.events.iter().map(Into::into).collect(),
        }
    }
}

impl From<&DatesBusiness> for due_dates::DatesBusiness {
    fn from(business: &DatesBusiness) -> Self {
        // The reader has seen to it that exactly one of the three was given.
        let periods = match (business.return_periods, &business.annual_accounting) {
            (Some(every), _) => due_dates::Periods::Ordinary(every.0),
            (None, Some(annual)) => due_dates::Periods::Annual(annual.into()),
            (None, None) => due_dates::Periods::Listed(business.vat_periods.iter().flatten().map(Into::into).collect()),
        };
        let day = |date: &Option<GivenDate>| date.as_ref().map(|date| date.0);
        Self {
            registered_on: business.registered_on.0,
            nation: business.nation.0,
            periods,
            flat_rate_from: day(&business.flat_rate_from),
            flat_rate_until: day(&business.flat_rate_until),
            liability_notified_on: day(&business.liability_notified_on),
        }
    }
}

impl From<&GivenAnnualAccounting> for due_dates::AnnualAccounting {
    fn from(annual: &GivenAnnualAccounting) -> Self {
        Self {
            year_ends_on: annual.year_ends_on.0,
            from: annual.from.as_ref().map(|date| date.0),
            instalments: annual.instalments.0,
            liability: annual.liability.as_ref().map(|liability| due_dates::Liability {
                expected: liability.expected.0,
                actual: liability.actual.as_ref().map(|actual| actual.0),
            }),
        }
    }
}

impl From<&GivenEvent> for due_dates::Event {
    fn from(event: &GivenEvent) -> Self {
        Self { kind: event.kind.0, on: event.on.0 }
    }
}
