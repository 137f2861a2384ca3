//! The two applications: the API, and management. The order of their layers is the order in which an answer passes them.

use actix_web::body::BoxBody;
use actix_web::dev::{ServiceFactory, ServiceRequest, ServiceResponse};
use actix_web::middleware::from_fn;
use actix_web::web::{Data, ServiceConfig};
use actix_web::{App, Error};

use crate::cors::{self, Origins};
use crate::keys::{self, Keys};
use crate::limits::{self, Limits};
use crate::routes::management::{self, Readiness};
use crate::service::Current;
use crate::telemetry::spans::Spans;
use crate::telemetry::{Metrics, observe, observe_management};
use crate::{headers, problem, routes};

/// What all workers of both ports work with.
#[derive(Clone, Debug)]
pub struct Shared {
    /// The service.
    pub service: Data<Current>,
    /// From which other pages a browser may call.
    pub origins: Data<Origins>,
    /// Who may call.
    pub keys: Data<Option<Keys>>,
    /// What callers may take.
    pub limits: Data<Limits>,
    /// What is counted.
    pub metrics: Data<Metrics>,
    /// Where spans go.
    pub spans: Data<Spans>,
    /// Whether requests are wanted.
    pub readiness: Data<Readiness>,
}

/// The API.
pub fn api(shared: Shared) -> App<impl AppFactory> {
    api_with(shared, routes::configure)
}

/// The API's layers around other resources.
pub(crate) fn api_with(shared: Shared, configure: fn(&mut ServiceConfig)) -> App<impl AppFactory> {
    let Shared { service, origins, keys, limits, metrics, spans, readiness } = shared;
    // The layer wrapped last is the outermost. Panics are caught further in, around each handler (`routes::resource`).
    App::new()
        .app_data(service)
        .app_data(origins)
        .app_data(keys)
        .app_data(limits)
        .app_data(metrics)
        .app_data(spans)
        .app_data(readiness)
        .app_data(routes::buffers())
        .configure(configure)
        .wrap(from_fn(limits::keep))
        // Who may not call takes no room from those who may.
        .wrap(from_fn(keys::require))
        .wrap(from_fn(problem::respond))
        // A page must be able to read what is wrong, and a preflight never carries a key.
        .wrap(from_fn(cors::allow))
        .wrap(from_fn(headers::add))
        .wrap(from_fn(observe))
}

/// Health and metrics.
pub fn management(metrics: Data<Metrics>, readiness: Data<Readiness>) -> App<impl AppFactory> {
    App::new()
        .app_data(metrics)
        .app_data(readiness)
        .configure(management::configure)
        .wrap(from_fn(problem::respond))
        .wrap(from_fn(headers::add))
        .wrap(from_fn(observe_management))
}

/// What `App` needs to know of its service.
pub trait AppFactory:
    ServiceFactory<ServiceRequest, Config = (), Response = ServiceResponse<BoxBody>, Error = Error, InitError = ()>
{
}

impl<F> AppFactory for F where
    F: ServiceFactory<ServiceRequest, Config = (), Response = ServiceResponse<BoxBody>, Error = Error, InitError = ()>
{
}

#[cfg(test)]
mod tests;
