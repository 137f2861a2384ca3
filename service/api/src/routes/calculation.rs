//! What the resources that work something out have in common: how a request is taken, counted and answered.

use actix_web::http::StatusCode;
use actix_web::http::header::{CACHE_CONTROL, CONTENT_TYPE, HeaderValue, VARY};
use actix_web::{HttpRequest, HttpResponse, web};
use serde::Serialize;
use vat_schemes::law::Law;

use crate::body;
use crate::buffers::Buffers;
use crate::calendar::{CALENDAR, Calendar};
use crate::json;
use crate::negotiation::{Form, chosen};
use crate::prepared::JSON;
use crate::problem::Problem;
use crate::telemetry::Metrics;
use crate::telemetry::metrics::Outcome;

/// Room for most answers: growing would copy what is written already.
const USUAL_BYTES: usize = 48 * 1024;

/// Buffers for the answers of a worker: as many as are usually being sent at once, and none that an unusual answer has grown.
pub fn buffers() -> Buffers {
    Buffers::keeping(16, 2 * USUAL_BYTES)
}

/// Answers a request, whose query has been read, with what is worked out from its body, and counts how it came out.
pub(super) async fn answer<A: Serialize, O: Outcome>(
    request: &HttpRequest,
    payload: web::Payload,
    work_out: impl FnOnce(&Law, &[u8]) -> Result<(A, O), Problem>,
) -> Result<HttpResponse, Problem> {
    let answer = answer_uncounted(request, payload, &[Form::Json], work_out, |_, answer| write(request, answer)).await;
    counted(request, answer)
}

/// Answers a request as [`answer`] does, or as a calendar for a caller that prefers one.
pub(super) async fn answer_or_calendar<A: Serialize, O: Outcome>(
    request: &HttpRequest,
    payload: web::Payload,
    work_out: impl FnOnce(&Law, &[u8]) -> Result<(A, O), Problem>,
    calendar: impl FnOnce(&A) -> Calendar,
) -> Result<HttpResponse, Problem> {
    let forms = [Form::Json, Form::Calendar];
    let answer = answer_uncounted(request, payload, &forms, work_out, |form, answer| {
        let mut response = match form {
            Form::Json | Form::Lines => write(request, answer)?,
            Form::Calendar => HttpResponse::Ok()
                .insert_header((CONTENT_TYPE, format!("{CALENDAR}; charset=utf-8")))
                .insert_header((CACHE_CONTROL, "no-store"))
                .body(calendar(answer).text()),
        };
        response.headers_mut().insert(VARY, HeaderValue::from_static("Accept"));
        Ok(response)
    })
    .await;
    counted(request, answer)
}

fn counted<O: Outcome>(
    request: &HttpRequest,
    answer: Result<(HttpResponse, O), Problem>,
) -> Result<HttpResponse, Problem> {
    let outcome = match &answer {
        Ok((_, outcome)) => Some(*outcome),
        Err(problem) if problem.status() == StatusCode::UNPROCESSABLE_ENTITY => Some(O::REFUSED),
        Err(problem) if problem.status().is_client_error() => Some(O::NOT_VALID),
        // A failure of the service is no outcome of a calculation.
        Err(_) => None,
    };
    if let (Some(metrics), Some(outcome)) = (request.app_data::<web::Data<Metrics>>(), outcome) {
        metrics.count_outcome(outcome);
    }
    answer.map(|(response, _)| response)
}

async fn answer_uncounted<A, O>(
    request: &HttpRequest,
    payload: web::Payload,
    forms: &[Form],
    work_out: impl FnOnce(&Law, &[u8]) -> Result<(A, O), Problem>,
    respond: impl FnOnce(Form, &A) -> Result<HttpResponse, Problem>,
) -> Result<(HttpResponse, O), Problem> {
    let form = chosen(request, forms)?;
    let service = super::service(request)?;
    let body = body::read(request, payload, service.max_body_bytes, service.body_timeout).await?;
    let (answer, outcome) = work_out(&service.law, &body)?;
    Ok((respond(form, &answer)?, outcome))
}

fn write(request: &HttpRequest, answer: &impl Serialize) -> Result<HttpResponse, Problem> {
    let buffers = request.app_data::<Buffers>().ok_or_else(Problem::internal)?;
    let mut body = buffers.take(USUAL_BYTES);
    json::write_to(&mut body, answer).map_err(|error| {
        tracing::error!(%error, "an answer could not be written");
        Problem::internal()
    })?;
    let mut response = HttpResponse::Ok();
    response.insert_header((CONTENT_TYPE, JSON)).insert_header((CACHE_CONTROL, "no-store"));
    Ok(response.body(buffers.lend(body)))
}
