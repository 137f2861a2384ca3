//! What is wrong with an amount, a percentage or a date, and how it is written instead.

mod dates;

use super::scalars::{MAX_AMOUNT_DIGITS, MAX_QUANTITY_DIGITS};
use crate::json::shown;

pub(super) use dates::date;

/// Whether a text is written as an amount.
pub(super) fn is_amount(text: &str) -> bool {
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let (pounds, pence) = match unsigned.split_once('.') {
        Some((pounds, pence)) => (pounds, Some(pence)),
        None => (unsigned, None),
    };
    is_whole(pounds, MAX_AMOUNT_DIGITS) && pence.is_none_or(|pence| is_digits(pence) && pence.len() <= 2)
}

/// Whether a text is written as the price of one unit.
pub(super) fn is_unit_price(text: &str) -> bool {
    is_decimal(text.strip_prefix('-').unwrap_or(text), MAX_AMOUNT_DIGITS, 4)
}

/// Whether a text is written as a number of units.
pub(super) fn is_quantity(text: &str) -> bool {
    is_decimal(text, MAX_QUANTITY_DIGITS, 3)
}

fn is_decimal(text: &str, digits: usize, decimals: usize) -> bool {
    let (whole, fraction) = match text.split_once('.') {
        Some((whole, fraction)) => (whole, Some(fraction)),
        None => (text, None),
    };
    is_whole(whole, digits) && fraction.is_none_or(|fraction| is_digits(fraction) && fraction.len() <= decimals)
}

/// Whether a text is written as a percentage from 0 to 100.
pub(super) fn is_percentage(text: &str) -> bool {
    let (whole, decimals) = match text.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (text, None),
    };
    let within = match whole {
        "100" => decimals.is_none_or(|decimals| decimals.bytes().all(|digit| digit == b'0')),
        _ => is_whole(whole, 2),
    };
    within && decimals.is_none_or(|decimals| is_digits(decimals) && decimals.len() <= 2)
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Digits without a leading nought.
fn is_whole(text: &str, most: usize) -> bool {
    is_digits(text) && text.len() <= most && (text == "0" || !text.starts_with('0'))
}

/// The same amount with its pence written out.
fn with_pence(amount: &str) -> String {
    match amount.split_once('.') {
        None => format!("{amount}.00"),
        Some((_, pence)) if pence.len() == 1 => format!("{amount}0"),
        Some(_) => amount.to_owned(),
    }
}

/// A JSON number where an amount belongs.
pub(super) fn number_for_amount(number: &str) -> String {
    let why = "An amount is a text, not a number, so that no penny is lost on the way.";
    if is_amount(number) {
        format!("{why} Write \"{}\" in quotes.", with_pence(number))
    } else {
        format!("{why} Write it in quotes, in pounds with at most two decimals, for example \"1234.50\".")
    }
}

/// A JSON number where a percentage belongs.
pub(super) fn number_for_percentage(number: &str) -> String {
    if is_percentage(number) {
        format!("A percentage is a text, not a number. Write \"{number}\" in quotes.")
    } else {
        "A percentage is a text, not a number. Write it in quotes, from \"0\" to \"100\".".to_owned()
    }
}

/// A text that is no amount.
pub(super) fn amount(text: &str) -> String {
    if text.is_empty() {
        return "There is no amount in the quotation marks: write one, for example \"0.00\", or leave the field out."
            .to_owned();
    }
    if let Some(sentence) = foreign_characters(text) {
        return sentence;
    }
    if text.contains(['£', '$', '€']) || text.contains("GBP") {
        return suggest("Leave out the sign of the currency: amounts are in pounds", &without(text, &["£", "GBP"]));
    }
    if text.contains(',') {
        return suggest("Write thousands without separators, and a point before the pence", &without(text, &[","]));
    }
    if text.contains(['_', '\'', ' ']) {
        return suggest("Write the digits without anything between them", &without(text, &["_", "'", " "]));
    }
    if let Some(unsigned) = text.strip_prefix('+') {
        return suggest("Leave out the plus sign", unsigned);
    }
    if text.starts_with('(') && text.ends_with(')') {
        let inner = text.trim_matches(['(', ')']);
        return suggest("Write a negative amount with a minus sign in front", &format!("-{inner}"));
    }
    if let Some(unsigned) = text.strip_suffix('-')
        && is_amount(unsigned)
    {
        return suggest("Write the minus sign in front", &format!("-{unsigned}"));
    }
    if text.contains(['e', 'E']) && text.bytes().any(|byte| byte.is_ascii_digit()) {
        return "Write the amount out in digits, without an exponent: for example \"1000\" for 1e3.".to_owned();
    }
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let sign = if unsigned.len() == text.len() { "" } else { "-" };
    let (pounds, pence) = unsigned.split_once('.').unwrap_or((unsigned, ""));
    let only_digits = pounds.bytes().chain(pence.bytes()).all(|byte| byte.is_ascii_digit());
    if !only_digits || (pounds.is_empty() && pence.is_empty()) {
        return format!(
            "{} is not an amount: write pounds in digits with at most two decimals after a point, for example \"1234.50\".",
            shown(text)
        );
    }
    if pounds.is_empty() {
        return suggest("Write a nought before the point", &format!("{sign}0.{pence}"));
    }
    if pence.is_empty() && unsigned.ends_with('.') {
        return suggest("Leave out the point, or write the pence after it", &format!("{sign}{pounds}"));
    }
    if pounds.len() > 1 && pounds.starts_with('0') {
        let trimmed = pounds.trim_start_matches('0');
        let trimmed = if trimmed.is_empty() { "0" } else { trimmed };
        let point = if pence.is_empty() { "" } else { "." };
        return suggest("Leave out the noughts in front", &format!("{sign}{trimmed}{point}{pence}"));
    }
    if pounds.len() > MAX_AMOUNT_DIGITS {
        return format!(
            "The amount has {} digits before the point, and at most {MAX_AMOUNT_DIGITS} are taken: check it for misplaced digits.",
            pounds.len()
        );
    }
    format!(
        "The amount has {} decimals, and a pound has a hundred pence: round it to at most two decimals.",
        pence.len()
    )
}

/// A text that is no price of a unit.
pub(super) fn unit_price(text: &str) -> String {
    foreign_characters(text).unwrap_or_else(|| {
        format!(
            "{} is not the price of a unit: write pounds in digits, up to {MAX_AMOUNT_DIGITS}, with at most four decimals after a point, for example \"0.0125\".",
            shown(text)
        )
    })
}

/// A text that is no number of units.
pub(super) fn quantity(text: &str) -> String {
    foreign_characters(text).unwrap_or_else(|| {
        format!(
            "{} is not a number of units: write digits, up to {MAX_QUANTITY_DIGITS}, without a sign and with at most three decimals after a point, for example \"2.5\". For a credit note give a negative unit_price.",
            shown(text)
        )
    })
}

/// A text that is no percentage.
pub(super) fn percentage(text: &str) -> String {
    if let Some(sentence) = foreign_characters(text) {
        return sentence;
    }
    if let Some(number) = text.strip_suffix('%') {
        let number = number.trim_end();
        return if is_percentage(number) {
            format!("Leave out the per cent sign: write \"{number}\".")
        } else {
            "Leave out the per cent sign and write from \"0\" to \"100\".".to_owned()
        };
    }
    if is_amount(text) {
        return format!("{} is outside 0 to 100 per cent.", shown(text));
    }
    format!(
        "{} is not a percentage: write per cent from \"0\" to \"100\" with at most two decimals after a point, for example \"62.5\".",
        shown(text)
    )
}

/// Digits, minus signs and blanks that look like those of a keyboard, and are not.
fn foreign_characters(text: &str) -> Option<String> {
    if text.chars().any(|character| character.is_numeric() && !character.is_ascii_digit()) {
        return Some(
            "The text holds digits of another script, or full-width ones: write the digits 0 to 9.".to_owned(),
        );
    }
    if text.contains(['\u{2212}', '\u{2013}', '\u{2014}', '\u{2010}', '\u{2011}']) {
        return Some(
            "The text holds a dash that is no minus sign: write the hyphen of the keyboard, \"-\".".to_owned(),
        );
    }
    if text.chars().any(|character| {
        character != ' ' && (character.is_whitespace() || character == '\u{feff}' || character == '\u{200b}')
    }) {
        return Some("The text holds a no-break space or another invisible blank: write the digits alone.".to_owned());
    }
    None
}

fn without(text: &str, parts: &[&str]) -> String {
    parts.iter().fold(text.to_owned(), |text, part| text.replace(part, "")).trim().to_owned()
}

/// The sentence with the corrected value, where the correction makes it one.
fn suggest(sentence: &str, corrected: &str) -> String {
    if is_amount(corrected) {
        format!("{sentence}: \"{corrected}\".")
    } else {
        format!("{sentence}, for example \"1234.50\".")
    }
}

#[cfg(test)]
mod tests {
    use super::{
        amount, is_amount, is_percentage, is_quantity, is_unit_price, number_for_amount, percentage, quantity,
        unit_price,
    };

    #[test]
    fn amounts_are_told_from_others() {
        for text in ["0", "-0", "0.00", "1", "-1.5", "1234.50", "9999999999999.99"] {
            assert!(is_amount(text), "{text}");
        }
        for text in [
            "",
            "-",
            "+1",
            ".5",
            "5.",
            "00.1",
            "01",
            "1.234",
            "1,000",
            "1e3",
            "1_000",
            "１",
            "12345678901234",
            "NaN",
            " 1",
            "1\u{a0}000",
            "--1",
            "1.2.3",
        ] {
            assert!(!is_amount(text), "{text}");
        }
    }

    #[test]
    fn prices_and_numbers_of_units_are_told_from_others() {
        for text in ["0", "-0.0125", "4.338", "9999999999999.9999"] {
            assert!(is_unit_price(text), "{text}");
        }
        for text in ["", ".5", "5.", "0.00001", "01", "12345678901234", "1,000", "１", "--1"] {
            assert!(!is_unit_price(text), "{text}");
            assert!(unit_price(text).ends_with('.'), "{text}");
        }
        for text in ["0", "1", "2.5", "0.125", "999999999.999"] {
            assert!(is_quantity(text), "{text}");
        }
        for text in ["", "-1", "0.1234", "1234567890", "a dozen", "１"] {
            assert!(!is_quantity(text), "{text}");
            assert!(quantity(text).ends_with('.'), "{text}");
        }
    }

    #[test]
    fn each_wrong_amount_gets_the_sentence_that_puts_it_right() {
        for (text, part) in [
            ("1,000", "\"1000\""),
            ("1,234.50", "\"1234.50\""),
            ("£12.50", "\"12.50\""),
            ("1_000", "\"1000\""),
            ("1 000", "\"1000\""),
            ("+1", "\"1\""),
            (".5", "\"0.5\""),
            ("-.5", "\"-0.5\""),
            ("5.", "\"5\""),
            ("00.1", "\"0.1\""),
            ("000", "\"0\""),
            ("(5.00)", "\"-5.00\""),
            ("5.00-", "\"-5.00\""),
            ("1e3", "without an exponent"),
            ("1.234", "3 decimals"),
            ("1.2345678901234567890123456789", "28 decimals"),
            ("12345678901234567890123456789", "29 digits"),
            ("１２", "full-width"),
            ("1\u{a0}000", "no-break space"),
            ("−5", "minus sign"),
            ("", "no amount"),
            ("NaN", "not an amount"),
            ("-", "not an amount"),
            ("1.2.3", "not an amount"),
            ("twelve", "not an amount"),
        ] {
            assert!(!is_amount(text));
            let sentence = amount(text);
            assert!(sentence.contains(part) && sentence.ends_with('.'), "{text}: {sentence}");
        }
    }

    #[test]
    fn a_number_is_shown_as_the_text_that_it_should_be() {
        assert!(number_for_amount("1234.5").contains("Write \"1234.50\" in quotes."));
        assert!(number_for_amount("7").contains("Write \"7.00\" in quotes."));
        assert!(number_for_amount("0.125").contains("at most two decimals"));
    }

    #[test]
    fn percentages_lie_between_0_and_100() {
        for text in ["0", "100", "100.00", "62.5", "0.01", "99.99"] {
            assert!(is_percentage(text), "{text}");
        }
        for (text, part) in [
            ("101", "outside"),
            ("100.01", "outside"),
            ("-1", "outside"),
            ("40%", "\"40\""),
            ("40 %", "\"40\""),
            ("1.234", "not a percentage"),
            ("", "not a percentage"),
            ("all", "not a percentage"),
            ("４０", "full-width"),
        ] {
            assert!(!is_percentage(text), "{text}");
            assert!(percentage(text).contains(part), "{text}: {}", percentage(text));
        }
    }
}
