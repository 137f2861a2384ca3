//! Bad debts, VAT from before registration, goods on hand on leaving, and errors of earlier returns.

mod support;

use support::*;
use vat_schemes::figures::{
    BadDebt, BoughtBefore, Figures, Leaving, PreRegistration, ReturnError, Treatment, TurnoverMethod,
};

fn with_sales() -> Figures {
    let mut figures = quarter();
    figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    figures.purchases = vec![goods("5000.00")];
    figures
}

fn debt(supplied_on: &str, due_on: Option<&str>, vat: &str, gross: &str) -> BadDebt {
    BadDebt {
        supplied_on: day(supplied_on),
        due_on: due_on.map(day),
        vat: money(vat),
        gross: money(gross),
        percentage_at_supply: None,
    }
}

/// HMRC Notice 733 section 14: £1,000 and £200 VAT unpaid at 12% gives £200 − £144 = £56 with the cash method; with the basic
/// method the whole VAT is relieved (VATA 1994 s 36; a published article says otherwise).
#[test]
fn relief_under_each_turnover_method() {
    for (method, percentage, standard, flat_rate) in [
        (TurnoverMethod::Basic, None, "200.00", "200.00"),
        (TurnoverMethod::Retailer, None, "200.00", "200.00"),
        (TurnoverMethod::Cash, Some("12"), "0.00", "56.00"),
    ] {
        let mut figures = with_sales();
        let before = {
            figures.business.turnover_method = method;
            answer(&figures)
        };
        let mut owed = debt("2024-10-01", None, "200.00", "1200.00");
        owed.percentage_at_supply = percentage.map(|percentage| percentage.parse().expect("a percentage"));
        figures.adjustments.bad_debts = vec![owed];
        let after = answer(&figures);
        assert_eq!(after.adjustments.bad_debts[0].standard, money(standard));
        assert_eq!(after.adjustments.bad_debts[0].flat_rate, money(flat_rate));
        let reclaimed_more = |one: vat_schemes::money::Money, two: vat_schemes::money::Money| one.minus(two);
        assert_eq!(reclaimed_more(after.standard.boxes.box4, before.standard.boxes.box4), Ok(money(standard)));
        assert_eq!(reclaimed_more(after.flat_rate.boxes.box4, before.flat_rate.boxes.box4), Ok(money(flat_rate)));
    }
}

/// HMRC VR7420: supplied on 25 January 2010, due on 14 February: from 14 August 2010 to 14 August 2014. The same days sixteen years
/// later, a day either side.
#[test]
fn the_time_for_the_claim() {
    let claimed = |start: &str, end: &str| {
        let mut figures = period(start, end);
        figures.adjustments.bad_debts = vec![debt("2012-01-25", Some("2012-02-14"), "200.00", "1200.00")];
        figures
    };
    assert_eq!(
        refused(&claimed("2012-07-01", "2012-08-13")),
        [("bad_debt_too_early".into(), "/adjustments/bad_debts/0/supplied_on".into())]
    );
    let first = answer(&claimed("2012-07-01", "2012-08-14"));
    let relief = first.adjustments.bad_debts[0];
    assert_eq!((relief.earliest_claim, relief.latest_claim), (day("2012-08-14"), day("2016-08-14")));
    let last = answer(&claimed("2016-08-14", "2016-08-31"));
    assert!(warned(&last).contains(&"adjustment_needs_attention"));
    assert_eq!(
        refused(&claimed("2016-08-15", "2016-08-31")),
        [("bad_debt_too_late".into(), "/adjustments/bad_debts/0/supplied_on".into())]
    );
    // Without a later due date the supply counts.
    let mut figures = claimed("2012-07-01", "2012-07-25");
    figures.adjustments.bad_debts[0].due_on = Some(day("2012-01-20"));
    assert_eq!(answer(&figures).adjustments.bad_debts[0].earliest_claim, day("2012-07-25"));
}

#[test]
fn a_debt_is_refused_where_it_cannot_be_relieved() {
    let mut figures = with_sales();
    figures.business.turnover_method = TurnoverMethod::Cash;
    figures.adjustments.bad_debts = vec![debt("2024-10-01", None, "200.00", "1200.00")];
    assert_eq!(
        refused(&figures),
        [("percentage_at_supply_needed".into(), "/adjustments/bad_debts/0/percentage_at_supply".into())]
    );
    figures.business.turnover_method = TurnoverMethod::Basic;
    figures.adjustments.bad_debts[0].percentage_at_supply = Some("12".parse().expect("a percentage"));
    figures.adjustments.bad_debts.push(debt("2024-10-01", None, "-1.00", "1200.00"));
    assert_eq!(
        refused(&figures),
        [
            ("percentage_at_supply_not_used".to_owned(), "/adjustments/bad_debts/0/percentage_at_supply".to_owned()),
            ("amount_negative".to_owned(), "/adjustments/bad_debts/1/vat".to_owned()),
        ]
    );
}

/// VAT Regulations 1995 reg 111(2): goods within four years and on hand, services within six months, a day either side.
#[test]
fn vat_from_before_registration() {
    let mut figures = period("2025-06-01", "2025-08-31");
    figures.business.registered_on = day("2025-06-01");
    figures.business.flat_rate_from = Some(day("2025-06-01"));
    let bought = |kind, on: &str, on_hand| PreRegistration { kind, bought_on: day(on), vat: money("10.00"), on_hand };
    figures.adjustments.pre_registration = vec![
        bought(BoughtBefore::Goods, "2021-06-01", true),
        bought(BoughtBefore::Goods, "2021-05-31", true),
        bought(BoughtBefore::Goods, "2021-07-01", true),
        bought(BoughtBefore::Goods, "2025-05-31", false),
        bought(BoughtBefore::Services, "2024-12-01", false),
        bought(BoughtBefore::Services, "2024-11-30", false),
        bought(BoughtBefore::Services, "2024-11-01", false),
    ];
    let claimed = answer(&figures);
    let claims = claimed.adjustments.pre_registration.as_ref().expect("claims");
    let claimable: Vec<_> = claims.purchases.iter().map(|claim| claim.claimable).collect();
    assert_eq!(claimable, [true, false, true, false, true, false, false]);
    assert_eq!(claims.claimed, money("30.00"));
    assert_eq!([claimed.standard.input_tax, claimed.flat_rate.input_tax], [money("30.00"), money("30.00")]);
    // The same on both sides changes nothing between them.
    assert!(claimed.comparison.flat_rate_minus_standard.is_zero());

    figures.adjustments.pre_registration[0].bought_on = day("2025-06-01");
    figures.adjustments.pre_registration[1].vat = money("-0.01");
    assert_eq!(
        refused(&figures),
        [
            ("dates_out_of_order".to_owned(), "/adjustments/pre_registration/0/bought_on".to_owned()),
            ("amount_negative".to_owned(), "/adjustments/pre_registration/1/vat".to_owned()),
        ]
    );
    figures.period.start = day("2025-06-02");
    assert_eq!(refused(&figures), [("not_the_first_return".into(), "/adjustments/pre_registration/0".into())]);
}

/// VAT Regulations 1995 regs 55R and 55S: stock only ever gives a claim, capital goods a charge that a fully taxable business
/// recovers. Neither is on a return of the answer.
#[test]
fn goods_on_hand_on_leaving() {
    for (joining, leaving, claim) in [
        ("4000.00", "10000.00", "1200.00"),
        ("4000.00", "4000.01", "0.00"),
        ("4000.00", "4000.03", "0.01"),
        ("4000.00", "4000.00", "0.00"),
        ("10000.00", "4000.00", "0.00"),
    ] {
        let mut figures = with_sales();
        let before = answer(&figures);
        figures.adjustments.leaving = Some(Leaving {
            on: day("2025-03-31"),
            stock_on_joining: Some(money(joining)),
            stock_on_leaving: Some(money(leaving)),
            capital_goods: vec![money("2500.00"), money("700.00")],
        });
        let after = answer(&figures);
        let adjustment = after.adjustments.leaving.expect("an adjustment");
        assert_eq!(adjustment.stock_claim, money(claim));
        assert_eq!(adjustment.capital_goods_vat, money("640.00"));
        assert_eq!((before.standard, before.flat_rate), (after.standard, after.flat_rate));
    }
    let mut figures = with_sales();
    figures.adjustments.leaving = Some(Leaving {
        on: day("2004-12-31"),
        stock_on_joining: Some(money("-1.00")),
        stock_on_leaving: None,
        capital_goods: vec![money("-1.00")],
    });
    assert_eq!(
        refused(&figures),
        [
            ("dates_out_of_order".to_owned(), "/adjustments/leaving/on".to_owned()),
            ("amount_negative".to_owned(), "/adjustments/leaving/stock_on_joining".to_owned()),
            ("amount_negative".to_owned(), "/adjustments/leaving/capital_goods/0".to_owned()),
        ]
    );
}

/// VAT Regulations 1995 reg 34(3) and Notice 700/45: £10,000, or 1% of box 6 up to £50,000; errors are netted first.
#[test]
fn errors_of_earlier_returns() {
    for (net_sales, errors, together, on_return) in [
        ("60000.00", &["8500.00"][..], "8500.00", true),
        ("60000.00", &["12000.00"], "12000.00", false),
        ("60000.00", &["18000.00", "-9500.00"], "8500.00", true),
        ("60000.00", &["10000.00"], "10000.00", true),
        ("60000.00", &["10000.01"], "10000.01", false),
        ("60000.00", &["-10000.01"], "-10000.01", false),
        // 1% of box 6 of £1,200,000 is £12,000.
        ("1200000.00", &["12000.00"], "12000.00", true),
        ("1200000.00", &["12000.01"], "12000.01", false),
        ("6000000.00", &["50000.00"], "50000.00", true),
        ("6000000.00", &["50000.01"], "50000.01", false),
    ] {
        let mut figures = quarter();
        figures.sales = vec![sale(Treatment::ZeroRated, net(net_sales))];
        figures.adjustments.errors =
            errors.iter().map(|amount| ReturnError { period_end: day("2024-06-30"), amount: money(amount) }).collect();
        let corrections = answer(&figures).adjustments.errors.expect("corrections");
        assert_eq!(
            (corrections.net_error, corrections.on_return_standard, corrections.on_return_flat_rate),
            (money(together), on_return, on_return),
            "{net_sales} {errors:?}"
        );
    }
    // Four years after the end of the error's period, at the end of this one; a day later it is left out.
    for (period_end, in_time) in [("2021-06-30", true), ("2021-06-29", false)] {
        let mut figures = with_sales();
        figures.adjustments.errors = vec![ReturnError { period_end: day(period_end), amount: money("100.00") }];
        let corrections = answer(&figures).adjustments.errors.expect("corrections");
        assert_eq!(corrections.in_time, [in_time], "{period_end}");
        assert_eq!(corrections.net_error, money(if in_time { "100.00" } else { "0.00" }));
    }
    let mut figures = with_sales();
    figures.adjustments.errors = vec![ReturnError { period_end: day("2025-04-01"), amount: money("100.00") }];
    assert_eq!(refused(&figures), [("dates_out_of_order".into(), "/adjustments/errors/0/period_end".into())]);
}
