use std::fmt;

use arrayvec::ArrayString;

/// More than the digits of any figure, with its sign and its point.
const ROOM: usize = 44;

/// A figure as it is shown, which needs no allocation: answers are mostly figures.
#[derive(Debug, Clone, Copy)]
pub struct Shown(ArrayString<ROOM>);

impl Shown {
    /// A figure that counts parts of `DECIMALS` decimals, two for hundredths, shown with as many decimals as it needs and with `AT_LEAST` so many.
    pub(super) fn parts<const DECIMALS: u32, const AT_LEAST: usize>(figure: i128) -> Self {
        let mut text = ArrayString::new();
        if figure < 0 {
            text.push('-');
        }
        let size = figure.unsigned_abs();
        let mut buffer = itoa::Buffer::new();
        // Figures of more than nineteen digits are rare, and dividing them is slow.
        let digits = match u64::try_from(size) {
            Ok(size) => buffer.format(size),
            Err(_) => buffer.format(size),
        };
        let decimals = DECIMALS as usize;
        match digits.len().checked_sub(decimals) {
            Some(whole) if whole > 0 => {
                text.push_str(&digits[..whole]);
                Self::push_decimals::<AT_LEAST>(&mut text, &digits[whole..]);
            }
            _ => {
                text.push('0');
                let mut padded = ArrayString::<ROOM>::new();
                for _ in digits.len()..decimals {
                    padded.push('0');
                }
                padded.push_str(digits);
                Self::push_decimals::<AT_LEAST>(&mut text, &padded);
            }
        }
        Self(text)
    }

    /// The point and the decimals without the noughts at their end, but so many at least.
    fn push_decimals<const AT_LEAST: usize>(text: &mut ArrayString<ROOM>, decimals: &str) {
        let needed =
            if AT_LEAST == decimals.len() { AT_LEAST } else { decimals.trim_end_matches('0').len().max(AT_LEAST) };
        if needed > 0 {
            text.push('.');
            text.push_str(&decimals[..needed]);
        }
    }

    /// A count.
    pub(crate) fn count(count: i32) -> Self {
        Self::parts::<0, 0>(count.into())
    }

    /// A word.
    pub(crate) fn word(word: &'static str) -> Self {
        let mut text = ArrayString::new();
        text.push_str(word);
        Self(text)
    }
}

impl AsRef<str> for Shown {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::Shown;

    fn hundredths(figure: i128) -> String {
        Shown::parts::<2, 2>(figure).to_string()
    }

    fn whole(figure: i128) -> String {
        Shown::parts::<0, 0>(figure).to_string()
    }

    /// Every figure is shown as the library for decimal numbers shows it.
    #[test]
    fn figures_are_shown_as_they_are() {
        let powers = (0..28).map(|power| 10_i128.pow(power));
        for size in (0..=1_100).chain(powers.flat_map(|power| [power - 1, power, power + 1, power * 7 + 5])) {
            for figure in [size, -size] {
                let decimal = |scale| Decimal::from_i128_with_scale(figure, scale);
                // A nought has no sign here.
                if figure != 0 {
                    assert_eq!(hundredths(figure), decimal(2).to_string());
                }
                assert_eq!(whole(figure), decimal(0).to_string());
                assert_eq!(Shown::parts::<2, 0>(figure).to_string(), decimal(2).normalize().to_string());
                assert_eq!(Shown::parts::<3, 0>(figure).to_string(), decimal(3).normalize().to_string());
                let mut finer = decimal(7).normalize();
                if finer.scale() < 2 {
                    finer.rescale(2);
                }
                if figure != 0 {
                    assert_eq!(Shown::parts::<7, 2>(figure).to_string(), finer.to_string());
                }
            }
        }
        assert_eq!(hundredths(0), "0.00");
        assert_eq!(Shown::parts::<7, 2>(0).to_string(), "0.00");
        for figure in [i128::MIN, i128::MAX, i64::MIN.into(), u64::MAX.into(), i128::from(u64::MAX) + 1] {
            assert_eq!(whole(figure), figure.to_string());
            let digits = figure.unsigned_abs().to_string();
            let (pounds, pence) = digits.split_at(digits.len() - 2);
            let sign = if figure < 0 { "-" } else { "" };
            assert_eq!(hundredths(figure), format!("{sign}{pounds}.{pence}"));
        }
    }
}
