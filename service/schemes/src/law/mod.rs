//! The law as data: every dated number, category of business and authority that the calculation rests on.
//!
//! A statutory number stands once, in a table under `data/`, with the days on which it applies, the authorities that
//! say so, how well they support it and the day on which the row was last checked. This module reads those tables into
//! types, refuses a set of tables that is not whole, and answers "what was in force on this day?". Asking outside the
//! days that a table covers is an error, never a default.

mod authority;
mod bank_holidays;
mod check;
mod dated;
mod error;
mod evidence;
mod fuel_scale;
mod look_up;
mod parameter;
mod review;
pub mod rule;
mod sector;
mod tables;
#[cfg(test)]
mod tests;
mod trade;
mod words;

pub use authority::{Authority, AuthorityId, AuthorityKind};
pub use bank_holidays::{BankHolidays, Nation};
pub use dated::{Dated, InForce, LawId, NotInForce, Timeline};
pub use error::{LawError, TableProblem};
pub use evidence::Evidence;
pub use fuel_scale::{FuelScaleBand, FuelScaleCharges, FuelScaleEngine, FuelScaleLength, FuelScaleTable};
pub use look_up::Law;
pub use parameter::{Parameter, ParameterId, ParameterKind, ParameterTimeline, ParameterValue};
pub use review::{Review, ReviewedRow, ReviewedTable, WhyDue};
pub use sector::{Sector, SectorMatch};
pub use tables::Tables;
pub use trade::Trade;
