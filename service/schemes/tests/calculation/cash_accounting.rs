//! The cash accounting scheme: joining, staying and leaving, at each limit and day (VAT Regulations 1995 regs 58, 60, 61).

use crate::support::*;
use vat_schemes::answer::{CashAccountingAnswer, CashConditionAnswer, CashLeavingAnswer};
use vat_schemes::figures::{
    CashAccounting, CashLeaving, Figures, Outstanding, OutstandingTreatment, Supply, Treatment, TurnoverMethod,
};

fn asked(cash: CashAccounting) -> Figures {
    let mut figures = quarter();
    figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    figures.purchases = vec![goods("5000.00")];
    figures.cash_accounting = Some(cash);
    figures
}

fn judged(cash: CashAccounting) -> CashAccountingAnswer {
    answer(&asked(cash)).cash_accounting.expect("an answer")
}

fn known(answer: &CashAccountingAnswer) -> Vec<(&'static str, CashConditionAnswer)> {
    answer.conditions.iter().map(|condition| (condition.kind.as_str(), condition.answer)).collect()
}

fn joining(expected: Option<&str>, up_to_date: Option<bool>, no_offence: Option<bool>) -> CashAccounting {
    CashAccounting {
        expected_turnover: expected.map(money),
        returns_and_payments_up_to_date: up_to_date,
        no_vat_offence_in_past_year: no_offence,
        ..CashAccounting::default()
    }
}

#[test]
fn joining_up_to_the_limit() {
    for (expected, may_use) in [("1349999.99", true), ("1350000.00", true), ("1350000.01", false)] {
        let cash = judged(joining(Some(expected), Some(true), Some(true)));
        assert_eq!(cash.may_use, Some(may_use), "{expected}");
    }
}

/// What is not known settles nothing, unless something else already closes the scheme.
#[test]
fn joining_with_facts_that_are_not_known() {
    for (cash, may_use) in [
        (joining(None, None, None), None),
        (joining(Some("1.00"), None, None), None),
        (joining(Some("1.00"), Some(true), None), None),
        (joining(None, Some(true), Some(true)), None),
        (joining(None, Some(false), None), Some(false)),
        (joining(None, None, Some(false)), Some(false)),
        (joining(Some("1350000.01"), None, None), Some(false)),
        (joining(Some("1.00"), None, Some(false)), Some(false)),
        (joining(Some("1.00"), Some(true), Some(false)), Some(false)),
        (joining(Some("1.00"), Some(true), Some(true)), Some(true)),
    ] {
        assert_eq!(judged(cash.clone()).may_use, may_use, "{cash:?}");
    }
    let nothing = judged(CashAccounting::default());
    assert_eq!((nothing.may_use, nothing.must_leave, nothing.leaving.is_none()), (None, None, true));
    assert_eq!(
        known(&nothing),
        [
            ("expected_turnover_within_limit", CashConditionAnswer::NotKnown),
            ("returns_and_payments_up_to_date", CashConditionAnswer::NotKnown),
            ("no_vat_offence_in_past_year", CashConditionAnswer::NotKnown),
            ("past_turnover_above_limit", CashConditionAnswer::NotKnown),
        ]
    );
    assert!(nothing.conditions.iter().all(|condition| condition.question.ends_with('?')));
    let closed = answer(&asked(joining(None, Some(false), None)));
    assert!(warned(&closed).contains(&"cash_accounting_not_open"));
}

fn staying(past: &str, once: Option<bool>, commercial: Option<bool>, expected: Option<&str>) -> CashAccounting {
    CashAccounting {
        past_turnover: Some(money(past)),
        not_to_be_repeated: once,
        genuine_commercial_activity: commercial,
        expected_turnover: expected.map(money),
        ..CashAccounting::default()
    }
}

#[test]
fn leaving_above_the_limit() {
    for (past, must_leave) in [("1599999.99", false), ("1600000.00", false), ("1600000.01", true)] {
        let figures = asked(staying(past, Some(false), None, None));
        let found = answer(&figures);
        assert_eq!(found.cash_accounting.as_ref().and_then(|cash| cash.must_leave), Some(must_leave), "{past}");
        assert_eq!(warned(&found).contains(&"cash_accounting_must_leave"), must_leave, "{past}");
        for warning in found.warnings.iter().filter(|warning| warning.code.as_str() == "cash_accounting_must_leave") {
            assert_eq!(warning.act_by, Some(day("2025-06-30")));
            assert_eq!((warning.measured.as_deref(), warning.limit.as_deref()), (Some(past), Some("1600000.00")));
        }
    }
}

/// VCAS6450: the increase happened once, came from genuine commercial activity, and less than the limit for joining is expected.
#[test]
fn a_single_increase_lets_a_business_stay() {
    const ABOVE: &str = "1600000.01";
    for (cash, must_leave) in [
        (staying(ABOVE, Some(true), Some(true), Some("1349999.99")), Some(false)),
        (staying(ABOVE, Some(true), Some(true), Some("1350000.00")), Some(true)),
        (staying(ABOVE, Some(true), Some(true), Some("1350000.01")), Some(true)),
        (staying(ABOVE, Some(true), Some(false), Some("1.00")), Some(true)),
        (staying(ABOVE, Some(false), None, None), Some(true)),
        (staying(ABOVE, None, Some(false), None), Some(true)),
        (staying(ABOVE, None, None, Some("1350000.00")), Some(true)),
        (staying(ABOVE, None, Some(true), Some("1.00")), None),
        (staying(ABOVE, Some(true), None, Some("1.00")), None),
        (staying(ABOVE, Some(true), Some(true), None), None),
        (staying(ABOVE, None, None, None), None),
    ] {
        assert_eq!(judged(cash.clone()).must_leave, must_leave, "{cash:?}");
    }
    let asks = judged(staying(ABOVE, None, None, None));
    assert_eq!(
        known(&asks)[3..],
        [
            ("past_turnover_above_limit", CashConditionAnswer::Yes),
            ("not_to_be_repeated", CashConditionAnswer::NotKnown),
            ("genuine_commercial_activity", CashConditionAnswer::NotKnown),
            ("expected_turnover_below_limit", CashConditionAnswer::NotKnown),
        ]
    );
    for (expected, below) in [("1349999.99", CashConditionAnswer::Yes), ("1350000.00", CashConditionAnswer::No)] {
        let cash = judged(staying(ABOVE, None, None, Some(expected)));
        assert_eq!(known(&cash)[6], ("expected_turnover_below_limit", below), "{expected}");
    }
    // Below the limit nothing is asked of an increase.
    assert_eq!(judged(staying("1.00", None, None, None)).conditions.len(), 4);
}

fn owed(treatment: OutstandingTreatment, amount: &str, recoverable: Option<&str>) -> Outstanding {
    let recoverable = recoverable.map(|share| share.parse().expect("a percentage"));
    Outstanding { treatment, gross: money(amount), recoverable }
}

fn leaving_on(on: &str) -> CashLeaving {
    CashLeaving {
        on: day(on),
        debtors: vec![owed(OutstandingTreatment::StandardRated, "12000.00", None)],
        creditors: vec![owed(OutstandingTreatment::StandardRated, "3600.00", None)],
        turnover_last_three_months: Some(money("1350000.00")),
        left_late: Some(false),
        removed: Some(false),
        deregistered: Some(false),
    }
}

fn left(leaving: CashLeaving) -> CashLeavingAnswer {
    judged(CashAccounting { leaving: Some(leaving), ..CashAccounting::default() }).leaving.expect("an answer")
}

#[test]
fn what_is_outstanding_on_leaving() {
    let plain = left(leaving_on("2025-06-30"));
    assert_eq!(
        [plain.output_tax, plain.input_tax, plain.net_due],
        [money("2000.00"), money("600.00"), money("1400.00")]
    );

    use OutstandingTreatment::{Exempt, OutsideScope, ReducedRated, StandardRated, ZeroRated};
    let mixed = left(CashLeaving {
        debtors: vec![
            owed(StandardRated, "0.04", None),
            owed(StandardRated, "0.02", None),
            owed(ReducedRated, "105.00", None),
            owed(ZeroRated, "999.00", None),
            owed(Exempt, "999.00", None),
            owed(OutsideScope, "999.00", None),
        ],
        creditors: vec![
            owed(StandardRated, "1200.00", Some("0")),
            owed(StandardRated, "1200.00", Some("50")),
            owed(StandardRated, "1200.00", Some("100")),
            owed(ReducedRated, "0.32", Some("50")),
            owed(ZeroRated, "999.00", Some("50")),
        ],
        ..leaving_on("2025-06-30")
    });
    // 0.0067 and 0.0033 and 5.00; 0.00 and 100.00 and 200.00 and 0.0076.
    assert_eq!([mixed.output_tax, mixed.input_tax, mixed.net_due], [money("5.01"), money("300.01"), money("-295.00")]);

    let nothing = left(CashLeaving { debtors: Vec::new(), creditors: Vec::new(), ..leaving_on("2025-06-30") });
    assert!([nothing.output_tax, nothing.input_tax, nothing.net_due].iter().all(|amount| amount.is_zero()));
}

#[test]
fn leaving_changes_neither_return() {
    let mut figures = asked(CashAccounting { leaving: Some(leaving_on("2025-06-30")), ..CashAccounting::default() });
    let with = answer(&figures);
    figures.cash_accounting = None;
    let without = answer(&figures);
    assert_eq!((&with.standard, &with.flat_rate), (&without.standard, &without.flat_rate));
    assert!(without.cash_accounting.is_none());
    assert!(with.cautions.len() > without.cautions.len());
}

#[test]
fn six_months_run_from_the_day_after() {
    for (start, on, until) in [
        ("2025-04-01", "2025-06-30", "2025-12-31"),
        ("2025-06-01", "2025-08-31", "2026-02-28"),
        ("2023-06-01", "2023-08-31", "2024-02-29"),
        ("2025-04-01", "2025-05-15", "2025-11-15"),
    ] {
        let mut figures = asked(CashAccounting { leaving: Some(leaving_on(on)), ..CashAccounting::default() });
        figures.period.start = day(start);
        figures.period.end = day(on);
        let leaving = answer(&figures).cash_accounting.and_then(|cash| cash.leaving).expect("an answer");
        assert_eq!(leaving.time.as_str(), "at_once_or_within_six_months");
        assert_eq!(leaving.six_months_until, Some(day(until)), "{on}");
        let warnings = answer(&figures).warnings;
        let left = warnings.iter().find(|warning| warning.code.as_str() == "cash_accounting_left");
        assert_eq!(left.and_then(|warning| warning.act_by), Some(day(until)));
    }
}

/// VCAS6250: no six months above the limit in three months, after leaving late, or when removed; nor when registration ends.
#[test]
fn what_takes_the_six_months_away() {
    const CHOICE: &str = "at_once_or_within_six_months";
    type Change = fn(&mut CashLeaving);
    let cases: [(Change, &str); 12] = [
        (|_| {}, CHOICE),
        (|leaving| leaving.turnover_last_three_months = Some(money("1349999.99")), CHOICE),
        (|leaving| leaving.turnover_last_three_months = Some(money("1350000.01")), "at_once"),
        (|leaving| leaving.turnover_last_three_months = None, "not_known"),
        (|leaving| leaving.left_late = Some(true), "at_once"),
        (|leaving| leaving.left_late = None, "not_known"),
        (|leaving| leaving.removed = Some(true), "at_once"),
        (|leaving| leaving.removed = None, "not_known"),
        (|leaving| leaving.deregistered = Some(true), "at_once"),
        (|leaving| leaving.deregistered = None, "not_known"),
        (
            |leaving| {
                leaving.removed = Some(true);
                leaving.turnover_last_three_months = None;
            },
            "at_once",
        ),
        (
            |leaving| {
                leaving.left_late = None;
                leaving.removed = None;
            },
            "not_known",
        ),
    ];
    for (position, (change, time)) in cases.into_iter().enumerate() {
        let mut leaving = leaving_on("2025-06-30");
        change(&mut leaving);
        let found = left(leaving);
        assert_eq!(found.time.as_str(), time, "{position}");
        assert_eq!(found.six_months_until.is_some(), time == CHOICE, "{position}");
        assert_eq!(found.conditions.len(), 4);
    }
}

#[test]
fn the_last_day_is_in_the_period() {
    for (on, taken) in [("2025-03-31", false), ("2025-04-01", true), ("2025-06-30", true), ("2025-07-01", false)] {
        let figures = asked(CashAccounting { leaving: Some(leaving_on(on)), ..CashAccounting::default() });
        if taken {
            answer(&figures);
        } else {
            assert_eq!(
                refused(&figures),
                [("dates_out_of_order".into(), "/cash_accounting/leaving/on".into())],
                "{on}"
            );
        }
    }
}

/// Reverse charges, imports and acquisitions are outside cash accounting, so they are warned of where totals are money.
#[test]
fn supplies_outside_cash_accounting_are_named() {
    for (supply, outside) in [
        (Supply::Ordinary, false),
        (Supply::OverseasServicesReverseCharge, true),
        (Supply::DomesticReverseCharge, true),
        (Supply::PostponedImport, true),
        (Supply::NorthernIrelandAcquisition, true),
    ] {
        let mut figures = quarter();
        figures.business.turnover_method = TurnoverMethod::Cash;
        let mut bought = goods("100.00");
        bought.supply = supply;
        figures.purchases = vec![goods("500.00"), bought];
        let lines = |figures: &Figures| {
            let warnings = answer(figures).warnings;
            warnings
                .into_iter()
                .find(|found| found.code.as_str() == "supply_outside_cash_accounting")
                .map(|found| found.lines)
        };
        assert_eq!(lines(&figures), outside.then(|| vec!["/purchases/1".to_owned()]), "{supply:?}");
        figures.business.turnover_method = TurnoverMethod::Basic;
        assert_eq!(lines(&figures), None);
    }
    let mut figures = quarter();
    figures.business.turnover_method = TurnoverMethod::Cash;
    figures.sales = vec![sale(Treatment::DomesticReverseCharge, net("100.00"))];
    assert!(warned(&answer(&figures)).contains(&"supply_outside_cash_accounting"));
}
