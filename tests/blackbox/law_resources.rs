//! The law that the service shows: categories, kinds of spend, dated numbers, authorities, problems.

use crate::answers::collect_authorities;
use acceptance::client::{Call, Client};
use acceptance::document::Document;
use acceptance::figures::{list_at, text_at};
use acceptance::server::{Server, with_server};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Every resource that is read, with a concrete path.
fn readable() -> Vec<String> {
    Document::checked_in()
        .operations()
        .iter()
        .filter(|operation| operation.method == "get" && operation.path.starts_with("/v1/"))
        .map(|operation| crate::operations::target(operation.path))
        .collect()
}

#[test]
fn each_resource_has_a_tag_and_is_not_sent_twice() {
    with_server(|client| {
        let mut tags = BTreeSet::new();
        let mut targets = readable();
        targets.push("/openapi.json".to_owned());
        targets.push("/v1/sectors?on=2020-08-01&q=food".to_owned());
        for target in targets {
            let plain = client.get(&target);
            assert_eq!(plain.status, 200, "{target}");
            let tag = plain.header("etag").unwrap_or_else(|| panic!("{target} has no ETag")).to_owned();
            assert!(tag.starts_with('"') && tag.ends_with('"') && tag.len() > 10, "a strong tag: {tag}");
            assert!(tags.insert(tag.clone()), "two resources with one tag: {target}");
            assert_eq!(plain.header("cache-control"), Some("public, max-age=3600"), "{target}");
            assert_eq!(client.get(&target).header("etag"), Some(tag.as_str()), "{target}");
            for (sent, status) in [
                (tag.clone(), 304),
                (format!("W/{tag}"), 304),
                (format!("\"other\", {tag}"), 304),
                (format!("\"other\",W/{tag} , \"more\""), 304),
                ("*".to_owned(), 304),
                ("\"other\"".to_owned(), 200),
                (tag.trim_matches('"').to_owned(), 200),
            ] {
                let answer = client.send(&Call::new("GET", &target).header("if-none-match", &sent));
                assert_eq!(answer.status, status, "{target} If-None-Match: {sent}");
                assert_eq!(answer.header("etag"), Some(tag.as_str()), "{target}");
                assert_eq!(answer.body.is_empty(), status == 304, "{target}");
            }
        }
    });
}

#[test]
fn head_is_get_without_the_body() {
    with_server(|client| {
        let mut targets = readable();
        targets.extend(["/openapi.json".to_owned(), "/v1/nowhere".to_owned(), "/v1/sectors?x=1".to_owned()]);
        for target in targets {
            let (get, head) = (client.get(&target), client.send(&Call::new("HEAD", &target)));
            assert_eq!(get.status, head.status, "{target}");
            assert!(head.body.is_empty(), "{target}");
            assert_eq!(get.header_names(), head.header_names(), "{target}");
            for name in ["content-type", "content-length", "etag", "cache-control"] {
                // The length of a problem goes with its request id, which is as long each time.
                assert_eq!(get.header(name), head.header(name), "{target} {name}");
            }
            assert_eq!(get.header("content-length"), Some(get.body.len().to_string().as_str()), "{target}");
        }
    });
}

#[test]
fn two_servers_show_the_same_bytes() {
    let (one, other) = (Server::start(), Server::start());
    let (first, second) = (one.client(), other.client());
    for target in readable() {
        assert_eq!(first.get(&target).body, second.get(&target).body, "{target}");
    }
    one.finish();
    other.finish();
}

fn sector_percentage(client: &Client, id: &str, on: &str) -> String {
    let shown = client.get_json(&format!("/v1/sectors?on={on}"));
    list_at(&shown, "/items")
        .iter()
        .find(|item| text_at(item, "/id") == id)
        .map(|item| text_at(item, "/percentage").to_owned())
        .unwrap_or_else(|| panic!("no {id} on {on}"))
}

/// The Table of VAT Regulations 1995 reg 55K (SI 2010/2940 regulation 4) has 55 categories; the temporary percentages are
/// those of SI 2020/728 and Finance Act 2021 sections 92 and 93.
#[test]
fn the_categories_are_those_of_the_table_on_each_day() {
    with_server(|client| {
        for on in ["2011-01-04", "2020-07-14", "2020-07-15", "2021-10-01", "2022-04-01", "2026-04-01"] {
            let shown = client.get_json(&format!("/v1/sectors?on={on}"));
            assert_eq!(text_at(&shown, "/on"), on);
            let items = list_at(&shown, "/items");
            assert_eq!(items.len(), 55, "{on}");
            let ids: Vec<&str> = items.iter().map(|item| text_at(item, "/id")).collect();
            assert!(ids.is_sorted(), "{ids:?}");
            assert_eq!(ids.iter().collect::<BTreeSet<_>>().len(), 55);
            for item in items {
                assert!(text_at(item, "/from") <= on, "{item:#}");
                assert!(item.get("to").and_then(Value::as_str).is_none_or(|to| to >= on), "{item:#}");
            }
            for id in list_at(&shown, "/not_listed_elsewhere") {
                assert!(ids.contains(&id.as_str().unwrap_or_default()), "{id}");
            }
        }
        let catering = "catering-services-including-restaurants-and-takeaways";
        for (id, on, percentage) in [
            ("accountancy-or-book-keeping", "2026-04-01", "14.5"),
            ("retailing-food-confectionery-tobacco-newspapers-or-childrens-clothing", "2026-04-01", "4"),
            ("labour-only-building-or-construction-services", "2026-04-01", "14.5"),
            ("general-building-or-construction-services", "2026-04-01", "9.5"),
            (catering, "2020-07-14", "12.5"),
            (catering, "2020-07-15", "4.5"),
            (catering, "2021-09-30", "4.5"),
            (catering, "2021-10-01", "8.5"),
            (catering, "2022-03-31", "8.5"),
            (catering, "2022-04-01", "12.5"),
            ("hotel-or-accommodation", "2021-01-01", "0"),
        ] {
            assert_eq!(sector_percentage(client, id, on), percentage, "{id} on {on}");
        }
        let today = client.get_json("/v1/sectors");
        let edition_day = client.get_json("/v1/parameters");
        assert_eq!(text_at(&today, "/on"), text_at(&edition_day, "/on"), "one day stands for no day");
    });
}

#[test]
fn a_category_shows_its_history_without_gaps() {
    with_server(|client| {
        let hotel = client.get_json("/v1/sectors/hotel-or-accommodation");
        let history: Vec<(&str, &str, Option<&str>)> = list_at(&hotel, "/history")
            .iter()
            .map(|row| (text_at(row, "/percentage"), text_at(row, "/from"), row.get("to").and_then(Value::as_str)))
            .collect();
        assert_eq!(
            history,
            [
                ("10.5", "2011-01-04", Some("2020-07-14")),
                ("0", "2020-07-15", Some("2021-09-30")),
                ("5.5", "2021-10-01", Some("2022-03-31")),
                ("10.5", "2022-04-01", None),
            ]
        );
        let shown = client.get_json("/v1/sectors");
        for item in list_at(&shown, "/items") {
            let id = text_at(item, "/id");
            let sector = client.get_json(&format!("/v1/sectors/{id}"));
            assert_eq!((text_at(&sector, "/id"), &sector["name"]), (id, &item["name"]));
            let rows = list_at(&sector, "/history");
            assert_eq!(text_at(&rows[0], "/from"), "2011-01-04", "{id}");
            assert!(rows[rows.len() - 1].get("to").is_none(), "{id} is in force no more");
        }
    });
}

/// Looking for a trade: every word must be there, in the name of a category or in one of its trades (FRS7200 and FRS7300 list
/// trades).
#[test]
fn a_trade_finds_its_category() {
    with_server(|client| {
        let find = |words: &str| -> Vec<String> {
            let shown = client.get_json(&format!("/v1/sectors?q={}", words.replace(' ', "%20")));
            list_at(&shown, "/items").iter().map(|item| text_at(item, "/id").to_owned()).collect()
        };
        assert_eq!(find("accountants"), ["accountancy-or-book-keeping"]);
        assert_eq!(find("ACCOUNTANTS"), find("accountants"));
        assert!(find("photography").contains(&"photography".to_owned()));
        assert!(find("building labour").contains(&"labour-only-building-or-construction-services".to_owned()));
        assert_eq!(find("retailing vehicles"), find("vehicles retailing"), "the order of words");
        assert!(find("vehicles retailing").contains(&"retailing-vehicles-or-fuel".to_owned()));
        let nothing = client.get_json("/v1/sectors?q=astrogation");
        assert!(list_at(&nothing, "/items").is_empty());
        assert!(text_at(&nothing, "/note").len() > 40, "{nothing:#}");
        // With words, a category shows the trades that match; without, all of its own.
        let all = client.get_json("/v1/sectors");
        let trades = |shown: &Value, id: &str| -> usize {
            let item = list_at(shown, "/items").iter().find(|item| text_at(item, "/id") == id).cloned();
            item.map_or(0, |item| list_at(&item, "/trades").len())
        };
        let some = client.get_json("/v1/sectors?q=accountants");
        let id = "accountancy-or-book-keeping";
        assert!(trades(&some, id) >= 1 && trades(&some, id) <= trades(&all, id));
        let on_a_day = client.get_json("/v1/sectors?q=pubs&on=2020-08-01");
        assert_eq!(text_at(&on_a_day, "/on"), "2020-08-01");
        assert_eq!(text_at(&on_a_day, "/items/0/percentage"), "1");
    });
}

/// Numbers of the law on the days around their changes. Registration and deregistration: VATA 1994 Schedule 1 as amended each
/// year; Flat Rate Scheme: VAT Regulations 1995 regs 55A, 55E, 55L, 55M; partial exemption: reg 105A; rates: VATA 1994
/// sections 2 and 29A, Finance Act 2021 section 93.
#[test]
fn the_numbers_are_those_of_the_law_on_each_day() {
    with_server(|client| {
        for (id, on, value) in [
            ("vat_registration", "2017-03-31", Some("83000.00")),
            ("vat_registration", "2017-04-01", Some("85000.00")),
            ("vat_registration", "2024-03-31", Some("85000.00")),
            ("vat_registration", "2024-04-01", Some("90000.00")),
            ("vat_deregistration", "2024-03-31", Some("83000.00")),
            ("vat_deregistration", "2024-04-01", Some("88000.00")),
            ("frs_capital_goods", "2026-04-01", Some("2000.00")),
            ("limited_cost_business", "2017-03-31", None),
            ("limited_cost_business", "2017-04-01", Some("16.5")),
            ("vat_rate_standard", "2011-01-04", Some("20")),
            ("vat_rate_reduced", "2026-04-01", Some("5")),
            ("vat_rate_zero", "2026-04-01", Some("0")),
            ("vat_rate_hospitality", "2020-07-14", None),
            ("vat_rate_hospitality", "2020-07-15", Some("5")),
            ("vat_rate_hospitality", "2021-09-30", Some("5")),
            ("vat_rate_hospitality", "2021-10-01", Some("12.5")),
            ("vat_rate_hospitality", "2022-03-31", Some("12.5")),
            ("vat_rate_hospitality", "2022-04-01", None),
            ("car_lease_recoverable_share", "2026-04-01", Some("50")),
            ("earliest_period_start", "2026-04-01", Some("2011-01-04")),
            ("frs_postponed_imports", "2026-04-01", Some("2022-06-01")),
        ] {
            let shown = client.get_json(&format!("/v1/parameters?on={on}"));
            assert_eq!(text_at(&shown, "/on"), on);
            let found = list_at(&shown, "/items").iter().find(|item| text_at(item, "/id") == id);
            assert_eq!(found.map(|item| text_at(item, "/value")), value, "{id} on {on}");
        }
    });
}

#[test]
fn a_number_shows_its_history_in_order_and_the_same_as_on_a_day() {
    with_server(|client| {
        let shown = client.get_json("/v1/parameters");
        let on = text_at(&shown, "/on").to_owned();
        for item in list_at(&shown, "/items") {
            let id = text_at(item, "/id");
            let parameter = client.get_json(&format!("/v1/parameters/{id}"));
            for name in ["id", "title", "kind", "unit", "comparison"] {
                assert_eq!(parameter.get(name), item.get(name), "{id} {name}");
            }
            let rows = list_at(&parameter, "/history");
            let mut before: Option<&str> = None;
            for row in rows {
                let from = text_at(row, "/from");
                assert!(before.is_none_or(|before| before < from), "{id}: rows overlap or go back");
                assert!(row.get("to").and_then(Value::as_str).is_none_or(|to| to >= from), "{id}");
                before = Some(row.get("to").and_then(Value::as_str).unwrap_or("9999-12-31"));
            }
            let in_force: Vec<&Value> = rows
                .iter()
                .filter(|row| text_at(row, "/from") <= on.as_str())
                .filter(|row| row.get("to").and_then(Value::as_str).is_none_or(|to| to >= on.as_str()))
                .collect();
            let [row] = in_force[..] else { panic!("{id}: {} rows in force", in_force.len()) };
            for name in ["value", "from", "to", "evidence", "checked_on", "authority", "note"] {
                assert_eq!(row.get(name), item.get(name), "{id} {name}");
            }
        }
        let registration = client.get_json("/v1/parameters/vat_registration");
        assert_eq!(registration["kind"], "amount");
        assert!(list_at(&registration, "/history").len() > 5);
        // A number that is in force no more is still there by its name.
        let hospitality = client.get_json("/v1/parameters/vat_rate_hospitality");
        let values: Vec<&str> = list_at(&hospitality, "/history").iter().map(|row| text_at(row, "/value")).collect();
        assert_eq!(values, ["5", "12.5"]);
    });
}

/// Whatever names an authority names one that is listed, and official addresses are official.
#[test]
fn every_authority_named_is_listed() {
    with_server(|client| {
        let shown = client.get_json("/v1/authorities");
        let listed: BTreeSet<String> =
            list_at(&shown, "/items").iter().map(|item| text_at(item, "/id").to_owned()).collect();
        assert_eq!(listed.len(), list_at(&shown, "/items").len(), "an id stands twice");
        let mut named = BTreeSet::new();
        for target in readable() {
            collect_authorities(&client.get_json(&target), &mut named);
        }
        for (list, path) in [("/v1/sectors", "/v1/sectors"), ("/v1/parameters", "/v1/parameters")] {
            for item in list_at(&client.get_json(list), "/items") {
                collect_authorities(&client.get_json(&format!("{path}/{}", text_at(item, "/id"))), &mut named);
            }
        }
        let unknown: Vec<&String> = named.difference(&listed).collect();
        assert!(unknown.is_empty(), "{unknown:?}");
        assert!(named.len() > 30, "{named:?}");
        for item in list_at(&shown, "/items") {
            if let Some(url) = item.get("url").and_then(Value::as_str) {
                let host = url.split('/').nth(2).unwrap_or_default();
                let official = [
                    "gov.uk",
                    "gov.scot",
                    "thegazette.co.uk",
                    "legislation.gov.uk",
                    "nationalarchives.gov.uk",
                    "bailii.org",
                    "gov.im",
                    "parliament.uk",
                ];
                assert!(
                    official.iter().any(|known| host == *known || host.ends_with(&format!(".{known}"))),
                    "not an official address: {url}"
                );
            }
        }
    });
}

#[test]
fn kinds_of_spend_are_those_of_the_requests_and_say_why() {
    with_server(|client| {
        let shown = client.get_json("/v1/spend-kinds");
        let ids: Vec<&str> = list_at(&shown, "/items").iter().map(|item| text_at(item, "/id")).collect();
        assert_eq!(ids, Document::checked_in().words("SpendKind"));
        for item in list_at(&shown, "/items") {
            for name in ["relevant_goods_reason", "standard_recovery_reason", "flat_rate_claim_reason"] {
                assert!(text_at(item, &format!("/{name}")).ends_with('.'), "{item:#}");
            }
            assert!(!list_at(item, "/authority").is_empty(), "{item:#}");
        }
    });
}

#[test]
fn every_problem_says_what_it_means_and_who_does_what() {
    with_server(|client| {
        let mut meanings = BTreeSet::new();
        for code in Document::checked_in().words("ProblemCode") {
            let entry = client.get_json(&format!("/v1/problems/{code}"));
            assert_eq!((&entry["code"], &entry["type"]), (&json!(code), &json!(format!("/v1/problems/{code}"))));
            for name in ["meaning", "caller", "operator", "developer"] {
                assert!(text_at(&entry, &format!("/{name}")).ends_with('.'), "{code}: {name}");
            }
            assert!(meanings.insert(text_at(&entry, "/meaning").to_owned()), "{code} means what another does");
        }
        // A problem that occurs has the status and title of its kind.
        let problem = client.get("/v1/nowhere").json();
        let entry = client.get_json(text_at(&problem, "/type"));
        for name in ["status", "title", "code", "type"] {
            assert_eq!(problem[name], entry[name], "{name}");
        }
    });
}
