//! The published cases of `worked-examples/`.

use crate::client::COMPARISONS;
use crate::paths;
use serde::Deserialize;
use serde_json::Value;

/// The folder of the case files, relative to the root of the workspace.
pub const FOLDER: &str = "tests/worked-examples";

/// The topics that a case may have.
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
#[derive(Clone, Copy, Debug, Deserialize, PartialEq, Eq)]
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
    /// One of [`TOPICS`].
    pub topic: String,
    /// Where to send it; comparisons where nothing else is said.
    #[serde(default = "comparisons")]
    pub path: String,
    /// The body to send.
    pub request: Value,
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

/// Every case, in the order of its id.
pub fn all() -> Vec<Case> {
    let names = paths::files(FOLDER, ".json");
    assert!(!names.is_empty(), "no cases in {FOLDER}");
    let mut all: Vec<Case> = names
        .iter()
        .map(|name| {
            let text = paths::read(&format!("{FOLDER}/{name}"));
            let case: Case =
                serde_json::from_str(&text).unwrap_or_else(|error| panic!("{FOLDER}/{name} is not a case: {error}"));
            assert_eq!(format!("{}.json", case.id), *name, "a case's file is named for its id");
            case
        })
        .collect();
    all.sort_by(|one, other| one.id.cmp(&other.id));
    all
}

/// Where `answer` differs from `expected`: one line for each member that is missing or has another value.
pub fn differences(expected: &Value, answer: &Value) -> Vec<String> {
    let mut found = Vec::new();
    compare("", expected, Some(answer), &mut found);
    found
}

fn compare(pointer: &str, expected: &Value, answer: Option<&Value>, found: &mut Vec<String>) {
    match (expected, answer) {
        (Value::Null, None | Some(Value::Null)) => {}
        (Value::Object(members), Some(Value::Object(answers))) => {
            for (name, member) in members {
                compare(&format!("{pointer}/{name}"), member, answers.get(name), found);
            }
        }
        (Value::Array(items), Some(Value::Array(answers))) => {
            if items.len() != answers.len() {
                found.push(format!("{pointer}: expected {} entries, the answer has {}", items.len(), answers.len()));
            }
            for (index, (item, answer)) in items.iter().zip(answers).enumerate() {
                compare(&format!("{pointer}/{index}"), item, Some(answer), found);
            }
        }
        (expected, Some(answer)) if expected == answer => {}
        (expected, Some(answer)) => {
            found.push(format!("{pointer}: expected {expected}, the answer has {answer}"));
        }
        (expected, None) => found.push(format!("{pointer}: expected {expected}, the answer has nothing")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn an_answer_may_hold_more_than_is_expected() {
        let answer = json!({ "a": { "b": "1", "c": "2" }, "list": [{ "x": true, "y": "3" }] });
        assert!(differences(&json!({ "a": { "b": "1" }, "list": [{ "x": true }] }), &answer).is_empty());
        assert!(differences(&json!({ "gone": null }), &answer).is_empty());
    }

    #[test]
    fn every_difference_is_named() {
        let answer = json!({ "a": "1", "list": [1, 2], "here": "x" });
        let expected = json!({ "a": "2", "list": [1], "b": "3", "here": null });
        assert_eq!(
            differences(&expected, &answer),
            [
                "/a: expected \"2\", the answer has \"1\"",
                "/b: expected \"3\", the answer has nothing",
                "/here: expected null, the answer has \"x\"",
                "/list: expected 1 entries, the answer has 2",
            ]
        );
    }
}
