//! Leaving the Flat Rate Scheme because income has grown, and staying all the same (VAT Regulations 1995 regs 55M, 55N, 55Q).

use jiff::civil::Date;

use crate::law::{ParameterId, rule as cite};
use crate::period::{anniversary, next_day, previous_day};
use crate::refusal::{Place, Refusal};
use crate::run::{Name, Scope};
use crate::workings::Rule;

use super::answer::{Limit, LimitCheck, Outcome, Outlook, Status};
use super::context::{Context, needed};
use super::dates::{ends_whole_months, month_end_by, month_later, period_holding};
use super::figures::Basis;
use super::months::Measure;
use super::rolling::{self, basis_of, show_limits, total_of};
use super::tested::Tested;

const PAST_YEAR: (ParameterId, &str) = (ParameterId::FrsLeaveIncomePastYear, "Limit for leaving the Flat Rate Scheme");
const THIRTY_DAYS: (ParameterId, &str) =
    (ParameterId::FrsLeaveIncomeNext30Days, "Limit of thirty days for leaving the Flat Rate Scheme");
const STAY: (ParameterId, &str) = (ParameterId::FrsStayIncomeNextYear, "Limit for staying in the Flat Rate Scheme");

const ANNIVERSARY: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55M,
    cite::VAT_REGULATIONS_1995_REGULATION_55N,
    cite::VAT_REGULATIONS_1995_REGULATION_55Q,
    cite::FRS4400,
    cite::DECISION_ANNIVERSARY_IN_WHOLE_MONTHS,
    cite::DECISION_ANNIVERSARY_29_FEBRUARY,
    cite::DECISION_THIRTY_DAYS,
];
const RUNNING: &[&str] =
    &[cite::VAT_REGULATIONS_1995_REGULATION_55M, cite::NOTICE_733_SECTION_3, cite::COMMON_PRACTICE];
const NEXT_THIRTY_DAYS: &[&str] = &[
    cite::VAT_REGULATIONS_1995_REGULATION_55M,
    cite::VAT_REGULATIONS_1995_REGULATION_55N,
    cite::VAT_REGULATIONS_1995_REGULATION_55Q,
    cite::FRS4400,
    cite::DECISION_FIRST_DAY_OUTSIDE,
];
const STAYING: &[&str] = &[cite::VAT_REGULATIONS_1995_REGULATION_55M, cite::FRS4400];

static YEAR_TO_ANNIVERSARY: Rule = Rule {
    says: "Income with VAT of the year that ends at the anniversary: the twelve whole months that end on or last before it, where the year itself is \
           not given.",
    authority: &[cite::VAT_REGULATIONS_1995_REGULATION_55M, cite::FRS4400, cite::DECISION_ANNIVERSARY_IN_WHOLE_MONTHS],
};

const NOT_IN_SCHEME: &str = "The business does not use the scheme on this day.";

/// An anniversary that could be tested.
struct Anniversary {
    tested: Tested,
    /// Whether the whole months stand for a year that ends inside a month.
    rough: bool,
    /// Whether the other twelve months around the anniversary have another outcome.
    doubtful: bool,
}

/// The test at each anniversary of the start (reg 55M(1)(a)).
pub(super) fn at_anniversary(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::FlatRateLeavingAnniversary;
    if !context.in_scheme() {
        return first_anniversary_of_one_who_joins(context);
    }
    let Some(from) = context.figures.business.flat_rate_from else {
        return Ok(LimitCheck::not_applicable(limit, NOT_IN_SCHEME, ANNIVERSARY));
    };
    let (check_position, as_of) = (context.position(), context.as_of());
    let tested = anniversaries(context, from)?;
    let days: Vec<Tested> = tested.iter().map(|anniversary| anniversary.tested).collect();
    show_limits(context.run, check_position, &days);
    let mut outlook = Vec::new();
    let next = next_anniversary(from, as_of);
    rolling::own_forecast(context.run, check_position, Measure::Income, &days, &mut outlook);
    at_the_run_to(context, next, &mut outlook)?;
    let happened =
        |anniversary: &&Anniversary| anniversary.tested.basis == Basis::Actual && anniversary.tested.on <= as_of;
    let crossed = tested.iter().filter(happened).find(|anniversary| anniversary.tested.is_over());
    let ahead = tested.iter().find(|anniversary| anniversary.tested.is_over() && !happened(anniversary));
    let latest = tested.iter().rfind(happened);
    let Some(decisive) = crossed.or(ahead).or(latest).or(tested.first()) else {
        return Ok(not_reached(context, next, outlook));
    };
    decisive.tested.show(context.run, context.scope());
    let mut check = LimitCheck {
        decisive: Some(decisive.tested.answer()),
        days: days.iter().map(Tested::answer).collect(),
        ..LimitCheck::new(limit, decisive.tested.status(), Outcome::Stays, String::new(), ANNIVERSARY)
    };
    let expected = outlook.iter().find_map(|outlook| outlook.crosses_on).filter(|_| crossed.is_none());
    check.outlook = outlook;
    let on = decisive.tested.on;
    match (crossed, ahead, expected) {
        (Some(_), _, _) => must_leave(context, &mut check, on)?,
        (None, Some(_), _) => {
            must_leave(context, &mut check, on)?;
            check.status = Status::Expected;
            check.crossed_on = None;
            check.finding = format!(
                "On these figures income with VAT of the year that ends at the anniversary {on} will be more than the limit."
            );
        }
        (None, None, Some(_)) => {
            check.status = Status::Expected;
            check.finding = format!(
                "Income with VAT of the year to the anniversary {on} is not more than the limit; at the present run that of the year to {next} is."
            );
            check.what_to_do =
                "Only the anniversary counts. Plan for it: the scheme would end with the VAT period in which it falls."
                    .to_owned();
        }
        (None, None, None) => {
            check.finding = format!("Income with VAT of the year to the anniversary {on} is not more than the limit.");
            check.what_to_do = format!("Test again at the anniversary {next}.");
            if decisive.doubtful {
                check.status = Status::Close;
            }
        }
    }
    if decisive.rough {
        check.finding.push_str(
            " The year ends inside a month, and whole months stand for it: give turnover.past_year with its end at the anniversary for the exact figure.",
        );
        if decisive.doubtful {
            check.finding.push_str(" The twelve months that end with that month have the other outcome.");
        }
    }
    Ok(check)
}

/// The first anniversary after a day.
fn next_anniversary(from: Date, day: Date) -> Date {
    let years = i32::from(day.year()) - i32::from(from.year());
    let this_year = anniversary(from, years.max(1));
    if this_year > day { this_year } else { anniversary(from, years + 1) }
}

/// Every anniversary for which the figures suffice.
fn anniversaries(context: &mut Context<'_, '_>, from: Date) -> Result<Vec<Anniversary>, Refusal> {
    let until = context.figures.business.flat_rate_until.unwrap_or(Date::MAX);
    let mut found = Vec::new();
    let known = context.months.list.iter().map(|month| month.first).chain(given_year(context));
    let (Some(earliest), Some(latest)) = (known.clone().min(), known.max()) else { return Ok(found) };
    // No anniversary before the figures begin can be tested, and none later than the day after they end.
    let years_to = |day: Date| i32::from(day.year()) - i32::from(from.year());
    for years in years_to(earliest).max(1)..=years_to(latest) + 1 {
        let on = anniversary(from, years);
        if on > until {
            break;
        }
        if let Some(tested) = test_anniversary(context, on, found.len())? {
            found.push(tested);
        }
    }
    Ok(found)
}

/// The day on which the past year given as one figure ends, where it holds the income.
fn given_year(context: &Context<'_, '_>) -> Option<Date> {
    let year = context.figures.turnover.past_year?;
    year.totals.total_income?;
    Some(year.end.unwrap_or(context.as_of()))
}

fn test_anniversary(context: &mut Context<'_, '_>, on: Date, day: usize) -> Result<Option<Anniversary>, Refusal> {
    let scope = Scope::LimitDay(context.position(), day);
    let name = Name::new(scope, "measured", "Income of the year to the anniversary", &YEAR_TO_ANNIVERSARY)
        .gives(&["measured"]);
    let exact = given_year(context).filter(|end| *end == on || *end == previous_day(on));
    let as_of = context.as_of();
    if let (Some(_), Some(income)) =
        (exact, context.figures.turnover.past_year.and_then(|year| year.totals.total_income))
    {
        let income = crate::workings::Traced::given(income, Place::PastYear(crate::refusal::TotalsField::TotalIncome));
        let measured = context.run.total(name, &[income])?;
        let tested = Tested::of(context.run, scope, PAST_YEAR, (on, Basis::Actual), measured)?;
        return Ok(Some(Anniversary { tested, rough: false, doubtful: false }));
    }
    let month_end = month_end_by(on);
    let Some(position) = context.months.position(month_end) else { return Ok(None) };
    let Some(year) = context.months.year_to(position) else { return Ok(None) };
    let basis = if on <= as_of { basis_of(year) } else { Basis::Forecast };
    let measured = total_of(context.run, name, year, Measure::Income)?;
    let tested = Tested::of(context.run, scope, PAST_YEAR, (on, basis), measured)?;
    let rough = !ends_whole_months(on);
    let other = if rough { context.months.year_to(position + 1) } else { None };
    let other = other
        .map(|year| {
            year.iter().try_fold(crate::money::Money::ZERO, |sum, month| sum.plus(month.of(Measure::Income).value))
        })
        .transpose()?;
    let doubtful = other.is_some_and(|other| (other > tested.limit.value) != tested.is_over());
    Ok(Some(Anniversary { tested, rough, doubtful }))
}

/// The next anniversary at the average of the last months.
fn at_the_run_to(context: &mut Context<'_, '_>, next: Date, outlook: &mut Vec<Outlook>) -> Result<(), Refusal> {
    let limit = context.run.law.amount(PAST_YEAR.0, next)?.value;
    let position = context.position();
    rolling::to_a_month_end(
        context.run,
        position,
        &context.months,
        Measure::Income,
        (limit, month_end_by(next)),
        outlook,
    )
}

/// No anniversary could be tested: either none has come yet, or figures are wanting.
fn not_reached(context: &Context<'_, '_>, next: Date, outlook: Vec<Outlook>) -> LimitCheck {
    let mut check =
        LimitCheck::not_checked(Limit::FlatRateLeavingAnniversary, &[needed::PAST_YEAR_INCOME], ANNIVERSARY);
    if outlook.iter().any(|outlook| outlook.crosses_on.is_some()) {
        check.status = Status::Expected;
        check.outcome = Outcome::Stays;
        check.finding =
            format!("At the present run income with VAT of the year to the anniversary {next} is more than the limit.");
        check.what_to_do =
            "Only the anniversary counts. Plan for it: the scheme would end with the VAT period in which it falls."
                .to_owned();
    } else if !outlook.is_empty() {
        check.status = Status::Clear;
        check.outcome = Outcome::Stays;
        check.figures_needed.clear();
        check.finding = format!(
            "At the present run income with VAT of the year to the next anniversary, {next}, is not more than the limit."
        );
        check.what_to_do = format!("Test at the anniversary {next}.");
    } else {
        let as_of = context.as_of();
        check.finding = format!(
            "No anniversary was tested on {as_of}: the next is {next}, and figures of the year to it are wanting."
        );
    }
    check.outlook = outlook;
    check
}

/// A business that joins with much exempt income meets the leaving limit at its first anniversary.
fn first_anniversary_of_one_who_joins(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::FlatRateLeavingAnniversary;
    let start =
        context.figures.business.flat_rate_from.filter(|from| *from >= context.as_of()).unwrap_or(context.as_of());
    let Some((figure, basis)) = context.year_ahead(Measure::Income, context.as_of())? else {
        return Ok(LimitCheck::not_applicable(limit, NOT_IN_SCHEME, ANNIVERSARY));
    };
    let on = anniversary(start, 1);
    let tested = context.test(PAST_YEAR, (on, basis), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(limit, tested.status(), Outcome::Stays, String::new(), ANNIVERSARY)
    };
    if tested.is_over() {
        check.status = Status::Expected;
        check.outcome = Outcome::MustLeave;
        check.finding = format!(
            "A business that started to use the scheme on {start} would have to leave at the first anniversary, {on}: all its income with VAT is expected to \
             be more than the limit by then, exempt income included."
        );
        check.what_to_do = "Weigh whether a year in the scheme is worth joining for.".to_owned();
    } else {
        check.finding = format!(
            "A business that started to use the scheme on {start} would stay in it at the first anniversary, {on}."
        );
    }
    Ok(check)
}

fn must_leave(context: &Context<'_, '_>, check: &mut LimitCheck, on: Date) -> Result<(), Refusal> {
    let notify_by = context.notice(ParameterId::FrsNotifyChange, on)?;
    check.outcome = Outcome::MustLeave;
    check.crossed_on = Some(on);
    check.notify_by = Some(notify_by);
    check.finding = format!(
        "Income with VAT of the year that ends at the anniversary {on} is more than the limit: the scheme ends."
    );
    let late = if notify_by < context.as_of() { " That day has passed: tell them at once." } else { "" };
    let Some(last_day) = last_day_after(context, on) else {
        check.figures_needed.push(needed::PERIOD);
        check.what_to_do = format!(
            "Tell HMRC in writing by {notify_by}.{late} The scheme ends with the VAT period in which the anniversary falls; with annual accounting, at the end of \
             the month after the anniversary's month if that is sooner. Or ask to stay, if the year ahead allows it."
        );
        return Ok(());
    };
    check.effective_from = Some(next_day(last_day));
    check.what_to_do = format!(
        "Tell HMRC in writing by {notify_by}.{late} {last_day} is the last day in the scheme, and ordinary VAT accounting applies from {}; no return to the \
         scheme for twelve months. Or ask to stay, if the year ahead allows it.",
        next_day(last_day)
    );
    Ok(())
}

/// The end of the period in which an anniversary falls; with annual accounting no later than the end of the following month
/// (reg 55Q(1)(a)).
pub(super) fn last_day_after(context: &Context<'_, '_>, on: Date) -> Option<Date> {
    let end = period_holding(context.period?, on).end();
    let month_after = month_later(on, 1).last_of_month();
    Some(if context.figures.business.uses_annual_accounting { end.min(month_after) } else { end })
}

/// Twelve months to each month end: an early warning, no limit crossed.
pub(super) fn running(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::FlatRateRunningIncome;
    if !context.in_scheme() {
        return Ok(LimitCheck::not_applicable(limit, NOT_IN_SCHEME, RUNNING));
    }
    let position = context.position();
    let days = context.twelve_months(Measure::Income, PAST_YEAR, |end| end)?;
    let latest = days.iter().rev().find(|day| day.basis == Basis::Actual).or(days.last()).copied();
    let Some(latest) = latest else {
        return Ok(LimitCheck::not_checked(limit, &[needed::TWELVE_MONTHS_INCOME], RUNNING));
    };
    let mut outlook = Vec::new();
    rolling::own_forecast(context.run, position, Measure::Income, &days, &mut outlook);
    let id = ParameterId::FrsLeaveIncomePastYear;
    rolling::at_the_present_run(context.run, position, &context.months, Measure::Income, id, &mut outlook)?;
    latest.show(context.run, context.scope());
    let expected = outlook.iter().find_map(|outlook| outlook.crosses_on);
    let mut check = LimitCheck {
        decisive: Some(latest.answer()),
        days: days.iter().map(Tested::answer).collect(),
        ..LimitCheck::new(limit, latest.status(), Outcome::Stays, String::new(), RUNNING)
    };
    check.outlook = outlook;
    check.what_to_do = "Nothing now: only the year that ends at an anniversary of the start counts.".to_owned();
    check.finding = if latest.is_over() {
        // Between anniversaries nothing has been crossed.
        check.status = Status::Close;
        format!(
            "Income with VAT of the twelve months to {} is more than the limit. That is an early warning: the test is made at the anniversary.",
            latest.on
        )
    } else if let Some(on) = expected {
        check.status = Status::Expected;
        format!(
            "At the present run, or as forecast, income with VAT of twelve months is more than the limit by {on}. That is an early warning."
        )
    } else {
        format!("Income with VAT of the twelve months to {} is not more than the limit.", latest.on)
    };
    Ok(check)
}

/// The next thirty days alone (reg 55M(1)(b)).
pub(super) fn next_thirty_days(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::FlatRateLeavingNextThirtyDays;
    if !context.in_scheme() {
        return Ok(LimitCheck::not_applicable(limit, NOT_IN_SCHEME, NEXT_THIRTY_DAYS));
    }
    let as_of = context.as_of();
    let figure = match &context.figures.turnover.next_30_days {
        Some(totals) => context.of_totals(totals, Place::NextThirtyDays, Measure::Income)?,
        None => None,
    };
    let Some(figure) = figure else {
        return Ok(LimitCheck::not_checked(limit, &[needed::NEXT_THIRTY_DAYS_INCOME], NEXT_THIRTY_DAYS));
    };
    let tested = context.test(THIRTY_DAYS, (as_of, Basis::Forecast), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(limit, tested.status(), Outcome::Stays, String::new(), NEXT_THIRTY_DAYS)
    };
    if tested.is_over() {
        let notify_by = context.notice(ParameterId::FrsNotifyChange, as_of)?;
        check.outcome = Outcome::MustLeave;
        check.crossed_on = Some(as_of);
        check.notify_by = Some(notify_by);
        check.effective_from = Some(as_of);
        check.finding = format!(
            "Income of the thirty days from {as_of} alone is expected to be more than the limit: the scheme ends at their beginning. Staying because of a \
             lower year ahead is no way out here."
        );
        check.what_to_do = format!(
            "Tell HMRC in writing by {notify_by}, and account for VAT in the ordinary way from {as_of}; no return to the scheme for twelve months."
        );
    } else {
        check.finding =
            format!("Income of the thirty days from {as_of} alone is not expected to be more than the limit.");
        check.what_to_do = "Look again before any large order: this test can be met on any day.".to_owned();
    }
    Ok(check)
}

/// Staying although the limit was passed at an anniversary (reg 55M(2)).
pub(super) fn staying(context: &mut Context<'_, '_>) -> Result<LimitCheck, Refusal> {
    let limit = Limit::FlatRateStaying;
    let passed = context
        .checks
        .iter()
        .find(|check| check.limit == Limit::FlatRateLeavingAnniversary && check.outcome == Outcome::MustLeave)
        .filter(|_| context.in_scheme())
        .and_then(|check| check.decisive.map(|day| (day.on, check.notify_by)));
    let Some((on, notify_by)) = passed else {
        return Ok(LimitCheck::not_applicable(limit, "The limit has not been passed at an anniversary.", STAYING));
    };
    let Some((figure, basis)) = context.year_ahead(Measure::Income, month_end_by(on))? else {
        return Ok(LimitCheck::not_checked(limit, &[needed::NEXT_YEAR_INCOME], STAYING));
    };
    let tested = context.test(STAY, (on, basis), figure)?;
    let mut check = LimitCheck {
        decisive: Some(tested.answer()),
        ..LimitCheck::new(limit, tested.status(), Outcome::MayAskToStay, String::new(), STAYING)
    };
    if tested.is_over() {
        check.outcome = Outcome::MayNotAskToStay;
        check.finding =
            "Income with VAT of the year ahead is more than the limit for staying: the scheme ends.".to_owned();
        check.what_to_do = "Leave the scheme.".to_owned();
    } else {
        check.notify_by = notify_by;
        check.finding =
            "Income with VAT of the year ahead is not more than the limit for staying: HMRC may let the business stay if they are satisfied of that.".to_owned();
        let by = notify_by.map(|day| format!(" by {day}")).unwrap_or_default();
        check.what_to_do = format!("Write to HMRC{by} with the forecast and the reason for the passing rise.");
    }
    Ok(check)
}
