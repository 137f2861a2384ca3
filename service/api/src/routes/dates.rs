//! Dates: when returns, payments, notices and claims are due.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::due_dates::DatesFigures;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;

use super::calculation;
use super::refused::{field_errors, not_accepted};
use crate::calendar::{Calendar, Entry};
use crate::problem::Problem;
use crate::query::Query;
use crate::telemetry::metrics::DatesOutcome;
use crate::wire::v1::dates_answer::{DatesAnswer, DiaryDate};
use crate::wire::v1::dates_request::DatesRequest;
use crate::wire::v1::decode_dates;

/// How many days before a deadline a diary reminds of it: this service's own measure.
pub(super) const ALARM_DAYS: u8 = 7;

/// List the dates of a business in a window of time
///
/// When returns and payments are due, the anniversaries of registration and of the Flat Rate Scheme with what is to be tested on them, the
/// last days for telling HMRC, and the four years for claims and corrections; each with what to do, the rule, the authority, and the last
/// working day up to it. With `Accept: text/calendar` the same days come as an iCalendar text (RFC 5545) for a diary: whole days, each on the
/// day to act by, with a reminder a week before those to act by. Sent again, the entries keep their UIDs. Nothing is stored, and the same
/// request always gives the same answer.
#[utoipa::path(
    post,
    path = "/v1/dates",
    operation_id = "create_dates",
    tag = "calculations",
    request_body(content = DatesRequest, description = "The window and the business: JSON in UTF-8, 1 MiB at most unless the operator has set another bound.", content_type = "application/json"),
    responses((status = 200, description = "The dates: JSON, or an iCalendar text for a caller that prefers it.", content(
        (DatesAnswer = "application/json"),
        (String = "text/calendar"),
    ))),
)]
pub async fn create_dates(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    Query::read(&request, &[])?;
    calculation::answer_or_calendar(&request, payload, list_dates, calendar).await
}

/// The dates that a body asks for, and how it came out.
pub fn list_dates(law: &Law, body: &[u8]) -> Result<(DatesAnswer, DatesOutcome), Problem> {
    let request = decode_dates(body)?;
    let answer = vat_schemes::dates(law, &DatesFigures::from(&request), Workings::kept())
        .map_err(|refusals| field_errors(law, refusals, |_| None, |place| place.to_string()))
        .map_err(not_accepted)?;
    Ok((DatesAnswer::new(request, answer), DatesOutcome::Listed))
}

/// The dates as a calendar: each on the day to act by.
fn calendar(answer: &DatesAnswer) -> Calendar {
    let reference = answer.reference.as_ref().map(|reference| reference.0.as_str());
    let name = reference.map_or_else(|| "VAT dates".to_owned(), |reference| format!("VAT dates: {reference}"));
    let whose = [reference.unwrap_or_default().to_owned(), answer.registered_on.to_string()];
    let entries = answer.dates.iter().map(|date| entry(date, reference, &whose, answer)).collect();
    Calendar { name, revised_on: answer.law.checked_on.0, entries }
}

fn entry(date: &DiaryDate, reference: Option<&str>, whose: &[String; 2], answer: &DatesAnswer) -> Entry {
    let title = match reference {
        Some(reference) => format!("{reference}: {}", date.title),
        None => date.title.clone(),
    };
    let mut description = vec![date.what_to_do.clone()];
    if date.act_by.0 != date.on.0 {
        description.push(format!("Due on {}, which is no working day: act by {}.", date.on, date.act_by));
    }
    description.push(format!("{} Counted from {}.", date.rule, date.counted_from));
    description.push(format!("Authority: {}.", date.authority.join(", ")));
    description.extend(answer.cautions.first().map(|caution| caution.clone().into_owned()));
    let [reference, registered_on] = whose.clone();
    Entry {
        on: date.act_by.0,
        title,
        description,
        uid_parts: vec![reference, registered_on, date.kind.0.as_str().to_owned(), date.counted_from.to_string()],
        alarm_days: date.kind.0.is_deadline().then_some(ALARM_DAYS),
    }
}
