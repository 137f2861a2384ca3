//! Joining and leaving cash and annual accounting (VAT Regulations 1995 regs 52, 53, 58 and 60).

use crate::support::day;
use crate::support::thresholds::*;
use vat_schemes::figures::Dates;
use vat_schemes::thresholds::{Basis, Limit, LimitCheck, Method, ThresholdFigures};

fn with_cash(as_of: &str, totals: &[i64], quarters: bool) -> ThresholdFigures {
    let mut figures = registered(as_of);
    figures.business.uses_cash_accounting = true;
    figures.turnover.months = months("2024-01", totals);
    figures.period = quarters.then(|| Dates { start: day("2025-01-01"), end: day("2025-03-31") });
    figures
}

fn leaving(figures: &ThresholdFigures) -> LimitCheck {
    check(Limit::CashAccountingLeaving, figures)
}

/// Reg 60(1): only the end of a VAT period counts; where none is known, every month end is taken for one, and that is said.
#[test]
fn cash_accounting_ends_with_a_period() {
    let mut totals = vec![13_300_000; 12];
    totals.extend([13_700_000, 13_300_000, 13_300_000]);
    // Twelve months are £1,600,000.00 from January 2025 on: not over, but the run of the last three goes on to more.
    assert_eq!(stands(&leaving(&with_cash("2025-03-31", &totals, false))), ("expected", "stays"));
    totals[12] += 1;
    let found = leaving(&with_cash("2025-03-31", &totals, false));
    assert_eq!(stands(&found), ("crossed", "must_leave"));
    assert_eq!(days(&found), ["2025-01-31", "none", "none", "2025-02-01"]);
    assert_eq!((found.figures_needed.len(), found.days.len()), (1, 4));
    assert_eq!(
        found.decisive.map(|tested| (tested.on, tested.measured)),
        Some((day("2025-01-31"), pence(160_000_001)))
    );
    let found = leaving(&with_cash("2025-03-31", &totals, true));
    assert_eq!(days(&found), ["2025-03-31", "none", "none", "2025-04-01"]);
    assert_eq!(found.figures_needed.len(), 0);
    // The same quarter, seen a day before its end, is still to come.
    let found = leaving(&with_cash("2025-03-30", &totals, true));
    assert_eq!(stands(&found), ("expected", "must_leave"));
    assert_eq!(days(&found), ["none", "none", "none", "2025-04-01"]);
    assert_eq!(found.outlook[0].method, Method::OwnForecast);
}

/// More than the limit inside a period is an early warning; the latest month end that has come is shown.
#[test]
fn over_the_limit_inside_a_period() {
    let mut totals = vec![13_300_000; 12];
    totals.extend([13_800_000, 13_300_000]);
    let found = leaving(&with_cash("2025-02-28", &totals, true));
    assert_eq!(stands(&found), ("expected", "stays"));
    assert_eq!(found.decisive.map(|tested| tested.on), Some(day("2025-02-28")));
    // A year in one figure that ends inside the period shows no run.
    for (end, status, outcome) in [("2025-02-28", "close", "stays"), ("2025-03-31", "crossed", "must_leave")] {
        let mut figures = with_cash("2025-03-31", &[], true);
        figures.turnover.past_year = year(Some(end), taxable("1600000.01"));
        assert_eq!(stands(&leaving(&figures)), (status, outcome), "{end}");
    }
    assert_eq!(stands(&leaving(&with_cash("2025-01-31", &[13_000_000; 13], true))), ("close", "stays"));
    assert_eq!(stands(&leaving(&with_cash("2025-01-31", &[10_000_000; 13], true))), ("clear", "stays"));
    assert_eq!(days(&leaving(&with_cash("2025-01-31", &[10_000_000; 13], true))), ["none"; 4]);
}

/// Reg 60(1): a period's end has come when its figures are actual and its last day is not ahead; a month ahead that is not over the
/// limit ends nothing.
#[test]
fn the_end_of_a_period_has_come_or_is_ahead() {
    // To 31 March 2025 the twelve months are £1,600,000.01.
    let mut totals = vec![13_300_000; 14];
    totals.push(13_700_001);
    for (as_of, said, status) in [
        ("2025-03-31", None, "crossed"),
        ("2025-04-15", Some(Basis::Forecast), "expected"),
        ("2025-03-15", Some(Basis::Actual), "expected"),
    ] {
        let mut figures = with_cash(as_of, &totals, true);
        figures.turnover.months[14].basis = said;
        let found = leaving(&figures);
        assert_eq!(stands(&found), (status, "must_leave"), "{as_of}");
        let crossed = if status == "crossed" { "2025-03-31" } else { "none" };
        assert_eq!(days(&found), [crossed, "none", "none", "2025-04-01"], "{as_of}");
    }
    let found = leaving(&with_cash("2025-01-31", &[10_000_000; 15], true));
    assert_eq!(stands(&found), ("clear", "stays"));
    assert_eq!(found.decisive.map(|tested| tested.on), Some(day("2025-01-31")));
}

/// Each scheme is joined by those who don't use it and left by those who do.
#[test]
fn a_scheme_in_use_is_not_joined_and_one_not_used_is_not_left() {
    for (cash, annual) in [(false, false), (true, false), (false, true), (true, true)] {
        let mut figures = registered("2025-12-31");
        figures.business.uses_cash_accounting = cash;
        figures.business.uses_annual_accounting = annual;
        figures.turnover.next_year = Some(taxable("1.00"));
        figures.turnover.past_year = year(None, taxable("1.00"));
        let answer = tested(&figures);
        for (limit, applies) in [
            (Limit::CashAccountingJoining, !cash),
            (Limit::CashAccountingLeaving, cash),
            (Limit::AnnualAccountingJoining, !annual),
            (Limit::AnnualAccountingLeaving, annual),
        ] {
            assert_eq!(of(limit, &answer).status.as_str() == "clear", applies, "{limit:?} {cash} {annual}");
        }
    }
}

/// Reg 57A: cash accounting is not joined beside the Flat Rate Scheme; who uses it all the same is told that it is in use.
#[test]
fn cash_accounting_is_not_joined_by_a_flat_rate_user() {
    let mut figures = user("2025-12-31");
    figures.turnover.next_year = Some(taxable("1.00"));
    assert!(check(Limit::CashAccountingJoining, &figures).finding.contains("Flat Rate Scheme"));
    figures.business.uses_cash_accounting = true;
    assert!(check(Limit::CashAccountingJoining, &figures).finding.contains("already"));
    assert_eq!(stands(&check(Limit::AnnualAccountingJoining, &figures)), ("clear", "may_join"));
}
