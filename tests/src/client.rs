//! A client that holds every exchange to the API document, so that no test can forget to.

use crate::diary;
use crate::document::Document;
use crate::figures;
use crate::server::lock;
use reqwest::Method;
use serde_json::Value;
use std::collections::BTreeSet;
use std::net::SocketAddr;
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// Headers that every answer carries, with the value that they all share, if they do.
const EVERY_ANSWER: [(&str, Option<&str>); 4] = [
    ("x-content-type-options", Some("nosniff")),
    ("referrer-policy", Some("no-referrer")),
    ("content-security-policy", None),
    ("x-request-id", None),
];

/// Codes of a refusal for what a schema cannot say: bytes that are no JSON text, and names that a JSON object holds twice.
const BEYOND_SCHEMA: [&str; 7] = [
    "body_empty",
    "body_not_utf8",
    "json_not_valid",
    "trailing_data",
    "nesting_too_deep",
    "duplicate_field",
    "query_not_valid",
];

/// Where comparisons are asked for.
pub const COMPARISONS: &str = "/v1/comparisons";

/// Where dates are asked for.
pub const DATES: &str = "/v1/dates";

/// Where goods tests are asked for.
pub const GOODS_TESTS: &str = "/v1/goods-tests";
/// Where the VAT of invoices is asked for.
pub const INVOICES: &str = "/v1/invoices";

/// Where comparisons are asked for by the thousand.
pub const BATCHES: &str = "/v1/comparisons/batch";

/// The media type of lines of JSON.
pub const LINES: &str = "application/x-ndjson";

/// Where checks of the limits are asked for.
pub const THRESHOLD_CHECKS: &str = "/v1/threshold-checks";

/// Where partial exemption years are asked for.
pub const PARTIAL_EXEMPTION_YEARS: &str = "/v1/partial-exemption-years";

/// A request to send.
#[derive(Clone, Debug)]
pub struct Call {
    method: Method,
    target: String,
    headers: Vec<(String, String)>,
    body: Option<Vec<u8>>,
}

impl Call {
    /// A request without a body; `target` is the path and query.
    pub fn new(method: &str, target: &str) -> Call {
        let method = Method::from_bytes(method.as_bytes()).unwrap_or_else(|error| panic!("{method}: {error}"));
        Call { method, target: target.to_owned(), headers: Vec::new(), body: None }
    }

    /// A `POST` of JSON.
    pub fn post(target: &str, body: impl Into<Vec<u8>>) -> Call {
        Call::new("POST", target).header("content-type", "application/json").body(body)
    }

    /// A `POST` of lines of JSON.
    pub fn post_lines(target: &str, body: impl Into<Vec<u8>>) -> Call {
        Call::new("POST", target).header("content-type", LINES).body(body)
    }

    /// With a header.
    pub fn header(mut self, name: &str, value: &str) -> Call {
        self.headers.push((name.to_owned(), value.to_owned()));
        self
    }

    /// With a body.
    pub fn body(mut self, body: impl Into<Vec<u8>>) -> Call {
        self.body = Some(body.into());
        self
    }

    fn path(&self) -> &str {
        self.target.split('?').next().unwrap_or_default()
    }

    fn query(&self) -> impl Iterator<Item = (&str, &str)> {
        self.target
            .split_once('?')
            .map_or("", |(_, query)| query)
            .split('&')
            .filter(|pair| !pair.is_empty())
            .map(|pair| pair.split_once('=').unwrap_or((pair, "")))
    }
}

/// An answer.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Status code.
    pub status: u16,
    headers: reqwest::header::HeaderMap,
    /// The bytes of the body.
    pub body: Vec<u8>,
}

impl Answer {
    /// The value of a header.
    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers.get(name).and_then(|value| value.to_str().ok())
    }

    /// The names of its headers.
    pub fn header_names(&self) -> BTreeSet<String> {
        self.headers.keys().map(|name| name.as_str().to_owned()).collect()
    }

    /// The media type, without its parameters.
    pub fn media_type(&self) -> &str {
        let value = self.header("content-type").unwrap_or_default();
        value.split(';').next().unwrap_or_default().trim()
    }

    /// The body as JSON.
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|error| panic!("not JSON ({error}): {}", String::from_utf8_lossy(&self.body)))
    }

    /// The body as lines of JSON.
    pub fn lines(&self) -> Vec<Value> {
        let read = |line| serde_json::from_str(line).unwrap_or_else(|error| panic!("not JSON ({error}): {line}"));
        self.text().lines().map(read).collect()
    }

    /// The body as text.
    pub fn text(&self) -> &str {
        std::str::from_utf8(&self.body).unwrap_or_else(|error| panic!("not text: {error}"))
    }
}

/// A client of one server.
pub struct Client {
    http: reqwest::blocking::Client,
    address: SocketAddr,
    base: String,
    management: bool,
    secrets: Arc<Mutex<BTreeSet<String>>>,
}

impl Client {
    /// A client of the API; the amounts that it sends are added to `secrets`.
    pub fn new(address: SocketAddr, secrets: Arc<Mutex<BTreeSet<String>>>) -> Client {
        let http = reqwest::blocking::Client::builder()
            .no_proxy()
            .redirect(reqwest::redirect::Policy::none())
            .timeout(Duration::from_secs(60))
            .build()
            .unwrap_or_else(|error| panic!("no HTTP client: {error}"));
        Client { http, address, base: format!("http://{address}"), management: false, secrets }
    }

    /// A client of the management port, which the API document does not describe.
    pub fn management(address: SocketAddr) -> Client {
        Client { management: true, ..Client::new(address, Arc::default()) }
    }

    /// The address that it talks to.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Sends a request and checks the exchange.
    pub fn send(&self, call: &Call) -> Answer {
        let sent = call.body.as_deref().and_then(|body| serde_json::from_slice::<Value>(body).ok());
        if let Some(sent) = &sent {
            lock(&self.secrets).extend(figures::confidential(sent));
        }
        let answer = self.exchange(call).unwrap_or_else(|error| panic!("{call:?}: {error:?}"));
        self.check(call, sent.as_ref(), &answer);
        answer
    }

    /// Sends a request whose connection may fail; nothing is checked.
    pub fn exchange(&self, call: &Call) -> Result<Answer, reqwest::Error> {
        let mut request = self.http.request(call.method.clone(), format!("{}{}", self.base, call.target));
        for (name, value) in &call.headers {
            request = request.header(name, value);
        }
        if let Some(body) = &call.body {
            request = request.body(body.clone());
        }
        let response = request.send()?;
        let (status, headers) = (response.status().as_u16(), response.headers().clone());
        let body = response.bytes()?.to_vec();
        Ok(Answer { status, headers, body })
    }

    /// `GET`.
    pub fn get(&self, target: &str) -> Answer {
        self.send(&Call::new("GET", target))
    }

    /// `GET` of a body that must be there.
    pub fn get_json(&self, target: &str) -> Value {
        let answer = self.get(target);
        assert_eq!(answer.status, 200, "{target}: {}", answer.text());
        answer.json()
    }

    /// Sends a JSON body.
    pub fn post(&self, path: &str, request: &Value) -> Answer {
        self.send(&Call::post(path, request.to_string()))
    }

    /// A calculation that must be answered.
    pub fn calculate(&self, path: &str, request: &Value) -> Value {
        let answer = self.post(path, request);
        assert_eq!(answer.status, 200, "{request:#}\n{}", answer.text());
        answer.json()
    }

    /// Asks for a comparison.
    pub fn post_comparison(&self, request: &Value) -> Answer {
        self.post(COMPARISONS, request)
    }

    /// A comparison that must be answered.
    pub fn compare(&self, request: &Value) -> Value {
        self.calculate(COMPARISONS, request)
    }

    /// A comparison that must be refused with this status. Gives the problem.
    pub fn refuse(&self, status: u16, request: &Value) -> Value {
        let answer = self.post_comparison(request);
        assert_eq!(answer.status, status, "{request:#}\n{}", answer.text());
        answer.json()
    }

    fn check(&self, call: &Call, sent: Option<&Value>, answer: &Answer) {
        let mut faults = Vec::new();
        for (name, wanted) in EVERY_ANSWER {
            match (answer.header(name), wanted) {
                (None, _) => faults.push(format!("the header {name} is missing")),
                (Some(value), Some(wanted)) if value != wanted => faults.push(format!("{name}: {value}")),
                _ => {}
            }
        }
        if answer.header("server").is_some() {
            faults.push("the header server tells what serves".to_owned());
        }
        let document = Document::checked_in();
        if answer.status >= 400 {
            faults.extend(problem_faults(document, answer));
        }
        if !self.management {
            if answer.header("link").is_none() {
                faults.push("the header link is missing".to_owned());
            }
            faults.extend(self.document_faults(document, call, sent, answer));
        }
        assert!(
            faults.is_empty(),
            "{call:?}\nanswered {} {}\nfaults: {faults:#?}",
            answer.status,
            String::from_utf8_lossy(&answer.body)
        );
    }

    fn document_faults(&self, document: &Document, call: &Call, sent: Option<&Value>, answer: &Answer) -> Vec<String> {
        let Some(operation) = document.operation(call.method.as_str(), call.path()) else {
            // Outside the document there are only three things to say.
            let expected: &[u16] = match (document.knows_path(call.path()), call.method.as_str()) {
                (true, "OPTIONS") => &[204],
                (true, _) => &[405],
                // The page that shows the document is no part of what it describes.
                (false, "GET" | "HEAD") if call.path().starts_with("/docs/") => &[200, 304, 404],
                (false, _) => &[404, 308],
            };
            return if expected.contains(&answer.status) {
                Vec::new()
            } else {
                vec![format!("the document does not know this; expected one of {expected:?}")]
            };
        };
        let mut faults = Vec::new();
        let head = call.method == Method::HEAD;
        match operation.response(answer.status) {
            None => faults.push(format!("{} does not document this status", operation.id())),
            Some(response) => {
                let media_types = response.media_types();
                if media_types.is_empty() || head {
                    if !answer.body.is_empty() {
                        faults.push("a body where there should be none".to_owned());
                    }
                } else if !media_types.contains(&answer.media_type()) {
                    faults.push(format!("media type `{}` is not one of {media_types:?}", answer.media_type()));
                } else if answer.media_type() == LINES {
                    for line in answer.lines() {
                        faults.extend(response.body_faults(LINES, &line));
                    }
                } else if answer.media_type().ends_with("json") {
                    faults.extend(response.body_faults(answer.media_type(), &answer.json()));
                } else if answer.media_type() == "text/calendar" {
                    faults.extend(response.body_faults("text/calendar", &Value::String(answer.text().to_owned())));
                    faults.extend(diary::faults(answer.text()));
                }
                faults.extend(response.header_faults(|name| answer.header(name).map(str::to_owned)));
            }
        }
        if answer.status == 200 {
            for (name, value) in call.query() {
                match operation.query_parameter(name) {
                    None => faults.push(format!("the query parameter {name} is not documented, yet it was accepted")),
                    Some(schema) => {
                        let decoded = value.replace('+', " ").replace("%20", " ");
                        let read = match schema["type"].as_str() {
                            Some("boolean") => decoded.parse().map(Value::Bool).unwrap_or(Value::String(decoded)),
                            _ => Value::String(decoded),
                        };
                        let found = document.faults(schema, &read);
                        faults.extend(found.iter().map(|fault| format!("query {name}{fault}, yet it was accepted")));
                    }
                }
            }
        }
        if let (Some(schema), Some(sent)) = (operation.request_schema(), sent) {
            let refused = document.faults(schema, sent);
            match answer.status {
                200 | 422 if !refused.is_empty() => {
                    faults.push(format!("the document refuses this request, the service does not: {refused:?}"));
                }
                400 if refused.is_empty() => {
                    let codes = problem_codes(&answer.json());
                    if !codes.iter().all(|code| BEYOND_SCHEMA.contains(&code.as_str())) {
                        faults.push(format!("the service refuses this request ({codes:?}), the document does not"));
                    }
                }
                _ => {}
            }
        }
        faults
    }
}

/// The code of a problem and of each of its errors.
pub fn problem_codes(problem: &Value) -> BTreeSet<String> {
    let errors = problem["errors"].as_array().into_iter().flatten();
    let of_errors: BTreeSet<String> = errors.filter_map(|error| error["code"].as_str()).map(str::to_owned).collect();
    if of_errors.is_empty() { problem["code"].as_str().map(str::to_owned).into_iter().collect() } else { of_errors }
}

/// What is wrong with an error as a problem (RFC 9457).
fn problem_faults(document: &Document, answer: &Answer) -> Vec<String> {
    let mut faults = Vec::new();
    if answer.media_type() != "application/problem+json" {
        faults.push(format!("an error is a problem, not `{}`", answer.media_type()));
        return faults;
    }
    if answer.body.is_empty() {
        // The answer to HEAD.
        return faults;
    }
    let problem = answer.json();
    faults.extend(document.faults(&document.schema("Problem"), &problem));
    let code = problem["code"].as_str().unwrap_or_default();
    if problem["type"] != format!("/v1/problems/{code}") {
        faults.push("the type of the problem is not made from its code".to_owned());
    }
    if problem["status"] != answer.status {
        faults.push("the problem states another status".to_owned());
    }
    let request_id = answer.header("x-request-id").unwrap_or_default();
    // An id that the caller chose need not be a UUID, and then there is no URN for it.
    let urn = format!("urn:uuid:{request_id}");
    match problem["instance"].as_str() {
        Some(instance) if instance == urn => {}
        None if request_id.len() != 36 => {}
        other => faults.push(format!("the instance {other:?} is not that of request {request_id}")),
    }
    let details = std::iter::once(&problem)
        .chain(problem["errors"].as_array().into_iter().flatten())
        .filter_map(|part| part["detail"].as_str());
    for detail in details {
        if !detail.ends_with(['.', '?']) {
            faults.push(format!("not a sentence: {detail}"));
        }
        // Wording of the machinery says nothing to a caller.
        for word in ["serde", "Option<", "struct ", "String", "u64", "i64", "panicked", "expected value", "EOF", "::"] {
            if detail.contains(word) {
                faults.push(format!("`{word}` in the detail: {detail}"));
            }
        }
    }
    faults
}
