//! The management port: health and metrics.

use acceptance::client::Call;
use acceptance::document::Document;
use acceptance::figures::{consultant, quarter};
use acceptance::metrics::Page;
use acceptance::paths;
use acceptance::server::Server;
use serde_json::json;
use std::collections::BTreeSet;

/// Every metric of the page: name, kind and names of labels.
const SNAPSHOT: &str = "tests/blackbox/metrics.txt";

fn page(server: &Server) -> Page {
    let answer = server.management_client().get("/metrics");
    assert_eq!(answer.status, 200);
    assert_eq!(answer.media_type(), "text/plain");
    Page::read(answer.text()).unwrap_or_else(|fault| panic!("{fault}"))
}

#[test]
fn health_is_told_in_json() {
    let server = Server::start();
    let client = server.management_client();
    assert_eq!(client.get_json("/health/live"), json!({ "status": "live" }));
    assert_eq!(client.get_json("/health/ready"), json!({ "status": "ready" }));
    for target in ["/health/live", "/health/ready", "/metrics"] {
        let head = client.send(&Call::new("HEAD", target));
        assert_eq!((head.status, head.body.len()), (200, 0), "{target}");
        let post = client.send(&Call::new("POST", target));
        assert_eq!(post.status, 405, "{target}");
        assert!(post.header("allow").is_some_and(|allow| allow.contains("GET")), "{target}");
    }
    for target in ["/", "/health", "/v1/sectors", "/openapi.json", "/health/live/"] {
        assert_eq!(client.get(target).status, 404, "{target}");
    }
    server.finish();
}

#[test]
fn the_metrics_page_is_the_one_that_is_written_down() {
    let server = Server::start();
    server.client().compare(&consultant());
    let page = page(&server);
    let shown = format!("{}\n", page.outline().join("\n"));
    assert_eq!(shown, paths::read(SNAPSHOT), "if the change is wanted, write it into {SNAPSHOT}");
    let unexplained: Vec<&String> = page.kinds.keys().filter(|name| !page.helped.contains(*name)).collect();
    assert!(unexplained.is_empty(), "metrics without a help text: {unexplained:?}");
    server.finish();
}

/// Counters whose labels are known beforehand stand at nothing from the first page on, so that a rate can be formed.
#[test]
fn counters_begin_at_nothing() {
    let server = Server::start();
    let page = page(&server);
    let codes: BTreeSet<String> = Document::checked_in().words("ProblemCode").into_iter().collect();
    assert_eq!(page.label_values("vat_schemes_problems_total", "code"), codes);
    let outcomes = ["standard", "flat_rate", "equal", "refused", "not_valid"].map(str::to_owned);
    assert_eq!(page.label_values("vat_schemes_comparisons_total", "outcome"), outcomes.into());
    for (sample, value) in &page.samples {
        if sample.starts_with("vat_schemes_problems_total")
            || sample.starts_with("vat_schemes_comparisons_total")
            || sample == "vat_schemes_panics_total"
            || sample == "vat_schemes_http_requests_in_flight"
        {
            assert!(*value == 0.0, "{sample} is {value}");
        }
    }
    server.finish();
}

#[test]
fn known_requests_are_counted_by_what_became_of_them() {
    let server = Server::start();
    let client = server.client();
    client.compare(&consultant());
    client.compare(&consultant());
    client.compare(&quarter(json!([]), json!([])));
    client.compare(&quarter(
        json!([{ "treatment": "standard_rated", "net": "1000.00" }]),
        json!([{ "spend": "materials", "net": "250.00", "vat": "0.00" }]),
    ));
    client.refuse(400, &json!({}));
    let mut backwards = consultant();
    backwards["period"]["end"] = json!("2026-01-01");
    client.refuse(422, &backwards);
    client.get("/v1/sectors/pubs");
    client.get("/v1/sectors/printing");
    client.get("/v1/sectors/nosuch");
    client.get("/v1/nowhere");
    client.get("/somewhere/else");
    client.send(&Call::new("DELETE", "/v1/sectors"));
    let page = page(&server);
    for (sample, value) in [
        ("vat_schemes_comparisons_total{outcome=\"standard\"}", 2.0),
        ("vat_schemes_comparisons_total{outcome=\"equal\"}", 1.0),
        ("vat_schemes_comparisons_total{outcome=\"flat_rate\"}", 1.0),
        ("vat_schemes_comparisons_total{outcome=\"not_valid\"}", 1.0),
        ("vat_schemes_comparisons_total{outcome=\"refused\"}", 1.0),
        ("vat_schemes_problems_total{code=\"missing_field\"}", 1.0),
        ("vat_schemes_problems_total{code=\"period_end_before_start\"}", 1.0),
        ("vat_schemes_problems_total{code=\"not_found\"}", 3.0),
        ("vat_schemes_problems_total{code=\"method_not_allowed\"}", 1.0),
        ("vat_schemes_problems_total{code=\"internal_error\"}", 0.0),
        ("vat_schemes_http_requests_total{method=\"POST\",route=\"/v1/comparisons\",status=\"200\"}", 4.0),
        ("vat_schemes_http_requests_total{method=\"POST\",route=\"/v1/comparisons\",status=\"400\"}", 1.0),
        ("vat_schemes_http_requests_total{method=\"POST\",route=\"/v1/comparisons\",status=\"422\"}", 1.0),
        ("vat_schemes_http_requests_total{method=\"GET\",route=\"/v1/sectors/{id}\",status=\"200\"}", 2.0),
        ("vat_schemes_http_requests_total{method=\"GET\",route=\"/v1/sectors/{id}\",status=\"404\"}", 1.0),
        ("vat_schemes_http_request_duration_seconds_count{method=\"POST\",route=\"/v1/comparisons\"}", 6.0),
        ("vat_schemes_panics_total", 0.0),
        ("vat_schemes_http_requests_in_flight", 0.0),
    ] {
        assert_eq!(
            page.value(sample),
            Some(value),
            "{sample}: {:#?}",
            page.samples.keys().filter(|key| key.starts_with("vat_")).collect::<Vec<_>>()
        );
    }
    server.finish();
}

/// Labels come from closed sets: what a caller makes up makes no series.
#[test]
fn callers_cannot_make_series() {
    let server = Server::start();
    let client = server.client();
    client.compare(&consultant());
    let before = page(&server).samples.len();
    let known = |server: &Server| -> BTreeSet<String> {
        let page = page(server);
        let mut values = page.label_values("vat_schemes_http_requests_total", "route");
        values.extend(page.label_values("vat_schemes_http_requests_total", "method"));
        values
    };
    client.send(&Call::new("BREW", "/v1/pot-0"));
    client.get("/v1/made-up-0");
    let first = known(&server);
    for number in 1..20 {
        client.get(&format!("/v1/made-up-{number}"));
        client.get(&format!("/v1/sectors/made-up-{number}"));
        client.send(&Call::new(&format!("BREW{number}"), &format!("/v1/pot-{number}")));
    }
    let after = known(&server);
    assert!(
        after.iter().all(|value| !value.contains("made-up") && !value.contains("pot-") && !value.contains("BREW")),
        "{after:?}"
    );
    assert!(after.difference(&first).all(|value| value == "/v1/sectors/{id}"), "{first:?} {after:?}");
    assert!(page(&server).samples.len() < before + 80);
    server.finish();
}

/// The classes of duration suit a service that answers in less than a millisecond.
#[test]
fn durations_are_counted_in_classes_from_50_microseconds_to_a_second() {
    let server = Server::start();
    server.client().compare(&consultant());
    let bounds = page(&server).label_values("vat_schemes_http_request_duration_seconds", "le");
    let expected = [
        "0.00005", "0.0001", "0.0002", "0.0005", "0.001", "0.002", "0.005", "0.01", "0.02", "0.05", "0.1", "0.2",
        "0.5", "1", "+Inf",
    ];
    assert_eq!(bounds, expected.map(str::to_owned).into());
    server.finish();
}

#[test]
fn the_page_names_the_edition_of_the_law() {
    let server = Server::start();
    let answer = server.client().compare(&consultant());
    let page = page(&server);
    let editions = page.label_values("vat_schemes_build_info", "law_edition");
    assert_eq!(editions, [answer["law"]["edition"].as_str().unwrap_or_default().to_owned()].into());
    let checked_on = answer["law"]["checked_on"].as_str().unwrap_or_default();
    let seconds = page.value("vat_schemes_law_checked_on_timestamp_seconds").unwrap_or_default();
    assert!(seconds == days_since_1970(checked_on) * 86_400.0, "{seconds} is not {checked_on}");
    server.finish();
}

fn days_since_1970(date: &str) -> f64 {
    let part = |range: std::ops::Range<usize>| -> i32 { date[range].parse().expect("a number") };
    let (year, month, day) = (part(0..4), part(5..7), part(8..10));
    let leap = |year: i32| year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let years: i32 = (1970..year).map(|year| if leap(year) { 366 } else { 365 }).sum();
    let months = [31, if leap(year) { 29 } else { 28 }, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let before = usize::try_from(month - 1).expect("a month");
    f64::from(years + months[..before].iter().sum::<i32>() + day - 1)
}

#[test]
fn days_are_counted_from_1970() {
    assert!(days_since_1970("1970-01-01") == 0.0 && days_since_1970("2000-03-01") == 11_017.0);
}

/// The catalogue for operators names every metric with its kind, and no other; each runbook that it names is there.
#[test]
fn the_catalogue_of_metrics_is_whole() {
    let catalogue = paths::read("deploy/METRICS.md");
    let rows = catalogue.lines().filter_map(|line| line.strip_prefix("| `"));
    let listed: BTreeSet<String> = rows
        .filter_map(|row| {
            let mut cells = row.split('|').map(str::trim);
            Some(format!("{} {}", cells.next()?.trim_end_matches('`'), cells.next()?))
        })
        .collect();
    let exported: BTreeSet<String> = paths::read(SNAPSHOT)
        .lines()
        .map(|line| line.split_whitespace().take(2).collect::<Vec<_>>().join(" "))
        .collect();
    assert_eq!(listed, exported);
    for link in catalogue.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
        assert!(paths::root().join("deploy").join(link).is_file(), "{link} is not there");
    }
}
