//! Values that apply from one day to another.

use jiff::civil::Date;
use thiserror::Error;

use super::authority::AuthorityId;
use super::evidence::Evidence;
use super::parameter::ParameterId;

/// A value and the days on which it applies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dated<T> {
    /// The value.
    pub value: T,
    /// The first day on which it applies.
    pub from: Date,
    /// The last day on which it applies; none while it is still in force.
    pub to: Option<Date>,
    /// The authorities that say so.
    pub authority: Vec<AuthorityId>,
    /// How well they support it.
    pub evidence: Evidence,
    /// The day on which the row was last checked.
    pub checked_on: Date,
    /// What a reader should know besides.
    pub note: Option<String>,
}

impl<T> Dated<T> {
    /// Whether the value applies on this day.
    pub fn applies_on(&self, on: Date) -> bool {
        self.from <= on && self.to.is_none_or(|to| on <= to)
    }
}

impl<T: Copy> Dated<T> {
    /// The row as what a look-up answers, under the name of what it belongs to.
    pub fn in_force<'law>(&'law self, id: LawId<'law>) -> InForce<'law, T> {
        InForce {
            id,
            value: self.value,
            from: self.from,
            to: self.to,
            authority: &self.authority,
            evidence: self.evidence,
            checked_on: self.checked_on,
            note: self.note.as_deref(),
        }
    }
}

/// Values that follow one another without a gap or an overlap: at least one, in the order of their days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timeline<T> {
    // Kept by `check`: not empty, each row begins on the day after the one before it ends, only the last may lack an end.
    rows: Vec<Dated<T>>,
}

impl<T> Timeline<T> {
    /// Takes rows that were found to be contiguous; `None` if there is no row at all.
    pub(super) fn new(rows: Vec<Dated<T>>) -> Option<Timeline<T>> {
        if rows.is_empty() { None } else { Some(Timeline { rows }) }
    }

    /// The rows, earliest first.
    pub fn rows(&self) -> &[Dated<T>] {
        &self.rows
    }

    /// The first day for which there is a value.
    pub fn known_from(&self) -> Date {
        // A timeline is never empty; the fallback only spares a panic.
        self.rows.first().map_or(Date::MAX, |row| row.from)
    }

    /// The last day for which there is a value; none while the last one is still in force.
    pub fn known_to(&self) -> Option<Date> {
        self.rows.last().and_then(|row| row.to)
    }

    /// The row that applies on this day, if any.
    pub fn on(&self, on: Date) -> Option<&Dated<T>> {
        let after = self.rows.partition_point(|row| row.from <= on);
        let row = self.rows.get(after.checked_sub(1)?)?;
        row.applies_on(on).then_some(row)
    }
}

impl<T: Copy> Timeline<T> {
    pub(super) fn in_force<'law>(&'law self, id: LawId<'law>, on: Date) -> Result<InForce<'law, T>, NotInForce> {
        match self.on(on) {
            Some(row) => Ok(row.in_force(id)),
            None => Err(NotInForce {
                what: id.as_str().to_owned(),
                on,
                known_from: self.known_from(),
                known_to: self.known_to(),
            }),
        }
    }
}

/// What a value in force belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LawId<'law> {
    /// A dated number of the law.
    Parameter(ParameterId),
    /// The flat rate percentage of a category of business, by the category's id.
    Sector(&'law str),
    /// A band or charge of the road fuel scale charges, by its id.
    FuelScale(&'law str),
}

impl<'law> LawId<'law> {
    /// The id as the tables and the wire write it.
    pub fn as_str(self) -> &'law str {
        match self {
            LawId::Parameter(id) => id.as_str(),
            LawId::Sector(id) | LawId::FuelScale(id) => id,
        }
    }
}

/// A value that was in force on the day asked for, and what it rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InForce<'law, T> {
    /// What the value belongs to.
    pub id: LawId<'law>,
    /// The value.
    pub value: T,
    /// The first day on which it applies.
    pub from: Date,
    /// The last day on which it applies; none while it is still in force.
    pub to: Option<Date>,
    /// The authorities that say so.
    pub authority: &'law [AuthorityId],
    /// How well they support it.
    pub evidence: Evidence,
    /// The day on which the row was last checked.
    pub checked_on: Date,
    /// What a reader should know besides.
    pub note: Option<&'law str>,
}

impl<'law, T> InForce<'law, T> {
    /// The same row with another value.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> InForce<'law, U> {
        InForce {
            id: self.id,
            value: change(self.value),
            from: self.from,
            to: self.to,
            authority: self.authority,
            evidence: self.evidence,
            checked_on: self.checked_on,
            note: self.note,
        }
    }
}

/// The tables hold no value for the day asked for.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("the law tables hold no value of {what} for {on}: they hold it {days}", days = known_days(self.known_from, self.known_to))]
pub struct NotInForce {
    /// The id of what was asked for.
    pub what: String,
    /// The day asked for.
    pub on: Date,
    /// The first day for which there is a value.
    pub known_from: Date,
    /// The last day for which there is a value; none while it is still in force.
    pub known_to: Option<Date>,
}

impl NotInForce {
    /// The days for which there is a value: "from … to …", or "from … on".
    #[must_use]
    pub fn known_days(&self) -> String {
        known_days(self.known_from, self.known_to)
    }
}

fn known_days(from: Date, to: Option<Date>) -> String {
    match to {
        Some(to) => format!("from {from} to {to}"),
        None => format!("from {from} on"),
    }
}
