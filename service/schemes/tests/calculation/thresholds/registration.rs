//! Liability to be registered and the exception from it (VATA 1994 Sch 1).

use crate::support::day;
use crate::support::thresholds::*;
use vat_schemes::thresholds::{Basis, Limit, Method, ThresholdFigures};

/// Paras 1(1)(a) and 5; VATREG18300: thirty days from the month end, registered from the second month.
#[test]
fn the_backward_test_counts_from_the_month_end() {
    for (end, as_of, liable, notify, from) in [
        ("2025-04-22", "2025-04-30", "2025-04-30", "2025-05-30", "2025-06-01"),
        ("2025-05-01", "2025-05-31", "2025-05-31", "2025-06-30", "2025-07-01"),
        ("2024-01-31", "2024-01-31", "2024-01-31", "2024-03-01", "2024-03-01"),
        ("2025-01-31", "2025-01-31", "2025-01-31", "2025-03-02", "2025-03-01"),
        ("2024-02-29", "2024-02-29", "2024-02-29", "2024-03-30", "2024-04-01"),
        ("2025-11-15", "2025-12-31", "2025-11-30", "2025-12-30", "2026-01-01"),
    ] {
        let mut figures = unregistered(as_of);
        figures.turnover.past_year = year(Some(end), taxable("95000.00"));
        let found = check(Limit::RegistrationPastYear, &figures);
        assert_eq!(stands(&found), ("crossed", "must_register"), "{end}");
        assert_eq!(days(&found), [liable, liable, notify, from], "{end}");
        assert_eq!(found.what_to_do.contains("That day has passed"), day(notify) < day(as_of), "{end}");
    }
}

/// Told on the last day of the thirty, in time; a day later, late.
#[test]
fn the_thirty_days_end() {
    for (as_of, late) in [("2025-05-30", false), ("2025-05-31", true)] {
        let mut figures = unregistered(as_of);
        figures.turnover.past_year = year(Some("2025-04-30"), taxable("90000.01"));
        figures.turnover.next_year = Some(taxable("88000.00"));
        let answer = tested(&figures);
        assert_eq!(
            of(Limit::RegistrationPastYear, &answer).what_to_do.contains("That day has passed"),
            late,
            "{as_of}"
        );
        // In time the year ahead is seen from now; late, only months show the year that began with the liability.
        let exception = of(Limit::RegistrationException, &answer);
        assert_eq!(exception.status.as_str(), if late { "not_checked" } else { "close" }, "{as_of}");
        if !late {
            assert_eq!(days(&exception)[2], "2025-05-30");
            assert!(exception.what_to_do.contains("2025-05-30") && !exception.what_to_do.contains("has passed"));
        }
        let mut figures = unregistered(as_of);
        figures.turnover.months = months("2024-05", &[[750_001; 12], [733_333; 12]].concat());
        let exception = check(Limit::RegistrationException, &figures);
        assert_eq!(stands(&exception), ("close", "may_ask_for_exception"), "{as_of}");
        assert_eq!(exception.what_to_do.contains("has passed"), late, "{as_of}");
    }
}

/// A month that is not over is tested at its end, even where its figures are called actual.
#[test]
fn a_month_that_is_not_over_is_expected() {
    for (as_of, status, crossed) in [
        ("2025-04-22", "expected", "none"),
        ("2025-04-29", "expected", "none"),
        ("2025-04-30", "crossed", "2025-04-30"),
    ] {
        let mut figures = unregistered(as_of);
        figures.turnover.past_year = year(Some("2025-04-22"), taxable("90000.01"));
        let found = check(Limit::RegistrationPastYear, &figures);
        assert_eq!(stands(&found), (status, "must_register"), "{as_of}");
        assert_eq!(days(&found), [crossed, "2025-04-30", "2025-05-30", "2025-06-01"], "{as_of}");
        let mut figures = unregistered(as_of);
        figures.turnover.months = months("2024-05", &[750_001; 12]);
        figures.turnover.months[11].basis = Some(Basis::Actual);
        assert_eq!(stands(&check(Limit::RegistrationPastYear, &figures)), (status, "must_register"), "{as_of}");
    }
}

/// The first month end over the limit makes the business liable, whatever comes after; one ahead only where none has come.
#[test]
fn the_first_month_end_over_the_limit_counts() {
    let over_in = |totals: &[i64], as_of: &str| {
        let mut figures = unregistered(as_of);
        figures.turnover.months = months("2024-01", totals);
        check(Limit::RegistrationPastYear, &figures)
    };
    let mut totals = vec![700_000; 12];
    totals.extend([1_400_000, 0, 0, 0]);
    let found = over_in(&totals, "2025-04-30");
    assert_eq!(days(&found), ["2025-01-31", "2025-01-31", "2025-03-02", "2025-03-01"]);
    // Seen a month before, it is forecast.
    let found = over_in(&totals, "2025-01-30");
    assert_eq!(stands(&found), ("expected", "must_register"));
    assert_eq!(days(&found), ["none", "2025-01-31", "2025-03-02", "2025-03-01"]);
    // Nothing goes over: the latest month end that has come is the one that decides.
    let found = over_in(&[700_000; 14], "2025-01-31");
    assert_eq!(found.decisive.map(|day| day.on), Some(day("2025-01-31")));
    assert_eq!(stands(&found), ("close", "need_not_register"));
    // All is forecast: the largest figure is shown.
    let mut totals = vec![500_000; 12];
    totals.extend([600_000, 0]);
    let found = over_in(&totals, "2023-12-31");
    assert_eq!(found.decisive.map(|day| (day.on, day.measured)), Some((day("2025-01-31"), pence(6_100_000))));
}

/// Paras 1(1)(b) and 6; VATREG18300: belief formed on 22 April, tell HMRC by 22 May, registered from 22 April.
#[test]
fn the_forward_test_counts_from_the_day() {
    for (as_of, notify) in [
        ("2025-04-22", "2025-05-22"),
        ("2024-01-31", "2024-03-01"),
        ("2024-02-29", "2024-03-30"),
        ("2025-12-31", "2026-01-30"),
    ] {
        let mut figures = unregistered(as_of);
        figures.turnover.next_30_days = Some(taxable("90000.01"));
        assert_eq!(days(&check(Limit::RegistrationNextThirtyDays, &figures)), [as_of, as_of, notify, as_of]);
        figures.turnover.next_30_days = Some(taxable("85000.00"));
        assert_eq!(days(&check(Limit::RegistrationNextThirtyDays, &figures)), ["none"; 4]);
        figures.turnover.next_30_days = Some(income("90000.01"));
        assert_eq!(check(Limit::RegistrationNextThirtyDays, &figures).status.as_str(), "not_checked");
    }
}

/// Para 1(3): the year after the liability began, against the limit of that day.
#[test]
fn the_exception_looks_at_the_year_that_begins_with_the_liability() {
    let mut totals = vec![750_001; 12];
    totals.extend([733_333; 12]);
    for (last, outcome) in [(733_337, "may_ask_for_exception"), (733_338, "no_exception")] {
        totals[23] = last;
        let mut figures = unregistered("2025-12-31");
        figures.turnover.months = months("2025-01", &totals);
        let found = check(Limit::RegistrationException, &figures);
        assert_eq!(found.outcome.as_str(), outcome, "{last}");
        assert_eq!(found.decisive.map(|day| (day.on, day.basis)), Some((day("2025-12-31"), Basis::Forecast)));
        assert_eq!(days(&found)[2], if last == 733_337 { "2026-01-30" } else { "none" });
        // A month short of the year, nothing is known.
        figures.turnover.months.pop();
        assert_eq!(check(Limit::RegistrationException, &figures).status.as_str(), "not_checked");
    }
}

/// VATA 1994 Sch 1A: no limit for those who are not established here.
#[test]
fn a_person_not_established_has_no_limit() {
    let mut figures = unregistered("2026-04-30");
    figures.business.established_in_uk = false;
    figures.turnover.past_year = year(None, taxable("1.00"));
    figures.turnover.next_30_days = Some(taxable("1.00"));
    for limit in [Limit::RegistrationPastYear, Limit::RegistrationNextThirtyDays] {
        let found = check(limit, &figures);
        assert_eq!(stands(&found), ("not_applicable", "no_limit"));
        assert!(found.what_to_do.starts_with("Register from the first taxable supply"), "{}", found.what_to_do);
    }
    // Registered, the question is closed; from tomorrow, it is not yet.
    for (registered_on, outcome) in [("2026-04-30", "nothing"), ("2026-05-01", "no_limit")] {
        figures.business.registered_on = Some(day(registered_on));
        assert_eq!(stands(&check(Limit::RegistrationPastYear, &figures)), ("not_applicable", outcome));
    }
}

/// A month end that could not be tested is named: the limit may have been passed there.
#[test]
fn month_ends_that_were_not_tested_are_named() {
    let mut figures = unregistered("2025-07-31");
    figures.turnover.months = months("2024-07", &[700_000; 14]);
    let found = check(Limit::RegistrationPastYear, &figures);
    assert!(found.finding.contains("from 2024-07-31 to 2025-05-31 were not tested"), "{}", found.finding);
    assert_eq!(found.figures_needed.len(), 1);
    // One month end alone, and one that has just come.
    figures.turnover.months = months("2025-07", &[700_000]);
    figures.turnover.past_year = year(Some("2025-06-30"), taxable("1.00"));
    let found = check(Limit::RegistrationPastYear, &figures);
    assert!(found.finding.contains("from 2025-07-31 to 2025-07-31 were not tested"), "{}", found.finding);
    figures.as_of = day("2025-07-30");
    assert!(check(Limit::RegistrationPastYear, &figures).figures_needed.is_empty());
    // The whole past of a young business.
    figures = unregistered("2025-07-31");
    figures.turnover.months = months("2024-07", &[700_000; 13]);
    for (began, whole) in [("2024-07-01", true), ("2024-07-08", true), ("2024-06-30", false)] {
        figures.business.trading_from = Some(day(began));
        let found = check(Limit::RegistrationPastYear, &figures);
        assert_eq!(found.figures_needed.is_empty(), whole, "{began}");
        assert_eq!(found.days.len(), if whole { 13 } else { 2 }, "{began}");
    }
}

fn at_run(totals: &[i64], as_of: &str) -> ThresholdFigures {
    let mut figures = unregistered(as_of);
    figures.turnover.months = months("2025-01", totals);
    figures
}

/// Twelve months and then a higher run: the average of the last three or twelve months goes on, month by month.
#[test]
fn the_run_is_carried_forward_month_by_month() {
    let mut totals = vec![500_000; 9];
    totals.extend([900_000, 900_001, 1_000_000]);
    let found = check(Limit::RegistrationPastYear, &at_run(&totals, "2025-12-31"));
    assert_eq!(stands(&found), ("expected", "need_not_register"));
    // £73,000.01, and each month £9,333.34 in the place of £5,000: £90,333.37 in April. At £6,083.33 it never is that much.
    let seen: Vec<_> = found
        .outlook
        .iter()
        .map(|ahead| (ahead.method, ahead.monthly, ahead.crosses_on, ahead.on, ahead.measured))
        .collect();
    assert_eq!(
        seen,
        [
            (
                Method::TrailingThreeMonths,
                Some(pence(933_334)),
                Some(day("2026-04-30")),
                day("2026-04-30"),
                pence(7_300_001 + 4 * 433_334),
            ),
            (Method::TrailingTwelveMonths, Some(pence(608_333)), None, day("2026-12-31"), pence(12 * 608_333)),
        ]
    );
    assert_eq!(days(&found), ["none"; 4]);
}

/// £7,500 a month is the limit exactly, and not over it.
#[test]
fn the_run_at_the_limit() {
    for (totals, crosses) in [
        ([&[749_000, 749_999][..], &[750_000; 10]].concat(), None),
        ([&[749_000, 749_997][..], &[750_000; 7], &[750_001; 3]].concat(), Some(day("2026-01-31"))),
    ] {
        let found = check(Limit::RegistrationPastYear, &at_run(&totals, "2025-12-31"));
        assert_eq!(found.outlook[0].crosses_on, crosses);
        assert_eq!(found.status.as_str(), if crosses.is_some() { "expected" } else { "close" });
    }
}

/// The caller's own forecast comes first, and may be another.
#[test]
fn the_callers_forecast_is_shown_beside_the_run() {
    let mut totals = vec![600_000; 12];
    totals.extend([100_000, 100_000]);
    let found = check(Limit::RegistrationPastYear, &at_run(&totals, "2025-12-31"));
    let own = found.outlook[0];
    assert_eq!((own.method, own.monthly, own.crosses_on, own.on), (Method::OwnForecast, None, None, day("2026-02-28")));
    assert_eq!(own.measured, pence(10 * 600_000 + 200_000));
    // The first month end over the limit is the one shown.
    totals.extend([5_000_000, 5_000_000]);
    let found = check(Limit::RegistrationPastYear, &at_run(&totals, "2025-12-31"));
    assert_eq!((found.outlook[0].crosses_on, found.outlook[0].on), (Some(day("2026-03-31")), day("2026-03-31")));
    assert_eq!(stands(&found), ("expected", "must_register"));
    // Two actual months make no run of three.
    assert_eq!(check(Limit::RegistrationPastYear, &at_run(&[1, 1], "2025-12-31")).outlook, []);
    let three = check(Limit::RegistrationPastYear, &at_run(&[1, 1, 1], "2025-12-31")).outlook;
    assert_eq!(three.iter().map(|ahead| ahead.method).collect::<Vec<_>>(), [Method::TrailingThreeMonths]);
}
