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
fn decimal(text: &str, decimals: u32) -> Result<i64, NotANumber> {
    let decimals = decimals as usize;
    let (negative, digits) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let (whole, fraction) = match digits.split_once('.') {
        Some((whole, fraction)) if !fraction.is_empty() => (whole, fraction),
        Some(_) => return Err(NotANumber::Grammar),
        None => (digits, ""),
    };
    let only_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !only_digits(whole) || !only_digits(fraction) {
        return Err(NotANumber::Grammar);
    }
    if whole.len() > 1 && whole.starts_with('0') {
        return Err(NotANumber::Grammar);
    }
    if fraction.len() > decimals {
        return Err(NotANumber::TooManyDecimals);
    }
    if whole.len() > 13 {
        return Err(NotANumber::TooLarge);
    }
    // Seventeen digits at most: inside 64 bits.
    let mut value: i64 = 0;
    for byte in whole.bytes().chain(fraction.bytes()) {
        value = value * 10 + i64::from(byte - b'0');
    }
    for _ in fraction.len()..decimals {
        value *= 10;
    }
    Ok(if negative { -value } else { value })
}

#[cfg(test)]
mod tests;
