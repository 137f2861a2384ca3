//! How net, VAT and gross of a line complete each other, and which lines are refused (VATA 1994 ss 2 and 19).

use crate::support::*;
use vat_schemes::figures::{Amounts, Dates, Figures, PurchaseTreatment, Sale, Spend, Treatment};

fn amounts(net: Option<&str>, vat: Option<&str>, gross: Option<&str>) -> Amounts {
    Amounts { net: net.map(money), vat: vat.map(money), gross: gross.map(money) }
}

fn selling(sale: Sale) -> Figures {
    let mut figures = quarter();
    figures.sales = vec![sale];
    figures
}

fn one(code: &str, place: &str) -> [(String, String); 1] {
    [(code.to_owned(), place.to_owned())]
}

/// At 20%, whichever figures are given: output tax, and the value in box 6.
#[test]
fn any_figure_or_two_or_three_tell_a_line() {
    for (given, vat, net) in [
        (amounts(Some("100.00"), None, None), "20.00", "100"),
        (amounts(None, Some("20.00"), None), "20.00", "100"),
        (amounts(None, None, Some("120.00")), "20.00", "100"),
        (amounts(Some("100.00"), Some("19.90"), None), "19.90", "100"),
        (amounts(Some("100.00"), None, Some("119.50")), "19.50", "100"),
        (amounts(None, Some("19.50"), Some("120.50")), "19.50", "101"),
        (amounts(Some("100.00"), Some("19.90"), Some("119.90")), "19.90", "100"),
        // To the nearest penny: 3.3333… and 16.6666…
        (amounts(None, None, Some("20.00")), "3.33", "16"),
        (amounts(None, None, Some("100.00")), "16.67", "83"),
        (amounts(Some("-0.13"), None, None), "-0.03", "0"),
    ] {
        let answer = answer(&selling(sale(Treatment::StandardRated, given)));
        let found = (answer.standard.output_tax, answer.standard.boxes.box6.to_string());
        assert_eq!(found, (money(vat), net.to_owned()), "{given:?}");
        assert_eq!(warned(&answer).iter().filter(|code| **code == "vat_differs_from_rate").count(), 0, "{given:?}");
    }
}

#[test]
fn three_figures_add_up_to_the_penny() {
    let of = |gross| selling(sale(Treatment::StandardRated, amounts(Some("100.00"), Some("20.00"), Some(gross))));
    assert_eq!(answer(&of("120.00")).standard.output_tax, money("20.00"));
    for gross in ["119.99", "120.01"] {
        assert_eq!(refused(&of(gross)), one("amounts_do_not_add_up", "/sales/0"));
    }
    let nothing = selling(sale(Treatment::StandardRated, Amounts::default()));
    assert_eq!(refused(&nothing), one("vat_alone_not_enough", "/sales/0"));
}

/// What carries no VAT has none in its figures, to the penny.
#[test]
fn a_line_without_vat() {
    let of = |given| selling(sale(Treatment::ZeroRated, given));
    for given in [
        amounts(Some("100.00"), None, None),
        amounts(None, None, Some("100.00")),
        amounts(Some("100.00"), Some("0.00"), None),
        amounts(Some("100.00"), Some("0.00"), Some("100.00")),
    ] {
        let answer = answer(&of(given));
        assert_eq!(
            (answer.standard.output_tax, answer.flat_rate.turnover),
            (money("0.00"), money("100.00")),
            "{given:?}"
        );
    }
    for (given, code, place) in [
        (amounts(Some("100.00"), Some("0.01"), None), "vat_not_chargeable", "/sales/0/vat"),
        (amounts(Some("100.00"), Some("-0.01"), None), "vat_not_chargeable", "/sales/0/vat"),
        (amounts(Some("100.00"), None, Some("100.01")), "vat_not_chargeable", "/sales/0/gross"),
        (amounts(None, Some("0.00"), None), "vat_alone_not_enough", "/sales/0"),
    ] {
        assert_eq!(refused(&of(given)), one(code, place), "{given:?}");
    }
}

/// Half a penny for every £10 of value, and at least £1, is left to rounding (authority `decision-rounding-tolerance`); the VAT given is
/// used in any case.
#[test]
fn vat_that_the_rate_does_not_explain_is_pointed_out() {
    let warns = |figures: &Figures| {
        let answer = answer(figures);
        let found = answer.warnings.iter().find(|warning| warning.code.as_str() == "vat_differs_from_rate");
        found.map(|warning| (warning.lines.join(" "), warning.limit.clone().expect("the VAT to expect")))
    };
    for (net, vat, expected) in [
        ("100.00", "21.00", None),
        ("100.00", "21.01", Some("20.00")),
        ("100.00", "19.00", None),
        ("100.00", "18.99", Some("20.00")),
        ("2000.00", "401.00", None),
        ("2000.00", "401.01", Some("400.00")),
        ("4000.00", "802.00", None),
        ("4000.00", "802.01", Some("800.00")),
        ("4000.00", "797.99", Some("800.00")),
        ("-4000.00", "-802.00", None),
        ("-4000.00", "-802.01", Some("-800.00")),
    ] {
        let found = warns(&selling(sale(Treatment::StandardRated, net_and_vat(net, vat))));
        assert_eq!(found, expected.map(|vat| ("/sales/0".to_owned(), vat.to_owned())), "{vat} on {net}");
    }
    // The VAT between net and gross is measured too.
    let between = selling(sale(Treatment::StandardRated, amounts(Some("100.00"), None, Some("121.01"))));
    assert_eq!(warns(&between), Some(("/sales/0".into(), "20.00".into())));
    // A purchase whose rate nobody named may carry any VAT from none to that at the standard rate; one at a named rate only its own.
    for (treatment, vat, expected) in [
        (None, "0.00", None),
        (None, "5.00", None),
        (None, "21.00", None),
        (None, "21.01", Some("20.00")),
        (None, "-1.00", None),
        (None, "-1.01", Some("0.00")),
        (Some(PurchaseTreatment::ReducedRated), "6.00", None),
        (Some(PurchaseTreatment::ReducedRated), "6.01", Some("5.00")),
        (Some(PurchaseTreatment::StandardRated), "0.00", Some("20.00")),
    ] {
        let mut figures = quarter();
        figures.purchases = vec![purchase(Spend::Services, net_and_vat("100.00", vat))];
        figures.purchases[0].treatment = treatment;
        let expected = expected.map(|vat| ("/purchases/0".to_owned(), vat.to_owned()));
        assert_eq!(warns(&figures), expected, "{vat} at {treatment:?}");
    }
}

/// What a purchase carries follows its treatment; what is outside the scope of VAT carries none, whatever else is said.
#[test]
fn a_purchase_is_completed_at_its_rate() {
    for (treatment, vat) in [
        (None, "20.00"),
        (Some(PurchaseTreatment::StandardRated), "20.00"),
        (Some(PurchaseTreatment::ReducedRated), "5.00"),
        (Some(PurchaseTreatment::ZeroRated), "0.00"),
        (Some(PurchaseTreatment::Exempt), "0.00"),
        (Some(PurchaseTreatment::OutsideScope), "0.00"),
    ] {
        let mut figures = quarter();
        figures.purchases = vec![purchase(Spend::Services, net("100.00"))];
        figures.purchases[0].treatment = treatment;
        assert_eq!(answer(&figures).standard.input_tax, money(vat), "{treatment:?}");
        figures.purchases[0].spend = Spend::WagesAndOtherOutsideScope;
        let answer = answer(&figures);
        assert_eq!(
            (answer.standard.input_tax, answer.standard.boxes.box7.to_string()),
            (money("0.00"), "0".to_owned())
        );
    }
}

#[test]
fn the_part_of_a_line_lies_in_the_period() {
    let of = |start: &str, end: &str| {
        let mut line = sale(Treatment::StandardRated, gross("120.00"));
        line.part = Some(Dates { start: day(start), end: day(end) });
        selling(line)
    };
    for (start, end) in [("2025-04-01", "2025-06-30"), ("2025-04-01", "2025-04-01"), ("2025-06-30", "2025-06-30")] {
        assert_eq!(answer(&of(start, end)).standard.output_tax, money("20.00"), "{start} to {end}");
    }
    for (start, end, code, place) in [
        ("2025-03-31", "2025-06-30", "part_outside_period", "/sales/0/part"),
        ("2025-04-01", "2025-07-01", "part_outside_period", "/sales/0/part"),
        ("2025-05-02", "2025-05-01", "period_end_before_start", "/sales/0/part/end"),
    ] {
        assert_eq!(refused(&of(start, end)), one(code, place), "{start} to {end}");
    }
}

/// Steps of a line are found by its list and position; people count lines from one.
#[test]
fn the_steps_of_a_line_are_named_after_it() {
    let mut figures = selling(sale(Treatment::StandardRated, gross("120.00")));
    figures.purchases = vec![goods("1.00"), purchase(Spend::Services, net("100.00"))];
    let answer = answer(&figures);
    for (id, label) in [
        ("sales/0/vat", "VAT of sales line 1"),
        ("sales/0/net", "Net value of sales line 1"),
        ("purchases/1/vat", "VAT of purchases line 2"),
        ("purchases/1/gross", "Gross of purchases line 2"),
    ] {
        let found: Vec<_> = answer.workings.iter().filter(|step| step.id == id).map(|step| &*step.label).collect();
        assert_eq!(found, [label], "{id}");
    }
}
