//! Reads the log of a server: one JSON object a line.

use serde_json::Value;
use std::collections::BTreeSet;

/// One line of the log.
pub type Line = serde_json::Map<String, Value>;

/// Reads a line of the log.
pub fn line(text: &str) -> Result<Line, String> {
    match serde_json::from_str(text) {
        Ok(Value::Object(members)) => Ok(members),
        Ok(_) => Err(format!("not an object: {text}")),
        Err(error) => Err(format!("not JSON ({error}): {text}")),
    }
}

/// The text of a member of a line, empty when there is none.
pub fn text<'line>(line: &'line Line, name: &str) -> &'line str {
    line.get(name).and_then(Value::as_str).unwrap_or_default()
}

/// Whether any value of the line holds one of `secrets`; the time of the line is not looked at, since its digits are anybody's.
pub fn tells<'secret>(line: &Line, secrets: &'secret BTreeSet<String>) -> Option<&'secret str> {
    line.iter()
        .filter(|(name, _)| *name != "timestamp")
        .find_map(|(_, value)| {
            let value = value.to_string();
            secrets.iter().find(|secret| value.contains(secret.as_str()))
        })
        .map(String::as_str)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_secret_in_any_value_is_told() {
        let read =
            line(r#"{"timestamp":"2026-01-01T00:00:40.1234Z","message":"sum 4321.00","nested":{"a":"9876.00"}}"#)
                .expect("a line");
        let secrets = |secret: &str| BTreeSet::from([secret.to_owned()]);
        assert_eq!(tells(&read, &secrets("4321.00")), Some("4321.00"));
        assert_eq!(tells(&read, &secrets("9876.00")), Some("9876.00"));
        assert_eq!(tells(&read, &secrets("40.1234")), None);
        assert!(line("listening on 8080").is_err());
        assert!(line("3").is_err());
    }
}
