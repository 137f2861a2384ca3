//! Taking in a request's body: its kind, its size and the time it takes.

use std::time::Duration;

use actix_web::HttpMessage;
use actix_web::http::header::{ACCEPT, CONTENT_ENCODING, CONTENT_LENGTH, CONTENT_TYPE, HeaderValue};
use actix_web::rt::time::timeout;
use actix_web::web::{Bytes, BytesMut, Payload};
use actix_web::{HttpRequest, error::PayloadError};
use futures_util::StreamExt as _;

use crate::prepared::{JSON, LINES};
use crate::problem::{FieldError, Problem, ProblemCode};

/// How many bytes of body a request had, as far as they were read.
#[derive(Clone, Copy, Debug)]
pub struct BytesRead(pub usize);

/// Reads a JSON body whole, or says why not.
pub async fn read(request: &HttpRequest, payload: Payload, most: usize, patience: Duration) -> Result<Bytes, Problem> {
    is_json(request)?;
    if declared_length(request).is_some_and(|length| length > most as u64) {
        return Err(too_large(most));
    }
    match timeout(patience, collect(payload, most)).await {
        Ok(Ok(body)) => {
            request.extensions_mut().insert(BytesRead(body.len()));
            Ok(body)
        }
        Ok(Err(fault)) => Err(fault),
        Err(_) => Err(Problem::new(
            ProblemCode::RequestTimeout,
            format!("The body was not there in full within {} s: send it without pausing.", patience.as_secs()),
        )
        .closing()),
    }
}

async fn collect(mut payload: Payload, most: usize) -> Result<Bytes, Problem> {
    let mut body = BytesMut::new();
    while let Some(chunk) = payload.next().await {
        let chunk = chunk.map_err(broken_off)?;
        if body.len() + chunk.len() > most {
            return Err(too_large(most));
        }
        body.extend_from_slice(&chunk);
    }
    Ok(body.freeze())
}

fn declared_length(request: &HttpRequest) -> Option<u64> {
    request.headers().get(CONTENT_LENGTH)?.to_str().ok()?.parse().ok()
}

fn too_large(most: usize) -> Problem {
    Problem::new(
        ProblemCode::BodyTooLarge,
        format!("The body may have {most} bytes, and this one has more: send totals, and one period a request."),
    )
    .closing()
}

fn broken_off(error: PayloadError) -> Problem {
    tracing::debug!(%error, "a body broke off");
    let code = ProblemCode::RequestNotValid;
    let detail = "The body broke off, or its chunks are not as HTTP has them: send all of it.".to_owned();
    Problem::of_fields(code, vec![FieldError { pointer: String::new(), code, detail }], false).closing()
}

/// Makes sure that the body is lines of JSON in UTF-8 and as they are, not compressed.
pub fn is_lines(request: &HttpRequest) -> Result<(), Problem> {
    is(request, LINES)
}

/// JSON in UTF-8 and as it is, not compressed.
fn is_json(request: &HttpRequest) -> Result<(), Problem> {
    is(request, JSON)
}

fn is(request: &HttpRequest, wanted: &'static str) -> Result<(), Problem> {
    if let Some(encoding) = request.headers().get(CONTENT_ENCODING) {
        let named = encoding.to_str().unwrap_or("something unreadable");
        if !named.eq_ignore_ascii_case("identity") {
            return Err(unsupported(
                wanted,
                format!(
                    "The body is encoded as {}: send it as it is, without Content-Encoding.",
                    crate::json::shown(named)
                ),
            ));
        }
    }
    let Some(declared) = request.headers().get(CONTENT_TYPE) else {
        return Err(unsupported(
            wanted,
            format!("The body's media type is not declared: send JSON with Content-Type: {wanted}."),
        ));
    };
    let declared = declared.to_str().unwrap_or("something unreadable");
    let mut parts = declared.split(';').map(str::trim);
    let media_type = parts.next().unwrap_or_default();
    if !media_type.eq_ignore_ascii_case(wanted) {
        return Err(unsupported(
            wanted,
            format!(
                "The body is declared as {}: send JSON with Content-Type: {wanted}.",
                crate::json::shown(media_type)
            ),
        ));
    }
    let charset = parts
        .filter_map(|parameter| parameter.split_once('='))
        .find(|(name, _)| name.trim().eq_ignore_ascii_case("charset"))
        .map(|(_, charset)| charset.trim().trim_matches('"'));
    match charset {
        Some(charset) if !charset.eq_ignore_ascii_case("utf-8") => Err(unsupported(
            wanted,
            format!(
                "The body is declared as JSON in {}: JSON is written in UTF-8, and needs no charset.",
                crate::json::shown(charset)
            ),
        )),
        _ => Ok(()),
    }
}

fn unsupported(wanted: &'static str, detail: String) -> Problem {
    Problem::new(ProblemCode::MediaTypeNotSupported, detail)
        .with_header(ACCEPT, HeaderValue::from_static(wanted))
        .closing()
}

#[cfg(test)]
mod tests {
    use actix_web::test::TestRequest;

    use super::is_json;

    fn refused(headers: &[(&'static str, &'static str)]) -> Option<String> {
        let mut request = TestRequest::post();
        for header in headers {
            request = request.insert_header(*header);
        }
        is_json(&request.to_http_request()).err().map(|problem| problem.detail)
    }

    #[test]
    fn json_in_utf_8_is_taken() {
        for declared in [
            "application/json",
            "Application/JSON",
            "application/json; charset=utf-8",
            "application/json;charset=\"UTF-8\"",
        ] {
            assert_eq!(refused(&[("content-type", declared)]), None, "{declared}");
        }
        assert_eq!(refused(&[("content-type", "application/json"), ("content-encoding", "identity")]), None);
    }

    #[test]
    fn anything_else_is_refused_by_name() {
        for (headers, named) in [
            (&[][..], "not declared"),
            (&[("content-type", "text/csv")], "\"text/csv\""),
            (&[("content-type", "application/json; charset=latin1")], "\"latin1\""),
            (&[("content-type", "application/json"), ("content-encoding", "gzip")], "\"gzip\""),
        ] {
            assert!(refused(headers).is_some_and(|detail| detail.contains(named)), "{named}");
        }
    }
}
