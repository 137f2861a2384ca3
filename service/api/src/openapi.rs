//! The API document: made from the types and handlers, kept in `openapi/v1.json`, and served as it is kept there.

mod assemble;
mod examples;
mod refine;
mod shallow;

use std::sync::LazyLock;

use actix_web::http::header::HeaderValue;
use utoipa::OpenApi;

use crate::packed;
use crate::prepared::{JSON, Prepared};
use crate::problem::{ProblemBody, ProblemCode};
use crate::wire::v1::worked_examples::{GivenCaseEvidence, GivenTopic};

pub use assemble::document;

/// The document as it is kept, unpacked when it is first asked for: the very bytes that are served.
///
/// # Errors
/// Where it was not packed well, which tests find before a release does.
pub fn checked_in() -> Result<&'static Prepared, anyhow::Error> {
    static CHECKED_IN: LazyLock<Result<Prepared, String>> = LazyLock::new(|| {
        let text = packed::unpack(packed::OPENAPI).map_err(|error| error.to_string())?;
        Ok(Prepared::new(text.into(), HeaderValue::from_static(JSON)))
    });
    CHECKED_IN.as_ref().map_err(|fault| anyhow::anyhow!("the API document cannot be unpacked: {fault}"))
}

/// The version of the API, which is not that of the program.
const VERSION: &str = "1.0.0";

const DESCRIPTION: &str = "\
Works out the VAT of one VAT period of a small UK business twice, under standard accounting and under the Flat Rate Scheme, from \
totals that its bookkeeping holds, and shows every sum with the rule and the authority behind it.

**What an answer is.** A calculation from the figures given, not advice. HMRC decide what is due, and a qualified adviser what is \
wise. The category of business and the facts are the caller's; each answer lists, under `cautions`, what it leaves out. How well the \
text behind a number was read stands beside the number as `evidence`.

**Form.** JSON in UTF-8; dates also as iCalendar (`Accept: text/calendar`). Amounts are texts in pounds (`\"1234.50\"`), percentages texts in per cent (`\"14.5\"`), days `2026-06-30`. \
Requests are strict: an unknown field, a field given twice and `null` are refused. Answers may grow: ignore members that you don't \
know. A field without a value is absent; where `null` can come back, the field's description says so.

**Methods.** Wherever GET is answered, so is HEAD. Every path answers OPTIONS, and any other method with 405; both carry `Allow`.

**Problems.** Everything that is refused comes back as `application/problem+json` (RFC 9457) with a stable `code`, and with all field \
errors at once. 400: not the shape described here. 422: the right shape, but the law or the figures admit no answer. 500: a fault of \
the service, and only that. `GET /v1/problems/{code}` tells what each means.

**Caching.** Answers to GET carry a strong `ETag` and may be kept for an hour; send it as `If-None-Match` to have 304 instead of the \
same again. What is worked out is never stored, neither here nor on the way; the same request always gives the same answer, so that it is \
safe to send again.

**Following a request.** Send `X-Request-Id` (1 to 64 letters, digits, points, underscores and hyphens) or get one; it stands in the \
answer's header and in the log. A valid `traceparent` (W3C Trace Context) is taken up. The log never holds figures.

**Keys.** Whoever runs the service may ask callers for a key, sent as `Authorization: Bearer` and the key, and may bound how often each \
caller asks: 401 and 429 say so. A batch counts as one request.

**Health.** `/health/live`, `/health/ready` and `/metrics` are on the management port, not here.";

#[derive(OpenApi)]
#[openapi(
    info(title = "vat-schemes", description = DESCRIPTION, version = VERSION, contact(name = "The maintainers of vat-schemes"), license(name = "MIT", identifier = "MIT")),
    servers((url = "/", description = "The service that this document came from")),
    tags(
        (name = "calculations", description = "What is due, and why."),
        (name = "law", description = "The law that answers rest on: dated, with authority and the day on which it was last checked."),
        (name = "service", description = "The service itself: its document and its problems."),
    ),
    paths(
        crate::routes::comparisons::create_comparison,
        crate::routes::comparison_batches::create_comparison_batch,
        crate::routes::goods_tests::create_goods_test,
        crate::routes::invoices::create_invoice,
        crate::routes::threshold_checks::create_threshold_check,
        crate::routes::dates::create_dates,
        crate::routes::partial_exemption_years::create_partial_exemption_year,
        crate::routes::sectors::list_sectors,
        crate::routes::sectors::get_sector,
        crate::routes::spend_kinds::list_spend_kinds,
        crate::routes::parameters::list_parameters,
        crate::routes::parameters::get_parameter,
        crate::routes::fuel_scale_charges::get_fuel_scale_charges,
        crate::routes::authorities::list_authorities,
        crate::routes::worked_examples::list_worked_examples,
        crate::routes::worked_examples::get_worked_example,
        crate::routes::problems::get_problem,
        crate::routes::openapi_document::get_openapi_document,
    ),
    components(schemas(ProblemBody, ProblemCode, GivenTopic, GivenCaseEvidence)),
)]
struct FromTypes;

#[cfg(test)]
mod tests;
