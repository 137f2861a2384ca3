//! Due dates, anniversaries, notices and time limits: each on its day, on the days around it, and in no other window.

use std::sync::LazyLock;

use jiff::civil::{Date, date};
use vat_schemes::due_dates::{
    About, AnnualAccounting, DateKind, DatesAnswer, DatesBusiness, DatesFigures, DiaryDate, Event, EventKind,
    Instalments, Liability, Periods, ReturnPeriods,
};
use vat_schemes::figures::Dates;
use vat_schemes::law::{Law, Nation};
use vat_schemes::money::Money;
use vat_schemes::refusal::{Refusal, RefusalCode, Refusals};
use vat_schemes::workings::Workings;

fn law() -> &'static Law {
    static LAW: LazyLock<Law> = LazyLock::new(|| Law::built_in().expect("the law"));
    &LAW
}

fn figures(from: Date, until: Date, periods: Periods) -> DatesFigures {
    DatesFigures {
        from,
        until,
        business: DatesBusiness {
            registered_on: date(2009, 4, 1),
            nation: Nation::EnglandAndWales,
            periods,
            flat_rate_from: None,
            flat_rate_until: None,
            liability_notified_on: None,
        },
        events: Vec::new(),
    }
}

fn ordinary(from: Date, until: Date, every: ReturnPeriods) -> DatesFigures {
    figures(from, until, Periods::Ordinary(every))
}

fn work_out(figures: &DatesFigures) -> DatesAnswer {
    vat_schemes::dates(law(), figures, Workings::kept()).unwrap_or_else(|refusals| panic!("{refusals:?}"))
}

fn refused(figures: &DatesFigures) -> Vec<Refusal> {
    match vat_schemes::dates(law(), figures, Workings::kept()) {
        Ok(answer) => panic!("{answer:?}"),
        Err(Refusals(refusals)) => refusals,
    }
}

/// The days of one kind, in order.
fn days(answer: &DatesAnswer, kind: DateKind) -> Vec<Date> {
    answer.dates.iter().filter(|date| date.by.kind == kind).map(|date| date.on).collect()
}

fn days_of(figures: &DatesFigures, kind: DateKind) -> Vec<Date> {
    days(&work_out(figures), kind)
}

/// Asserts that a day of this kind is found in a window of that day alone, and in neither neighbour.
fn only_on(day: Date, kind: DateKind, figures: impl Fn(Date, Date) -> DatesFigures) {
    let before = day.yesterday().expect("a day");
    let after = day.tomorrow().expect("a day");
    assert_eq!(days_of(&figures(day, day), kind), [day], "{kind:?}");
    assert_eq!(days_of(&figures(before, before), kind), [], "{kind:?} on {before}");
    assert_eq!(days_of(&figures(after, after), kind), [], "{kind:?} on {after}");
    assert_eq!(days_of(&figures(before, after), kind), [day], "{kind:?}");
}

/// HMRC manual VDSOG400: 30 June 2016 gives 7 August 2016; the others count the same way.
#[test]
fn a_return_is_due_one_month_and_seven_days_after_the_period() {
    for (end, due) in [
        (date(2016, 6, 30), date(2016, 8, 7)),
        (date(2026, 4, 30), date(2026, 6, 7)),
        (date(2026, 5, 31), date(2026, 7, 7)),
        (date(2026, 3, 31), date(2026, 5, 7)),
        (date(2025, 12, 31), date(2026, 2, 7)),
        (date(2026, 1, 31), date(2026, 3, 7)),
        (date(2024, 1, 31), date(2024, 3, 7)),
        (date(2024, 2, 29), date(2024, 4, 7)),
        (date(2025, 2, 28), date(2025, 4, 7)),
        (date(2026, 11, 30), date(2027, 1, 7)),
    ] {
        let window = |from, until| ordinary(from, until, ReturnPeriods::Monthly);
        let around: Vec<Date> = [-1, 0, 1].map(|days| due.saturating_add(jiff::Span::new().days(days))).into();
        let is_in = |day: &Date| days_of(&window(*day, *day), DateKind::ReturnAndPaymentDue) == [due];
        assert!(is_in(&around[1]) && !is_in(&around[2]), "{due}");
        // The day before finds it only where it is the last working day up to it.
        assert_eq!(is_in(&around[0]), due.weekday() == jiff::civil::Weekday::Saturday, "{due}");
        let answer = work_out(&window(due, due));
        let found = answer.dates.iter().find(|date| date.by.kind == DateKind::ReturnAndPaymentDue).expect("a date");
        assert_eq!(found.counted_from, end);
        assert!(matches!(found.about, About::Period(period) if period.end() == end), "{found:?}");
    }
}

#[test]
fn each_stagger_ends_its_quarters_in_its_own_months() {
    for (every, due) in [
        (ReturnPeriods::QuarterlyStagger1, [(2, 7), (5, 7), (8, 7), (11, 7)]),
        (ReturnPeriods::QuarterlyStagger2, [(3, 7), (6, 7), (9, 7), (12, 7)]),
        (ReturnPeriods::QuarterlyStagger3, [(1, 7), (4, 7), (7, 7), (10, 7)]),
    ] {
        let figures = ordinary(date(2026, 1, 1), date(2026, 12, 31), every);
        let expected = due.map(|(month, day)| date(2026, month, day));
        assert_eq!(days_of(&figures, DateKind::ReturnAndPaymentDue), expected, "{every:?}");
    }
    let monthly = ordinary(date(2024, 1, 1), date(2024, 12, 31), ReturnPeriods::Monthly);
    assert_eq!(days_of(&monthly, DateKind::ReturnAndPaymentDue).len(), 12);
}

/// The first period begins with the registration, and there is none before it.
#[test]
fn the_first_period_begins_with_the_registration() {
    let mut figures = ordinary(date(2026, 1, 1), date(2026, 12, 31), ReturnPeriods::QuarterlyStagger1);
    figures.business.registered_on = date(2026, 5, 10);
    let answer = work_out(&figures);
    assert_eq!(days(&answer, DateKind::ReturnAndPaymentDue), [date(2026, 8, 7), date(2026, 11, 7)]);
    assert!(matches!(answer.dates[0].about, About::Period(period) if period.start() == date(2026, 5, 10)));
    let claim = answer.dates.iter().find(|date| date.by.kind == DateKind::PreRegistrationClaim).expect("a claim");
    assert_eq!(claim.on, date(2026, 8, 7));
    assert!(claim.what_to_do.contains("2022-05-10") && claim.what_to_do.contains("2025-11-10"), "{claim:?}");
    // Registered on the last day of a quarter: a first period of one day.
    figures.business.registered_on = date(2026, 6, 30);
    assert_eq!(days_of(&figures, DateKind::ReturnAndPaymentDue), [date(2026, 8, 7), date(2026, 11, 7)]);
    figures.business.registered_on = date(2026, 7, 1);
    assert_eq!(days_of(&figures, DateKind::ReturnAndPaymentDue), [date(2026, 11, 7)]);
}

/// HMRC's printed 28 March gives 4 May, where counting gives 5 May: neither is answered.
#[test]
fn a_period_that_ends_inside_a_month_has_no_due_date() {
    let period = |start, end| Dates { start, end };
    let periods = vec![period(date(2026, 1, 1), date(2026, 3, 28)), period(date(2026, 3, 29), date(2026, 6, 30))];
    let answer = work_out(&figures(date(2026, 4, 1), date(2026, 8, 31), Periods::Listed(periods)));
    assert_eq!(days(&answer, DateKind::ReturnAndPaymentDue), [date(2026, 8, 7)]);
    let messages: Vec<&str> = answer.warnings.iter().map(|warning| warning.message.as_str()).collect();
    assert_eq!(messages.len(), 1, "{messages:?}");
    assert!(messages[0].contains("2026-03-28") && messages[0].contains("inside a month"), "{messages:?}");
}

/// GOV.UK, Pay your VAT bill: the last working day before a weekend or bank holiday; direct debit three working days after the deadline.
#[test]
fn money_must_arrive_on_the_last_working_day_up_to_the_due_date() {
    for (nation, due, act_by, collected) in [
        // 7 June 2026 is a Sunday; 7 August 2026 a Friday; 7 November 2021 a Sunday, in HMRC's own example.
        (Nation::EnglandAndWales, date(2026, 6, 7), date(2026, 6, 5), date(2026, 6, 10)),
        (Nation::EnglandAndWales, date(2026, 8, 7), date(2026, 8, 7), date(2026, 8, 12)),
        (Nation::EnglandAndWales, date(2021, 11, 7), date(2021, 11, 5), date(2021, 11, 10)),
        // Good Friday was on 7 April in 2023; Easter Monday was a working day in Scotland.
        (Nation::EnglandAndWales, date(2023, 4, 7), date(2023, 4, 6), date(2023, 4, 13)),
        (Nation::Scotland, date(2023, 4, 7), date(2023, 4, 6), date(2023, 4, 12)),
        // The Summer bank holiday of Scotland was on 7 August in 2023.
        (Nation::Scotland, date(2023, 8, 7), date(2023, 8, 4), date(2023, 8, 10)),
        (Nation::NorthernIreland, date(2023, 8, 7), date(2023, 8, 7), date(2023, 8, 10)),
    ] {
        let mut figures = ordinary(due, due.saturating_add(jiff::Span::new().days(9)), ReturnPeriods::Monthly);
        figures.business.nation = nation;
        let answer = work_out(&figures);
        let is_return = |date: &&DiaryDate| date.by.kind == DateKind::ReturnAndPaymentDue;
        let found = answer.dates.iter().find(is_return).expect("the due date");
        let working_day = found.working_day.expect("known");
        assert_eq!((found.act_by, working_day.previous_working_day), (act_by, act_by), "{nation:?} {due}");
        assert_eq!(working_day.is_working_day, act_by == due);
        assert_eq!(days(&answer, DateKind::DirectDebitCollected), [collected], "{nation:?} {due}");
    }
}

/// A payment due on a Sunday just after the window must arrive inside it.
#[test]
fn a_payment_to_be_made_in_the_window_is_listed_though_it_is_due_after_it() {
    let friday = ordinary(date(2026, 6, 5), date(2026, 6, 5), ReturnPeriods::QuarterlyStagger2);
    assert_eq!(days_of(&friday, DateKind::ReturnAndPaymentDue), [date(2026, 6, 7)]);
    let saturday = ordinary(date(2026, 6, 6), date(2026, 6, 6), ReturnPeriods::QuarterlyStagger2);
    assert_eq!(days_of(&saturday, DateKind::ReturnAndPaymentDue), []);
}

#[test]
fn beyond_the_holidays_known_nothing_is_said_of_working_days() {
    let codes = |figures: &DatesFigures| -> Vec<&'static str> {
        work_out(figures).warnings.iter().map(|warning| warning.code.as_str()).collect()
    };
    let year = |year| ordinary(date(year, 1, 1), date(year, 12, 31), ReturnPeriods::QuarterlyStagger1);
    assert_eq!(codes(&year(2026)), Vec::<&str>::new());
    assert_eq!(codes(&year(2027)), ["bank_holidays_not_proclaimed"]);
    assert_eq!(codes(&year(2029)), ["working_days_not_known"]);
    let both = ordinary(date(2028, 6, 1), date(2029, 6, 1), ReturnPeriods::QuarterlyStagger1);
    assert_eq!(codes(&both), ["working_days_not_known", "bank_holidays_not_proclaimed"]);
    let answer = work_out(&year(2029));
    assert!(answer.dates.iter().all(|date| date.working_day.is_none() && date.act_by == date.on));
    assert!(days(&answer, DateKind::DirectDebitCollected).is_empty());
    assert_eq!(days(&answer, DateKind::ReturnAndPaymentDue).len(), 4);
}

fn annual(year_ends_on: Date, instalments: Instalments) -> Periods {
    Periods::Annual(AnnualAccounting { year_ends_on, from: None, instalments, liability: None })
}

/// VAT Regulations 1995 reg 50(2): the last working day of months 4 to 12, or 4, 7 and 10; return and balance on that of the second month
/// after. 31 May 2026 is a Sunday, 31 August 2026 the Summer bank holiday outside Scotland, 28 February 2027 a Sunday.
#[test]
fn instalments_of_annual_accounting_fall_on_last_working_days() {
    let window = (date(2026, 1, 1), date(2027, 2, 28));
    let mut three = figures(window.0, window.1, annual(date(2026, 12, 31), Instalments::Three));
    assert_eq!(days_of(&three, DateKind::InstalmentDue), [date(2026, 4, 30), date(2026, 7, 31), date(2026, 10, 30)]);
    // The year 2025 is due at the end of February 2026, 2026 at the end of February 2027: a Saturday and a Sunday.
    assert_eq!(days_of(&three, DateKind::ReturnAndPaymentDue), [date(2026, 2, 27), date(2027, 2, 26)]);
    assert!(days_of(&three, DateKind::DirectDebitCollected).is_empty());
    let nine = |nation| {
        let mut figures = figures(window.0, date(2026, 12, 31), annual(date(2026, 12, 31), Instalments::Nine));
        figures.business.nation = nation;
        days_of(&figures, DateKind::InstalmentDue)
    };
    let ends = |august| {
        [(4, 30), (5, 29), (6, 30), (7, 31), (8, august), (9, 30), (10, 30), (11, 30), (12, 31)]
            .map(|(month, day)| date(2026, month, day))
    };
    assert_eq!(nine(Nation::EnglandAndWales), ends(28));
    assert_eq!(nine(Nation::NorthernIreland), ends(28));
    // St Andrew's Day takes 30 November in Scotland, and August ends on a working day.
    let mut scotland = ends(31);
    scotland[7] = date(2026, 11, 27);
    assert_eq!(nine(Nation::Scotland), scotland);
    // A year to the end of February ends on the 29th of a leap year.
    three.business.periods = annual(date(2026, 2, 28), Instalments::Three);
    (three.from, three.until) = (date(2024, 1, 1), date(2024, 12, 31));
    let answer = work_out(&three);
    let due = answer.dates.iter().find(|date| date.by.kind == DateKind::ReturnAndPaymentDue).expect("a return");
    assert!(matches!(due.about, About::Period(year) if year.end() == date(2024, 2, 29)), "{due:?}");
    assert_eq!(due.on, date(2024, 4, 30));
}

/// GOV.UK: less than four months, no instalments and one month for the return; four months have one.
#[test]
fn a_short_first_year_has_few_instalments_or_none() {
    let year = |from: Date| {
        let periods = Periods::Annual(AnnualAccounting {
            year_ends_on: date(2026, 12, 31),
            from: Some(from),
            instalments: Instalments::Three,
            liability: None,
        });
        work_out(&figures(date(2026, 7, 1), date(2027, 3, 31), periods))
    };
    let four = year(date(2026, 9, 1));
    assert_eq!(days(&four, DateKind::InstalmentDue), [date(2026, 12, 31)]);
    assert_eq!(days(&four, DateKind::ReturnAndPaymentDue), [date(2027, 2, 26)]);
    let three = year(date(2026, 10, 1));
    assert_eq!(days(&three, DateKind::InstalmentDue), []);
    assert_eq!(days(&three, DateKind::ReturnAndPaymentDue), [date(2027, 1, 31)]);
    assert_eq!(
        three.dates.iter().find(|found| found.on == date(2027, 1, 31)).map(|found| found.act_by),
        Some(date(2027, 1, 29))
    );
    // A year that starts inside a month: its months are not counted, and the answer says so.
    let inside = year(date(2026, 8, 15));
    assert_eq!(days(&inside, DateKind::InstalmentDue), []);
    assert!(inside.warnings.iter().any(|warning| warning.message.contains("starts inside a month")), "{inside:?}");
}

/// VAT Regulations 1995 reg 50; GOV.UK, annual accounting deadlines: 10 or 25 per cent.
#[test]
fn instalments_are_shares_of_what_is_expected() {
    let money = |text: &str| text.parse::<Money>().expect("an amount");
    for (instalments, expected, actual, instalment, paid, balance) in [
        (Instalments::Three, "8000.00", Some("8650.00"), "2000.00", "6000.00", Some("2650.00")),
        (Instalments::Nine, "8000.00", Some("7000.00"), "800.00", "7200.00", Some("-200.00")),
        (Instalments::Three, "0.02", None, "0.01", "0.03", None),
        (Instalments::Nine, "1234.56", Some("1234.56"), "123.46", "1111.14", Some("123.42")),
    ] {
        let periods = Periods::Annual(AnnualAccounting {
            year_ends_on: date(2026, 12, 31),
            from: None,
            instalments,
            liability: Some(Liability { expected: money(expected), actual: actual.map(money) }),
        });
        let answer = work_out(&figures(date(2026, 1, 1), date(2026, 12, 31), periods));
        let amounts = answer.annual_accounting.expect("amounts");
        assert_eq!(
            (amounts.instalment, amounts.paid, amounts.balance),
            (money(instalment), money(paid), balance.map(money))
        );
        let due = answer.dates.iter().find(|date| date.by.kind == DateKind::InstalmentDue).expect("an instalment");
        assert!(due.what_to_do.contains(&format!("£{instalment}")), "{due:?}");
    }
}

fn flat_rate_user(from: Date, until: Date, starts: Date) -> DatesFigures {
    let mut figures = ordinary(from, until, ReturnPeriods::QuarterlyStagger2);
    figures.business.flat_rate_from = Some(starts);
    figures
}

/// Start on 15 February, quarters to January and so on: the anniversary of 15 February 2026 lies in the quarter to 30 April 2026, at whose
/// end a business over the limit is out (VAT Regulations 1995 regs 55M, 55N, 55Q).
#[test]
fn an_anniversary_brings_the_leaving_test_and_the_category_check() {
    let user = |from, until| flat_rate_user(from, until, date(2024, 2, 15));
    only_on(date(2026, 2, 15), DateKind::FlatRateAnniversary, user);
    only_on(date(2026, 3, 17), DateKind::FlatRateLeavingNotice, user);
    only_on(date(2026, 2, 1), DateKind::FlatRateCategoryCheck, user);
    only_on(date(2026, 3, 3), DateKind::FlatRateCategoryNotice, user);
    let answer = work_out(&user(date(2026, 2, 15), date(2026, 2, 15)));
    let test = &answer.dates[0];
    assert!(
        ["£230000.00", "2026-03-17", "2026-04-30"].iter().all(|part| test.what_to_do.contains(part)),
        "{}",
        test.what_to_do
    );
    // None on the day of the start itself, and none after the last day in the scheme.
    let all = |until| {
        let mut figures = user(date(2024, 1, 1), date(2028, 12, 31));
        figures.business.flat_rate_until = until;
        days_of(&figures, DateKind::FlatRateAnniversary)
    };
    assert_eq!(all(None), [2025, 2026, 2027, 2028].map(|year| date(year, 2, 15)));
    assert_eq!(all(Some(date(2026, 2, 15))), [date(2025, 2, 15), date(2026, 2, 15)]);
    assert_eq!(all(Some(date(2026, 2, 14))), [date(2025, 2, 15)]);
}

/// VAT Regulations 1995 reg 55Q(1)(a)(i): with annual accounting the end of the month after the anniversary's, if sooner.
#[test]
fn with_annual_accounting_the_scheme_ends_sooner() {
    for (anniversary, ends) in
        [(date(2026, 2, 15), "2026-03-31"), (date(2026, 11, 30), "2026-12-31"), (date(2026, 12, 1), "2026-12-31")]
    {
        let mut user = flat_rate_user(anniversary, anniversary, date(2024, anniversary.month(), anniversary.day()));
        user.business.periods = annual(date(2026, 12, 31), Instalments::Nine);
        let answer = work_out(&user);
        let test = answer.dates.iter().find(|date| date.by.kind == DateKind::FlatRateAnniversary).expect("a test");
        assert!(test.what_to_do.contains(&format!("ends on {ends}")), "{}", test.what_to_do);
    }
}

#[test]
fn a_start_on_29_february_is_remembered_on_28_february() {
    let user = flat_rate_user(date(2024, 1, 1), date(2028, 12, 31), date(2024, 2, 29));
    assert_eq!(
        days_of(&user, DateKind::FlatRateAnniversary),
        [date(2025, 2, 28), date(2026, 2, 28), date(2027, 2, 28), date(2028, 2, 29)]
    );
    let mut figures = ordinary(date(2024, 1, 1), date(2025, 12, 31), ReturnPeriods::Monthly);
    figures.business.registered_on = date(2024, 2, 29);
    figures.business.flat_rate_from = Some(date(2024, 2, 29));
    let answer = work_out(&figures);
    assert_eq!(days(&answer, DateKind::RegistrationAnniversary), [date(2025, 2, 28)]);
    assert_eq!(days(&answer, DateKind::FirstYearReductionEnds), [date(2025, 2, 27)]);
}

/// VAT Regulations 1995 reg 55JB; FRS7100.
#[test]
fn the_first_year_reduction_ends_the_day_before_the_anniversary_of_registration() {
    let user = |starts: Date, notified: Option<Date>, until: Option<Date>| {
        let mut figures = ordinary(date(2025, 1, 1), date(2027, 12, 31), ReturnPeriods::QuarterlyStagger1);
        figures.business.registered_on = date(2025, 5, 10);
        figures.business.flat_rate_from = Some(starts);
        figures.business.flat_rate_until = until;
        figures.business.liability_notified_on = notified;
        let answer = work_out(&figures);
        (days(&answer, DateKind::FirstYearReductionBegins), days(&answer, DateKind::FirstYearReductionEnds))
    };
    let (registered, ends) = (date(2025, 5, 10), date(2026, 5, 9));
    assert_eq!(user(registered, None, None), (vec![], vec![ends]));
    assert_eq!(user(date(2026, 5, 9), None, None), (vec![], vec![ends]));
    assert_eq!(user(date(2026, 5, 10), None, None), (vec![], vec![]));
    assert_eq!(user(registered, Some(date(2025, 8, 15)), None), (vec![date(2025, 8, 15)], vec![ends]));
    assert_eq!(user(registered, Some(date(2026, 5, 10)), None), (vec![], vec![]));
    assert_eq!(user(registered, None, Some(ends)), (vec![], vec![ends]));
    assert_eq!(user(registered, None, Some(date(2026, 5, 8))), (vec![], vec![]));
    assert_eq!(user(registered, Some(date(2025, 8, 15)), Some(date(2025, 8, 14))), (vec![], vec![]));
}

/// VAT Regulations 1995 reg 55L(1)(c).
#[test]
fn a_year_must_pass_before_the_scheme_is_used_again() {
    let left = |on: Date| {
        move |from, until| {
            let mut figures = ordinary(from, until, ReturnPeriods::QuarterlyStagger1);
            figures.business.flat_rate_until = Some(on);
            figures
        }
    };
    only_on(date(2027, 5, 1), DateKind::FlatRateReturnPossible, left(date(2026, 4, 30)));
    only_on(date(2025, 2, 28), DateKind::FlatRateReturnPossible, left(date(2024, 2, 28)));
    only_on(date(2025, 3, 1), DateKind::FlatRateReturnPossible, left(date(2024, 2, 29)));
}

/// VAT Regulations 1995 regs 34(1A) and 29(1A): four years from the end of the period, and from the due date of its return.
#[test]
fn errors_and_claims_of_a_period_end_after_four_years() {
    let quarters = |from, until| ordinary(from, until, ReturnPeriods::QuarterlyStagger1);
    only_on(date(2026, 6, 30), DateKind::ErrorCorrectionEnds, quarters);
    only_on(date(2026, 8, 7), DateKind::InputTaxClaimEnds, quarters);
    let stagger3 = |from, until| ordinary(from, until, ReturnPeriods::QuarterlyStagger3);
    // Registered on 1 February 2024, so that the first period ends on 29 February.
    only_on(date(2028, 2, 29), DateKind::ErrorCorrectionEnds, |from, until| {
        let mut figures = ordinary(from, until, ReturnPeriods::Monthly);
        figures.business.registered_on = date(2024, 2, 1);
        figures
    });
    only_on(date(2027, 2, 28), DateKind::ErrorCorrectionEnds, stagger3);
    // Nothing for a period before registration.
    let mut young = quarters(date(2026, 1, 1), date(2026, 12, 31));
    young.business.registered_on = date(2022, 7, 1);
    assert_eq!(days_of(&young, DateKind::ErrorCorrectionEnds), [date(2026, 9, 30), date(2026, 12, 31)]);
}

/// VATREG18300: over on 22 April, liable on 30 April, tell by 30 May, registered from 1 June; a belief formed on 22 April: tell by 22 May,
/// registered from 22 April.
#[test]
fn what_has_happened_starts_its_time() {
    let after = |kind, on| {
        move |from, until| {
            let mut figures = ordinary(from, until, ReturnPeriods::QuarterlyStagger1);
            figures.events = vec![Event { kind, on }];
            figures
        }
    };
    for (kind, on, expected) in [
        (
            EventKind::RegistrationLimitPassed,
            date(2026, 4, 30),
            &[(DateKind::RegistrationNotice, date(2026, 5, 30)), (DateKind::RegistrationBegins, date(2026, 6, 1))][..],
        ),
        (
            EventKind::RegistrationLimitPassed,
            date(2024, 1, 31),
            &[(DateKind::RegistrationNotice, date(2024, 3, 1)), (DateKind::RegistrationBegins, date(2024, 3, 1))],
        ),
        (
            EventKind::RegistrationLimitExpected,
            date(2026, 4, 22),
            &[(DateKind::RegistrationNotice, date(2026, 5, 22)), (DateKind::RegistrationBegins, date(2026, 4, 22))],
        ),
        (EventKind::TaxableSuppliesCeased, date(2026, 4, 30), &[(DateKind::DeregistrationNotice, date(2026, 5, 30))]),
        (EventKind::ActivityChanged, date(2026, 1, 31), &[(DateKind::ActivityChangeNotice, date(2026, 3, 2))]),
        (EventKind::FlatRateEndsEarly, date(2026, 1, 31), &[(DateKind::FlatRateLeavingNotice, date(2026, 3, 2))]),
        (
            EventKind::CustomerHasNotPaid,
            date(2025, 8, 31),
            &[(DateKind::BadDebtClaimBegins, date(2026, 2, 28)), (DateKind::BadDebtClaimEnds, date(2030, 2, 28))],
        ),
        (EventKind::SupplierNotPaid, date(2025, 8, 31), &[(DateKind::InputTaxRepayment, date(2026, 2, 28))]),
    ] {
        for (found, day) in expected {
            only_on(*day, *found, after(kind, on));
        }
    }
    let in_window = |kind, on, day: Date, found| {
        let answer = work_out(&after(kind, on)(day, day));
        answer.dates.iter().any(|date| date.by.kind == found && date.about == About::Event(0))
    };
    let period_end = date(2022, 5, 31);
    assert!(in_window(EventKind::ErrorInPeriod, period_end, date(2026, 5, 31), DateKind::ErrorCorrectionEnds));
    assert!(!in_window(EventKind::ErrorInPeriod, period_end, date(2026, 6, 1), DateKind::ErrorCorrectionEnds));
    assert!(in_window(EventKind::InputTaxNotClaimed, period_end, date(2026, 7, 7), DateKind::InputTaxClaimEnds));
    assert!(!in_window(EventKind::InputTaxNotClaimed, period_end, date(2026, 7, 8), DateKind::InputTaxClaimEnds));
    // With annual accounting: a year counts from its own due date, and a quarter before it as an ordinary period.
    for (period_end, claim_ends) in [(date(2022, 12, 31), date(2027, 2, 28)), (date(2022, 9, 30), date(2026, 11, 7))] {
        let mut yearly = figures(date(2026, 1, 1), date(2027, 12, 31), annual(date(2026, 12, 31), Instalments::Nine));
        yearly.events = vec![Event { kind: EventKind::InputTaxNotClaimed, on: period_end }];
        let answer = work_out(&yearly);
        let claim = answer.dates.iter().find(|date| date.about == About::Event(0)).expect("a claim");
        assert_eq!(claim.on, claim_ends);
    }
    // A period that ended inside a month has no due date to count from.
    let odd = work_out(&after(EventKind::InputTaxNotClaimed, date(2022, 5, 30))(date(2026, 1, 1), date(2026, 12, 31)));
    assert!(odd.warnings.iter().any(|warning| warning.lines == ["/events/0/on"]), "{:?}", odd.warnings);
}

#[test]
fn what_cannot_be_is_refused() {
    let places = |figures: &DatesFigures| -> Vec<(String, RefusalCode)> {
        refused(figures).into_iter().map(|refusal| (refusal.place.to_string(), refusal.code)).collect()
    };
    let window = |from, until| ordinary(from, until, ReturnPeriods::Monthly);
    let one = |place: &str, code| vec![(place.to_owned(), code)];
    assert_eq!(places(&window(date(2011, 1, 3), date(2011, 2, 1))), one("/from", RefusalCode::DateOutsideLaw));
    assert_eq!(places(&window(date(2026, 1, 2), date(2026, 1, 1))), one("/until", RefusalCode::PeriodEndBeforeStart));
    assert_eq!(places(&window(date(2026, 1, 1), date(2031, 1, 1))), one("/until", RefusalCode::WindowTooLong));
    work_out(&window(date(2011, 1, 4), date(2011, 1, 4)));
    work_out(&window(date(2026, 1, 1), date(2030, 12, 31)));

    let mut contradicting = window(date(2026, 1, 1), date(2026, 12, 31));
    contradicting.business.flat_rate_from = Some(date(2009, 3, 31));
    contradicting.business.flat_rate_until = Some(date(2009, 3, 30));
    assert_eq!(
        places(&contradicting),
        [
            ("/business/flat_rate_from".to_owned(), RefusalCode::FlatRateBeforeRegistration),
            ("/business/flat_rate_until".to_owned(), RefusalCode::PeriodEndBeforeStart),
        ]
    );
    let period = |start, end| Dates { start, end };
    let listed = figures(
        date(2026, 1, 1),
        date(2026, 12, 31),
        Periods::Listed(vec![
            period(date(2026, 1, 1), date(2026, 3, 31)),
            period(date(2026, 3, 31), date(2026, 6, 30)),
            period(date(2026, 7, 2), date(2026, 7, 1)),
        ]),
    );
    assert_eq!(
        places(&listed),
        [
            ("/business/vat_periods/1".to_owned(), RefusalCode::DatesOutOfOrder),
            ("/business/vat_periods/2/end".to_owned(), RefusalCode::PeriodEndBeforeStart),
        ]
    );
    let mut inside = window(date(2026, 1, 1), date(2026, 12, 31));
    inside.events = vec![
        Event { kind: EventKind::RegistrationLimitPassed, on: date(2026, 4, 30) },
        Event { kind: EventKind::RegistrationLimitPassed, on: date(2026, 4, 29) },
    ];
    assert_eq!(places(&inside), one("/events/1/on", RefusalCode::DatesOutOfOrder));
}

#[test]
fn days_come_in_order_and_every_one_says_what_to_do() {
    let mut figures = flat_rate_user(date(2026, 1, 1), date(2028, 12, 31), date(2025, 2, 15));
    figures.business.registered_on = date(2025, 2, 15);
    figures.events = EventKind::ALL.iter().map(|kind| Event { kind: *kind, on: date(2026, 4, 30) }).collect();
    let answer = work_out(&figures);
    assert!(answer.dates.windows(2).all(|pair| pair[0].on <= pair[1].on));
    for date in &answer.dates {
        assert!(!date.title.is_empty() && date.what_to_do.ends_with('.'), "{date:?}");
        let in_window = |day: Date| figures.from <= day && day <= figures.until;
        assert!(in_window(date.on) || in_window(date.act_by), "{date:?}");
        assert!(date.act_by <= date.on, "{date:?}");
        assert!(!date.by.rule.authority.is_empty(), "{date:?}");
    }
    // The numbers counted with are listed, each once.
    let mut ids: Vec<&str> = answer.law.used.iter().map(|used| used.id.as_str()).collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count);
    assert!(ids.contains(&"return_due_days") && ids.contains(&"frs_leave_income_past_year"), "{ids:?}");
}
