//! Every limit to the penny, and on the days on which it changed.

use crate::support::thresholds::*;
use vat_schemes::thresholds::{GoodsOnHand, Limit, ThresholdFigures};

type Asks = fn(&str, &str) -> ThresholdFigures;

/// The check, the request, the outcome at the limit and the one a penny over it, and what it was on which day, in pounds.
type OfLimit = (Limit, Asks, &'static str, &'static str, &'static [(&'static str, i64)]);

fn next_year(on: &str, amount: &str) -> ThresholdFigures {
    let mut figures = registered(on);
    figures.turnover.next_year = Some(taxable(amount));
    figures
}

/// Each limit on days around its changes (the orders that changed VATA 1994 Sch 1; VAT Regulations 1995 regs 52, 53, 55L, 55M, 58 and 60; VATA 1994 Sch 4 para 8).
const LIMITS: &[OfLimit] = &[
    (
        Limit::RegistrationPastYear,
        |on, amount| {
            let mut figures = unregistered(on);
            figures.turnover.past_year = year(None, taxable(amount));
            figures
        },
        "need_not_register",
        "must_register",
        &[("2011-03-31", 70_000), ("2011-04-30", 73_000), ("2024-03-31", 85_000), ("2024-04-30", 90_000)],
    ),
    (
        Limit::RegistrationNextThirtyDays,
        |on, amount| {
            let mut figures = unregistered(on);
            figures.turnover.next_30_days = Some(taxable(amount));
            figures
        },
        "need_not_register",
        "must_register",
        &[("2011-03-31", 70_000), ("2011-04-01", 73_000), ("2024-03-31", 85_000), ("2024-04-01", 90_000)],
    ),
    (
        Limit::RegistrationException,
        |on, amount| {
            let mut figures = unregistered(on);
            figures.turnover.past_year = year(None, taxable("95000.00"));
            figures.turnover.next_year = Some(taxable(amount));
            figures
        },
        "may_ask_for_exception",
        "no_exception",
        &[("2024-03-31", 83_000), ("2024-04-30", 88_000)],
    ),
    (
        Limit::Deregistration,
        next_year,
        "may_deregister",
        "may_not_deregister",
        &[("2011-03-31", 68_000), ("2011-04-01", 71_000), ("2024-03-31", 83_000), ("2024-04-01", 88_000)],
    ),
    (
        Limit::GoodsOnHand,
        |on, amount| {
            let mut figures = registered(on);
            figures.goods_on_hand = Some(GoodsOnHand::Vat(crate::support::money(amount)));
            figures
        },
        "no_vat_due_on_goods",
        "vat_due_on_goods",
        &[("2011-01-04", 1_000), ("2026-04-30", 1_000)],
    ),
    (
        Limit::FlatRateJoining,
        next_year,
        "may_join",
        "may_not_join",
        &[("2011-01-04", 150_000), ("2026-04-30", 150_000)],
    ),
    (
        Limit::FlatRateLeavingAnniversary,
        |on, amount| {
            let mut figures = user(on);
            figures.turnover.past_year = year(None, income(amount));
            figures
        },
        "stays",
        "must_leave",
        &[("2024-02-15", 230_000), ("2026-02-15", 230_000)],
    ),
    (
        Limit::FlatRateLeavingNextThirtyDays,
        |on, amount| {
            let mut figures = user(on);
            figures.turnover.next_30_days = Some(income(amount));
            figures
        },
        "stays",
        "must_leave",
        &[("2023-02-15", 230_000), ("2026-04-30", 230_000)],
    ),
    (
        Limit::FlatRateStaying,
        |on, amount| {
            let mut figures = user(on);
            figures.turnover.past_year = year(None, income("230000.01"));
            figures.turnover.next_year = Some(income(amount));
            figures
        },
        "may_ask_to_stay",
        "may_not_ask_to_stay",
        &[("2025-02-15", 191_500)],
    ),
    (Limit::CashAccountingJoining, next_year, "may_join", "may_not_join", &[("2026-04-30", 1_350_000)]),
    (
        Limit::CashAccountingLeaving,
        |on, amount| {
            let mut figures = registered(on);
            figures.business.uses_cash_accounting = true;
            figures.turnover.past_year = year(None, taxable(amount));
            figures
        },
        "stays",
        "must_leave",
        &[("2011-01-31", 1_600_000), ("2026-04-30", 1_600_000)],
    ),
    (Limit::AnnualAccountingJoining, next_year, "may_join", "may_not_join", &[("2026-04-30", 1_350_000)]),
    (
        Limit::AnnualAccountingLeaving,
        |on, amount| {
            let mut figures = registered(on);
            figures.business.uses_annual_accounting = true;
            figures.turnover.past_year = year(None, taxable(amount));
            figures
        },
        "stays",
        "must_leave",
        &[("2011-01-31", 1_600_000), ("2026-04-30", 1_600_000)],
    ),
];

/// Exactly the limit is not over it; a penny more is; a tenth below is close, and a penny less than that clear.
#[test]
fn exactly_the_limit_is_not_over_it() {
    for (limit, asks, at_limit, over, limits) in LIMITS {
        for (on, pounds) in *limits {
            let most = pounds * 100;
            for (measured, status, outcome) in [
                (most * 9 / 10 - 1, "clear", at_limit),
                (most * 9 / 10, "close", at_limit),
                (most, "close", at_limit),
                (most + 1, "crossed", over),
            ] {
                let found = check(*limit, &asks(on, &pence(measured).to_string()));
                assert_eq!(stands(&found), (status, *outcome), "{limit:?} on {on} with {measured}");
                let decisive = found.decisive.expect("a day that decides");
                assert_eq!(
                    (decisive.measured, decisive.limit, decisive.headroom),
                    (pence(measured), pence(most), pence(most - measured)),
                    "{limit:?} on {on}"
                );
                assert_eq!(found.figures_needed.is_empty(), !found.finding.contains("as none was given"));
            }
        }
    }
}

/// VATA 1994 Sch 4 para 8: the VAT on goods on hand at the standard rate of the day, to the nearest penny.
#[test]
fn goods_on_hand_by_their_value() {
    let of = |as_of: &str, goods| {
        let mut figures = registered(as_of);
        figures.goods_on_hand = Some(goods);
        check(Limit::GoodsOnHand, &figures)
    };
    for (value, vat, outcome) in [
        ("5000.00", "1000.00", "no_vat_due_on_goods"),
        ("5000.02", "1000.00", "no_vat_due_on_goods"),
        ("5000.03", "1000.01", "vat_due_on_goods"),
    ] {
        let found = of("2025-06-30", GoodsOnHand::Value(crate::support::money(value)));
        assert_eq!(found.decisive.map(|day| day.measured.to_string()).as_deref(), Some(vat), "{value}");
        assert_eq!(found.outcome.as_str(), outcome, "{value}");
    }
    assert_eq!(stands(&check(Limit::GoodsOnHand, &registered("2025-06-30"))), ("not_checked", "nothing"));
    assert_eq!(stands(&check(Limit::GoodsOnHand, &unregistered("2025-06-30"))), ("not_applicable", "nothing"));
}

/// Services bought from abroad count for registration and for its end, and not for joining the scheme (reg 55L(2)).
#[test]
fn services_from_abroad_count_for_registration_alone() {
    let with_services = |amount: &str| {
        let mut totals = taxable(amount);
        totals.overseas_services_received = Some(crate::support::money("1000.01"));
        totals.total_income = Some(crate::support::money("7.00"));
        totals
    };
    let mut figures = registered("2026-04-30");
    figures.turnover.next_year = Some(with_services("87000.00"));
    let answer = tested(&figures);
    let measured = |limit| of(limit, &answer).decisive.map(|day| day.measured.to_string());
    assert_eq!(measured(Limit::Deregistration).as_deref(), Some("88000.01"));
    assert_eq!(measured(Limit::FlatRateJoining).as_deref(), Some("87000.00"));
    assert_eq!(measured(Limit::CashAccountingJoining).as_deref(), Some("87000.00"));
    assert_eq!(measured(Limit::FlatRateLeavingAnniversary).as_deref(), Some("7.00"));
    let mut figures = unregistered("2026-04-30");
    figures.turnover.past_year = year(None, with_services("89000.00"));
    assert_eq!(stands(&check(Limit::RegistrationPastYear, &figures)), ("crossed", "must_register"));
}

/// Without figures nothing is tested, and what is wanting is named; what says nothing to the business is not asked.
#[test]
fn without_figures_nothing_is_tested() {
    let statuses = |figures: &ThresholdFigures| -> Vec<(Limit, &'static str, usize)> {
        let checks = tested(figures).limits.checks;
        checks.iter().map(|check| (check.limit, check.status.as_str(), check.figures_needed.len())).collect()
    };
    let (wanting, not_asked) = ("not_checked", "not_applicable");
    assert_eq!(
        statuses(&unregistered("2026-04-30")),
        [
            (Limit::RegistrationPastYear, wanting, 1),
            (Limit::RegistrationNextThirtyDays, wanting, 1),
            (Limit::RegistrationException, not_asked, 0),
            (Limit::Deregistration, not_asked, 0),
            (Limit::GoodsOnHand, not_asked, 0),
            (Limit::FlatRateJoining, wanting, 1),
            (Limit::FlatRateLeavingAnniversary, not_asked, 0),
            (Limit::FlatRateRunningIncome, not_asked, 0),
            (Limit::FlatRateLeavingNextThirtyDays, not_asked, 0),
            (Limit::FlatRateStaying, not_asked, 0),
            (Limit::CashAccountingJoining, wanting, 1),
            (Limit::CashAccountingLeaving, not_asked, 0),
            (Limit::AnnualAccountingJoining, wanting, 1),
            (Limit::AnnualAccountingLeaving, not_asked, 0),
        ]
    );
    let found = check(Limit::RegistrationPastYear, &unregistered("2026-04-30"));
    assert_eq!(found.what_to_do, "Give the figures named, and ask again.");
    let mut figures = user("2026-04-30");
    figures.business.uses_annual_accounting = true;
    assert_eq!(
        statuses(&figures),
        [
            (Limit::RegistrationPastYear, not_asked, 0),
            (Limit::RegistrationNextThirtyDays, not_asked, 0),
            (Limit::RegistrationException, not_asked, 0),
            (Limit::Deregistration, wanting, 1),
            (Limit::GoodsOnHand, wanting, 1),
            (Limit::FlatRateJoining, not_asked, 0),
            (Limit::FlatRateLeavingAnniversary, wanting, 1),
            (Limit::FlatRateRunningIncome, wanting, 1),
            (Limit::FlatRateLeavingNextThirtyDays, wanting, 1),
            (Limit::FlatRateStaying, not_asked, 0),
            (Limit::CashAccountingJoining, not_asked, 0),
            (Limit::CashAccountingLeaving, not_asked, 0),
            (Limit::AnnualAccountingJoining, not_asked, 0),
            (Limit::AnnualAccountingLeaving, wanting, 1),
        ]
    );
}
