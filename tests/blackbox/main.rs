//! The service from outside: requests over HTTP to the real binary, held to the API document and to published sources.

mod answers;
mod comparisons;
mod dates;
mod documents;
mod flat_rate_in_full;
mod goods_tests;
mod kinds;
mod law_resources;
mod lifecycle;
mod limits;
mod logs;
mod management;
mod operations;
mod partial_exemption;
mod partial_exemption_years;
mod parts;
mod properties;
mod refusals;
mod transport;
mod warnings;
mod worked_examples;
mod workings_replay;
