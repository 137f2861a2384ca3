//! Goods tests: the limited cost test of one period alone.

use actix_web::{HttpRequest, HttpResponse, web};
use vat_schemes::figures::GoodsFigures;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;

use super::calculation;
use super::refused::{field_errors, not_accepted};
use crate::problem::Problem;
use crate::query::Query;
use crate::telemetry::metrics::GoodsTestOutcome;
use crate::wire::v1::goods_answer::GoodsTestAnswer;
use crate::wire::v1::goods_request::GoodsTestRequest;
use crate::wire::v1::goods_test_request;

/// Test whether a business is a limited cost business in one VAT period
///
/// From turnover and spending on goods, each as one figure or as lines: whether the limited cost percentage of the Flat Rate Scheme
/// applies (VAT Regulations 1995 regulation 55A(4)), every purchase line classified with reason and authority, and what would change
/// the outcome: the spending still needed and the turnover at which it flips, to the penny. Goods bought only to pass the test are
/// seldom a saving. Nothing is stored, and the same request always gives the same answer.
#[utoipa::path(
    post,
    path = "/v1/goods-tests",
    operation_id = "create_goods_test",
    tag = "calculations",
    request_body(content = GoodsTestRequest, description = "The period's turnover and spending: JSON in UTF-8, 1 MiB at most unless the operator has set another bound.", content_type = "application/json"),
    responses((status = 200, description = "The test.", body = GoodsTestAnswer)),
)]
pub async fn create_goods_test(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    Query::read(&request, &[])?;
    calculation::answer(&request, payload, test_goods).await
}

/// The goods test that a body asks for, and how it came out.
pub fn test_goods(law: &Law, body: &[u8]) -> Result<(GoodsTestAnswer, GoodsTestOutcome), Problem> {
    let request = goods_test_request(body)?;
    let figures = GoodsFigures::from(&request);
    let answer = vat_schemes::test_goods(law, &figures, Workings::kept())
        .map_err(|refusals| field_errors(law, refusals, |place| request.sector_at(place), |place| place.to_string()))
        .map_err(not_accepted)?;
    let outcome = if answer.goods_test.limited_cost_business {
        GoodsTestOutcome::LimitedCost
    } else {
        GoodsTestOutcome::NotLimitedCost
    };
    Ok((GoodsTestAnswer::new(request.reference, answer), outcome))
}
