//! Version 1 of the wire.
//!
//! A request is decoded by hand, so that everything wrong with it can be said at once, and its types say in their schemas
//! exactly the bounds that the decoder keeps. An answer is plain data.

pub mod adjustments_answer;
mod adjustments_figures;
pub mod adjustments_request;
pub mod answer;
mod answer_from;
pub mod batch;
pub mod cash_accounting_answer;
pub mod cash_accounting_request;
pub mod category_answer;
pub mod dates_answer;
mod dates_figures;
pub mod dates_request;
pub mod dates_vocabulary;
mod decode;
mod explain;
mod figures;
pub mod fuel_scale_charges;
pub mod goods_answer;
pub mod goods_request;
pub mod invoice_answer;
pub mod invoice_request;
pub mod law;
mod law_from;
pub mod partial_exemption_answer;
mod partial_exemption_figures;
pub mod partial_exemption_request;
pub mod received;
pub mod request;
pub mod scalars;
pub mod side_by_side;
pub mod spend_kinds;
pub mod threshold_answer;
mod threshold_figures;
pub mod threshold_request;
pub mod threshold_vocabulary;
pub mod vocabulary;
pub mod worked_examples;
pub mod workings;

pub use decode::{
    comparison_request, date_in_query, decode_dates, goods_test_request, partial_exemption_year_request, read_invoice,
    reference_of, threshold_check_request,
};

#[cfg(test)]
mod tests;
