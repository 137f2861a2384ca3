//! The table of bank holidays.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::findings::{File, Findings};
use crate::law::authority::AuthorityId;
use crate::law::bank_holidays::{BankHolidays, Nation, Proclaimed, Recurrence, Yearly};
use crate::law::evidence::Evidence;
use crate::law::tables::{BankHolidaysTable, HolidayEntry, ProclaimedEntry};

const FILE: File = File::BankHolidays;

/// The holidays; `None` where the table is not sound, which is then among the findings.
pub(super) fn read(findings: &mut Findings, table: BankHolidaysTable) -> Option<BankHolidays> {
    let mut day = |field, text: &str| findings.date(FILE, None, field, text);
    let known_from = day("known_from", &table.known_from);
    let proclaimed_to = day("proclaimed_to", &table.proclaimed_to);
    let known_to = day("known_to", &table.known_to);
    let checked_on = findings.checked_on(FILE, None, &table.checked_on);
    let mut cited = BTreeSet::new();
    let yearly: Vec<Option<Yearly>> = table.holiday.iter().map(|entry| holiday(findings, entry, &mut cited)).collect();
    let published = [known_from, proclaimed_to];
    let proclaimed: Vec<Option<Proclaimed>> =
        table.proclaimed.iter().map(|entry| proclaimed(findings, entry, published, &mut cited)).collect();
    let (known_from, proclaimed_to, known_to) = (known_from?, proclaimed_to?, known_to?);
    let whole_years = known_from.day_of_year() == 1 && known_to.day_of_year() == known_to.days_in_year();
    if !whole_years || known_from > proclaimed_to || proclaimed_to > known_to {
        findings.add(FILE, None, "known_from to known_to must be whole years, and proclaimed_to in them");
        return None;
    }
    let yearly: Option<Vec<Yearly>> = yearly.into_iter().collect();
    let proclaimed: Option<Vec<Proclaimed>> = proclaimed.into_iter().collect();
    let marks =
        table.holiday.iter().map(|entry| &entry.evidence).chain(table.proclaimed.iter().map(|entry| &entry.evidence));
    // From the strongest to the weakest.
    let evidence = Evidence::ALL.into_iter().rfind(|mark| marks.clone().any(|word| word == mark.as_str()));
    let days = [known_from, proclaimed_to, known_to];
    Some(BankHolidays::new(days, &yearly?, &proclaimed?, cited, evidence.unwrap_or(Evidence::Law), checked_on?))
}

fn holiday(findings: &mut Findings, entry: &HolidayEntry, cited: &mut BTreeSet<AuthorityId>) -> Option<Yearly> {
    let name = Some(entry.name.as_str());
    findings.text(FILE, name, "name", &entry.name);
    cited.extend(findings.authorities(FILE, name, &entry.authority));
    findings.evidence(FILE, name, &entry.evidence);
    let nations = nations(findings, name, &entry.nations);
    let recurrence = match (entry.day.as_deref(), entry.easter, entry.month, entry.monday.as_deref()) {
        (Some(day), None, None, None) => day_of_month(day),
        (None, Some(days), None, None) => Some(Recurrence::AfterEaster(days)),
        (None, None, Some(month @ 1..=12), Some("first")) => Some(Recurrence::FirstMonday(month)),
        (None, None, Some(month @ 1..=12), Some("last")) => Some(Recurrence::LastMonday(month)),
        _ => None,
    };
    if recurrence.is_none() {
        findings.add(FILE, name, "a holiday has day (01-31), or easter, or month with monday = first or last");
    }
    Some(Yearly { recurrence: recurrence?, nations })
}

/// A day that every year has, in the form 01-31.
fn day_of_month(text: &str) -> Option<Recurrence> {
    let day: Date = format!("2011-{text}").parse().ok()?;
    (day.to_string() == format!("2011-{text}")).then(|| Recurrence::DayOfMonth { month: day.month(), day: day.day() })
}

fn proclaimed(
    findings: &mut Findings,
    entry: &ProclaimedEntry,
    [known_from, proclaimed_to]: [Option<Date>; 2],
    cited: &mut BTreeSet<AuthorityId>,
) -> Option<Proclaimed> {
    let name = Some(entry.name.as_str());
    findings.text(FILE, name, "name", &entry.name);
    cited.extend(findings.authorities(FILE, name, &entry.authority));
    findings.evidence(FILE, name, &entry.evidence);
    let on = findings.date(FILE, name, "on", &entry.on);
    let in_place_of = entry.in_place_of.as_deref().map(|text| findings.date(FILE, name, "in_place_of", text));
    let nations = nations(findings, name, &entry.nations);
    let on = on?;
    if known_from.is_some_and(|first| on < first) || proclaimed_to.is_some_and(|last| on > last) {
        findings.add(FILE, name, format!("{on} is outside known_from to proclaimed_to"));
    }
    let in_place_of = match in_place_of {
        None => None,
        Some(day) => Some(day?),
    };
    if in_place_of.is_some_and(|day| day.year() != on.year()) {
        findings.add(FILE, name, "a day is moved within its year");
    }
    Some(Proclaimed { on, in_place_of, nations })
}

fn nations(findings: &mut Findings, name: Option<&str>, words: &[String]) -> Vec<Nation> {
    if words.is_empty() {
        findings.add(FILE, name, "no nation is named");
    }
    let mut nations = Vec::with_capacity(words.len());
    for word in words {
        match Nation::from_word(word) {
            Some(nation) => nations.push(nation),
            None => findings.add(FILE, name, format!("\"{word}\" is no nation with bank holidays of its own")),
        }
    }
    nations
}
