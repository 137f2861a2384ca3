//! Decoding requests: every error at once, in the caller's words.

mod adjustments;
mod business;
mod cash_accounting;
mod comparison;
mod dates;
mod goods_test;
mod invoice;
mod lines;
mod partial_exemption;
mod scalars;
mod thresholds;
mod unpaid;

use super::dates_request::DatesRequest;
use super::explain;
use super::goods_request::GoodsTestRequest;
use super::invoice_request::InvoiceRequest;
use super::partial_exemption_request::PartialExemptionYearRequest;
use super::request::ComparisonRequest;
use super::scalars::Reference;
use super::threshold_request::ThresholdCheckRequest;
use crate::json::{self, Decoder, Node};
use crate::problem::Problem;

/// A word of one of the calculation's lists.
macro_rules! words {
    ($decoder:expr, $node:expr, $type:ty, $wrap:path) => {
        $decoder.word($node, <$type>::ALL.iter().map(|value| value.as_str()), <$type>::from_word).map($wrap)
    };
}
use words;

/// Reads the request of a comparison out of a body.
pub fn comparison_request(body: &[u8]) -> Result<ComparisonRequest, Problem> {
    whole(body, comparison::request)
}

/// Reads the request of a goods test out of a body.
pub fn goods_test_request(body: &[u8]) -> Result<GoodsTestRequest, Problem> {
    whole(body, goods_test::request)
}

/// The reference of a request that is otherwise not in order, as far as it can be read.
pub fn reference_of(body: &[u8]) -> Option<Reference> {
    let Node::Object(members) = json::read(body).ok()? else { return None };
    let (_, node) = members.iter().find(|(name, _)| name == "reference")?;
    scalars::reference(&mut Decoder::new(), node)
}

/// Reads the request of an invoice out of a body.
pub fn read_invoice(body: &[u8]) -> Result<InvoiceRequest, Problem> {
    whole(body, invoice::request)
}

/// Reads the request of a check of the limits out of a body.
pub fn threshold_check_request(body: &[u8]) -> Result<ThresholdCheckRequest, Problem> {
    whole(body, thresholds::request)
}

/// Reads the request for dates out of a body.
pub fn decode_dates(body: &[u8]) -> Result<DatesRequest, Problem> {
    whole(body, dates::request)
}

/// Reads the request of a partial exemption year out of a body.
pub fn partial_exemption_year_request(body: &[u8]) -> Result<PartialExemptionYearRequest, Problem> {
    whole(body, partial_exemption::year)
}

/// Reads a date out of a query parameter.
pub fn date_in_query(name: &str, text: &str) -> Result<jiff::civil::Date, Problem> {
    explain::date(text).map_err(|(code, detail)| Problem::of_query(name, code, detail))
}

fn whole<T>(body: &[u8], request: impl FnOnce(&mut Decoder, &Node<'_>) -> Option<T>) -> Result<T, Problem> {
    let node = json::read(body)?;
    let mut decoder = Decoder::new();
    let request = request(&mut decoder, &node);
    decoder.finish(request)
}
