//! The API document.

use actix_web::{HttpRequest, HttpResponse, web};

use crate::negotiation::accepts_json;
use crate::openapi::checked_in;
use crate::problem::Problem;
use crate::query::Query;

/// Read this document
///
/// OpenAPI 3.1, byte for byte as it is kept with the source of the service.
#[utoipa::path(
    get,
    path = "/openapi.json",
    operation_id = "get_openapi_document",
    tag = "service",
    responses((status = 200, description = "The API document.", body = serde_json::Value)),
)]
pub async fn get_openapi_document(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Query::read(&request, &[])?;
    let document = checked_in().map_err(|error| {
        tracing::error!(%error, "the API document could not be read");
        Problem::internal()
    })?;
    Ok(document.answer(&request))
}
