//! What of a month counts towards which limit, and twelve months at each month end.

use crate::support::thresholds::*;
use crate::support::{day, money};
use vat_schemes::refusal::Refusals;
use vat_schemes::thresholds::{Basis, Limit, Month, MonthAmounts};
use vat_schemes::workings::Workings;

fn month(first: &str, amounts: MonthAmounts) -> Month {
    Month { first: day(first), basis: None, amounts }
}

/// VATA 1994 Sch 1 para 1; VAT Regulations 1995 regs 55L and 55M: each kind of total counts where it belongs, and nowhere else.
#[test]
fn every_kind_of_total_counts_towards_its_limits() {
    let none = MonthAmounts::default();
    let hundred = Some(money("100.00"));
    for (amounts, taxable, registration, income) in [
        (MonthAmounts { standard_rated: hundred, ..none }, "100.00", "100.00", "120.00"),
        (MonthAmounts { reduced_rated: hundred, ..none }, "100.00", "100.00", "105.00"),
        (MonthAmounts { zero_rated: hundred, ..none }, "100.00", "100.00", "100.00"),
        (MonthAmounts { domestic_reverse_charge_made: hundred, ..none }, "100.00", "100.00", "100.00"),
        (MonthAmounts { exempt: hundred, ..none }, "0.00", "0.00", "100.00"),
        (MonthAmounts { outside_scope: hundred, ..none }, "0.00", "0.00", "100.00"),
        (MonthAmounts { non_business: hundred, ..none }, "0.00", "0.00", "0.00"),
        (MonthAmounts { capital_assets: hundred, ..none }, "0.00", "0.00", "0.00"),
        (MonthAmounts { taxable_capital_land: hundred, ..none }, "0.00", "100.00", "0.00"),
        (MonthAmounts { own_building_work: hundred, ..none }, "0.00", "100.00", "0.00"),
        (MonthAmounts { overseas_services_received: hundred, ..none }, "0.00", "100.00", "0.00"),
        (MonthAmounts { construction_reverse_charge_received: hundred, ..none }, "0.00", "0.00", "0.00"),
        (MonthAmounts { other_domestic_reverse_charge_received: hundred, ..none }, "0.00", "100.00", "0.00"),
        (MonthAmounts { vat_on_sales: hundred, ..none }, "0.00", "0.00", "100.00"),
        // 2.006 and 0.005 are 2.01 to the penny; given, the VAT is what it is.
        (
            MonthAmounts { standard_rated: Some(money("10.03")), reduced_rated: Some(money("0.10")), ..none },
            "10.13",
            "10.13",
            "12.14",
        ),
        (
            MonthAmounts { standard_rated: Some(money("10.03")), vat_on_sales: Some(money("2.00")), ..none },
            "10.03",
            "10.03",
            "12.03",
        ),
    ] {
        let mut figures = unregistered("2025-12-31");
        figures.turnover.months = vec![month("2025-12-01", amounts)];
        let found = tested(&figures).limits.months[0];
        assert_eq!(
            (found.taxable_supplies, found.registration_supplies, found.total_income),
            (money(taxable), money(registration), money(income)),
            "{amounts:?}"
        );
    }
    // The rate of the month's end: 17.5% on 3 January 2011, and 20% in that month.
    let mut figures = unregistered("2011-01-31");
    let amounts = MonthAmounts { standard_rated: hundred, ..none };
    figures.turnover.months = vec![month("2011-01-01", amounts)];
    assert_eq!(tested(&figures).limits.months[0].total_income, money("120.00"));
}

/// A month is actual once it is over, unless the caller says otherwise.
#[test]
fn a_month_is_actual_when_it_is_over() {
    for (as_of, said, basis) in [
        ("2025-12-30", None, Basis::Forecast),
        ("2025-12-31", None, Basis::Actual),
        ("2025-12-31", Some(Basis::Forecast), Basis::Forecast),
        ("2025-12-01", Some(Basis::Actual), Basis::Actual),
    ] {
        let mut figures = unregistered(as_of);
        figures.turnover.months = vec![Month { basis: said, ..month("2025-12-01", MonthAmounts::default()) }];
        assert_eq!(tested(&figures).limits.months[0].basis, basis, "{as_of} {said:?}");
    }
}

/// Thirty months, none alike, each twelve added up here from nothing; the limit is that of the day.
#[test]
fn twelve_months_at_each_month_end_are_what_they_add_up_to() {
    let totals: Vec<i64> = (0..30).map(|month: i64| (month * month * 7_919 + 104_729) % 600_000 - 30_000).collect();
    let (mut first, mut second) = (unregistered("2024-12-31"), user("2024-12-31"));
    first.turnover.months = months("2022-07", &totals);
    second.turnover.months = months("2022-07", &totals);
    let measured = |limit, figures| check(limit, figures).days;
    for days in [measured(Limit::RegistrationPastYear, &first), measured(Limit::FlatRateRunningIncome, &second)] {
        assert_eq!(days.len(), 19);
        for (index, found) in days.iter().enumerate() {
            assert_eq!(found.measured, pence(totals[index..index + 12].iter().sum()), "{index}");
            assert_eq!(found.limit.minus(found.measured), Ok(found.headroom));
        }
    }
    let days = check(Limit::RegistrationPastYear, &first).days;
    for (index, on, limit) in [
        (0, "2023-06-30", 8_500_000),
        (8, "2024-02-29", 8_500_000),
        (9, "2024-03-31", 8_500_000),
        (10, "2024-04-30", 9_000_000),
    ] {
        assert_eq!((days[index].on, days[index].limit), (day(on), pence(limit)));
    }
}

/// Fewer months than twelve are enough where the business is younger, or where they alone pass the limit.
#[test]
fn a_young_business_has_fewer_months() {
    let mut figures = unregistered("2025-12-31");
    for (total, status) in [(2_250_000, "not_checked"), (2_250_001, "crossed")] {
        figures.turnover.months = months("2025-09", &[total; 4]);
        let found = check(Limit::RegistrationPastYear, &figures);
        assert_eq!(found.status.as_str(), status, "{total}");
        assert_eq!(days(&found)[1], if status == "crossed" { "2025-12-31" } else { "none" });
    }
    figures.turnover.months = months("2025-09", &[1_000_000; 4]);
    figures.business.trading_from = Some(day("2025-09-15"));
    let young = check(Limit::RegistrationPastYear, &figures);
    // £40,000, and £10,000 more each month: £100,000 in June.
    assert_eq!((young.status.as_str(), young.days.len()), ("expected", 4));
    assert_eq!(young.decisive.map(|day| day.measured), Some(pence(4_000_000)));
    assert_eq!((young.outlook[0].crosses_on, young.outlook[0].measured), (Some(day("2026-06-30")), pence(10_000_000)));
}

/// With no word of when trading began, months that are not given add to those that are: the run passes the limit at the latest where
/// these alone do, as for months past (VATA 1994 Sch 1 para 1(1)(a): £90,000).
#[test]
fn the_run_of_a_few_months_counts_what_is_known_of_the_twelve() {
    let ahead = |last: i64, trading_from: Option<&str>| {
        let mut figures = unregistered("2025-12-31");
        figures.turnover.months = months("2025-10", &[2_250_000, 2_250_000, last]);
        figures.business.trading_from = trading_from.map(day);
        let found = check(Limit::RegistrationPastYear, &figures);
        assert_eq!(found.outlook.len(), 1);
        (found.outlook[0].crosses_on, found.outlook[0].measured)
    };
    for trading_from in [None, Some("2025-10-01")] {
        // £67,500 and one more of £22,500 are just the limit; with the next one it is passed.
        assert_eq!(ahead(2_250_000, trading_from), (Some(day("2026-02-28")), pence(11_250_000)), "{trading_from:?}");
        // A penny on the average, and threepence on the months: £90,000.04.
        assert_eq!(ahead(2_250_003, trading_from), (Some(day("2026-01-31")), pence(9_000_004)), "{trading_from:?}");
    }
    // A run that never passes it is shown where the twelve months are known.
    let mut figures = unregistered("2025-12-31");
    figures.turnover.months = months("2025-10", &[700_000; 3]);
    let found = check(Limit::RegistrationPastYear, &figures);
    assert_eq!((found.outlook[0].crosses_on, found.outlook[0].on), (None, day("2026-12-31")));
    assert_eq!(found.outlook[0].measured, pence(8_400_000));
}

/// A year in one figure beside months counts where the months do not reach.
#[test]
fn a_past_year_and_months_stand_side_by_side() {
    for (end, amount, on, days_tested) in [
        // Before the months: what it crosses was crossed first.
        ("2024-06-30", "95000.00", "2024-06-30", 3),
        ("2024-06-30", "80000.00", "2025-06-30", 3),
        // Between the first months and the first twelve of them.
        ("2024-12-15", "95000.00", "2024-12-31", 3),
        // Within them, and covered by them: the months are finer.
        ("2025-06-30", "1.00", "2025-06-30", 2),
        ("2025-05-31", "1.00", "2025-06-30", 3),
    ] {
        let mut figures = unregistered("2025-07-31");
        figures.turnover.past_year = year(Some(end), taxable(amount));
        figures.turnover.months = months("2024-07", &[760_000; 13]);
        let found = check(Limit::RegistrationPastYear, &figures);
        assert_eq!((found.status.as_str(), days(&found)[0].as_str()), ("crossed", on), "{end}");
        assert!(found.days.is_sorted_by_key(|day| day.on), "{end}");
        assert_eq!(found.days.len(), days_tested, "{end}");
    }
    // The year ends after the months: the last figure decides.
    let mut figures = user("2025-08-31");
    let mut totals = income("240000.00");
    totals.taxable_supplies = Some(money("1700000.00"));
    figures.turnover.past_year = year(Some("2025-08-31"), totals);
    figures.turnover.months = months("2024-07", &[760_000; 12]);
    figures.business.uses_cash_accounting = true;
    let answer = tested(&figures);
    let measured = |limit| of(limit, &answer).decisive.map(|day| day.measured.to_string());
    assert_eq!(measured(Limit::FlatRateRunningIncome).as_deref(), Some("240000.00"));
    assert_eq!(measured(Limit::CashAccountingLeaving).as_deref(), Some("1700000.00"));
}

/// The year ahead begins with the month after the day.
#[test]
fn the_year_ahead_is_the_twelve_months_that_follow() {
    for (as_of, first, count, measured) in [
        ("2025-12-31", "2026-01", 12, Some(1_200_000)),
        ("2025-12-01", "2026-01", 13, Some(1_200_000)),
        ("2025-12-31", "2025-06", 19, Some(1_200_000)),
        // Seen from the first day of a month that is given: it is the present one.
        ("2025-12-01", "2025-12", 13, Some(1_200_000)),
        // A month short; a gap before the first; the present month is not ahead.
        ("2025-12-31", "2026-01", 11, None),
        ("2025-11-30", "2026-01", 12, None),
        ("2026-01-01", "2026-01", 12, None),
    ] {
        let mut figures = registered(as_of);
        figures.turnover.months = months(first, &vec![100_000; count]);
        let found = check(Limit::FlatRateJoining, &figures);
        assert_eq!(found.decisive.map(|day| day.measured), measured.map(pence), "{as_of} {first} {count}");
    }
}

#[test]
fn what_cannot_be_is_refused_with_its_place() {
    let of_months = |first: &[&str], basis| {
        let mut figures = unregistered("2026-04-30");
        figures.turnover.months =
            first.iter().map(|first| Month { basis, ..month(first, MonthAmounts::default()) }).collect();
        figures
    };
    for (figures, code, place) in [
        (of_months(&["2026-01-01", "2026-03-01"], None), "months_out_of_order", "/turnover/months/1/month"),
        (of_months(&["2026-01-01", "2026-01-01"], None), "months_out_of_order", "/turnover/months/1/month"),
        (of_months(&["2026-02-01", "2026-01-01"], None), "months_out_of_order", "/turnover/months/1/month"),
        (of_months(&["2026-05-01"], Some(Basis::Actual)), "actual_month_in_future", "/turnover/months/0/basis"),
        (of_months(&["2010-12-01"], None), "date_outside_law", "/turnover/months/0/month"),
        (unregistered("2011-01-03"), "date_outside_law", "/as_of"),
    ] {
        assert_eq!(refused(&figures), [(code.to_owned(), place.to_owned())]);
    }
    let gap = of_months(&["2026-01-01", "2026-03-01"], None);
    let Err(Refusals(refusals)) = vat_schemes::check_thresholds(crate::support::law(), &gap, Workings::not_kept())
    else {
        panic!("answered")
    };
    assert!(refusals[0].detail.starts_with("2026-03 does not follow on 2026-01:"), "{}", refusals[0].detail);
    tested(&of_months(&["2026-04-01", "2026-05-01"], None));
    tested(&of_months(&["2026-03-01", "2026-04-01"], Some(Basis::Actual)));
    tested(&of_months(&["2025-12-01", "2026-01-01"], None));
    tested(&unregistered("2011-01-04"));

    let with = |change: fn(&mut vat_schemes::thresholds::ThresholdFigures)| {
        let mut figures = registered("2026-04-30");
        change(&mut figures);
        figures
    };
    for (figures, expected) in [
        (with(|it| it.turnover.past_year = year(Some("2026-04-30"), taxable("1.00"))), None),
        (
            with(|it| it.turnover.past_year = year(Some("2026-05-01"), taxable("1.00"))),
            Some(("dates_out_of_order", "/turnover/past_year/end")),
        ),
        (
            with(|it| it.turnover.past_year = year(Some("2011-01-03"), taxable("1.00"))),
            Some(("date_outside_law", "/turnover/past_year/end")),
        ),
        (with(|it| it.business.flat_rate_from = Some(day("2011-01-04"))), None),
        (
            with(|it| it.business.flat_rate_from = Some(day("2011-01-03"))),
            Some(("flat_rate_before_registration", "/business/flat_rate_from")),
        ),
        (
            with(|it| {
                it.business.flat_rate_from = Some(day("2020-01-01"));
                it.business.flat_rate_until = Some(day("2020-01-01"));
            }),
            None,
        ),
        (
            with(|it| {
                it.business.flat_rate_from = Some(day("2020-01-02"));
                it.business.flat_rate_until = Some(day("2020-01-01"));
            }),
            Some(("dates_out_of_order", "/business/flat_rate_until")),
        ),
        (
            with(|it| it.business.flat_rate_until = Some(day("2020-01-01"))),
            Some(("dates_out_of_order", "/business/flat_rate_until")),
        ),
        (
            with(|it| {
                it.period = Some(vat_schemes::figures::Dates { start: day("2026-04-01"), end: day("2026-03-31") });
            }),
            Some(("period_end_before_start", "/period/end")),
        ),
    ] {
        match expected {
            None => drop(tested(&figures)),
            Some((code, place)) => assert_eq!(refused(&figures), [(code.to_owned(), place.to_owned())]),
        }
    }
}

/// A day after the law was last checked is said to be one.
#[test]
fn a_day_after_the_law_was_checked_is_pointed_out() {
    let checked_on = crate::support::law().checked_on();
    for (as_of, more) in [(checked_on, 0), (checked_on.tomorrow().expect("a day"), 1)] {
        let mut figures = unregistered("2025-01-01");
        figures.as_of = as_of;
        let before = tested(&unregistered("2025-01-01")).cautions.len();
        assert_eq!(tested(&figures).cautions.len(), before + more);
    }
}
