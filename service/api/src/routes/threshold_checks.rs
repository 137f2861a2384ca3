//! Checks of the limits: registration, the Flat Rate Scheme, cash and annual accounting.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::law::Law;
use vat_schemes::thresholds::{LimitCheck, Outcome, Status, ThresholdFigures};
use vat_schemes::workings::Workings;

use super::calculation;
use super::refused::{field_errors, not_accepted};
use crate::problem::Problem;
use crate::telemetry::metrics::ThresholdCheckOutcome;
use crate::wire::v1::threshold_answer::ThresholdCheck;
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
    responses((status = 200, description = "The check.", body = ThresholdCheck)),
)]
pub async fn create_threshold_check(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    calculation::answer(&request, payload, check_thresholds).await
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
