//! The limits within a comparison, as seen from the last day of its period.

use crate::support::thresholds::{income, months, pence, taxable, year};
use crate::support::{answer, day, period, warned};
use vat_schemes::figures::{Figures, TurnoverMethod};
use vat_schemes::thresholds::{Limit, LimitCheck, Turnover};

/// A quarter of a user since 15 February 2023.
fn comparison(turnover: Turnover) -> Figures {
    let mut figures = period("2025-02-01", "2025-04-30");
    figures.business.flat_rate_from = Some(day("2023-02-15"));
    figures.turnover = Some(turnover);
    figures
}

fn check(limit: Limit, figures: &Figures) -> LimitCheck {
    let limits = answer(figures).limits.expect("limits");
    limits.checks.iter().find(|check| check.limit == limit).expect("a check").clone()
}

#[test]
fn a_comparison_tests_the_limits_of_a_registered_business() {
    let figures =
        comparison(Turnover { past_year: year(Some("2025-02-15"), income("230000.01")), ..Turnover::default() });
    let limits = answer(&figures).limits.expect("limits");
    assert_eq!(
        limits.checks.iter().map(|check| check.limit).collect::<Vec<_>>(),
        [
            Limit::Deregistration,
            Limit::FlatRateJoining,
            Limit::FlatRateLeavingAnniversary,
            Limit::FlatRateRunningIncome,
            Limit::FlatRateLeavingNextThirtyDays,
            Limit::FlatRateStaying,
            Limit::CashAccountingLeaving,
        ]
    );
    let leaving = &limits.checks[2];
    assert_eq!((leaving.outcome.as_str(), leaving.effective_from), ("must_leave", Some(day("2025-05-01"))));
    assert_eq!(leaving.notify_by, Some(day("2025-03-17")));
    assert!(warned(&answer(&figures)).contains(&"leaving_limit_exceeded"));
    let by_months = comparison(Turnover { months: months("2024-02", &[1_920_000; 15]), ..Turnover::default() });
    let found = check(Limit::FlatRateLeavingAnniversary, &by_months);
    assert_eq!(found.decisive.map(|day| day.measured), Some(pence(23_040_000)));
    assert!(answer(&period("2025-02-01", "2025-04-30")).limits.is_none());
}

/// Joining is tested where the scheme starts in the period, or would.
#[test]
fn joining_is_tested_where_the_scheme_starts_in_the_period() {
    for (from, is_tested) in [
        (None, true),
        (Some("2025-01-31"), false),
        (Some("2025-02-01"), true),
        (Some("2025-02-02"), true),
        (Some("2025-04-30"), true),
    ] {
        let mut figures = comparison(Turnover { next_year: Some(taxable("150000.01")), ..Turnover::default() });
        figures.business.flat_rate_from = from.map(day);
        let found = check(Limit::FlatRateJoining, &figures);
        assert_eq!(found.outcome.as_str(), if is_tested { "may_not_join" } else { "nothing" }, "{from:?}");
    }
}

/// Without a first day, a last one says that the scheme began with the period.
#[test]
fn the_days_of_the_scheme_in_a_comparison() {
    for (until, in_scheme) in [(None, false), (Some("2025-04-29"), false), (Some("2025-04-30"), true)] {
        let next_30_days = Some(income("1.00"));
        let mut figures = comparison(Turnover { next_30_days, ..Turnover::default() });
        figures.business.flat_rate_from = None;
        figures.business.flat_rate_until = until.map(day);
        let found = check(Limit::FlatRateLeavingNextThirtyDays, &figures);
        assert_eq!(found.status.as_str() == "clear", in_scheme, "{until:?}");
    }
}

/// Who uses the cash turnover method uses cash accounting beside it, under standard accounting.
#[test]
fn cash_accounting_is_left_by_those_who_use_it() {
    for (method, outcome) in [(TurnoverMethod::Cash, "must_leave"), (TurnoverMethod::Basic, "nothing")] {
        let past_year = year(None, taxable("1600000.01"));
        let mut figures = comparison(Turnover { past_year, ..Turnover::default() });
        figures.business.turnover_method = method;
        assert_eq!(check(Limit::CashAccountingLeaving, &figures).outcome.as_str(), outcome, "{method:?}");
    }
}
