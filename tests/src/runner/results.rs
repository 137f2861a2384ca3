//! What came back, for people and as JSON.

use crate::cases::Case;
use serde_json::json;
use std::io::{self, Write};

/// How a case came out.
pub enum Outcome {
    /// As published.
    Passed,
    /// Not so: each difference.
    Differs(Vec<String>),
    /// There was no answer to compare: why.
    NotAnswered(String),
}

impl Outcome {
    /// In a word.
    pub fn word(&self) -> &'static str {
        match self {
            Outcome::Passed => "passed",
            Outcome::Differs(_) => "differs",
            Outcome::NotAnswered(_) => "no answer",
        }
    }

    /// What is wrong.
    pub fn faults(&self) -> Vec<&str> {
        match self {
            Outcome::Passed => Vec::new(),
            Outcome::Differs(found) => found.iter().map(String::as_str).collect(),
            Outcome::NotAnswered(why) => vec![why],
        }
    }
}

/// A case and how it came out.
pub struct Result {
    /// The case.
    pub case: Case,
    /// How it came out.
    pub outcome: Outcome,
    /// How long it took.
    pub seconds: f64,
}

/// The cases, unsent.
pub fn list(cases: &[Case], out: &mut impl Write) -> io::Result<()> {
    let width = widest(cases.iter());
    for case in cases {
        writeln!(out, "{:width$}  {:18}  {}", case.id, case.topic, case.title)?;
    }
    writeln!(out, "{} cases", cases.len())
}

/// A line for each case, then what is wrong with those that did not pass, then how many passed.
pub fn table(results: &[Result], out: &mut impl Write) -> io::Result<()> {
    let width = widest(results.iter().map(|result| &result.case));
    writeln!(out, "{:9}  {:width$}  {:18}  {:>8}", "outcome", "case", "topic", "ms")?;
    for Result { case, outcome, seconds } in results {
        writeln!(out, "{:9}  {:width$}  {:18}  {:8.1}", outcome.word(), case.id, case.topic, seconds * 1000.0)?;
    }
    for Result { case, outcome, .. } in results {
        let faults = outcome.faults();
        if !faults.is_empty() {
            writeln!(out, "\n{}: {}\n  source: {}", case.id, case.title, case.source)?;
            for fault in faults {
                writeln!(out, "  {fault}")?;
            }
        }
    }
    let passed = results.iter().filter(|result| matches!(result.outcome, Outcome::Passed)).count();
    writeln!(out, "\n{passed} of {} cases passed. The figures are calculations, not advice.", results.len())
}

fn widest<'case>(cases: impl Iterator<Item = &'case Case>) -> usize {
    cases.map(|case| case.id.len()).max().unwrap_or(0)
}

/// The results as JSON.
pub fn json(base_url: &str, results: &[Result]) -> String {
    let cases: Vec<_> = results
        .iter()
        .map(|Result { case, outcome, seconds }| {
            json!({
                "id": case.id,
                "title": case.title,
                "topic": case.topic,
                "path": case.path,
                "source": case.source,
                "evidence": case.evidence,
                "outcome": outcome.word(),
                "faults": outcome.faults(),
                "seconds": seconds,
            })
        })
        .collect();
    let passed = results.iter().filter(|result| matches!(result.outcome, Outcome::Passed)).count();
    let all = json!({ "base_url": base_url, "sent": results.len(), "passed": passed, "cases": cases });
    format!("{all:#}\n")
}
