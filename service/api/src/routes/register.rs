//! How a resource is put in place: its methods, the answers to all others, and the catch for panics.

use std::panic::AssertUnwindSafe;

use actix_web::http::Method;
use actix_web::http::header::{ALLOW, HeaderValue};
use actix_web::{HttpMessage, HttpRequest, HttpResponse, Resource, web};
use futures_util::FutureExt as _;
use futures_util::future::LocalBoxFuture;

use crate::problem::{Problem, ProblemCode};
use crate::telemetry::{Metrics, RouteLabel};

/// The methods that a resource takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowed {
    /// GET, and with it HEAD.
    Get,
    /// POST.
    Post,
}

impl Allowed {
    /// The `Allow` header.
    pub const fn header(self) -> &'static str {
        match self {
            Self::Get => "GET, HEAD, OPTIONS",
            Self::Post => "POST, OPTIONS",
        }
    }
}

/// A resource with its methods. A handler's answer is a response or a problem; a panic of it is the problem `internal_error`.
pub fn resource<H, F>(pattern: &str, label: &'static str, allowed: Allowed, handler: H) -> Resource
where
    H: Fn(HttpRequest, web::Payload) -> F + Clone + 'static,
    F: Future<Output = Result<HttpResponse, Problem>> + 'static,
{
    let handler = guarded(label, handler);
    let resource = web::resource(pattern);
    let resource = match allowed {
        Allowed::Get => resource.route(web::get().to(handler.clone())).route(web::head().to(handler)),
        Allowed::Post => resource.route(web::post().to(handler)),
    };
    resource
        .route(web::method(Method::OPTIONS).to(guarded(label, move |_, _| async move { Ok(options(allowed)) })))
        .default_service(web::to(guarded(label, move |request, _| async move {
            Err(method_not_allowed(&request, allowed))
        })))
}

/// A handler with its label for log and metrics, from which no panic escapes. Only inside the router is there still a request
/// to answer then: a panic caught further out would have lost it.
fn guarded<H, F>(
    label: &'static str,
    handler: H,
) -> impl Fn(HttpRequest, web::Payload) -> LocalBoxFuture<'static, Result<HttpResponse, Problem>> + Clone
where
    H: Fn(HttpRequest, web::Payload) -> F + Clone + 'static,
    F: Future<Output = Result<HttpResponse, Problem>> + 'static,
{
    move |request, payload| {
        request.extensions_mut().insert(RouteLabel(label));
        let metrics = request.app_data::<web::Data<Metrics>>().cloned();
        let handler = handler.clone();
        async move {
            let answer = AssertUnwindSafe(async move { handler(request, payload).await }).catch_unwind().await;
            answer.unwrap_or_else(|_| {
                if let Some(metrics) = metrics {
                    metrics.count_panic();
                }
                Err(Problem::internal())
            })
        }
        .boxed_local()
    }
}

fn options(allowed: Allowed) -> HttpResponse {
    HttpResponse::NoContent().insert_header((ALLOW, allowed.header())).finish()
}

fn method_not_allowed(request: &HttpRequest, allowed: Allowed) -> Problem {
    let detail = format!("{} does not take {}: it takes {}.", request.path(), request.method(), allowed.header());
    Problem::new(ProblemCode::MethodNotAllowed, detail).with_header(ALLOW, HeaderValue::from_static(allowed.header()))
}
