//! Partial exemption years: the periods of a longer period and its annual adjustment.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::law::Law;
use vat_schemes::partial_exemption_year::figures::YearFigures;
use vat_schemes::workings::Workings;

use super::calculation;
use super::refused::{field_errors, not_accepted};
use crate::problem::Problem;
use crate::telemetry::metrics::PartialExemptionYearOutcome;
use crate::wire::v1::partial_exemption_answer::PartialExemptionYearAnswer;
use crate::wire::v1::partial_exemption_request::PartialExemptionYearRequest;
use crate::wire::v1::partial_exemption_year_request;

/// Work out a partial exemption year and its annual adjustment
///
/// From the totals of each VAT period of a longer period: what each recovers provisionally, what the year as a whole recovers by a
/// percentage and tests of its own, and the difference to claim or to repay, with the return that it goes on (VAT Regulations 1995
/// regulations 99 and 107). The standard method only. Nothing is stored, and the same request always gives the same answer.
#[utoipa::path(
    post,
    path = "/v1/partial-exemption-years",
    operation_id = "create_partial_exemption_year",
    tag = "calculations",
    request_body(content = PartialExemptionYearRequest, description = "The year's periods: JSON in UTF-8, 1 MiB at most unless the operator has set another bound.", content_type = "application/json"),
    responses((status = 200, description = "The year.", body = PartialExemptionYearAnswer)),
)]
pub async fn create_partial_exemption_year(
    request: HttpRequest,
    payload: web::Payload,
) -> Result<HttpResponse, Problem> {
    calculation::answer(&request, payload, work_out_year).await
}

/// The partial exemption year that a body asks for, and how it came out.
pub fn work_out_year(
    law: &Law,
    body: &[u8],
) -> Result<(PartialExemptionYearAnswer, PartialExemptionYearOutcome), Problem> {
    let request = partial_exemption_year_request(body)?;
    let figures = YearFigures::from(&request);
    let answer = vat_schemes::partial_exemption_year(law, &figures, Workings::kept())
        .map_err(|refusals| field_errors(law, refusals, |_| None, |place| place.to_string()))
        .map_err(not_accepted)?;
    let adjustment = answer.annual.adjustment;
    let outcome = if adjustment.is_zero() {
        PartialExemptionYearOutcome::NoAdjustment
    } else if adjustment.is_negative() {
        PartialExemptionYearOutcome::ToRepay
    } else {
        PartialExemptionYearOutcome::ToClaim
    };
    Ok((PartialExemptionYearAnswer::new(request.reference, answer), outcome))
}
