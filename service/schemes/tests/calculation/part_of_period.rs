//! A period that is only partly in the scheme: two calculations on one return (VAT Regulations 1995 regs 55B, 55C(2), 55E(3)).

use crate::support::*;
use vat_schemes::figures::{Figures, Spend, SplitEstimate, Supply, Treatment, UsedFor};
use vat_schemes::refusal::RefusalCode;

const BEFORE: (&str, &str) = ("2025-04-01", "2025-05-15");
const AFTER: (&str, &str) = ("2025-05-16", "2025-06-30");

/// Joined on 16 May: £6,000 of sales and £200 of input tax before, £9,000 of sales and £100 after.
fn joined_inside() -> Figures {
    let mut figures = quarter();
    figures.business.flat_rate_from = Some(day(AFTER.0));
    figures.sales = vec![
        in_part(sale(Treatment::StandardRated, gross("6000.00")), BEFORE.0, BEFORE.1),
        in_part(sale(Treatment::StandardRated, gross("9000.00")), AFTER.0, AFTER.1),
    ];
    figures.purchases = vec![
        dated(purchase(Spend::Services, net_and_vat("1000.00", "200.00")), BEFORE.0, BEFORE.1),
        dated(purchase(Spend::Services, net_and_vat("500.00", "100.00")), AFTER.0, AFTER.1),
        dated(goods("400.00"), AFTER.0, AFTER.1),
    ];
    figures
}

#[test]
fn joining_inside_a_period_puts_two_calculations_on_one_return() {
    let answer = answer(&joined_inside());
    let flat_rate = &answer.flat_rate;
    assert_eq!(flat_rate.turnover, money("9000.00"));
    assert_eq!(parts(&answer), [("2025-05-16".to_owned(), "12".to_owned())]);
    // £1,080 of flat rate VAT and £1,000 of ordinary VAT; £200 back.
    assert_eq!(flat_rate.boxes.box1, money("2080.00"));
    assert_eq!(flat_rate.boxes.box4, money("200.00"));
    assert_eq!(flat_rate.vat_payable, money("1880.00"));
    assert_eq!([flat_rate.boxes.box6, flat_rate.boxes.box7].map(|pounds| pounds.to_string()), ["14000", "1000"]);
    let outside = flat_rate.outside_scheme.as_ref().expect("days outside the scheme");
    assert_eq!(outside.vat_on_sales, money("1000.00"));
    assert_eq!(outside.days.iter().map(|days| days.end().to_string()).collect::<Vec<_>>(), ["2025-05-15"]);
    // Standard accounting takes the whole period.
    assert_eq!(answer.standard.vat_payable, money("2200.00"));
    // The days in the scheme are the period of the goods test: 46 of 365 days.
    let test = answer.goods_test.as_ref().expect("a goods test");
    assert_eq!((test.days.start(), test.minimum_for_period), (day("2025-05-16"), money("126.03")));
    assert!(warned(&answer).contains(&"scheme_covers_part"));
}

#[test]
fn leaving_inside_a_period_is_the_mirror() {
    let mut figures = joined_inside();
    figures.business.flat_rate_from = Some(day("2020-01-01"));
    figures.business.flat_rate_until = Some(day(BEFORE.1));
    figures.purchases[2] = dated(goods("400.00"), BEFORE.0, BEFORE.1);
    let answer = answer(&figures);
    // £720 of flat rate VAT and £1,500 of ordinary VAT; £100 back.
    assert_eq!(answer.flat_rate.boxes.box1, money("2220.00"));
    assert_eq!(answer.flat_rate.boxes.box4, money("100.00"));
    assert!(warned(&answer).contains(&"scheme_ends"));
    let outside = answer.flat_rate.outside_scheme.expect("days outside the scheme");
    assert_eq!(outside.days.iter().map(|days| days.start().to_string()).collect::<Vec<_>>(), ["2025-05-16"]);
}

/// The start, a day either side of the period's own days.
#[test]
fn the_start_and_the_end_at_the_edges_of_the_period() {
    let with = |from: &str, until: Option<&str>| {
        let mut figures = joined_inside();
        figures.business.flat_rate_from = Some(day(from));
        figures.business.flat_rate_until = until.map(day);
        figures.split_estimate = Some(SplitEstimate::ByDays);
        for line in &mut figures.sales {
            line.part = None;
        }
        for line in &mut figures.purchases {
            line.part = None;
        }
        figures
    };
    assert!(answer(&with("2025-04-01", None)).flat_rate.outside_scheme.is_none());
    assert!(answer(&with("2025-03-31", None)).flat_rate.outside_scheme.is_none());
    assert!(answer(&with("2025-04-02", None)).flat_rate.outside_scheme.is_some());
    assert!(answer(&with("2025-06-30", None)).flat_rate.outside_scheme.is_some());
    assert_eq!(
        refused(&with("2025-07-01", None)),
        [("scheme_outside_period".into(), "/business/flat_rate_from".into())]
    );
    assert!(answer(&with("2020-01-01", Some("2025-06-30"))).flat_rate.outside_scheme.is_none());
    assert!(answer(&with("2020-01-01", Some("2025-06-29"))).flat_rate.outside_scheme.is_some());
    assert!(answer(&with("2020-01-01", Some("2025-04-01"))).flat_rate.outside_scheme.is_some());
    assert_eq!(
        refused(&with("2020-01-01", Some("2025-03-31"))),
        [("scheme_outside_period".into(), "/business/flat_rate_until".into())]
    );
    assert_eq!(
        refused(&with("2025-05-01", Some("2025-04-30"))),
        [("period_end_before_start".into(), "/business/flat_rate_until".into())]
    );
    // In the scheme for one day.
    assert_eq!(answer(&with("2025-05-01", Some("2025-05-01"))).flat_rate.parts[0].days.days(), 1);
    // Joined and left inside the same period: days on both sides.
    let both = answer(&with("2025-05-01", Some("2025-05-31")));
    assert_eq!(both.flat_rate.outside_scheme.expect("days outside the scheme").days.len(), 2);
}

/// Every line that matters on either side says where it belongs; capital goods even where an estimate is asked for.
#[test]
fn lines_must_say_their_side() {
    let mut figures = joined_inside();
    figures.sales[0].part = None;
    figures.purchases[1].part = None;
    figures.sales.push(sale(Treatment::NonBusiness, net("50.00")));
    figures.purchases.push(purchase(Spend::WagesAndOtherOutsideScope, net("900.00")));
    assert_eq!(
        refused(&figures),
        [
            ("period_must_be_split".to_owned(), "/sales/0".to_owned()),
            ("period_must_be_split".to_owned(), "/purchases/1".to_owned()),
        ]
    );
    figures.split_estimate = Some(SplitEstimate::ByDays);
    let estimated = answer(&figures);
    assert!(warned(&estimated).contains(&"split_estimated_by_days"));
    // £6,000 over 91 days: 45 before, 46 after; net and VAT shared apart.
    assert_eq!(estimated.flat_rate.turnover, money("12032.96"));
    figures.purchases.push(purchase(Spend::CapitalGoods, gross("2400.00")));
    assert_eq!(refused(&figures), [("period_must_be_split".into(), "/purchases/4".into())]);
    figures.purchases[4] = dated(purchase(Spend::CapitalGoods, gross("2400.00")), AFTER.0, AFTER.1);
    assert_eq!(answer(&figures).flat_rate.boxes.box4.minus(estimated.flat_rate.boxes.box4), Ok(money("400.00")));
}

/// Input tax of the days outside and reverse charges inside share one partial exemption calculation.
#[test]
fn partial_exemption_takes_both_sides_together() {
    let mut figures = joined_inside();
    figures.sales.push(in_part(sale(Treatment::Exempt, net("12500.00")), BEFORE.0, BEFORE.1));
    let mut overseas = dated(purchase(Spend::Services, net_and_vat("10000.00", "2000.00")), AFTER.0, AFTER.1);
    overseas.supply = Supply::OverseasServicesReverseCharge;
    overseas.used_for = UsedFor::Both;
    figures.purchases.push(overseas);
    figures.purchases[0].used_for = UsedFor::Exempt;
    let answer = answer(&figures);
    let calculation = answer.flat_rate.partial_exemption.expect("a calculation");
    // Half of the supplies of the whole period are taxable: £1,000 of £2,000 residual, £1,200 exempt input tax.
    assert_eq!(calculation.percentage.map(|percentage| percentage.to_string()).as_deref(), Some("50"));
    assert_eq!(calculation.exempt_input_tax, Some(money("1200.00")));
    assert_eq!(calculation.input_tax_exempt, money("200.00"));
    assert!(!calculation.simplified_test_2 && !calculation.main_test);
    assert_eq!(answer.flat_rate.boxes.box4, money("1000.00"));
}

/// An estimate shares net and VAT of each line by days, 45 of 91 before the scheme and 46 in it; a line that says its days is not shared.
#[test]
fn an_estimate_shares_every_line_that_does_not_say_its_days() {
    let mut figures = quarter();
    figures.business.flat_rate_from = Some(day(AFTER.0));
    figures.split_estimate = Some(SplitEstimate::ByDays);
    figures.sales = vec![
        sale(Treatment::ZeroRated, net("9100.00")),
        in_part(sale(Treatment::StandardRated, gross("1200.00")), AFTER.0, AFTER.1),
        sale(Treatment::StandardRated, net_and_vat("910.00", "182.00")),
        // A correction of VAT alone.
        sale(Treatment::StandardRated, net_and_vat("0.00", "0.91")),
    ];
    figures.purchases = vec![
        dated(purchase(Spend::Services, net_and_vat("100.00", "20.00")), BEFORE.0, BEFORE.1),
        purchase(Spend::Services, net_and_vat("1820.00", "364.00")),
        purchase(Spend::Services, net_and_vat("0.00", "0.91")),
        goods("91.00"),
        goods("0.00"),
    ];
    let answer = answer(&figures);
    let flat_rate = &answer.flat_rate;
    // £4,600, £1,200, £460 and £92, and £0.46.
    assert_eq!(flat_rate.turnover, money("6352.46"));
    assert_eq!(flat_rate.outside_scheme.as_ref().map(|outside| outside.vat_on_sales), Some(money("90.45")));
    // £20, and of the others £180 and £0.45.
    assert_eq!(flat_rate.boxes.box4, money("200.45"));
    assert_eq!(flat_rate.boxes.box7.to_string(), "1045");
    assert_eq!(answer.goods_test.as_ref().map(|test| test.relevant_goods), Some(money("46.00")));
    let estimated = answer.warnings.iter().find(|warning| warning.code.as_str() == "split_estimated_by_days");
    assert_eq!(
        estimated.expect("a warning").lines,
        ["/sales/0", "/sales/2", "/sales/3", "/purchases/1", "/purchases/2", "/purchases/3"]
    );
}

/// Without a line to share there is nothing estimated, though an estimate was asked for.
#[test]
fn nothing_is_estimated_where_every_line_says_its_days() {
    let mut figures = joined_inside();
    figures.split_estimate = Some(SplitEstimate::ByDays);
    assert!(!warned(&answer(&figures)).contains(&"split_estimated_by_days"));
    assert_eq!(answer(&figures).flat_rate.boxes.box4, money("200.00"));
}

/// Regs 25(1) and 55B: returns are made by the registered, and the scheme is for them.
#[test]
fn neither_the_period_nor_the_scheme_begins_before_the_registration() {
    let codes = |figures: &Figures| refusals(figures).into_iter().map(|refusal| refusal.code).collect::<Vec<_>>();
    let mut figures = quarter();
    figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    figures.business.flat_rate_from = None;
    figures.business.registered_on = figures.period.start.tomorrow().expect("a day");
    assert_eq!(codes(&figures), [RefusalCode::PeriodBeforeRegistration]);
    figures.business.registered_on = figures.period.start;
    answer(&figures);
    figures.business.flat_rate_from = figures.period.start.yesterday().ok();
    assert_eq!(codes(&figures), [RefusalCode::FlatRateBeforeRegistration]);
    figures.business.flat_rate_from = Some(figures.period.start);
    answer(&figures);
}
