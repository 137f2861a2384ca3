//! Dated numbers of the law.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::law::ParameterId;

use super::fallback::no_such_item;
use super::sectors::outside_law;
use crate::negotiation::accepts_json;
use crate::prepared;
use crate::problem::Problem;
use crate::query::Query;
use crate::wire::v1::date_in_query;
use crate::wire::v1::law::{ParameterHistory, ParameterList};

/// List the dated numbers of the law in force on a day
///
/// Rates, limits and periods of notice, each with its authority. A number that the law had not yet, or no longer, is left out.
#[utoipa::path(
    get,
    path = "/v1/parameters",
    operation_id = "list_parameters",
    tag = "law",
    params(
        ("on" = Option<crate::wire::v1::scalars::GivenDate>, Query, description = "The day for which values are shown. Absent: the day on which the tables of law were last checked.", example = "2026-04-01"),
    ),
    responses((status = 200, description = "The numbers in force.", body = ParameterList)),
)]
pub async fn list_parameters(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    let query = Query::read(&request, &["on"])?;
    let service = super::service(&request)?;
    match query.get("on") {
        None => Ok(service.prepared.parameters.answer(&request)),
        Some(text) => {
            let on = date_in_query("on", text)?;
            // The standard rate has never been wanting: where the tables lack it, they lack the day.
            service.law.percentage(ParameterId::VatRateStandard, on).map_err(|missing| outside_law(&missing))?;
            prepared::answer(&request, &ParameterList::new(&service.law, on))
        }
    }
}

/// Read a dated number of the law with all its values
///
/// Every value that applied, with its days, authority and the day on which the row was last checked.
#[utoipa::path(
    get,
    path = "/v1/parameters/{id}",
    operation_id = "get_parameter",
    tag = "law",
    params(("id" = crate::wire::v1::scalars::ParameterId, Path, description = "The id of the number.", example = "vat_registration")),
    responses((status = 200, description = "The number.", body = ParameterHistory)),
)]
pub async fn get_parameter(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Query::read(&request, &[])?;
    let service = super::service(&request)?;
    let id = request.match_info().query("id");
    match service.prepared.parameter.get(id) {
        Some(prepared) => Ok(prepared.answer(&request)),
        None => {
            let known = ParameterId::ALL.iter().map(|parameter| parameter.as_str());
            Err(no_such_item("dated number of the law", id, known, "GET /v1/parameters lists them."))
        }
    }
}
