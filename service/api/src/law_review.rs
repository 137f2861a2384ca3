//! What of the law is due for review on a day, for the people who keep the tables.

use std::fmt::Write as _;

use anyhow::Context as _;
use jiff::civil::Date;
use serde_json::{Value, json};
use vat_schemes::law::{Law, Review, ReviewedRow, WhyDue};

/// What `law-review` was asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// When a row is due.
    pub review: Review,
    /// Whether the list is wanted as JSON.
    pub json: bool,
}

/// The rows that are due, as text or as JSON.
///
/// # Errors
/// Where the list cannot be written as JSON.
pub fn list(law: &Law, asked: &Asked) -> Result<String, anyhow::Error> {
    let rows = law.review(&asked.review);
    let all = rows.len();
    let due: Vec<ReviewedRow<'_>> = rows.into_iter().filter(|row| !row.due.is_empty()).collect();
    if asked.json { as_json(law, &asked.review, all, &due) } else { as_text(law, &asked.review, all, &due) }
}

fn as_text(law: &Law, review: &Review, all: usize, due: &[ReviewedRow<'_>]) -> Result<String, anyhow::Error> {
    let mut text = String::new();
    let (first, last) = review.near();
    writeln!(
        text,
        "The law tables, edition {}, last checked on {}, as reviewed on {}: {} of {all} rows are due.",
        law.edition(),
        law.checked_on(),
        review.on,
        due.len()
    )?;
    writeln!(
        text,
        "Due is what was last checked on {} or before, what no official text was opened for, and what begins or ends from {first} to {last}.",
        review.checked_by()
    )?;
    let mut table = None;
    for row in due {
        if table.replace(row.table) != Some(row.table) {
            writeln!(text, "\n{}", row.table.as_str())?;
        }
        writeln!(text, "\n  {}: {}", row.id, row.name)?;
        writeln!(text, "    value      {} ({}){}", row.value, row.unit, days(row))?;
        let checked_on = row.checked_on.map(|day| format!(", checked on {day}")).unwrap_or_default();
        writeln!(text, "    evidence   {}{checked_on}", row.evidence)?;
        for id in &row.authority {
            let url = law.authority(id.as_str()).and_then(|authority| authority.url());
            writeln!(text, "    authority  {}", [id.as_str(), url.unwrap_or("(no address)")].join(" "))?;
        }
        if let Some(note) = row.note {
            writeln!(text, "    note       {note}")?;
        }
        for why in &row.due {
            writeln!(text, "    due        {}", sentence(*why, row))?;
        }
    }
    Ok(text)
}

fn days(row: &ReviewedRow<'_>) -> String {
    match (row.from, row.to) {
        (Some(from), Some(to)) => format!(", from {from} to {to}"),
        (Some(from), None) => format!(", from {from}"),
        (None, _) => String::new(),
    }
}

/// Why, for a person.
fn sentence(why: WhyDue, row: &ReviewedRow<'_>) -> String {
    let day = |day: Option<Date>| day.map(|day| day.to_string()).unwrap_or_default();
    match why {
        WhyDue::NotCheckedLately => format!("last checked on {}", day(row.checked_on)),
        WhyDue::TextNotOpened => format!("no official text was opened for it ({})", row.evidence),
        WhyDue::Begins => format!("begins on {}", day(row.from)),
        WhyDue::Ends => format!("ends on {}", day(row.to)),
        WhyDue::NothingFollows => format!("nothing follows after {}", day(row.to)),
    }
}

fn as_json(law: &Law, review: &Review, all: usize, due: &[ReviewedRow<'_>]) -> Result<String, anyhow::Error> {
    let (first, last) = review.near();
    let rows: Vec<Value> = due.iter().map(|row| row_as_json(law, row)).collect();
    let list = json!({
        "edition": law.edition(),
        "checked_on": law.checked_on().to_string(),
        "reviewed_on": review.on.to_string(),
        "not_checked_since": review.checked_by().to_string(),
        "near": { "from": first.to_string(), "to": last.to_string() },
        "rows": all,
        "due": rows,
    });
    let mut text = serde_json::to_string_pretty(&list).context("the list cannot be written")?;
    text.push('\n');
    Ok(text)
}

fn row_as_json(law: &Law, row: &ReviewedRow<'_>) -> Value {
    let authority: Vec<Value> = row
        .authority
        .iter()
        .map(|id| {
            let known = law.authority(id.as_str());
            let (title, url) = (known.map(|known| known.title()), known.and_then(|known| known.url()));
            without_null(json!({ "id": id.as_str(), "title": title, "url": url }))
        })
        .collect();
    let due: Vec<&str> = row.due.iter().map(|why| why.as_str()).collect();
    let day = |day: Option<Date>| day.map(|day| day.to_string());
    without_null(json!({
        "table": row.table.as_str(),
        "id": row.id,
        "name": row.name,
        "value": row.value,
        "unit": row.unit,
        "from": day(row.from),
        "to": day(row.to),
        "checked_on": day(row.checked_on),
        "evidence": row.evidence.as_str(),
        "authority": authority,
        "note": row.note,
        "due": due,
    }))
}

/// A member without a value is left out, as everywhere in this service.
fn without_null(mut object: Value) -> Value {
    if let Some(members) = object.as_object_mut() {
        members.retain(|_, value| !value.is_null());
    }
    object
}

#[cfg(test)]
mod tests {
    use super::{Asked, list};
    use crate::test_support::law;
    use serde_json::Value;
    use vat_schemes::law::Review;

    fn asked(json: bool) -> Asked {
        Asked { review: Review { on: "2026-11-26".parse().expect("a day"), months: 12, around: 3 }, json }
    }

    #[test]
    fn the_text_names_value_authority_and_reason() {
        let text = list(&law(), &asked(false)).expect("a list");
        let at = text.find("\n  fuel_scale_charges: Road fuel scale charges\n").expect("the charges");
        let entry: Vec<&str> = text[at..].lines().skip(2).take(8).collect();
        for expected in [
            "    value      the table as a whole (pounds with VAT), from 2025-05-01 to 2026-04-30",
            "    evidence   practice, checked on 2026-11-25",
            "    due        no official text was opened for it (practice)",
            "    due        nothing follows after 2026-04-30",
        ] {
            assert!(entry.contains(&expected), "{expected} is not in {entry:#?}");
        }
        assert!(
            entry.iter().any(|line| line.starts_with("    authority  vata-1994-section-57 https://")),
            "{entry:#?}"
        );
        // Read in the law itself, checked the day before, and in force for years.
        assert!(!text.contains("vat_rate_standard"), "{text}");
    }

    #[test]
    fn the_json_holds_the_same_rows() {
        let text = list(&law(), &asked(false)).expect("a list");
        let json: Value = serde_json::from_str(&list(&law(), &asked(true)).expect("a list")).expect("JSON");
        let due = json["due"].as_array().expect("rows");
        assert!(text.contains(&format!("{} of {} rows are due", due.len(), json["rows"])), "{}", json["rows"]);
        assert_eq!(text.matches("\n    evidence   ").count(), due.len());
        assert!(due.iter().all(|row| row["due"].as_array().is_some_and(|why| !why.is_empty())));
        assert_eq!(json["near"]["to"], "2027-02-26");
    }
}
