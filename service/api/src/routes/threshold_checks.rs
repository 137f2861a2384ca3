//! Checks of the limits: registration, the Flat Rate Scheme, cash and annual accounting.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::law::Law;
use vat_schemes::thresholds::{LimitCheck, Outcome, Status, ThresholdFigures};
use vat_schemes::workings::Workings;

use super::calculation;
use super::dates::ALARM_DAYS;
use super::refused::{field_errors, not_accepted};
use crate::calendar::{Calendar, Entry};
use crate::problem::Problem;
use crate::query::Query;
use crate::telemetry::metrics::ThresholdCheckOutcome;
use crate::wire::v1::threshold_answer::{ActBy, ThresholdCheck};
use crate::wire::v1::threshold_check_request;
use crate::wire::v1::threshold_request::ThresholdCheckRequest;

/// Check every limit and the conditions of the Flat Rate Scheme, as seen from a day
///
/// From monthly figures, actual and forecast, or from totals of years, and from the facts of the business: liability to be registered
/// and its exception, ending a registration, joining and leaving the Flat Rate Scheme, cash and annual accounting. For each limit the
/// figure on each day, the limit on that day, the headroom, when it would be passed at the present run, the days to act by and what to
/// do; the conditions of the scheme as questions, of which those without an answer are listed. Nothing is stored, and the same request
/// always gives the same answer.
#[utoipa::path(
    post,
    path = "/v1/threshold-checks",
    operation_id = "create_threshold_check",
    tag = "calculations",
    request_body(content = ThresholdCheckRequest, description = "Turnover and facts: JSON in UTF-8, 1 MiB at most unless the operator has set another bound.", content_type = "application/json"),
    responses((status = 200, description = "The check: JSON, or the days to act by as an iCalendar text for a caller that prefers it.", content(
        (ThresholdCheck = "application/json"),
        (String = "text/calendar"),
    ))),
)]
pub async fn create_threshold_check(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    Query::read(&request, &[])?;
    calculation::answer_or_calendar(&request, payload, check_thresholds, calendar).await
}

/// The days to act by as a calendar.
fn calendar(answer: &ThresholdCheck) -> Calendar {
    let reference = answer.reference.as_ref().map(|reference| reference.0.as_str());
    let name = reference.map_or_else(|| "VAT limits".to_owned(), |reference| format!("VAT limits: {reference}"));
    let entries = answer.act_by.iter().map(|act| entry(act, reference, answer)).collect();
    Calendar { name, revised_on: answer.law.checked_on.0, entries }
}

fn entry(act: &ActBy, reference: Option<&str>, answer: &ThresholdCheck) -> Entry {
    let title = reference.map_or_else(|| act.title.to_owned(), |reference| format!("{reference}: {}", act.title));
    let mut description = vec![act.what_to_do.clone(), format!("Authority: {}.", act.authority.join(", "))];
    description.extend(answer.cautions.first().map(|caution| caution.clone().into_owned()));
    let uid_parts = vec![reference.unwrap_or_default().to_owned(), act.title.to_owned(), act.on.to_string()];
    Entry { on: act.on.0, title, description, uid_parts, alarm_days: Some(ALARM_DAYS) }
}

/// The check that a body asks for, and how it came out.
pub fn check_thresholds(law: &Law, body: &[u8]) -> Result<(ThresholdCheck, ThresholdCheckOutcome), Problem> {
    let request = threshold_check_request(body)?;
    let figures = ThresholdFigures::from(&request);
    let answer = vat_schemes::check_thresholds(law, &figures, Workings::kept())
        .map_err(|refusals| field_errors(law, refusals, |_| None, |place| place.to_string()))
        .map_err(not_accepted)?;
    // A choice that is not open, such as ending a registration, is no limit passed to the business's harm.
    let bears = |check: &&LimitCheck| {
        matches!(
            check.outcome,
            Outcome::MustRegister
                | Outcome::NeedNotRegister
                | Outcome::MustLeave
                | Outcome::Stays
                | Outcome::VatDueOnGoods
        )
    };
    let any = |status| answer.limits.checks.iter().filter(bears).any(|check| check.status == status);
    let outcome = if any(Status::Crossed) {
        ThresholdCheckOutcome::Crossed
    } else if any(Status::Expected) {
        ThresholdCheckOutcome::Expected
    } else if any(Status::Close) {
        ThresholdCheckOutcome::Close
    } else {
        ThresholdCheckOutcome::Clear
    };
    Ok((ThresholdCheck::new(request.reference, answer), outcome))
}
