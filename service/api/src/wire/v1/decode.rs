//! Decoding requests: every error at once, in the caller's words.

mod adjustments;
mod business;
mod comparison;
mod goods_test;
mod lines;
mod partial_exemption;
mod scalars;

use super::explain;
use super::goods_request::GoodsTestRequest;
use super::partial_exemption_request::PartialExemptionYearRequest;
use super::request::ComparisonRequest;
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
