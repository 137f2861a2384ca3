//! Amounts and percentages: what is read, refused and written, held to a reader of its own; sums and every way to round, held to
//! fractions of unbounded whole numbers. The input is one text a line.

#![no_main]

use std::fmt::{Debug, Display};
use std::str::FromStr;

use libfuzzer_sys::fuzz_target;
use num_bigint::BigInt;
use num_rational::BigRational;
use serde_json::json;
use vat_schemes::money::{FinePounds, Money, NotANumber, Overflow, Percentage, Quantity, Ratio, Rounding};
use vat_schemes_api::wire::v1::{comparison_request, goods_test_request, read_invoice};

fuzz_target!(|data: &[u8]| {
    let Ok(text) = std::str::from_utf8(data) else { return };
    let lines: Vec<&str> = text.lines().collect();
    for line in &lines {
        read(line);
        wire(line);
    }
    let amounts: Vec<Money> = lines.iter().filter_map(|line| line.parse().ok()).collect();
    let percentages: Vec<Percentage> = lines.iter().filter_map(|line| line.parse().ok()).collect();
    for pair in amounts.windows(2) {
        let [one, other] = pair else { continue };
        add(*one, *other);
        divide(one.pence(), other.pence());
    }
    for (amount, percentage) in amounts.iter().zip(&percentages) {
        shares(*amount, *percentage);
    }
    let prices = lines.iter().filter_map(|line| line.parse::<FinePounds>().ok());
    let quantities = lines.iter().filter_map(|line| line.parse::<Quantity>().ok());
    for (price, quantity) in prices.zip(quantities) {
        times(price, quantity);
    }
});

/// The grammar, read once more: the value in ten-thousandths, and the digits on each side of the point.
fn plain(text: &str) -> Option<(i128, usize, usize)> {
    let mut characters = text.chars().peekable();
    let negative = characters.next_if_eq(&'-').is_some();
    let (mut value, mut whole, mut decimals) = (BigInt::ZERO, Vec::new(), None);
    for character in characters {
        match (character, &mut decimals) {
            ('.', None) => decimals = Some(0),
            ('0'..='9', count) => {
                value = value * 10 + character.to_digit(10)?;
                match count {
                    None => whole.push(character),
                    Some(count) => *count += 1,
                }
            }
            _ => return None,
        }
    }
    let well = !whole.is_empty() && (whole.len() == 1 || whole[0] != '0') && decimals != Some(0);
    let decimals = decimals.unwrap_or(0);
    let scaled = if decimals > 4 { BigInt::ZERO } else { value * 10_u32.pow(4 - decimals as u32) };
    let scaled = i128::try_from(scaled).unwrap_or(i128::MAX);
    well.then_some((if negative { -scaled } else { scaled }, whole.len(), decimals))
}

/// What is read is what stands there, and what is written is read as the same.
fn read(text: &str) {
    let expected = |most_decimals| match plain(text) {
        None => Err(NotANumber::Grammar),
        Some((_, _, decimals)) if decimals > most_decimals => Err(NotANumber::TooManyDecimals),
        Some((_, whole, _)) if whole > 13 => Err(NotANumber::TooLarge),
        Some((value, _, _)) => Ok(value),
    };
    let money = round_trip::<Money>(text);
    assert_eq!(money.map(|money| money.pence() * 100), expected(2), "{text:?}");
    if let Ok(money) = money {
        let shown = money.to_string();
        assert!(shown.split_once('.').is_some_and(|(_, pence)| pence.len() == 2), "{shown}");
        assert!(shown != "-0.00" && money.is_negative() == shown.starts_with('-'), "{shown}");
        assert_eq!(Money::from_pence(money.pence()), Ok(money));
        assert_eq!(money.negated().negated(), money);
        assert_eq!(i8::from(money.is_zero()) + i8::from(money.is_positive()) + i8::from(money.is_negative()), 1);
        assert_eq!(money.whole_pounds().to_string(), (money.pence() / 100).to_string());
    }
    let fine = round_trip::<FinePounds>(text);
    assert_eq!(fine.map(|fine| of(fine.exact())), expected(4).map(|value| parts(value, 10_000)), "{text:?}");
    let percentage = round_trip::<Percentage>(text);
    match (percentage, text.starts_with('-'), expected(2)) {
        (got, true, _) => assert_eq!(got, Err(NotANumber::OutsideHundred), "{text:?}"),
        (got, false, Ok(value)) if value > 1_000_000 => assert_eq!(got, Err(NotANumber::OutsideHundred), "{text:?}"),
        (got, false, expected) => assert_eq!(got.map(|got| got.hundredths() * 100), expected, "{text:?}"),
    }
    let quantity = round_trip::<Quantity>(text);
    match text.starts_with('-') {
        true => assert_eq!(quantity, Err(NotANumber::Grammar), "{text:?}"),
        false => assert_eq!(quantity.map(|_| ()), expected(3).map(|_| ()), "{text:?}"),
    }
}

fn round_trip<T: FromStr<Err = NotANumber> + Display + PartialEq + Debug + Copy>(text: &str) -> Result<T, NotANumber> {
    let value = text.parse::<T>();
    assert_eq!(value, text.parse::<T>(), "{text:?}");
    if let Ok(value) = value {
        let shown = value.to_string();
        assert_eq!(shown.parse(), Ok(value), "{text:?} written as {shown}");
        assert!(!shown.starts_with("-0.00") || shown.contains(|digit| ('1'..='9').contains(&digit)), "{shown}");
        if let Ok(again) = shown.parse::<T>() {
            assert_eq!(again.to_string(), shown);
        }
    }
    value
}

/// A request takes the same amounts as the calculation, and the amount that a refusal proposes is one.
fn wire(text: &str) {
    let goods = json!({
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "turnover": "1.00",
        "relevant_goods": text,
    });
    let taken = taken(goods_test_request(goods.to_string().as_bytes()).err(), "/relevant_goods");
    let expected = text.parse::<Money>().is_ok_and(|_| !text.starts_with('-'));
    assert_eq!(taken.is_none(), expected, "{text:?}: {taken:?}");
    let sale = json!({
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "business": { "registered_on": "2019-02-01", "sector": "management-consultancy" },
        "sales": [{ "treatment": "standard_rated", "gross": text }],
        "marginal_tax_percentage": text,
    });
    let problem = comparison_request(sale.to_string().as_bytes()).err();
    let amount = self::taken(problem.clone(), "/sales/0/gross");
    assert_eq!(amount.is_none(), text.parse::<Money>().is_ok(), "{text:?}: {amount:?}");
    let percentage = self::taken(problem, "/marginal_tax_percentage");
    assert_eq!(percentage.is_none(), text.parse::<Percentage>().is_ok(), "{text:?}: {percentage:?}");
    if let Some(proposed) = amount.as_deref().and_then(proposal) {
        assert!(proposed.parse::<Money>().is_ok(), "{text:?}: {amount:?}");
    }
    let invoice = json!({
        "date": "2026-04-01",
        "lines": [{ "treatment": "standard_rated", "unit_price": text, "quantity": text }],
    });
    let problem = read_invoice(invoice.to_string().as_bytes()).err();
    let price = self::taken(problem.clone(), "/lines/0/unit_price");
    assert_eq!(price.is_none(), text.parse::<FinePounds>().is_ok(), "{text:?}: {price:?}");
    let quantity = self::taken(problem, "/lines/0/quantity");
    let nine_digits = plain(text).is_some_and(|(_, whole, _)| whole <= 9);
    assert_eq!(quantity.is_none(), text.parse::<Quantity>().is_ok() && nine_digits, "{text:?}: {quantity:?}");
}

/// What a refusal says of a place.
fn taken(problem: Option<vat_schemes_api::problem::Problem>, pointer: &str) -> Option<String> {
    let errors = problem.map(|problem| problem.errors).unwrap_or_default();
    errors.into_iter().find(|error| error.pointer == pointer).map(|error| error.detail)
}

/// The amount at the end of a sentence: `…: "1234.50".`
fn proposal(sentence: &str) -> Option<&str> {
    sentence.strip_suffix("\".")?.rsplit_once(": \"").map(|(_, proposed)| proposed)
}

fn add(one: Money, other: Money) {
    let sum = one.plus(other).expect("two amounts of 13 digits have a sum");
    assert_eq!(sum.pence(), one.pence() + other.pence());
    assert_eq!(sum.minus(other), Ok(one));
    assert_eq!(other.plus(one), Ok(sum));
    assert_eq!(one.cmp(&other), one.pence().cmp(&other.pence()));
    assert_eq!(one.magnitude().pence(), one.pence().abs());
}

/// One amount over another, in every way of rounding.
fn divide(numerator: i128, denominator: i128) {
    let Ok(ratio) = Ratio::new(numerator, denominator) else {
        assert!(denominator <= 0);
        return;
    };
    round_each(ratio, &parts(numerator, denominator));
}

fn shares(amount: Money, percentage: Percentage) {
    let share = amount.share(percentage).expect("a share of 13 digits");
    let exact = parts(amount.pence(), 100) * parts(percentage.hundredths(), 10_000);
    round_each(share, &exact);
    let fraction = percentage.vat_fraction().expect("a fraction");
    let within = amount.exact().times(fraction).expect("a product");
    let exact = parts(amount.pence(), 100) * parts(percentage.hundredths(), 10_000 + percentage.hundredths());
    round_each(within, &exact);
    assert_eq!(
        share.minus(within).and_then(|rest| rest.plus(within)).and_then(|back| back.compare(share)),
        Ok(std::cmp::Ordering::Equal)
    );
    if percentage.hundredths() > 0 {
        let back = share.over(percentage.as_fraction()).expect("a quotient");
        assert_eq!(back.compare(amount.exact()), Ok(std::cmp::Ordering::Equal));
    }
    assert_eq!(of(share).cmp(&of(within)), share.compare(within).expect("they can be compared"));
}

fn round_each(ratio: Ratio, exact: &BigRational) {
    for rounding in Rounding::ALL {
        let money = ratio.to_money(rounding);
        let finer = matches!(
            rounding,
            Rounding::TowardsNoughtToTenthOfPenny
                | Rounding::NearestTenthOfPenny
                | Rounding::NearestHalfPenny
                | Rounding::NearestHalfPennyNotNil
        );
        match rounded(exact, rounding, 100) {
            Some(expected) if !finer => {
                assert_eq!(money.map(|money| parts(money.pence(), 100)), Ok(expected), "{exact} {rounding:?}")
            }
            _ => assert_eq!(money, Err(Overflow), "{exact} {rounding:?}"),
        }
        let fine_way = !matches!(
            rounding,
            Rounding::None
                | Rounding::NearestHundredth
                | Rounding::UpToPenny
                | Rounding::DownToPenny
                | Rounding::UpToWholePercent
                | Rounding::UpToTwoDecimals
                | Rounding::DownToWhole
                | Rounding::PenceCutOff
        );
        if fine_way {
            let fine = ratio.to_fine(rounding).map(|fine| of(fine.exact()));
            assert_eq!(fine.ok(), rounded(exact, rounding, 100), "{exact} {rounding:?}");
        }
    }
}

/// The definition of each way to round.
fn rounded(exact: &BigRational, rounding: Rounding, hundredths: i128) -> Option<BigRational> {
    let unit = |parts_of_one: i128, way: fn(&BigRational) -> BigRational| {
        let parts_of_one = parts(parts_of_one, 1);
        way(&(exact * &parts_of_one)) / parts_of_one
    };
    let not_nil = |rounded: BigRational, part: i128| {
        let nil = BigRational::from_integer(BigInt::ZERO);
        match (rounded == nil, exact.cmp(&nil)) {
            (true, std::cmp::Ordering::Greater) => parts(1, part),
            (true, std::cmp::Ordering::Less) => parts(-1, part),
            _ => rounded,
        }
    };
    Some(match rounding {
        Rounding::None => Some(exact.clone()).filter(|exact| (exact * parts(hundredths, 1)).is_integer())?,
        // The library's own rounding goes half away from nought.
        Rounding::NearestPenny | Rounding::NearestHundredth => unit(100, BigRational::round),
        Rounding::UpToPenny | Rounding::UpToTwoDecimals => unit(100, BigRational::ceil),
        Rounding::DownToPenny => unit(100, BigRational::floor),
        Rounding::TowardsNoughtToPenny => unit(100, BigRational::trunc),
        Rounding::TowardsNoughtToTenthOfPenny => unit(1000, BigRational::trunc),
        Rounding::NearestTenthOfPenny => unit(1000, BigRational::round),
        Rounding::NearestHalfPenny => unit(200, BigRational::round),
        Rounding::NearestHalfPennyNotNil => not_nil(unit(200, BigRational::round), 200),
        Rounding::NearestPennyNotNil => not_nil(unit(100, BigRational::round), 100),
        Rounding::UpToWholePercent => unit(1, BigRational::ceil),
        Rounding::DownToWhole => unit(1, BigRational::floor),
        Rounding::PenceCutOff => unit(1, BigRational::trunc),
    })
}

fn times(price: FinePounds, quantity: Quantity) {
    // Four decimals times three are seven.
    let product = price.times(quantity).expect("a product");
    let number: BigRational =
        plain(&quantity.to_string()).map(|(value, _, _)| parts(value, 10_000)).expect("a quantity");
    assert_eq!(of(product.exact()), of(price.exact()) * number);
    assert_eq!(product.minus(price).and_then(|rest| rest.plus(price)), Ok(product));
}

fn parts(count: i128, of_one: i128) -> BigRational {
    BigRational::new(count.into(), of_one.into())
}

/// The value of a ratio, found by what may be asked of it: its amount in ten-millionths.
fn of(ratio: Ratio) -> BigRational {
    let text = format!("{ratio:?}");
    let mut numbers =
        text.split(|character: char| !character.is_ascii_digit() && character != '-').filter(|part| !part.is_empty());
    let mut next = || numbers.next().and_then(|number| number.parse().ok()).expect("two whole numbers");
    parts(next(), next())
}
