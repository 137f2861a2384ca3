//! Days and runs of days, held to the acceptance tests' own calendar. The input is a text that may be a day, and the same bytes as days.

#![no_main]

use acceptance::calendar::{self, Day};
use jiff::civil::Date;
use libfuzzer_sys::fuzz_target;
use vat_schemes::period::{Length, Period, anniversary, next_day, previous_day};
use vat_schemes_api::problem::ProblemCode;
use vat_schemes_api::wire::v1::date_in_query;
use vat_schemes_api::wire::v1::scalars::{FIRST_DATE, LAST_DATE};

fuzz_target!(|data: &[u8]| {
    if let Ok(text) = std::str::from_utf8(data) {
        read(text);
    }
    let days: Vec<Date> = data.chunks_exact(2).map(|two| day(u16::from_le_bytes([two[0], two[1]]))).collect();
    for pair in days.windows(2) {
        one_after_the_other(pair[0], pair[1]);
    }
    if let [start, end, rest @ ..] = days.as_slice()
        && let Some(period) = Period::new(*start, *end)
    {
        a_period(period, rest);
    }
});

/// Days of the years 1973 to 2152: those of requests, and some that follow from them.
fn day(number: u16) -> Date {
    let first = Day::read("1973-04-01").expect("a day");
    first.days_later(i64::from(number)).to_string().parse().expect("a day")
}

fn own(day: Date) -> Day {
    Day::read(&day.to_string()).expect("a day")
}

/// What is read is what stands there; a day that a refusal proposes is one.
fn read(text: &str) {
    let digits = text.bytes().enumerate().all(|(place, byte)| match place {
        4 | 7 => byte == b'-',
        _ => byte.is_ascii_digit(),
    });
    let real = digits.then(|| Day::read(text)).flatten();
    let (first, last) = (own(FIRST_DATE), own(LAST_DATE));
    match (date_in_query("on", text), real) {
        (Ok(date), Some(real)) => {
            assert!((first..=last).contains(&real) && date.to_string() == text, "{text:?}");
        }
        (Ok(date), None) => panic!("{text:?} is read as {date}"),
        (Err(problem), real) => {
            let outside = problem.code == ProblemCode::DateOutOfRange;
            let before_or_after = real.is_some_and(|real| !(first..=last).contains(&real));
            assert!(outside == before_or_after && (outside || real.is_none()), "{text:?}: {}", problem.detail);
            assert!(problem.detail.ends_with('.') && !problem.detail.contains(char::is_control), "{text:?}");
            if let Some((_, rest)) = problem.detail.split_once(": write \"")
                && let Some((proposed, _)) = rest.split_once('"')
            {
                let again = date_in_query("on", proposed).err().map(|problem| problem.code);
                assert!(again.is_none_or(|code| code == ProblemCode::DateOutOfRange), "{text:?}: {}", problem.detail);
            }
        }
    }
}

fn one_after_the_other(one: Date, other: Date) {
    assert_eq!(own(one).cmp(&own(other)), one.cmp(&other));
    assert_eq!((next_day(previous_day(one)), previous_day(next_day(one))), (one, one));
    for years in 0..5 {
        let later = anniversary(one, years);
        assert_eq!(own(later), own(one).months_later(i64::from(years) * 12));
        assert!(anniversary(one, years + 1) > later);
        if one <= other {
            assert!(later <= anniversary(other, years));
        }
    }
}

fn a_period(period: Period, others: &[Date]) {
    let (start, end) = (own(period.start()), own(period.end()));
    assert_eq!(i64::from(period.days()), calendar::days(start, end));
    match (period.length(), calendar::whole_months(start, end)) {
        (Length::Months(months), Some(counted)) => assert_eq!(i64::from(months), counted),
        (Length::Days { days, year }, None) => {
            assert_eq!(i64::from(days), calendar::days(start, end));
            assert_eq!(i64::from(year), calendar::days_of_year_from(start));
        }
        (length, counted) => panic!("{start} to {end}: {length:?}, and {counted:?} months counted here"),
    }
    assert!(period.length().share_of_year().is_ok());
    let next = period.next();
    assert!(next.start() == next_day(period.end()) && next.end() >= next.start());
    assert_eq!(period.common_with(next), None);
    let parts = period.cut_at(others);
    assert!(parts.first().is_some_and(|part| part.start() == period.start()));
    assert!(parts.last().is_some_and(|part| part.end() == period.end()));
    assert!(parts.windows(2).all(|two| two[1].start() == next_day(two[0].end())));
    assert_eq!(parts.iter().map(|part| i64::from(part.days())).sum::<i64>(), calendar::days(start, end));
    let begins = |day: &Date| parts.iter().any(|part| part.start() == *day);
    assert!(
        others.iter().all(|day| begins(day)
            == ((period.start()..=period.end()).contains(day) && (*day > period.start() || begins(day))))
    );
    for day in others {
        let found = period.of_run_with(*day);
        if *day >= period.start() {
            assert_eq!(found, period);
        } else {
            assert!(found.start() <= *day && *day <= found.end(), "{day} is not in {found:?}, found from {period:?}");
            assert!(found.end() < period.start());
        }
        if let Some(other) = Period::new(period.start().min(*day), *day) {
            let common = period.common_with(other);
            assert_eq!(common, other.common_with(period));
            assert!(common.is_none_or(|common| period.contains(common) && other.contains(common)));
        }
    }
}
