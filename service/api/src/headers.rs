//! The headers that every answer carries, whatever it is.

use actix_web::Error;
use actix_web::body::BoxBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::ConnectionType;
use actix_web::http::header::{
    CONTENT_SECURITY_POLICY, HeaderMap, HeaderName, HeaderValue, LINK, REFERRER_POLICY, STRICT_TRANSPORT_SECURITY,
    X_CONTENT_TYPE_OPTIONS,
};
use actix_web::middleware::Next;
use actix_web::web::Data;

use crate::routes::management::Readiness;

/// The request's id, in both directions.
pub const X_REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");

/// For data: nothing in it is ever to be run or shown in a frame.
const DATA_POLICY: &str = "default-src 'none'; frame-ancestors 'none'";

/// For the page that shows the API document: its own scripts and styles, and requests to this service alone.
const DOCS_POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

/// Where the API is described (RFC 8631).
const LINKS: &str = "</openapi.json>; rel=\"service-desc\", </docs/>; rel=\"service-doc\"";

/// Whoever came by TLS comes by TLS again (RFC 6797).
const HTTPS_FOR_A_YEAR: &str = "max-age=31536000";

/// Puts the headers on an answer.
pub async fn add(request: ServiceRequest, next: Next<BoxBody>) -> Result<ServiceResponse<BoxBody>, Error> {
    let is_docs = request.path().starts_with("/docs");
    let stopping = request.app_data::<Data<Readiness>>().is_some_and(|readiness| readiness.is_stopping());
    let is_tls = request.app_config().secure();
    let mut response = next.call(request).await?;
    put(response.headers_mut(), is_docs);
    if is_tls {
        // Here alone: other ports and names of the host are not ours to speak for.
        response.headers_mut().insert(STRICT_TRANSPORT_SECURITY, HeaderValue::from_static(HTTPS_FOR_A_YEAR));
    }
    if stopping {
        // Whoever keeps connections open, a proxy say, opens the next one elsewhere.
        response.response_mut().head_mut().set_connection_type(ConnectionType::Close);
    }
    Ok(response)
}

fn put(headers: &mut HeaderMap, is_docs: bool) {
    let policy = if is_docs { DOCS_POLICY } else { DATA_POLICY };
    headers.insert(CONTENT_SECURITY_POLICY, HeaderValue::from_static(policy));
    headers.insert(X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    headers.insert(LINK, HeaderValue::from_static(LINKS));
}
