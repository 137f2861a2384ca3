//! Comparisons: one period under both schemes.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::answer::{Answer, Cheaper};
use vat_schemes::figures::{Figures, TurnoverMethod};
use vat_schemes::law::Law;
use vat_schemes::refusal::Place;
use vat_schemes::workings::Workings;

use super::calculation;
use super::refused::{field_errors, not_accepted};
use crate::problem::{FieldError, Problem, ProblemCode};
use crate::query::Query;
use crate::telemetry::metrics::ComparisonOutcome;
use crate::wire::v1::answer::Comparison;
use crate::wire::v1::request::{ComparisonRequest, GivenReceived};
use crate::wire::v1::{comparison_request, received};

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
    params(("workings" = Option<bool>, Query, description = "`false` leaves the workings out: they are then an empty list, and cost nothing. Absent: they are there.")),
    request_body(content = ComparisonRequest, description = "The period's totals: JSON in UTF-8, 1 MiB at most unless the operator has set another bound.", content_type = "application/json"),
    responses((status = 200, description = "The comparison.", body = Comparison)),
)]
pub async fn create_comparison(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    let query = Query::read(&request, &["workings"])?;
    let workings = query.boolean("workings")?.unwrap_or(true);
    calculation::answer(&request, payload, |law, body| {
        compare(law, body, if workings { Workings::kept } else { Workings::not_kept })
    })
    .await
}

/// The comparison that a body asks for, with such workings, and how it came out.
pub fn compare(law: &Law, body: &[u8], workings: fn() -> Workings) -> Result<(Comparison, ComparisonOutcome), Problem> {
    let request = comparison_request(body)?;
    let answer = work_out(law, &request, &Figures::from(&request), workings(), |place| place.to_string());
    let received =
        request.received.as_ref().map(|received| on_money_received(law, &request, received, workings())).transpose();
    let received = received.map(|received| received.map(Box::new));
    // Both bases may have their reasons to refuse; the caller hears of all at once.
    let answer = match answer {
        Ok(answer) => answer,
        Err(refused) => return Err(not_accepted(refused.into_iter().chain(received.err().into_iter().flatten()))),
    };
    let received = received.map_err(not_accepted)?;
    let outcome = match answer.comparison.cheaper {
        Cheaper::Standard => ComparisonOutcome::Standard,
        Cheaper::FlatRate => ComparisonOutcome::FlatRate,
        Cheaper::Equal => ComparisonOutcome::Equal,
    };
    Ok((Comparison::new(request, answer, received), outcome))
}

fn work_out(
    law: &Law,
    request: &ComparisonRequest,
    figures: &Figures,
    workings: Workings,
    pointer: fn(Place) -> String,
) -> Result<Answer, Vec<FieldError>> {
    vat_schemes::compare(law, figures, workings)
        .map_err(|refusals| field_errors(law, refusals, |place| request.sector_at(place), pointer))
}

/// The same period by money received and paid.
fn on_money_received(
    law: &Law,
    request: &ComparisonRequest,
    lines: &GivenReceived,
    workings: Workings,
) -> Result<Answer, Vec<FieldError>> {
    match request.business.turnover_method.map(|method| method.0) {
        None | Some(TurnoverMethod::Basic) => {
            work_out(law, request, &received::figures(request, lines), workings, received::pointer)
        }
        Some(method @ (TurnoverMethod::Cash | TurnoverMethod::Retailer)) => Err(vec![FieldError {
            pointer: received::PREFIX.to_owned(),
            code: ProblemCode::ReceivedBesideOtherMethod,
            detail: format!(
                "received gives the period by money beside its invoices, but turnover_method is {}: leave received out, or give \
                 invoices as sales and purchases with the basic method.",
                method.as_str()
            ),
        }]),
    }
}
