//! Road fuel scale charges.

use actix_web::{HttpRequest, HttpResponse, web};

use crate::negotiation::accepts_json;
use crate::prepared;
use crate::problem::{Problem, ProblemCode};
use crate::query::Query;
use crate::wire::v1::date_in_query;
use crate::wire::v1::fuel_scale_charges::FuelScaleCharges;

/// Read the road fuel scale charges for VAT periods that begin on a day
///
/// What a business under standard accounting that recovers all VAT on the fuel of a car accounts for on its private use, by the CO2
/// emissions of the car and the length of the period. A new table comes each 1 May; a day without a table here is refused.
#[utoipa::path(
    get,
    path = "/v1/fuel-scale-charges",
    operation_id = "get_fuel_scale_charges",
    tag = "law",
    params(
        ("on" = Option<crate::wire::v1::scalars::GivenDate>, Query, description = "The day on which a period begins. Absent: the day on which the tables of law were last checked, or the last day with a table where that is earlier.", example = "2025-06-01"),
    ),
    responses((status = 200, description = "The table in force on the day.", body = FuelScaleCharges)),
)]
pub async fn get_fuel_scale_charges(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    let query = Query::read(&request, &["on"])?;
    let service = super::service(&request)?;
    let on = match query.get("on") {
        None => service.law.last_day_of_fuel_scale_charges(),
        Some(text) => date_in_query("on", text)?,
    };
    let table = service.law.fuel_scale_charges(on).map_err(|missing| {
        let detail = format!(
            "The tables hold no road fuel scale charges for a period that begins on {}: they hold them for those that begin {}.",
            missing.on,
            missing.known_days()
        );
        Problem::of_query("on", ProblemCode::DateOutsideLaw, detail)
    })?;
    prepared::answer(&request, &FuelScaleCharges::new(on, table))
}
