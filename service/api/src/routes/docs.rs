//! A page on which to read and try the API document. All its parts are in the binary: it asks nothing of the outside.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock, RwLock};

use actix_web::http::header::{HeaderValue, LOCATION};
use actix_web::web::{self, Bytes};
use actix_web::{HttpRequest, HttpResponse};
use utoipa_swagger_ui::Config;

use crate::prepared::Prepared;
use crate::problem::{Problem, ProblemCode};

/// No validator: the page would send the document's address to a stranger.
static PAGE: LazyLock<Arc<Config<'static>>> =
    LazyLock::new(|| Arc::new(Config::from("/openapi.json").use_base_layout().validator_url("none")));

/// The files that were asked for so far. Only files that there are get in, so that it cannot grow without bound.
static FILES: LazyLock<RwLock<HashMap<String, Prepared>>> = LazyLock::new(RwLock::default);

/// A file of the page; the page itself where none is named.
pub async fn page(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    let name = request.match_info().query("file");
    let known = FILES.read().ok().and_then(|files| files.get(name).cloned());
    let file = match known {
        Some(file) => file,
        None => {
            let file = find(name)?;
            if let Ok(mut files) = FILES.write() {
                files.insert(name.to_owned(), file.clone());
            }
            file
        }
    };
    Ok(file.answer(&request))
}

fn find(name: &str) -> Result<Prepared, Problem> {
    let found = utoipa_swagger_ui::serve(name, Arc::clone(&PAGE)).map_err(|error| {
        tracing::error!(%error, "a file of the page cannot be made");
        Problem::internal()
    })?;
    let Some(found) = found else {
        let detail = format!("There is no file {} here. The page is at /docs/.", crate::json::shown(name));
        return Err(Problem::new(ProblemCode::NotFound, detail));
    };
    let media_type = HeaderValue::from_str(&found.content_type).map_err(|_| Problem::internal())?;
    Ok(Prepared::new(Bytes::from(found.bytes.into_owned()), media_type))
}

/// Leads to the page, whose parts are found only with the slash.
pub async fn to_page(_: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    Ok(HttpResponse::PermanentRedirect().insert_header((LOCATION, "/docs/")).finish())
}
