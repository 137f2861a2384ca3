//! HTTP itself: methods, media types, sizes, slow and broken bodies (RFC 9110, RFC 9112).

use acceptance::client::{Answer, Call, Client, problem_codes};
use acceptance::document::Document;
use acceptance::figures::consultant;
use acceptance::raw::{self, Connection, RawAnswer};
use acceptance::server::{Server, with_server};
use serde_json::{Value, json};
use std::collections::BTreeSet;

const COMPARISONS: &str = "/v1/comparisons";

fn comparison() -> Call {
    Call::post(COMPARISONS, consultant().to_string())
}

fn with_type(media_type: &str) -> Call {
    Call::new("POST", COMPARISONS).header("content-type", media_type).body(consultant().to_string())
}

/// The one code of a refusal.
fn code(answer: &Answer) -> String {
    let codes = problem_codes(&answer.json());
    assert_eq!(codes.len(), 1, "{codes:?}");
    codes.into_iter().next().unwrap_or_default()
}

/// The problem in a raw answer, held to the document.
pub fn raw_problem(answer: &RawAnswer) -> Value {
    assert_eq!(answer.header("content-type"), Some("application/problem+json"), "{answer:?}");
    for name in ["x-content-type-options", "referrer-policy", "content-security-policy", "x-request-id", "link"] {
        assert!(answer.header(name).is_some(), "the header {name} is missing: {answer:?}");
    }
    let problem: Value = serde_json::from_slice(&answer.body)
        .unwrap_or_else(|error| panic!("not JSON ({error}): {}", String::from_utf8_lossy(&answer.body)));
    let document = Document::checked_in();
    assert_eq!(document.faults(&document.schema("Problem"), &problem), Vec::<String>::new());
    assert_eq!(problem["status"], answer.status);
    problem
}

/// A body that never arrives in full.
pub fn slow_body(server: &Server) -> RawAnswer {
    let mut connection = Connection::open(server.address).expect("a connection");
    connection.write(&raw::post_head(COMPARISONS, 500)).expect("written");
    connection.write(b"{ \"period\":").expect("written");
    connection.read().expect("read").expect("an answer")
}

/// Codes of problems that come from HTTP rather than from a body's content.
pub fn codes(server: &Server, client: &Client) -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    for call in [
        Call::post(COMPARISONS, ""),
        Call::post(COMPARISONS, "{"),
        Call::post(COMPARISONS, "{} {}"),
        Call::post(COMPARISONS, b"\xff".to_vec()),
        Call::post(COMPARISONS, "{\"sales\":[],\"sales\":[]}"),
        Call::post(COMPARISONS, "[".repeat(100)),
        Call::post(COMPARISONS, " ".repeat(2 << 20)),
        Call::new("GET", "/v1/sectors?x=1"),
        Call::new("GET", "/v1/sectors?on=2010-12-31"),
        Call::new("GET", "/v1/nowhere"),
        Call::new("DELETE", COMPARISONS),
        comparison().header("accept", "text/csv"),
        with_type("text/plain"),
    ] {
        codes.extend(problem_codes(&client.send(&call).json()));
    }
    codes.extend(problem_codes(&raw_problem(&slow_body(server))));
    codes.extend(crate::limits_kept::codes(client));
    codes.extend(crate::keys::codes());
    codes
}

#[test]
fn every_path_takes_the_methods_of_the_document_and_names_them() {
    let document = Document::checked_in();
    with_server(|client| {
        let paths: BTreeSet<&str> = document.operations().iter().map(|operation| operation.path).collect();
        for path in paths {
            let mut wanted: BTreeSet<String> = document
                .operations()
                .iter()
                .filter(|operation| operation.path == path)
                .map(|operation| operation.method.to_ascii_uppercase())
                .collect();
            if wanted.contains("GET") {
                wanted.insert("HEAD".to_owned());
            }
            wanted.insert("OPTIONS".to_owned());
            let target = crate::operations::target(path);
            let allowed = |answer: &Answer| -> BTreeSet<String> {
                let allow = answer.header("allow").unwrap_or_else(|| panic!("{path}: no Allow"));
                allow.split(',').map(|method| method.trim().to_owned()).collect()
            };
            for method in ["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "TRACE", "BREW"] {
                let answer = client.send(&Call::new(method, &target));
                if wanted.contains(method) {
                    assert_ne!(answer.status, 405, "{method} {path}");
                    assert_ne!(answer.status, 404, "{method} {path}");
                } else {
                    assert_eq!(answer.status, 405, "{method} {path}");
                    assert_eq!(allowed(&answer), wanted, "{method} {path}");
                    if method != "HEAD" {
                        assert_eq!(code(&answer), "method_not_allowed");
                    }
                }
            }
            let options = client.send(&Call::new("OPTIONS", &target));
            assert_eq!((options.status, options.body.len()), (204, 0), "{path}");
            assert_eq!(allowed(&options), wanted, "{path}");
        }
    });
}

#[test]
fn what_is_not_there_is_not_found() {
    with_server(|client| {
        for target in [
            "/",
            "/v1",
            "/v1/",
            "/v1/comparisons/",
            "/v1/sectors/",
            "/v1/comparison",
            "/v2/comparisons",
            "/v1/sectors/no-such",
            "/v1/sectors/limited-cost-business",
            "/v1/sectors/Pubs",
            "/v1/parameters/no_such",
            "/v1/problems/no_such",
            "/v1/authorities/vata-1994-section-26b",
            "/metrics",
            "/health/live",
            "/health/ready",
            "/docs/../metrics",
            "/v1//sectors",
            "/v1/sectors/%00",
            "/v1/sectors/%ff",
            "/openapi.json/",
        ] {
            let answer = client.get(target);
            assert_eq!(answer.status, 404, "{target}");
            assert_eq!(code(&answer), "not_found", "{target}");
        }
        let hint = client.get("/v1/comparisons/").json();
        assert!(hint["detail"].as_str().is_some_and(|detail| detail.contains("/v1/comparisons")), "{hint}");
        let near = client.get("/v1/sectors/management-consultant").json();
        assert!(near["detail"].as_str().is_some_and(|detail| detail.contains("management-consultancy")), "{near}");
    });
}

#[test]
fn the_media_type_of_a_body_is_json_in_utf_8() {
    with_server(|client| {
        for media_type in [
            "application/json",
            "Application/JSON",
            "application/json; charset=utf-8",
            "application/json;charset=\"UTF-8\"",
        ] {
            assert_eq!(client.send(&with_type(media_type)).status, 200, "{media_type}");
        }
        let mut refused: Vec<Call> = [
            "text/plain",
            "application/x-www-form-urlencoded",
            "application/xml",
            "application/json; charset=latin1",
            "json",
            "*/*",
            "application/jsonx",
        ]
        .map(with_type)
        .into();
        refused.push(Call::new("POST", COMPARISONS).body(consultant().to_string()));
        refused.extend(
            ["gzip", "br", "deflate", "gzip, identity"]
                .map(|encoding| comparison().header("content-encoding", encoding)),
        );
        for call in refused {
            let answer = client.send(&call);
            assert_eq!(answer.status, 415, "{call:?}");
            assert_eq!(code(&answer), "media_type_not_supported");
            assert_eq!(answer.header("accept"), Some("application/json"));
        }
    });
}

#[test]
fn the_media_type_of_an_answer_is_one_that_the_caller_takes() {
    with_server(|client| {
        for accept in
            ["application/json", "*/*", "application/*", "text/html, application/json;q=0.1", "text/csv, */*;q=0.5"]
        {
            let answer = client.send(&comparison().header("accept", accept));
            assert_eq!((answer.status, answer.media_type()), (200, "application/json"), "{accept}");
        }
        for accept in ["text/html", "text/csv", "application/xml;q=0.9, text/*", "application/json;q=0"] {
            for call in [comparison(), Call::new("GET", "/v1/sectors")] {
                let answer = client.send(&call.header("accept", accept));
                assert_eq!(answer.status, 406, "{accept}");
                assert_eq!(code(&answer), "not_acceptable");
            }
        }
    });
}

#[test]
fn calculations_are_not_stored() {
    with_server(|client| {
        assert_eq!(client.send(&comparison()).header("cache-control"), Some("no-store"));
        let refused = client.send(&Call::post(COMPARISONS, "{}"));
        assert_eq!(refused.header("cache-control"), Some("no-store"));
    });
}

#[test]
fn a_body_has_its_greatest_size() {
    let most = 2_000;
    let server = Server::start_with(&["--max-body-bytes", "2000"]);
    let client = server.client();
    let body = consultant().to_string();
    let padded = |length: usize| format!("{body}{}", " ".repeat(length - body.len()));
    assert_eq!(client.send(&Call::post(COMPARISONS, padded(most))).status, 200);
    let answer = client.send(&Call::post(COMPARISONS, padded(most + 1)));
    assert_eq!((answer.status, code(&answer).as_str()), (413, "body_too_large"));
    // Announced too large: refused before it arrives.
    let mut connection = Connection::open(server.address).expect("a connection");
    connection.write(&raw::post_head(COMPARISONS, 10_000_000)).expect("written");
    let early = connection.read().expect("read").expect("an answer");
    assert_eq!((early.status, raw_problem(&early)["code"].clone()), (413, json!("body_too_large")));
    // Not announced at all: refused while it is read.
    let mut connection = Connection::open(server.address).expect("a connection");
    let head = "POST /v1/comparisons HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n";
    connection.write(head.as_bytes()).expect("written");
    let chunk = format!("3e8\r\n{}\r\n", " ".repeat(1_000));
    for _ in 0..3 {
        connection.write(chunk.as_bytes()).expect("written");
    }
    let unannounced = connection.read().expect("read").expect("an answer");
    assert_eq!((unannounced.status, raw_problem(&unannounced)["code"].clone()), (413, json!("body_too_large")));
    server.finish();
}

#[test]
fn the_default_size_takes_a_mebibyte() {
    with_server(|client| {
        let body = consultant().to_string();
        let padded = |length: usize| format!("{body}{}", " ".repeat(length - body.len()));
        assert_eq!(client.send(&Call::post(COMPARISONS, padded(1 << 20))).status, 200);
        assert_eq!(client.send(&Call::post(COMPARISONS, padded((1 << 20) + 1))).status, 413);
    });
}

#[test]
fn a_body_in_chunks_is_a_body() {
    with_server(|client| {
        // A length that is not known beforehand makes the client send chunks.
        let address = client.address();
        let body = consultant().to_string();
        let mut request =
            b"POST /v1/comparisons HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n".to_vec();
        for piece in body.as_bytes().chunks(7) {
            request.extend(format!("{:x}\r\n", piece.len()).into_bytes());
            request.extend(piece);
            request.extend(b"\r\n");
        }
        request.extend(b"0\r\n\r\n");
        let answer = raw::exchange(address, &request).expect("exchanged").expect("an answer");
        assert_eq!(answer.status, 200);
        assert_eq!(answer.body, client.send(&comparison()).body);
    });
}

#[test]
fn a_body_that_does_not_arrive_is_given_up() {
    let server = Server::start_with(&["--body-timeout-seconds", "1"]);
    let answer = slow_body(&server);
    assert_eq!(answer.status, 408, "{answer:?}");
    let problem = raw_problem(&answer);
    assert_eq!(problem["code"], "request_timeout");
    assert!(problem["detail"].as_str().is_some_and(|detail| detail.contains('1')), "{problem}");
    server.finish();
}

#[test]
fn a_caller_that_goes_away_harms_nobody() {
    let server = Server::start();
    let client = server.client();
    for bytes in [
        raw::post_head(COMPARISONS, 500),
        [raw::post_head(COMPARISONS, 500), b"{ \"per".to_vec()].concat(),
        b"POST /v1/compa".to_vec(),
        Vec::new(),
    ] {
        let mut connection = Connection::open(server.address).expect("a connection");
        connection.write(&bytes).expect("written");
        drop(connection);
    }
    // Bytes that are no HTTP are answered with an error or a closed connection.
    for bytes in
        [&b"hello\r\n\r\n"[..], b"GET /v1/sectors\r\n\r\n", b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n"]
    {
        if let Ok(Some(answer)) = raw::exchange(server.address, bytes) {
            assert_eq!(answer.status, 400, "{answer:?}");
        }
    }
    assert_eq!(client.send(&comparison()).status, 200);
    server.finish();
}
