//! Anniversaries, notices and time limits: each on its day, on the days around it, and in no other window.

use crate::support::dates::*;
use jiff::civil::{Date, date};
use vat_schemes::due_dates::*;
use vat_schemes::figures::Dates;
use vat_schemes::refusal::RefusalCode;

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

/// On one day what is due comes before what may be done, in the order of the kinds, however the events are listed.
#[test]
fn dates_of_one_day_stand_in_the_order_of_their_kinds() {
    let due = date(2026, 8, 7);
    let mut figures = ordinary(due, due, ReturnPeriods::QuarterlyStagger1);
    figures.events = vec![
        Event { kind: EventKind::CustomerHasNotPaid, on: date(2026, 2, 7) },
        Event { kind: EventKind::TaxableSuppliesCeased, on: date(2026, 7, 8) },
    ];
    let kinds: Vec<_> =
        work_out(&figures).dates.iter().filter(|found| found.on == due).map(|found| found.by.kind).collect();
    assert_eq!(
        kinds,
        [
            DateKind::ReturnAndPaymentDue,
            DateKind::DeregistrationNotice,
            DateKind::InputTaxClaimEnds,
            DateKind::BadDebtClaimBegins,
        ]
    );
}

/// Something is to be done by most days; from some only something holds.
#[test]
fn days_from_which_something_holds_are_no_deadlines() {
    let from: Vec<_> = DateKind::ALL.iter().filter(|kind| !kind.is_deadline()).collect();
    assert_eq!(
        from,
        [
            &DateKind::DirectDebitCollected,
            &DateKind::FirstYearReductionBegins,
            &DateKind::RegistrationAnniversary,
            &DateKind::FlatRateReturnPossible,
            &DateKind::BadDebtClaimBegins,
        ]
    );
}

/// The scheme may start and end on one day, not before the registration and not end before it starts.
#[test]
fn the_days_of_the_scheme_are_in_order() {
    let user = |registered, starts, ends| {
        let mut figures = flat_rate_user(date(2026, 1, 1), date(2026, 12, 31), starts);
        figures.business.registered_on = registered;
        figures.business.flat_rate_until = Some(ends);
        figures
    };
    let (before, day) = (date(2026, 4, 30), date(2026, 5, 1));
    assert!(!work_out(&user(day, day, day)).dates.is_empty());
    let code = |figures| refused(&figures).into_iter().map(|refusal| refusal.code).collect::<Vec<_>>();
    assert_eq!(code(user(day, before, day)), [RefusalCode::FlatRateBeforeRegistration]);
    assert_eq!(code(user(before, day, before)), [RefusalCode::PeriodEndBeforeStart]);
}

/// The notice of an anniversary in December ends in January, and the category is checked in November for one in January.
#[test]
fn what_an_anniversary_brings_may_lie_in_another_year() {
    only_on(date(2026, 1, 14), DateKind::FlatRateLeavingNotice, |from, until| {
        flat_rate_user(from, until, date(2024, 12, 15))
    });
    only_on(date(2025, 11, 1), DateKind::FlatRateCategoryCheck, |from, until| {
        flat_rate_user(from, until, date(2024, 1, 15))
    });
}

/// With annual accounting the year that holds the anniversary is the period, not one that ended earlier in the same calendar year.
#[test]
fn the_year_of_an_anniversary_with_annual_accounting() {
    only_on(date(2026, 4, 1), DateKind::FlatRateCategoryCheck, |from, until| {
        let mut figures = flat_rate_user(from, until, date(2024, 5, 15));
        figures.business.periods = annual(date(2026, 3, 31), Instalments::Nine);
        figures
    });
}

/// Of listed periods the one that holds the anniversary counts; where none does, that is said in a window that has the anniversary.
#[test]
fn the_period_of_an_anniversary_among_listed_ones() {
    let listed = |periods: &[(Date, Date)]| {
        let periods = periods.iter().map(|(start, end)| Dates { start: *start, end: *end }).collect::<Vec<_>>();
        move |from, until| {
            let mut figures = flat_rate_user(from, until, date(2024, 2, 15));
            figures.business.periods = Periods::Listed(periods.clone());
            figures
        }
    };
    let winter = (date(2025, 11, 1), date(2026, 1, 31));
    let spring = (date(2026, 2, 1), date(2026, 4, 30));
    only_on(spring.0, DateKind::FlatRateCategoryCheck, listed(&[winter, spring]));
    let warned = |day: Date| {
        let answer = work_out(&listed(&[winter])(day, day));
        answer.warnings.iter().any(|warning| warning.code.as_str() == "due_date_not_computed")
    };
    assert!(warned(date(2026, 2, 15)));
    assert!(!warned(date(2026, 3, 17)) && !warned(date(2026, 2, 14)));
}

/// The four years of a period that an event names stand once, as the event's; the period's other limit and other periods keep their own.
#[test]
fn a_limit_that_an_event_asks_for_is_not_listed_twice() {
    let about = |kind, on, found| {
        let mut figures = ordinary(date(2026, 6, 30), date(2026, 9, 30), ReturnPeriods::QuarterlyStagger1);
        figures.events = vec![Event { kind, on }];
        let answer = work_out(&figures);
        let of_kind = answer.dates.iter().filter(|date| date.by.kind == found);
        of_kind.map(|date| (date.on, matches!(date.about, About::Event(_)))).collect::<Vec<_>>()
    };
    let period_end = date(2022, 6, 30);
    let (errors, claims) = (DateKind::ErrorCorrectionEnds, DateKind::InputTaxClaimEnds);
    let next_period = (date(2026, 9, 30), false);
    assert_eq!(about(EventKind::ErrorInPeriod, period_end, errors), [(date(2026, 6, 30), true), next_period]);
    assert_eq!(about(EventKind::ErrorInPeriod, period_end, claims), [(date(2026, 8, 7), false)]);
    assert_eq!(about(EventKind::InputTaxNotClaimed, period_end, claims), [(date(2026, 8, 7), true)]);
    assert_eq!(about(EventKind::InputTaxNotClaimed, period_end, errors), [(date(2026, 6, 30), false), next_period]);
}
