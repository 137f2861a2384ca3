//! The diary that is filled: days within the window, each with its working day.

use jiff::ToSpan;
use jiff::civil::Date;

use super::answer::{About, DateRule, DiaryDate, WorkingDay};
use super::figures::DatesFigures;
use crate::answer::{LawUsed, NumberKind, Severity, Warning, WarningCode};
use crate::law::{AuthorityId, InForce, ParameterId};
use crate::period::Period;
use crate::refusal::Refusal;
use crate::run::Run;

/// A day, before it is known whether it lies in the window.
pub(super) struct Entry {
    pub on: Date,
    pub by: &'static DateRule,
    pub title: String,
    pub what_to_do: String,
    pub about: About,
    pub counted_from: Date,
}

/// The dates found so far.
pub(super) struct Diary<'run, 'law> {
    pub run: &'run mut Run<'law>,
    pub figures: &'run DatesFigures,
    pub window: Period,
    pub dates: Vec<DiaryDate>,
    pub warnings: Vec<Warning>,
}

impl Diary<'_, '_> {
    /// Notes a day, if it or the day to act by lies in the window.
    pub fn note(&mut self, entry: Entry) {
        let working_day = self.working_day(entry.on);
        let act_by = match working_day {
            Some(working_day) if entry.by.kind.is_payment() => working_day.previous_working_day,
            _ => entry.on,
        };
        if !self.holds(entry.on) && !self.holds(act_by) {
            return;
        }
        let Entry { on, by, title, what_to_do, about, counted_from } = entry;
        self.dates.push(DiaryDate { on, act_by, by, title, what_to_do, about, counted_from, working_day });
    }

    /// Whether a day lies in the window.
    pub fn holds(&self, day: Date) -> bool {
        self.window.start() <= day && day <= self.window.end()
    }

    fn working_day(&self, day: Date) -> Option<WorkingDay> {
        let (holidays, nation) = (self.run.law.bank_holidays(), self.figures.business.nation);
        Some(WorkingDay {
            is_working_day: holidays.is_working_day(nation, day)?,
            previous_working_day: holidays.working_day_on_or_before(nation, day)?,
        })
    }

    /// Warns of a day that is not worked out.
    pub fn not_computed(&mut self, message: String, lines: Vec<String>, authority: &'static [&'static str]) {
        self.warnings.push(Warning {
            code: WarningCode::DueDateNotComputed,
            severity: Severity::Action,
            message,
            measured: None,
            limit: None,
            act_by: None,
            lines,
            authority,
        });
    }

    /// A number of days of the law, in force at the beginning of the window.
    pub fn days(&mut self, id: ParameterId) -> Result<u16, Refusal> {
        let number = self.run.law.days(id, self.window.start())?;
        self.use_number(&number);
        Ok(number.value)
    }

    /// A day that is so many days of the law after a day; the day after it counts as the first.
    pub fn days_after(&mut self, day: Date, id: ParameterId) -> Result<Date, Refusal> {
        Ok(day.saturating_add(i32::from(self.days(id)?).days()))
    }

    /// A number of months of the law, in force at the beginning of the window.
    pub fn months(&mut self, id: ParameterId) -> Result<i32, Refusal> {
        let number = self.run.law.months(id, self.window.start())?;
        self.use_number(&number);
        Ok(i32::from(number.value))
    }

    /// The same day so many months of the law later; the last day of a shorter month stands for one that it lacks.
    pub fn months_after(&mut self, day: Date, id: ParameterId) -> Result<Date, Refusal> {
        Ok(day.saturating_add(self.months(id)?.months()))
    }

    /// Lists a number of the law as used, once: a day is no figure, so that it has no step.
    pub fn use_number<T: Copy + ToString>(&mut self, number: &InForce<'_, T>) {
        let id = number.id.as_str();
        if !self.run.used.iter().any(|used| used.id == id && used.from == number.from) {
            self.run.used.push(LawUsed {
                id: id.to_owned(),
                kind: NumberKind::Parameter,
                value: number.value.to_string(),
                from: number.from,
                to: number.to,
                authority: number.authority.iter().map(AuthorityId::as_str).collect(),
            });
        }
    }
}
