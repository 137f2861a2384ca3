//! The layers: what every answer carries, however it came about.

use actix_web::http::Method;
use actix_web::test::TestRequest;
use actix_web::web::{Data, Payload};
use actix_web::{HttpRequest, HttpResponse};

use crate::problem::Problem;
use crate::routes::{Allowed, resource};
use crate::telemetry::Metrics;
use crate::test_support::{Answer, REQUEST, ask, ask_with};

fn assert_common_headers(answer: &Answer, of: &str) {
    for (name, expected) in [
        ("x-content-type-options", "nosniff"),
        ("referrer-policy", "no-referrer"),
        ("link", "</openapi.json>; rel=\"service-desc\", </docs/>; rel=\"service-doc\""),
    ] {
        assert_eq!(answer.header(name), Some(expected), "{name} of {of}");
    }
    assert!(answer.header("x-request-id").is_some_and(|id| !id.is_empty()), "the id of {of}");
    assert!(answer.header("content-security-policy").is_some_and(|policy| policy.starts_with("default-src 'none'")));
}

async fn panics(_: HttpRequest, _: Payload) -> Result<HttpResponse, Problem> {
    panic!("a fault in a handler")
}

#[actix_web::test]
async fn every_answer_carries_the_same_headers() {
    for (request, status) in [
        (TestRequest::get().uri("/v1/sectors"), 200),
        (TestRequest::with_uri("/v1/sectors").method(Method::HEAD), 200),
        (TestRequest::with_uri("/v1/sectors").method(Method::OPTIONS), 204),
        (TestRequest::get().uri("/v1/sectors?x=1"), 400),
        (TestRequest::get().uri("/nowhere"), 404),
        (TestRequest::get().uri("/v1/sectors/nothing"), 404),
        (TestRequest::delete().uri("/v1/sectors"), 405),
        (TestRequest::get().uri("/v1/sectors").insert_header(("accept", "text/html")), 406),
        (TestRequest::post().uri("/v1/comparisons").insert_header(("content-type", "text/csv")), 415),
        (TestRequest::get().uri("/docs"), 308),
        (TestRequest::get().uri("/docs/"), 200),
        (TestRequest::get().uri("/docs/nothing.js"), 404),
    ] {
        let answer = ask(request).await;
        assert_eq!(answer.status(), status);
        assert_common_headers(&answer, &status.to_string());
        if status >= 400 {
            assert_eq!(answer.header("content-type"), Some("application/problem+json"));
            assert_eq!(answer.json()["status"], status);
        }
    }
}

#[actix_web::test]
async fn a_body_too_large_is_refused_with_the_same_headers() {
    let body = " ".repeat(5000);
    let request = TestRequest::post().uri("/v1/comparisons").insert_header(("content-type", "application/json"));
    let answer = ask(request.set_payload(body)).await;
    assert_eq!(answer.status(), 413);
    assert_eq!(answer.json()["code"], "body_too_large");
    assert_common_headers(&answer, "413");
}

#[actix_web::test]
async fn a_panic_is_answered_counted_and_carries_the_same_headers() {
    let metrics = Data::new(Metrics::new().expect("metrics"));
    let request = TestRequest::get().uri("/panics").insert_header(("x-request-id", "mine"));
    let answer = ask_with(request, &metrics, |config| {
        config.service(resource("/panics", "/panics", Allowed::Get, panics));
    })
    .await;
    assert_eq!(answer.status(), 500);
    assert_eq!(answer.header("content-type"), Some("application/problem+json"));
    assert_eq!(answer.header("x-request-id"), Some("mine"));
    assert_eq!(answer.json()["code"], "internal_error");
    assert_common_headers(&answer, "a panic");
    let page = String::from_utf8(metrics.text().expect("text")).expect("UTF-8");
    for line in [
        "vat_schemes_panics_total 1",
        "vat_schemes_problems_total{code=\"internal_error\"} 1",
        "vat_schemes_http_requests_total{method=\"GET\",route=\"/panics\",status=\"500\"} 1",
        "vat_schemes_http_requests_in_flight 0",
    ] {
        assert!(page.contains(&format!("{line}\n")), "{line}");
    }
}

#[actix_web::test]
async fn made_up_addresses_and_methods_make_no_series() {
    let metrics = Data::new(Metrics::new().expect("metrics"));
    let method = Method::from_bytes(b"BREW").expect("a method");
    ask_with(TestRequest::with_uri("/pot/1").method(method), &metrics, crate::routes::configure).await;
    let page = String::from_utf8(metrics.text().expect("text")).expect("UTF-8");
    assert!(page.contains("vat_schemes_http_requests_total{method=\"other\",route=\"unmatched\",status=\"404\"} 1\n"));
    assert!(!page.contains("BREW") && !page.contains("/pot"));
}

#[actix_web::test]
async fn the_trace_of_a_request_stands_in_its_problem() {
    let parent = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01";
    let answer = ask(TestRequest::get().uri("/nowhere").insert_header(("traceparent", parent))).await;
    assert_eq!(answer.json()["trace_id"], "4bf92f3577b34da6a3ce929d0e0e4736");
    let answer = ask(TestRequest::get().uri("/nowhere").insert_header(("traceparent", "00-nonsense"))).await;
    assert!(answer.json().get("trace_id").is_none());
}

#[actix_web::test]
async fn outcomes_are_counted() {
    let metrics = Data::new(Metrics::new().expect("metrics"));
    let bodies = [REQUEST.to_owned(), "{}".to_owned(), REQUEST.replace("management-consultancy", "nothing")];
    for body in bodies {
        let request = TestRequest::post().uri("/v1/comparisons").insert_header(("content-type", "application/json"));
        ask_with(request.set_payload(body), &metrics, crate::routes::configure).await;
    }
    let page = String::from_utf8(metrics.text().expect("text")).expect("UTF-8");
    for line in ["{outcome=\"not_valid\"} 1", "{outcome=\"refused\"} 1"] {
        assert!(page.contains(&format!("vat_schemes_comparisons_total{line}\n")), "{line}");
    }
    assert!(page.contains("vat_schemes_problems_total{code=\"unknown_sector\"} 1\n"));
}

#[actix_web::test]
async fn outcomes_of_goods_tests_are_counted_apart() {
    let metrics = Data::new(Metrics::new().expect("metrics"));
    let test = r#"{"period":{"start":"2026-04-01","end":"2026-06-30"},"business":{"sector":"pubs"},"turnover":"9000.00","relevant_goods":"250.00"}"#;
    for body in [
        test.to_owned(),
        test.replace("250.00", "249.99"),
        test.replace("250.00", "0"),
        test.replace("pubs", "nothing"),
        "{}".to_owned(),
    ] {
        let request = TestRequest::post().uri("/v1/goods-tests").insert_header(("content-type", "application/json"));
        ask_with(request.set_payload(body), &metrics, crate::routes::configure).await;
    }
    let page = String::from_utf8(metrics.text().expect("text")).expect("UTF-8");
    for line in ["not_limited_cost\"} 1", "\"limited_cost\"} 2", "refused\"} 1", "not_valid\"} 1"] {
        let line = line.trim_start_matches('"');
        assert!(page.contains(&format!("vat_schemes_goods_tests_total{{outcome=\"{line}\n")), "{line}");
    }
    assert!(page.contains("vat_schemes_comparisons_total{outcome=\"refused\"} 0\n"));
}

#[actix_web::test]
async fn outcomes_of_partial_exemption_years_are_counted_apart() {
    let metrics = Data::new(Metrics::new().expect("metrics"));
    let year = r#"{"year":{"start":"2025-04-01","end":"2026-03-31"},"periods":[{"period":{"start":"2025-04-01","end":"2026-03-31"},"taxable_supplies":"50.00","exempt_supplies":"50.00","input_tax_taxable":"10.00","input_tax_exempt":"10.00","input_tax_both":"0","claimed":"20.00"}]}"#;
    for body in [
        year.to_owned(),
        year.replace("\"claimed\":\"20.00\"", "\"claimed\":\"19.99\""),
        year.replace("\"claimed\":\"20.00\"", "\"claimed\":\"20.01\""),
        year.replacen("2026-03-31", "2026-04-01", 1),
        "{}".to_owned(),
    ] {
        let request =
            TestRequest::post().uri("/v1/partial-exemption-years").insert_header(("content-type", "application/json"));
        ask_with(request.set_payload(body), &metrics, crate::routes::configure).await;
    }
    let page = String::from_utf8(metrics.text().expect("text")).expect("UTF-8");
    for outcome in ["no_adjustment", "to_claim", "to_repay", "refused", "not_valid"] {
        let line = format!("vat_schemes_partial_exemption_years_total{{outcome=\"{outcome}\"}} 1\n");
        assert!(page.contains(&line), "{line} in {page}");
    }
}
