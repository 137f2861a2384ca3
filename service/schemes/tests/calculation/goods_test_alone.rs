//! The limited cost test by itself (VAT Regulations 1995 reg 55A(4)), and what would change its outcome.

use crate::support::*;
use vat_schemes::answer::GoodsAnswer;
use vat_schemes::figures::{Dates, GoodsFigures, GoodsGiven, Spend, Treatment, TurnoverGiven};
use vat_schemes::refusal::Refusals;
use vat_schemes::test_goods;
use vat_schemes::workings::Workings;

fn totals(turnover: &str, goods: &str) -> GoodsFigures {
    GoodsFigures {
        period: Dates { start: day("2025-04-01"), end: day("2025-06-30") },
        sector: SECTOR.to_owned(),
        turnover: TurnoverGiven::Total(money(turnover)),
        goods: GoodsGiven::Total(money(goods)),
        split_estimate: None,
    }
}

fn tested(figures: &GoodsFigures) -> GoodsAnswer {
    test_goods(law(), figures, Workings::kept()).unwrap_or_else(|Refusals(refusals)| panic!("refused: {refusals:?}"))
}

fn refused_for(figures: &GoodsFigures) -> Vec<(String, String)> {
    match test_goods(law(), figures, Workings::kept()) {
        Ok(_) => panic!("answered"),
        Err(Refusals(refusals)) => codes_and_places(refusals),
    }
}

/// The turning points hold to the penny: with the spend named the test passes, with a penny less it fails; with the
/// turnover named it passes, with a penny more it fails.
#[test]
fn the_turning_points_are_exact() {
    for (turnover, goods) in [
        ("29400.00", "325.00"),
        ("20000.01", "400.00"),
        ("10000.00", "225.00"),
        ("10000.00", "260.00"),
        ("0.00", "0.00"),
        ("12345.67", "333.33"),
    ] {
        let answer = tested(&totals(turnover, goods));
        let spent = money(goods).plus(answer.what_would_change.spend_needed).expect("a sum");
        let limited = |turnover: &str, goods: &str| tested(&totals(turnover, goods)).goods_test.limited_cost_business;
        assert!(!limited(turnover, &spent.to_string()), "{turnover} {goods}");
        if answer.goods_test.limited_cost_business {
            let penny_less = spent.minus(money("0.01")).expect("a difference");
            assert!(limited(turnover, &penny_less.to_string()), "{turnover} {goods}");
        } else {
            assert!(answer.what_would_change.spend_needed.is_zero());
        }
        match answer.what_would_change.most_turnover {
            Some(most) => {
                assert!(!limited(&most.to_string(), goods), "{goods}");
                assert!(limited(&most.plus(money("0.01")).expect("a sum").to_string(), goods), "{goods}");
            }
            None => assert!(limited("0.00", goods), "{goods}"),
        }
    }
}

/// HMRC Notice 733 (April 2017), Examples 1 and 3: £260 of £10,000 passes, £225 does not.
#[test]
fn the_notices_examples() {
    for (goods, limited, headroom, needed, most) in
        [("260.00", false, "10.00", "0.00", Some("13000.00")), ("225.00", true, "-25.00", "25.00", None)]
    {
        let answer = tested(&totals("10000.00", goods));
        assert_eq!(answer.goods_test.limited_cost_business, limited);
        assert_eq!(answer.goods_test.headroom, money(headroom));
        assert_eq!(answer.what_would_change.spend_needed, money(needed));
        assert_eq!(answer.what_would_change.most_turnover.map(|most| most.to_string()).as_deref(), most);
        assert_eq!(answer.what_would_change.category_percentage.to_string(), "12");
        assert_eq!(answer.what_would_change.limited_cost_percentage.to_string(), "16.5");
        assert!(answer.goods_test.lines.is_empty());
    }
}

/// Lines and totals give the same test, and each line says why it counts.
#[test]
fn lines_and_totals_agree() {
    let mut figures = totals("12000.00", "300.00");
    let of_totals = tested(&figures);
    figures.turnover = TurnoverGiven::Sales(vec![
        sale(Treatment::StandardRated, gross("11000.00")),
        sale(Treatment::Exempt, net("1000.00")),
        sale(Treatment::OutsideScope, net("700.00")),
    ]);
    figures.goods = GoodsGiven::Purchases(vec![
        purchase(Spend::PowerAndWater, gross("300.00")),
        purchase(Spend::Services, gross("900.00")),
    ]);
    let mut of_lines = tested(&figures);
    assert_eq!(of_lines.goods_test.lines.iter().map(|line| line.relevant).collect::<Vec<_>>(), [true, false]);
    assert!(of_lines.goods_test.lines.iter().all(|line| !line.reason.is_empty() && !line.authority.is_empty()));
    of_lines.goods_test.lines.clear();
    assert_eq!(of_totals.goods_test, of_lines.goods_test);
    assert_eq!(of_totals.what_would_change, of_lines.what_would_change);
}

/// Before April 2017 there is no test; in the period that straddles it one figure is not enough.
#[test]
fn the_day_on_which_the_rule_began() {
    let mut figures = totals("10000.00", "260.00");
    figures.period = Dates { start: day("2017-01-01"), end: day("2017-03-31") };
    assert_eq!(refused_for(&figures), [("date_outside_law".into(), "/period/end".into())]);
    figures.period.end = day("2017-04-01");
    assert_eq!(
        refused_for(&figures),
        [
            ("period_must_be_split".to_owned(), "/turnover".to_owned()),
            ("period_must_be_split".to_owned(), "/relevant_goods".to_owned()),
        ]
    );
    figures.period = Dates { start: day("2017-04-01"), end: day("2017-06-30") };
    assert!(!tested(&figures).goods_test.limited_cost_business);
    figures.sector = "no-such-category".into();
    assert_eq!(refused_for(&figures), [("unknown_sector".into(), "/business/sector".into())]);
}
