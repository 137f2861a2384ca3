//! The partial exemption year: its periods, its own calculation and the annual adjustment (VAT Regulations 1995 regs 99, 107).

use crate::support::*;
use jiff::civil::Date;
use vat_schemes::figures::{AnnualTestGiven, Dates, PartialExemptionGiven};
use vat_schemes::partial_exemption_year;
use vat_schemes::partial_exemption_year::answer::{AdjustmentReturn, YearAnswer};
use vat_schemes::partial_exemption_year::figures::{ExemptionTotals, YearEndsBy, YearFigures, YearPeriod};
use vat_schemes::refusal::Refusals;
use vat_schemes::workings::Workings;

fn totals([taxable, exempt, for_taxable, for_exempt, for_both]: [&str; 5]) -> ExemptionTotals {
    ExemptionTotals {
        taxable_supplies: money(taxable),
        exempt_supplies: money(exempt),
        input_tax_taxable: money(for_taxable),
        input_tax_exempt: money(for_exempt),
        input_tax_both: money(for_both),
    }
}

fn days(start: &str, end: &str) -> Dates {
    Dates { start: day(start), end: day(end) }
}

fn one(start: &str, end: &str, figures: [&str; 5]) -> YearPeriod {
    YearPeriod { period: days(start, end), totals: totals(figures), claimed: None }
}

/// Periods that make up a year from the first one's start to the last one's end.
fn year(periods: Vec<YearPeriod>) -> YearFigures {
    let (first, last) = (periods[0].period.start, periods[periods.len() - 1].period.end);
    YearFigures {
        year: Dates { start: first, end: last },
        ends_by: YearEndsBy::TaxYear,
        of_the_year: PartialExemptionGiven::default(),
        periods,
        attributed_afresh: None,
    }
}

const QUARTERS: [(&str, &str); 4] = [
    ("2024-04-01", "2024-06-30"),
    ("2024-07-01", "2024-09-30"),
    ("2024-10-01", "2024-12-31"),
    ("2025-01-01", "2025-03-31"),
];

fn quarters(figures: [[&str; 5]; 4]) -> YearFigures {
    year(QUARTERS.iter().zip(figures).map(|((start, end), figures)| one(start, end, figures)).collect())
}

/// The quarters of which the second and third and the year stand among the published cases.
fn mixed() -> YearFigures {
    quarters([
        ["45000.00", "5000.00", "3500.00", "1000.00", "2300.00"],
        ["42000.00", "8000.00", "3200.00", "600.00", "2400.00"],
        ["30000.00", "20000.00", "2500.00", "2400.00", "2600.00"],
        ["40000.00", "10000.00", "3000.00", "1000.00", "2300.00"],
    ])
}

fn worked_out(figures: &YearFigures) -> YearAnswer {
    partial_exemption_year(law(), figures, Workings::kept())
        .unwrap_or_else(|Refusals(refusals)| panic!("refused: {refusals:?}"))
}

fn refused_for(figures: &YearFigures) -> Vec<(String, String)> {
    match partial_exemption_year(law(), figures, Workings::kept()) {
        Ok(_) => panic!("answered"),
        Err(Refusals(refusals)) => codes_and_places(refusals),
    }
}

fn codes(answer: &YearAnswer) -> Vec<&'static str> {
    answer.warnings.iter().map(|warning| warning.code.as_str()).collect()
}

/// One quarter fails its tests; the year passes the main test, so what was not recovered is claimed.
#[test]
fn a_year_that_passes_gives_back_what_a_quarter_lost() {
    let answer = worked_out(&mixed());
    let recovered: Vec<String> =
        answer.periods.iter().map(|period| period.partial_exemption.recoverable.to_string()).collect();
    assert_eq!(recovered, ["6800.00", "6200.00", "4060.00", "6300.00"]);
    let annual = &answer.annual;
    assert_eq!(annual.partial_exemption.percentage.map(|found| found.to_string()).as_deref(), Some("79"));
    assert_eq!(annual.partial_exemption.de_minimis_limit, money("7500.00"));
    assert_eq!(annual.partial_exemption.exempt_input_tax, Some(money("7016.00")));
    assert_eq!((annual.claimed, annual.entitlement), (money("23360.00"), money("26800.00")));
    assert_eq!(annual.adjustment, money("3440.00"));
    assert!(annual.outcome.contains("passes the main test") && annual.what_to_do.starts_with("Claim £3440.00"));
    assert_eq!(codes(&answer), Vec::<&str>::new());
    let [first, last] = &annual.returns[..] else { panic!("two returns: {:?}", annual.returns) };
    assert_eq!((first.kind, first.period_start), (AdjustmentReturn::FirstAfterYear, day("2025-04-01")));
    assert_eq!(
        (last.kind, last.period_start, last.period_end),
        (AdjustmentReturn::LastInYear, day("2025-01-01"), Some(day("2025-03-31")))
    );
}

/// Every quarter passes on £1,875; the year is a penny over £7,500 by its own attribution, so that what was let through is repaid.
#[test]
fn a_year_that_fails_takes_back_what_its_quarters_gave() {
    let quarter = ["70000.00", "30000.00", "10000.00", "1875.00", "0.00"];
    let mut figures = quarters([quarter; 4]);
    let answer = worked_out(&figures);
    assert!(answer.annual.partial_exemption.main_test);
    assert_eq!(answer.annual.adjustment, money("0.00"));
    assert!(answer.annual.what_to_do.starts_with("Nothing"));
    figures.attributed_afresh = Some(totals(["280000.00", "120000.00", "39999.99", "7500.01", "0.00"]));
    let answer = worked_out(&figures);
    assert_eq!(answer.annual.adjustment, money("-7500.01"));
    assert!(answer.annual.what_to_do.starts_with("Repay £7500.01"), "{}", answer.annual.what_to_do);
    assert!(answer.annual.outcome.contains("no de minimis test"));
    assert_eq!(codes(&answer), Vec::<&str>::new());
    // A penny of input tax that its periods don't have.
    figures.attributed_afresh = Some(totals(["280000.00", "120000.00", "40000.00", "7500.01", "0.00"]));
    assert_eq!(codes(&worked_out(&figures)), ["attribution_changes_total"]);
}

/// The limits of the year go with its months: £625 for each.
#[test]
fn the_limits_of_a_first_longer_period_go_with_its_length() {
    for (start, limit) in [
        ("2024-04-01", "7500.00"),
        ("2024-05-01", "6875.00"),
        ("2025-01-01", "1875.00"),
        ("2025-03-01", "625.00"),
        // 100 days of the 365 that begin with 22 December 2024: 12 × 625 × 100 ÷ 365.
        ("2024-12-22", "2054.79"),
    ] {
        for (more, passes) in [("0.00", true), ("0.01", false)] {
            let for_exempt = money(limit).plus(money(more)).expect("fits").to_string();
            let figures = [["80000.00", "20000.00", "20000.00", &for_exempt, "0.00"]];
            let answer = worked_out(&year(vec![one(start, "2025-03-31", figures[0])]));
            let annual = &answer.annual.partial_exemption;
            assert_eq!((annual.tests[2].limit, annual.main_test), (money(limit), passes), "{start} {more}");
            assert_eq!(codes(&answer).contains(&"longer_period_unusual"), start != "2024-04-01", "{start}");
        }
    }
}

/// Twelve monthly periods: each test has £625, the year £7,500.
#[test]
fn a_year_of_months() {
    let starts: Vec<Date> =
        (0..12).map(|month| day("2024-06-01").saturating_add(jiff::Span::new().months(month))).collect();
    let periods = starts
        .iter()
        .enumerate()
        .map(|(index, start)| YearPeriod {
            period: Dates { start: *start, end: start.last_of_month() },
            // One month has all the exempt input tax that the year lets through.
            totals: totals(["10000.00", "2000.00", "1500.00", if index == 0 { "7500.00" } else { "0.00" }, "0.00"]),
            claimed: None,
        })
        .collect();
    let answer = worked_out(&year(periods));
    assert!(answer.periods.iter().all(|period| period.partial_exemption.de_minimis_limit == money("625.00")));
    assert_eq!(answer.annual.claimed, money("18000.00"));
    assert_eq!(answer.annual.adjustment, money("7500.00"));
    assert_eq!(codes(&answer), Vec::<&str>::new());
}

/// Reg 106ZA: everything is recovered in the periods; the year's own tests take back what they don't let through.
#[test]
fn the_annual_test_ends_with_the_years_own() {
    let mut figures = mixed();
    let test = AnnualTestGiven { previous_year_de_minimis: true, expected_input_tax: money("30000.00") };
    figures.of_the_year.annual_test = Some(test);
    let answer = worked_out(&figures);
    assert_eq!((answer.annual.claimed, answer.annual.adjustment), (money("26800.00"), money("0.00")));
    assert_eq!(answer.annual.partial_exemption.annual_test, None);
    figures.periods[0].totals.input_tax_exempt = money("1484.01");
    let answer = worked_out(&figures);
    assert_eq!(answer.annual.claimed, money("27284.01"));
    assert_eq!(answer.annual.adjustment, money("-7500.01"));
    assert_eq!(codes(&answer), ["annual_test_not_upheld"]);
}

/// Reg 101(2)(f): the periods use the percentage of the year before, the year one of its own.
#[test]
fn the_percentage_of_the_year_before_ends_with_the_periods() {
    let quarter = ["50000.00", "50000.00", "1000.00", "5000.00", "10000.00"];
    let mut figures = quarters([quarter; 4]);
    figures.of_the_year.previous_year_percentage = Some("84".parse().expect("a percentage"));
    let answer = worked_out(&figures);
    assert!(answer.periods.iter().all(|period| period.partial_exemption.recoverable == money("9400.00")));
    assert_eq!(answer.annual.entitlement, money("24000.00"));
    assert_eq!(answer.annual.adjustment, money("-13600.00"));
}

#[test]
fn a_claim_that_was_made_otherwise_is_what_is_adjusted() {
    let mut figures = mixed();
    figures.periods[2].claimed = Some(money("7500.00"));
    let answer = worked_out(&figures);
    assert_eq!(answer.annual.adjustment, money("0.00"));
    assert_eq!(codes(&answer), ["claim_differs_from_calculation"]);
    assert_eq!(answer.warnings[0].lines, ["/periods/2/claimed"]);
    figures.periods[2].claimed = Some(money("4060.00"));
    assert_eq!(codes(&worked_out(&figures)), Vec::<&str>::new());
}

/// Reg 107E: £50,000 of residual input tax in a year, in proportion to its length; a penny more is warned of.
#[test]
fn the_override_is_out_of_the_question_up_to_its_limit() {
    for (start, residual, within) in [
        ("2024-04-01", "50000.00", true),
        ("2024-04-01", "50000.01", false),
        ("2025-01-01", "12500.00", true),
        ("2025-01-01", "12500.01", false),
    ] {
        let answer = worked_out(&year(vec![one(start, "2025-03-31", ["90.00", "10.00", "0.00", "0.00", residual])]));
        assert_eq!(answer.standard_method_override.within_limit, within, "{start} {residual}");
        assert_eq!(codes(&answer).contains(&"standard_method_override_possible"), !within, "{start} {residual}");
    }
}

/// Reg 99(1): the year ends by the VAT stagger, or with the registration.
#[test]
fn an_unusual_end_is_warned_of_and_deregistration_has_a_final_return() {
    for (end, unusual) in [
        ("2025-03-31", false),
        ("2025-04-30", false),
        ("2025-05-31", false),
        ("2025-03-30", true),
        ("2025-04-01", true),
        ("2025-06-30", true),
    ] {
        let start = day(end).saturating_add(jiff::Span::new().days(1)).saturating_sub(jiff::Span::new().years(1));
        let whole = |ends_by| {
            let mut figures = year(vec![one(&start.to_string(), end, ["90.00", "10.00", "1.00", "1.00", "1.00"])]);
            figures.ends_by = ends_by;
            worked_out(&figures)
        };
        assert_eq!(codes(&whole(YearEndsBy::TaxYear)).contains(&"longer_period_unusual"), unusual, "{end}");
        let deregistered = whole(YearEndsBy::Deregistration);
        assert_eq!(codes(&deregistered), Vec::<&str>::new(), "{end}");
        let [only] = &deregistered.annual.returns[..] else { panic!("one return") };
        assert_eq!((only.kind, only.period_end), (AdjustmentReturn::FinalReturn, Some(day(end))));
    }
}

#[test]
fn periods_make_up_a_year_of_twelve_months_at_most() {
    let code = |code: &str, place: &str| (code.to_owned(), place.to_owned());
    let mut gap = mixed();
    gap.periods[2].period.start = day("2024-10-02");
    assert_eq!(refused_for(&gap), [code("periods_do_not_make_up_year", "/periods/2/period/start")]);
    let mut overlap = mixed();
    overlap.periods[1].period.end = day("2024-10-01");
    assert_eq!(refused_for(&overlap), [code("periods_do_not_make_up_year", "/periods/2/period/start")]);
    let mut late_start = mixed();
    late_start.year.start = day("2024-03-31");
    late_start.year.end = day("2025-03-30");
    assert_eq!(
        refused_for(&late_start),
        [
            code("periods_do_not_make_up_year", "/periods/0/period/start"),
            code("periods_do_not_make_up_year", "/periods/3/period/end")
        ]
    );
    let mut backwards = mixed();
    backwards.periods[3].period.end = day("2024-12-31");
    assert_eq!(refused_for(&backwards), [code("period_end_before_start", "/periods/3/period/end")]);
    let mut too_long = mixed();
    too_long.year.end = day("2025-04-01");
    too_long.periods[3].period.end = day("2025-04-01");
    assert_eq!(refused_for(&too_long), [code("longer_period_too_long", "/year/end")]);
    let early = year(vec![one("2011-01-03", "2011-03-31", ["1.00", "0.00", "0.00", "0.00", "0.00"])]);
    assert_eq!(refused_for(&early), [code("period_too_early", "/year/start")]);
    // The tables of law begin on 4 January 2011, with the standard rate of 20% (VATA 1994 s 2).
    worked_out(&year(vec![one("2011-01-04", "2011-03-31", ["1.00", "0.00", "0.00", "0.00", "0.00"])]));
    let mut none = mixed();
    none.periods.clear();
    assert_eq!(refused_for(&none), [code("periods_do_not_make_up_year", "/periods")]);
    let mut backwards = mixed();
    backwards.year = days("2024-04-01", "2024-03-31");
    assert_eq!(refused_for(&backwards), [code("period_end_before_start", "/year/end")]);
}

/// Without supplies there is no fraction: the reader hears of each period, then of the year.
#[test]
fn residual_input_tax_needs_a_fraction_in_each_period_and_in_the_year() {
    let nothing_sold = ["0.00", "0.00", "0.00", "100.00", "9000.00"];
    let sold = ["5000.00", "100.00", "0.00", "100.00", "9000.00"];
    let figures = quarters([nothing_sold, sold, nothing_sold, sold]);
    let code = |place: &str| ("partial_exemption_percentage_unknown".to_owned(), place.to_owned());
    assert_eq!(refused_for(&figures), [code("/periods/0"), code("/periods/2")]);
    let mut figures = quarters([nothing_sold; 4]);
    figures.of_the_year.previous_year_percentage = Some("50".parse().expect("a percentage"));
    assert_eq!(refused_for(&figures), [code("/periods")]);
    figures.attributed_afresh = Some(totals(nothing_sold));
    assert_eq!(refused_for(&figures), [code("/attributed_afresh")]);
    figures.attributed_afresh = Some(totals(["0.00", "0.00", "36000.00", "400.00", "0.00"]));
    assert_eq!(worked_out(&figures).annual.entitlement, money("36400.00"));
}
