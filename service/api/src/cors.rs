//! Which other web pages may call the service from a browser (CORS, as the Fetch standard has it): none, unless the settings name
//! them.
//!
//! A page that is not named gets its answer without these headers, and the browser keeps it from the page.

use actix_web::body::BoxBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::Method;
use actix_web::http::header::{
    ACCESS_CONTROL_ALLOW_HEADERS, ACCESS_CONTROL_ALLOW_METHODS, ACCESS_CONTROL_ALLOW_ORIGIN,
    ACCESS_CONTROL_EXPOSE_HEADERS, ACCESS_CONTROL_MAX_AGE, ACCESS_CONTROL_REQUEST_METHOD, HeaderMap, HeaderValue,
    ORIGIN, VARY,
};
use actix_web::middleware::Next;
use actix_web::web::Data;
use actix_web::{Error, HttpResponse};

use crate::settings::Settings;

const METHODS: &str = "GET, HEAD, POST, OPTIONS";
const REQUEST_HEADERS: &str =
    "Accept, Authorization, Content-Type, If-None-Match, X-Request-Id, traceparent, tracestate";
const ANSWER_HEADERS: &str = "Allow, ETag, Link, Retry-After, WWW-Authenticate, X-Request-Id";
/// What the answer to a preflight depends on.
const PREFLIGHT_VARY: &str = "Origin, Access-Control-Request-Method, Access-Control-Request-Headers";

/// The origins whose pages may call.
#[derive(Debug, Default)]
pub struct Origins(Vec<String>);

impl Origins {
    /// Those of the settings.
    pub fn of(settings: &Settings) -> Self {
        Self(settings.cors_allow_origins.clone())
    }

    /// What `Access-Control-Allow-Origin` says to a page from there.
    fn answer_to(&self, origin: Option<&HeaderValue>) -> Option<HeaderValue> {
        let origin = origin?;
        if self.are_all() {
            return Some(HeaderValue::from_static("*"));
        }
        self.0.iter().any(|known| known.as_bytes() == origin.as_bytes()).then(|| origin.clone())
    }

    fn are_all(&self) -> bool {
        self.0.iter().any(|known| known == ALL)
    }
}

/// Stands for every origin.
pub const ALL: &str = "*";

/// Whether a text is an origin as browsers send it: a scheme and a host in lower case, with its port where it is not the usual one.
pub fn is_origin(text: &str) -> bool {
    let Some(host) = text.strip_prefix("https://").or_else(|| text.strip_prefix("http://")) else { return false };
    !host.is_empty()
        && host.bytes().all(|byte| {
            byte.is_ascii_lowercase() || byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b':' | b'[' | b']')
        })
}

/// Answers preflights, and says on other answers whether the page may read them. No credentials of the browser's own are asked for:
/// a key is shown by the page itself.
pub async fn allow(request: ServiceRequest, next: Next<BoxBody>) -> Result<ServiceResponse<BoxBody>, Error> {
    let Some(origins) = request.app_data::<Data<Origins>>().filter(|origins| !origins.0.is_empty()).cloned() else {
        return next.call(request).await;
    };
    let origin = request.headers().get(ORIGIN).cloned();
    let allowed = origins.answer_to(origin.as_ref());
    let is_preflight = request.method() == Method::OPTIONS
        && origin.is_some()
        && request.headers().contains_key(ACCESS_CONTROL_REQUEST_METHOD);
    let mut response = if is_preflight {
        request.into_response(HttpResponse::NoContent().finish())
    } else {
        next.call(request).await?
    };
    let headers = response.headers_mut();
    if is_preflight {
        headers.append(VARY, HeaderValue::from_static(PREFLIGHT_VARY));
    } else if !origins.are_all() {
        headers.append(VARY, HeaderValue::from_static("Origin"));
    }
    if let Some(allowed) = allowed {
        put(headers, allowed, is_preflight);
    }
    Ok(response)
}

fn put(headers: &mut HeaderMap, allowed: HeaderValue, is_preflight: bool) {
    headers.insert(ACCESS_CONTROL_ALLOW_ORIGIN, allowed);
    if is_preflight {
        headers.insert(ACCESS_CONTROL_ALLOW_METHODS, HeaderValue::from_static(METHODS));
        headers.insert(ACCESS_CONTROL_ALLOW_HEADERS, HeaderValue::from_static(REQUEST_HEADERS));
        headers.insert(ACCESS_CONTROL_MAX_AGE, HeaderValue::from_static("3600"));
    } else {
        headers.insert(ACCESS_CONTROL_EXPOSE_HEADERS, HeaderValue::from_static(ANSWER_HEADERS));
    }
}

#[cfg(test)]
mod tests {
    use super::is_origin;

    #[test]
    fn an_origin_is_a_scheme_and_a_host_and_nothing_more() {
        for origin in ["https://books.example", "http://localhost:3000", "https://[::1]:8443"] {
            assert!(is_origin(origin), "{origin}");
        }
        for other in ["books.example", "https://", "https://books.example/", "https://Books.example", "null", "*", ""] {
            assert!(!is_origin(other), "{other}");
        }
    }
}
