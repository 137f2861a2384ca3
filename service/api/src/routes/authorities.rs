//! What rules and figures rest on.

use actix_web::{HttpRequest, HttpResponse, web};

use crate::negotiation::accepts_json;
use crate::problem::Problem;
use crate::query::Query;
use crate::wire::v1::law::AuthorityList;

/// List the authorities that rules and figures rest on
///
/// Provisions, notices, pages of manuals and cases, and the readings that this service adopts where the texts leave room.
#[utoipa::path(
    get,
    path = "/v1/authorities",
    operation_id = "list_authorities",
    tag = "law",
    responses((status = 200, description = "The authorities.", body = AuthorityList)),
)]
pub async fn list_authorities(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Query::read(&request, &[])?;
    Ok(super::service(&request)?.prepared.authorities.answer(&request))
}
