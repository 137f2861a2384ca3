//! Rows of values with their days: each read, then all of them held together.

use jiff::civil::Date;

use super::findings::{File, Findings};
use crate::law::dated::{Dated, Timeline};
use crate::law::tables::RowEntry;
use crate::money::{Money, Percentage};

/// Reads the rows of one entry; `None` if they are no timeline, which is then among the findings.
pub(super) fn timeline<T>(
    findings: &mut Findings,
    file: File,
    id: &str,
    entries: Vec<RowEntry>,
    value: impl Fn(&str) -> Result<T, String>,
) -> Option<Timeline<T>> {
    let count = entries.len();
    let rows: Vec<Dated<T>> = entries.into_iter().filter_map(|entry| row(findings, file, id, entry, &value)).collect();
    if count == 0 {
        findings.add(file, Some(id), "there is no row");
    }
    // A row that could not be read would only look like a gap.
    let whole = rows.len() == count && is_contiguous(findings, file, Some(id), &rows);
    if whole { Timeline::new(rows) } else { None }
}

fn row<T>(
    findings: &mut Findings,
    file: File,
    id: &str,
    entry: RowEntry,
    value: &impl Fn(&str) -> Result<T, String>,
) -> Option<Dated<T>> {
    let at = Some(id);
    let value = value(&entry.value).map_err(|what| findings.add(file, at, what)).ok();
    let from = findings.date(file, at, "from", &entry.from);
    let to = entry.to.as_deref().map(|text| findings.date(file, at, "to", text));
    let authority = findings.authorities(file, at, &entry.authority);
    let evidence = findings.evidence(file, at, &entry.evidence);
    let checked_on = findings.checked_on(file, at, &entry.checked_on);
    findings.optional_text(file, at, "note", entry.note.as_deref());
    let to = match to {
        None => None,
        Some(to) => Some(to?),
    };
    Some(Dated {
        value: value?,
        from: from?,
        to,
        authority,
        evidence: evidence?,
        checked_on: checked_on?,
        note: entry.note,
    })
}

/// Whether each row begins on the day after the one before it ends; what is wrong is then among the findings.
pub(super) fn is_contiguous<T>(findings: &mut Findings, file: File, id: Option<&str>, rows: &[Dated<T>]) -> bool {
    let mut contiguous = true;
    let mut report = |what: String| {
        findings.add(file, id, what);
        contiguous = false;
    };
    for row in rows {
        if let Some(to) = row.to.filter(|to| *to < row.from) {
            report(format!("the row from {} ends before it begins, on {to}", row.from));
        }
    }
    for pair in rows.windows(2) {
        let [before, after] = pair else { continue };
        let Some(to) = before.to else {
            report(format!("the row from {} has no end, yet another follows it", before.from));
            continue;
        };
        if to.tomorrow().ok() == Some(after.from) {
            continue;
        }
        if after.from <= before.from {
            report(format!("the row from {} stands after the row from {}", after.from, before.from));
        } else if after.from <= to {
            report(format!("the rows from {} and from {} overlap", before.from, after.from));
        } else {
            report(format!("there is a gap between {to} and {}", after.from));
        }
    }
    contiguous
}

/// An amount of the law: more than nothing.
pub(super) fn amount(text: &str) -> Result<Money, String> {
    match text.parse::<Money>() {
        Ok(amount) if amount > Money::ZERO => Ok(amount),
        Ok(_) => Err(format!("the amount {text} is not more than 0")),
        Err(error) => Err(format!("\"{text}\" is no amount: {error}")),
    }
}

/// A percentage: from 0 to 100.
pub(super) fn percentage(text: &str) -> Result<Percentage, String> {
    text.parse::<Percentage>().map_err(|error| format!("\"{text}\" is no percentage: {error}"))
}

/// A number of days: from 1 to a year's.
pub(super) fn days(text: &str) -> Result<u16, String> {
    match text.parse::<u16>() {
        Ok(days) if (1..=366).contains(&days) && days.to_string() == text => Ok(days),
        _ => Err(format!("\"{text}\" is no number of days from 1 to 366")),
    }
}

/// A number of months, of at most twenty years.
pub(super) fn months(text: &str) -> Result<u16, String> {
    match text.parse::<u16>() {
        Ok(months) if (1..=240).contains(&months) && months.to_string() == text => Ok(months),
        _ => Err(format!("\"{text}\" is no number of months from 1 to 240")),
    }
}

/// A day.
pub(super) fn day(text: &str) -> Result<Date, String> {
    match text.parse::<Date>() {
        Ok(date) if date.to_string() == text => Ok(date),
        _ => Err(format!("\"{text}\" is no day in the form 2017-04-01")),
    }
}
