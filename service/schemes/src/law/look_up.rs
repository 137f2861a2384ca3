//! What was in force on a day.

use jiff::civil::Date;

use super::authority::Authority;
use super::bank_holidays::BankHolidays;
use super::check;
use super::dated::{InForce, LawId, NotInForce, Timeline};
use super::error::LawError;
use super::fuel_scale::FuelScaleCharges;
use super::parameter::{Parameter, ParameterId, ParameterKind, ParameterTimeline};
use super::sector::{Sector, SectorMatch};
use super::tables::Tables;
use super::words::{every_word_begins_one, words_of};
use crate::money::{Money, Percentage};

/// The whole of the law tables, found to be sound. Look-ups by id neither allocate nor search through a list.
#[derive(Clone, Debug)]
pub struct Law {
    pub(super) edition: String,
    pub(super) checked_on: Date,
    // One for each `ParameterId`, in its order.
    pub(super) parameters: Vec<Parameter>,
    // In the order of their ids.
    pub(super) sectors: Vec<Sector>,
    pub(super) fuel_scale: Timeline<FuelScaleCharges>,
    pub(super) authorities: Vec<Authority>,
    pub(super) bank_holidays: BankHolidays,
}

impl Law {
    /// The tables that come with this crate.
    ///
    /// # Errors
    /// [`LawError`] where a table was edited so that the set is no longer sound.
    pub fn built_in() -> Result<Law, LawError> {
        Law::from_tables(&Tables::BUILT_IN)
    }

    /// Reads a set of tables and checks it as a whole: nothing is used of a set in which anything is wrong.
    ///
    /// # Errors
    /// [`LawError`] with everything that is wrong.
    pub fn from_tables(tables: &Tables<'_>) -> Result<Law, LawError> {
        check::law(tables)
    }

    /// The name of this set of tables.
    #[must_use]
    pub fn edition(&self) -> &str {
        &self.edition
    }

    /// The day on which the set was last checked.
    #[must_use]
    pub fn checked_on(&self) -> Date {
        self.checked_on
    }

    /// The amount in force on a day.
    ///
    /// # Errors
    /// [`NotInForce`] outside the days of the table, or where the parameter is of another kind.
    pub fn amount(&self, id: ParameterId, on: Date) -> Result<InForce<'_, Money>, NotInForce> {
        match self.parameter(id).timeline() {
            ParameterTimeline::Amount(timeline) => timeline.in_force(LawId::Parameter(id), on),
            _ => Err(self.parameter(id).not_a(ParameterKind::Amount, on)),
        }
    }

    /// The percentage in force on a day.
    ///
    /// # Errors
    /// [`NotInForce`] outside the days of the table, or where the parameter is of another kind.
    pub fn percentage(&self, id: ParameterId, on: Date) -> Result<InForce<'_, Percentage>, NotInForce> {
        match self.parameter(id).timeline() {
            ParameterTimeline::Percentage(timeline) => timeline.in_force(LawId::Parameter(id), on),
            _ => Err(self.parameter(id).not_a(ParameterKind::Percentage, on)),
        }
    }

    /// The number of days in force on a day.
    ///
    /// # Errors
    /// [`NotInForce`] outside the days of the table, or where the parameter is of another kind.
    pub fn days(&self, id: ParameterId, on: Date) -> Result<InForce<'_, u16>, NotInForce> {
        match self.parameter(id).timeline() {
            ParameterTimeline::Days(timeline) => timeline.in_force(LawId::Parameter(id), on),
            _ => Err(self.parameter(id).not_a(ParameterKind::Days, on)),
        }
    }

    /// The number of months in force on a day.
    ///
    /// # Errors
    /// [`NotInForce`] on a day for which the tables hold no value, and where the parameter is of another kind.
    pub fn months(&self, id: ParameterId, on: Date) -> Result<InForce<'_, u16>, NotInForce> {
        match self.parameter(id).timeline() {
            ParameterTimeline::Months(timeline) => timeline.in_force(LawId::Parameter(id), on),
            _ => Err(self.parameter(id).not_a(ParameterKind::Months, on)),
        }
    }

    /// A day that is itself the value.
    ///
    /// # Errors
    /// [`NotInForce`] where the parameter is of another kind.
    pub fn date(&self, id: ParameterId) -> Result<InForce<'_, Date>, NotInForce> {
        match self.parameter(id).timeline() {
            // Such a parameter has exactly one row, in force from its own beginning.
            ParameterTimeline::Date(timeline) => timeline.in_force(LawId::Parameter(id), timeline.known_from()),
            _ => Err(self.parameter(id).not_a(ParameterKind::Date, self.checked_on)),
        }
    }

    /// A parameter with all its values.
    #[must_use]
    pub fn parameter(&self, id: ParameterId) -> &Parameter {
        &self.parameters[id as usize]
    }

    /// Every parameter, by id.
    pub fn parameters(&self) -> impl Iterator<Item = &Parameter> {
        self.parameters.iter()
    }

    /// A category of business.
    #[must_use]
    pub fn sector(&self, id: &str) -> Option<&Sector> {
        let index = self.sectors.binary_search_by(|sector| sector.id().cmp(id)).ok()?;
        self.sectors.get(index)
    }

    /// Every category of business, by id.
    pub fn sectors(&self) -> impl Iterator<Item = &Sector> {
        self.sectors.iter()
    }

    /// The categories in whose name, or in one of whose trades, each of the words begins a word; by id, and none ranked
    /// above another. No words at all find every category and every trade.
    #[must_use]
    pub fn find_sectors(&self, words: &str) -> Vec<SectorMatch<'_>> {
        let sought = words_of(words);
        self.sectors
            .iter()
            .filter_map(|sector| {
                let trades: Vec<_> =
                    sector.trades().iter().filter(|trade| every_word_begins_one(&sought, &trade.words)).collect();
                let found = !trades.is_empty() || every_word_begins_one(&sought, &sector.words);
                found.then_some(SectorMatch { sector, trades })
            })
            .collect()
    }

    /// An authority.
    #[must_use]
    pub fn authority(&self, id: &str) -> Option<&Authority> {
        let index = self.authorities.binary_search_by(|authority| authority.id().as_str().cmp(id)).ok()?;
        self.authorities.get(index)
    }

    /// The bank holidays of each nation.
    #[must_use]
    pub fn bank_holidays(&self) -> &BankHolidays {
        &self.bank_holidays
    }

    /// Every authority, by id.
    pub fn authorities(&self) -> impl Iterator<Item = &Authority> {
        self.authorities.iter()
    }
}
