//! Each operation of the document gives each status that it documents, apart from a list that may only get shorter.

use crate::keys::{Spent, shown};
use crate::limits_kept::Busy;
use acceptance::client::{
    Answer, BATCHES, Call, Client, DATES, GOODS_TESTS, INVOICES, PARTIAL_EXEMPTION_YEARS, THRESHOLD_CHECKS,
};
use acceptance::document::{Document, Operation};
use acceptance::figures::consultant;
use acceptance::paths;
use acceptance::server::Server;
use std::collections::BTreeSet;

/// The operations and statuses that no black-box test can reach.
const UNREACHED: &str = "tests/unreached.txt";

/// A concrete path of a documented one.
pub fn target(path: &str) -> String {
    path.replace("/v1/sectors/{id}", "/v1/sectors/pubs")
        .replace("/v1/worked-examples/{id}", "/v1/worked-examples/gt-exactly-250")
        .replace("/v1/parameters/{id}", "/v1/parameters/vat_registration")
        .replace("{code}", "not_found")
}

/// A body that an operation answers.
fn body(operation: &Operation<'_>) -> String {
    match operation.path {
        GOODS_TESTS => crate::goods_tests::totals("29400.00", "325.00").to_string(),
        INVOICES => crate::invoices::part_paid().to_string(),
        THRESHOLD_CHECKS => r#"{"as_of":"2026-04-30"}"#.to_owned(),
        DATES => crate::due_dates::quarterly("2026-04-01", "2026-06-30").to_string(),
        PARTIAL_EXEMPTION_YEARS => crate::partial_exemption_years::one_quarter().to_string(),
        _ => consultant().to_string(),
    }
}

fn call(operation: &Operation<'_>) -> Call {
    let target = target(operation.path);
    match operation.method {
        "post" if operation.path == BATCHES => Call::post_lines(&target, body(operation)),
        "post" => Call::post(&target, body(operation)),
        method => Call::new(&method.to_ascii_uppercase(), &target),
    }
}

/// A request that should make an operation answer with a status; nothing where there is none.
fn provoke(
    server: &Server,
    client: &Client,
    busy: &Client,
    spent: &Spent,
    operation: &Operation<'_>,
    status: u16,
) -> Option<Answer> {
    let plain = target(operation.path);
    let answer = |call: Call| Some(client.send(&call));
    match status {
        200 => answer(call(operation)),
        304 => {
            let tag = client.send(&call(operation)).header("etag")?.to_owned();
            answer(call(operation).header("if-none-match", &tag))
        }
        400 if operation.path == BATCHES => answer(Call::post_lines(&format!("{plain}?unknown=1"), "{}")),
        400 if operation.method == "post" => answer(Call::post(&plain, "{}")),
        400 => answer(Call::new("GET", &format!("{plain}?unknown=1"))),
        401 => Some(spent.client.send(&call(operation))),
        404 => answer(Call::new("GET", &operation.path.replace("{id}", "nosuch").replace("{code}", "nosuch"))),
        405 => answer(Call::new("DELETE", &plain)),
        406 => answer(call(operation).header("accept", "text/csv")),
        408 => {
            let raw = crate::transport::slow_body(server);
            crate::transport::raw_problem(&raw);
            let response = operation.response(raw.status)?;
            let body = serde_json::from_slice(&raw.body).ok()?;
            assert_eq!(response.body_faults("application/problem+json", &body), Vec::<String>::new());
            assert_eq!(raw.status, 408);
            None
        }
        413 => answer(Call::post(&plain, " ".repeat(3_000))),
        415 => answer(call(operation).header("content-encoding", "gzip")),
        429 => Some(spent.client.send(&shown(call(operation), &spent.key))),
        431 => answer(call(operation).header("x-padding", &"x".repeat(20_000))),
        503 => Some(busy.send(&call(operation))),
        422 if operation.method == "post" => {
            // A period that ends before it starts; a tax point or a day seen from before the tables begin.
            let body = body(operation)
                .replace("2026-06-30", "2026-03-01")
                .replace("2025-06-30", "2010-12-31")
                .replace("2026-04-30", "2010-12-31");
            answer(Call::post(&plain, body))
        }
        422 => answer(Call::new("GET", &format!("{plain}?on=2010-12-31"))),
        _ => None,
    }
}

#[test]
fn every_documented_status_is_reached_or_on_the_list() {
    let server = Server::start_with(&["--body-timeout-seconds", "1", "--max-body-bytes", "2000"]);
    let client = server.client();
    let (busy, spent) = (Busy::start(), Spent::start());
    let mut unreached = BTreeSet::new();
    for operation in Document::checked_in().operations() {
        for status in operation.statuses() {
            let reached =
                provoke(&server, &client, &busy.client, &spent, &operation, status).map(|answer| answer.status);
            // The answer to a slow body comes over a connection of its own, and is checked there.
            if reached != Some(status) && status != 408 {
                unreached.insert(format!("{} {status}", operation.id()));
            }
        }
    }
    server.finish();
    busy.finish();
    spent.finish();
    let listed = paths::read(UNREACHED);
    let listed: BTreeSet<String> =
        listed.lines().filter(|line| !line.is_empty() && !line.starts_with('#')).map(str::to_owned).collect();
    let new: Vec<&String> = unreached.difference(&listed).collect();
    assert!(new.is_empty(), "documented, and not reached: {new:?}");
    let reached: Vec<&String> = listed.difference(&unreached).collect();
    assert!(reached.is_empty(), "reached by now, so take them off {UNREACHED}: {reached:?}");
    assert!(
        listed.iter().all(|line| line.ends_with(" 500")),
        "only the service's own failure may stay unreached: {listed:?}"
    );
}

#[test]
fn every_operation_documents_what_any_request_can_meet() {
    for operation in Document::checked_in().operations() {
        let statuses: BTreeSet<u16> = operation.statuses().into_iter().collect();
        assert!(statuses.contains(&200) || statuses.contains(&308), "{}", operation.id());
        if operation.path.starts_with("/v1/") {
            for status in [400, 401, 406, 429, 500] {
                assert!(statuses.contains(&status), "{} does not document {status}", operation.id());
            }
            let body: &[u16] = match operation.method {
                // Of a batch, each line has its own problem.
                "post" if operation.path == BATCHES => &[415],
                "post" => &[408, 413, 415, 422],
                _ => &[304],
            };
            for status in body {
                assert!(statuses.contains(status), "{} does not document {status}", operation.id());
            }
        }
    }
}
