//! Comparisons by the thousand: lines of JSON in, lines of JSON out.

use crate::answers::assert_sound;
use acceptance::client::{BATCHES, Call, Client, LINES};
use acceptance::figures::{consultant, list_at, text_at};
use acceptance::raw::Connection;
use acceptance::server::{Server, with_server};
use serde_json::{Value, json};

/// The contract's example under a name, with sales of so many pounds.
fn named(reference: &str, pounds: usize) -> Value {
    let mut request = consultant();
    request["reference"] = json!(reference);
    request["sales"] = json!([{ "treatment": "standard_rated", "net": format!("{pounds}.00") }]);
    request
}

/// The lines that answer a body.
fn answered(client: &Client, target: &str, body: impl Into<Vec<u8>>) -> Vec<Value> {
    let answer = client.send(&Call::post_lines(target, body));
    assert_eq!(answer.status, 200, "{}", answer.text());
    assert_eq!(answer.media_type(), LINES);
    assert_eq!(answer.header("cache-control"), Some("no-store"));
    answer.lines()
}

fn body(lines: &[String]) -> String {
    lines.iter().map(|line| format!("{line}\n")).collect()
}

/// Each line is answered like a request of its own, byte for byte, in order.
#[test]
fn every_line_is_answered_like_a_request_of_its_own() {
    with_server(|client| {
        let requests: Vec<Value> = (1..=100).map(|number| named(&format!("client {number}"), number * 100)).collect();
        let lines = answered(client, BATCHES, body(&requests.iter().map(Value::to_string).collect::<Vec<_>>()));
        let (end, lines) = lines.split_last().expect("lines");
        assert_eq!(lines.len(), requests.len());
        for (position, (line, request)) in lines.iter().zip(&requests).enumerate() {
            assert_eq!(line["line"], position + 1);
            assert_eq!(line["reference"], request["reference"]);
            assert_eq!(line["answer"], client.compare(request), "{request:#}");
        }
        assert_eq!(end["end"]["lines"], 100);
        assert_eq!(end["end"]["answered"], 100);
        assert_eq!(end["end"]["complete"], true);
        assert!(!list_at(end, "/end/cautions").is_empty());
    });
}

/// A bad line has its problem and ends nothing; blank lines are passed over and counted; the reference of a bad line comes back where
/// it can be read.
#[test]
fn a_bad_line_ends_nothing() {
    with_server(|client| {
        let mut refused = named("refused", 1);
        refused["sales"][0]["vat"] = json!("0.20");
        refused["sales"][0]["gross"] = json!("9.99");
        let text = format!(
            "{}\r\n\n   \n{}\nnonsense\n{}\n{{\"reference\":\"short\"}}\n{{\"reference\":\"\"}}\n[]\n{}",
            named("first", 1000),
            refused,
            consultant(),
            named("last", 2000)
        );
        let lines = answered(client, BATCHES, text);
        let told: Vec<(u64, Option<&str>, Option<&str>)> = lines[..lines.len() - 1]
            .iter()
            .map(|line| {
                let number = line["line"].as_u64().expect("a number");
                (number, line["reference"].as_str(), line["problem"]["code"].as_str())
            })
            .collect();
        assert_eq!(
            told,
            [
                (1, Some("first"), None),
                (4, Some("refused"), Some("amounts_do_not_add_up")),
                (5, None, Some("json_not_valid")),
                (6, None, None),
                (7, Some("short"), Some("missing_field")),
                (8, None, Some("request_not_valid")),
                (9, None, Some("wrong_type")),
                (10, Some("last"), None),
            ]
        );
        let end = &lines[lines.len() - 1]["end"];
        let counts = ["lines", "answered", "refused", "not_valid", "failed", "blank"].map(|name| end[name].as_u64());
        assert_eq!(counts, [8, 3, 1, 4, 0, 2].map(Some));
        assert_eq!(end["complete"], true);
        let outcomes = ["standard", "flat_rate", "equal"].map(|name| end[name].as_u64().expect("a count"));
        assert_eq!(outcomes.iter().sum::<u64>(), 3);
    });
}

#[test]
fn no_lines_are_answered_with_the_closing_line_alone() {
    with_server(|client| {
        for (text, blank) in [("", 0), ("\n\n", 2)] {
            let lines = answered(client, BATCHES, text);
            assert_eq!(lines.len(), 1);
            assert_eq!(lines[0]["end"]["lines"], 0);
            assert_eq!(lines[0]["end"]["blank"], blank);
        }
    });
}

/// With `workings=false` an answer has everything but its steps; with `fields=summary` the same figures are left.
#[test]
fn the_caller_chooses_how_much_of_each_answer_comes() {
    with_server(|client| {
        let request = named("a client", 24_000);
        let whole = client.compare(&request);
        assert_sound(&request, &whole);
        let mut without = whole.clone();
        without["workings"] = json!([]);
        let answer = client.send(&Call::post("/v1/comparisons?workings=false", request.to_string()));
        assert_eq!(answer.json(), without);
        let answer = client.send(&Call::post("/v1/comparisons?workings=true", request.to_string()));
        assert_eq!(answer.json(), whole);

        let line = |query: &str| answered(client, &format!("{BATCHES}{query}"), request.to_string()).swap_remove(0);
        assert_eq!(line("")["answer"], whole);
        assert_eq!(line("?workings=true")["answer"], whole);
        assert_eq!(line("?workings=false")["answer"], without);
        let summary = line("?fields=summary");
        assert!(summary.get("answer").is_none());
        let summary = &summary["summary"];
        for scheme in ["standard", "flat_rate"] {
            assert_eq!(summary[scheme]["boxes"], whole[scheme]["boxes"]);
            assert_eq!(summary[scheme]["vat_payable"], whole[scheme]["vat_payable"]);
        }
        assert_eq!(summary["comparison"], whole["comparison"]);
        assert_eq!(summary["limited_cost_business"], whole["goods_test"]["limited_cost_business"]);
        let codes = |of: &Value| -> Vec<String> {
            list_at(of, "/warnings").iter().map(|warning| text_at(warning, "/code").to_owned()).collect()
        };
        assert_eq!(codes(summary), codes(&whole));
        assert_eq!(line("?fields=summary&workings=true")["summary"], *summary);
    });
}

#[test]
fn queries_and_media_types_are_checked_before_any_line() {
    with_server(|client| {
        for (target, pointer) in [
            (format!("{BATCHES}?fields=all"), "?fields"),
            (format!("{BATCHES}?workings=no"), "?workings"),
            (format!("{BATCHES}?line=1"), "?line"),
            ("/v1/comparisons?workings=0".to_owned(), "?workings"),
            ("/v1/comparisons?fields=summary".to_owned(), "?fields"),
        ] {
            let call = if target.starts_with(BATCHES) { Call::post_lines } else { Call::post };
            let answer = client.send(&call(&target, consultant().to_string()));
            assert_eq!(answer.status, 400, "{target}");
            assert_eq!(text_at(&answer.json(), "/errors/0/pointer"), pointer);
            assert_eq!(answer.json()["code"], "query_not_valid");
        }
        let answer = client.send(&Call::post(BATCHES, consultant().to_string()));
        assert_eq!((answer.status, answer.header("accept")), (415, Some(LINES)));
        let answer = client.send(&Call::post_lines(BATCHES, "").header("accept", "application/json"));
        assert_eq!(answer.status, 406);
        for accept in ["*/*", "application/*", "application/x-ndjson, application/json;q=0.1"] {
            assert_eq!(client.send(&Call::post_lines(BATCHES, "").header("accept", accept)).status, 200, "{accept}");
        }
    });
}

/// A line may have as many bytes as the body of one comparison, and one more is too many; the lines after it are answered.
#[test]
fn a_line_that_is_too_long_has_its_problem() {
    let plain = named("exact", 1000).to_string();
    let server = Server::start_with(&["--max-body-bytes", &plain.len().to_string()]);
    let client = server.client();
    let lines = answered(&client, BATCHES, format!("{plain}\n {plain}\n{plain}\n"));
    let told: Vec<_> = lines[..3].iter().map(|line| line["problem"]["code"].as_str()).collect();
    assert_eq!(told, [None, Some("body_too_large"), None]);
    assert_eq!(lines[3]["end"]["not_valid"], 1);
    server.finish();
}

/// Answers come while lines are still being sent, so that neither side waits for the end of the other.
#[test]
fn answers_come_while_lines_are_being_sent() {
    with_server(|client| {
        let mut connection = Connection::open(client.address()).expect("a connection");
        connection
            .write(format!("POST {BATCHES} HTTP/1.1\r\nHost: localhost\r\nContent-Type: {LINES}\r\nTransfer-Encoding: chunked\r\n\r\n").as_bytes())
            .expect("written");
        let mut come = String::new();
        for number in 1..=3 {
            let line = format!("{}\n", named(&format!("client {number}"), 100));
            connection.write(format!("{:x}\r\n{line}\r\n", line.len()).as_bytes()).expect("written");
            let wanted = format!("\"reference\":\"client {number}\"");
            while !come.contains(&wanted) {
                come.push_str(&connection.read_some().expect("an answer before the end of the lines"));
            }
        }
        connection.write(b"0\r\n\r\n").expect("written");
        while !come.contains("\"complete\":true") {
            come.push_str(&connection.read_some().expect("the closing line"));
        }
    });
}

/// A caller who stops sending is told how far it came; one who goes away ends the work and harms nobody.
#[test]
fn a_batch_that_breaks_off_says_so() {
    let server = Server::start_with(&["--body-timeout-seconds", "1"]);
    let mut connection = Connection::open(server.client().address()).expect("a connection");
    let line = format!("{}\n", named("only", 100));
    let head = format!(
        "POST {BATCHES} HTTP/1.1\r\nHost: localhost\r\nContent-Type: {LINES}\r\nContent-Length: {}\r\n\r\n{line}",
        line.len() + 1000
    );
    connection.write(head.as_bytes()).expect("written");
    let mut come = String::new();
    while !come.contains("\"broken_off\"") {
        come.push_str(&connection.read_some().expect("the closing line"));
    }
    assert!(come.contains("\"complete\":false") && come.contains("\"answered\":1"), "{come}");

    let gone = Connection::open(server.client().address());
    gone.and_then(|mut gone| gone.write(head.as_bytes())).expect("written");
    let client = server.client();
    client.compare(&consultant());
    server.finish();
}

/// The outcome of each line is counted like that of a comparison.
#[test]
fn the_lines_of_a_batch_are_counted() {
    let server = Server::start();
    let client = server.client();
    let lines = answered(&client, BATCHES, format!("{}\n{}\nnonsense\n", consultant(), named("small", 1)));
    let end = &lines[lines.len() - 1]["end"];
    let page = server.management_client().get("/metrics");
    for outcome in ["standard", "flat_rate", "equal", "refused", "not_valid"] {
        let line = format!("vat_schemes_comparisons_total{{outcome=\"{outcome}\"}} {}\n", end[outcome]);
        assert!(page.text().contains(&line), "{line}");
    }
    server.finish();
}
