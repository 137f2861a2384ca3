//! Due dates of returns, payments and instalments: each on its day, and in no other window.

use crate::support::dates::*;
use jiff::civil::{Date, date};
use vat_schemes::due_dates::*;
use vat_schemes::figures::Dates;
use vat_schemes::law::Nation;
use vat_schemes::money::Money;

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
    // To the last day that is known, and a day more; and that day alone.
    let (_, last) = law().bank_holidays().known_days();
    let after = last.tomorrow().expect("a day");
    let to = |until| ordinary(date(2028, 12, 1), until, ReturnPeriods::QuarterlyStagger1);
    assert_eq!(codes(&to(last)), ["bank_holidays_not_proclaimed"]);
    assert_eq!(codes(&to(after)), ["working_days_not_known", "bank_holidays_not_proclaimed"]);
    assert_eq!(codes(&ordinary(last, last, ReturnPeriods::Monthly)), ["bank_holidays_not_proclaimed"]);
    assert_eq!(codes(&ordinary(after, after, ReturnPeriods::Monthly)), ["working_days_not_known"]);
    let proclaimed_to = law().bank_holidays().proclaimed_to();
    assert_eq!(codes(&ordinary(proclaimed_to, proclaimed_to, ReturnPeriods::Monthly)), Vec::<&str>::new());
    let answer = work_out(&year(2029));
    assert!(answer.dates.iter().all(|date| date.working_day.is_none() && date.act_by == date.on));
    assert!(days(&answer, DateKind::DirectDebitCollected).is_empty());
    assert_eq!(days(&answer, DateKind::ReturnAndPaymentDue).len(), 4);
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

/// Such a period is spoken of where its return can be due in the window: from its end until three months later.
#[test]
fn a_period_that_ends_inside_a_month_is_spoken_of_while_its_return_can_be_due() {
    let periods = vec![Dates { start: date(2026, 1, 1), end: date(2026, 3, 28) }];
    for (day, spoken_of) in [
        (date(2026, 3, 27), false),
        (date(2026, 3, 28), true),
        (date(2026, 5, 4), true),
        (date(2026, 6, 28), true),
        (date(2026, 6, 29), false),
    ] {
        let answer = work_out(&figures(day, day, Periods::Listed(periods.clone())));
        let found = answer.warnings.iter().any(|warning| warning.message.contains("ends inside a month"));
        assert_eq!(found, spoken_of, "{day}");
    }
}

/// HMRC's letter names the instalments of a year that starts inside a month: said on its days, and on no other.
#[test]
fn a_year_that_starts_inside_a_month_is_spoken_of_on_its_days() {
    let year = Periods::Annual(AnnualAccounting {
        year_ends_on: date(2027, 3, 31),
        from: Some(date(2026, 4, 15)),
        instalments: Instalments::Nine,
        liability: None,
    });
    for (day, spoken_of) in
        [(date(2026, 4, 14), false), (date(2026, 4, 15), true), (date(2027, 3, 31), true), (date(2027, 4, 1), false)]
    {
        let answer = work_out(&figures(day, day, year.clone()));
        let found = answer.warnings.iter().any(|warning| warning.message.contains("starts inside a month"));
        assert_eq!(found, spoken_of, "{day}");
        assert_eq!(days(&answer, DateKind::InstalmentDue), [], "{day}");
    }
}
