//! The published cases of `worked-examples/`.

use crate::client::COMPARISONS;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// The folder of the case files, relative to the root of the workspace.
pub const FOLDER: &str = "tests/worked-examples";

/// The name and text of each case file.
const PUBLISHED: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/published.rs"));

/// The topics that a published case may have.
pub const TOPICS: [&str; 19] = [
    "adjustments",
    "after-tax",
    "break-even",
    "capital-goods",
    "cash-method",
    "category",
    "comparison",
    "dates",
    "first-year",
    "flat-rate",
    "goods-test",
    "imports",
    "input-tax",
    "part-of-period",
    "partial-exemption",
    "reverse-charge",
    "rounding",
    "standard",
    "thresholds",
];

/// How well the source supports the figures.
#[derive(Clone, Copy, Debug, Deserialize, Serialize, PartialEq, Eq)]
#[serde(rename_all = "snake_case")]
pub enum Evidence {
    /// Printed in an official example, manual, notice or decision.
    Official,
    /// Printed by a professional body, firm, teacher or commentator.
    Professional,
    /// The source states the rule; the figures are arithmetic on it.
    Derived,
}

/// One published case.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// Name of the case and of its file.
    pub id: String,
    /// The case in a line.
    pub title: String,
    /// What it is about; one of [`TOPICS`] for a published case.
    pub topic: String,
    /// Where to send it; comparisons where nothing else is said.
    #[serde(default = "comparisons")]
    pub path: String,
    /// The body to send.
    pub request: Value,
    /// The status of the answer.
    #[serde(default = "answered")]
    pub status: u16,
    /// The figures to find in the answer.
    pub expected: Value,
    /// Where the case, or its rule, is published.
    pub source: String,
    /// Official address of the source.
    pub url: Option<String>,
    /// How well the source supports the figures.
    pub evidence: Evidence,
    /// What was chosen or changed so that the case could be sent.
    pub adapted: Option<String>,
    /// A part of the case rests on common practice without an official source.
    #[serde(default)]
    pub common_practice: bool,
}

fn comparisons() -> String {
    COMPARISONS.to_owned()
}

fn answered() -> u16 {
    200
}

/// Every published case, in the order of its id.
pub fn all() -> Vec<Case> {
    assert!(!PUBLISHED.is_empty(), "no cases in {FOLDER}");
    let read = |(name, text): &(&str, &str)| match read(name, text) {
        Ok(case) => case,
        Err(faults) => panic!("{FOLDER}/{name}: {}", faults.join("; ")),
    };
    let mut all: Vec<Case> = PUBLISHED.iter().map(read).collect();
    all.sort_by(|one, other| one.id.cmp(&other.id));
    all
}

/// Reads a case file.
///
/// # Errors
/// What to change in it.
pub fn read(name: &str, text: &str) -> Result<Case, Vec<String>> {
    let case: Case = serde_json::from_str(text).map_err(|error| vec![format!("it is no case: {error}")])?;
    let mut faults = Vec::new();
    let mut hold = |holds: bool, otherwise: &str| {
        if !holds {
            faults.push(otherwise.to_owned());
        }
    };
    let word = |text: &str| {
        let letter = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || "-_".contains(letter);
        !text.is_empty() && text.chars().all(letter)
    };
    let object = |value: &Value| value.as_object().is_some_and(|members| !members.is_empty());
    hold(word(&case.id), "`id` is made of small letters, digits, hyphens and underscores");
    hold(name == format!("{}.json", case.id), &format!("the file of `{}` is named `{}.json`", case.id, case.id));
    hold(!case.title.trim().is_empty(), "`title` says the case in a line");
    hold(word(&case.topic), "`topic` is made of small letters and hyphens");
    hold(case.path.starts_with("/v1/"), "`path` begins with `/v1/`");
    hold(object(&case.request), "`request` is the JSON object to send");
    hold((200..600).contains(&case.status), "`status` is that of an answer, 200 to 599");
    hold(object(&case.expected), "`expected` is a JSON object with at least one member");
    hold(!case.source.trim().is_empty(), "`source` says where the case is published, or who made it");
    let address = case.url.as_ref().is_none_or(|url| url.starts_with("https://") || url.starts_with("http://"));
    hold(address, "`url` is a web address, or is left out");
    if faults.is_empty() { Ok(case) } else { Err(faults) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_bad_case_file_says_what_to_change() {
        let good = json!({
            "id": "own-1", "title": "Own", "topic": "own", "request": { "a": 1 }, "expected": { "b": "2" },
            "source": "Ours", "evidence": "derived"
        });
        assert!(read("own-1.json", &good.to_string()).is_ok());
        for (member, value, says) in [
            ("id", json!("Own 1"), "`id` is made"),
            ("title", json!(" "), "`title`"),
            ("topic", json!("Own"), "`topic`"),
            ("path", json!("/comparisons"), "`path`"),
            ("request", json!([]), "`request`"),
            ("status", json!(99), "`status`"),
            ("expected", json!({}), "`expected`"),
            ("source", json!(""), "`source`"),
            ("url", json!("ftp://x"), "`url`"),
            ("evidence", json!("hearsay"), "unknown variant `hearsay`"),
            ("expect", json!({}), "unknown field `expect`"),
        ] {
            let mut bad = good.clone();
            bad[member] = value;
            let faults = read("own-1.json", &bad.to_string()).err().unwrap_or_default();
            assert!(faults.iter().any(|fault| fault.contains(says)), "{member}: {faults:?}");
        }
        assert!(read("own-2.json", &good.to_string()).is_err());
        assert!(read("own-1.json", "{").is_err());
    }
}
