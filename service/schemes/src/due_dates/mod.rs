//! The dates of a business in a window of time: returns, payments, anniversaries, notices and time limits.

mod amounts;
mod answer;
mod diary;
mod events;
mod figures;
mod flat_rate;
mod periods;
mod registration;
mod returns;
mod time_limits;

use jiff::ToSpan;
use jiff::civil::Date;

pub use answer::{About, AnnualAmounts, DateKind, DateRule, DatesAnswer, DiaryDate, WorkingDay};
pub use figures::{
    AnnualAccounting, DatesBusiness, DatesFigures, Event, EventKind, Instalments, Liability, Periods, ReturnPeriods,
};

use self::diary::Diary;
use crate::answer::{Severity, Warning, WarningCode};
use crate::cautions;
use crate::law::{Law, ParameterId, rule as cite};
use crate::period::Period;
use crate::refusal::{DatesField, Place, Refusal, RefusalCode, Refusals};
use crate::run::Run;
use crate::workings::Workings;

/// The most years of a window: a diary that is longer says nothing that is sure.
const MOST_YEARS: i32 = 5;

/// Works out the dates of a business in a window of time: the days on which returns and payments are due, the days that the Flat Rate
/// Scheme and the registration bring, and those that follow from what has happened.
///
/// ```
/// use jiff::civil::date;
/// use vat_schemes::due_dates::{DateKind, DatesBusiness, DatesFigures, Periods, ReturnPeriods};
/// use vat_schemes::law::{Law, Nation};
/// use vat_schemes::workings::Workings;
///
/// let law = Law::built_in().expect("the built-in tables are sound");
/// let figures = DatesFigures {
///     from: date(2026, 7, 1),
///     until: date(2026, 8, 31),
///     business: DatesBusiness {
///         registered_on: date(2021, 4, 1),
///         nation: Nation::EnglandAndWales,
///         periods: Periods::Ordinary(ReturnPeriods::QuarterlyStagger1),
///         flat_rate_from: None,
///         flat_rate_until: None,
///         liability_notified_on: None,
///     },
///     events: Vec::new(),
/// };
/// let answer = vat_schemes::dates(&law, &figures, Workings::kept()).expect("an answer");
/// let due = answer.dates.iter().find(|date| date.by.kind == DateKind::ReturnAndPaymentDue).expect("a return");
/// // One calendar month and seven days after 30 June.
/// assert_eq!(due.on, date(2026, 8, 7));
/// ```
///
/// # Errors
/// [`Refusals`] where the window ends before it begins, is longer than five years or begins before the tables do, where the dates of the
/// business contradict each other, or where the law has no number for a day.
pub fn dates(law: &Law, figures: &DatesFigures, workings: Workings) -> Result<DatesAnswer, Refusals> {
    let mut run = Run::new(law, workings);
    let window = checked_window(law, figures);
    let mut refusals = contradictions(&figures.business);
    // Every period with a day in the window: its return, the four years after it, or the instalments before its end.
    let span =
        |window: Period| Period::new(events::earliest(window), window.end().saturating_add(1.year())).unwrap_or(window);
    let periods = match window.as_ref().map(|window| periods::ending_in(&figures.business, span(*window))) {
        Ok(Ok(periods)) => Some(periods),
        Ok(Err(found)) => {
            refusals.extend(found);
            None
        }
        Err(_) => None,
    };
    let window = window.map_err(|refusal| refusals.insert(0, refusal)).ok();
    let (Some(window), Some(periods), true) = (window, periods, refusals.is_empty()) else {
        return Err(Refusals(refusals));
    };
    let annual_accounting = amounts::work_out(&mut run, figures)?;
    let mut diary = Diary { run: &mut run, figures, window, dates: Vec::new(), warnings: Vec::new() };
    let instalment = annual_accounting.map(|amounts| amounts.instalment.to_string());
    for period in periods {
        returns::note(&mut diary, period, instalment.as_deref())?;
        time_limits::note(&mut diary, period)?;
    }
    registration::note(&mut diary)?;
    flat_rate::note(&mut diary)?;
    events::note(&mut diary).map_err(Refusals)?;
    let Diary { mut dates, mut warnings, .. } = diary;
    // What is due on a day comes before what merely ends on it: the order of the kinds.
    dates.sort_by_key(|date| (date.on, DateKind::ALL.iter().position(|kind| *kind == date.by.kind)));
    holidays(law, window, &mut warnings);
    Ok(DatesAnswer {
        window,
        dates,
        annual_accounting,
        warnings,
        cautions: cautions::of_dates(law),
        law: run.law_behind(),
        workings: run.workings.into_steps(),
    })
}

fn checked_window(law: &Law, figures: &DatesFigures) -> Result<Period, Refusal> {
    let (from, until) = (figures.from, figures.until);
    let earliest = law.date(ParameterId::EarliestPeriodStart).map_or(Date::MIN, |first| first.value);
    if from < earliest {
        return Err(Refusal::new(
            Place::Dates(DatesField::From),
            RefusalCode::DateOutsideLaw,
            format!("The tables of law begin on {earliest}, and the window on {from}. Begin it on that day or later."),
        ));
    }
    let Some(window) = Period::new(from, until) else {
        return Err(Refusal::new(
            Place::Dates(DatesField::Until),
            RefusalCode::PeriodEndBeforeStart,
            format!(
                "The window ends on {until} before it begins on {from}. Give its first day as from and its last as until."
            ),
        ));
    };
    let longest = from.saturating_add(MOST_YEARS.years());
    if until >= longest {
        return Err(Refusal::new(
            Place::Dates(DatesField::Until),
            RefusalCode::WindowTooLong,
            format!(
                "The window from {from} to {until} is longer than {MOST_YEARS} years. End it before {longest}, and ask for the rest apart."
            ),
        ));
    }
    Ok(window)
}

/// Dates of the business that cannot all be right.
fn contradictions(business: &DatesBusiness) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    let registered_on = business.registered_on;
    if let Some(starts) = business.flat_rate_from.filter(|starts| *starts < registered_on) {
        refusals.push(Refusal::new(
            Place::FlatRateFrom,
            RefusalCode::FlatRateBeforeRegistration,
            format!("The scheme cannot start on {starts}, before the registration on {registered_on}. Correct flat_rate_from or registered_on."),
        ));
    }
    if let (Some(starts), Some(until)) = (business.flat_rate_from, business.flat_rate_until)
        && until < starts
    {
        refusals.push(Refusal::new(
            Place::FlatRateUntil,
            RefusalCode::PeriodEndBeforeStart,
            format!("The scheme ends on {until} before it starts on {starts}. Give the last day in the scheme as flat_rate_until."),
        ));
    }
    refusals
}

/// Warns where bank holidays are not known, or not yet proclaimed, in a part of the window.
fn holidays(law: &Law, window: Period, warnings: &mut Vec<Warning>) {
    let (first, last) = law.bank_holidays().known_days();
    let proclaimed_to = law.bank_holidays().proclaimed_to();
    let warning = |code, severity, message| Warning {
        code,
        severity,
        message,
        measured: None,
        limit: None,
        act_by: None,
        lines: Vec::new(),
        authority: &[
            cite::GOV_UK_BANK_HOLIDAYS,
            cite::BANKING_AND_FINANCIAL_DEALINGS_ACT_1971_SECTION_1,
            cite::DECISION_WORKING_DAYS,
        ],
    };
    if window.end() > last {
        warnings.push(warning(
            WarningCode::WorkingDaysNotKnown,
            Severity::Attention,
            format!(
                "Bank holidays are known from {first} to {last} only. Dates after that carry no working day, days of direct debits are left out, and where the law names a \
                 last working day the last day of the month is shown: look at gov.uk's list of bank holidays when the time comes."
            ),
        ));
    }
    if window.end() > proclaimed_to && window.start() <= last {
        warnings.push(warning(
            WarningCode::BankHolidaysNotProclaimed,
            Severity::Information,
            format!(
                "Working days after {proclaimed_to} follow the rules for bank holidays as they stand: a proclamation may still move or add a day. Look at gov.uk's list of \
                 bank holidays before relying on one."
            ),
        ));
    }
}
