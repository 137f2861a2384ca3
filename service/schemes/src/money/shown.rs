use std::fmt;

/// How many decimals a figure is shown with.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Decimals {
    /// It is a whole number.
    None,
    /// It is a number of hundredths, always shown with two.
    Two,
    /// It is a number of hundredths, shown with as many as it needs.
    AsNeeded,
}

/// More than the digits of any figure, with its sign and its point.
const ROOM: usize = 44;

/// Shows a figure. Answers are mostly figures, so they are put together here digit by digit and handed on as one text.
pub(super) fn show(figure: i128, decimals: Decimals, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let mut text = Text { bytes: [b'0'; ROOM], starts: ROOM };
    let mut rest = figure.unsigned_abs();
    if decimals != Decimals::None {
        let hundredths = (rest % 100) as u8;
        rest /= 100;
        let (tenths, last) = (hundredths / 10, hundredths % 10);
        if decimals == Decimals::Two || last > 0 {
            text.put(b'0' + last);
        }
        if decimals == Decimals::Two || hundredths > 0 {
            text.put(b'0' + tenths);
            text.put(b'.');
        }
    }
    // Sums of more than twenty digits are rare, and dividing them is slow.
    while u64::try_from(rest).is_err() {
        text.put(b'0' + (rest % 10) as u8);
        rest /= 10;
    }
    let mut rest = rest as u64;
    loop {
        text.put(b'0' + (rest % 10) as u8);
        rest /= 10;
        if rest == 0 {
            break;
        }
    }
    if figure < 0 {
        text.put(b'-');
    }
    f.write_str(text.as_str())
}

/// A text that is made from its end.
struct Text {
    bytes: [u8; ROOM],
    starts: usize,
}

impl Text {
    fn put(&mut self, byte: u8) {
        if let Some(before) = self.starts.checked_sub(1) {
            self.starts = before;
            self.bytes[before] = byte;
        }
    }

    fn as_str(&self) -> &str {
        // Digits, a point and a sign: always a text.
        std::str::from_utf8(&self.bytes[self.starts..]).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use std::fmt;

    use rust_decimal::Decimal;

    use super::{Decimals, show};

    struct Shown(i128, Decimals);

    impl fmt::Display for Shown {
        fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            show(self.0, self.1, f)
        }
    }

    /// Every figure is shown as the library for decimal numbers shows it.
    #[test]
    fn figures_are_shown_as_they_are() {
        let powers = (0..28).map(|power| 10_i128.pow(power));
        for size in (0..=1_100).chain(powers.flat_map(|power| [power - 1, power, power + 1, power * 7 + 5])) {
            for figure in [size, -size] {
                let hundredths = Decimal::from_i128_with_scale(figure, 2);
                let whole = Decimal::from_i128_with_scale(figure, 0);
                // A nought has no sign here.
                let plain = |decimal: Decimal| decimal.to_string();
                if figure != 0 {
                    assert_eq!(Shown(figure, Decimals::Two).to_string(), hundredths.to_string());
                }
                assert_eq!(Shown(figure, Decimals::AsNeeded).to_string(), plain(hundredths.normalize()));
                assert_eq!(Shown(figure, Decimals::None).to_string(), plain(whole));
            }
        }
        assert_eq!(Shown(0, Decimals::Two).to_string(), "0.00");
        assert_eq!(Shown(i128::MIN, Decimals::None).to_string(), i128::MIN.to_string());
        assert_eq!(Shown(i128::MAX, Decimals::None).to_string(), i128::MAX.to_string());
    }
}
