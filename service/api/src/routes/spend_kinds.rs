//! Kinds of spend.

use actix_web::{HttpRequest, HttpResponse, web};

use crate::negotiation::accepts_json;
use crate::problem::Problem;
use crate::query::Query;
use crate::wire::v1::spend_kinds::SpendKindList;

/// List the kinds of spend and what the law makes of each
///
/// Whether each counts as relevant goods, what standard accounting recovers and what a flat rate user claims, and why.
#[utoipa::path(
    get,
    path = "/v1/spend-kinds",
    operation_id = "list_spend_kinds",
    tag = "law",
    responses((status = 200, description = "The kinds of spend.", body = SpendKindList)),
)]
pub async fn list_spend_kinds(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Query::read(&request, &[])?;
    Ok(super::service(&request)?.prepared.spend_kinds.answer(&request))
}
