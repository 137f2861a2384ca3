//! An iCalendar text, read back with a library that knows nothing of the service.

use icalendar::{Calendar, Component, DatePerhapsTime};
use std::collections::BTreeSet;

/// A day in a calendar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// What tells it from all others.
    pub uid: String,
    /// When what it says was last revised.
    pub stamp: String,
    /// The day, as `2026-08-07`.
    pub on: String,
    /// What it is, in a line.
    pub title: String,
    /// What there is to say.
    pub description: String,
}

/// The entries of a calendar, in its order.
pub fn entries(text: &str) -> Vec<Entry> {
    let calendar: Calendar = text.parse().unwrap_or_else(|error| panic!("not a calendar ({error}): {text}"));
    let events: Vec<Entry> = calendar
        .events()
        .map(|event| {
            let on = match event.get_start() {
                Some(DatePerhapsTime::Date(day)) => day.to_string(),
                other => panic!("an event that is not a whole day: {other:?}"),
            };
            let given = |value: Option<&str>| value.unwrap_or_default().to_owned();
            Entry {
                uid: given(event.get_uid()),
                stamp: given(event.property_value("DTSTAMP")),
                on,
                title: given(event.get_summary()),
                description: given(event.get_description()),
            }
        })
        .collect();
    assert_eq!(events.len(), text.matches("BEGIN:VEVENT").count(), "events were lost in reading");
    events
}

/// What is wrong with a calendar by RFC 5545: ends and lengths of lines (section 3.1), what a calendar and an event must hold (sections
/// 3.6, 3.6.1), and UIDs that stand twice (section 3.8.4.7).
pub fn faults(text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    if !text.ends_with("END:VCALENDAR\r\n") || !text.starts_with("BEGIN:VCALENDAR\r\n") {
        faults.push("it does not begin or end as a calendar".to_owned());
    }
    for line in text.split("\r\n") {
        if line.len() > 75 {
            faults.push(format!("a line of {} octets: {line}", line.len()));
        }
        if line.contains(['\r', '\n']) {
            faults.push(format!("a line that ends otherwise than with CRLF: {line:?}"));
        }
    }
    for once in ["VERSION:2.0", "PRODID:"] {
        if text.split("\r\n").filter(|line| line.starts_with(once)).count() != 1 {
            faults.push(format!("{once} does not stand once"));
        }
    }
    let mut uids = BTreeSet::new();
    for entry in entries(text) {
        let stamp = entry.stamp.as_bytes();
        let is_utc = stamp.len() == 16 && stamp[8] == b'T' && stamp[15] == b'Z';
        if !is_utc || entry.title.is_empty() || entry.description.is_empty() || entry.uid.is_empty() {
            faults.push(format!("an event that lacks something: {entry:?}"));
        }
        if !uids.insert(entry.uid.clone()) {
            faults.push(format!("two events with the UID {}", entry.uid));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    const ONE: &str = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//y//EN\r\nBEGIN:VEVENT\r\nUID:1@x\r\nDTSTAMP:20261125T000000Z\r\n\
                       DTSTART;VALUE=DATE:20260807\r\nSUMMARY:Due\\, now\r\nDESCRIPTION:First.\\nSe\r\n cond.\r\nEND:VEVENT\r\n\
                       END:VCALENDAR\r\n";

    #[test]
    fn a_calendar_is_read_back() {
        assert_eq!(faults(ONE), Vec::<String>::new());
        let [entry] = &entries(ONE)[..] else { panic!("one entry") };
        assert_eq!((entry.on.as_str(), entry.title.as_str()), ("2026-08-07", "Due, now"));
        assert_eq!(entry.description, "First.\nSecond.");
    }

    #[test]
    fn what_is_wrong_is_named() {
        let long = ONE.replace("Due", &"x".repeat(80));
        let twice = ONE.replace("END:VCALENDAR\r\n", &ONE[ONE.find("BEGIN:VEVENT").unwrap()..]);
        for (text, part) in [
            (long.as_str(), "octets"),
            (&ONE.replace("UID:1@x\r\n", "UID:1@x\n"), "CRLF"),
            (&ONE.replace("VERSION:2.0\r\n", ""), "VERSION"),
            (&ONE.replace("00Z", "00"), "lacks something"),
            (&twice, "two events"),
        ] {
            assert!(faults(text).iter().any(|fault| fault.contains(part)), "{part}: {:?}", faults(text));
        }
    }
}
