//! Days of the Flat Rate Scheme: its anniversaries, and the year before a business may come back.

use jiff::civil::Date;

use super::answer::{About, DateKind, DateRule};
use super::diary::{Diary, Entry};
use super::figures::Periods;
use super::periods::{current_at, month_end};
use crate::law::{Evidence, ParameterId, rule as cite};
use crate::period::{Period, anniversary, next_day};
use crate::refusal::Refusal;
use crate::workings::Rule;

static ANNIVERSARY: DateRule = DateRule {
    kind: DateKind::FlatRateAnniversary,
    rule: Rule {
        says: "At each anniversary of the day from which the scheme is used, the total income of the year then ending is held against the limit for staying.",
        authority: &[
            cite::VAT_REGULATIONS_1995_REGULATION_55M,
            cite::VAT_REGULATIONS_1995_REGULATION_55Q,
            cite::FRS4400,
            cite::DECISION_ANNIVERSARY_29_FEBRUARY,
        ],
    },
    evidence: Evidence::Law,
};
static LEAVING_NOTICE: DateRule = DateRule {
    kind: DateKind::FlatRateLeavingNotice,
    rule: Rule {
        says: "A flat rate user that ceases to be eligible tells HMRC in writing within 30 days.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55N, cite::DECISION_THIRTY_DAYS],
    },
    evidence: Evidence::Law,
};
static CATEGORY_CHECK: DateRule = DateRule {
    kind: DateKind::FlatRateCategoryCheck,
    rule: Rule {
        says: "On the first day of the period current at an anniversary of the scheme's start the percentage is determined afresh.",
        authority: &[
            cite::VAT_REGULATIONS_1995_REGULATION_55A,
            cite::VAT_REGULATIONS_1995_REGULATION_55H,
            cite::DECISION_ANNIVERSARY_29_FEBRUARY,
        ],
    },
    evidence: Evidence::Law,
};
static CATEGORY_NOTICE: DateRule = DateRule {
    kind: DateKind::FlatRateCategoryNotice,
    rule: Rule {
        says: "HMRC are told in writing within 30 days of the first day of that period, if the percentage then differs from that at the end of the period before; \
               not where only the limited cost percentage makes the difference.",
        authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55N, cite::DECISION_THIRTY_DAYS],
    },
    evidence: Evidence::Law,
};
static RETURN_POSSIBLE: DateRule = DateRule {
    kind: DateKind::FlatRateReturnPossible,
    rule: Rule {
        says: "A business that ceased to use the scheme within the preceding year is not admitted.",
        authority: &[
            cite::VAT_REGULATIONS_1995_REGULATION_55L,
            cite::DECISION_RETURN_TO_FLAT_RATE,
            cite::DECISION_ANNIVERSARY_29_FEBRUARY,
        ],
    },
    evidence: Evidence::Law,
};

/// Notes the days of the scheme.
pub(super) fn note(diary: &mut Diary<'_, '_>) -> Result<(), Refusal> {
    let business = &diary.figures.business;
    if let Some(until) = business.flat_rate_until {
        diary.note(Entry {
            on: anniversary(next_day(until), 1),
            by: &RETURN_POSSIBLE,
            title: "The Flat Rate Scheme may be used again".to_owned(),
            what_to_do: "Compare the schemes again: the business may ask to come back from this day, if it meets the other conditions.".to_owned(),
            about: About::Business,
            counted_from: until,
        });
    }
    let Some(starts) = business.flat_rate_from else { return Ok(()) };
    let window = diary.window;
    // An anniversary shortly before or after the window can have its notice, or the first day of its period, inside it.
    for year in window.start().year() - 1..=window.end().year() + 1 {
        let years = i32::from(year) - i32::from(starts.year());
        if years < 1 {
            continue;
        }
        let day = anniversary(starts, years);
        if business.flat_rate_until.is_some_and(|last| day > last) {
            break;
        }
        one_anniversary(diary, day, starts)?;
    }
    Ok(())
}

fn one_anniversary(diary: &mut Diary<'_, '_>, day: Date, starts: Date) -> Result<(), Refusal> {
    let current = current_at(&diary.figures.business, day);
    let notice = diary.days_after(day, ParameterId::FrsNotifyChange)?;
    if diary.holds(day) || diary.holds(notice) {
        leaving_test(diary, day, notice, starts, current)?;
    }
    match current {
        Some(period) => category_check(diary, period, day),
        None if diary.holds(day) => {
            diary.not_computed(
                format!(
                    "The VAT period that holds {day}, an anniversary of the scheme's start, is not among those given, so the day of its category check is not \
                     worked out. Check the category on the first day of that period."
                ),
                Vec::new(),
                &[cite::VAT_REGULATIONS_1995_REGULATION_55A],
            );
            Ok(())
        }
        None => Ok(()),
    }
}

fn leaving_test(
    diary: &mut Diary<'_, '_>,
    day: Date,
    notice: Date,
    starts: Date,
    current: Option<Period>,
) -> Result<(), Refusal> {
    let on = day.max(diary.window.start()).min(diary.window.end());
    let limit = diary.run.law.amount(ParameterId::FrsLeaveIncomePastYear, on)?;
    diary.use_number(&limit);
    let limit = limit.value;
    let ends = match current {
        Some(period) => format!("on {}", end_of_scheme(diary, period, day)),
        None => "at the end of the VAT period that holds this day".to_owned(),
    };
    diary.note(Entry {
        on: day,
        by: &ANNIVERSARY,
        title: "Flat Rate Scheme anniversary: test for staying".to_owned(),
        what_to_do: format!(
            "Add up all income with VAT of the year then ending, exempt income in and capital assets sold out. If it is more than £{limit}, write to HMRC by {notice}: \
             the scheme ends {ends}, unless HMRC agree that the coming year's income will be low enough."
        ),
        about: About::Business,
        counted_from: starts,
    });
    diary.note(Entry {
        on: notice,
        by: &LEAVING_NOTICE,
        title: "Last day to tell HMRC that the Flat Rate Scheme ends".to_owned(),
        what_to_do: format!(
            "Only if income of the year to the anniversary of {day} was more than £{limit}: write to HMRC by this day."
        ),
        about: About::Business,
        counted_from: day,
    });
    Ok(())
}

/// The last day in the scheme of a business over the limit: the end of the period, or with annual accounting the end of the month after the
/// anniversary's, if sooner (VAT Regulations 1995 reg 55Q(1)(a)).
fn end_of_scheme(diary: &Diary<'_, '_>, period: Period, day: Date) -> Date {
    match diary.figures.business.periods {
        Periods::Annual(_) => period.end().min(month_end(day, 1)),
        Periods::Ordinary(_) | Periods::Listed(_) => period.end(),
    }
}

fn category_check(diary: &mut Diary<'_, '_>, period: Period, day: Date) -> Result<(), Refusal> {
    let first = period.start();
    let notice = diary.days_after(first, ParameterId::FrsNotifyChange)?;
    diary.note(Entry {
        on: first,
        by: &CATEGORY_CHECK,
        title: "Check the category of business".to_owned(),
        what_to_do: format!(
            "This is the first day of the VAT period that holds {day}, an anniversary of the scheme's start: decide which activity is expected to make most of \
             the turnover, write down why, and use its percentage from this day."
        ),
        about: About::Period(period),
        counted_from: day,
    });
    diary.note(Entry {
        on: notice,
        by: &CATEGORY_NOTICE,
        title: "Last day to tell HMRC of a new flat rate percentage".to_owned(),
        what_to_do: format!(
            "Only if the category's percentage from {first} differs from the one before: write to HMRC by this day."
        ),
        about: About::Period(period),
        counted_from: first,
    });
    Ok(())
}
