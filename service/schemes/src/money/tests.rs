use super::*;

fn money(text: &str) -> Money {
    text.parse().expect("an amount")
}

fn percentage(text: &str) -> Percentage {
    text.parse().expect("a percentage")
}

#[test]
fn an_amount_is_read_and_written_with_two_decimals() {
    for (text, written) in [
        ("0", "0.00"),
        ("-0", "0.00"),
        ("-0.00", "0.00"),
        ("5", "5.00"),
        ("5.1", "5.10"),
        ("-5.01", "-5.01"),
        ("9999999999999.99", "9999999999999.99"),
    ] {
        assert_eq!(money(text).to_string(), written, "{text}");
    }
}

#[test]
fn what_is_not_an_amount_is_refused() {
    for (text, why) in [
        ("", NotANumber::Grammar),
        ("-", NotANumber::Grammar),
        ("+1", NotANumber::Grammar),
        (".5", NotANumber::Grammar),
        ("5.", NotANumber::Grammar),
        ("00.1", NotANumber::Grammar),
        ("1e3", NotANumber::Grammar),
        ("1_000", NotANumber::Grammar),
        ("1,000", NotANumber::Grammar),
        ("1.2.3", NotANumber::Grammar),
        ("--1", NotANumber::Grammar),
        (" 1", NotANumber::Grammar),
        ("1\u{a0}", NotANumber::Grammar),
        ("\u{ff11}", NotANumber::Grammar),
        ("NaN", NotANumber::Grammar),
        ("1.005", NotANumber::TooManyDecimals),
        ("10000000000000", NotANumber::TooLarge),
        ("12345678901234567890123456789", NotANumber::TooLarge),
    ] {
        assert_eq!(text.parse::<Money>(), Err(why), "{text:?}");
    }
}

#[test]
fn a_percentage_is_written_in_its_shortest_form() {
    for (text, written) in [("14.50", "14.5"), ("14", "14"), ("0", "0"), ("0.05", "0.05"), ("100", "100")] {
        assert_eq!(percentage(text).to_string(), written);
    }
    assert_eq!("100.01".parse::<Percentage>(), Err(NotANumber::OutsideHundred));
    assert_eq!("-1".parse::<Percentage>(), Err(NotANumber::OutsideHundred));
    assert_eq!("1.234".parse::<Percentage>(), Err(NotANumber::TooManyDecimals));
}

#[test]
fn half_a_penny_goes_up_and_less_goes_down_whatever_the_sign() {
    // VATREC12030 and VAT Notice 700 para 17.6 for the two positive cases; the negative ones mirror them.
    for (thousandths, written) in
        [(864, "0.86"), (865, "0.87"), (-864, "-0.86"), (-865, "-0.87"), (5, "0.01"), (-4, "0.00")]
    {
        let exact = Ratio::new(thousandths, 1000).expect("a ratio");
        assert_eq!(exact.to_money(Rounding::NearestPenny).expect("fits").to_string(), written, "{thousandths}");
    }
}

#[test]
fn each_rounding_at_and_beside_a_whole_value() {
    let thirds = |n| Ratio::new(n, 3).expect("a ratio");
    assert_eq!(thirds(250).to_money(Rounding::UpToPenny), Ok(money("83.34")));
    assert_eq!(thirds(249).to_money(Rounding::UpToPenny), Ok(money("83.00")));
    assert_eq!(thirds(250).to_money(Rounding::PenceCutOff), Ok(money("83.00")));
    assert_eq!(thirds(250).to_money(Rounding::DownToWhole), Ok(money("83.00")));
    assert_eq!(thirds(-250).to_money(Rounding::DownToWhole), Ok(money("-84.00")));
    assert_eq!(thirds(249).to_money(Rounding::DownToWhole), Ok(money("83.00")));
    assert_eq!(thirds(-250).to_money(Rounding::PenceCutOff), Ok(money("-83.00")));
    assert_eq!(thirds(1).to_percentage(Rounding::UpToWholePercent), Ok(percentage("34")));
    assert_eq!(thirds(1).to_percentage(Rounding::UpToTwoDecimals), Ok(percentage("33.34")));
    assert_eq!(Ratio::new(85, 100).expect("a ratio").to_percentage(Rounding::UpToWholePercent), Ok(percentage("85")));
    assert_eq!(thirds(1).to_money(Rounding::None), Err(Overflow));
    assert_eq!(thirds(3).to_money(Rounding::None), Ok(money("1.00")));
}

#[test]
fn the_vat_fraction_is_the_rate_over_a_hundred_and_the_rate() {
    for (rate, numerator, denominator) in [("20", 1, 6), ("5", 1, 21), ("12.5", 1, 9), ("0", 0, 1)] {
        let fraction = percentage(rate).vat_fraction().expect("a rate");
        let expected = Ratio::new(numerator, denominator).expect("a ratio");
        assert_eq!(fraction.compare(expected), Ok(std::cmp::Ordering::Equal), "{rate}");
    }
}

#[test]
fn a_sum_that_does_not_fit_says_so() {
    let (penny, bound) = (money("0.01"), 10_i128.pow(28) - 1);
    let largest = Money::from_pence(bound).expect("the largest amount");
    let smallest = largest.negated();
    assert_eq!(largest.plus(penny), Err(Overflow));
    assert_eq!(largest.minus(penny.negated()), Err(Overflow));
    assert_eq!(smallest.minus(penny), Err(Overflow));
    assert_eq!(smallest.plus(penny.negated()), Err(Overflow));
    assert_eq!(smallest.plus(penny).and_then(|amount| amount.minus(penny)), Ok(smallest));
    assert_eq!(smallest.magnitude(), largest);
    for beyond in [bound + 1, -bound - 1, i128::MAX, i128::MIN] {
        assert_eq!(Money::from_pence(beyond), Err(Overflow), "{beyond}");
    }
    assert_eq!(Ratio::whole(i128::MAX).times(Ratio::whole(2)).map(|_| ()), Err(Overflow));
    assert!(Ratio::new(1, 0).is_err());
}

#[test]
fn a_figure_is_nought_above_it_or_below_it() {
    for (pence, sign) in [(-1, -1), (0, 0), (1, 1), (100, 1), (-100, -1)] {
        let amount = Money::from_pence(pence).expect("fits");
        assert_eq!((amount.is_negative(), amount.is_zero(), amount.is_positive()), (sign < 0, sign == 0, sign > 0));
        let share = Share::from_hundredths(pence).expect("fits");
        assert_eq!(share.is_negative(), sign < 0, "{share}");
        // Less than a pound is no pound.
        assert_eq!(amount.whole_pounds().is_negative(), pence == -100, "{amount}");
    }
    assert!(percentage("0").is_zero() && !percentage("0.01").is_zero());
    assert_eq!(format!("{:?}", money("-1.5")), "£-1.50");
}

/// A reader of the workings tells the ways apart by their words.
#[test]
fn each_rounding_has_a_word_of_its_own() {
    let words: std::collections::BTreeSet<&str> = Rounding::ALL.iter().map(|rounding| rounding.as_str()).collect();
    assert_eq!(words.len(), Rounding::ALL.len());
    assert_eq!((Rounding::None.as_str(), Rounding::NearestPenny.as_str()), ("none", "nearest_penny_half_up"));
}

#[test]
fn pounds_lose_their_pence_towards_nought() {
    for (text, pounds) in [("1666.67", "1666"), ("-12.50", "-12"), ("0.99", "0"), ("-0.99", "0")] {
        assert_eq!(money(text).whole_pounds().to_string(), pounds);
    }
}
