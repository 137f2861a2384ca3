//! Bad debts, VAT from before registration, goods on hand on leaving, and errors of earlier returns.

use crate::support::*;
use jiff::civil::Date;
use vat_schemes::figures::{
    BadDebt, BoughtBefore, Dates, Figures, Leaving, PreRegistration, ReturnError, SplitEstimate, Treatment,
    TurnoverMethod,
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
        assert_eq!(after.adjustments.bad_debts[0].relief.standard, money(standard));
        assert_eq!(after.adjustments.bad_debts[0].relief.flat_rate, money(flat_rate));
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

/// VAT Regulations 1995 reg 55V leaves the VAT charged less the flat rate amount: a penny either side of nothing, where there is none.
#[test]
fn relief_is_never_negative() {
    for (vat, gross, percentage, relief, warns) in [
        ("144.01", "1200.00", "12", "0.01", false),
        ("144.00", "1200.00", "12", "0.00", true),
        ("143.99", "1200.00", "12", "0.00", true),
        ("200.00", "1200.00", "16.5", "2.00", false),
        // The reduced rate: a twenty-first of the price, and less than any percentage above it.
        ("50.00", "1050.00", "4", "8.00", false),
        ("50.00", "1050.00", "12", "0.00", true),
        ("0.00", "1050.00", "12", "0.00", true),
        // Half a penny goes up, less than that is nothing; the flat rate amount is the smaller all the same.
        ("0.12", "0.96", "12", "0.00", true),
        ("0.12", "0.95", "12", "0.01", false),
        ("0.00", "0.01", "0", "0.00", true),
    ] {
        let mut figures = with_sales();
        figures.business.turnover_method = TurnoverMethod::Cash;
        let before = answer(&figures);
        let mut owed = debt("2024-10-01", None, vat, gross);
        owed.percentage_at_supply = Some(percentage.parse().expect("a percentage"));
        figures.adjustments.bad_debts = vec![owed];
        let after = answer(&figures);
        let debt = after.adjustments.bad_debts[0].relief;
        assert_eq!((debt.standard, debt.flat_rate), (money("0.00"), money(relief)), "{vat} of {gross} at {percentage}");
        assert_eq!(after.flat_rate.boxes.box4.minus(before.flat_rate.boxes.box4), Ok(money(relief)));
        assert_eq!(warned(&after).contains(&"adjustment_needs_attention"), warns, "{vat} of {gross} at {percentage}");
        let by_rounding = vat == "0.12";
        let reason = debt.flat_rate_reason;
        assert_eq!(reason.contains("no relief"), money(relief).is_zero() && !by_rounding, "{reason}");
    }
}

/// VAT is a part of the price, and no more of it than the standard rate makes: a penny is allowed for rounding.
#[test]
fn the_vat_of_a_debt_is_a_part_of_it() {
    let owed = |vat: &str, gross: &str| {
        let mut figures = with_sales();
        figures.adjustments.bad_debts = vec![debt("2024-10-01", None, vat, gross)];
        figures
    };
    assert_eq!(
        refused(&owed("1200.01", "1200.00")),
        [("part_more_than_whole".into(), "/adjustments/bad_debts/0/vat".into())]
    );
    assert_eq!(
        refused(&owed("0.00", "0.00")),
        [("amount_not_positive".into(), "/adjustments/bad_debts/0/gross".into())]
    );
    assert_eq!(
        refused(&owed("-0.01", "-0.01")),
        [
            ("amount_negative".to_owned(), "/adjustments/bad_debts/0/vat".to_owned()),
            ("amount_negative".to_owned(), "/adjustments/bad_debts/0/gross".to_owned()),
        ]
    );
    for (vat, differs) in [("199.00", false), ("200.00", false), ("200.01", false), ("200.02", true), ("1200.00", true)]
    {
        let answer = answer(&owed(vat, "1200.00"));
        assert_eq!(answer.adjustments.bad_debts[0].relief.standard, money(vat));
        assert_eq!(warned(&answer).contains(&"vat_differs_from_rate"), differs, "{vat}");
    }
}

/// The days of a debt: not before registration, and payment is seldom due before the supply.
#[test]
fn the_days_of_a_debt() {
    let mut figures = with_sales();
    figures.business.registered_on = day("2024-10-01");
    figures.business.flat_rate_from = Some(day("2024-10-01"));
    figures.adjustments.bad_debts = vec![debt("2024-10-01", None, "200.00", "1200.00")];
    assert!(!warned(&answer(&figures)).contains(&"adjustment_needs_attention"));
    figures.adjustments.bad_debts[0].due_on = Some(day("2024-09-30"));
    assert!(warned(&answer(&figures)).contains(&"adjustment_needs_attention"));
    figures.adjustments.bad_debts[0].supplied_on = day("2024-09-30");
    assert_eq!(refused(&figures), [("dates_out_of_order".into(), "/adjustments/bad_debts/0/supplied_on".into())]);
    // All that is wrong with one debt comes at once.
    figures.adjustments.bad_debts = vec![debt("2025-07-01", None, "1.01", "1.00")];
    figures.adjustments.bad_debts[0].percentage_at_supply = Some("12".parse().expect("a percentage"));
    assert_eq!(
        refused(&figures),
        [
            ("part_more_than_whole".to_owned(), "/adjustments/bad_debts/0/vat".to_owned()),
            ("bad_debt_too_early".to_owned(), "/adjustments/bad_debts/0/supplied_on".to_owned()),
            ("percentage_at_supply_not_used".to_owned(), "/adjustments/bad_debts/0/percentage_at_supply".to_owned()),
        ]
    );
}

/// VAT Regulations 1995 reg 55V is for supplies made as a flat rate user.
#[test]
fn a_supply_before_the_scheme_is_pointed_out() {
    for (starts, warns) in [("2024-10-01", false), ("2024-10-02", true)] {
        let mut figures = with_sales();
        figures.business.turnover_method = TurnoverMethod::Cash;
        figures.business.flat_rate_from = Some(day(starts));
        figures.adjustments.bad_debts = vec![debt("2024-10-01", None, "200.00", "1200.00")];
        figures.adjustments.bad_debts[0].percentage_at_supply = Some("12".parse().expect("a percentage"));
        assert_eq!(warned(&answer(&figures)).contains(&"adjustment_needs_attention"), warns, "{starts}");
    }
}

/// Six months, and four years and six months, at ends of months and about a 29 February (VAT Regulations 1995 reg 165A): the first day
/// on which a period may end, and the last on which one may start.
#[test]
fn the_time_for_the_claim_at_ends_of_months() {
    for (supplied_on, due_on, earliest, latest) in [
        ("2018-01-25", None, "2018-07-25", "2022-07-25"),
        ("2018-08-31", None, "2019-02-28", "2023-02-28"),
        ("2019-08-31", None, "2020-02-29", "2024-02-29"),
        ("2019-08-29", None, "2020-02-29", "2024-02-29"),
        ("2019-08-28", None, "2020-02-28", "2024-02-28"),
        ("2018-08-29", None, "2019-02-28", "2023-02-28"),
        ("2016-02-29", None, "2016-08-29", "2020-08-29"),
        ("2016-02-28", None, "2016-08-28", "2020-08-28"),
        ("2018-03-31", None, "2018-09-30", "2022-09-30"),
        ("2018-12-31", None, "2019-06-30", "2023-06-30"),
        ("2018-01-25", Some("2018-02-28"), "2018-08-28", "2022-08-28"),
        ("2018-03-01", Some("2018-02-28"), "2018-09-01", "2022-09-01"),
    ] {
        let claimed = |start: Date, end: Date| {
            let mut figures = period("2018-01-01", "2018-01-01");
            figures.period = Dates { start, end };
            figures.adjustments.bad_debts = vec![debt(supplied_on, due_on, "200.00", "1200.00")];
            figures
        };
        let (first, last) = (day(earliest), day(latest));
        let yesterday = first.yesterday().expect("a day");
        let code = |figures: &Figures| refused(figures).remove(0).0;
        assert_eq!(code(&claimed(yesterday, yesterday)), "bad_debt_too_early", "{supplied_on}");
        let tomorrow = last.tomorrow().expect("a day");
        assert_eq!(code(&claimed(tomorrow, tomorrow)), "bad_debt_too_late", "{supplied_on}");
        for on in [first, last] {
            let relief = answer(&claimed(on, on)).adjustments.bad_debts[0];
            assert_eq!((relief.earliest_claim, relief.latest_claim), (first, last), "{supplied_on}");
        }
    }
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
            ("belongs_to_another_period".to_owned(), "/adjustments/leaving/on".to_owned()),
            ("amount_negative".to_owned(), "/adjustments/leaving/stock_on_joining".to_owned()),
            ("amount_negative".to_owned(), "/adjustments/leaving/capital_goods/0".to_owned()),
        ]
    );
}

/// Goods on hand are those of the last day in the scheme, which is in the period or the day before it.
#[test]
fn the_day_of_leaving() {
    let leaves = |on: &str, until: Option<&str>| {
        let mut figures = with_sales();
        figures.business.flat_rate_until = until.map(day);
        figures.split_estimate = Some(SplitEstimate::ByDays);
        figures.adjustments.leaving =
            Some(Leaving { on: day(on), stock_on_joining: None, stock_on_leaving: None, capital_goods: Vec::new() });
        figures
    };
    for on in ["2025-03-31", "2025-04-01", "2025-06-30"] {
        assert!(answer(&leaves(on, None)).adjustments.leaving.is_some(), "{on}");
    }
    for on in ["2025-03-30", "2025-07-01"] {
        assert_eq!(
            refused(&leaves(on, None)),
            [("belongs_to_another_period".into(), "/adjustments/leaving/on".into())]
        );
    }
    assert!(answer(&leaves("2025-05-31", Some("2025-05-31"))).adjustments.leaving.is_some());
    // In the scheme for one day.
    let mut one_day = leaves("2025-05-31", Some("2025-05-31"));
    one_day.business.flat_rate_from = Some(day("2025-05-31"));
    assert!(answer(&one_day).adjustments.leaving.is_some());
    for until in ["2025-05-30", "2025-06-01"] {
        assert_eq!(
            refused(&leaves("2025-05-31", Some(until))),
            [("dates_out_of_order".into(), "/adjustments/leaving/on".into())]
        );
    }
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
    // There is no return of a period that ends before registration.
    figures.business.registered_on = day("2024-06-30");
    figures.business.flat_rate_from = Some(day("2024-06-30"));
    figures.split_estimate = Some(SplitEstimate::ByDays);
    figures.adjustments.errors[0].period_end = day("2024-06-30");
    assert!(answer(&figures).adjustments.errors.is_some());
    figures.adjustments.errors[0].period_end = day("2024-06-29");
    assert_eq!(refused(&figures), [("dates_out_of_order".into(), "/adjustments/errors/0/period_end".into())]);
}
