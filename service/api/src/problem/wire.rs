//! Problems as they are written on the wire.

use serde::Serialize;
use utoipa::ToSchema;

use super::{FieldError, Problem, ProblemCode};

/// What is wrong with a request, or that the service failed (RFC 9457). Its media type is `application/problem+json`.
/// Members may be added: ignore those you don't know.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[schema(as = Problem)]
pub struct ProblemBody {
    /// Address of what this kind of problem means: a GET on it answers.
    #[serde(rename = "type")]
    #[schema(
        format = "uri-reference",
        max_length = 200,
        pattern = "^/v1/problems/[a-z0-9_]+$",
        example = "/v1/problems/amount_must_be_string"
    )]
    pub kind: String,
    /// The name of this kind of problem; the same for every instance of it.
    #[schema(max_length = 200)]
    pub title: &'static str,
    /// The HTTP status.
    #[schema(minimum = 400, maximum = 599, example = 400)]
    pub status: u16,
    /// What is wrong and what to do about it, for a person.
    #[schema(max_length = 4000)]
    pub detail: String,
    /// The request, by its id. Absent where the caller chose an `X-Request-Id` that is no UUID: then that id stands alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(
        format = "uri",
        max_length = 45,
        pattern = "^urn:uuid:[0-9a-f-]{36}$",
        example = "urn:uuid:01936d2e-5f3a-7cc1-9a3e-2f1b8f3d7c55"
    )]
    pub instance: Option<String>,
    /// The word for this kind of problem, to be compared by programs. It never changes its meaning.
    pub code: ProblemCode,
    /// The trace that the request belongs to, where a valid `traceparent` came with it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 32, pattern = "^[0-9a-f]{32}$", example = "4bf92f3577b34da6a3ce929d0e0e4736")]
    pub trace_id: Option<String>,
    /// The places in the request that need changing, in its order: all of them at once, but at most 100.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100, required = false)]
    pub errors: Vec<FieldErrorBody>,
    /// `true` where there are more errors than are listed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub truncated: Option<bool>,
}

/// One place in the request, and what is wrong there.
#[derive(Clone, Debug, Serialize, ToSchema)]
#[schema(as = FieldError)]
pub struct FieldErrorBody {
    /// The place: a JSON Pointer (RFC 6901) into the body, `?name` for a query parameter; empty for the body as a whole.
    #[schema(max_length = 1048576, example = "/sales/0/net")]
    pub pointer: String,
    /// The word for this kind of error, to be compared by programs.
    pub code: ProblemCode,
    /// What is wrong there and what to write instead, for a person.
    #[schema(max_length = 4000)]
    pub detail: String,
}

/// What a problem means, and who does what about it.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ProblemEntry {
    /// The word for this kind of problem.
    pub code: ProblemCode,
    /// Its address: the `type` of a problem.
    #[serde(rename = "type")]
    #[schema(
        format = "uri-reference",
        max_length = 200,
        pattern = "^/v1/problems/[a-z0-9_]+$",
        example = "/v1/problems/amount_must_be_string"
    )]
    pub kind: String,
    /// The HTTP status it comes with.
    #[schema(minimum = 400, maximum = 599, example = 400)]
    pub status: u16,
    /// Its name.
    #[schema(max_length = 200)]
    pub title: &'static str,
    /// What has happened.
    #[schema(max_length = 2000)]
    pub meaning: &'static str,
    /// What the caller does.
    #[schema(max_length = 2000)]
    pub caller: &'static str,
    /// What whoever runs the service does.
    #[schema(max_length = 2000)]
    pub operator: &'static str,
    /// What whoever develops the service does.
    #[schema(max_length = 2000)]
    pub developer: &'static str,
}

impl ProblemBody {
    /// The body of a problem of the request with this id, in this trace.
    pub fn new(problem: &Problem, request_id: &str, trace_id: Option<&str>) -> Self {
        let entry = problem.code.entry();
        Self {
            kind: problem.code.address(),
            title: entry.title,
            status: entry.status,
            detail: problem.detail.clone(),
            instance: uuid::Uuid::try_parse(request_id).ok().map(|id| id.urn().to_string()),
            code: problem.code,
            trace_id: trace_id.map(str::to_owned),
            errors: problem.errors.iter().map(FieldErrorBody::from).collect(),
            truncated: problem.truncated.then_some(true),
        }
    }
}

impl From<&FieldError> for FieldErrorBody {
    fn from(error: &FieldError) -> Self {
        Self { pointer: error.pointer.clone(), code: error.code, detail: error.detail.clone() }
    }
}

impl From<ProblemCode> for ProblemEntry {
    fn from(code: ProblemCode) -> Self {
        let entry = code.entry();
        Self {
            code,
            kind: code.address(),
            status: entry.status,
            title: entry.title,
            meaning: entry.meaning,
            caller: entry.caller,
            operator: entry.operator,
            developer: entry.developer,
        }
    }
}
