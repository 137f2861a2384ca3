//! The published cases, over HTTP; each file names its source.

use acceptance::cases::{self, FOLDER, TOPICS};
use acceptance::paths;
use acceptance::server::with_server;
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
                200 => cases::differences(&case.expected, &answer.json()),
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
