use std::fmt;
use std::str::FromStr;

use rust_decimal::Decimal;

use super::{NotANumber, Overflow, Ratio, Shown, hundredths};

/// A percentage in per cent with at most two decimals: `14.5` is fourteen and a half per cent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Percentage(i64);

impl Percentage {
    /// Nought per cent.
    pub const ZERO: Self = Self(0);
    /// The whole.
    pub const HUNDRED: Self = Self(10_000);

    /// A percentage from its hundredths of one per cent: 1450 is 14.5%.
    ///
    /// # Errors
    /// [`Overflow`] beyond 18 digits.
    pub fn from_hundredths(hundredths: i128) -> Result<Self, Overflow> {
        hundredths.try_into().map(Self).map_err(|_| Overflow)
    }

    /// Hundredths of one per cent: 14.5% is 1450.
    #[must_use]
    pub fn hundredths(self) -> i128 {
        self.0.into()
    }

    /// The percentage as a fraction of one: 14.5% is 0.145.
    #[must_use]
    pub fn as_fraction(self) -> Ratio {
        Ratio::of_ten_thousandths(self.hundredths())
    }

    /// The VAT fraction of a gross amount at this rate: rate ÷ (100 + rate), so 1/6 at 20%.
    ///
    /// # Errors
    /// [`Overflow`] where the rate is not a rate of VAT (less than nought).
    pub fn vat_fraction(self) -> Result<Ratio, Overflow> {
        Ratio::new(self.hundredths(), 10_000 + self.hundredths())
    }

    /// This percentage less another, but never below nought.
    ///
    /// # Errors
    /// [`Overflow`] where the difference does not fit.
    pub fn less_not_below_zero(self, other: Self) -> Result<Self, Overflow> {
        Self::from_hundredths((self.hundredths() - other.hundredths()).max(0))
    }

    /// Whether it is nought.
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Per cent in the shortest form: `14.5`, `14`, `0`.
    #[must_use]
    pub fn shown(self) -> Shown {
        Shown::parts::<2, 0>(self.hundredths())
    }
}

impl FromStr for Percentage {
    type Err = NotANumber;

    /// Reads `"14.5"`: 0 to 100, at most two decimals, no sign.
    fn from_str(text: &str) -> Result<Self, NotANumber> {
        if text.starts_with('-') {
            return Err(NotANumber::OutsideHundred);
        }
        let hundredths = hundredths(text)?;
        if hundredths > 10_000 {
            return Err(NotANumber::OutsideHundred);
        }
        Ok(Self(hundredths))
    }
}

impl fmt::Display for Percentage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown().fmt(f)
    }
}

/// A share in per cent that is only shown: always two decimals, and free to lie outside 0 to 100.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Share(Decimal);

impl Share {
    /// Whether it is less than nought.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.0.mantissa() < 0
    }

    /// Per cent with two decimals: `1.11`, `-0.50`.
    #[must_use]
    pub fn shown(self) -> Shown {
        Shown::parts::<2, 2>(self.0.mantissa())
    }

    pub(super) fn from_hundredths(hundredths: i128) -> Result<Self, Overflow> {
        Decimal::try_from_i128_with_scale(hundredths, 2).map(Self).map_err(|_| Overflow)
    }
}

impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown().fmt(f)
    }
}
