//! What the tests of dates share.

use jiff::civil::{Date, date};
use vat_schemes::due_dates::{
    AnnualAccounting, DateKind, DatesAnswer, DatesBusiness, DatesFigures, Instalments, Periods, ReturnPeriods,
};
use vat_schemes::law::Nation;
use vat_schemes::refusal::{Refusal, Refusals};
use vat_schemes::workings::Workings;

pub use super::law;

pub fn figures(from: Date, until: Date, periods: Periods) -> DatesFigures {
    DatesFigures {
        from,
        until,
        business: DatesBusiness {
            registered_on: date(2009, 4, 1),
            nation: Nation::EnglandAndWales,
            periods,
            flat_rate_from: None,
            flat_rate_until: None,
            liability_notified_on: None,
        },
        events: Vec::new(),
    }
}

pub fn ordinary(from: Date, until: Date, every: ReturnPeriods) -> DatesFigures {
    figures(from, until, Periods::Ordinary(every))
}

pub fn work_out(figures: &DatesFigures) -> DatesAnswer {
    vat_schemes::dates(law(), figures, Workings::kept()).unwrap_or_else(|refusals| panic!("{refusals:?}"))
}

pub fn refused(figures: &DatesFigures) -> Vec<Refusal> {
    match vat_schemes::dates(law(), figures, Workings::kept()) {
        Ok(answer) => panic!("{answer:?}"),
        Err(Refusals(refusals)) => refusals,
    }
}

/// The days of one kind, in order.
pub fn days(answer: &DatesAnswer, kind: DateKind) -> Vec<Date> {
    answer.dates.iter().filter(|date| date.by.kind == kind).map(|date| date.on).collect()
}

pub fn days_of(figures: &DatesFigures, kind: DateKind) -> Vec<Date> {
    days(&work_out(figures), kind)
}

/// Asserts that a day of this kind is found in a window of that day alone, and in neither neighbour.
pub fn only_on(day: Date, kind: DateKind, figures: impl Fn(Date, Date) -> DatesFigures) {
    let before = day.yesterday().expect("a day");
    let after = day.tomorrow().expect("a day");
    assert_eq!(days_of(&figures(day, day), kind), [day], "{kind:?}");
    assert_eq!(days_of(&figures(before, before), kind), [], "{kind:?} on {before}");
    assert_eq!(days_of(&figures(after, after), kind), [], "{kind:?} on {after}");
    assert_eq!(days_of(&figures(before, after), kind), [day], "{kind:?}");
}

pub fn annual(year_ends_on: Date, instalments: Instalments) -> Periods {
    Periods::Annual(AnnualAccounting { year_ends_on, from: None, instalments, liability: None })
}
