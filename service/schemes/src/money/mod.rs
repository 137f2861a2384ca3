//! Money, percentages and rounding: exact, checked, and the only place that rounds.
//!
//! Amounts are whole pence ([`Money`]), those finer than a penny [`FinePounds`], percentages at most two decimals ([`Percentage`]); whatever lies between, such as
//! 16.5% of a turnover before it is rounded, is a [`Ratio`] of two whole numbers, so that limits are tested on exact
//! values. A result that does not fit is [`Overflow`], never a wrong figure.

mod amount;
mod fine;
mod percentage;
mod ratio;
mod rounding;
mod shown;

pub use amount::{Money, WholePounds};
pub use fine::{FinePounds, Quantity};
pub use percentage::{Percentage, Share};
pub use ratio::Ratio;
pub use rounding::Rounding;
pub use shown::Shown;

use thiserror::Error;

/// A sum left the range that can be held exactly (28 digits for an amount, 38 for a product).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("the amounts are too large to be added or multiplied exactly")]
pub struct Overflow;

/// Why a text is not an amount or a percentage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NotANumber {
    /// The text is not digits with, at most, one full stop and a leading minus sign.
    #[error("only digits, one full stop and a leading minus sign may stand here")]
    Grammar,
    /// More digits after the full stop than a value of its kind has.
    #[error("too many digits follow the full stop")]
    TooManyDecimals,
    /// More digits before the full stop than any amount needs.
    #[error("at most 13 digits may stand before the full stop")]
    TooLarge,
    /// A percentage outside 0 to 100.
    #[error("a percentage lies between 0 and 100")]
    OutsideHundred,
}

/// Reads `-?digits(.d{1,2})?` as a whole number of hundredths.
fn hundredths(text: &str) -> Result<i64, NotANumber> {
    decimal(text, 2)
}

/// Reads `-?digits(.digits)?` as a whole number of the smallest part that so many decimals (four at most) can say.
fn decimal(text: &str, decimals: usize) -> Result<i64, NotANumber> {
    let (negative, digits) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let (mut value, mut whole, mut fraction) = (0_i64, 0_usize, None);
    for byte in digits.bytes() {
        match (byte, &mut fraction) {
            (b'0'..=b'9', fraction) => {
                // What is too long to fit is refused below.
                value = value.wrapping_mul(10).wrapping_add(i64::from(byte - b'0'));
                *fraction.as_mut().unwrap_or(&mut whole) += 1;
            }
            (b'.', None) => fraction = Some(0),
            _ => return Err(NotANumber::Grammar),
        }
    }
    if whole == 0 || fraction == Some(0) || whole > 1 && digits.starts_with('0') {
        return Err(NotANumber::Grammar);
    }
    let fraction = fraction.unwrap_or_default();
    if fraction > decimals {
        return Err(NotANumber::TooManyDecimals);
    }
    if whole > 13 {
        return Err(NotANumber::TooLarge);
    }
    // Seventeen digits at most: inside 64 bits.
    for _ in fraction..decimals {
        value *= 10;
    }
    Ok(if negative { -value } else { value })
}

#[cfg(test)]
mod tests;
