//! The outermost layer: gives a request its id, and tells log and metrics how it went.

use std::time::Instant;

use actix_web::body::{BodySize, BoxBody, MessageBody as _};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::Method;
use actix_web::http::header::HeaderValue;
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage as _, web};

use super::spans::{Outcome, RequestSpan, Spans};
use super::{Metrics, request_id, trace_context};
use crate::body::BytesRead;
use crate::headers::X_REQUEST_ID;
use crate::keys::KeyName;
use crate::problem::ProblemCode;

/// By what a request is found again.
#[derive(Clone, Debug, Default)]
pub struct RequestContext {
    /// Its id.
    pub request_id: String,
    /// The trace that it belongs to.
    pub trace_id: Option<String>,
}

/// The pattern of the route that took a request: the label of its metrics.
#[derive(Clone, Copy, Debug)]
pub struct RouteLabel(pub &'static str);

/// The label of requests that no route took, so that made-up addresses make no series.
const UNMATCHED: &str = "unmatched";

/// Observes a request of the API: log line, metrics, and a span where spans are exported.
pub async fn observe(request: ServiceRequest, next: Next<BoxBody>) -> Result<ServiceResponse<BoxBody>, Error> {
    let metrics = request.app_data::<web::Data<Metrics>>().cloned();
    let under_way = metrics.as_ref().map(|metrics| metrics.begin_request());
    let started = Instant::now();
    let method = method_label(request.method());
    let span = request
        .app_data::<web::Data<Spans>>()
        .map_or_else(RequestSpan::default, |spans| spans.begin(method, trace_context::of(request.headers())));
    let context = remember_context(&request, span.trace_id());
    let mut response = next.call(request).await?;
    name_request(&mut response, &context);
    let took = started.elapsed();
    let status = response.status();
    let route = response.request().extensions().get::<RouteLabel>().map_or(UNMATCHED, |label| label.0);
    let problem = response.response().extensions().get::<ProblemCode>().copied();
    let key = response.request().extensions().get::<KeyName>().cloned();
    if let Some(metrics) = metrics {
        metrics.count_request(method, route, status.as_u16(), took);
        if let Some(code) = problem {
            metrics.count_problem(code);
        }
    }
    drop(under_way);
    span.end(&Outcome { method, route, status: status.as_u16(), problem: problem.map(ProblemCode::as_str) });
    let line = Line {
        method,
        route,
        status: status.as_u16(),
        duration_microseconds: u64::try_from(took.as_micros()).unwrap_or(u64::MAX),
        request_bytes: response.request().extensions().get::<BytesRead>().map_or(0, |read| read.0),
        response_bytes: sent(&response, method),
        problem: problem.map(ProblemCode::as_str),
        key: key.as_ref().map(|name| name.0.as_ref()),
        context: &context,
    };
    line.write(status.is_server_error());
    Ok(response)
}

/// Observes a request of the management port. Probes come every few seconds: they are neither logged above the level
/// `debug` nor counted.
pub async fn observe_management(
    request: ServiceRequest,
    next: Next<BoxBody>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let context = remember_context(&request, None);
    let mut response = next.call(request).await?;
    name_request(&mut response, &context);
    let status = response.status().as_u16();
    let route = response.request().extensions().get::<RouteLabel>().map_or(UNMATCHED, |label| label.0);
    tracing::debug!(route, status, request_id = context.request_id, "management request");
    Ok(response)
}

/// Notes by what a request is found again: the caller's own trace goes before one that begins here.
fn remember_context(request: &ServiceRequest, begun_here: Option<String>) -> RequestContext {
    let given = trace_context::of(request.headers()).map(|parent| parent.trace.to_owned());
    let context = RequestContext { request_id: request_id::of(request.headers()), trace_id: given.or(begun_here) };
    request.extensions_mut().insert(context.clone());
    context
}

fn name_request(response: &mut ServiceResponse<BoxBody>, context: &RequestContext) {
    if let Ok(id) = HeaderValue::from_str(&context.request_id) {
        response.headers_mut().insert(X_REQUEST_ID, id);
    }
}

fn sent(response: &ServiceResponse<BoxBody>, method: &str) -> u64 {
    match response.response().body().size() {
        BodySize::Sized(bytes) if method != "HEAD" => bytes,
        _ => 0,
    }
}

/// The method, where it is one that anyone uses: made-up methods make no series.
fn method_label(method: &Method) -> &'static str {
    match *method {
        Method::GET => "GET",
        Method::HEAD => "HEAD",
        Method::POST => "POST",
        Method::PUT => "PUT",
        Method::PATCH => "PATCH",
        Method::DELETE => "DELETE",
        Method::OPTIONS => "OPTIONS",
        _ => "other",
    }
}

/// The one line that the log has of a request. It never holds figures, bodies, queries or addresses.
struct Line<'a> {
    method: &'static str,
    route: &'static str,
    status: u16,
    duration_microseconds: u64,
    request_bytes: usize,
    response_bytes: u64,
    problem: Option<&'static str>,
    /// The name of the caller's key; never the key.
    key: Option<&'a str>,
    context: &'a RequestContext,
}

impl Line<'_> {
    fn write(&self, is_failure: bool) {
        macro_rules! write_at {
            ($level:ident) => {
                tracing::$level!(
                    method = self.method,
                    route = self.route,
                    status = self.status,
                    duration_microseconds = self.duration_microseconds,
                    request_bytes = self.request_bytes,
                    response_bytes = self.response_bytes,
                    request_id = self.context.request_id,
                    trace_id = self.context.trace_id,
                    problem = self.problem,
                    key = self.key,
                    "request"
                )
            };
        }
        if is_failure {
            write_at!(error);
        } else {
            write_at!(info);
        }
    }
}
