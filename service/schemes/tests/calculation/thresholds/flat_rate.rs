//! Leaving the Flat Rate Scheme because income has grown, and staying all the same (VAT Regulations 1995 regs 55M, 55N and 55Q).

use crate::support::day;
use crate::support::thresholds::*;
use vat_schemes::figures::Dates;
use vat_schemes::thresholds::{Basis, Limit, Method, ThresholdFigures};

const ANNIVERSARY: Limit = Limit::FlatRateLeavingAnniversary;

fn period(start: &str, end: &str) -> Option<Dates> {
    Some(Dates { start: day(start), end: day(end) })
}

/// Reg 55M(1)(a): between anniversaries, on the day before one and on the day after, nothing is crossed.
#[test]
fn only_a_year_that_ends_at_an_anniversary_counts() {
    for (end, status) in [
        ("2025-02-13", "not_checked"),
        ("2025-02-14", "crossed"),
        ("2025-02-15", "crossed"),
        ("2025-02-16", "not_checked"),
    ] {
        let mut figures = user("2025-04-30");
        figures.turnover.past_year = year(Some(end), income("230000.01"));
        assert_eq!(check(ANNIVERSARY, &figures).status.as_str(), status, "{end}");
        figures.turnover.past_year = year(Some(end), taxable("230000.01"));
        assert_eq!(check(ANNIVERSARY, &figures).status.as_str(), "not_checked", "{end}");
    }
}

/// Reg 55Q(1)(a): the end of the period in which the anniversary falls; with annual accounting no later than the end of the month
/// after the anniversary's month. 28 February stands for 29 February.
#[test]
fn the_scheme_ends_with_the_period_of_the_anniversary() {
    let (april, whole_year) = (period("2026-02-01", "2026-04-30"), period("2025-04-01", "2026-03-31"));
    for (from, period, anniversary, annual, out, notify) in [
        ("2024-02-15", april, "2026-02-15", false, "2026-05-01", "2026-03-17"),
        ("2024-02-01", april, "2026-02-01", false, "2026-05-01", "2026-03-03"),
        ("2024-01-31", april, "2026-01-31", false, "2026-02-01", "2026-03-02"),
        ("2024-04-30", april, "2025-04-30", false, "2025-05-01", "2025-05-30"),
        ("2024-05-01", april, "2025-05-01", false, "2025-08-01", "2025-05-31"),
        ("2024-02-29", april, "2025-02-28", false, "2025-05-01", "2025-03-30"),
        ("2020-02-29", april, "2024-02-29", false, "2024-05-01", "2024-03-30"),
        ("2024-06-10", whole_year, "2025-06-10", true, "2025-08-01", "2025-07-10"),
        ("2024-03-10", whole_year, "2026-03-10", true, "2026-04-01", "2026-04-09"),
        ("2024-06-10", whole_year, "2025-06-10", false, "2026-04-01", "2025-07-10"),
        ("2024-02-15", period("2026-06-01", "2026-06-30"), "2026-02-15", false, "2026-03-01", "2026-03-17"),
    ] {
        let mut figures = registered(anniversary);
        figures.period = period;
        figures.business.flat_rate_from = Some(day(from));
        figures.business.uses_annual_accounting = annual;
        figures.turnover.past_year = year(Some(anniversary), income("240000.00"));
        let answer = tested(&figures);
        let found = of(ANNIVERSARY, &answer);
        assert_eq!(stands(&found), ("crossed", "must_leave"), "{from}");
        assert_eq!(days(&found), [anniversary, "none", notify, out], "{from}");
        assert_eq!(answer.eligibility.out_from, Some(day(out)), "{from}");
        assert_eq!(found.figures_needed.len(), 0, "{from}");
        // The day to tell HMRC, and the day after it.
        for (as_of, late) in [(day(notify), false), (day(notify).tomorrow().expect("a day"), true)] {
            figures.as_of = as_of;
            let found = check(ANNIVERSARY, &figures);
            assert_eq!(found.what_to_do.contains("That day has passed"), late, "{from} seen on {as_of}");
        }
        figures.as_of = day(anniversary);
        figures.period = None;
        let found = check(ANNIVERSARY, &figures);
        assert_eq!((&*days(&found)[3], found.figures_needed.len()), ("none", 1), "{from}");
    }
}

/// By months: exact where the anniversary is at the edge of a month, the last whole months before it otherwise.
#[test]
fn whole_months_stand_for_a_year_that_ends_inside_one() {
    // January 2024 to April 2025: December 2024 and later months are dearer.
    let mut totals = vec![1_000_000; 11];
    totals.extend([12_000_000, 100, 100, 10_000_000, 100]);
    for (from, on, first, last, rough) in [
        ("2023-02-01", "2025-02-01", 1, 12, false),
        ("2023-01-31", "2025-01-31", 1, 12, false),
        ("2023-02-15", "2025-02-15", 1, 12, true),
        ("2023-02-28", "2025-02-28", 2, 13, false),
        ("2024-02-29", "2025-02-28", 2, 13, false),
        ("2023-03-01", "2025-03-01", 2, 13, false),
    ] {
        let mut figures = registered("2025-04-30");
        figures.business.flat_rate_from = Some(day(from));
        figures.turnover.months = months("2024-01", &totals);
        let found = check(ANNIVERSARY, &figures);
        let tested = found.days.iter().find(|tested| tested.on == day(on)).expect("the anniversary");
        assert_eq!(tested.measured, pence(totals[first..=last].iter().sum()), "{from}");
        assert_eq!(found.finding.contains("whole months stand for it"), rough, "{from}");
    }
    // Inside a month the twelve that end with it may have the other outcome: close, and said. A quiet year follows.
    totals.extend([100; 10]);
    let mut figures = registered("2026-02-28");
    figures.business.flat_rate_from = Some(day("2024-03-15"));
    figures.turnover.months = months("2024-01", &totals);
    let found = check(ANNIVERSARY, &figures);
    assert_eq!(stands(&found), ("close", "stays"));
    assert!(found.finding.contains("other outcome"), "{}", found.finding);
    // Both outcomes alike: nothing is doubtful.
    figures.turnover.months = months("2024-01", &[100; 26]);
    let found = check(ANNIVERSARY, &figures);
    assert_eq!(stands(&found), ("clear", "stays"));
    assert!(!found.finding.contains("other outcome") && found.finding.contains("whole months"), "{}", found.finding);
    // The other twelve exactly at the limit, which they do not pass; a penny more, and the outcome is in doubt.
    for (more, status) in [(0, "clear"), (1, "close")] {
        let mut totals = vec![1_000_000; 13];
        totals.push(12_000_000 + more);
        totals.extend([100; 11]);
        let mut figures = registered("2026-01-31");
        figures.business.flat_rate_from = Some(day("2024-02-15"));
        figures.turnover.months = months("2024-01", &totals);
        let found = check(ANNIVERSARY, &figures);
        let decisive = found.decisive.map(|tested| (tested.on, tested.measured));
        assert_eq!(decisive, Some((day("2025-02-15"), pence(12_000_000))));
        assert_eq!(stands(&found), (status, "stays"), "{more}");
    }
    // Over the limit with the one, not with the other: left, and said to be doubtful.
    let mut totals = vec![1_000_000; 13];
    totals[1] = 13_000_000;
    totals.extend([0, 0]);
    let mut figures = registered("2025-03-31");
    figures.business.flat_rate_from = Some(day("2024-02-15"));
    figures.turnover.months = months("2024-01", &totals);
    let found = check(ANNIVERSARY, &figures);
    assert_eq!(stands(&found), ("crossed", "must_leave"));
    assert!(found.finding.contains("other outcome"), "{}", found.finding);
}

/// Every anniversary that the figures reach is tested until the scheme ends; the first that is over decides, one ahead is expected.
#[test]
fn every_anniversary_within_the_figures_is_tested() {
    let level = |as_of: &str, each: i64, until: Option<&str>| {
        let mut figures = registered(as_of);
        figures.business.flat_rate_from = Some(day("2020-03-01"));
        figures.business.flat_rate_until = until.map(day);
        figures.turnover.months = months("2021-03", &vec![each; 48]);
        figures
    };
    let on = |figures: &ThresholdFigures| -> Vec<String> {
        check(ANNIVERSARY, figures).days.iter().map(|day| day.on.to_string()).collect()
    };
    let all = ["2022-03-01", "2023-03-01", "2024-03-01", "2025-03-01"];
    assert_eq!(on(&level("2025-03-31", 100, None)), all);
    assert_eq!(on(&level("2024-03-01", 100, Some("2024-03-01"))), all[..3]);
    assert_eq!(on(&level("2024-02-29", 100, Some("2024-02-29"))), all[..2]);
    // Crossed first in March 2022; where that is to come, expected.
    let found = check(ANNIVERSARY, &level("2025-03-31", 2_000_000, None));
    assert_eq!((stands(&found), days(&found)[0].as_str()), (("crossed", "must_leave"), "2022-03-01"));
    let found = check(ANNIVERSARY, &level("2022-02-28", 2_000_000, None));
    assert_eq!((stands(&found), days(&found)[0].as_str()), (("expected", "must_leave"), "none"));
    assert_eq!(found.decisive.map(|day| day.on), Some(day("2022-03-01")));
    assert_eq!(check(ANNIVERSARY, &level("2022-03-01", 2_000_000, None)).status.as_str(), "crossed");
    // None over: the latest that has come is shown.
    let found = check(ANNIVERSARY, &level("2024-02-29", 100, None));
    assert_eq!(found.decisive.map(|day| day.on), Some(day("2023-03-01")));
    assert!(found.what_to_do.contains("2024-03-01"), "{}", found.what_to_do);
    // On the anniversary the next is a year away.
    let found = check(ANNIVERSARY, &level("2024-03-01", 100, None));
    assert_eq!(found.decisive.map(|day| day.on), Some(day("2024-03-01")));
    assert!(found.what_to_do.contains("2025-03-01"), "{}", found.what_to_do);
    // In the year of the start the first anniversary is the next.
    let mut young = registered("2024-04-30");
    young.business.flat_rate_from = Some(day("2024-03-01"));
    young.turnover.months = months("2024-03", &[100, 100]);
    let found = check(ANNIVERSARY, &young);
    assert_eq!(stands(&found), ("not_checked", "nothing"));
    assert!(found.finding.contains("the next is 2025-03-01"), "{}", found.finding);
}

/// Reg 55M(1)(a): the year ends at the anniversary, and has ended when its figures are actual and the day has come.
#[test]
fn an_anniversary_has_come_or_is_ahead() {
    // A year in one figure to the day before it, seen on that day and on the next.
    for (as_of, status) in [("2025-02-14", "expected"), ("2025-02-15", "crossed")] {
        let mut figures = user(as_of);
        figures.turnover.past_year = year(Some("2025-02-14"), income("230000.01"));
        let found = check(ANNIVERSARY, &figures);
        assert_eq!(stands(&found), (status, "must_leave"), "{as_of}");
        assert_eq!(days(&found)[0], if status == "crossed" { "2025-02-15" } else { "none" }, "{as_of}");
    }
    // Months that the caller still calls a forecast are one.
    let mut figures = user("2025-02-28");
    figures.turnover.months = months("2024-02", &[2_000_000; 12]);
    assert_eq!(stands(&check(ANNIVERSARY, &figures)), ("crossed", "must_leave"));
    figures.turnover.months[11].basis = Some(Basis::Forecast);
    assert_eq!(stands(&check(ANNIVERSARY, &figures)), ("expected", "must_leave"));
}

/// Reg 55M(1)(a): "at any anniversary" of the start, however many years after it and after an earlier year that is given too.
#[test]
fn an_anniversary_counts_however_late_it_is() {
    for (from, past_year) in [
        ("2012-03-01", None),
        ("2019-03-01", None),
        ("2018-03-01", Some("2019-03-01")),
        ("2017-03-01", Some("2018-03-01")),
        ("2012-03-01", Some("2013-03-01")),
    ] {
        let mut figures = registered("2025-03-31");
        figures.business.flat_rate_from = Some(day(from));
        figures.turnover.months = months("2024-03", &[2_000_000; 12]);
        figures.turnover.past_year = past_year.and_then(|end| year(Some(end), income("1.00")));
        let found = check(ANNIVERSARY, &figures);
        assert_eq!(stands(&found), ("crossed", "must_leave"), "{from} {past_year:?}");
        assert_eq!(days(&found)[0], "2025-03-01", "{from} {past_year:?}");
        assert_eq!(found.days.len(), 1 + usize::from(past_year.is_some()), "{from} {past_year:?}");
    }
    // The figures end with a year, on the day before the anniversary.
    let mut figures = registered("2025-01-31");
    figures.business.flat_rate_from = Some(day("2020-01-01"));
    figures.turnover.months = months("2024-01", &[2_000_000; 12]);
    assert_eq!(days(&check(ANNIVERSARY, &figures))[0], "2025-01-01");
    figures.turnover.months.clear();
    figures.turnover.past_year = year(Some("2024-12-31"), income("240000.00"));
    assert_eq!(days(&check(ANNIVERSARY, &figures))[0], "2025-01-01");
}

/// Months that alone pass the limit at the next anniversary are enough to say so; fewer say nothing of twelve (reg 55M(1)(a): £230,000).
#[test]
fn a_few_months_tell_of_the_next_anniversary_where_they_are_enough() {
    for (last, found) in [(2_875_000, None), (2_875_003, Some(pence(23_000_008)))] {
        let mut figures = user("2025-08-31");
        // Three months of £28,750 and five more to January 2026 are just the limit.
        figures.turnover.months = months("2025-06", &[2_875_000, 2_875_000, last]);
        let check = check(ANNIVERSARY, &figures);
        let ahead = check.outlook.first();
        assert_eq!(ahead.map(|ahead| ahead.measured), found);
        assert_eq!(ahead.and_then(|ahead| ahead.crosses_on), found.map(|_| day("2026-01-31")));
    }
}

/// A figure over the limit between anniversaries is an early warning; the next anniversary is looked at too.
#[test]
fn between_anniversaries_there_is_an_early_warning() {
    let mut totals = vec![1_500_000; 12];
    totals.extend([3_000_000; 6]);
    // To 15 February 2025 all is well; August 2025 is past the limit, and so will be February 2026.
    let mut figures = user("2025-08-31");
    figures.turnover.months = months("2024-03", &totals);
    let answer = tested(&figures);
    let running = of(Limit::FlatRateRunningIncome, &answer);
    assert_eq!(stands(&running), ("close", "stays"));
    assert_eq!(running.decisive.map(|day| (day.on, day.measured)), Some((day("2025-08-31"), pence(27_000_000))));
    let anniversary = of(ANNIVERSARY, &answer);
    assert_eq!((stands(&anniversary), days(&anniversary)), (("expected", "stays"), ["none"; 4].map(str::to_owned)));
    let outlook: Vec<_> = anniversary
        .outlook
        .iter()
        .map(|ahead| (ahead.method, ahead.monthly, ahead.crosses_on, ahead.on, ahead.measured))
        .collect();
    let january = day("2026-01-31");
    // Feb to August 2025 and five months at the run: £15,000, six of £30,000 and five of £30,000, or of £22,500.
    assert_eq!(
        outlook,
        [
            (Method::TrailingThreeMonths, Some(pence(3_000_000)), Some(january), january, pence(34_500_000)),
            (Method::TrailingTwelveMonths, Some(pence(2_250_000)), Some(january), january, pence(30_750_000)),
        ]
    );
    // With a month more the anniversary of February 2025 is tested, and stays within the limit.
    totals.insert(0, 1_500_000);
    figures.turnover.months = months("2024-02", &totals);
    let found = check(ANNIVERSARY, &figures);
    assert_eq!((stands(&found), found.outlook.len()), (("expected", "stays"), 2));
    assert_eq!(found.decisive.map(|day| (day.on, day.measured)), Some((day("2025-02-15"), pence(18_000_000))));
    // Nothing ahead is over the limit.
    figures.turnover.months = months("2024-02", &[1_916_666; 19]);
    let answer = tested(&figures);
    assert_eq!(stands(&of(ANNIVERSARY, &answer)), ("close", "stays"));
    assert_eq!(stands(&of(Limit::FlatRateRunningIncome, &answer)), ("close", "stays"));
    // The latest month end that has come is the one shown, also where later ones are forecast.
    figures.turnover.months = months("2024-03", &[1_000_000; 24]);
    let found = check(Limit::FlatRateRunningIncome, &figures);
    assert_eq!(stands(&found), ("clear", "stays"));
    assert_eq!(found.decisive.map(|tested| tested.on), Some(day("2025-08-31")));
    // The twelve months would pass it later on.
    totals = vec![1_500_000; 15];
    totals.extend([2_000_000; 3]);
    figures.turnover.months = months("2024-03", &totals);
    assert_eq!(stands(&check(Limit::FlatRateRunningIncome, &figures)), ("expected", "stays"));
}

/// No anniversary has come yet: only the run to the first one tells anything.
#[test]
fn the_run_to_an_anniversary_that_is_still_to_come() {
    for (each, status) in [(1_916_666, "clear"), (1_916_667, "expected")] {
        let mut figures = registered("2025-04-30");
        figures.business.flat_rate_from = Some(day("2024-12-01"));
        figures.turnover.months = months("2024-12", &[each; 5]);
        let found = check(ANNIVERSARY, &figures);
        assert_eq!(stands(&found), (status, "stays"), "{each}");
        assert_eq!(found.outlook.iter().map(|ahead| ahead.on).collect::<Vec<_>>(), [day("2025-11-30")]);
        assert_eq!(found.outlook[0].measured, pence(12 * each), "{each}");
        assert_eq!(found.figures_needed.is_empty(), status == "clear");
    }
}

/// Exactly the limit at the run to the anniversary is not over it: £90,000 and seven months of £20,000; a penny more is.
#[test]
fn the_run_to_an_anniversary_may_be_the_limit_itself() {
    for (more, status, crosses_on) in [(0, "clear", None), (1, "expected", Some(day("2025-11-30")))] {
        let mut figures = registered("2025-04-30");
        figures.business.flat_rate_from = Some(day("2024-12-01"));
        figures.turnover.months = months("2024-12", &[1_500_000 + more, 1_500_000, 2_000_000, 2_000_000, 2_000_000]);
        let found = check(ANNIVERSARY, &figures);
        assert_eq!(stands(&found), (status, "stays"), "{more}");
        assert_eq!((found.outlook[0].measured, found.outlook[0].crosses_on), (pence(23_000_000 + more), crosses_on));
    }
}

/// A year in one figure that does not end at an anniversary crosses nothing, and is not passed over either (FRS4400).
#[test]
fn a_year_between_anniversaries_is_an_early_warning() {
    for (amount, status) in
        [("230000.01", "close"), ("230000.00", "close"), ("207000.00", "close"), ("206999.99", "clear")]
    {
        let mut figures = user("2025-04-30");
        figures.turnover.past_year = year(Some("2025-03-31"), income(amount));
        let answer = tested(&figures);
        let running = of(Limit::FlatRateRunningIncome, &answer);
        assert_eq!(stands(&running), (status, "stays"), "{amount}");
        assert_eq!(running.days[0].on, day("2025-03-31"));
        assert_eq!(running.finding.contains("early warning"), amount == "230000.01");
    }
}

/// Regs 55M(1)(b) and 55Q: the beginning of the thirty days is the first day outside.
#[test]
fn thirty_days_of_income_end_the_scheme_at_once() {
    let mut figures = user("2025-03-10");
    figures.turnover.next_30_days = Some(income("230000.01"));
    let answer = tested(&figures);
    let found = of(Limit::FlatRateLeavingNextThirtyDays, &answer);
    assert_eq!(days(&found), ["2025-03-10", "none", "2025-04-09", "2025-03-10"]);
    assert_eq!(answer.eligibility.out_from, Some(day("2025-03-10")));
    assert_eq!(answer.eligibility.return_from, Some(day("2026-03-10")));
    assert_eq!(stands(&of(Limit::FlatRateStaying, &answer)), ("not_applicable", "nothing"));
    figures.turnover.next_30_days = Some(income("230000.00"));
    assert_eq!(days(&check(Limit::FlatRateLeavingNextThirtyDays, &figures)), ["none"; 4]);
}

/// Reg 55M(2): the year ahead is that after the anniversary; HMRC are asked by the day of telling them.
#[test]
fn staying_is_asked_for_by_the_same_day() {
    for (last, outcome, by) in
        [(1_595_837, "may_ask_to_stay", "2025-03-17"), (1_595_838, "may_not_ask_to_stay", "none")]
    {
        let mut figures = user("2025-02-28");
        let mut totals = vec![2_000_000; 12];
        // £191,500 in the twelve months from February 2025.
        totals.extend([1_595_833; 11]);
        totals.push(last);
        figures.turnover.months = months("2024-02", &totals);
        let found = check(Limit::FlatRateStaying, &figures);
        assert_eq!((found.outcome.as_str(), days(&found)[2].as_str()), (outcome, by), "{last}");
        assert_eq!(found.decisive.map(|day| day.on), Some(day("2025-02-15")));
        figures.turnover.months.pop();
        assert_eq!(check(Limit::FlatRateStaying, &figures).status.as_str(), "not_checked");
    }
}

/// Reg 55M(2): staying is asked for where the limit was passed at an anniversary, and not otherwise.
#[test]
fn staying_is_a_question_only_after_the_limit_was_passed() {
    for (amount, status) in [("230000.00", "not_applicable"), ("230000.01", "clear")] {
        let mut figures = user("2025-02-15");
        figures.turnover.past_year = year(None, income(amount));
        figures.turnover.next_year = Some(income("100000.00"));
        assert_eq!(check(Limit::FlatRateStaying, &figures).status.as_str(), status, "{amount}");
    }
}

/// Who joins with much exempt income is told of the first anniversary.
#[test]
fn the_first_anniversary_of_one_who_joins() {
    for (from, start) in [(None, "2025-06-30"), (Some("2025-06-29"), "2025-06-29"), (Some("2025-09-01"), "2025-09-01")]
    {
        let mut figures = registered("2025-06-30");
        figures.business.flat_rate_from = from.map(day);
        // Out of the scheme already, or not in it yet.
        figures.business.flat_rate_until = from.filter(|from| *from < "2025-06-30").map(day);
        let start = if figures.business.flat_rate_until.is_some() { "2025-06-30" } else { start };
        let on = start.replace("2025", "2026");
        for (amount, status, outcome) in
            [("206999.99", "clear", "stays"), ("230000.00", "close", "stays"), ("230000.01", "expected", "must_leave")]
        {
            figures.turnover.next_year = Some(income(amount));
            let found = check(ANNIVERSARY, &figures);
            assert_eq!(stands(&found), (status, outcome), "{from:?} {amount}");
            assert_eq!(found.decisive.map(|tested| tested.on), Some(day(&on)), "{from:?}");
            assert_eq!(days(&found), ["none"; 4]);
        }
    }
}

/// In the scheme from its first day to its last, on which joining is not asked and leaving is.
#[test]
fn the_days_of_the_scheme() {
    for (as_of, inside) in [("2023-02-14", false), ("2023-02-15", true), ("2025-01-31", true), ("2025-02-01", false)] {
        let mut figures = user(as_of);
        figures.business.flat_rate_until = Some(day("2025-01-31"));
        figures.turnover.next_30_days = Some(income("1.00"));
        let answer = tested(&figures);
        assert_eq!(of(Limit::FlatRateLeavingNextThirtyDays, &answer).status.as_str() == "clear", inside, "{as_of}");
        assert_eq!(of(Limit::FlatRateJoining, &answer).status.as_str() == "not_applicable", inside, "{as_of}");
        assert_eq!(of(Limit::CashAccountingJoining, &answer).status.as_str() == "not_applicable", inside, "{as_of}");
        assert_eq!(answer.eligibility.must_leave.is_some(), inside, "{as_of}");
    }
}
