//! The log: what it tells of a request, and what it never tells.

use acceptance::client::{
    BATCHES, COMPARISONS, Call, DATES, GOODS_TESTS, INVOICES, PARTIAL_EXEMPTION_YEARS, THRESHOLD_CHECKS,
};
use acceptance::figures::{consultant, quarter};
use acceptance::log::{Line, text};
use acceptance::server::Server;
use serde_json::json;

fn requests(log: &[Line]) -> Vec<&Line> {
    log.iter().filter(|line| line.contains_key("route")).collect()
}

#[test]
fn a_request_is_one_line_with_its_facts() {
    let server = Server::start();
    let client = server.client();
    let trace = "4bf92f3577b34da6a3ce929d0e0e4736";
    let call = Call::post("/v1/comparisons", consultant().to_string())
        .header("traceparent", &format!("00-{trace}-00f067aa0ba902b7-01"))
        .header("x-request-id", "caller.said-1");
    let body = consultant().to_string();
    let answer = client.send(&call);
    client.get("/v1/sectors/pubs");
    client.get("/v1/nothing/here");
    let log = server.finish();
    let lines = requests(&log);
    assert_eq!(lines.len(), 3, "{lines:#?}");
    let line = lines[0];
    assert_eq!((text(line, "method"), text(line, "route")), ("POST", "/v1/comparisons"));
    assert_eq!((text(line, "request_id"), text(line, "trace_id")), ("caller.said-1", trace));
    assert_eq!(line.get("status"), Some(&json!(200)));
    assert_eq!(line.get("request_bytes"), Some(&json!(body.len())));
    assert_eq!(line.get("response_bytes"), Some(&json!(answer.body.len())));
    assert!(line.get("duration_microseconds").is_some_and(|value| value.is_u64()), "{line:?}");
    assert!(!line.contains_key("problem") || line["problem"].is_null(), "{line:?}");
    assert_eq!(text(lines[1], "route"), "/v1/sectors/{id}", "the pattern of the route, not the path");
    assert_eq!((text(lines[2], "problem"), lines[2].get("status")), ("not_found", Some(&json!(404))));
    assert!(!format!("{:?}", lines[2]).contains("nothing"), "the path of a request is not told");
}

/// Figures, references, ids of categories, bodies, queries and addresses stay with the caller, whatever the outcome.
#[test]
fn what_a_caller_sends_is_never_told() {
    let server = Server::start();
    let client = server.client();
    let mut request = quarter(
        json!([{ "treatment": "standard_rated", "net": "7654321.09" }]),
        json!([{ "spend": "services", "net": "1357913.57", "vat": "0.01" }]),
    );
    request["reference"] = json!("the client's secret");
    client.compare(&request);
    request["sales"][0]["treatment"] = json!("exempt");
    request["sales"][0]["vat"] = json!("2468024.68");
    client.refuse(422, &request);
    request["sales"][0]["vat"] = json!("2468024.6888");
    client.refuse(400, &request);
    client.send(&Call::post("/v1/comparisons", "{\"sales\": \"9753197.53\" this is not JSON"));
    client.get("/v1/sectors?q=secretquery");
    client.get("/v1/sectors?secretname=1");
    let (server_address, management) = (server.address.to_string(), server.management.to_string());
    let log = server.finish();
    for line in log {
        let line = format!("{line:?}");
        for secret in ["7654321", "1357913", "2468024", "9753197", "secret", "not-listed-elsewhere", "standard_rated"] {
            assert!(!line.contains(secret), "{secret} in {line}");
        }
        // The addresses bound are the operator's own; no other address is told.
        if !line.contains(&server_address) && !line.contains(&management) {
            assert!(!line.contains("127.0.0.1"), "an address in {line}");
        }
    }
}

/// Even where all is logged that can be, no operation lets a figure or a name of a caller into the log or the metrics, whether it
/// answers or refuses.
#[test]
fn nothing_that_a_caller_sends_is_told_at_any_level() {
    let mut server = Server::start_with(&["--log", "trace"]);
    for level in ["TRACE", "DEBUG", "WARN"] {
        server = server.expect_level(level);
    }
    let client = server.client();
    let amount = "7654321.09";
    let comparison = json!({
        "reference": "secretclient",
        "period": { "start": "2026-04-01", "end": "2026-06-30" },
        "business": { "registered_on": "2019-02-01", "sector": "pubs" },
        "sales": [{ "treatment": "standard_rated", "net": amount }]
    });
    let requests = [
        (COMPARISONS, comparison.clone()),
        (
            GOODS_TESTS,
            json!({ "reference": "secretclient", "period": { "start": "2026-04-01", "end": "2026-06-30" },
                "business": { "sector": "pubs" }, "turnover": amount, "relevant_goods": "1357913.57" }),
        ),
        (
            INVOICES,
            json!({ "reference": "secretclient", "date": "2026-06-30", "issued_by": "invoice_trader", "rounding": "line_nearest_penny",
                "lines": [{ "treatment": "standard_rated", "net": amount }] }),
        ),
        (
            THRESHOLD_CHECKS,
            json!({ "reference": "secretclient", "as_of": "2026-04-30",
                "turnover": { "past_year": { "taxable_supplies": amount } } }),
        ),
        (
            PARTIAL_EXEMPTION_YEARS,
            json!({ "reference": "secretclient", "year": { "start": "2026-01-01", "end": "2026-03-31" },
                "periods": [{ "period": { "start": "2026-01-01", "end": "2026-03-31" }, "taxable_supplies": amount,
                    "exempt_supplies": "0", "input_tax_taxable": "0", "input_tax_exempt": "0", "input_tax_both": "0" }] }),
        ),
        (
            DATES,
            json!({ "reference": "secretclient", "from": "2026-04-01", "until": "2026-06-30",
                "business": { "registered_on": "2020-01-01", "nation": "scotland", "return_periods": "monthly" } }),
        ),
    ];
    let mut answered = 0;
    for (path, request) in &requests {
        answered += usize::from(client.post(path, request).status == 200);
        // Refused: what was sent, with a field too many, an amount that is a number, and cut off in the middle.
        let mut more = request.clone();
        more["secretname"] = json!(amount);
        assert_eq!(client.post(path, &more).status, 400, "{path}");
        let number = request.to_string().replace("\"7654321.09\"", "7654321.09");
        client.send(&Call::post(path, number));
        assert_eq!(client.send(&Call::post(path, request.to_string().split_off(9))).status, 400, "{path}");
    }
    assert_eq!(answered, requests.len(), "each is answered when it is right");
    client.send(&Call::post_lines(BATCHES, format!("{comparison}\n{{\"sales\":\"7654321.09\"\n")));
    let metrics = server.management_client().get("/metrics").text().to_owned();
    drop(client);
    let log = server.finish();
    let told = log.iter().map(|line| format!("{line:?}")).chain(metrics.lines().map(str::to_owned));
    for line in told {
        for secret in ["7654321", "1357913", "secret", "standard_rated", "scotland"] {
            assert!(!line.contains(secret), "{secret} in {line}");
        }
    }
}

#[test]
fn the_log_says_when_the_service_starts_and_ends() {
    let server = Server::start();
    let (address, management) = (server.address.to_string(), server.management.to_string());
    let log = server.finish();
    let messages: Vec<&str> = log.iter().map(|line| text(line, "message")).collect();
    let position = |wanted: &str| {
        messages
            .iter()
            .position(|message| *message == wanted)
            .unwrap_or_else(|| panic!("`{wanted}` is not among {messages:?}"))
    };
    let (listening, stopping, stopped) = (position("listening"), position("stopping"), position("stopped"));
    assert!(listening < stopping && stopping < stopped, "{messages:?}");
    assert_eq!(stopped, messages.len() - 1, "{messages:?}");
    assert_eq!(text(&log[listening], "listen"), address);
    assert_eq!(text(&log[listening], "management_listen"), management);
    for line in &log {
        let time = text(line, "timestamp");
        assert!(time.len() >= 20 && time.as_bytes()[10] == b'T' && time.ends_with('Z'), "RFC 3339: {line:?}");
    }
}

/// A trace context that is not well-formed is left aside (W3C Trace Context, section 3.2).
#[test]
fn a_malformed_trace_context_is_left_aside() {
    let server = Server::start();
    let client = server.client();
    let good = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01";
    for header in [
        "",
        "x",
        "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7",
        "00-00000000000000000000000000000000-00f067aa0ba902b7-01",
        "00-4bf92f3577b34da6a3ce929d0e0e4736-0000000000000000-01",
        "00-4BF92F3577B34DA6A3CE929D0E0E4736-00f067aa0ba902b7-01",
        "ff-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01",
        "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01-more",
    ] {
        let answer = client.send(&Call::new("GET", "/v1/nowhere").header("traceparent", header));
        assert!(answer.json().get("trace_id").is_none(), "`{header}` was taken for a trace context");
    }
    let answer = client.send(&Call::new("GET", "/v1/nowhere").header("traceparent", good));
    assert_eq!(answer.json()["trace_id"], "4bf92f3577b34da6a3ce929d0e0e4736");
    let log = server.finish();
    let traced = requests(&log).into_iter().filter(|line| !text(line, "trace_id").is_empty()).count();
    assert_eq!(traced, 1);
}

/// An id of a request is taken from the caller only when it is harmless.
#[test]
fn a_request_id_is_taken_from_the_caller_when_it_is_well_formed() {
    let server = Server::start();
    let client = server.client();
    for (sent, taken) in [
        ("abc.DEF_1-2", true),
        (&*"i".repeat(64), true),
        (&*"i".repeat(65), false),
        ("two words", false),
        ("semi;colon", false),
    ] {
        let answer = client.send(&Call::new("GET", "/v1/parameters").header("x-request-id", sent));
        assert_eq!(answer.header("x-request-id") == Some(sent), taken, "{sent}");
    }
    let first = client.get("/v1/parameters").header("x-request-id").map(str::to_owned);
    let second = client.get("/v1/parameters").header("x-request-id").map(str::to_owned);
    assert!(first.is_some() && first != second, "ids of the service's own repeat themselves");
    server.finish();
}
