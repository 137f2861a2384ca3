//! Puts the document together: what the types say, refined, with problems, headers and examples.

use anyhow::Context as _;
use serde::Serialize;
use serde_json::{Value, json};
use utoipa::OpenApi as _;
use vat_schemes::law::Law;

use super::examples::{self, Example};
use super::shallow::Shallow;
use super::{FromTypes, refine};
use crate::calendar::CALENDAR;
use crate::prepared::{JSON, LINES};
use crate::problem::{PROBLEM_MEDIA_TYPE, Problem, ProblemBody, ProblemCode};

/// The document's members in the order in which a person reads them.
#[derive(Serialize)]
struct Document {
    openapi: Value,
    info: Value,
    servers: Value,
    security: Value,
    tags: Value,
    paths: Value,
    components: Value,
}

/// The whole document as text.
pub fn document(law: &Law) -> Result<String, anyhow::Error> {
    let mut made = serde_json::to_value(FromTypes::openapi())?;
    let mut take =
        |name: &str| made.get_mut(name).map(Value::take).with_context(|| format!("the document has no {name}"));
    let mut document = Document {
        openapi: take("openapi")?,
        info: take("info")?,
        servers: take("servers")?,
        // Whether a key is needed is a setting of whoever runs the service.
        security: json!([{}, { "bearer": [] }]),
        tags: take("tags")?,
        paths: take("paths")?,
        components: take("components")?,
    };
    refine::schemas(&mut document.components)?;
    document.components["securitySchemes"] = json!({
        "bearer": { "type": "http", "scheme": "bearer", "description": "The caller's key, where whoever runs the service asks for one." },
    });
    document.components["headers"] = headers();
    document.components["responses"] = problem_responses()?;
    for item in document.paths.as_object_mut().into_iter().flat_map(|paths| paths.values_mut()) {
        for (method, operation) in item.as_object_mut().into_iter().flatten() {
            complete(method, operation, law)?;
        }
    }
    let mut text = Vec::with_capacity(512 * 1024);
    document.serialize(&mut serde_json::Serializer::with_formatter(&mut text, Shallow::default()))?;
    text.push(b'\n');
    Ok(String::from_utf8(text)?)
}

/// Adds headers, problems and examples to an operation.
fn complete(method: &str, operation: &mut Value, law: &Law) -> Result<(), anyhow::Error> {
    let id = operation["operationId"].as_str().unwrap_or_default().to_owned();
    let is_get = method == "get";
    refine::as_paragraphs(operation);
    operation["responses"]["200"]["headers"] = if is_get {
        json!({ "ETag": header("ETag"), "Cache-Control": header("Cache-Control"), "X-Request-Id": header("X-Request-Id"), "Link": header("Link") })
    } else {
        json!({ "Cache-Control": header("Cache-Control"), "X-Request-Id": header("X-Request-Id"), "Link": header("Link") })
    };
    if is_get {
        operation["responses"]["304"] = json!({
            "description": "The caller has this answer already: If-None-Match named its ETag.",
            "headers": { "ETag": header("ETag"), "Cache-Control": header("Cache-Control"), "X-Request-Id": header("X-Request-Id") },
        });
    }
    let content = operation.pointer_mut("/responses/200/content").and_then(Value::as_object_mut);
    if let Some(calendar) = content.and_then(|content| content.get_mut(CALENDAR)) {
        calendar["schema"] = json!({
            "type": "string",
            "description": "An iCalendar text (RFC 5545): one VEVENT a day, in the order of the answer.",
            "maxLength": 16_777_216,
        });
        operation["responses"]["200"]["headers"]["Vary"] = header("Vary");
    }
    for status in problem_statuses(&id) {
        let name = response_name(status);
        operation["responses"][status.to_string()] = json!({ "$ref": format!("#/components/responses/{name}") });
    }
    if id == "get_openapi_document" {
        // What the API is, everybody may read.
        operation["security"] = json!([]);
        operation["responses"]["200"]["content"][JSON]["schema"] =
            json!({ "type": "object", "description": "An OpenAPI 3.1 document." });
    }
    let form = if id == "create_comparison_batch" { LINES } else { JSON };
    for example in examples::of(&id, law)? {
        let Example { name, summary, request, answer } = example;
        if let Some(request) = request {
            operation["requestBody"]["content"][form]["examples"][&name] =
                json!({ "summary": summary, "value": request });
        }
        operation["responses"]["200"]["content"][form]["examples"][&name] =
            json!({ "summary": summary, "value": answer });
    }
    Ok(())
}

/// The problems that an operation can answer with, by status.
fn problem_statuses(operation: &str) -> Vec<u16> {
    let mut statuses = match operation {
        "create_comparison"
        | "create_goods_test"
        | "create_invoice"
        | "create_partial_exemption_year"
        | "create_threshold_check"
        | "create_dates" => vec![400, 405, 406, 408, 413, 415, 422, 431, 500, 503],
        // Of its lines, each has its own problem.
        "create_comparison_batch" => vec![400, 405, 406, 415, 431, 500, 503],
        "list_sectors" | "list_parameters" | "get_fuel_scale_charges" => vec![400, 405, 406, 422, 431, 500, 503],
        "get_sector" | "get_parameter" | "get_worked_example" | "get_problem" => {
            vec![400, 404, 405, 406, 431, 500, 503]
        }
        _ => vec![400, 405, 406, 431, 500, 503],
    };
    if operation != "get_openapi_document" {
        statuses.extend([401, 429]);
        statuses.sort_unstable();
    }
    statuses
}

/// The name under which the problems of a status stand among the components.
fn response_name(status: u16) -> &'static str {
    match status {
        400 => "RequestNotValid",
        401 => "KeyNeeded",
        404 => "NotFound",
        405 => "MethodNotAllowed",
        406 => "NotAcceptable",
        408 => "RequestTimeout",
        413 => "BodyTooLarge",
        415 => "MediaTypeNotSupported",
        422 => "FiguresNotAccepted",
        429 => "RateLimited",
        431 => "HeadTooLarge",
        503 => "Overloaded",
        _ => "InternalError",
    }
}

fn response_description(status: u16) -> &'static str {
    match status {
        400 => "The request is not of the shape described here. Nothing was worked out.",
        401 => "The service asks callers for a key, and the request shows none that it knows. Nothing was read.",
        404 => "There is nothing at this address.",
        405 => "The path was asked with a method that it does not take; Allow lists those that it does.",
        406 => "The Accept header allows none of the forms of the answer.",
        408 => "The body took too long to arrive.",
        413 => "The body is too large.",
        415 => "The body is not JSON in UTF-8 without compression.",
        422 => "The request has the right shape, but the law or the figures admit no answer.",
        429 => "The caller asks more often than it may. Nothing was read.",
        431 => "The request's line and headers are too large.",
        503 => "As many requests are being answered as are at once. Nothing was read.",
        _ => "A fault of the service: the request is not to blame.",
    }
}

/// One shared answer for each status, with an example of every code that comes with it.
fn problem_responses() -> Result<Value, anyhow::Error> {
    let mut responses = json!({});
    for code in ProblemCode::ALL {
        let status = code.entry().status;
        let response = &mut responses[response_name(status)];
        if response.is_null() {
            *response = json!({
                "description": response_description(status),
                "headers": { "X-Request-Id": header("X-Request-Id"), "Link": header("Link"), "Cache-Control": header("Cache-Control") },
                "content": { PROBLEM_MEDIA_TYPE: { "schema": { "$ref": "#/components/schemas/Problem" }, "examples": {} } },
            });
            match status {
                401 => response["headers"]["WWW-Authenticate"] = header("WWW-Authenticate"),
                405 => response["headers"]["Allow"] = header("Allow"),
                415 => response["headers"]["Accept"] = header("Accept"),
                429 | 503 => response["headers"]["Retry-After"] = header("Retry-After"),
                _ => {}
            }
        }
        response["content"][PROBLEM_MEDIA_TYPE]["examples"][code.as_str()] =
            json!({ "summary": code.entry().title, "value": problem_example(*code)? });
    }
    Ok(responses)
}

fn problem_example(code: ProblemCode) -> Result<Value, anyhow::Error> {
    let example = code.entry().example;
    let field = |pointer: &str, code: ProblemCode, detail: &str| crate::problem::FieldError {
        pointer: pointer.to_owned(),
        code,
        detail: detail.to_owned(),
    };
    let errors = match (code, example.pointer) {
        (_, Some(pointer)) => vec![field(pointer, code, example.detail)],
        // The two general codes stand over several errors of different kinds.
        (ProblemCode::RequestNotValid, None) => {
            of_several(&[ProblemCode::AmountMustBeString, ProblemCode::DateNotValid])
        }
        (ProblemCode::FiguresNotAccepted, None) => {
            of_several(&[ProblemCode::UnknownSector, ProblemCode::VatNotChargeable])
        }
        (_, None) => Vec::new(),
    };
    let mut problem = Problem::new(code, example.detail);
    problem.errors = errors;
    let body =
        ProblemBody::new(&problem, "01936d2e-5f3a-7cc1-9a3e-2f1b8f3d7c55", Some("4bf92f3577b34da6a3ce929d0e0e4736"));
    Ok(serde_json::to_value(body)?)
}

fn of_several(codes: &[ProblemCode]) -> Vec<crate::problem::FieldError> {
    codes
        .iter()
        .map(|code| {
            let example = code.entry().example;
            crate::problem::FieldError {
                pointer: example.pointer.unwrap_or_default().to_owned(),
                code: *code,
                detail: example.detail.to_owned(),
            }
        })
        .collect()
}

fn header(name: &str) -> Value {
    json!({ "$ref": format!("#/components/headers/{name}") })
}

fn headers() -> Value {
    let text = |description: &str, max_length: usize, example: &str| {
        json!({
            "description": description,
            "schema": { "type": "string", "maxLength": max_length },
            "example": example,
        })
    };
    json!({
        "ETag": text("The entity tag of the answer, strong (RFC 9110).", 64, "\"3f1c0d6a9b7e4f2285d1c4b6a7e89012\""),
        "Cache-Control": text("Who may keep the answer, and for how long (RFC 9111).", 64, "public, max-age=3600"),
        "X-Request-Id": text("The id of the request: the caller's own where it was fit, else a new one.", 64, "01936d2e-5f3a-7cc1-9a3e-2f1b8f3d7c55"),
        "Link": text("Where the API is described (RFC 8631).", 200, "</openapi.json>; rel=\"service-desc\", </docs/>; rel=\"service-doc\""),
        "Allow": text("The methods that the path takes.", 64, "GET, HEAD, OPTIONS"),
        "WWW-Authenticate": text("How to show a key (RFC 6750).", 200, "Bearer"),
        "Retry-After": text("The seconds after which to ask again (RFC 9110).", 16, "1"),
        "Vary": text("The header of the request that decides between the forms of the answer (RFC 9110).", 64, "Accept"),
        "Accept": text("The media type that the path takes.", 64, JSON),
    })
}
