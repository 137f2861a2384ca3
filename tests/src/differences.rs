//! Where an answer differs from what is expected of it.

use serde_json::Value;

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
