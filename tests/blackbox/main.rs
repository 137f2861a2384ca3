//! The service from outside: requests over HTTP to the real binary, held to the API document and to published sources.

mod answers;
mod batches;
mod cash_accounting;
mod comparisons;
mod dates;
mod documents;
mod flat_rate_in_full;
mod fuel_scale_charges;
mod goods_tests;
mod invoices;
mod kinds;
mod law_resources;
mod lifecycle;
mod limits;
mod logs;
mod management;
mod operations;
mod partial_exemption;
mod parts;
mod properties;
mod refusals;
mod side_by_side;
mod transport;
mod warnings;
mod worked_examples;
mod workings_replay;
