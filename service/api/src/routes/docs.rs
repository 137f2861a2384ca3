//! A page on which to read and try the API document. All its parts are in the binary: it asks nothing of the outside.

use std::collections::HashMap;
use std::io::Read as _;
use std::sync::{Arc, LazyLock, RwLock};

use actix_web::http::header::{ACCEPT_ENCODING, HeaderMap, HeaderValue, LOCATION};
use actix_web::web::{self, Bytes};
use actix_web::{HttpRequest, HttpResponse};
use flate2::read::GzDecoder;
use utoipa_swagger_ui::Config;

use crate::prepared::Prepared;
use crate::problem::{Problem, ProblemCode};

/// No validator: the page would send the document's address to a stranger.
static PAGE: LazyLock<Arc<Config<'static>>> =
    LazyLock::new(|| Arc::new(Config::from("/openapi.json").use_base_layout().validator_url("none")));

/// The files that were asked for so far, by name and by whether they are compressed. Only files that there are get in, so that it
/// cannot grow without bound.
static FILES: LazyLock<RwLock<HashMap<(String, bool), Prepared>>> = LazyLock::new(RwLock::default);

/// A file of the page; the page itself where none is named.
pub async fn page(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    let compressed = takes_gzip(request.headers());
    let key = (request.match_info().query("file").to_owned(), compressed);
    let known = FILES.read().ok().and_then(|files| files.get(&key).cloned());
    let file = match known {
        Some(file) => file,
        None => {
            let file = find(&key.0, compressed)?;
            if let Ok(mut files) = FILES.write() {
                files.insert(key, file.clone());
            }
            file
        }
    };
    Ok(file.answer(&request))
}

/// Whether the caller takes an answer in gzip (RFC 9110 section 12.5.3). Who says nothing gets the file as it is.
fn takes_gzip(headers: &HeaderMap) -> bool {
    headers.get_all(ACCEPT_ENCODING).filter_map(|value| value.to_str().ok()).flat_map(|list| list.split(',')).any(
        |item| {
            let (name, weight) = item.split_once(';').unwrap_or((item, "q=1"));
            let refused = weight.trim().strip_prefix("q=").is_some_and(|q| q.trim_matches(['0', '.']).is_empty());
            (name.trim().eq_ignore_ascii_case("gzip") || name.trim() == "*") && !refused
        },
    )
}

fn find(name: &str, compressed: bool) -> Result<Prepared, Problem> {
    let found = utoipa_swagger_ui::serve(name, Arc::clone(&PAGE)).map_err(|error| {
        tracing::error!(%error, "a file of the page cannot be made");
        Problem::internal()
    })?;
    let Some(found) = found else {
        let detail = format!("There is no file {} here. The page is at /docs/.", crate::json::shown(name));
        return Err(Problem::new(ProblemCode::NotFound, detail));
    };
    let media_type = HeaderValue::from_str(&found.content_type).map_err(|_| Problem::internal())?;
    let bytes = found.bytes.into_owned();
    // The binary keeps the files compressed.
    Ok(match (found.gzpipped, compressed) {
        (true, true) => Prepared::new(bytes.into(), media_type).in_gzip(),
        (true, false) => Prepared::new(expanded(&bytes)?, media_type).apart_from_gzip(),
        (false, _) => Prepared::new(bytes.into(), media_type),
    })
}

fn expanded(bytes: &[u8]) -> Result<Bytes, Problem> {
    let mut plain = Vec::new();
    GzDecoder::new(bytes).read_to_end(&mut plain).map_err(|error| {
        tracing::error!(%error, "a file of the page cannot be expanded");
        Problem::internal()
    })?;
    Ok(plain.into())
}

/// Leads to the page, whose parts are found only with the slash.
pub async fn to_page(_: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    Ok(HttpResponse::PermanentRedirect().insert_header((LOCATION, "/docs/")).finish())
}

#[cfg(test)]
mod tests {
    use actix_web::test::TestRequest;

    use super::takes_gzip;

    #[test]
    fn gzip_goes_to_those_who_take_it() {
        for (accepted, takes) in [
            ("gzip", true),
            ("br, GZIP;q=0.5", true),
            ("*", true),
            ("deflate, *;q=0.1", true),
            ("identity", false),
            ("gzip;q=0", false),
            ("gzip; q=0.000", false),
            ("", false),
            ("gzipped", false),
        ] {
            let request = TestRequest::get().insert_header(("accept-encoding", accepted)).to_http_request();
            assert_eq!(takes_gzip(request.headers()), takes, "{accepted}");
        }
        assert!(!takes_gzip(TestRequest::get().to_http_request().headers()));
    }
}
