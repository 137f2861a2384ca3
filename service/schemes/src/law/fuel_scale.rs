//! Road fuel scale charges: a dated table of bands of CO2 emissions.

use jiff::civil::Date;

use super::authority::AuthorityId;
use super::dated::{Dated, InForce, LawId, NotInForce};
use super::evidence::Evidence;
use super::look_up::Law;
use crate::money::Money;
use crate::words::words;

words! {
    /// The lengths of a VAT period for which there is a charge.
    FuelScaleLength {
        /// A month.
        OneMonth => "one_month",
        /// A quarter.
        ThreeMonths => "three_months",
        /// A year.
        TwelveMonths => "twelve_months",
    }
}

impl FuelScaleLength {
    /// The length of so many whole months, where there is a charge for it.
    #[must_use]
    pub fn of_months(months: i32) -> Option<Self> {
        match months {
            1 => Some(Self::OneMonth),
            3 => Some(Self::ThreeMonths),
            12 => Some(Self::TwelveMonths),
            _ => None,
        }
    }
}

/// A value of a table, with the id under which workings and answers name it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Named<T> {
    pub id: String,
    pub value: T,
}

/// A band of emissions and its charges.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FuelScaleBand {
    pub(super) co2: i32,
    /// In the order of [`FuelScaleLength::ALL`].
    pub(super) charges: [Named<Money>; 3],
}

impl FuelScaleBand {
    /// The emissions figure that names it, in g/km.
    #[must_use]
    pub fn co2(&self) -> i32 {
        self.co2
    }

    /// The charge for a period of this length, with VAT, in pounds.
    #[must_use]
    pub fn charge(&self, length: FuelScaleLength) -> Money {
        self.charges[length as usize].value
    }
}

/// The band of a car without an emissions figure, by the size of its engine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FuelScaleEngine {
    /// The largest engine that the band is for, in cubic centimetres.
    pub up_to: i32,
    pub(super) band: Named<i32>,
}

impl FuelScaleEngine {
    /// The emissions figure that names the band, in g/km.
    #[must_use]
    pub fn band(&self) -> i32 {
        self.band.value
    }
}

/// The bands of one table. The first stands also for lower emissions, the last for higher ones.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FuelScaleCharges {
    pub(super) step: i32,
    // Not empty, in ascending order, each one step above the one before.
    pub(super) bands: Vec<FuelScaleBand>,
    // In ascending order; the band of each is among the bands.
    pub(super) engines: Vec<FuelScaleEngine>,
}

impl FuelScaleCharges {
    /// By how much each band is above the one before, in g/km.
    #[must_use]
    pub fn step(&self) -> i32 {
        self.step
    }

    /// The bands, lowest first.
    #[must_use]
    pub fn bands(&self) -> &[FuelScaleBand] {
        &self.bands
    }

    /// The bands of cars without an emissions figure, smallest engine first; above the last it is the highest band.
    #[must_use]
    pub fn engines(&self) -> &[FuelScaleEngine] {
        &self.engines
    }

    fn lowest(&self) -> i32 {
        // A table is never without bands; the fallback only spares a panic.
        self.bands.first().map_or(0, FuelScaleBand::co2)
    }

    fn highest(&self) -> i32 {
        self.bands.last().map_or(0, FuelScaleBand::co2)
    }
}

/// The table in force on a day.
#[derive(Clone, Copy, Debug)]
pub struct FuelScaleTable<'law>(&'law Dated<FuelScaleCharges>);

impl<'law> FuelScaleTable<'law> {
    /// Its bands.
    #[must_use]
    pub fn charges(self) -> &'law FuelScaleCharges {
        &self.0.value
    }

    /// The first day on which a period that it is for may begin.
    #[must_use]
    pub fn from(self) -> Date {
        self.0.from
    }

    /// The last such day; none while the table is in force.
    #[must_use]
    pub fn to(self) -> Option<Date> {
        self.0.to
    }

    /// The authorities.
    #[must_use]
    pub fn authority(self) -> &'law [AuthorityId] {
        &self.0.authority
    }

    /// How well they support it.
    #[must_use]
    pub fn evidence(self) -> Evidence {
        self.0.evidence
    }

    /// The day on which it was last checked.
    #[must_use]
    pub fn checked_on(self) -> Date {
        self.0.checked_on
    }

    /// What a reader should know besides.
    #[must_use]
    pub fn note(self) -> Option<&'law str> {
        self.0.note.as_deref()
    }

    /// By how much each band is above the one before, as a number of the law.
    #[must_use]
    pub fn step(self) -> InForce<'law, i32> {
        self.number("fuel_scale_band_step", self.charges().step)
    }

    /// The lowest band, as a number of the law.
    #[must_use]
    pub fn lowest(self) -> InForce<'law, i32> {
        self.number("fuel_scale_lowest_band", self.charges().lowest())
    }

    /// The highest band, as a number of the law.
    #[must_use]
    pub fn highest(self) -> InForce<'law, i32> {
        self.number("fuel_scale_highest_band", self.charges().highest())
    }

    /// The band of a car with this engine, in cubic centimetres, and no emissions figure.
    #[must_use]
    pub fn of_engine(self, capacity: i32) -> InForce<'law, i32> {
        match self.charges().engines.iter().find(|engine| capacity <= engine.up_to) {
            Some(engine) => self.number(&engine.band.id, engine.band.value),
            None => self.highest(),
        }
    }

    /// The charge of a band for a period of this length; none where there is no such band.
    #[must_use]
    pub fn charge(self, band: i32, length: FuelScaleLength) -> Option<InForce<'law, Money>> {
        let bands = &self.charges().bands;
        let position = bands.binary_search_by_key(&band, FuelScaleBand::co2).ok()?;
        let charge = &bands.get(position)?.charges[length as usize];
        Some(self.number(&charge.id, charge.value))
    }

    fn number<T>(self, id: &'law str, value: T) -> InForce<'law, T> {
        InForce {
            id: LawId::FuelScale(id),
            value,
            from: self.0.from,
            to: self.0.to,
            authority: &self.0.authority,
            evidence: self.0.evidence,
            checked_on: self.0.checked_on,
            note: self.0.note.as_deref(),
        }
    }
}

impl Law {
    /// The road fuel scale charges for periods that begin on a day.
    ///
    /// # Errors
    /// [`NotInForce`] on a day for which there is no table.
    pub fn fuel_scale_charges(&self, on: Date) -> Result<FuelScaleTable<'_>, NotInForce> {
        self.fuel_scale.on(on).map(FuelScaleTable).ok_or_else(|| NotInForce {
            what: "the road fuel scale charges".to_owned(),
            on,
            known_from: self.fuel_scale.known_from(),
            known_to: self.fuel_scale.known_to(),
        })
    }

    /// The last day for which there is a table of road fuel scale charges, or the day on which the law was last checked where that
    /// comes first.
    #[must_use]
    pub fn last_day_of_fuel_scale_charges(&self) -> Date {
        self.fuel_scale.known_to().map_or(self.checked_on, |last| last.min(self.checked_on))
    }
}
