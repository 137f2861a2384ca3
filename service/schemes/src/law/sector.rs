//! Categories of business and their flat rate percentages.

use jiff::civil::Date;

use super::dated::{InForce, LawId, NotInForce, Timeline};
use super::trade::Trade;
use crate::money::Percentage;

/// A category of business in the Table of flat rate percentages (VAT Regulations 1995 reg 55K).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sector {
    pub(super) id: String,
    pub(super) name: String,
    pub(super) history: Timeline<Percentage>,
    pub(super) trades: Vec<Trade>,
    // The name's words in lower case, for searching.
    pub(super) words: Vec<String>,
}

impl Sector {
    /// Its id, for example `management-consultancy`.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// The words of the Table.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The percentage in force on a day.
    ///
    /// # Errors
    /// [`NotInForce`] outside the days of the table.
    pub fn percentage(&self, on: Date) -> Result<InForce<'_, Percentage>, NotInForce> {
        self.history.in_force(LawId::Sector(&self.id), on)
    }

    /// Every percentage and its days.
    pub fn history(&self) -> &Timeline<Percentage> {
        &self.history
    }

    /// The days after `after`, up to and including `until`, from which another percentage applies. The day on which the
    /// table begins is no change.
    pub fn changes_within(&self, after: Date, until: Date) -> impl Iterator<Item = Date> {
        self.history.rows().iter().skip(1).map(|row| row.from).filter(move |&day| after < day && day <= until)
    }

    /// The trades that a source puts in this category, by name.
    pub fn trades(&self) -> &[Trade] {
        &self.trades
    }

    /// Whether it takes what no other category of its family, or of the whole Table, names.
    pub fn is_not_listed_elsewhere(&self) -> bool {
        self.name.ends_with("not listed elsewhere")
    }
}

/// A category found by words, and those of its trades in which they were found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectorMatch<'law> {
    /// The category.
    pub sector: &'law Sector,
    /// Its trades that hold every word sought; empty if only the category's name does.
    pub trades: Vec<&'law Trade>,
}
