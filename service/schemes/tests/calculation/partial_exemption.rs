//! Partial exemption of a period beyond its limits, which `boundaries.rs` holds: the percentage of the year before, the annual test,
//! and what would turn each test (VAT Regulations 1995 regs 101(2)(f), 105A, 106, 106ZA).

use crate::support::*;
use vat_schemes::answer::{DeMinimis, PartialExemption, RecoveryBasis, Severity, WarningCode};
use vat_schemes::figures::{AnnualTestGiven, Figures, PartialExemptionGiven, Spend, Supply, Treatment, UsedFor};
use vat_schemes::money::Money;

/// A quarter of taxable and exempt supplies, and of input tax for taxable, exempt and both.
fn partly_exempt(taxable: &str, exempt: &str, tax: [&str; 3]) -> Figures {
    let mut figures = quarter();
    figures.sales = vec![sale(Treatment::ZeroRated, net(taxable)), sale(Treatment::Exempt, net(exempt))];
    figures.purchases = UsedFor::ALL
        .iter()
        .zip(tax)
        .map(|(used_for, vat)| {
            let mut line = purchase(Spend::Services, net_and_vat("200000.00", vat));
            line.used_for = *used_for;
            line
        })
        .collect();
    figures
}

fn calculated(figures: &Figures) -> PartialExemption {
    answer(figures).standard.partial_exemption.expect("a calculation")
}

fn with_previous(mut figures: Figures, percentage: &str) -> Figures {
    figures.partial_exemption.previous_year_percentage = Some(percentage.parse().expect("a percentage"));
    figures
}

fn with_annual_test(mut figures: Figures, de_minimis: bool, expected: &str) -> Figures {
    figures.partial_exemption.annual_test =
        Some(AnnualTestGiven { previous_year_de_minimis: de_minimis, expected_input_tax: money(expected) });
    figures
}

const FAILING: (&str, &str, [&str; 3]) = ("30000.00", "20000.00", ["2500.00", "2400.00", "2600.00"]);

fn failing() -> Figures {
    partly_exempt(FAILING.0, FAILING.1, FAILING.2)
}

#[test]
fn the_percentage_of_the_year_before_takes_the_place_of_the_periods_own() {
    let own = calculated(&failing());
    assert_eq!(own.percentage_basis, Some(RecoveryBasis::Period));
    assert_eq!((own.recoverable, own.not_recovered), (money("4060.00"), money("3440.00")));
    let previous = calculated(&with_previous(failing(), "84"));
    assert_eq!(previous.percentage_basis, Some(RecoveryBasis::PreviousYear));
    assert_eq!(previous.percentage.map(|found| found.to_string()).as_deref(), Some("84"));
    assert_eq!((previous.recoverable, previous.not_recovered), (money("4684.00"), money("2816.00")));
    // It is what shares residual input tax in the main test too, so that it can turn it.
    assert!(
        !calculated(&with_previous(partly_exempt("1.00", "99.00", ["5000.00", "0.00", "3750.00"]), "49.99")).main_test
    );
    assert!(calculated(&with_previous(partly_exempt("1.00", "99.00", ["5000.00", "0.00", "3750.00"]), "50")).main_test);
}

/// With the percentage of the year before no fraction of the period is needed, and residual input tax is shared by it even before the
/// year's first exempt supplies.
#[test]
fn the_percentage_of_the_year_before_stands_where_supplies_give_none() {
    let mut nothing_sold = partly_exempt("0.00", "0.00", ["0.00", "0.00", "5000.00"]);
    nothing_sold.purchases[1].amounts = net_and_vat("200000.00", "3000.00");
    assert_eq!(refused(&nothing_sold), [("partial_exemption_percentage_unknown".to_owned(), "/sales".to_owned())]);
    assert_eq!(calculated(&with_previous(nothing_sold, "60")).recoverable, money("3000.00"));
    let none_exempt = partly_exempt("90000.00", "0.00", ["0.00", "0.00", "10000.00"]);
    assert!(answer(&none_exempt).standard.partial_exemption.is_none());
    assert_eq!(calculated(&with_previous(none_exempt, "70")).recoverable, money("7000.00"));
    // Without residual input tax there is nothing to share.
    let wholly_taxable = partly_exempt("90000.00", "0.00", ["10000.00", "0.00", "0.00"]);
    assert!(answer(&with_previous(wholly_taxable, "70")).standard.partial_exemption.is_none());
}

/// Reg 106ZA: the year before de minimis, and not more than £1,000,000 expected; a penny more fails.
#[test]
fn the_annual_test_needs_both_of_its_conditions() {
    assert_eq!(calculated(&failing()).annual_test, None);
    for (de_minimis, expected, met) in [
        (true, "1000000.00", true),
        (true, "1000000.01", false),
        (false, "1000000.00", false),
        (false, "1000000.01", false),
        (true, "0.00", true),
    ] {
        let found = calculated(&with_annual_test(failing(), de_minimis, expected));
        assert_eq!(found.annual_test, Some(met), "{de_minimis} {expected}");
        let recovered = if met { "7500.00" } else { "4060.00" };
        assert_eq!(found.recoverable, money(recovered), "{de_minimis} {expected}");
        assert!(!found.is_de_minimis(), "the period's own tests stay as they are");
        let answer = answer(&with_annual_test(failing(), de_minimis, expected));
        let warning = answer.warnings.iter().find(|warning| warning.code == WarningCode::StandardPartlyExempt);
        let warning = warning.expect("a warning");
        assert_eq!(warning.severity == Severity::Information, met, "{}", warning.message);
        assert_eq!(warning.message.contains("By the annual test"), met, "{}", warning.message);
        assert!(warning.message.contains(&format!("£{recovered}")), "{}", warning.message);
        let reason = found.annual_test_reason.expect("a reason");
        assert_eq!(reason.contains("may not be used"), !met, "{reason}");
        assert_eq!(reason.contains("was not de minimis"), !de_minimis, "{reason}");
        assert_eq!(reason.contains("more than £1000000.00"), expected == "1000000.01", "{reason}");
    }
}

/// Reverse charge purchases of a flat rate user are shared by the same percentage and let through by the same test.
#[test]
fn both_schemes_take_what_the_year_says() {
    let mut figures = failing();
    figures.purchases[2].supply = Supply::DomesticReverseCharge;
    figures.purchases[2].amounts = net_and_vat("100000.00", "20000.00");
    let found = answer(&with_previous(figures.clone(), "84"));
    assert_eq!(found.flat_rate.boxes.box4, money("16800.00"));
    let found = answer(&with_annual_test(figures, true, "90000.00"));
    assert_eq!(found.flat_rate.boxes.box4, money("20000.00"));
    assert_eq!(found.standard.boxes.box4, money("24900.00"));
}

/// The amounts that a failed test names let it pass, and a penny less does not; those that a passed test names still pass, and a penny
/// more does not.
#[test]
fn what_would_change_a_test_is_true_to_the_penny() {
    let passes = |taxable: Money, exempt: Money, tax: [Money; 3], index: usize| {
        let texts = tax.map(|vat| vat.to_string());
        let figures = partly_exempt(&taxable.to_string(), &exempt.to_string(), [&texts[0], &texts[1], &texts[2]]);
        calculated(&figures).tests[index].passed
    };
    let penny = money("0.01");
    let plus = |left: Money, right: Money| left.plus(right).expect("fits");
    let minus = |left: Money, right: Money| left.minus(right).expect("fits");
    for (taxable, exempt, tax) in [
        ("30000.00", "10000.00", ["900.00", "300.00", "600.00"]),
        ("30000.01", "10000.00", ["9000.00", "300.00", "0.00"]),
        ("20000.00", "20000.00", ["900.00", "375.00", "600.00"]),
        ("80000.00", "20000.00", ["20000.00", "1876.00", "0.00"]),
        ("15000.00", "25000.01", ["100.00", "900.00", "60.00"]),
        ("10000.00", "30000.00", ["999.99", "1000.00", "0.00"]),
        ("50000.00", "49999.99", ["3.33", "1500.00", "0.00"]),
    ] {
        let (taxable, exempt, tax) = (money(taxable), money(exempt), tax.map(money));
        let texts = tax.map(|vat| vat.to_string());
        let found =
            calculated(&partly_exempt(&taxable.to_string(), &exempt.to_string(), [&texts[0], &texts[1], &texts[2]]));
        for (index, test) in found.tests.iter().enumerate() {
            let say = format!("{:?} {taxable} {exempt} {tax:?}: {}", test.test, test.what_would_change);
            let amounts = amounts_in(&test.what_would_change);
            assert_eq!(test.passed, test.what_would_change.starts_with("Passed"), "{say}");
            assert_eq!(
                test.passed,
                !test.headroom.expect("a measure").is_negative()
                    && !test.exempt_part_headroom.expect("a measure").is_negative(),
                "{say}"
            );
            let by = |input_tax: Money, supplies: Money| {
                let mut changed = tax;
                changed[1] = plus(changed[1], input_tax);
                passes(taxable, plus(exempt, supplies), changed, index)
            };
            match (test.test, test.passed) {
                (DeMinimis::Main, true) => {
                    let room = amounts.first().copied().unwrap_or(Money::ZERO);
                    assert!(by(room, Money::ZERO) && !by(plus(room, penny), Money::ZERO), "{say}");
                }
                (DeMinimis::Main, false) => {
                    let less = amounts[0].negated();
                    assert!(by(less, Money::ZERO) && !by(plus(less, penny), Money::ZERO), "{say}");
                }
                (_, true) => {
                    let room = |what: &str| {
                        let no_more = test.what_would_change.contains(&format!("no more {what}"));
                        if no_more { Money::ZERO } else { amounts[usize::from(what != "input" && amounts.len() > 1)] }
                    };
                    let (input, supplies) = (room("input"), room("exempt"));
                    assert!(by(input, supplies), "{say}");
                    assert!(!by(plus(input, penny), supplies) && !by(input, plus(supplies, penny)), "{say}");
                }
                (_, false) => {
                    let input = if test.what_would_change.contains("less input") { amounts[0] } else { Money::ZERO };
                    let last = amounts.last().copied().unwrap_or(Money::ZERO);
                    let supplies = if test.what_would_change.contains("less exempt") { last } else { Money::ZERO };
                    assert!(by(input.negated(), supplies.negated()), "{say}");
                    if !input.is_zero() {
                        assert!(!by(minus(penny, input), supplies.negated()), "{say}");
                    }
                    if !supplies.is_zero() {
                        assert!(!by(input.negated(), minus(penny, supplies)), "{say}");
                    }
                }
            }
        }
    }
}

/// The amounts in a sentence, in their order.
fn amounts_in(sentence: &str) -> Vec<Money> {
    sentence
        .split('£')
        .skip(1)
        .map(|rest| {
            let end = rest.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(rest.len());
            money(rest[..end].trim_end_matches('.'))
        })
        .collect()
}

/// A limit that is no whole penny is shown as the most that passes: 92 of 365 days of £7,500 are £1,890.4109…; 89 are £1,828.7671….
#[test]
fn the_limit_of_an_odd_period_is_the_most_that_passes() {
    for (end, shown, most) in [("2025-07-01", "1890.41", "1890.41"), ("2025-06-28", "1828.77", "1828.76")] {
        for (vat, passes) in [(money(most), true), (money(most).plus(money("0.01")).expect("fits"), false)] {
            let mut figures = partly_exempt("10000.00", "1.00", ["0.00", "0.00", &vat.to_string()]);
            figures.period.end = day(end);
            let found = calculated(&figures);
            assert_eq!(found.de_minimis_limit, money(shown));
            assert_eq!((found.tests[0].limit, found.tests[0].passed), (money(most), passes), "{end} {vat}");
        }
    }
}

#[test]
fn a_caution_says_whose_percentage_it_is() {
    let said = |figures: &Figures, part: &str| answer(figures).cautions.iter().any(|caution| caution.contains(part));
    assert!(said(&failing(), "last year's percentage may govern"));
    let given = with_previous(failing(), "84");
    assert!(
        !said(&given, "last year's percentage may govern") && said(&given, "last year's percentage as it was given")
    );
    let mut without = partly_exempt("0.00", "0.00", ["0.00", "100.00", "0.00"]);
    without.partial_exemption = PartialExemptionGiven::default();
    assert!(said(&without, "without a percentage"));
}

/// Reg 101(2)(d): without supplies that are nought or more and together more than nought there is no fraction, so residual input tax
/// cannot be shared.
#[test]
fn supplies_below_nought_give_no_fraction() {
    let unknown = [("partial_exemption_percentage_unknown".to_owned(), "/sales".to_owned())];
    for (taxable, exempt) in [("-0.01", "1000.00"), ("1000.00", "-0.01"), ("0.00", "0.00"), ("-1.00", "1.00")] {
        let with = |residual| partly_exempt(taxable, exempt, ["5000.00", "4000.00", residual]);
        assert_eq!(refused(&with("3000.00")), unknown, "{taxable} and {exempt}");
        // Without residual input tax there is nothing to share: what was used for taxable supplies is recovered.
        let calculation = calculated(&with("0.00"));
        assert_eq!(
            (calculation.percentage, calculation.recoverable),
            (None, money("5000.00")),
            "{taxable} and {exempt}"
        );
        assert_eq!(calculation.exempt_input_tax, Some(money("4000.00")), "{taxable} and {exempt}");
    }
    assert!(calculated(&partly_exempt("0.01", "0.00", ["5000.00", "4000.00", "3000.00"])).percentage.is_some());
}

/// Taxable supplies alone recover all residual input tax; where credit notes leave none, nothing shares it.
#[test]
fn residual_input_tax_without_exempt_supplies() {
    for (taxable, recovered) in [("0.01", Some("5000.00")), ("0.00", None), ("-0.01", None)] {
        let mut figures = partly_exempt(taxable, "0.00", ["0.00", "0.00", "5000.00"]);
        figures.sales[1].treatment = Treatment::ZeroRated;
        match recovered {
            Some(recovered) => {
                let standard = answer(&figures).standard;
                assert_eq!((standard.partial_exemption, standard.input_tax), (None, money(recovered)));
            }
            None => assert_eq!(
                refused(&figures),
                [("partial_exemption_percentage_unknown".to_owned(), "/sales".to_owned())],
                "{taxable}"
            ),
        }
    }
}

/// PE24500: the first simplified test alone is enough, as where a supplier credits input tax of taxable supplies.
#[test]
fn the_first_test_is_enough_alone() {
    for (taxable, passes, recovered) in [("-225.00", true, "1875.00"), ("-224.99", false, "-224.99")] {
        let calculation = calculated(&partly_exempt("80000.00", "20000.00", [taxable, "2100.00", "0.00"]));
        assert_eq!((calculation.simplified_test_1, calculation.simplified_test_2), (passes, false));
        assert!(!calculation.main_test);
        assert_eq!(calculation.recoverable, money(recovered));
    }
}
