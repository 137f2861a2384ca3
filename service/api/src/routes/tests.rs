//! The resources, in process.

use actix_web::http::Method;
use actix_web::test::TestRequest;

use super::Resource;
use crate::test_support::{REQUEST, ask};

fn post(body: &str) -> TestRequest {
    TestRequest::post()
        .uri("/v1/comparisons")
        .insert_header(("content-type", "application/json"))
        .set_payload(body.to_owned())
}

#[actix_web::test]
async fn every_resource_takes_its_methods_and_names_them_to_others() {
    for resource in Resource::ALL {
        let path = resource
            .path()
            .replace("{id}", "vat_registration")
            .replace("{code}", "not_found")
            .replace("{file}", "swagger-ui.css");
        let allowed = resource.allowed().header();
        let answer = ask(TestRequest::with_uri(&path).method(Method::OPTIONS)).await;
        assert_eq!((answer.status(), answer.header("allow")), (204, Some(allowed)), "{path}");
        for method in
            [Method::GET, Method::HEAD, Method::POST, Method::PUT, Method::PATCH, Method::DELETE, Method::TRACE]
        {
            let answer = ask(TestRequest::with_uri(&path).method(method.clone())).await;
            let is_allowed = allowed.split(", ").any(|name| name == method.as_str());
            assert_eq!(answer.status() != 405, is_allowed, "{method} {path}");
            if !is_allowed {
                assert_eq!(answer.header("allow"), Some(allowed), "{method} {path}");
            }
        }
    }
}

#[actix_web::test]
async fn answers_to_get_are_known_by_their_tag() {
    for path in [
        "/v1/sectors",
        "/v1/sectors?on=2021-06-01",
        "/v1/sectors/pubs",
        "/v1/spend-kinds",
        "/v1/parameters",
        "/v1/parameters?on=2012-01-01",
        "/v1/parameters/vat_registration",
        "/v1/authorities",
        "/v1/problems/not_found",
        "/openapi.json",
        "/docs/",
    ] {
        let first = ask(TestRequest::get().uri(path)).await;
        assert_eq!(first.status(), 200, "{path}");
        assert_eq!(first.header("cache-control"), Some("public, max-age=3600"), "{path}");
        let tag = first.header("etag").expect("a tag");
        let again = ask(TestRequest::get().uri(path).insert_header(("if-none-match", tag))).await;
        assert_eq!((again.status(), again.header("etag")), (304, Some(tag)), "{path}");
        assert!(again.body.is_empty());
        let changed = ask(TestRequest::get().uri(path).insert_header(("if-none-match", "\"other\""))).await;
        assert_eq!(changed.body, first.body, "{path}");
    }
}

#[actix_web::test]
async fn the_document_served_is_the_one_kept() {
    let answer = ask(TestRequest::get().uri("/openapi.json")).await;
    assert_eq!(answer.body, crate::openapi::CHECKED_IN);
}

#[actix_web::test]
async fn sectors_are_found_by_words_of_a_trade() {
    let found = ask(TestRequest::get().uri("/v1/sectors?q=hairdressers")).await.json();
    assert_eq!(found["items"].as_array().map(Vec::len), Some(1));
    assert!(!found["items"][0]["trades"].as_array().expect("trades").is_empty());
    let nothing = ask(TestRequest::get().uri("/v1/sectors?q=zzz")).await.json();
    assert_eq!(nothing["items"].as_array().map(Vec::len), Some(0));
    assert!(!nothing["not_listed_elsewhere"].as_array().expect("ids").is_empty());
}

#[actix_web::test]
async fn the_percentage_shown_is_that_of_the_day() {
    for (on, percentage) in [("2020-07-14", "6.5"), ("2020-07-15", "1"), ("2021-10-01", "4"), ("2022-04-01", "6.5")] {
        let list = ask(TestRequest::get().uri(&format!("/v1/sectors?on={on}"))).await.json();
        let pubs = list["items"].as_array().expect("items").iter().find(|item| item["id"] == "pubs").expect("pubs");
        assert_eq!(pubs["percentage"], percentage, "{on}");
    }
}

#[actix_web::test]
async fn days_and_words_that_cannot_be_used_are_refused() {
    for (path, status, code) in [
        ("/v1/sectors?on=2011-01-03", 422, "date_outside_law"),
        ("/v1/parameters?on=2011-01-03", 422, "date_outside_law"),
        ("/v1/sectors?on=2026-02-30", 400, "date_not_valid"),
        ("/v1/parameters?on=1066-10-14", 400, "date_out_of_range"),
        ("/v1/sectors?q=", 400, "query_not_valid"),
        ("/v1/sectors?q=!!", 400, "query_not_valid"),
        ("/v1/sectors?on=2026-01-01&on=2026-01-01", 400, "query_not_valid"),
        ("/v1/parameters?q=vat", 400, "query_not_valid"),
    ] {
        let answer = ask(TestRequest::get().uri(path)).await;
        assert_eq!(answer.status(), status, "{path}");
        assert_eq!(answer.json()["code"], code, "{path}");
        assert!(answer.json()["errors"][0]["pointer"].as_str().is_some_and(|pointer| pointer.starts_with('?')));
    }
}

#[actix_web::test]
async fn an_id_that_is_nearly_right_is_put_right() {
    let answer = ask(TestRequest::get().uri("/v1/sectors/management-consulting")).await;
    assert_eq!(answer.status(), 404);
    assert!(answer.json()["detail"].as_str().is_some_and(|detail| detail.contains("\"management-consultancy\"")));
}

#[actix_web::test]
async fn a_comparison_is_the_same_byte_for_byte() {
    let first = ask(post(REQUEST)).await;
    assert_eq!(first.status(), 200, "{}", String::from_utf8_lossy(&first.body));
    assert_eq!(first.header("cache-control"), Some("no-store"));
    assert_eq!(first.json()["reference"], "r1");
    assert_eq!(ask(post(REQUEST)).await.body, first.body);
}

#[actix_web::test]
async fn every_problem_is_explained_at_its_address() {
    for code in crate::problem::ProblemCode::ALL {
        let answer = ask(TestRequest::get().uri(&code.address())).await;
        assert_eq!(answer.json()["code"], code.as_str());
        assert_eq!(answer.json()["type"], code.address());
    }
}
