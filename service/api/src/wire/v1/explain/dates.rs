//! Dates, and what is wrong with those that are none.

use jiff::civil::Date;

use super::is_digits;
use crate::json::shown;
use crate::problem::ProblemCode;
use crate::wire::v1::scalars::{FIRST_DATE, LAST_DATE};

/// Reads a date, or says what is wrong with it.
pub(in crate::wire::v1) fn date(text: &str) -> Result<Date, (ProblemCode, String)> {
    let not_valid = |sentence: String| Err((ProblemCode::DateNotValid, sentence));
    let Some([year, month, day]) = numbers(text) else {
        return not_valid(other_form(text));
    };
    if !(1..=12).contains(&month) {
        return not_valid(format!("There is no month {month:02}: write year, month and day as in \"2026-06-30\"."));
    }
    let Ok(year) = i16::try_from(year) else {
        return not_valid(other_form(text));
    };
    let (Ok(month), Ok(day)) = (i8::try_from(month), i8::try_from(day)) else {
        return not_valid(other_form(text));
    };
    let Ok(date) = Date::new(year, month, day) else {
        let Ok(first) = Date::new(year, month, 1) else {
            return not_valid(other_form(text));
        };
        let month_name = MONTHS.get(usize::try_from(month - 1).unwrap_or_default()).copied().unwrap_or_default();
        return not_valid(format!(
            "There is no {day} {month_name} {year:04}: that month has {} days.",
            first.days_in_month()
        ));
    };
    if (FIRST_DATE..=LAST_DATE).contains(&date) {
        Ok(date)
    } else {
        Err((
            ProblemCode::DateOutOfRange,
            format!("{date} is outside the dates that this service takes: {FIRST_DATE} to {LAST_DATE}."),
        ))
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Year, month and day of `YYYY-MM-DD`.
fn numbers(text: &str) -> Option<[u16; 3]> {
    let (year, rest) = text.split_once('-')?;
    let (month, day) = rest.split_once('-')?;
    let number = |digits: &str, length: usize| {
        (digits.len() == length && is_digits(digits)).then(|| digits.parse().ok()).flatten()
    };
    Some([number(year, 4)?, number(month, 2)?, number(day, 2)?])
}

/// A date in another form than ours; where day, month and year can be told apart, ours is shown.
fn other_form(text: &str) -> String {
    let general = "write year, month and day with hyphens, as in \"2026-06-30\"";
    if let Some((day, _)) = text.split_once(['T', ' '])
        && date_exists(day)
    {
        return format!("A date has no time of day: write \"{day}\".");
    }
    let parts: Vec<&str> = text.split(['/', '.', '-']).collect();
    if let [first, month, last] = parts.as_slice()
        && parts.iter().all(|part| is_digits(part))
    {
        // A year comes first or last; day before month is the British way.
        let (year, month, day) = if first.len() == 4 { (first, month, last) } else { (last, month, first) };
        let written = format!("{year}-{month:0>2}-{day:0>2}");
        if date_exists(&written) {
            return format!("{} is not written as a date: write \"{written}\" if that is the day meant.", shown(text));
        }
    }
    format!("{} is not a date: {general}.", shown(text))
}

fn date_exists(text: &str) -> bool {
    numbers(text).is_some() && text.parse::<Date>().is_ok()
}

#[cfg(test)]
mod tests {
    use super::date;
    use crate::problem::ProblemCode;

    #[test]
    fn dates_are_read_and_others_explained() {
        assert_eq!(date("2024-02-29").map(|date| date.to_string()), Ok("2024-02-29".to_owned()));
        for (text, code, part) in [
            ("2026-02-30", ProblemCode::DateNotValid, "There is no 30 February 2026: that month has 28 days."),
            ("2025-02-29", ProblemCode::DateNotValid, "28 days"),
            ("2026-04-31", ProblemCode::DateNotValid, "30 days"),
            ("2026-13-01", ProblemCode::DateNotValid, "no month 13"),
            ("2026-00-01", ProblemCode::DateNotValid, "no month 00"),
            ("2026-01-00", ProblemCode::DateNotValid, "no 0 January"),
            ("30/06/2026", ProblemCode::DateNotValid, "\"2026-06-30\""),
            ("1.4.2026", ProblemCode::DateNotValid, "\"2026-04-01\""),
            ("2026-4-1", ProblemCode::DateNotValid, "\"2026-04-01\""),
            ("2026/04/01", ProblemCode::DateNotValid, "\"2026-04-01\""),
            ("2026-04-01T00:00:00Z", ProblemCode::DateNotValid, "no time of day"),
            ("2026-02-30T00:00:00Z", ProblemCode::DateNotValid, "not a date"),
            ("yesterday", ProblemCode::DateNotValid, "not a date"),
            ("", ProblemCode::DateNotValid, "not a date"),
            ("２０２６-04-01", ProblemCode::DateNotValid, "not a date"),
            ("1973-03-31", ProblemCode::DateOutOfRange, "1973-04-01"),
            ("2100-01-01", ProblemCode::DateOutOfRange, "2099-12-31"),
            ("0000-01-01", ProblemCode::DateOutOfRange, "outside"),
            ("9999-12-31", ProblemCode::DateOutOfRange, "outside"),
        ] {
            let (got, sentence) = date(text).expect_err(text);
            assert!(got == code && sentence.contains(part) && sentence.ends_with('.'), "{text}: {sentence}");
        }
    }
}
