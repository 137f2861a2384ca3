//! The answer about dates.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::due_dates;
use vat_schemes::refusal::{DatesField, Place};

use super::answer::{LawUsed, Period, Warning};
use super::dates_request::DatesRequest;
use super::dates_vocabulary::{DateKind, Instalments};
use super::scalars::{Amount, AuthorityId, Date, Reference};
use super::vocabulary::Evidence;
use super::workings::{Step, Workings};

/// The dates of a business in a window of time, in order. Worked out, not advice: the days that HMRC show prevail, and HMRC and a qualified
/// adviser decide. Members may be added: ignore those you don't know.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DatesAnswer {
    /// The caller's own name for the business, where one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<Reference>,
    /// The day of registration. With the reference it tells whose the entries of a calendar are; it is no member of the answer.
    #[serde(skip)]
    #[schema(ignore)]
    pub registered_on: jiff::civil::Date,
    /// The first day of the window.
    pub from: Date,
    /// Its last day.
    pub until: Date,
    /// The days, in order.
    #[schema(max_items = 5000)]
    pub dates: Vec<DiaryDate>,
    /// The amounts of a year of annual accounting. Absent where no liability was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub annual_accounting: Option<AnnualAmounts>,
    /// What the reader should know, days that are not worked out among it.
    #[schema(max_items = 100000)]
    pub warnings: Vec<Warning>,
    /// Every sum that was made, in order. Days have no sums.
    #[schema(value_type = Vec<Step<'static>>, max_items = 100000)]
    pub workings: Workings,
    /// What the answer leaves out, and who decides, in plain English.
    #[schema(max_items = 100)]
    pub cautions: Vec<Cow<'static, str>>,
    /// The tables of law that were used.
    pub law: LawUsed,
}

/// A day that the business should know of.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DiaryDate {
    /// The day.
    pub on: Date,
    /// The day to act by: for a payment the last working day up to it, as far as working days are known.
    pub act_by: Date,
    /// What kind of day it is.
    pub kind: DateKind,
    /// What it is, in a line.
    #[schema(max_length = 200)]
    pub title: String,
    /// What to do.
    #[schema(max_length = 4000)]
    pub what_to_do: String,
    /// The VAT period that it is about, or the year of annual accounting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub period: Option<Period>,
    /// The event that it follows from: a JSON Pointer (RFC 6901) into the request.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 64)]
    pub event: Option<String>,
    /// The day that it is counted from.
    pub counted_from: Date,
    /// The rule that it is counted by.
    #[schema(max_length = 4000)]
    pub rule: &'static str,
    /// Whether it is a working day. Absent outside the days for which bank holidays are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working_day: Option<WorkingDay>,
    /// On what authority.
    #[schema(value_type = Vec<AuthorityId>, max_items = 20)]
    pub authority: &'static [&'static str],
    /// How well that was read.
    pub evidence: Evidence,
}

/// Whether a day is a working day: a Monday to Friday that is no bank holiday in the nation given.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct WorkingDay {
    /// Whether it is one.
    pub is_working_day: bool,
    /// The day itself, or the last working day before it: by then a payment must have arrived.
    pub previous_working_day: Date,
}

/// The amounts of a whole year of annual accounting (VAT Regulations 1995 regulations 49 and 50).
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct AnnualAmounts {
    /// How the instalments are paid.
    pub instalments: Instalments,
    /// One of them, in pounds, to the nearest penny.
    pub instalment: Amount,
    /// All of them, in pounds.
    pub paid: Amount,
    /// What is due with the return, in pounds; negative where HMRC repay it. Absent where what the return came to was not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub balance: Option<Amount>,
}

impl DatesAnswer {
    /// The answer to a request.
    pub fn new(request: DatesRequest, answer: due_dates::DatesAnswer) -> Self {
        Self {
            reference: request.reference,
            registered_on: request.business.registered_on.0,
            from: Date(answer.window.start()),
            until: Date(answer.window.end()),
            dates: answer.dates.into_iter().map(Into::into).collect(),
            annual_accounting: answer.annual_accounting.map(Into::into),
            warnings: answer.warnings.into_iter().map(Into::into).collect(),
            workings: Workings::new(answer.workings),
            cautions: answer.cautions,
            law: answer.law.into(),
        }
    }
}

impl From<due_dates::DiaryDate> for DiaryDate {
    fn from(date: due_dates::DiaryDate) -> Self {
        let (period, event) = match date.about {
            due_dates::About::Period(period) => (Some(period.into()), None),
            due_dates::About::Event(index) => (None, Some(event_pointer(index))),
            due_dates::About::Business => (None, None),
        };
        Self {
            on: Date(date.on),
            act_by: Date(date.act_by),
            kind: DateKind(date.by.kind),
            title: date.title,
            what_to_do: date.what_to_do,
            period,
            event,
            counted_from: Date(date.counted_from),
            rule: date.by.rule.says,
            working_day: date.working_day.map(Into::into),
            authority: date.by.rule.authority,
            evidence: Evidence(date.by.evidence),
        }
    }
}

/// Where an event stands in the request.
fn event_pointer(index: usize) -> String {
    let day = Place::Dates(DatesField::EventOn(index)).to_string();
    day.strip_suffix("/on").unwrap_or(&day).to_owned()
}

impl From<due_dates::WorkingDay> for WorkingDay {
    fn from(day: due_dates::WorkingDay) -> Self {
        Self { is_working_day: day.is_working_day, previous_working_day: Date(day.previous_working_day) }
    }
}

impl From<due_dates::AnnualAmounts> for AnnualAmounts {
    fn from(amounts: due_dates::AnnualAmounts) -> Self {
        Self {
            instalments: Instalments(amounts.instalments),
            instalment: Amount(amounts.instalment),
            paid: Amount(amounts.paid),
            balance: amounts.balance.map(Amount),
        }
    }
}
