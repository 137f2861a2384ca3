use std::cmp::Ordering;

use super::{FinePounds, Money, Overflow, Percentage, Rounding, Share};

/// Tenths of a penny in a pound.
const TENTHS_OF_A_PENNY: i128 = 1_000;
/// Half pence in a pound.
const HALF_PENCE: i128 = 200;

/// An exact value that has not been rounded: one whole number over another, the second more than nought.
#[derive(Debug, Clone, Copy)]
pub struct Ratio {
    numerator: i128,
    denominator: i128,
}

impl Ratio {
    /// One whole number over another.
    ///
    /// # Errors
    /// [`Overflow`] where the denominator is not more than nought: such a ratio has no value here.
    pub fn new(numerator: i128, denominator: i128) -> Result<Self, Overflow> {
        if denominator > 0 { Ok(Self { numerator, denominator }) } else { Err(Overflow) }
    }

    /// A whole number.
    #[must_use]
    pub fn whole(value: i128) -> Self {
        Self { numerator: value, denominator: 1 }
    }

    pub(super) fn of_hundredths(hundredths: i128) -> Self {
        Self { numerator: hundredths, denominator: 100 }
    }

    /// So many of the parts of one; there is at least one part.
    pub(super) fn of_parts(count: i128, parts: i128) -> Self {
        Self { numerator: count, denominator: parts }
    }

    pub(super) fn of_ten_thousandths(ten_thousandths: i128) -> Self {
        Self { numerator: ten_thousandths, denominator: 10_000 }
    }

    /// The product of two ratios.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn times(self, other: Self) -> Result<Self, Overflow> {
        self.with(other, |left, right| {
            Some(Self {
                numerator: left.numerator.checked_mul(right.numerator)?,
                denominator: left.denominator.checked_mul(right.denominator)?,
            })
        })
    }

    /// The sum of two ratios.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn plus(self, other: Self) -> Result<Self, Overflow> {
        self.minus(Self { numerator: other.numerator.checked_neg().ok_or(Overflow)?, denominator: other.denominator })
    }

    /// The quotient of two ratios.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit, or where the divisor is not more than nought.
    pub fn over(self, divisor: Self) -> Result<Self, Overflow> {
        self.times(Self::new(divisor.denominator, divisor.numerator)?)
    }

    /// The difference of two ratios.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn minus(self, other: Self) -> Result<Self, Overflow> {
        self.with(other, |left, right| {
            let from = left.numerator.checked_mul(right.denominator)?;
            let less = right.numerator.checked_mul(left.denominator)?;
            Some(Self {
                numerator: from.checked_sub(less)?,
                denominator: left.denominator.checked_mul(right.denominator)?,
            })
        })
    }

    /// The larger of two ratios.
    ///
    /// # Errors
    /// [`Overflow`] where they cannot be compared exactly.
    pub fn larger(self, other: Self) -> Result<Self, Overflow> {
        Ok(if self.compare(other)? == Ordering::Less { other } else { self })
    }

    /// Compares exactly, by cross-multiplication.
    ///
    /// # Errors
    /// [`Overflow`] where the products do not fit.
    pub fn compare(self, other: Self) -> Result<Ordering, Overflow> {
        self.with(other, |left, right| {
            let ours = left.numerator.checked_mul(right.denominator)?;
            let theirs = right.numerator.checked_mul(left.denominator)?;
            Some(ours.cmp(&theirs))
        })
    }

    /// Whether it is at most the other, exactly.
    ///
    /// # Errors
    /// [`Overflow`] where they cannot be compared exactly.
    pub fn at_most(self, other: Self) -> Result<bool, Overflow> {
        Ok(self.compare(other)? != Ordering::Greater)
    }

    /// Whether it is less than the other, exactly.
    ///
    /// # Errors
    /// [`Overflow`] where they cannot be compared exactly.
    pub fn less_than(self, other: Self) -> Result<bool, Overflow> {
        Ok(self.compare(other)? == Ordering::Less)
    }

    /// The amount in pounds and pence, rounded in the way named.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn to_money(self, rounding: Rounding) -> Result<Money, Overflow> {
        Money::from_pence(self.hundredths(rounding)?)
    }

    /// The amount in pounds, finer than a penny where the rounding named allows that.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit, or where no rounding is named and some is needed.
    pub fn to_fine(self, rounding: Rounding) -> Result<FinePounds, Overflow> {
        let value = self.reduced();
        let nearest = |parts| {
            let scaled = value.numerator.checked_mul(parts).ok_or(Overflow)?;
            half_away_from_zero(scaled, value.denominator)
        };
        match rounding {
            Rounding::None => FinePounds::from_parts(value.numerator, value.denominator),
            Rounding::TowardsNoughtToTenthOfPenny => {
                let scaled = value.numerator.checked_mul(TENTHS_OF_A_PENNY).ok_or(Overflow)?;
                FinePounds::from_parts(scaled / value.denominator, TENTHS_OF_A_PENNY)
            }
            Rounding::NearestTenthOfPenny => FinePounds::from_parts(nearest(TENTHS_OF_A_PENNY)?, TENTHS_OF_A_PENNY),
            Rounding::NearestHalfPenny => FinePounds::from_parts(nearest(HALF_PENCE)?, HALF_PENCE),
            Rounding::NearestHalfPennyNotNil => {
                FinePounds::from_parts(not_nil(nearest(HALF_PENCE)?, value.numerator), HALF_PENCE)
            }
            Rounding::NearestPenny
            | Rounding::NearestPennyNotNil
            | Rounding::NearestHundredth
            | Rounding::UpToPenny
            | Rounding::DownToPenny
            | Rounding::TowardsNoughtToPenny
            | Rounding::UpToWholePercent
            | Rounding::UpToTwoDecimals
            | Rounding::DownToWhole
            | Rounding::PenceCutOff => self.to_money(rounding)?.try_into(),
        }
    }

    /// The percentage of which this is the fraction (0.145 is 14.5%), rounded in the way named.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn to_percentage(self, rounding: Rounding) -> Result<Percentage, Overflow> {
        let per_cent = self.times(Self::whole(100))?;
        Percentage::from_hundredths(per_cent.hundredths(rounding)?)
    }

    /// The share of which this is the fraction, to the nearest hundredth of a per cent.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn to_share(self) -> Result<Share, Overflow> {
        Share::from_hundredths(self.times(Self::whole(100))?.hundredths(Rounding::NearestHundredth)?)
    }

    /// The value in whole hundredths, rounded in the way named.
    fn hundredths(self, rounding: Rounding) -> Result<i128, Overflow> {
        let (scaled, denominator) = match self.numerator.checked_mul(100) {
            Some(scaled) => (scaled, self.denominator),
            None => {
                let reduced = self.reduced();
                (reduced.numerator.checked_mul(100).ok_or(Overflow)?, reduced.denominator)
            }
        };
        match rounding {
            Rounding::None if scaled % denominator == 0 => Ok(scaled / denominator),
            // Asking for no rounding where some is needed would be a wrong figure.
            Rounding::None => Err(Overflow),
            Rounding::NearestPenny | Rounding::NearestHundredth => half_away_from_zero(scaled, denominator),
            Rounding::UpToPenny | Rounding::UpToTwoDecimals => Ok(up(scaled, denominator)),
            Rounding::DownToPenny => Ok(scaled.div_euclid(denominator)),
            Rounding::TowardsNoughtToPenny => Ok(scaled / denominator),
            Rounding::NearestPennyNotNil => Ok(not_nil(half_away_from_zero(scaled, denominator)?, scaled)),
            // What is finer than a penny has no place in a figure of pence.
            Rounding::TowardsNoughtToTenthOfPenny
            | Rounding::NearestTenthOfPenny
            | Rounding::NearestHalfPenny
            | Rounding::NearestHalfPennyNotNil => Err(Overflow),
            Rounding::UpToWholePercent => up(self.numerator, self.denominator).checked_mul(100).ok_or(Overflow),
            Rounding::DownToWhole => self.numerator.div_euclid(self.denominator).checked_mul(100).ok_or(Overflow),
            Rounding::PenceCutOff => (self.numerator / self.denominator).checked_mul(100).ok_or(Overflow),
        }
    }

    /// Does something with two ratios, without their common factors where they don't fit otherwise: finding those is what costs, and so long
    /// chains of shares stay small all the same.
    fn with<T>(self, other: Self, work: impl Fn(Self, Self) -> Option<T>) -> Result<T, Overflow> {
        work(self, other).or_else(|| work(self.reduced(), other.reduced())).ok_or(Overflow)
    }

    fn reduced(self) -> Self {
        let divisor = greatest_common_divisor(self.numerator.unsigned_abs(), self.denominator.unsigned_abs());
        match i128::try_from(divisor) {
            Ok(divisor) => Self { numerator: self.numerator / divisor, denominator: self.denominator / divisor },
            Err(_) => self,
        }
    }
}

/// Half up in magnitude: HMRC's rule for amounts that may go up or down (VATREC12030) and the service's own for VAT totals.
fn half_away_from_zero(numerator: i128, denominator: i128) -> Result<i128, Overflow> {
    let quotient = numerator / denominator;
    let remainder = (numerator % denominator).checked_mul(2).ok_or(Overflow)?;
    Ok(if remainder.abs() >= denominator { quotient + numerator.signum() } else { quotient })
}

/// A rounded figure, but one part in the direction of the exact one where it has become nil and that was not.
fn not_nil(rounded: i128, exact: i128) -> i128 {
    if rounded == 0 { exact.signum() } else { rounded }
}

/// Towards the larger number; a whole number stays.
fn up(numerator: i128, denominator: i128) -> i128 {
    let quotient = numerator.div_euclid(denominator);
    if numerator.rem_euclid(denominator) == 0 { quotient } else { quotient + 1 }
}

fn greatest_common_divisor(mut left: u128, mut right: u128) -> u128 {
    while right != 0 {
        (left, right) = (right, left % right);
    }
    left.max(1)
}
