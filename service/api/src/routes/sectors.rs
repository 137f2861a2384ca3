//! Categories of business.

use actix_web::{HttpRequest, HttpResponse, web};

use super::fallback::no_such_item;
use crate::negotiation::accepts_json;
use crate::prepared;
use crate::problem::{Problem, ProblemCode};
use crate::query::Query;
use crate::wire::v1::date_in_query;
use crate::wire::v1::law::{SectorHistory, SectorList};

/// The most characters of the words sought.
const MAX_WORDS: usize = 100;

/// List categories of business with their flat rate percentages on a day
///
/// With `q`, only the categories to which words of a trade lead: every word must begin a word of the category's name, or of one of
/// its trades, which are then shown. The answer shows what sources say; the choice is the business's own (VAT Regulations 1995
/// regulation 55K).
#[utoipa::path(
    get,
    path = "/v1/sectors",
    operation_id = "list_sectors",
    tag = "law",
    params(
        ("on" = Option<crate::wire::v1::scalars::GivenDate>, Query, description = "The day for which percentages are shown. Absent: the day on which the tables of law were last checked.", example = "2021-06-01"),
        ("q" = Option<String>, Query, description = "Words of a trade, in any order.", min_length = 1, max_length = 100, pattern = r"^[^\u0000-\u001f\u007f-\u009f]*[\p{L}\p{N}][^\u0000-\u001f\u007f-\u009f]*$", example = "computer repair"),
    ),
    responses((status = 200, description = "The categories.", body = SectorList)),
)]
pub async fn list_sectors(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    let query = Query::read(&request, &["on", "q"])?;
    let service = super::service(&request)?;
    let on = query.get("on").map(|text| date_in_query("on", text)).transpose()?;
    let words = query.get("q").map(words).transpose()?;
    if on.is_none() && words.is_none() {
        return Ok(service.prepared.sectors.answer(&request));
    }
    let on = on.unwrap_or_else(|| service.law.checked_on());
    let list = SectorList::new(&service.law, on, words).map_err(|missing| outside_law(&missing))?;
    prepared::answer(&request, &list)
}

/// Read a category of business with all its percentages
///
/// Every percentage that applied, with its days, authority and the day on which the row was last checked.
#[utoipa::path(
    get,
    path = "/v1/sectors/{id}",
    operation_id = "get_sector",
    tag = "law",
    params(("id" = crate::wire::v1::scalars::SectorId, Path, description = "The id of the category.", example = "catering-services-including-restaurants-and-takeaways")),
    responses((status = 200, description = "The category.", body = SectorHistory)),
)]
pub async fn get_sector(request: HttpRequest, _: web::Payload) -> Result<HttpResponse, Problem> {
    accepts_json(&request)?;
    Query::read(&request, &[])?;
    let service = super::service(&request)?;
    let id = request.match_info().query("id");
    match service.prepared.sector.get(id) {
        Some(prepared) => Ok(prepared.answer(&request)),
        None => {
            let known = service.law.sectors().map(|sector| sector.id());
            Err(no_such_item("category of business", id, known, "GET /v1/sectors lists them."))
        }
    }
}

fn words(text: &str) -> Result<&str, Problem> {
    let refused = |detail: String| Err(Problem::of_query("q", ProblemCode::QueryNotValid, detail));
    let length = text.chars().count();
    if length > MAX_WORDS {
        return refused(format!("q has {length} characters: at most {MAX_WORDS} are taken."));
    }
    if !text.chars().any(char::is_alphanumeric) {
        return refused("q holds no letter or digit: write words of a trade, or leave it out.".to_owned());
    }
    Ok(text)
}

/// The tables hold nothing for the day asked for.
pub(super) fn outside_law(missing: &vat_schemes::law::NotInForce) -> Problem {
    Problem::of_query(
        "on",
        ProblemCode::DateOutsideLaw,
        format!("The tables of law hold nothing for {}: they begin on {}.", missing.on, missing.known_from),
    )
}
