//! The management port: whether the service lives, whether it wants requests, and its metrics.

use std::sync::atomic::{AtomicU8, Ordering};

use actix_web::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use actix_web::web::{self, ServiceConfig};
use actix_web::{HttpRequest, HttpResponse};

use super::register::{Allowed, resource};
use crate::negotiation::accepts_json;
use crate::problem::{Problem, ProblemCode};
use crate::telemetry::Metrics;

/// Whether the service wants requests.
#[derive(Debug, Default)]
pub struct Readiness(AtomicU8);

// Nought, the default, is starting.
const READY: u8 = 1;
const STOPPING: u8 = 2;

impl Readiness {
    /// From now on it does.
    pub fn ready(&self) {
        self.0.store(READY, Ordering::Release);
    }

    /// From now on it does not.
    pub fn stopping(&self) {
        self.0.store(STOPPING, Ordering::Release);
    }

    /// Whether it is stopping.
    pub fn is_stopping(&self) -> bool {
        self.0.load(Ordering::Acquire) == STOPPING
    }

    fn state(&self) -> (&'static str, bool) {
        match self.0.load(Ordering::Acquire) {
            READY => ("ready", true),
            STOPPING => ("stopping", false),
            _ => ("starting", false),
        }
    }
}

/// The paths of the management port.
const PATHS: [&str; 3] = ["/health/live", "/health/ready", "/metrics"];

/// Registers the management resources, and the answer to every other address.
pub fn configure(config: &mut ServiceConfig) {
    let [live_path, ready_path, metrics_path] = PATHS;
    config
        .service(resource(live_path, live_path, Allowed::Get, live))
        .service(resource(ready_path, ready_path, Allowed::Get, ready))
        .service(resource(metrics_path, metrics_path, Allowed::Get, metrics))
        .default_service(web::to(not_found));
}

async fn live(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Ok(status(HttpResponse::Ok(), "live"))
}

async fn ready(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    let readiness = request.app_data::<web::Data<Readiness>>().ok_or_else(Problem::internal)?;
    let (state, is_ready) = readiness.state();
    let response = if is_ready { HttpResponse::Ok() } else { HttpResponse::ServiceUnavailable() };
    Ok(status(response, state))
}

fn status(mut response: actix_web::HttpResponseBuilder, status: &'static str) -> HttpResponse {
    response.insert_header((CACHE_CONTROL, "no-store")).json(serde_json::json!({ "status": status }))
}

async fn metrics(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    let metrics = request.app_data::<web::Data<Metrics>>().ok_or_else(Problem::internal)?;
    let text = metrics.text().map_err(|error| {
        tracing::error!(%error, "the metrics cannot be written");
        Problem::internal()
    })?;
    Ok(HttpResponse::Ok()
        .insert_header((CONTENT_TYPE, prometheus::TEXT_FORMAT))
        .insert_header((CACHE_CONTROL, "no-store"))
        .body(text))
}

async fn not_found(request: HttpRequest) -> Result<&'static str, Problem> {
    let detail = format!(
        "There is nothing at {} on the management port: it has {}.",
        crate::json::shown(request.path()),
        PATHS.join(", ")
    );
    Err(Problem::new(ProblemCode::NotFound, detail))
}

#[cfg(test)]
mod tests {
    use super::Readiness;

    #[test]
    fn only_between_start_and_stop_is_it_ready() {
        let readiness = Readiness::default();
        assert_eq!(readiness.state(), ("starting", false));
        readiness.ready();
        assert_eq!(readiness.state(), ("ready", true));
        readiness.stopping();
        assert_eq!(readiness.state(), ("stopping", false));
    }
}
