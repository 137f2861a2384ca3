//! Comparisons: one period under both schemes.

use actix_web::http::StatusCode;
use actix_web::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::answer::Cheaper;
use vat_schemes::figures::Figures;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;

use super::refused::refused;
use crate::body;
use crate::negotiation::accepts_json;
use crate::prepared::JSON;
use crate::problem::Problem;
use crate::query::Query;
use crate::service::Service;
use crate::telemetry::Metrics;
use crate::telemetry::metrics::Outcome;
use crate::wire::v1::answer::Comparison;
use crate::wire::v1::comparison_request;
use crate::wire::v1::request::ComparisonRequest;

/// Compare one VAT period under standard accounting and under the Flat Rate Scheme
///
/// From the totals of one VAT period: the VAT due under each scheme with the nine boxes of the VAT Return, the goods test, warnings
/// with the day to act by, and the workings with rule and authority. Nothing is stored, and the same request always gives the same
/// answer, so that it is safe to send again.
#[utoipa::path(
    post,
    path = "/v1/comparisons",
    operation_id = "create_comparison",
    tag = "calculations",
    request_body(content = ComparisonRequest, description = "The period's totals: JSON in UTF-8, 1 MiB at most unless the operator has set another bound.", content_type = "application/json"),
    responses((status = 200, description = "The comparison.", body = Comparison)),
)]
pub async fn create_comparison(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    let answer = answer(&request, payload).await;
    if let Some(metrics) = request.app_data::<web::Data<Metrics>>() {
        let outcome = match &answer {
            Ok((_, outcome)) => Some(*outcome),
            Err(problem) if problem.status() == StatusCode::UNPROCESSABLE_ENTITY => Some(Outcome::Refused),
            Err(problem) if problem.status().is_client_error() => Some(Outcome::NotValid),
            // A failure of the service is no outcome of a comparison.
            Err(_) => None,
        };
        if let Some(outcome) = outcome {
            metrics.count_comparison(outcome);
        }
    }
    answer.map(|(response, _)| response)
}

async fn answer(request: &HttpRequest, payload: web::Payload) -> Result<(HttpResponse, Outcome), Problem> {
    accepts_json(request)?;
    Query::read(request, &[])?;
    let service = super::service(request)?;
    let body = read(request, payload, &service).await?;
    let (comparison, outcome) = compare(&service.law, &body)?;
    Ok((write(&comparison)?, outcome))
}

async fn read(request: &HttpRequest, payload: web::Payload, service: &Service) -> Result<web::Bytes, Problem> {
    body::read(request, payload, service.max_body_bytes, service.body_timeout).await
}

/// The comparison that a body asks for, and how it came out.
pub fn compare(law: &Law, body: &[u8]) -> Result<(Comparison, Outcome), Problem> {
    let request = comparison_request(body)?;
    let figures = Figures::from(&request);
    let answer = vat_schemes::compare(law, &figures, Workings::kept())
        .map_err(|refusals| refused(law, refusals, |_| Some(&request.business.sector.0)))?;
    let outcome = match answer.comparison.cheaper {
        Cheaper::Standard => Outcome::Standard,
        Cheaper::FlatRate => Outcome::FlatRate,
        Cheaper::Equal => Outcome::Equal,
    };
    Ok((Comparison::new(request.reference, answer), outcome))
}

fn write(comparison: &Comparison) -> Result<HttpResponse, Problem> {
    let body = serde_json::to_vec(comparison).map_err(|error| {
        tracing::error!(%error, "an answer could not be written");
        Problem::internal()
    })?;
    Ok(HttpResponse::Ok().insert_header((CONTENT_TYPE, JSON)).insert_header((CACHE_CONTROL, "no-store")).body(body))
}
