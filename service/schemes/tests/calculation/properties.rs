//! What must hold of every request: nothing depends on the order of lines, a line of nought changes nothing, splitting a
//! line changes nothing, credits cancel charges, boxes add up, and every combination of words is answered.

use crate::support::*;
use proptest::prelude::*;
use vat_schemes::answer::Answer;
use vat_schemes::figures::{
    Amounts, Figures, Nature, Purchase, PurchaseTreatment, Sale, Spend, Supply, Treatment, UsedFor,
};
use vat_schemes::money::{Money, Rounding};

fn pence(range: std::ops::Range<i64>) -> impl Strategy<Value = Money> {
    range.prop_map(|pence| Money::from_pence(i128::from(pence)).expect("an amount"))
}

/// Treatments that need no date of their own.
fn treatment() -> impl Strategy<Value = Treatment> {
    proptest::sample::select(
        Treatment::ALL.iter().copied().filter(|word| *word != Treatment::HospitalityRated).collect::<Vec<_>>(),
    )
}

fn a_sale() -> impl Strategy<Value = Sale> {
    (treatment(), proptest::sample::select(Nature::ALL), pence(-500_000..5_000_000)).prop_map(
        |(treatment, nature, net)| Sale {
            treatment,
            nature,
            amounts: Amounts { net: Some(net), ..Amounts::default() },
            part: None,
            percentage_at_supply: None,
            northern_ireland_to_eu: false,
        },
    )
}

fn a_purchase() -> impl Strategy<Value = Purchase> {
    let words = (
        proptest::sample::select(Spend::ALL),
        proptest::sample::select(Supply::ALL),
        proptest::sample::select(UsedFor::ALL),
        proptest::option::of(proptest::sample::select(&["100", "62.5", "0"][..])),
        proptest::option::of(any::<bool>()),
    );
    (words, pence(-100_000..1_000_000)).prop_map(|((spend, supply, used_for, business_use, for_main_activity), net)| {
        Purchase {
            supply,
            used_for,
            business_use: business_use.map(|share| share.parse().expect("a percentage")),
            for_main_activity,
            ..purchase(spend, Amounts { net: Some(net), ..Amounts::default() })
        }
    })
}

/// A quarter with supplies enough for the partial exemption fraction to be formed.
fn a_quarter() -> impl Strategy<Value = Figures> {
    (proptest::collection::vec(a_sale(), 0..6), proptest::collection::vec(a_purchase(), 0..6)).prop_map(
        |(mut sales, purchases)| {
            sales.push(sale(Treatment::ZeroRated, net("9000000.00")));
            sales.push(sale(Treatment::Exempt, net("100000.00")));
            Figures { sales, purchases, ..quarter() }
        },
    )
}

/// All figures of an answer: everything but what names lines by their position.
fn figures_of(answer: &Answer) -> impl PartialEq + std::fmt::Debug + use<> {
    (
        answer.standard.clone(),
        answer.flat_rate.clone(),
        answer.goods_test.clone().map(|mut test| {
            test.lines.clear();
            test
        }),
        answer.comparison.clone(),
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_lines_does_not_matter(figures in a_quarter()) {
        let mut reversed = figures.clone();
        reversed.sales.reverse();
        reversed.purchases.reverse();
        prop_assert_eq!(figures_of(&answer(&figures)), figures_of(&answer(&reversed)));
    }

    #[test]
    fn a_line_of_nought_changes_nothing(figures in a_quarter(), treatment in treatment(), spend in proptest::sample::select(Spend::ALL)) {
        let mut more = figures.clone();
        more.sales.push(sale(treatment, net("0.00")));
        more.purchases.push(purchase(spend, net("0.00")));
        prop_assert_eq!(figures_of(&answer(&figures)), figures_of(&answer(&more)));
    }

    #[test]
    fn a_line_and_its_credit_note_change_nothing(figures in a_quarter(), more in a_sale(), bought in a_purchase()) {
        let mut both = figures.clone();
        for sign in [1, -1] {
            let turned = |amount: Option<Money>| amount.map(|amount| if sign > 0 { amount } else { amount.negated() });
            let mut sold = more.clone();
            sold.amounts.net = turned(sold.amounts.net);
            both.sales.push(sold);
            let mut line = bought.clone();
            line.amounts.net = turned(line.amounts.net);
            both.purchases.push(line);
        }
        let (before, mut after) = (answer(&figures), answer(&both));
        // A reverse charge and its credit note leave a calculation of noughts behind: it is shown, and changes no figure.
        after.flat_rate.partial_exemption = before.flat_rate.partial_exemption.clone();
        prop_assert_eq!(figures_of(&before), figures_of(&after));
    }

    #[test]
    fn a_total_may_be_given_in_two_lines(figures in a_quarter(), first in pence(0..1_000_000), second in pence(0..1_000_000)) {
        let line = |net: Money, vat: Money| sale(Treatment::StandardRated, Amounts { net: Some(net), vat: Some(vat), gross: None });
        let mut apart = figures.clone();
        apart.sales.extend([line(first, second), line(second, first)]);
        let mut together = figures;
        let sum = first.plus(second).expect("a sum");
        together.sales.push(line(sum, sum));
        prop_assert_eq!(figures_of(&answer(&apart)), figures_of(&answer(&together)));
    }

    #[test]
    fn boxes_add_up_and_the_schemes_are_told_apart(figures in a_quarter()) {
        let answer = answer(&figures);
        for (boxes, payable) in [(answer.standard.boxes, answer.standard.vat_payable), (answer.flat_rate.boxes, answer.flat_rate.vat_payable)] {
            prop_assert_eq!(boxes.box1.plus(boxes.box2), Ok(boxes.box3));
            prop_assert_eq!(boxes.box3.minus(boxes.box4), Ok(payable));
            prop_assert_eq!(payable.magnitude(), boxes.box5);
        }
        let difference = answer.flat_rate.vat_payable.minus(answer.standard.vat_payable).expect("a difference");
        prop_assert_eq!(answer.comparison.flat_rate_minus_standard, difference);
        prop_assert_eq!(answer.comparison.saving, difference.magnitude());
        let parts = answer.flat_rate.parts.iter().try_fold(Money::ZERO, |sum, part| sum.plus(part.turnover));
        prop_assert_eq!(parts, Ok(answer.flat_rate.turnover));
    }

    #[test]
    fn net_made_gross_and_back_is_the_same_net(net in pence(-9_999_999..9_999_999), rate in proptest::sample::select(&["20", "5", "12.5"][..])) {
        let rate: vat_schemes::money::Percentage = rate.parse().expect("a rate");
        let vat = net.share(rate).and_then(|exact| exact.to_money(Rounding::NearestPenny)).expect("VAT");
        let gross = net.plus(vat).expect("gross");
        let fraction = rate.vat_fraction().expect("a fraction");
        let back = gross.exact().times(fraction).and_then(|exact| exact.to_money(Rounding::NearestPenny)).expect("VAT");
        // The VAT of a rounded gross may lie a penny apart, never more.
        prop_assert!(back.minus(vat).expect("a difference").magnitude() <= Money::from_pence(1).expect("a penny"));
        prop_assert_eq!(gross.minus(vat), Ok(net));
    }
}

#[test]
fn every_treatment_with_every_nature_is_answered() {
    for treatment in Treatment::ALL {
        for nature in Nature::ALL {
            let mut figures = period("2021-01-01", "2021-03-31");
            let mut line = sale(*treatment, net("1000.00"));
            line.nature = *nature;
            figures.sales = vec![line];
            let answer = answer(&figures);
            let rated = match treatment {
                Treatment::StandardRated => "200.00",
                Treatment::ReducedRated | Treatment::HospitalityRated => "50.00",
                _ => "0.00",
            };
            assert_eq!(answer.standard.output_tax, money(rated), "{treatment:?} {nature:?}");
            let on_return = if *treatment == Treatment::NonBusiness { "0" } else { "1000" };
            assert_eq!(answer.standard.boxes.box6.to_string(), on_return, "{treatment:?} {nature:?}");
        }
    }
}

#[test]
fn every_spend_with_every_supply_use_and_treatment_is_answered() {
    for spend in Spend::ALL {
        for supply in Supply::ALL {
            for used_for in UsedFor::ALL {
                for treatment in [None].into_iter().chain(PurchaseTreatment::ALL.iter().copied().map(Some)) {
                    let mut figures = quarter();
                    if treatment == Some(PurchaseTreatment::HospitalityRated) {
                        continue;
                    }
                    let mut line = purchase(*spend, net("3000.00"));
                    line.supply = *supply;
                    line.used_for = *used_for;
                    line.treatment = treatment;
                    figures.sales = vec![sale(Treatment::ZeroRated, net("1000.00"))];
                    figures.purchases = vec![line];
                    let answer = answer(&figures);
                    let accounted = answer.standard.output_tax;
                    assert_eq!(
                        accounted,
                        answer.flat_rate.boxes.box3.minus(answer.flat_rate.parts[0].vat).expect("a difference")
                    );
                    assert_eq!(
                        accounted.is_zero(),
                        *supply == Supply::Ordinary || !carries_vat(*spend, treatment),
                        "{spend:?} {supply:?}"
                    );
                    // Neither side ever gets back more VAT than there was.
                    let vat = money("600.00");
                    assert!(answer.standard.input_tax <= vat && answer.flat_rate.input_tax <= vat);
                }
            }
        }
    }
}

fn carries_vat(spend: Spend, treatment: Option<PurchaseTreatment>) -> bool {
    spend != Spend::WagesAndOtherOutsideScope
        && matches!(treatment, None | Some(PurchaseTreatment::StandardRated | PurchaseTreatment::ReducedRated))
}
