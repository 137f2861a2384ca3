//! The VAT of one invoice (Notice 700 section 17; VATA 1994 s 19; Notice 731): each way of rounding at its edges, rates at
//! their dates, one price shared out, a payment.

use crate::support::*;
use proptest::prelude::*;
use vat_schemes::invoice::{
    Charge, InvoiceAnswer, InvoiceFigures, InvoiceLine, InvoiceRounding, InvoiceTreatment, IssuedBy, Prices,
};
use vat_schemes::money::Money;
use vat_schemes::refusal::{RefusalCode, Refusals};
use vat_schemes::work_out_invoice;
use vat_schemes::workings::{Formula, Workings};

fn line(treatment: InvoiceTreatment, charge: Charge) -> InvoiceLine {
    InvoiceLine { treatment, charge }
}

fn net(text: &str) -> InvoiceLine {
    line(InvoiceTreatment::StandardRated, Charge::Net(money(text)))
}

fn gross(text: &str) -> InvoiceLine {
    line(InvoiceTreatment::StandardRated, Charge::Gross(money(text)))
}

fn units(price: &str, quantity: &str) -> InvoiceLine {
    let charge =
        Charge::Units { unit_price: price.parse().expect("a price"), quantity: quantity.parse().expect("a quantity") };
    line(InvoiceTreatment::StandardRated, charge)
}

fn invoice(rounding: InvoiceRounding, lines: Vec<InvoiceLine>) -> InvoiceFigures {
    InvoiceFigures {
        date: day("2025-06-30"),
        issued_by: IssuedBy::InvoiceTrader,
        rounding,
        price: None,
        lines,
        payment: None,
    }
}

fn worked_out(figures: &InvoiceFigures) -> InvoiceAnswer {
    let answer = work_out_invoice(law(), figures, Workings::kept())
        .unwrap_or_else(|Refusals(refusals)| panic!("refused: {refusals:?}"));
    assert_formulas_fit(&answer.workings);
    answer
}

fn refused_for(figures: &InvoiceFigures) -> Vec<(RefusalCode, String)> {
    match work_out_invoice(law(), figures, Workings::kept()) {
        Ok(_) => panic!("answered"),
        Err(Refusals(refusals)) => {
            refusals.into_iter().map(|refusal| (refusal.code, refusal.place.to_string())).collect()
        }
    }
}

fn vat_of(rounding: InvoiceRounding, lines: Vec<InvoiceLine>) -> String {
    worked_out(&invoice(rounding, lines)).invoice.vat.to_string()
}

/// 20% of these prices lies just under, at and just over the boundary of each way; a credit note is its mirror.
#[test]
fn each_way_rounds_the_whole_at_its_edges() {
    use InvoiceRounding as Way;
    for (way, price, quantity, vat) in [
        (Way::InvoiceTotalDown, "0.0499", "1", "0.00"),
        (Way::InvoiceTotalDown, "0.05", "1", "0.01"),
        (Way::InvoiceTotalDown, "0.0999", "1", "0.01"),
        (Way::InvoiceTotalNearestPenny, "0.0249", "1", "0.00"),
        (Way::InvoiceTotalNearestPenny, "0.025", "1", "0.01"),
        (Way::LineNearestPenny, "0.0249", "1", "0.00"),
        (Way::LineNearestPenny, "0.025", "1", "0.01"),
        (Way::LineNearestHalfPenny, "0.0374", "1", "0.00"),
        (Way::LineNearestHalfPenny, "0.0375", "1", "0.01"),
        (Way::LineDownToTenthOfPenny, "0.0499", "1", "0.00"),
        (Way::LineDownToTenthOfPenny, "0.05", "1", "0.01"),
        (Way::UnitThreeDigits, "0.0124", "10", "0.02"),
        (Way::UnitThreeDigits, "0.0125", "10", "0.03"),
        (Way::UnitNearestPennyNotNil, "0.0001", "3", "0.03"),
        (Way::UnitNearestPennyNotNil, "0.0749", "3", "0.03"),
        (Way::UnitNearestPennyNotNil, "0.075", "3", "0.06"),
        (Way::UnitNearestPennyNotNil, "0", "3", "0.00"),
        (Way::UnitNearestHalfPennyNotNil, "0.0001", "4", "0.02"),
        (Way::UnitNearestHalfPennyNotNil, "0.0374", "4", "0.02"),
        (Way::UnitNearestHalfPennyNotNil, "0.0375", "4", "0.04"),
    ] {
        assert_eq!(vat_of(way, vec![units(price, quantity)]), vat, "{way:?} of {quantity} at {price}");
        let credit = if vat == "0.00" { vat.to_owned() } else { format!("-{vat}") };
        let negative = if price == "0" { "0".to_owned() } else { format!("-{price}") };
        assert_eq!(vat_of(way, vec![units(&negative, quantity)]), credit, "{way:?} of a credit at {price}");
    }
}

/// Ten lines of 0.7p VAT: by line and for the whole come out differently, each as its way says.
#[test]
fn the_level_of_rounding_matters() {
    use InvoiceRounding as Way;
    let lines = || vec![units("0.0379", "1"); 10];
    for (way, vat) in [
        (Way::InvoiceTotalDown, "0.07"),
        (Way::InvoiceTotalNearestPenny, "0.08"),
        (Way::LineDownToTenthOfPenny, "0.07"),
        (Way::LineNearestPenny, "0.10"),
        (Way::LineNearestHalfPenny, "0.10"),
        (Way::UnitThreeDigits, "0.08"),
        (Way::UnitNearestPennyNotNil, "0.10"),
        (Way::UnitNearestHalfPennyNotNil, "0.10"),
    ] {
        assert_eq!(vat_of(way, lines()), vat, "{way:?}");
    }
}

/// A line without a unit price is one unit; prices with VAT are worked by their fraction.
#[test]
fn lines_without_units_and_prices_with_vat() {
    let one = vat_of(InvoiceRounding::UnitNearestPennyNotNil, vec![net("0.02"), units("0.02", "1")]);
    assert_eq!(one, "0.02");
    let answer = worked_out(&invoice(InvoiceRounding::LineNearestPenny, vec![gross("0.03"), gross("0.02")]));
    assert_eq!(answer.invoice.prices, Prices::Gross);
    assert_eq!(
        answer.invoice.lines.iter().map(|line| line.vat.expect("VAT").to_string()).collect::<Vec<_>>(),
        ["0.01", "0.00"]
    );
    assert_eq!((answer.invoice.net, answer.invoice.gross), (money("0.04"), money("0.05")));
}

/// VATA 1994 s 19: the step of a line's VAT shows the rate on a price without VAT, and the fraction of one with it.
#[test]
fn the_step_of_the_vat_shows_how_it_is_made() {
    for (line, formula, operands) in [
        (net("10.00"), "{} × {} ÷ 100", &["10.00", "20"][..]),
        (gross("12.00"), "{} × {} ÷ (100 + {})", &["12.00", "20", "20"]),
    ] {
        let answer = worked_out(&invoice(InvoiceRounding::LineNearestPenny, vec![line]));
        let step = answer.workings.iter().find(|step| step.label == "VAT of the line").expect("a step");
        assert_eq!(step.formula, Formula::Text(formula));
        let shown: Vec<String> = step.operands.iter().map(|operand| operand.value.to_string()).collect();
        assert_eq!(shown, operands);
    }
}

/// Which of two prices is with VAT and which without is said.
#[test]
fn mixed_prices_are_told_apart() {
    for (lines, detail) in [
        (vec![net("1.00"), gross("1.20")], "The price of this line is with VAT, that of line 1 is without VAT."),
        (vec![gross("1.20"), net("1.00")], "The price of this line is without VAT, that of line 1 is with VAT."),
    ] {
        let figures = invoice(InvoiceRounding::LineNearestPenny, lines);
        let Err(Refusals(refusals)) = work_out_invoice(law(), &figures, Workings::kept()) else { panic!("answered") };
        assert!(refusals[0].detail.starts_with(detail), "{}", refusals[0].detail);
    }
}

#[test]
fn rates_follow_the_tax_point() {
    let rate = |treatment, date: &str, gross: &str| {
        let mut figures =
            invoice(InvoiceRounding::LineNearestPenny, vec![line(treatment, Charge::Gross(money(gross)))]);
        figures.date = day(date);
        match work_out_invoice(law(), &figures, Workings::not_kept()) {
            Ok(answer) => answer.invoice.vat.to_string(),
            Err(Refusals(refusals)) => format!("{} {}", refusals[0].code.as_str(), refusals[0].place),
        }
    };
    let hospitality = |date| rate(InvoiceTreatment::HospitalityRated, date, "1890.00");
    for (date, vat) in [
        ("2020-07-14", "rate_not_in_force /lines/0/treatment"),
        ("2020-07-15", "90.00"),
        ("2021-09-30", "90.00"),
        ("2021-10-01", "210.00"),
        ("2022-03-31", "210.00"),
        ("2022-04-01", "rate_not_in_force /lines/0/treatment"),
    ] {
        assert_eq!(hospitality(date), vat, "{date}");
    }
    for (treatment, vat) in [
        (InvoiceTreatment::StandardRated, "315.00"),
        (InvoiceTreatment::ReducedRated, "90.00"),
        (InvoiceTreatment::ZeroRated, "0.00"),
        (InvoiceTreatment::Exempt, "0.00"),
    ] {
        assert_eq!(rate(treatment, "2011-01-04", "1890.00"), vat);
        assert_eq!(rate(treatment, "2011-01-03", "1890.00"), "date_outside_law /date");
    }
}

#[test]
fn retailers_round_to_the_nearest_penny_only() {
    for way in InvoiceRounding::ALL.iter().copied() {
        let mut figures = invoice(way, vec![gross("1.00")]);
        figures.issued_by = IssuedBy::Retailer;
        let open = matches!(way, InvoiceRounding::LineNearestPenny | InvoiceRounding::InvoiceTotalNearestPenny);
        if open {
            assert_eq!(worked_out(&figures).invoice.vat, money("0.17"), "{way:?}");
        } else {
            assert_eq!(refused_for(&figures), [(RefusalCode::RoundingNotForRetailers, "/rounding".to_owned())]);
        }
    }
}

#[test]
fn every_refusal_comes_at_once_with_its_place() {
    let mut figures = invoice(
        InvoiceRounding::InvoiceTotalDown,
        vec![net("1.00"), line(InvoiceTreatment::HospitalityRated, Charge::Gross(money("1.00")))],
    );
    figures.issued_by = IssuedBy::Retailer;
    figures.date = day("2010-12-31");
    assert_eq!(
        refused_for(&figures),
        [
            (RefusalCode::DateOutsideLaw, "/date".to_owned()),
            (RefusalCode::RoundingNotForRetailers, "/rounding".to_owned()),
            (RefusalCode::NetAndGrossMixed, "/lines/1".to_owned()),
            (RefusalCode::RateNotInForce, "/lines/1/treatment".to_owned()),
        ]
    );
}

/// Zero-rated and exempt lines fit prices of both kinds.
#[test]
fn what_carries_no_vat_fits_both_kinds_of_prices() {
    for charge in [Charge::Net(money("5.00")), Charge::Gross(money("5.00"))] {
        for treatment in [InvoiceTreatment::ZeroRated, InvoiceTreatment::Exempt] {
            for (other, total) in [(net("1.00"), "6.20"), (gross("1.00"), "6.00")] {
                let figures = invoice(InvoiceRounding::LineNearestPenny, vec![line(treatment, charge), other]);
                assert_eq!(worked_out(&figures).invoice.gross, money(total));
            }
        }
    }
}

#[test]
fn one_price_is_shared_to_the_penny() {
    let shares = |price: &str, alone: &[&str]| {
        let lines = alone.iter().map(|price| gross(price)).collect();
        let mut figures = invoice(InvoiceRounding::LineNearestPenny, lines);
        figures.price = Some(money(price));
        let answer = worked_out(&figures);
        assert_eq!(answer.invoice.gross, money(price));
        answer.invoice.lines.iter().map(|line| line.gross.expect("a price").to_string()).collect::<Vec<_>>()
    };
    assert_eq!(shares("10.00", &["6.00", "1.50", "1.50", "6.00"]), ["4.00", "1.00", "1.00", "4.00"]);
    assert_eq!(shares("1.00", &["1.00", "1.00", "1.00"]), ["0.33", "0.34", "0.33"]);
    assert_eq!(shares("0.01", &["1.00", "1.00", "0.00"]), ["0.01", "0.00", "0.00"]);
    assert_eq!(shares("-10.00", &["6.00", "9.00"]), ["-4.00", "-6.00"]);
}

#[test]
fn one_price_needs_something_to_share_it_by() {
    let refused = |lines| {
        let mut figures = invoice(InvoiceRounding::LineNearestPenny, lines);
        figures.price = Some(money("10.00"));
        refused_for(&figures)
    };
    let needs = RefusalCode::PriceNeedsShelfPrices;
    assert_eq!(
        refused(vec![net("1.00"), units("1", "1")]),
        [(needs, "/lines/0".to_owned()), (needs, "/lines/1".to_owned())]
    );
    assert_eq!(refused(vec![gross("0.00")]), [(needs, "/price".to_owned())]);
    assert_eq!(refused(vec![]), [(needs, "/price".to_owned())]);
    assert_eq!(
        refused(vec![gross("-0.01"), gross("1.00")]),
        [(RefusalCode::AmountNegative, "/lines/0/gross".to_owned())]
    );
}

#[test]
fn a_payment_is_at_most_what_the_invoice_comes_to() {
    let with = |payment: &str, lines| {
        let mut figures = invoice(InvoiceRounding::LineNearestPenny, lines);
        figures.payment = Some(money(payment));
        figures
    };
    let all = worked_out(&with("1.20", vec![net("1.00")])).payment.expect("a payment");
    assert_eq!((all.amount, all.vat), (money("1.20"), money("0.20")));
    assert_eq!(worked_out(&with("0.00", vec![net("1.00")])).payment.expect("a payment").vat, money("0.00"));
    for figures in [with("1.21", vec![net("1.00")]), with("0.00", vec![net("-1.00")]), with("0.00", vec![])] {
        assert_eq!(refused_for(&figures), [(RefusalCode::PaymentMoreThanInvoice, "/payment".to_owned())]);
    }
}

/// The largest amounts that can be asked for come out; what could only be worked out inexactly is refused.
#[test]
fn the_largest_amounts_are_exact_or_refused() {
    let most = units("9999999999999.9999", "999999999.999");
    let mut figures = invoice(InvoiceRounding::UnitThreeDigits, vec![most; 499]);
    figures.lines.push(line(InvoiceTreatment::ZeroRated, Charge::Net(money("0.01"))));
    assert!(worked_out(&figures).invoice.gross.is_positive());
    figures.payment = Some(money("9999999999999.99"));
    assert_eq!(refused_for(&figures), [(RefusalCode::AmountTooLarge, String::new())]);
}

fn any_line(with_vat: bool) -> impl Strategy<Value = InvoiceLine> {
    let treatments: Vec<InvoiceTreatment> =
        InvoiceTreatment::ALL.iter().copied().filter(|word| *word != InvoiceTreatment::HospitalityRated).collect();
    (proptest::sample::select(treatments), 0..3_i64, -50_000..500_000_i64, 1..5_000_i64).prop_map(
        move |(treatment, kind, amount, thousandths)| {
            let price = Money::from_pence(i128::from(amount)).expect("an amount");
            let charge = match (with_vat, kind) {
                (true, _) => Charge::Gross(price),
                (false, 0) => Charge::Net(price),
                (false, _) => Charge::Units {
                    unit_price: format!("{}.{:04}", amount.abs() / 10_000, amount.abs() % 10_000)
                        .parse()
                        .expect("a price"),
                    quantity: format!("{}.{:03}", thousandths / 1_000, thousandths % 1_000)
                        .parse()
                        .expect("a quantity"),
                },
            };
            InvoiceLine { treatment, charge }
        },
    )
}

fn any_invoice() -> impl Strategy<Value = InvoiceFigures> {
    let lines = prop_oneof![
        proptest::collection::vec(any_line(false), 0..12),
        proptest::collection::vec(any_line(true), 0..12)
    ];
    (proptest::sample::select(InvoiceRounding::ALL), lines).prop_map(|(rounding, lines)| invoice(rounding, lines))
}

proptest! {
    /// Totals are the sums of their rates, net and VAT make gross, and lines worked out one by one add up to the whole
    /// within the penny that is rounded last.
    #[test]
    fn everything_adds_up(figures in any_invoice()) {
        let answer = worked_out(&figures).invoice;
        let sum = |amounts: Vec<Money>| amounts.into_iter().try_fold(Money::ZERO, Money::plus).expect("a sum");
        prop_assert_eq!(sum(answer.by_rate.iter().map(|rate| rate.net).collect()), answer.net);
        prop_assert_eq!(sum(answer.by_rate.iter().filter_map(|rate| rate.vat).collect()), answer.vat);
        prop_assert_eq!(sum(answer.by_rate.iter().map(|rate| rate.gross).collect()), answer.gross);
        prop_assert_eq!(answer.net.plus(answer.vat).expect("a sum"), answer.gross);
        let taxed = answer.lines.iter().filter(|line| line.treatment != InvoiceTreatment::Exempt);
        let by_line: Option<Vec<_>> = taxed.map(|line| line.vat).collect();
        if let Some(by_line) = by_line {
            let exact = by_line.into_iter().try_fold(vat_schemes::money::FinePounds::ZERO, |sum, vat| sum.plus(vat)).expect("a sum");
            let apart = exact.exact().minus(answer.vat.exact()).expect("a difference");
            prop_assert!(apart.less_than(vat_schemes::money::Ratio::new(1, 100).expect("a penny")).expect("compared"));
            prop_assert!(vat_schemes::money::Ratio::new(-1, 100).expect("a penny").less_than(apart).expect("compared"));
        }
        for line in &answer.lines {
            if let (Some(net), Some(vat), Some(gross)) = (line.net, line.vat, line.gross) {
                prop_assert_eq!(net.plus(vat).expect("a sum"), gross);
            }
        }
    }

    /// A credit note takes back exactly what its invoice charged.
    #[test]
    fn a_credit_note_mirrors_its_invoice(figures in any_invoice()) {
        let mut credit = figures.clone();
        for line in &mut credit.lines {
            line.charge = match line.charge {
                Charge::Net(net) => Charge::Net(net.negated()),
                Charge::Gross(gross) => Charge::Gross(gross.negated()),
                Charge::Units { unit_price, quantity } => Charge::Units {
                    unit_price: vat_schemes::money::FinePounds::ZERO.minus(unit_price).expect("a price"),
                    quantity,
                },
            };
        }
        let (invoice, credit) = (worked_out(&figures).invoice, worked_out(&credit).invoice);
        prop_assert_eq!(invoice.vat.negated(), credit.vat);
        prop_assert_eq!(invoice.gross.negated(), credit.gross);
    }

    /// A payment's shares make it to the penny, and a payment of everything holds all the VAT.
    #[test]
    fn a_payment_is_shared_to_the_penny(mut figures in any_invoice(), part in 0..=100_i128) {
        let gross = worked_out(&figures).invoice.gross;
        prop_assume!(gross.is_positive());
        figures.payment = Some(Money::from_pence(gross.pence() * part / 100).expect("an amount"));
        let answer = worked_out(&figures);
        let payment = answer.payment.expect("a payment");
        let sum = |amounts: Vec<Money>| amounts.into_iter().try_fold(Money::ZERO, Money::plus).expect("a sum");
        prop_assert_eq!(sum(payment.by_rate.iter().map(|share| share.amount).collect()), payment.amount);
        prop_assert_eq!(sum(payment.by_rate.iter().filter_map(|share| share.vat).collect()), payment.vat);
        if part == 100 {
            prop_assert_eq!(payment.vat, answer.invoice.vat);
        }
    }
}
