//! What stands on the returns of both schemes: what is common to both, and which purchases are in box 7.

use crate::support::*;
use vat_schemes::answer::{Answer, CommonKind};
use vat_schemes::figures::{
    BoughtBefore, Figures, Nature, PreRegistration, Purchase, Spend, Supply, Treatment, UsedFor,
};

fn with_sales() -> Figures {
    let mut figures = quarter();
    figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    figures.purchases = vec![goods("500.00")];
    figures
}

fn from_abroad(net_amount: &str) -> Purchase {
    let mut line = purchase(Spend::Services, net(net_amount));
    line.supply = Supply::OverseasServicesReverseCharge;
    line
}

/// The items, with the VAT due and the VAT reclaimed on both.
fn common(answer: &Answer) -> Vec<(CommonKind, Option<String>, Option<String>)> {
    let text = |amount: Option<vat_schemes::money::Money>| amount.map(|amount| amount.to_string());
    answer
        .comparison
        .common_to_both
        .iter()
        .map(|item| (item.item, text(item.output_tax), text(item.input_tax)))
        .collect()
}

fn some(text: &str) -> Option<String> {
    Some(text.to_owned())
}

/// VATA 1994 s 8 and VAT Regulations 1995 reg 55U: due and recovered on both.
#[test]
fn reverse_charges_are_common_to_both() {
    assert_eq!(common(&answer(&with_sales())), []);
    let mut figures = with_sales();
    figures.purchases.push(purchase(Spend::Services, net("700.00")));
    figures.purchases.push(from_abroad("1000.00"));
    let expected = [(CommonKind::ReverseChargesAndImports, some("200.00"), some("200.00"))];
    assert_eq!(common(&answer(&figures)), expected);
    // A credit note of the same amount: nothing is left.
    figures.purchases.push(from_abroad("-1000.00"));
    assert_eq!(common(&answer(&figures)), []);
}

/// Partial exemption that cuts what one return recovers, and not what the other does: what is reclaimed is no longer alike.
#[test]
fn what_only_one_return_cuts_is_not_common() {
    let mut figures = with_sales();
    figures.sales.push(sale(Treatment::Exempt, net("10000.00")));
    let mut both = purchase(Spend::Services, net("60000.00"));
    both.used_for = UsedFor::Both;
    figures.purchases.push(both);
    figures.purchases.push(from_abroad("1000.00"));
    figures.purchases.push(purchase(Spend::CapitalGoods, net("5000.00")));
    let cut = answer(&figures);
    assert!(cut.standard.partial_exemption.as_ref().is_some_and(|method| !method.recovers_all()));
    assert!(cut.flat_rate.partial_exemption.as_ref().is_none_or(|method| method.recovers_all()));
    let expected =
        [(CommonKind::ReverseChargesAndImports, some("200.00"), None), (CommonKind::CapitalGoods, None, None)];
    assert_eq!(common(&cut), expected);
}

/// VAT Regulations 1995 reg 55E: claimed in full on both, where no other use cuts it under standard accounting.
#[test]
fn capital_goods_are_common_where_both_recover_all() {
    let mut figures = with_sales();
    figures.purchases.push(purchase(Spend::CapitalGoods, gross("2400.00")));
    assert_eq!(common(&answer(&figures)), [(CommonKind::CapitalGoods, None, some("400.00"))]);
    figures.purchases[1].business_use = Some("50".parse().expect("a percentage"));
    assert_eq!(common(&answer(&figures)), [(CommonKind::CapitalGoods, None, None)]);
}

/// VAT Regulations 1995 reg 55C(5): an asset on which VAT was claimed is sold outside the scheme, with its own VAT.
#[test]
fn assets_on_which_vat_was_claimed_are_common_to_both() {
    let mut figures = with_sales();
    let mut asset = sale(Treatment::StandardRated, net("900.00"));
    asset.nature = Nature::CapitalAssetVatClaimed;
    figures.sales.push(asset);
    assert_eq!(common(&answer(&figures)), [(CommonKind::AssetsWithVatClaimed, some("180.00"), None)]);
}

/// VAT Regulations 1995 reg 55F: VAT from before registration, where there is any to claim.
#[test]
fn vat_from_before_registration_is_common_to_both() {
    let mut figures = with_sales();
    figures.business.registered_on = figures.period.start;
    figures.business.flat_rate_from = Some(figures.period.start);
    let bought = |on_hand| PreRegistration {
        kind: BoughtBefore::Goods,
        bought_on: day("2024-06-01"),
        vat: money("10.00"),
        on_hand,
    };
    figures.adjustments.pre_registration = vec![bought(true)];
    assert_eq!(common(&answer(&figures)), [(CommonKind::PreRegistration, None, some("10.00"))]);
    figures.adjustments.pre_registration = vec![bought(false)];
    assert_eq!(common(&answer(&figures)), []);
}

/// Notice 733 section 7, box 7: of a flat rate user's purchases only capital goods claimed and those that follow the ordinary rules.
#[test]
fn box_7_of_a_flat_rate_user() {
    let mut figures = with_sales();
    let boxes = |figures: &Figures| {
        let answer = answer(figures);
        [answer.standard.boxes.box7, answer.flat_rate.boxes.box7].map(|pounds| pounds.to_string())
    };
    assert_eq!(boxes(&figures), ["500", "0"]);
    figures.purchases.push(from_abroad("1000.00"));
    assert_eq!(boxes(&figures), ["1500", "1000"]);
    figures.purchases.push(purchase(Spend::CapitalGoods, net_and_vat("2000.00", "400.00")));
    assert_eq!(boxes(&figures), ["3500", "3000"]);
    figures.purchases.push(purchase(Spend::CapitalGoods, net_and_vat("100.00", "20.00")));
    assert_eq!(boxes(&figures), ["3600", "3000"]);
}

/// Notice 700/12, box 6: the value of services bought from abroad stands among the outputs too, on both returns.
#[test]
fn services_from_abroad_stand_in_box_6() {
    let mut figures = with_sales();
    let boxes = |figures: &Figures| {
        let answer = answer(figures);
        [answer.standard.boxes.box6, answer.flat_rate.boxes.box6].map(|pounds| pounds.to_string())
    };
    assert_eq!(boxes(&figures), ["10000", "12000"]);
    figures.purchases.push(from_abroad("1000.00"));
    assert_eq!(boxes(&figures), ["11000", "13000"]);
    // Under the domestic reverse charge the customer has no output of that value.
    figures.purchases[1].supply = Supply::DomesticReverseCharge;
    assert_eq!(boxes(&figures), ["10000", "12000"]);
}

/// Only standard accounting has a figure of its own for output tax; no figure is the result of two steps.
#[test]
fn each_figure_is_the_result_of_one_step() {
    let answer = answer(&with_sales());
    let figures: Vec<&str> = answer.workings.iter().flat_map(|step| &step.figures).map(AsRef::as_ref).collect();
    let once: std::collections::BTreeSet<&str> = figures.iter().copied().collect();
    assert_eq!(once.len(), figures.len(), "{figures:?}");
    assert!(once.contains("/standard/output_tax") && !once.contains("/flat_rate/output_tax"), "{figures:?}");
}
