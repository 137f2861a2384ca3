//! Pounds as exact fractions, and the few ways in which they become pence or whole pounds.

use num_rational::Ratio;

/// An exact number: pounds, percentages, shares. Overflow panics, so that nothing is ever cut short unseen.
pub type Exact = Ratio<i128>;

/// A whole number.
pub fn whole(number: i64) -> Exact {
    Exact::from_integer(i128::from(number))
}

/// `number` hundredths.
pub fn hundredths(number: i64) -> Exact {
    Exact::new(i128::from(number), 100)
}

/// Reads `"1234.5"`.
pub fn read(text: &str) -> Exact {
    let (sign, digits) = text.strip_prefix('-').map_or((1, text), |rest| (-1, rest));
    let (pounds, rest) = digits.split_once('.').unwrap_or((digits, ""));
    let scale = 10_i128.pow(u32::try_from(rest.len()).unwrap_or(u32::MAX));
    let number = |text: &str| text.parse::<i128>().unwrap_or_else(|error| panic!("`{text}` is no number: {error}"));
    let fraction = if rest.is_empty() { 0 } else { number(rest) };
    Exact::new(sign * (number(pounds) * scale + fraction), scale)
}

/// To the nearest penny, half a penny away from nought. No rule stands in the law for totals of a period; HMRC's manual
/// VATREC12030 sends half a penny and more up for retailers, and the service does the same for every total.
pub fn to_penny(pounds: Exact) -> Exact {
    let size = if pounds < whole(0) { -pounds } else { pounds };
    let pence = (size * whole(100) + Exact::new(1, 2)).floor();
    let rounded = pence / whole(100);
    if pounds < whole(0) { -rounded } else { rounded }
}

/// Up to a whole penny.
pub fn up_to_penny(pounds: Exact) -> Exact {
    (pounds * whole(100)).ceil() / whole(100)
}

/// Whole pounds for boxes 6 to 9: pence are cut off, once, at the end. No official rule is known.
pub fn cut_off_pence(pounds: Exact) -> Exact {
    pounds.trunc()
}

/// `"1234.50"`. The amount must be in whole pence by now.
pub fn pounds_text(pounds: Exact) -> String {
    let pence = pounds * whole(100);
    assert!(pence.is_integer(), "{pounds} pounds are no whole pence");
    let pence = pence.to_integer();
    let sign = if pence < 0 { "-" } else { "" };
    format!("{sign}{}.{:02}", pence.abs() / 100, pence.abs() % 100)
}

/// `"24600"`.
pub fn whole_pounds_text(pounds: Exact) -> String {
    assert!(pounds.is_integer(), "{pounds} are no whole pounds");
    pounds.to_integer().to_string()
}

/// `"14.5"`: as short as it goes.
pub fn percentage_text(percentage: Exact) -> String {
    let text = pounds_text(percentage);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_read_and_written_and_rounded_half_away_from_nought() {
        for text in ["0.00", "-0.01", "1234.50", "-1234.05"] {
            assert_eq!(pounds_text(read(text)), text);
        }
        assert_eq!(to_penny(Exact::new(5, 1000)), hundredths(1));
        assert_eq!(to_penny(Exact::new(-5, 1000)), hundredths(-1));
        assert_eq!(to_penny(Exact::new(4999, 1_000_000)), whole(0));
        assert_eq!(up_to_penny(Exact::new(1000, 12)), read("83.34"));
        assert_eq!(whole_pounds_text(cut_off_pence(read("-3.99"))), "-3");
        assert_eq!(percentage_text(read("14.50")), "14.5");
        assert_eq!(percentage_text(read("10.00")), "10");
        assert_eq!(percentage_text(read("0")), "0");
    }
}
