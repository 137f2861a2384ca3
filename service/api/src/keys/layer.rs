//! The layer that asks for a key.

use std::sync::Arc;
use std::time::{Duration, Instant};

use actix_web::body::BoxBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{AUTHORIZATION, HeaderMap, HeaderValue, RETRY_AFTER, WWW_AUTHENTICATE};
use actix_web::middleware::Next;
use actix_web::web::Data;
use actix_web::{Error, HttpMessage as _};

use super::Keys;
use crate::problem::{Problem, ProblemCode};
use crate::telemetry::Metrics;

/// The name of the key that came with a request: for its line in the log.
#[derive(Clone, Debug)]
pub struct KeyName(pub Arc<str>);

/// Turns away who shows no key that the service knows, or asks more often than agreed.
pub async fn require(request: ServiceRequest, next: Next<BoxBody>) -> Result<ServiceResponse<BoxBody>, Error> {
    let keys = request.app_data::<Data<Option<Keys>>>().cloned();
    let Some(keys) = keys.as_ref().and_then(|keys| keys.as_ref().as_ref()) else { return next.call(request).await };
    if is_open(request.path()) {
        return next.call(request).await;
    }
    match admit(keys, request.headers()) {
        Ok(name) => {
            request.extensions_mut().insert(KeyName(name));
            next.call(request).await
        }
        Err((name, problem)) => {
            if let Some(metrics) = request.app_data::<Data<Metrics>>() {
                match problem.code {
                    ProblemCode::RateLimited => metrics.count_rate_limited(),
                    _ => metrics.count_key_refused(),
                }
            }
            if let Some(name) = name {
                request.extensions_mut().insert(KeyName(name));
            }
            Ok(request.error_response(problem))
        }
    }
}

/// Whether a path is for everybody: what the API is, and nothing that it does. All others need a key, those that there are not
/// among them, so that no way of writing a path goes round it.
fn is_open(path: &str) -> bool {
    path == "/openapi.json" || path == "/docs" || path.starts_with("/docs/")
}

/// The name of the key shown, or else the problem, with the name where there is one.
fn admit(keys: &Keys, headers: &HeaderMap) -> Result<Arc<str>, (Option<Arc<str>>, Problem)> {
    let Some(shown) = headers.get(AUTHORIZATION).and_then(|value| bearer(value.as_bytes())) else {
        return Err((None, key_missing()));
    };
    let Some(name) = keys.name_of(shown) else { return Err((None, key_unknown())) };
    match keys.rates.as_ref().map_or(Ok(()), |rates| rates.take(&name, Instant::now())) {
        Ok(()) => Ok(name),
        Err(wait) => Err((Some(name), rate_limited(wait))),
    }
}

/// What follows the scheme Bearer (RFC 6750), whose case does not matter (RFC 9110).
fn bearer(value: &[u8]) -> Option<&[u8]> {
    let (scheme, key) = value.split_at_checked("Bearer ".len())?;
    let key = key.trim_ascii();
    (scheme.eq_ignore_ascii_case(b"Bearer ") && !key.is_empty()).then_some(key)
}

fn key_missing() -> Problem {
    Problem::new(
        ProblemCode::KeyMissing,
        "The request comes without a key: send yours in the header Authorization, as \"Bearer\", a space and the key.",
    )
    .with_header(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"))
    .closing()
}

fn key_unknown() -> Problem {
    Problem::new(
        ProblemCode::KeyUnknown,
        "The service does not know this key: use the one that you were given, or ask whoever runs the service for a new one.",
    )
    .with_header(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer error=\"invalid_token\""))
    .closing()
}

fn rate_limited(wait: Duration) -> Problem {
    // Rounded up, so that there is one when the caller comes back.
    let seconds = wait.as_secs() + u64::from(wait.subsec_nanos() > 0);
    Problem::new(
        ProblemCode::RateLimited,
        format!("This caller has asked as often as it may for now: send the request again after {seconds} s."),
    )
    .with_header(RETRY_AFTER, HeaderValue::from(seconds))
    .closing()
}

#[cfg(test)]
mod tests {
    use super::{bearer, is_open};

    #[test]
    fn the_scheme_is_bearer_in_any_case() {
        assert_eq!(bearer(b"Bearer abc"), Some(b"abc".as_slice()));
        assert_eq!(bearer(b"bEARER  abc "), Some(b"abc".as_slice()));
        for other in [b"Basic abc".as_slice(), b"Bearer", b"Bearer ", b"Bearerabc", b"abc", b""] {
            assert_eq!(bearer(other), None);
        }
    }

    #[test]
    fn no_way_of_writing_a_path_goes_round_the_key() {
        for open in ["/openapi.json", "/docs", "/docs/", "/docs/index.html"] {
            assert!(is_open(open));
        }
        for closed in ["/v1/sectors", "/%76%31/sectors", "//v1/sectors", "/", "/docsv1", "/openapi.json/", ""] {
            assert!(!is_open(closed), "{closed}");
        }
    }
}
