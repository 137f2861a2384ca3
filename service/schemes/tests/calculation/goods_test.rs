//! Which purchases count in the goods test, and for how much (VAT Regulations 1995 reg 55A(4)).

use crate::support::*;
use vat_schemes::answer::{Answer, GoodsTest};
use vat_schemes::figures::{Figures, Purchase, Spend, SplitEstimate, Supply, Treatment};

const TRANSPORT: &str = "transport-or-storage-including-couriers-freight-removals-and-taxis";
const HIRING: &str = "hiring-or-renting-goods";

/// A quarter with £10,000 of turnover, in which £250 of goods must be bought.
fn with(purchases: Vec<Purchase>) -> Figures {
    let mut figures = quarter();
    figures.sales = vec![sale(Treatment::StandardRated, gross("10000.00"))];
    figures.purchases = purchases;
    figures
}

fn tested(answer: &Answer) -> &GoodsTest {
    answer.goods_test.as_ref().expect("a goods test")
}

fn of_line(test: &GoodsTest) -> Vec<(usize, bool, String)> {
    test.lines.iter().map(|line| (line.purchase, line.relevant, line.amount.to_string())).collect()
}

/// Reg 55A(4): "used exclusively for the purposes of the business": a hundredth of a per cent less and nothing counts.
#[test]
fn goods_count_whole_or_not_at_all() {
    for (share, counted) in [(None, "250.00"), (Some("100"), "250.00"), (Some("99.99"), "0.00"), (Some("0"), "0.00")] {
        let mut line = goods("250.00");
        line.business_use = share.map(|share| share.parse().expect("a percentage"));
        let answer = answer(&with(vec![line]));
        assert_eq!(tested(&answer).relevant_goods, money(counted), "{share:?}");
        assert_eq!(tested(&answer).limited_cost_business, counted == "0.00", "{share:?}");
    }
}

/// Services bought from abroad are no goods, even where the line says stock (VATA 1994 s 8; reg 55A(4)).
#[test]
fn nothing_bought_under_the_overseas_reverse_charge_counts() {
    for (supply, counted) in [
        (Supply::OverseasServicesReverseCharge, "0.00"),
        (Supply::DomesticReverseCharge, "250.00"),
        (Supply::PostponedImport, "250.00"),
    ] {
        for spend in [Spend::Materials, Spend::StockForResale] {
            let mut line = purchase(spend, net_and_vat("250.00", "0.00"));
            line.supply = supply;
            assert_eq!(tested(&answer(&with(vec![line]))).relevant_goods, money(counted), "{spend:?} {supply:?}");
        }
    }
}

/// Each line of the answer has its own amount, with VAT, whatever stands between the lines that count.
#[test]
fn each_line_says_what_of_it_counts() {
    let answer = answer(&with(vec![
        purchase(Spend::Services, net_and_vat("70.00", "14.00")),
        purchase(Spend::Materials, net_and_vat("100.00", "20.00")),
        purchase(Spend::FoodAndDrinkForStaff, net_and_vat("30.00", "0.00")),
        purchase(Spend::PowerAndWater, net_and_vat("40.00", "2.00")),
    ]));
    let expected = [(0, false, "0.00"), (1, true, "120.00"), (2, false, "0.00"), (3, true, "42.00")];
    assert_eq!(of_line(tested(&answer)), expected.map(|(line, counts, amount)| (line, counts, amount.to_owned())));
    assert_eq!(tested(&answer).relevant_goods, money("162.00"));
    assert_eq!(tested(&answer).headroom, money("-88.00"));
    assert_eq!(tested(&answer).share_percentage.map(|share| share.to_string()).as_deref(), Some("1.62"));
}

/// Stock counts where selling it is what the main activity does, goods for hire only in the category of hiring, fuel only in that
/// of transport (reg 55A(4)); who answers the question decides it.
#[test]
fn goods_for_the_main_activity() {
    for (spend, sector, answered, counts) in [
        (Spend::StockForResale, SECTOR, None, true),
        (Spend::StockForResale, SECTOR, Some(true), true),
        (Spend::StockForResale, SECTOR, Some(false), false),
        (Spend::FoodAndDrinkForSale, SECTOR, None, true),
        (Spend::FoodAndDrinkForSale, SECTOR, Some(false), false),
        (Spend::GoodsForHireOut, SECTOR, None, false),
        (Spend::GoodsForHireOut, SECTOR, Some(true), true),
        (Spend::GoodsForHireOut, HIRING, None, true),
        (Spend::GoodsForHireOut, HIRING, Some(false), false),
        (Spend::VehicleFuelAndParts, SECTOR, None, false),
        (Spend::VehicleFuelAndParts, SECTOR, Some(true), false),
        (Spend::VehicleFuelAndParts, TRANSPORT, None, true),
        (Spend::VehicleFuelAndParts, TRANSPORT, Some(false), false),
    ] {
        let mut line = purchase(spend, net_and_vat("250.00", "0.00"));
        line.for_main_activity = answered;
        let mut figures = with(vec![line]);
        figures.business.sector = sector.to_owned();
        assert_eq!(
            tested(&answer(&figures)).limited_cost_business,
            !counts,
            "{spend:?} in {sector}, answered {answered:?}"
        );
    }
}

/// An assumption is pointed out where the other answer would turn the outcome, to the penny, and only on the lines that would turn it.
#[test]
fn an_assumption_that_decides_is_pointed_out() {
    let stock = |amount: &str| purchase(Spend::StockForResale, net_and_vat(amount, "0.00"));
    let hire = |amount: &str| purchase(Spend::GoodsForHireOut, net_and_vat(amount, "0.00"));
    let said_to_be = |mut line: Purchase, answer| {
        line.for_main_activity = Some(answer);
        line
    };
    for (purchases, rests_on) in [
        // Enough goods: without the stock £249.99 is left, then £250.
        (vec![goods("249.99"), stock("0.01")], &["/purchases/1"][..]),
        (vec![goods("250.00"), stock("0.01")], &[]),
        // Two lines that are assumed count together.
        (vec![stock("100.00"), goods("100.00"), stock("100.00")], &["/purchases/0", "/purchases/2"]),
        // What was answered is no assumption.
        (vec![goods("200.00"), said_to_be(stock("50.00"), true)], &[]),
        // Enough goods: more of them would turn nothing.
        (vec![goods("250.00"), hire("500.00")], &[]),
        // Too few: what is assumed not to count would make £250, or £249.99.
        (vec![goods("200.00"), hire("50.00")], &["/purchases/1"]),
        (vec![goods("200.00"), hire("49.99")], &[]),
        (vec![goods("200.00"), said_to_be(hire("50.00"), false)], &[]),
        // Too few, with stock that counts already: that it might not count turns nothing.
        (vec![goods("200.00"), stock("49.99")], &[]),
    ] {
        let answer = answer(&with(purchases.clone()));
        let found: Vec<_> = answer
            .warnings
            .iter()
            .filter(|warning| warning.code.as_str() == "goods_test_rests_on_default")
            .flat_map(|warning| warning.lines.clone())
            .collect();
        assert_eq!(found, rests_on, "{purchases:?}");
    }
}

/// SI 2017/295 reg 1: in a period that straddles 1 April 2017 the goods of the days from it count. One month of three: £83.34.
#[test]
fn goods_without_dates_in_the_period_of_the_start() {
    let straddling = |purchases: Vec<Purchase>| {
        let mut figures = period("2017-02-01", "2017-04-30");
        figures.sales = vec![in_part(sale(Treatment::StandardRated, gross("1000.00")), "2017-04-01", "2017-04-30")];
        figures.purchases = purchases;
        figures
    };
    let after = |amount: &str| dated(goods(amount), "2017-04-01", "2017-04-30");
    let before = |amount: &str| dated(goods(amount), "2017-02-01", "2017-03-31");
    // Enough with or without the line that has no dates: it is left out.
    let enough = answer(&straddling(vec![after("83.34"), goods("50.00"), before("900.00")]));
    assert_eq!((tested(&enough).relevant_goods, tested(&enough).limited_cost_business), (money("83.34"), false));
    // Too few with or without it: it is counted, in its place among the lines.
    let too_few = answer(&straddling(vec![goods("50.00"), after("33.33"), before("900.00")]));
    assert_eq!((tested(&too_few).relevant_goods, tested(&too_few).limited_cost_business), (money("83.33"), true));
    let expected = [(0, true, "50.00"), (1, true, "33.33"), (2, true, "0.00")];
    assert_eq!(of_line(tested(&too_few)), expected.map(|(line, counts, amount)| (line, counts, amount.to_owned())));
    // It decides: asked of each such line, and of none that was nought.
    let asked = [("period_must_be_split".to_owned(), "/purchases/0".to_owned())];
    assert_eq!(refused(&straddling(vec![goods("50.00"), after("33.34"), goods("0.00")])), asked);
    // Shared out by days where that was asked for: 30 of 89.
    let mut estimated = straddling(vec![goods("89.00"), after("10.00")]);
    estimated.split_estimate = Some(SplitEstimate::ByDays);
    assert_eq!(tested(&answer(&estimated)).relevant_goods, money("40.00"));
    // Days on both sides of the start are refused, but for a line of nought.
    let across = |amount: &str| straddling(vec![after("83.34"), dated(goods(amount), "2017-03-31", "2017-04-01")]);
    assert_eq!(refused(&across("0.01")), [("part_spans_change".into(), "/purchases/1/part".into())]);
    assert_eq!(tested(&answer(&across("0.00"))).relevant_goods, money("83.34"));
}

/// The category on the first of a line's days says whether its goods count.
#[test]
fn goods_count_in_the_category_of_their_days() {
    use vat_schemes::figures::{SectorChange, SectorChangeReason};
    let fuel =
        |start: &str, end: &str| dated(purchase(Spend::VehicleFuelAndParts, net_and_vat("250.00", "0.00")), start, end);
    for (line, counts) in [
        (fuel("2025-04-01", "2025-05-15"), false),
        (fuel("2025-05-15", "2025-05-15"), false),
        (fuel("2025-05-16", "2025-06-30"), true),
        (purchase(Spend::VehicleFuelAndParts, net_and_vat("250.00", "0.00")), false),
    ] {
        let mut figures = with(vec![line]);
        figures.sales = vec![in_part(sale(Treatment::StandardRated, gross("10000.00")), "2025-04-01", "2025-05-15")];
        figures.business.sector_changes = vec![SectorChange {
            on: day("2025-05-16"),
            sector: TRANSPORT.to_owned(),
            reason: SectorChangeReason::ActivityStarted,
        }];
        assert_eq!(tested(&answer(&figures)).relevant_goods == money("250.00"), counts);
    }
}
