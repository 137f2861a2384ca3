//! The contract's example: a management consultant's quarter with exempt income and too few goods.

use crate::support::*;
use vat_schemes::answer::{Basis, Cheaper};
use vat_schemes::compare;
use vat_schemes::figures::{Figures, Spend, Treatment, UsedFor};
use vat_schemes::workings::{Source, Workings};

fn figures() -> Figures {
    let mut figures = period("2026-04-01", "2026-06-30");
    figures.business.sector = "management-consultancy".to_owned();
    figures.business.registered_on = day("2019-02-01");
    figures.business.flat_rate_from = Some(day("2019-02-01"));
    figures.sales = vec![
        sale(Treatment::StandardRated, net_and_vat("24000.00", "4800.00")),
        sale(Treatment::Exempt, net("600.00")),
    ];
    figures.purchases = vec![
        purchase(Spend::Services, net_and_vat("1500.00", "300.00")),
        purchase(Spend::ConsumableGoods, net_and_vat("270.83", "54.17")),
    ];
    figures
}

#[test]
fn the_example_comes_out_figure_for_figure() {
    let answer = answer(&figures());
    let standard = &answer.standard;
    assert_eq!(
        [standard.output_tax, standard.input_tax, standard.vat_payable].map(|amount| amount.to_string()),
        ["4800.00", "354.17", "4445.83"]
    );
    assert_eq!([standard.boxes.box6, standard.boxes.box7].map(|pounds| pounds.to_string()), ["24600", "1770"]);
    let flat_rate = &answer.flat_rate;
    assert_eq!(
        [flat_rate.turnover, flat_rate.input_tax, flat_rate.vat_payable].map(|amount| amount.to_string()),
        ["29400.00", "0.00", "4851.00"]
    );
    assert_eq!(flat_rate.parts.len(), 1);
    assert_eq!(flat_rate.parts[0].basis, Basis::LimitedCost);
    assert_eq!(flat_rate.parts[0].percentage.to_string(), "16.5");
    let test = answer.goods_test.as_ref().expect("a goods test");
    assert!(test.limited_cost_business);
    assert_eq!(test.share_percentage.map(|share| share.to_string()).as_deref(), Some("1.11"));
    assert_eq!(
        [test.relevant_goods, test.two_percent_of_turnover, test.minimum_for_period, test.required, test.headroom]
            .map(|amount| amount.to_string()),
        ["325.00", "588.00", "250.00", "588.00", "-263.00"]
    );
    assert_eq!(answer.comparison.cheaper, Cheaper::Standard);
    assert_eq!(
        [answer.comparison.saving, answer.comparison.flat_rate_minus_standard, answer.comparison.break_even_input_tax]
            .map(|amount| amount.to_string()),
        ["405.17", "405.17", "-51.00"]
    );
}

#[test]
fn without_workings_the_answer_is_otherwise_the_same() {
    let with = compare(law(), &figures(), Workings::kept()).expect("an answer");
    let mut without = compare(law(), &figures(), Workings::not_kept()).expect("an answer");
    assert!(without.workings.is_empty() && !with.workings.is_empty());
    without.workings.clone_from(&with.workings);
    assert_eq!(with, without);
}

/// The length of a period is in whole months or in days, and the formulas with it.
#[test]
fn limits_for_the_length_of_a_period() {
    for (end, limit) in [("2026-06-30", "1875.00"), ("2026-07-01", "1890.41")] {
        let mut figures = Figures { period: period("2026-04-01", end).period, ..figures() };
        figures.purchases[0].used_for = UsedFor::Both;
        let calculation = answer(&figures).standard.partial_exemption.expect("a calculation");
        assert_eq!(calculation.de_minimis_limit, money(limit), "{end}");
    }
}

/// Every number of the law that was used is listed once, with the rows of the days it was used on, and each operand is what the step
/// that it names gives.
#[test]
fn numbers_of_the_law_are_listed_once_and_operands_are_what_their_steps_give() {
    let mut figures = figures();
    figures.purchases[0].used_for = UsedFor::Both;
    figures.purchases.push(purchase(Spend::CarLease, net("100.00")));
    let answer = answer(&figures);
    for step in &answer.workings {
        for operand in &step.operands {
            if let Source::Step(position) = operand.source {
                let from = &answer.workings[usize::try_from(position).expect("a position")];
                assert_eq!(from.result, operand.value, "{} from {}", step.id, from.id);
            }
        }
    }
    let used: Vec<_> = answer.law.used.iter().map(|used| format!("{} {} {}", used.id, used.value, used.from)).collect();
    assert_eq!(
        used,
        [
            "vat_rate_standard 20 2011-01-04",
            "car_lease_recoverable_share 50 2011-01-04",
            "partial_exemption_simplified_test_monthly 625.00 2010-04-01",
            "partial_exemption_simplified_test_share 50 2010-04-01",
            "partial_exemption_main_test_monthly 625.00 2011-01-04",
            "partial_exemption_rounding_monthly 400000.00 2011-01-04",
            "partial_exemption_main_test_share 50 2011-01-04",
            "frs_limited_cost_percent 2 2017-04-01",
            "frs_limited_cost_amount 1000.00 2017-04-01",
            "limited_cost_business 16.5 2017-04-01",
        ]
    );
}
