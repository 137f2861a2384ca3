//! Writes the answer to a request that ended in a problem, in the one form that all of them have.

use actix_web::body::BoxBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage, HttpResponse};

use super::{PROBLEM_MEDIA_TYPE, Problem, ProblemBody};
use crate::telemetry::RequestContext;

/// Puts a body to the problem that a handler left, and leaves its code on the answer for log and metrics.
pub async fn respond(request: ServiceRequest, next: Next<BoxBody>) -> Result<ServiceResponse<BoxBody>, Error> {
    let response = next.call(request).await?;
    let Some(error) = response.response().error() else { return Ok(response) };
    let problem = error.as_error::<Problem>().cloned().unwrap_or_else(|| {
        tracing::error!("a failure that no handler foresaw");
        Problem::internal()
    });
    let (request, _) = response.into_parts();
    let context = request.extensions().get::<RequestContext>().cloned().unwrap_or_default();
    let written = write(&problem, &context);
    Ok(ServiceResponse::new(request, written))
}

fn write(problem: &Problem, context: &RequestContext) -> HttpResponse {
    let body = ProblemBody::new(problem, &context.request_id, context.trace_id.as_deref());
    let mut response = HttpResponse::build(problem.status());
    for (name, value) in &problem.headers {
        response.insert_header((name.clone(), value.clone()));
    }
    if problem.close {
        response.force_close();
    }
    let mut response = response
        .insert_header((CONTENT_TYPE, PROBLEM_MEDIA_TYPE))
        .insert_header((CACHE_CONTROL, "no-store"))
        // Texts and numbers alone: writing them cannot fail.
        .body(serde_json::to_vec(&body).unwrap_or_default());
    response.extensions_mut().insert(problem.code);
    response
}
