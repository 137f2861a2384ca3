//! Limits and eligibility: what is measured, on which day, and what follows from it.

mod accounting_schemes;
mod comparison;
mod eligibility;
mod flat_rate;
mod limits;
mod months;
mod registration;
