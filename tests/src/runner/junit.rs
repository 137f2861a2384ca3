//! The results as JUnit XML, the form that test reports of most build servers are read from.

use super::results::{Outcome, Result};
use std::fmt::Write as _;

/// The results.
pub fn xml(results: &[Result]) -> String {
    let count = |of: fn(&Outcome) -> bool| results.iter().filter(|result| of(&result.outcome)).count();
    let failures = count(|outcome| matches!(outcome, Outcome::Differs(_)));
    let errors = count(|outcome| matches!(outcome, Outcome::NotAnswered(_)));
    let seconds: f64 = results.iter().map(|result| result.seconds).sum();
    let totals =
        format!("tests=\"{}\" failures=\"{failures}\" errors=\"{errors}\" time=\"{seconds:.3}\"", results.len());
    let mut xml = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites {totals}>\n  <testsuite name=\"worked examples\" {totals}>\n"
    );
    for Result { case, outcome, seconds } in results {
        let name = escaped(&format!("{}: {}", case.id, case.title));
        // Writing to a text does not fail.
        let _ =
            write!(xml, "    <testcase classname=\"{}\" name=\"{name}\" time=\"{seconds:.3}\"", escaped(&case.topic));
        let kind = match outcome {
            Outcome::Passed => {
                xml.push_str("/>\n");
                continue;
            }
            Outcome::Differs(_) => "failure",
            Outcome::NotAnswered(_) => "error",
        };
        let text = escaped(&format!("source: {}\n{}", case.source, outcome.faults().join("\n")));
        let _ = write!(xml, ">\n      <{kind} message=\"{}\">{text}</{kind}>\n    </testcase>\n", outcome.word());
    }
    xml.push_str("  </testsuite>\n</testsuites>\n");
    xml
}

/// A text as it may stand in XML 1.0, which has no place for control characters.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\n' | '\t' => escaped.push(letter),
            '\u{fffe}' | '\u{ffff}' => escaped.push('\u{fffd}'),
            letter if letter.is_control() => escaped.push('\u{fffd}'),
            letter => escaped.push(letter),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn what_xml_has_no_place_for_is_replaced() {
        assert_eq!(escaped("a<b> & \"c\"\u{1}\n"), "a&lt;b&gt; &amp; &quot;c&quot;\u{fffd}\n");
    }
}
