//! The resources, in process.

use actix_web::http::Method;
use actix_web::test::TestRequest;
use serde_json::{Value, json};

use super::Resource;
use crate::test_support::{REQUEST, ask};

fn post(body: &str) -> TestRequest {
    post_to("/v1/comparisons", body)
}

fn post_to(path: &str, body: &str) -> TestRequest {
    TestRequest::post().uri(path).insert_header(("content-type", "application/json")).set_payload(body.to_owned())
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
        "/v1/fuel-scale-charges",
        "/v1/fuel-scale-charges?on=2025-05-01",
        "/v1/authorities",
        "/v1/worked-examples",
        "/v1/worked-examples?topic=imports&evidence=derived",
        "/v1/worked-examples/gt-exactly-250",
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
    assert_eq!(answer.body, *crate::openapi::checked_in().expect("packed").body());
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
        ("/v1/fuel-scale-charges?on=2025-04-30", 422, "date_outside_law"),
        ("/v1/fuel-scale-charges?on=2026-05-01", 422, "date_outside_law"),
        ("/v1/fuel-scale-charges?on=2025-02-29", 400, "date_not_valid"),
        ("/v1/fuel-scale-charges?q=car", 400, "query_not_valid"),
        ("/v1/worked-examples?topic=goods", 400, "query_not_valid"),
        ("/v1/worked-examples?evidence=", 400, "query_not_valid"),
        ("/v1/worked-examples?on=2026-01-01", 400, "query_not_valid"),
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

/// The request with more in it.
fn with(change: impl FnOnce(&mut Value)) -> Value {
    let mut request = serde_json::from_str(REQUEST).expect("JSON");
    change(&mut request);
    request
}

async fn places(request: &Value) -> Vec<(String, String)> {
    let answer = ask(post(&request.to_string())).await;
    assert_eq!(answer.status(), 422, "{}", String::from_utf8_lossy(&answer.body));
    let problem = answer.json();
    let errors = problem["errors"].as_array().expect("errors").iter();
    let text = |error: &Value, member: &str| error[member].as_str().expect("a text").to_owned();
    errors.map(|error| (text(error, "pointer"), text(error, "code"))).collect()
}

#[actix_web::test]
async fn a_goods_test_is_answered_without_being_stored() {
    let body = r#"{"reference":"g1","period":{"start":"2026-04-01","end":"2026-06-30"},"business":{"sector":"pubs"},"turnover":"20000.00","relevant_goods":"399.99"}"#;
    let answer = ask(post_to("/v1/goods-tests", body)).await;
    assert_eq!((answer.status(), answer.header("cache-control")), (200, Some("no-store")));
    let json = answer.json();
    assert_eq!(json["reference"], "g1");
    assert_eq!(json["goods_test"]["limited_cost_business"], true);
    assert_eq!(json["what_would_change"]["spend_needed"], "0.01");
    assert_eq!(json["what_would_change"]["most_turnover"], "19999.50");
    assert_eq!(ask(post_to("/v1/goods-tests", body)).await.body, answer.body);
    let refused = ask(post_to("/v1/goods-tests", &body.replace("pubs", "hairdressers"))).await;
    assert_eq!((refused.status(), refused.json()["code"].clone()), (422, json!("unknown_sector")));
    assert!(refused.json()["detail"].as_str().is_some_and(|detail| detail.contains("hairdressing-or-other")));
    let queried = ask(post_to("/v1/goods-tests?on=2026-06-30", body)).await;
    assert_eq!(queried.status(), 400);
}

#[actix_web::test]
async fn an_unknown_category_is_named_where_it_stands_with_those_near_it() {
    let request = with(|request| {
        request["business"]["sector_changes"] =
            json!([{ "on": "2026-05-10", "sector": "management-consulting", "reason": "activity_started" }]);
    });
    let problem = ask(post(&request.to_string())).await.json();
    assert_eq!(problem["errors"][0]["pointer"], "/business/sector_changes/0/sector");
    assert!(problem["detail"].as_str().is_some_and(|detail| detail.contains("\"management-consultancy\"")));
    let request = with(|request| {
        request["business"]["activities"] =
            json!([{ "description": "advice", "sector": "management-consulting", "expected_turnover": "1.00" }]);
    });
    let problem = ask(post(&request.to_string())).await.json();
    assert_eq!(problem["errors"][0]["pointer"], "/business/activities/0/sector");
    assert!(problem["detail"].as_str().is_some_and(|detail| detail.contains("\"management-consultancy\"")));
}

#[actix_web::test]
async fn money_received_is_the_same_period_worked_out_by_the_cash_method() {
    let lines = json!({
        "sales": [{ "treatment": "standard_rated", "gross": "19200.00" }],
        "purchases": [{ "spend": "services", "gross": "1440.00" }],
    });
    let both = ask(post(&with(|request| request["received"] = lines.clone()).to_string())).await.json();
    let alone = with(|request| {
        request["sales"] = lines["sales"].clone();
        request["purchases"] = lines["purchases"].clone();
        request["business"]["turnover_method"] = json!("cash");
    });
    let alone = ask(post(&alone.to_string())).await.json();
    let invoiced = ask(post(REQUEST)).await.json();
    for member in ["standard", "flat_rate", "comparison"] {
        assert_eq!(both["received"][member], alone[member], "{member}");
        assert_eq!(both[member], invoiced[member], "{member}");
    }
    assert_eq!(both["received"]["goods_test"]["lines"][0]["line"], "/received/purchases/0");
    assert!(invoiced.get("received").is_none() && invoiced.get("adjustments").is_none());
    // Each pointer leads somewhere, and each step names an earlier one of its own list.
    let request = with(|request| request["received"] = lines);
    for (answer, workings) in [(&both, &both["workings"]), (&both, &both["received"]["workings"])] {
        let mut known = std::collections::HashSet::new();
        for step in workings.as_array().expect("steps") {
            for operand in step["operands"].as_array().expect("operands") {
                match (operand["step"].as_str(), operand["input"].as_str()) {
                    (Some(earlier), None) => assert!(known.contains(earlier), "{earlier}"),
                    (None, Some(input)) => assert!(request.pointer(input).is_some(), "{input}"),
                    other => panic!("{other:?}"),
                }
            }
            for figure in step["figures"].as_array().expect("figures") {
                let figure = answer.pointer(figure.as_str().expect("a pointer")).expect("a figure");
                let shown = figure.as_str().map_or_else(|| figure.to_string(), str::to_owned);
                assert_eq!(step["result"], shown);
            }
            assert!(known.insert(step["id"].as_str().expect("an id")), "{}", step["id"]);
        }
        assert!(!known.is_empty());
    }
    let ids = |parameters: &Value| -> Vec<String> {
        parameters
            .as_array()
            .expect("a list")
            .iter()
            .map(|number| format!("{}{}", number["id"], number["from"]))
            .collect()
    };
    let used = ids(&both["law"]["parameters"]);
    assert!(ids(&alone["law"]["parameters"]).iter().all(|id| used.contains(id)));
}

#[actix_web::test]
async fn refusals_of_both_bases_come_together() {
    let both = with(|request| {
        request["business"]["sector"] = json!("nothing");
        request["sales"][0]["part"] = json!({ "start": "2026-03-01", "end": "2026-04-30" });
        request["received"] =
            json!({ "purchases": [{ "spend": "services", "net": "1.00", "vat": "0.20", "gross": "2.00" }] });
    });
    let expected = [
        ("/business/sector", "unknown_sector"),
        ("/sales/0/part", "part_outside_period"),
        ("/received/purchases/0", "amounts_do_not_add_up"),
    ];
    let found = places(&both).await;
    assert_eq!(found.iter().map(|(place, code)| (place.as_str(), code.as_str())).collect::<Vec<_>>(), expected);
    for method in ["cash", "retailer"] {
        let other = with(|request| {
            request["business"]["turnover_method"] = json!(method);
            request["received"] = json!({});
        });
        assert_eq!(places(&other).await, [("/received".to_owned(), "received_beside_other_method".to_owned())]);
    }
}

#[actix_web::test]
async fn the_second_basis_claims_what_is_the_same_on_both() {
    let request = with(|request| {
        request["business"]["registered_on"] = json!("2026-04-01");
        request["received"] = json!({});
        request["adjustments"] = json!({
            "pre_registration": [{ "kind": "services", "bought_on": "2026-02-01", "vat": "50.00" }],
        });
    });
    let answer = ask(post(&request.to_string())).await.json();
    assert_eq!(answer["flat_rate"]["input_tax"], "50.00", "{answer}");
    assert_eq!(answer["received"]["flat_rate"]["input_tax"], "50.00");
    assert_eq!(answer["adjustments"]["pre_registration"]["claimed"], "50.00");
    let steps = answer["received"]["workings"].as_array().expect("steps");
    let claimed = steps.iter().find(|step| step["id"] == "adjustments/pre_registration/claimed").expect("a step");
    assert_eq!(claimed["figures"], json!([]));
    assert_eq!(claimed["operands"][0]["input"], "/adjustments/pre_registration/0/vat");
    // Cash accounting has no bad debts.
    let request = with(|request| {
        request["received"] = json!({});
        request["adjustments"] =
            json!({ "bad_debts": [{ "supplied_on": "2025-10-01", "vat": "20.00", "gross": "120.00" }] });
    });
    let answer = ask(post(&request.to_string())).await.json();
    assert_eq!(answer["flat_rate"]["input_tax"], "20.00", "{answer}");
    assert_eq!(answer["received"]["flat_rate"]["input_tax"], "0.00");
    assert_eq!(answer["adjustments"]["bad_debts"][0]["earliest_claim"], "2026-04-01");
}

#[actix_web::test]
async fn the_reason_for_a_category_comes_back_with_and_without_activities() {
    let reason = with(|request| request["business"]["sector_reason"] = json!("advice is most of it"));
    let category = ask(post(&reason.to_string())).await.json()["category"].clone();
    assert_eq!(category, json!({ "reason": "advice is most of it", "shares": [], "notes": [] }));
    let activities = with(|request| {
        request["business"]["activities"] = json!([
            { "description": "advice", "sector": "management-consultancy", "expected_turnover": "30.00" },
            { "description": "courses", "sector": "business-services-not-listed-elsewhere", "expected_turnover": "10.00" },
        ]);
    });
    let category = ask(post(&activities.to_string())).await.json()["category"].clone();
    assert_eq!((&category["largest"], &category["agrees"]), (&json!("management-consultancy"), &json!(true)));
    assert_eq!(category["shares"][1]["description"], "courses");
    assert_eq!(category["shares"][1]["share_percentage"], "25.00");
    assert!(category.get("reason").is_none());
}

#[actix_web::test]
async fn receipts_for_earlier_supplies_and_days_outside_the_scheme_are_shown() {
    let request = with(|request| {
        request["business"]["turnover_method"] = json!("cash");
        request["sales"] = json!([
            { "treatment": "standard_rated", "gross": "1000.00", "percentage_at_supply": "13" },
            { "treatment": "standard_rated", "gross": "25000.00" },
        ]);
    });
    let answer = ask(post(&request.to_string())).await.json();
    assert_eq!(
        answer["flat_rate"]["earlier_supplies"],
        json!([{ "percentage": "13", "turnover": "1000.00", "vat": "130.00" }])
    );
    let request = with(|request| {
        request["business"]["flat_rate_until"] = json!("2026-05-31");
        request["split_estimate"] = json!("by_days");
    });
    let answer = ask(post(&request.to_string())).await.json();
    let days = json!([{ "start": "2026-06-01", "end": "2026-06-30" }]);
    assert_eq!(answer["flat_rate"]["outside_scheme"]["days"], days, "{answer}");
}
