//! The tables as they are written: TOML, one file a table. What the words in them mean is settled in `check`.

use serde::Deserialize;

/// The texts of a set of law tables.
#[derive(Clone, Copy, Debug)]
pub struct Tables<'a> {
    /// `edition.toml`: the name of the set and the day on which it was last checked.
    pub edition: &'a str,
    /// `authorities.toml`: the texts that rules and figures rest on.
    pub authorities: &'a str,
    /// `parameters.toml`: the dated numbers.
    pub parameters: &'a str,
    /// `flat_rate_percentages.toml`: the categories of business and their percentages.
    pub flat_rate_percentages: &'a str,
    /// `fuel_scale_charges.toml`: road fuel scale charges.
    pub fuel_scale_charges: &'a str,
    /// `trades.toml`: the trades that sources put in a category.
    pub trades: &'a str,
    /// `bank_holidays.toml`: the bank holidays of each nation.
    pub bank_holidays: &'a str,
}

impl Tables<'static> {
    /// The tables that come with this crate.
    pub const BUILT_IN: Tables<'static> = Tables {
        edition: include_str!("../../data/edition.toml"),
        authorities: include_str!("../../data/authorities.toml"),
        parameters: include_str!("../../data/parameters.toml"),
        flat_rate_percentages: include_str!("../../data/flat_rate_percentages.toml"),
        fuel_scale_charges: include_str!("../../data/fuel_scale_charges.toml"),
        trades: include_str!("../../data/trades.toml"),
        bank_holidays: include_str!("../../data/bank_holidays.toml"),
    };
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EditionTable {
    pub edition: String,
    pub checked_on: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AuthoritiesTable {
    pub authority: Vec<AuthorityEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AuthorityEntry {
    pub id: String,
    pub title: String,
    pub kind: String,
    pub url: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ParametersTable {
    pub parameter: Vec<ParameterEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ParameterEntry {
    pub id: String,
    pub title: String,
    pub kind: String,
    pub unit: String,
    pub comparison: Option<String>,
    pub row: Vec<RowEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SectorsTable {
    pub sector: Vec<SectorEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SectorEntry {
    pub id: String,
    pub name: String,
    pub row: Vec<RowEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RowEntry {
    pub value: String,
    pub from: String,
    pub to: Option<String>,
    pub authority: Vec<String>,
    pub evidence: String,
    pub checked_on: String,
    pub note: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TradesTable {
    pub trade: Vec<TradeEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TradeEntry {
    pub trade: String,
    pub sector: String,
    pub authority: Vec<String>,
    pub evidence: String,
    pub note: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FuelScaleTables {
    pub table: Vec<FuelScaleEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FuelScaleEntry {
    pub from: String,
    pub to: Option<String>,
    pub authority: Vec<String>,
    pub evidence: String,
    pub checked_on: String,
    pub note: Option<String>,
    pub band_step: i32,
    pub engine: Vec<FuelScaleEngineEntry>,
    pub band: Vec<FuelScaleBandEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FuelScaleEngineEntry {
    pub up_to: i32,
    pub co2: i32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FuelScaleBandEntry {
    pub co2: i32,
    pub one_month: String,
    pub three_months: String,
    pub twelve_months: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BankHolidaysTable {
    pub known_from: String,
    pub proclaimed_to: String,
    pub known_to: String,
    pub checked_on: String,
    pub holiday: Vec<HolidayEntry>,
    pub proclaimed: Vec<ProclaimedEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HolidayEntry {
    pub name: String,
    pub day: Option<String>,
    pub easter: Option<i32>,
    pub month: Option<i8>,
    pub monday: Option<String>,
    pub nations: Vec<String>,
    pub authority: Vec<String>,
    pub evidence: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ProclaimedEntry {
    pub name: String,
    pub on: String,
    pub in_place_of: Option<String>,
    pub nations: Vec<String>,
    pub authority: Vec<String>,
    pub evidence: String,
}
