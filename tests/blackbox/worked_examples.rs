//! The published cases, over HTTP; each file names its source.

use acceptance::cases::{self, FOLDER, TOPICS};
use acceptance::differences::differences;
use acceptance::document::Document;
use acceptance::figures::list_at;
use acceptance::paths;
use acceptance::server::with_server;
use serde_json::json;
use std::collections::BTreeSet;

/// The topics that will bring the cases that are not there yet.
const LATER_TOPICS: [&str; 4] =
    ["The Flat Rate Scheme in full", "Standard accounting in full", "Limits, eligibility and dates", "none"];

#[test]
fn every_published_case_comes_back() {
    with_server(|client| {
        let mut faults = Vec::new();
        for case in cases::all() {
            let answer = client.post(&case.path, &case.request);
            let found = match answer.status {
                200 => differences(&case.expected, &answer.json()),
                status => vec![format!("answered {status}: {}", answer.text())],
            };
            faults.extend(found.iter().map(|fault| format!("{} ({}): {fault}", case.id, case.source)));
        }
        assert!(faults.is_empty(), "{} differences:\n{}", faults.len(), faults.join("\n"));
    });
}

#[test]
fn every_case_says_what_it_is_and_where_it_is_published() {
    let mut requests = BTreeSet::new();
    for case in cases::all() {
        let id = &case.id;
        assert!(TOPICS.contains(&case.topic.as_str()), "{id}: topic `{}`", case.topic);
        assert!(!case.title.trim().is_empty() && !case.source.trim().is_empty(), "{id}");
        assert!(case.url.as_ref().is_none_or(|url| url.starts_with("http")), "{id}: {:?}", case.url);
        assert!(case.adapted.as_ref().is_none_or(|text| text.ends_with('.')), "{id}: {:?}", case.adapted);
        assert!(case.expected.as_object().is_some_and(|expected| !expected.is_empty()), "{id} expects nothing");
        let fingerprint = format!("{}{}", case.request, case.expected);
        assert!(requests.insert(fingerprint), "{id} asks and expects what another case does");
    }
}

#[test]
fn a_case_is_either_here_or_in_the_table_of_those_to_come() {
    let here: BTreeSet<String> = cases::all().into_iter().map(|case| case.id).collect();
    let readme = paths::read(&format!("{FOLDER}/README.md"));
    let (_, table) = readme.split_once("## Not here yet").expect("the README has the table");
    let mut to_come = BTreeSet::new();
    for row in table.lines().filter(|line| line.starts_with("| `")) {
        let cells: Vec<&str> = row.trim_matches('|').split(" | ").map(str::trim).collect();
        let [id, title, source, reason, topic] = cells[..] else {
            panic!("not five cells: {row}");
        };
        let id = id.trim_matches('`');
        assert!(!title.is_empty() && !source.is_empty() && reason.ends_with('.'), "{row}");
        assert!(LATER_TOPICS.contains(&topic), "{id}: topic `{topic}`");
        assert!(!here.contains(id), "{id} is here and in the table");
        assert!(to_come.insert(id.to_owned()), "{id} stands twice in the table");
    }
    assert!(!to_come.is_empty(), "the table was not read");
}

/// The cases that the service shows are those of this folder, word for word.
#[test]
fn the_service_shows_every_case() {
    with_server(|client| {
        let shown = client.get_json("/v1/worked-examples");
        let shown = list_at(&shown, "/items");
        let all = cases::all();
        assert_eq!(shown.len(), all.len());
        for (shown, case) in shown.iter().zip(&all) {
            assert_eq!(shown["id"], case.id.as_str());
            assert_eq!((&shown["request"], &shown["expected"]), (&case.request, &case.expected), "{}", case.id);
            assert_eq!(shown["path"], case.path.as_str());
            assert_eq!(shown["source"], case.source.as_str());
            assert_eq!(shown["url"].as_str(), case.url.as_deref());
            assert_eq!(shown["adapted"].as_str(), case.adapted.as_deref());
            assert_eq!(shown["common_practice"], case.common_practice);
        }
        for case in all.iter().step_by(10) {
            let one = client.get_json(&format!("/v1/worked-examples/{}", case.id));
            assert!(shown.contains(&one), "{}", case.id);
        }
    });
}

#[test]
fn cases_are_found_by_topic_and_evidence() {
    let document = Document::checked_in();
    assert_eq!(document.words("GivenTopic"), TOPICS);
    with_server(|client| {
        let mut found = 0;
        for topic in TOPICS {
            for evidence in document.words("GivenCaseEvidence") {
                let list = client.get_json(&format!("/v1/worked-examples?topic={topic}&evidence={evidence}"));
                for case in list_at(&list, "/items") {
                    assert_eq!((&case["topic"], &case["evidence"]), (&json!(topic), &json!(evidence)));
                    found += 1;
                }
            }
        }
        assert_eq!(found, cases::all().len());
        let unknown = client.get("/v1/worked-examples?topic=good-test");
        assert_eq!(unknown.status, 400);
        assert!(unknown.text().contains("Near it is \\\"goods-test\\\"."), "{}", unknown.text());
        let missing = client.get("/v1/worked-examples/gt-exactly-25");
        assert_eq!(missing.status, 404);
        assert!(missing.text().contains("gt-exactly-250"), "{}", missing.text());
    });
}
