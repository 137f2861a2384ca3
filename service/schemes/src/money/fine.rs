use std::fmt;
use std::str::FromStr;

use super::{Money, NotANumber, Overflow, Ratio, Shown, decimal};

/// Parts of a pound that [`FinePounds`] counts: a price of four decimals times a quantity of three needs seven.
const PARTS: i128 = 10_000_000;
/// Decimals of those parts.
const DECIMALS: u32 = 7;
/// Decimals of a price of one unit.
const PRICE_DECIMALS: usize = 4;
/// Decimals of a quantity.
const QUANTITY_DECIMALS: usize = 3;

/// An amount in pounds that may be finer than a penny, exact to seven decimals: the VAT of a unit or a line, the price of a
/// unit. Never a negative zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FinePounds(i128);

impl FinePounds {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// The sum of two amounts.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn plus(self, other: Self) -> Result<Self, Overflow> {
        self.0.checked_add(other.0).map(Self).ok_or(Overflow)
    }

    /// The difference of two amounts.
    ///
    /// # Errors
    /// [`Overflow`] where it does not fit.
    pub fn minus(self, other: Self) -> Result<Self, Overflow> {
        self.0.checked_sub(other.0).map(Self).ok_or(Overflow)
    }

    /// So many of it, exactly.
    ///
    /// # Errors
    /// [`Overflow`] where the product does not fit, or is finer than seven decimals.
    pub fn times(self, quantity: Quantity) -> Result<Self, Overflow> {
        let product = self.0.checked_mul(i128::from(quantity.0)).ok_or(Overflow)?;
        if product % Quantity::PARTS == 0 { Ok(Self(product / Quantity::PARTS)) } else { Err(Overflow) }
    }

    /// The amount as an exact ratio of whole numbers.
    #[must_use]
    pub fn exact(self) -> Ratio {
        Ratio::of_parts(self.0, PARTS)
    }

    /// Whether it is less than nothing.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// Pounds with at least two decimals and no more noughts than that: `12.00`, `0.867`, `-0.0025`.
    #[must_use]
    pub fn shown(self) -> Shown {
        Shown::parts::<DECIMALS, 2>(self.0)
    }

    /// An amount from a count of equal parts of a pound.
    pub(super) fn from_parts(count: i128, parts_of_a_pound: i128) -> Result<Self, Overflow> {
        let scaled = count.checked_mul(PARTS).ok_or(Overflow)?;
        if scaled % parts_of_a_pound == 0 { Ok(Self(scaled / parts_of_a_pound)) } else { Err(Overflow) }
    }
}

impl TryFrom<Money> for FinePounds {
    type Error = Overflow;

    fn try_from(money: Money) -> Result<Self, Overflow> {
        Self::from_parts(money.pence(), 100)
    }
}

impl FromStr for FinePounds {
    type Err = NotANumber;

    /// Reads a price of one unit, `"0.0125"`: an optional minus sign, up to 13 digits without a leading zero, at most four
    /// decimals.
    fn from_str(text: &str) -> Result<Self, NotANumber> {
        decimal(text, PRICE_DECIMALS).map(|value| Self(i128::from(value) * 1_000))
    }
}

impl fmt::Display for FinePounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown().fmt(f)
    }
}

/// How many units: not negative, at most three decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Quantity(i64);

impl Quantity {
    const PARTS: i128 = 1_000;

    /// The shortest form: `12`, `2.5`.
    #[must_use]
    pub fn shown(self) -> Shown {
        Shown::parts::<3, 0>(self.0.into())
    }
}

impl FromStr for Quantity {
    type Err = NotANumber;

    /// Reads `"12"` or `"2.5"`: no sign, up to 13 digits without a leading zero, at most three decimals.
    fn from_str(text: &str) -> Result<Self, NotANumber> {
        if text.starts_with('-') {
            return Err(NotANumber::Grammar);
        }
        decimal(text, QUANTITY_DECIMALS).map(Self)
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.shown().fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::{FinePounds, Quantity};
    use crate::money::{Money, NotANumber, Overflow, Ratio, Rounding};

    fn fine(text: &str) -> FinePounds {
        text.parse().expect("an amount")
    }

    #[test]
    fn amounts_are_shown_to_the_penny_at_least() {
        for (text, shown) in [
            ("0", "0.00"),
            ("-0", "0.00"),
            ("12", "12.00"),
            ("4.338", "4.338"),
            ("0.0120", "0.012"),
            ("-0.0024", "-0.0024"),
            ("9999999999999.9999", "9999999999999.9999"),
        ] {
            assert_eq!(fine(text).to_string(), shown);
        }
        assert_eq!("0.00001".parse::<FinePounds>(), Err(NotANumber::TooManyDecimals));
        assert_eq!("12345678901234".parse::<FinePounds>(), Err(NotANumber::TooLarge));
    }

    #[test]
    fn quantities_are_shown_in_their_shortest_form() {
        for (text, shown) in [("1", "1"), ("2.50", "2.5"), ("0.125", "0.125"), ("1.005", "1.005"), ("0", "0")] {
            assert_eq!(text.parse::<Quantity>().expect("a quantity").to_string(), shown);
        }
        assert_eq!("1.2345".parse::<Quantity>(), Err(NotANumber::TooManyDecimals));
        assert_eq!("-1".parse::<Quantity>(), Err(NotANumber::Grammar));
    }

    #[test]
    fn products_are_exact_or_none() {
        let product = |price: &str, quantity: &str| fine(price).times(quantity.parse().expect("a quantity"));
        assert_eq!(product("0.0125", "0.125").expect("it fits").to_string(), "0.0015625");
        assert_eq!(product("9999999999999.9999", "9999999999.999").map(|_| ()), Ok(()));
        let finer = product("0.0125", "0.125").and_then(|value| value.times("0.125".parse().expect("a quantity")));
        assert_eq!(finer, Err(Overflow));
    }

    #[test]
    fn pence_become_fine_pounds_and_sums_stay_exact() {
        let penny = FinePounds::try_from(Money::from_pence(-1).expect("it fits")).expect("it fits");
        assert_eq!(penny.to_string(), "-0.01");
        assert!(penny.is_negative() && !FinePounds::ZERO.is_negative());
        assert_eq!(penny.plus(fine("0.0125")).expect("it fits").minus(fine("0.0025")), Ok(FinePounds::ZERO));
    }

    /// Each way at its boundary and just beside it; amounts below nought go as their magnitudes do.
    #[test]
    fn each_way_turns_at_its_boundary() {
        let ways = [
            (
                Rounding::TowardsNoughtToTenthOfPenny,
                [("8676", "0.867"), ("8679", "0.867"), ("8680", "0.868"), ("9", "0.00")],
            ),
            (Rounding::NearestTenthOfPenny, [("24", "0.002"), ("25", "0.003"), ("4", "0.00"), ("5", "0.001")]),
            (Rounding::NearestHalfPenny, [("24", "0.00"), ("25", "0.005"), ("74", "0.005"), ("75", "0.01")]),
            (Rounding::NearestHalfPennyNotNil, [("24", "0.005"), ("1", "0.005"), ("74", "0.005"), ("0", "0.00")]),
            (Rounding::NearestPenny, [("49", "0.00"), ("50", "0.01"), ("149", "0.01"), ("150", "0.02")]),
            (Rounding::NearestPennyNotNil, [("49", "0.01"), ("1", "0.01"), ("149", "0.01"), ("0", "0.00")]),
            (Rounding::TowardsNoughtToPenny, [("99", "0.00"), ("100", "0.01"), ("8676", "0.86"), ("199", "0.01")]),
        ];
        for (way, cases) in ways {
            for (ten_thousandths, expected) in cases {
                let exact: i128 = ten_thousandths.parse().expect("a number");
                let round = |value| Ratio::new(value, 10_000).and_then(|ratio| ratio.to_fine(way)).expect("it fits");
                assert_eq!(round(exact).to_string(), expected, "{way:?} of {ten_thousandths}");
                let credit = if expected == "0.00" { expected.to_owned() } else { format!("-{expected}") };
                assert_eq!(round(-exact).to_string(), credit, "{way:?} of -{ten_thousandths}");
            }
        }
    }

    /// A figure in pence is never asked for in a way that is finer than pence.
    #[test]
    fn ways_finer_than_a_penny_make_no_pence() {
        for way in [
            Rounding::TowardsNoughtToTenthOfPenny,
            Rounding::NearestTenthOfPenny,
            Rounding::NearestHalfPenny,
            Rounding::NearestHalfPennyNotNil,
        ] {
            assert_eq!(Ratio::whole(1).to_money(way), Err(Overflow));
        }
        assert_eq!(Ratio::new(1, 3).and_then(|third| third.to_fine(Rounding::None)), Err(Overflow));
    }
}
