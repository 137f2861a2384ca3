use std::fmt;
use std::str::FromStr;

use super::{NotANumber, Overflow, Percentage, Ratio, Shown, hundredths};

/// The number of decimals of a pound: pence.
const PENCE: u32 = 2;

/// The pence of the largest amount: ten of it, and more, still fit 128 bits.
const LARGEST: u128 = 10_u128.pow(28) - 1;

/// An amount in pounds and whole pence, positive or negative.
// Packed as two words: on a boundary of sixteen bytes every figure with its place would be a word longer.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(C, packed(8))]
pub struct Money(i128);

impl Money {
    /// Nothing: £0.00.
    pub const ZERO: Self = Self(0);

    /// An amount from its whole pence.
    ///
    /// # Errors
    /// [`Overflow`] beyond 28 digits.
    pub fn from_pence(pence: i128) -> Result<Self, Overflow> {
        if pence.unsigned_abs() <= LARGEST { Ok(Self(pence)) } else { Err(Overflow) }
    }

    /// The amount in whole pence.
    #[must_use]
    pub fn pence(self) -> i128 {
        self.0
    }

    /// The sum of two amounts.
    ///
    /// # Errors
    /// [`Overflow`] where the sum does not fit exactly.
    pub fn plus(self, other: Self) -> Result<Self, Overflow> {
        Self::from_pence(self.0 + other.0)
    }

    /// The difference of two amounts.
    ///
    /// # Errors
    /// [`Overflow`] where the difference does not fit exactly.
    pub fn minus(self, other: Self) -> Result<Self, Overflow> {
        self.plus(other.negated())
    }

    /// The same amount with the other sign.
    #[must_use]
    pub fn negated(self) -> Self {
        Self(-self.0)
    }

    /// The amount without its sign.
    #[must_use]
    pub fn magnitude(self) -> Self {
        Self(self.0.abs())
    }

    /// Whether the amount is £0.00.
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Whether the amount is more than £0.00.
    #[must_use]
    pub fn is_positive(self) -> bool {
        self > Self::ZERO
    }

    /// Whether the amount is less than £0.00.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// The amount as an exact ratio of whole numbers.
    #[must_use]
    pub fn exact(self) -> Ratio {
        Ratio::of_hundredths(self.pence())
    }

    /// A percentage of the amount, not yet rounded.
    ///
    /// # Errors
    /// [`Overflow`] where the product does not fit.
    pub fn share(self, percentage: Percentage) -> Result<Ratio, Overflow> {
        self.exact().times(percentage.as_fraction())
    }

    /// The whole pounds, pence cut off towards zero.
    #[must_use]
    pub fn whole_pounds(self) -> WholePounds {
        WholePounds(self.0 / 100)
    }

    /// Pounds with two decimals: `1234.50`, `-0.05`.
    #[must_use]
    pub fn shown(self) -> Shown {
        Shown::parts::<PENCE, 2>(self.pence())
    }
}

impl FromStr for Money {
    type Err = NotANumber;

    /// Reads `"1234.50"`: an optional minus sign, up to 13 digits without a leading zero, at most two decimals; no plus
    /// sign, exponent, separator or space.
    fn from_str(text: &str) -> Result<Self, NotANumber> {
        hundredths(text).map(|pence| Self(pence.into()))
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown().fmt(f)
    }
}

impl fmt::Debug for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "£{self}")
    }
}

/// Pounds without pence, as boxes 6 to 9 of the VAT Return show them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WholePounds(i128);

impl WholePounds {
    /// Whether they are less than nothing.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// The pounds as an exact ratio of whole numbers.
    #[must_use]
    pub fn exact(self) -> Ratio {
        Ratio::whole(self.0)
    }

    /// Pounds without decimals: `1234`, `-5`.
    #[must_use]
    pub fn shown(self) -> Shown {
        Shown::parts::<0, 0>(self.0)
    }
}

impl fmt::Display for WholePounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown().fmt(f)
    }
}
