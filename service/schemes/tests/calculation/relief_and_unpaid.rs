//! Relief repaid by debtors who pay, input tax repaid on unpaid purchases and restored when they are paid, and the annual adjustment of
//! partial exemption.

use crate::support::*;
use jiff::civil::Date;
use vat_schemes::answer::{Answer, BothSides};
use vat_schemes::figures::{
    Dates, Figures, PurchasePaidLater, ReliefRepaid, ReturnError, Treatment, TurnoverMethod, UnpaidPurchase,
};
use vat_schemes::money::Money;

const METHODS: [TurnoverMethod; 3] = [TurnoverMethod::Basic, TurnoverMethod::Retailer, TurnoverMethod::Cash];

fn with_sales(method: TurnoverMethod) -> Figures {
    let mut figures = quarter();
    figures.business.turnover_method = method;
    figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    figures.purchases = vec![goods("5000.00")];
    figures
}

fn repaid(relief: &str, outstanding: &str, payment: &str, elsewhere: Option<&str>) -> ReliefRepaid {
    ReliefRepaid {
        relief_claimed: money(relief),
        outstanding_at_claim: money(outstanding),
        payment: money(payment),
        allocated_elsewhere: elsewhere.map(money),
        paid_on: None,
    }
}

fn unpaid(supplied_on: &str, input_tax: &str, gross: &str, paid: &str) -> UnpaidPurchase {
    UnpaidPurchase {
        supplied_on: day(supplied_on),
        due_on: None,
        input_tax_claimed: money(input_tax),
        gross: money(gross),
        paid: money(paid),
        claimed_under_flat_rate: false,
    }
}

fn paid_later(input_tax: &str, unpaid: &str, payment: &str) -> PurchasePaidLater {
    PurchasePaidLater {
        input_tax_repaid: money(input_tax),
        unpaid_at_repayment: money(unpaid),
        payment: money(payment),
        paid_on: None,
        claimed_under_flat_rate: false,
    }
}

fn sides(both: BothSides) -> [Money; 2] {
    [both.standard, both.flat_rate]
}

/// What the boxes of both returns grew by, and that nothing else of them changed but the sums.
fn growth(figures: &Figures, after: &Answer, one_box: fn(&vat_schemes::answer::Boxes) -> Money) -> [Money; 2] {
    let mut without = figures.clone();
    without.adjustments = Default::default();
    let before = answer(&without);
    let grown = [
        one_box(&after.standard.boxes).minus(one_box(&before.standard.boxes)),
        one_box(&after.flat_rate.boxes).minus(one_box(&before.flat_rate.boxes)),
    ];
    let values =
        |answer: &Answer| [answer.standard.boxes, answer.flat_rate.boxes].map(|boxes| (boxes.box6, boxes.box7));
    assert_eq!(values(&before), values(after));
    grown.map(|grown| grown.expect("an amount"))
}

fn box1(boxes: &vat_schemes::answer::Boxes) -> Money {
    boxes.box1
}

fn box4(boxes: &vat_schemes::answer::Boxes) -> Money {
    boxes.box4
}

/// VBDR4100 and VBDR4200: £114.93 × (£500.00 − £78.36) ÷ £771.64 is £62.80. The whole of a debt gives all of the relief back; half a
/// penny goes up.
#[test]
fn relief_is_repaid_in_proportion() {
    for (relief, outstanding, payment, elsewhere, repays) in [
        ("114.93", "771.64", "500.00", Some("78.36"), "62.80"),
        ("114.93", "771.64", "500.00", None, "74.47"),
        ("114.93", "771.64", "771.64", None, "114.93"),
        ("114.93", "771.64", "771.64", Some("0.00"), "114.93"),
        ("114.93", "771.64", "850.00", Some("78.36"), "114.93"),
        ("200.00", "1200.00", "0.03", None, "0.01"),
        ("200.00", "1200.00", "0.02", None, "0.00"),
        ("200.00", "1200.00", "50.00", Some("50.00"), "0.00"),
    ] {
        for method in METHODS {
            let mut figures = with_sales(method);
            figures.adjustments.relief_repaid = vec![repaid(relief, outstanding, payment, elsewhere)];
            let after = answer(&figures);
            let standard = if method == TurnoverMethod::Cash { "0.00" } else { repays };
            let expected = [money(standard), money(repays)];
            assert_eq!(sides(after.adjustments.relief_repaid[0]), expected, "{payment} {method:?}");
            assert_eq!(growth(&figures, &after, box1), expected);
            assert_eq!(growth(&figures, &after, box4), [Money::ZERO; 2]);
        }
    }
}

#[test]
fn relief_cannot_be_repaid_beyond_the_debt() {
    let refused_with = |entry: ReliefRepaid| {
        let mut figures = with_sales(TurnoverMethod::Basic);
        figures.adjustments.relief_repaid = vec![entry];
        refused(&figures)
    };
    let at = |code: &str, field: &str| (code.to_owned(), format!("/adjustments/relief_repaid/0/{field}"));
    let more = "part_more_than_whole";
    assert_eq!(refused_with(repaid("114.93", "771.64", "771.65", None)), [at(more, "payment")]);
    assert_eq!(refused_with(repaid("114.93", "771.64", "850.01", Some("78.36"))), [at(more, "payment")]);
    assert_eq!(refused_with(repaid("114.93", "771.64", "500.00", Some("500.01"))), [at(more, "allocated_elsewhere")]);
    assert_eq!(refused_with(repaid("771.65", "771.64", "500.00", None)), [at(more, "relief_claimed")]);
    assert_eq!(
        refused_with(repaid("0.00", "0.00", "0.00", Some("-0.01"))),
        [
            at("amount_not_positive", "relief_claimed"),
            at("amount_not_positive", "outstanding_at_claim"),
            at("amount_not_positive", "payment"),
            at("amount_negative", "allocated_elsewhere"),
        ]
    );
    assert_eq!(
        refused_with(repaid("-0.01", "-0.01", "-0.01", None)),
        ["relief_claimed", "outstanding_at_claim", "payment"].map(|field| at("amount_negative", field))
    );
    for (paid_on, accepted) in
        [("2025-03-31", false), ("2025-04-01", true), ("2025-06-30", true), ("2025-07-01", false)]
    {
        let mut figures = with_sales(TurnoverMethod::Basic);
        figures.adjustments.relief_repaid = vec![repaid("114.93", "771.64", "500.00", None)];
        figures.adjustments.relief_repaid[0].paid_on = Some(day(paid_on));
        if accepted {
            answer(&figures);
        } else {
            assert_eq!(refused(&figures), [at("belongs_to_another_period", "paid_on")]);
        }
    }
}

/// With the cash turnover method a debt relieved, and then paid, costs what it would have cost if it had been paid at once: £144.00 of
/// £1,200.00 at 12% (VAT Regulations 1995 reg 55V).
#[test]
fn a_debt_paid_after_relief_costs_what_a_paid_one_does() {
    let payable = |figures: &Figures| answer(figures).flat_rate.vat_payable;
    let nothing = with_sales(TurnoverMethod::Cash);
    let mut relieved = nothing.clone();
    relieved.adjustments.bad_debts = vec![vat_schemes::figures::BadDebt {
        supplied_on: day("2024-10-01"),
        due_on: None,
        vat: money("200.00"),
        gross: money("1200.00"),
        percentage_at_supply: Some("12".parse().expect("a percentage")),
    }];
    let mut paid_after = nothing.clone();
    paid_after.sales.push(sale(Treatment::StandardRated, gross("1200.00")));
    let paid_at_once = payable(&paid_after);
    paid_after.adjustments.relief_repaid = vec![repaid("56.00", "1200.00", "1200.00", None)];
    let cost = |figures: &Figures| payable(figures).minus(payable(&nothing)).expect("an amount");
    assert_eq!(cost(&relieved), money("-56.00"));
    assert_eq!(cost(&relieved).plus(cost(&paid_after)), paid_at_once.minus(payable(&nothing)));
    assert_eq!(cost(&relieved).plus(cost(&paid_after)), Ok(money("144.00")));
}

/// VAT Regulations 1995 reg 172H(3): £200.00 × £900.00 ÷ £1,200.00, a negative entry; on the flat rate side only what was claimed there;
/// nothing for cash accounting.
#[test]
fn input_tax_on_an_unpaid_purchase_is_repaid() {
    for (input_tax, price, paid, repays) in [
        ("200.00", "1200.00", "300.00", "-150.00"),
        ("200.00", "1200.00", "0.00", "-200.00"),
        ("200.00", "1200.00", "1200.00", "0.00"),
        ("200.00", "1200.00", "1199.99", "0.00"),
        ("200.00", "1200.00", "1199.97", "-0.01"),
        ("100.00", "1200.00", "300.00", "-75.00"),
        ("0.00", "1200.00", "300.00", "0.00"),
        ("0.01", "0.02", "0.01", "-0.01"),
    ] {
        for method in METHODS {
            for claimed_under_flat_rate in [false, true] {
                let mut figures = with_sales(method);
                figures.adjustments.unpaid_purchases =
                    vec![UnpaidPurchase { claimed_under_flat_rate, ..unpaid("2024-11-10", input_tax, price, paid) }];
                let after = answer(&figures);
                let standard = if method == TurnoverMethod::Cash { "0.00" } else { repays };
                let flat_rate = if claimed_under_flat_rate { repays } else { "0.00" };
                let expected = [money(standard), money(flat_rate)];
                let entry = after.adjustments.unpaid_purchases[0];
                assert_eq!(sides(entry.repaid), expected, "{input_tax} {paid} {method:?}");
                assert_eq!(entry.six_months_end, day("2025-05-10"));
                assert_eq!(growth(&figures, &after, box4), expected);
                assert_eq!(growth(&figures, &after, box1), [Money::ZERO; 2]);
            }
        }
    }
}

/// The six months end in the period, a day either side of its ends; they run from the later of the two days, and end with a shorter
/// month.
#[test]
fn the_six_months_end_in_the_period() {
    for (supplied_on, due_on, ends) in [
        ("2024-10-01", None, "2025-04-01"),
        ("2024-12-30", None, "2025-06-30"),
        ("2024-12-31", None, "2025-06-30"),
        ("2024-10-01", Some("2024-10-31"), "2025-04-30"),
        ("2024-10-31", Some("2024-10-01"), "2025-04-30"),
        ("2024-08-31", None, "2025-02-28"),
        ("2023-08-31", None, "2024-02-29"),
        ("2023-08-29", None, "2024-02-29"),
        ("2023-08-28", None, "2024-02-28"),
        ("2024-02-29", None, "2024-08-29"),
    ] {
        let asked = |start: Date, end: Date| {
            let mut figures = with_sales(TurnoverMethod::Basic);
            figures.period = Dates { start, end };
            let purchase = unpaid(supplied_on, "200.00", "1200.00", "0.00");
            figures.adjustments.unpaid_purchases = vec![UnpaidPurchase { due_on: due_on.map(day), ..purchase }];
            figures
        };
        let ends = day(ends);
        let (before, after) = (ends.yesterday().expect("a day"), ends.tomorrow().expect("a day"));
        assert_eq!(answer(&asked(ends, ends)).adjustments.unpaid_purchases[0].six_months_end, ends);
        for (start, end) in [(day("2023-01-01"), before), (after, day("2026-01-01"))] {
            let refusal = refusals(&asked(start, end)).remove(0);
            assert_eq!(refusal.code.as_str(), "belongs_to_another_period");
            assert_eq!(refusal.place.to_string(), "/adjustments/unpaid_purchases/0/supplied_on");
            assert!(refusal.detail.contains(&ends.to_string()), "{}", refusal.detail);
        }
    }
}

#[test]
fn an_unpaid_purchase_is_refused_where_its_amounts_cannot_be() {
    let refused_with = |input_tax: &str, price: &str, paid: &str| {
        let mut figures = with_sales(TurnoverMethod::Basic);
        figures.adjustments.unpaid_purchases = vec![unpaid("2024-11-10", input_tax, price, paid)];
        refused(&figures)
    };
    let at = |code: &str, field: &str| (code.to_owned(), format!("/adjustments/unpaid_purchases/0/{field}"));
    assert_eq!(refused_with("200.00", "1200.00", "1200.01"), [at("part_more_than_whole", "paid")]);
    assert_eq!(refused_with("1200.01", "1200.00", "0.00"), [at("part_more_than_whole", "input_tax_claimed")]);
    // A price of nought is the one thing to correct.
    for amount in ["0.00", "10.00"] {
        assert_eq!(refused_with(amount, "0.00", amount), [at("amount_not_positive", "gross")]);
    }
    assert_eq!(
        refused_with("-0.01", "-0.01", "-0.01"),
        ["gross", "input_tax_claimed", "paid"].map(|field| at("amount_negative", field))
    );
}

/// Of an unpaid purchase more VAT than a rate makes, and payment due before the supply, are pointed out.
#[test]
fn an_unpaid_purchase_that_looks_wrong_is_pointed_out() {
    for (input_tax, differs) in [("200.01", false), ("200.02", true)] {
        let mut figures = with_sales(TurnoverMethod::Basic);
        figures.adjustments.unpaid_purchases = vec![unpaid("2024-11-10", input_tax, "1200.00", "0.00")];
        assert_eq!(warned(&answer(&figures)).contains(&"vat_differs_from_rate"), differs, "{input_tax}");
    }
    let attention = |due_on: &str| {
        let mut figures = with_sales(TurnoverMethod::Basic);
        let purchase = unpaid("2024-11-10", "200.00", "1200.00", "1200.00");
        figures.adjustments.unpaid_purchases = vec![UnpaidPurchase { due_on: Some(day(due_on)), ..purchase }];
        warned(&answer(&figures)).contains(&"adjustment_needs_attention")
    };
    assert_eq!([attention("2024-11-09"), attention("2024-11-10")], [true, false]);
}

/// What was repaid comes back when the supplier is paid (VAT Regulations 1995 reg 172I): the £150.00 on £900.00, on a later payment.
#[test]
fn input_tax_is_restored_when_the_supplier_is_paid() {
    for (payment, restored) in [
        ("900.00", "150.00"),
        ("300.00", "50.00"),
        ("0.03", "0.01"),
        ("0.02", "0.00"),
        ("899.97", "150.00"),
        ("899.96", "149.99"),
    ] {
        for method in METHODS {
            for claimed_under_flat_rate in [false, true] {
                let mut figures = with_sales(method);
                figures.adjustments.purchases_paid_later =
                    vec![PurchasePaidLater { claimed_under_flat_rate, ..paid_later("150.00", "900.00", payment) }];
                let after = answer(&figures);
                let standard = if method == TurnoverMethod::Cash { "0.00" } else { restored };
                let flat_rate = if claimed_under_flat_rate { restored } else { "0.00" };
                let expected = [money(standard), money(flat_rate)];
                assert_eq!(sides(after.adjustments.purchases_paid_later[0]), expected, "{payment} {method:?}");
                assert_eq!(growth(&figures, &after, box4), expected);
            }
        }
    }
    let refused_with = |entry: PurchasePaidLater| {
        let mut figures = with_sales(TurnoverMethod::Basic);
        figures.adjustments.purchases_paid_later = vec![entry];
        refused(&figures)
    };
    let at = |code: &str, field: &str| (code.to_owned(), format!("/adjustments/purchases_paid_later/0/{field}"));
    let more = "part_more_than_whole";
    assert_eq!(refused_with(paid_later("150.00", "900.00", "900.01")), [at(more, "payment")]);
    assert_eq!(refused_with(paid_later("900.01", "900.00", "900.00")), [at(more, "input_tax_repaid")]);
    let nothing_unpaid = [at("amount_not_positive", "unpaid_at_repayment")];
    assert_eq!(refused_with(paid_later("10.00", "0.00", "10.00")), nothing_unpaid);
    assert_eq!(
        refused_with(paid_later("0.00", "0.00", "-0.01")),
        [
            at("amount_not_positive", "unpaid_at_repayment"),
            at("amount_not_positive", "input_tax_repaid"),
            at("amount_negative", "payment"),
        ]
    );
    for (paid_on, accepted) in
        [("2025-03-31", false), ("2025-04-01", true), ("2025-06-30", true), ("2025-07-01", false)]
    {
        let entry = PurchasePaidLater { paid_on: Some(day(paid_on)), ..paid_later("150.00", "900.00", "300.00") };
        if accepted {
            let mut figures = with_sales(TurnoverMethod::Basic);
            figures.adjustments.purchases_paid_later = vec![entry];
            answer(&figures);
        } else {
            assert_eq!(refused_with(entry), [at("belongs_to_another_period", "paid_on")]);
        }
    }
}

/// VAT Regulations 1995 reg 107: in box 4 of both, so that nothing between the schemes changes; no error.
#[test]
fn the_annual_adjustment_stands_on_both_returns() {
    for method in METHODS {
        for amount in ["812.35", "-812.35", "0.00", "0.01", "-0.01"] {
            let mut figures = with_sales(method);
            figures.adjustments.partial_exemption_year = Some(money(amount));
            let after = answer(&figures);
            let adjustment = after.adjustments.partial_exemption_year.expect("an adjustment");
            assert_eq!(adjustment.amount, money(amount));
            assert!(adjustment.note.contains("no error"), "{}", adjustment.note);
            assert_eq!(growth(&figures, &after, box4), [money(amount); 2]);
            assert_eq!(growth(&figures, &after, box1), [Money::ZERO; 2]);
            let common = &after.comparison.common_to_both;
            assert_eq!(common.len(), usize::from(amount != "0.00"));
            assert!(common.iter().all(|item| item.input_tax == Some(money(amount)) && item.output_tax.is_none()));
            figures.adjustments = Default::default();
            assert_eq!(after.comparison.saving, answer(&figures).comparison.saving);
        }
    }
    let mut figures = with_sales(TurnoverMethod::Basic);
    figures.adjustments.partial_exemption_year = Some(money("20000.00"));
    figures.adjustments.errors = vec![ReturnError { period_end: day("2024-06-30"), amount: money("1.00") }];
    assert_eq!(answer(&figures).adjustments.errors.expect("corrections").net_error, money("1.00"));
}
