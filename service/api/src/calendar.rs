//! Days as an iCalendar text (RFC 5545), for a diary to take in.
//!
//! The same days give the same bytes: an entry's UID is a digest of what it is about, and DTSTAMP is the day on which the law behind the days
//! was last checked, which is when what they say was last revised (RFC 5545 section 3.8.7.2). The service's own clock has no part in it.

use std::collections::BTreeMap;

use jiff::civil::Date;
use sha2::{Digest, Sha256};

/// The media type of an iCalendar text.
pub const CALENDAR: &str = "text/calendar";

/// The most octets of a line, without the end of the line (RFC 5545 section 3.1).
const MOST_OCTETS: usize = 75;

/// What made the calendar (RFC 5545 section 3.7.3).
const PRODUCT: &str = "-//vat-schemes//VAT dates//EN";

/// A calendar of whole days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Calendar {
    /// What a diary shows it as (RFC 7986 section 5.1).
    pub name: String,
    /// The day on which what the entries say was last revised.
    pub revised_on: Date,
    /// The entries.
    pub entries: Vec<Entry>,
}

/// A day in a calendar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The day.
    pub on: Date,
    /// What it is, in a line.
    pub title: String,
    /// What there is to say, one paragraph each.
    pub description: Vec<String>,
    /// What makes it the same entry when it is sent again: whose it is, its kind, and what it is counted from. None holds the end of a line.
    pub uid_parts: Vec<String>,
    /// How many days before a diary reminds of it; none where it does not.
    pub alarm_days: Option<u8>,
}

impl Calendar {
    /// The text of the calendar.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::with_capacity(512 + 1024 * self.entries.len());
        line(&mut text, "BEGIN:VCALENDAR");
        line(&mut text, "VERSION:2.0");
        line(&mut text, &format!("PRODID:{PRODUCT}"));
        line(&mut text, "CALSCALE:GREGORIAN");
        line(&mut text, &format!("NAME:{}", escaped(&self.name)));
        let mut seen: BTreeMap<String, u32> = BTreeMap::new();
        for entry in &self.entries {
            let digest = entry.digest();
            let before = seen.entry(digest.clone()).or_default();
            // Two days of the same kind counted from the same day are two entries.
            let uid = if *before == 0 { digest } else { format!("{digest}-{before}") };
            *before += 1;
            entry.write(&mut text, &uid, self.revised_on);
        }
        line(&mut text, "END:VCALENDAR");
        text
    }
}

impl Entry {
    fn digest(&self) -> String {
        let digest = Sha256::digest(self.uid_parts.join("\n"));
        digest.iter().take(16).map(|byte| format!("{byte:02x}")).collect()
    }

    fn write(&self, text: &mut String, uid: &str, revised_on: Date) {
        line(text, "BEGIN:VEVENT");
        line(text, &format!("UID:{uid}@vat-schemes"));
        line(text, &format!("DTSTAMP:{}T000000Z", basic(revised_on)));
        line(text, &format!("DTSTART;VALUE=DATE:{}", basic(self.on)));
        line(text, &format!("SUMMARY:{}", escaped(&self.title)));
        line(text, &format!("DESCRIPTION:{}", escaped(&self.description.join("\n"))));
        // The day takes up none of the diary's time.
        line(text, "TRANSP:TRANSPARENT");
        if let Some(days) = self.alarm_days {
            line(text, "BEGIN:VALARM");
            line(text, "ACTION:DISPLAY");
            line(text, &format!("DESCRIPTION:{}", escaped(&self.title)));
            line(text, &format!("TRIGGER:-P{days}D"));
            line(text, "END:VALARM");
        }
        line(text, "END:VEVENT");
    }
}

/// A day as iCalendar writes it: 20260807.
fn basic(day: Date) -> String {
    format!("{:04}{:02}{:02}", day.year(), day.month(), day.day())
}

/// A text with the characters that mean something else escaped (RFC 5545 section 3.3.11), and other control characters left out.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + 16);
    for character in text.chars() {
        match character {
            '\\' | ';' | ',' => {
                escaped.push('\\');
                escaped.push(character);
            }
            '\n' => escaped.push_str("\\n"),
            other if other.is_control() => {}
            other => escaped.push(other),
        }
    }
    escaped
}

/// Writes a content line, folded where it is too long: never inside a character (RFC 5545 section 3.1).
fn line(text: &mut String, content: &str) {
    let mut octets = 0;
    for character in content.chars() {
        if octets + character.len_utf8() > MOST_OCTETS {
            text.push_str("\r\n ");
            octets = 1;
        }
        text.push(character);
        octets += character.len_utf8();
    }
    text.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::{Calendar, Entry, escaped, line};

    fn entry(kind: &str) -> Entry {
        Entry {
            on: date(2026, 8, 7),
            title: "Return; due, now".to_owned(),
            description: vec!["First.".to_owned(), "Second.".to_owned()],
            uid_parts: vec!["client".to_owned(), kind.to_owned()],
            alarm_days: Some(7),
        }
    }

    fn calendar(entries: Vec<Entry>) -> Calendar {
        Calendar { name: "VAT dates".to_owned(), revised_on: date(2026, 11, 25), entries }
    }

    #[test]
    fn an_entry_has_the_form_of_the_standard() {
        let text = calendar(vec![entry("a")]).text();
        let lines: Vec<&str> = text.split("\r\n").collect();
        let uid = lines.iter().find(|line| line.starts_with("UID:")).expect("a UID");
        assert_eq!(uid.len(), "UID:".len() + 32 + "@vat-schemes".len());
        let others: Vec<&str> = lines.iter().copied().filter(|line| !line.starts_with("UID:")).collect();
        assert_eq!(
            others,
            [
                "BEGIN:VCALENDAR",
                "VERSION:2.0",
                "PRODID:-//vat-schemes//VAT dates//EN",
                "CALSCALE:GREGORIAN",
                "NAME:VAT dates",
                "BEGIN:VEVENT",
                "DTSTAMP:20261125T000000Z",
                "DTSTART;VALUE=DATE:20260807",
                "SUMMARY:Return\\; due\\, now",
                "DESCRIPTION:First.\\nSecond.",
                "TRANSP:TRANSPARENT",
                "BEGIN:VALARM",
                "ACTION:DISPLAY",
                "DESCRIPTION:Return\\; due\\, now",
                "TRIGGER:-P7D",
                "END:VALARM",
                "END:VEVENT",
                "END:VCALENDAR",
                "",
            ]
        );
    }

    #[test]
    fn an_entry_without_an_alarm_has_none() {
        let quiet = Entry { alarm_days: None, ..entry("a") };
        assert!(!calendar(vec![quiet]).text().contains("VALARM"));
    }

    #[test]
    fn uids_follow_what_an_entry_is_about_and_are_never_the_same_twice() {
        let uids = |entries: Vec<Entry>| -> Vec<String> {
            let text = calendar(entries).text();
            text.lines().filter(|line| line.starts_with("UID:")).map(str::to_owned).collect()
        };
        let moved = Entry { on: date(2026, 8, 6), title: "Other words".to_owned(), ..entry("a") };
        assert_eq!(uids(vec![entry("a")]), uids(vec![moved]));
        assert_ne!(uids(vec![entry("a")]), uids(vec![entry("b")]));
        let twice = uids(vec![entry("a"), entry("a"), entry("b"), entry("a")]);
        let unique: std::collections::BTreeSet<&String> = twice.iter().collect();
        assert_eq!((twice.len(), unique.len()), (4, 4));
        assert_eq!(twice, uids(vec![entry("a"), entry("a"), entry("b"), entry("a")]));
    }

    #[test]
    fn long_lines_are_folded_between_characters() {
        for content in ["x".repeat(75), "x".repeat(76), "é".repeat(200), format!("SUMMARY:{}", "£1,000 – ".repeat(40))]
        {
            let mut text = String::new();
            line(&mut text, &content);
            let body = text.strip_suffix("\r\n").expect("an end of line");
            let lines: Vec<&str> = body.split("\r\n").collect();
            assert!(lines.iter().all(|line| line.len() <= 75), "{lines:?}");
            assert!(lines.iter().skip(1).all(|line| line.starts_with(' ')), "{lines:?}");
            assert_eq!(body.replace("\r\n ", ""), content);
            assert_eq!(lines.len() == 1, content.len() <= 75);
        }
    }

    #[test]
    fn what_means_something_else_is_escaped() {
        assert_eq!(escaped("a\\b;c,d\ne\r\u{7}f:\"g\""), "a\\\\b\\;c\\,d\\nef:\"g\"");
    }
}
