//! Problems: every refusal and failure of the service, as RFC 9457 has them.
//!
//! A handler returns a [`Problem`]; the body that the caller reads is written in one place, where the request's id is known.

mod catalogue;
mod entry;
mod respond;
mod wire;

use std::fmt;

use actix_web::http::StatusCode;
use actix_web::http::header::{HeaderName, HeaderValue};
use actix_web::{HttpResponse, ResponseError};

pub use catalogue::ProblemCode;
pub use entry::{Entry, Example};
pub use respond::respond;
pub use wire::{FieldErrorBody, ProblemBody, ProblemEntry};

/// The media type of every problem.
pub const PROBLEM_MEDIA_TYPE: &str = "application/problem+json";

/// The most field errors that one answer lists.
pub const MAX_FIELD_ERRORS: usize = 100;

/// One place in the request, and what is wrong there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FieldError {
    /// A JSON Pointer (RFC 6901) into the body, or `?name` for a query parameter.
    pub pointer: String,
    /// What kind of error it is.
    pub code: ProblemCode,
    /// What is wrong and what to write instead.
    pub detail: String,
}

/// An answer that is not the one asked for.
#[derive(Clone, Debug)]
pub struct Problem {
    /// What kind of problem it is.
    pub code: ProblemCode,
    /// What is wrong and what to do about it, for a person.
    pub detail: String,
    /// The places in the request concerned, in its order.
    pub errors: Vec<FieldError>,
    /// Whether there are more errors than are listed.
    pub truncated: bool,
    /// Headers that go with the answer.
    pub headers: Vec<(HeaderName, HeaderValue)>,
    /// Whether the connection ends with the answer, because the rest of the request will not be read.
    pub close: bool,
}

impl Problem {
    /// A problem that concerns no field in particular.
    pub fn new(code: ProblemCode, detail: impl Into<String>) -> Self {
        Self { code, detail: detail.into(), errors: Vec::new(), truncated: false, headers: Vec::new(), close: false }
    }

    /// A problem made of field errors. Its code is theirs where they share one, else `general`.
    pub fn of_fields(general: ProblemCode, mut errors: Vec<FieldError>, more: bool) -> Self {
        let truncated = more || errors.len() > MAX_FIELD_ERRORS;
        errors.truncate(MAX_FIELD_ERRORS);
        let code = match errors.split_first() {
            Some((first, rest)) if rest.iter().all(|error| error.code == first.code) => first.code,
            _ => general,
        };
        let detail = match errors.as_slice() {
            [only] if !truncated => only.detail.clone(),
            several => {
                let more_than = if truncated { "More than " } else { "" };
                format!(
                    "{more_than}{} places in the request need changing: errors names each, and what to write there.",
                    several.len()
                )
            }
        };
        Self { errors, truncated, ..Self::new(code, detail) }
    }

    /// A problem with one query parameter.
    pub fn of_query(name: &str, code: ProblemCode, detail: impl Into<String>) -> Self {
        let error = FieldError { pointer: format!("?{name}"), code, detail: detail.into() };
        Self::of_fields(code, vec![error], false)
    }

    /// The service has failed. What happened is for its log, not for the caller.
    pub fn internal() -> Self {
        Self::new(
            ProblemCode::InternalError,
            "The service failed to answer. The request may be sent again; if it fails again, report the request id.",
        )
    }

    /// The problem with one more header.
    #[must_use]
    pub fn with_header(mut self, name: HeaderName, value: HeaderValue) -> Self {
        self.headers.push((name, value));
        self
    }

    /// The problem, after which the connection ends.
    #[must_use]
    pub fn closing(mut self) -> Self {
        self.close = true;
        self
    }

    /// Its HTTP status.
    pub fn status(&self) -> StatusCode {
        StatusCode::from_u16(self.code.entry().status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR)
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.code.as_str())
    }
}

impl ResponseError for Problem {
    fn status_code(&self) -> StatusCode {
        self.status()
    }

    /// The status alone: `respond` writes the body, as it knows the request's id.
    fn error_response(&self) -> HttpResponse {
        HttpResponse::new(self.status())
    }
}

#[cfg(test)]
mod tests;
