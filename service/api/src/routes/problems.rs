//! What problems mean.

use actix_web::{HttpRequest, HttpResponse, web};

use super::fallback::no_such_item;
use crate::negotiation::accepts_json;
use crate::problem::{Problem, ProblemCode, ProblemEntry};
use crate::query::Query;

/// Read what a problem means, and who does what about it
///
/// The address is the `type` of a problem (RFC 9457).
#[utoipa::path(
    get,
    path = "/v1/problems/{code}",
    operation_id = "get_problem",
    tag = "service",
    params(("code" = ProblemCode, Path, description = "The code of the problem.", example = "amount_must_be_string")),
    responses((status = 200, description = "What the problem means.", body = ProblemEntry)),
)]
pub async fn get_problem(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Query::read(&request, &[])?;
    let code = request.match_info().query("code");
    match super::service(&request)?.prepared.problem.get(code) {
        Some(prepared) => Ok(prepared.answer(&request)),
        None => {
            let known = ProblemCode::ALL.iter().map(|code| code.as_str());
            Err(no_such_item("problem", code, known, "The API document lists them."))
        }
    }
}
