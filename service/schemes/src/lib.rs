//! UK VAT for one period, under standard accounting and under the Flat Rate Scheme.
//!
//! The crate is the calculation alone: figures in, answer out. It knows no HTTP, no JSON, no clock, no environment, no
//! files and no floating-point numbers. The law it applies is data with dates ([`law`]), money is exact ([`money`]), and
//! every sum is written to the [`workings`] as it is made. [`compare`] is the way in.
//!
//! What it returns is a calculation, not advice: HMRC and a qualified adviser decide.

#![deny(clippy::disallowed_types, clippy::float_arithmetic)]

mod adjustments;
pub mod answer;
mod cash_accounting;
mod category_choice;
mod cautions;
mod common_items;
mod comparison;
pub mod due_dates;
pub mod figures;
mod flat_rate;
mod goods_test_alone;
pub mod invoice;
pub mod law;
mod length;
mod lines;
pub mod money;
mod northern_ireland;
pub mod partial_exemption_year;
pub mod period;
pub mod refusal;
mod reverse_charges;
mod run;
mod side_by_side;
pub mod spend;
mod standard;
pub mod thresholds;
mod vat_return;
mod warnings;
mod words;
pub mod workings;

pub use cautions::general_cautions;
pub use comparison::compare;
pub use due_dates::dates;
pub use goods_test_alone::test_goods;
pub use invoice::work_out_invoice;
pub use partial_exemption_year::partial_exemption_year;
pub use thresholds::check_thresholds;
