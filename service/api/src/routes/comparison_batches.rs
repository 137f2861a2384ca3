//! Batches of comparisons: lines of JSON in and out.

use actix_web::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use actix_web::{HttpMessage as _, HttpRequest, HttpResponse, web};

use crate::batch::{Batch, Form, answers};
use crate::body;
use crate::negotiation::accepts_lines;
use crate::prepared::LINES;
use crate::problem::{Problem, ProblemCode};
use crate::query::Query;
use crate::telemetry::{Metrics, RequestContext};
use crate::wire::v1::batch::BatchLine;

/// Compare many VAT periods in one request
///
/// Each line of the body is the request of one comparison, and each line of the answer is a comparison or a problem with the number of
/// its line, in the same order; the last line counts them. Blank lines are passed over, and a bad line ends nothing. A line may have as
/// many bytes as the body of one comparison; there is no bound on their number. Answers come while lines are still being sent: read them
/// meanwhile, for no more lines are read than are being worked on. Send lines that were not answered again; nothing is stored.
#[utoipa::path(
    post,
    path = "/v1/comparisons/batch",
    operation_id = "create_comparison_batch",
    tag = "calculations",
    params(
        ("workings" = Option<bool>, Query, description = "`false` leaves the workings out of each answer: they are then an empty list, and cost nothing. Absent: they are there."),
        ("fields" = Option<String>, Query, description = "`summary` gives only the figures of both schemes and the codes of the warnings. Absent: whole answers.", pattern = "^summary$", max_length = 7),
    ),
    request_body(content = crate::wire::v1::request::ComparisonRequest, description = "Requests of comparisons, one a line: newline-delimited JSON in UTF-8. The schema is that of a line.", content_type = "application/x-ndjson"),
    responses((status = 200, description = "One line for each line that is not blank, and a closing one: newline-delimited JSON. The schema is that of a line.", body = BatchLine, content_type = "application/x-ndjson")),
)]
pub async fn create_comparison_batch(request: HttpRequest, payload: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_lines(&request)?;
    let query = Query::read(&request, &["workings", "fields"])?;
    let workings = query.boolean("workings")?.unwrap_or(true);
    let form = match query.get("fields") {
        None if workings => Form::Whole,
        None => Form::WithoutWorkings,
        Some("summary") => Form::Summary,
        Some(_) => {
            return Err(Problem::of_query(
                "fields",
                ProblemCode::QueryNotValid,
                "fields can only be summary: write ?fields=summary, or leave it out for whole answers.",
            ));
        }
    };
    body::is_lines(&request)?;
    let context = request.extensions().get::<RequestContext>().cloned().unwrap_or_default();
    let batch = Batch {
        service: super::service(&request)?,
        metrics: request.app_data::<web::Data<Metrics>>().cloned(),
        form,
        context,
    };
    Ok(HttpResponse::Ok()
        .insert_header((CONTENT_TYPE, LINES))
        .insert_header((CACHE_CONTROL, "no-store"))
        .streaming(answers(payload, batch)))
}
