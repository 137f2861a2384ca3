//! Road fuel scale charges, as the tables of law hold them.

use serde::Serialize;
use utoipa::ToSchema;
use vat_schemes::law::{FuelScaleBand, FuelScaleEngine, FuelScaleLength, FuelScaleTable};

use super::scalars::{Amount, AuthorityId, Date};
use super::vocabulary::Evidence;

/// The road fuel scale charges of standard accounting for VAT periods that begin on a day (VATA 1994 section 57). They include VAT.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FuelScaleCharges {
    /// The day on which a period begins.
    pub on: Date,
    /// The first day on which a period that the table is for may begin.
    pub from: Date,
    /// The last such day; absent while the table is in force.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Date>,
    /// How well the authority was read.
    pub evidence: Evidence,
    /// The day on which the table was last checked.
    pub checked_on: Date,
    /// On what authority.
    #[schema(max_items = 20)]
    pub authority: Vec<AuthorityId>,
    /// What a reader should know besides; absent where there is nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(max_length = 2000)]
    pub note: Option<String>,
    /// By how much each band is above the one before, in g/km: a CO2 figure between two bands goes down.
    #[schema(minimum = 1, maximum = 20000, example = 5)]
    pub band_step: i32,
    /// The bands, lowest first. The first is also that of lower emissions, the last that of higher ones.
    #[schema(max_items = 1000, min_items = 1)]
    pub items: Vec<FuelScaleItem>,
    /// The bands of cars without a CO2 figure, smallest engine first; above the last of them it is the highest band.
    #[schema(max_items = 100, min_items = 1)]
    pub engine_capacities: Vec<FuelScaleEngineItem>,
}

/// A band of CO2 emissions and its charges with VAT.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FuelScaleItem {
    /// Its emissions figure, in g/km.
    #[schema(minimum = 1, maximum = 20000, example = 160)]
    pub band: i32,
    /// The charge for a period of a month, in pounds.
    pub one_month: Amount,
    /// The charge for a period of three months, in pounds.
    pub three_months: Amount,
    /// The charge for a period of twelve months, in pounds.
    pub twelve_months: Amount,
}

/// The band of cars without a CO2 figure.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FuelScaleEngineItem {
    /// The largest engine that the band is for, in cubic centimetres.
    #[schema(minimum = 1, maximum = 20000, example = 1400)]
    pub up_to: i32,
    /// The emissions figure of the band, in g/km.
    #[schema(minimum = 1, maximum = 20000, example = 140)]
    pub band: i32,
}

impl FuelScaleCharges {
    /// A table as it is shown for a day.
    pub fn new(on: jiff::civil::Date, table: FuelScaleTable<'_>) -> Self {
        let charges = table.charges();
        Self {
            on: Date(on),
            from: Date(table.from()),
            to: table.to().map(Date),
            evidence: Evidence(table.evidence()),
            checked_on: Date(table.checked_on()),
            authority: table.authority().iter().map(Into::into).collect(),
            note: table.note().map(str::to_owned),
            band_step: charges.step(),
            items: charges.bands().iter().map(Into::into).collect(),
            engine_capacities: charges.engines().iter().map(Into::into).collect(),
        }
    }
}

impl From<&FuelScaleBand> for FuelScaleItem {
    fn from(band: &FuelScaleBand) -> Self {
        Self {
            band: band.co2(),
            one_month: Amount(band.charge(FuelScaleLength::OneMonth)),
            three_months: Amount(band.charge(FuelScaleLength::ThreeMonths)),
            twelve_months: Amount(band.charge(FuelScaleLength::TwelveMonths)),
        }
    }
}

impl From<&FuelScaleEngine> for FuelScaleEngineItem {
    fn from(engine: &FuelScaleEngine) -> Self {
        Self { up_to: engine.up_to, band: engine.band() }
    }
}
