//! Answers that change only with the release or with the tables of law: made once, sent with an entity tag (RFC 9110), and not sent again to whoever
//! has them.

use actix_web::http::header::{CACHE_CONTROL, CONTENT_ENCODING, CONTENT_TYPE, ETAG, HeaderValue, IF_NONE_MATCH, VARY};
use actix_web::web::Bytes;
use actix_web::{HttpRequest, HttpResponse};
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::problem::Problem;

/// The media type of the service's answers.
pub const JSON: &str = "application/json";
/// The media type of lines of JSON.
pub const LINES: &str = "application/x-ndjson";

/// A body and its entity tag.
#[derive(Clone, Debug)]
pub struct Prepared {
    body: Bytes,
    tag: String,
    media_type: HeaderValue,
    encoding: Encoding,
}

/// How a body is encoded, and whether it is there in another encoding too.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Encoding {
    Only,
    Gzip,
    ApartFromGzip,
}

impl Prepared {
    /// A value as JSON.
    pub fn json(value: &impl Serialize) -> Result<Self, serde_json::Error> {
        Ok(Self::new(serde_json::to_vec(value)?.into(), HeaderValue::from_static(JSON)))
    }

    /// A body as it is.
    pub fn new(body: Bytes, media_type: HeaderValue) -> Self {
        let digest = Sha256::digest(&body);
        let hexadecimal: String = digest.iter().take(16).map(|byte| format!("{byte:02x}")).collect();
        Self { body, tag: format!("\"{hexadecimal}\""), media_type, encoding: Encoding::Only }
    }

    /// The body is compressed by gzip, and is there uncompressed too.
    pub fn in_gzip(self) -> Self {
        Self { encoding: Encoding::Gzip, ..self }
    }

    /// The body is there compressed by gzip too.
    pub fn apart_from_gzip(self) -> Self {
        Self { encoding: Encoding::ApartFromGzip, ..self }
    }

    /// The body.
    pub fn body(&self) -> &Bytes {
        &self.body
    }

    /// The answer: the body, or that the caller has it already.
    pub fn answer(&self, request: &HttpRequest) -> HttpResponse {
        let known = request
            .headers()
            .get_all(IF_NONE_MATCH)
            .any(|value| value.to_str().is_ok_and(|list| holds(list, &self.tag)));
        let mut response = if known { HttpResponse::NotModified() } else { HttpResponse::Ok() };
        response.insert_header((ETAG, self.tag.as_str())).insert_header((CACHE_CONTROL, "public, max-age=3600"));
        if self.encoding != Encoding::Only {
            response.insert_header((VARY, "Accept-Encoding"));
        }
        if self.encoding == Encoding::Gzip && !known {
            response.insert_header((CONTENT_ENCODING, "gzip"));
        }
        if known {
            response.finish()
        } else {
            response.insert_header((CONTENT_TYPE, self.media_type.clone())).body(self.body.clone())
        }
    }
}

/// An answer worked out for one request alone, that can nevertheless be known by its tag.
pub fn answer(request: &HttpRequest, value: &impl Serialize) -> Result<HttpResponse, Problem> {
    let prepared = Prepared::json(value).map_err(|error| {
        tracing::error!(%error, "an answer could not be written");
        Problem::internal()
    })?;
    Ok(prepared.answer(request))
}

/// Whether an `If-None-Match` list holds the tag, by weak comparison, or is `*`.
fn holds(list: &str, tag: &str) -> bool {
    // Our tags hold no comma, so that a foreign one which does can't be mistaken for ours when cut there.
    list.split(',').map(str::trim).any(|item| item == "*" || item.strip_prefix("W/").unwrap_or(item) == tag)
}

#[cfg(test)]
mod tests {
    use super::{Prepared, holds};

    #[test]
    fn a_tag_is_found_in_a_list_however_weak() {
        for list in ["\"a\"", "W/\"a\"", "\"b\", \"a\"", "\"b\",W/\"a\"", "*", " * "] {
            assert!(holds(list, "\"a\""), "{list}");
        }
        for list in ["", "a", "\"b\"", "W/a", "\"aa\"", "w/\"a\""] {
            assert!(!holds(list, "\"a\""), "{list}");
        }
    }

    #[test]
    fn a_tag_is_half_a_digest_in_quotes_and_follows_the_body() {
        let one = Prepared::json(&1).expect("JSON");
        assert_eq!(one.tag.len(), 34);
        assert_eq!(one.tag, Prepared::json(&1).expect("JSON").tag);
        assert_ne!(one.tag, Prepared::json(&2).expect("JSON").tag);
    }
}
