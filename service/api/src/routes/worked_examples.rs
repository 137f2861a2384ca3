//! Published cases.

use actix_web::{HttpRequest, HttpResponse, web};

use super::fallback::no_such_item;
use crate::near::nearest;
use crate::negotiation::accepts_json;
use crate::prepared;
use crate::problem::{Problem, ProblemCode};
use crate::query::Query;
use crate::wire::v1::worked_examples::{GivenCaseEvidence, GivenTopic, WorkedExample, WorkedExampleList};
use crate::worked_examples;

/// List the published cases that this build reproduces
///
/// Each with the request to send, the figures to find in the answer, the source and its address, and what was adapted. The tests of this build
/// sent every one of them. They show how the service reads the law, and are not advice.
#[utoipa::path(
    get,
    path = "/v1/worked-examples",
    operation_id = "list_worked_examples",
    tag = "service",
    params(
        ("topic" = Option<GivenTopic>, Query, description = "Only cases about this.", example = "goods-test"),
        ("evidence" = Option<GivenCaseEvidence>, Query, description = "Only cases that their source supports in this way.", example = "official"),
    ),
    responses((status = 200, description = "The cases.", body = WorkedExampleList)),
)]
pub async fn list_worked_examples(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    let query = Query::read(&request, &["topic", "evidence"])?;
    let topic = word(&query, "topic", GivenTopic::WORDS)?;
    let evidence = word(&query, "evidence", GivenCaseEvidence::WORDS)?;
    let fits = |case: &&WorkedExample| {
        topic.is_none_or(|topic| case.topic == topic) && evidence.is_none_or(|evidence| case.evidence == evidence)
    };
    let items = all()?.iter().filter(fits).cloned().collect();
    prepared::answer(&request, &WorkedExampleList { items })
}

/// Read a published case
///
/// The request to send, the figures to find in the answer, the source and its address, and what was adapted.
#[utoipa::path(
    get,
    path = "/v1/worked-examples/{id}",
    operation_id = "get_worked_example",
    tag = "service",
    params(("id" = String, Path, description = "The id of the case.", max_length = 100, pattern = "^[a-z0-9_-]+$", example = "gt-exactly-250")),
    responses((status = 200, description = "The case.", body = WorkedExample)),
)]
pub async fn get_worked_example(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Query::read(&request, &[])?;
    let id = request.match_info().query("id");
    let all = all()?;
    match all.iter().find(|case| case.id == id) {
        Some(case) => prepared::answer(&request, case),
        None => {
            let known = all.iter().map(|case| case.id.as_str());
            Err(no_such_item("published case", id, known, "GET /v1/worked-examples lists them."))
        }
    }
}

fn all() -> Result<&'static [WorkedExample], Problem> {
    worked_examples::all().map_err(|error| {
        tracing::error!(%error, "the published cases could not be read");
        Problem::internal()
    })
}

/// The word that a query parameter gives, if it is one of its words.
fn word<'query>(query: &'query Query, name: &str, words: &[(&str, &str)]) -> Result<Option<&'query str>, Problem> {
    let Some(given) = query.get(name) else { return Ok(None) };
    if words.iter().any(|(word, _)| *word == given) {
        return Ok(Some(given));
    }
    let known = || words.iter().map(|(word, _)| *word);
    let near = nearest(given, known()).map_or(String::new(), |near| format!(" Near it is \"{near}\"."));
    let all = known().collect::<Vec<_>>().join(", ");
    let shown = crate::json::shown(given);
    let detail = format!("{name} is one of {all}, and {shown} is none of them.{near}");
    Err(Problem::of_query(name, ProblemCode::QueryNotValid, detail))
}
