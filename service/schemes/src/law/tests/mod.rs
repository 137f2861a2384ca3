//! The built-in tables against lists written out by hand, the look-ups, and every way in which a set can be unsound.

mod bank_holidays;
mod categories;
mod citations;
mod fuel_scale;
mod look_ups;
mod numbers;
mod review;
mod searching;
mod soundness;

use jiff::civil::Date;

use super::Law;

fn law() -> Law {
    match Law::built_in() {
        Ok(law) => law,
        Err(error) => panic!("{error}"),
    }
}

fn day(text: &str) -> Date {
    text.parse().expect("a day written in a test")
}

/// A value as a list expects it: first day, last day (none while in force), value.
type Expected = (&'static str, Option<&'static str>, &'static str);

/// The days around each boundary of an expected timeline, with the value that each must have, or none.
fn days_to_ask(expected: &[Expected]) -> Vec<(Date, Option<&'static str>)> {
    let mut days = Vec::new();
    for (position, &(from, to, value)) in expected.iter().enumerate() {
        let first = day(from);
        let before = if position == 0 { None } else { Some(expected[position - 1].2) };
        days.push((first.yesterday().expect("a day before"), before));
        days.push((first, Some(value)));
        days.push((first.tomorrow().expect("a day after"), Some(value)));
        match to {
            Some(to) => {
                let last = day(to);
                days.push((last.yesterday().expect("a day before"), Some(value)));
                days.push((last, Some(value)));
                let after = expected.get(position + 1).map(|next| next.2);
                days.push((last.tomorrow().expect("a day after"), after));
            }
            None => days.push((day("2099-12-31"), Some(value))),
        }
    }
    days
}
