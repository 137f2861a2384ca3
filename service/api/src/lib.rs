//! The HTTP service over the calculation of `vat-schemes`: it reads requests, has them worked out, and writes answers. There is
//! no arithmetic on money here.
//!
//! A request passes the layers of [`app`], is found its handler by [`routes`], is read by [`body`] and [`json`], decoded and
//! converted by [`wire`], and answered by the calculation. Everything refused on the way is a [`problem`].

pub mod app;
pub mod batch;
pub mod body;
pub mod buffers;
pub mod calendar;
pub mod cors;
pub mod examples;
pub mod headers;
pub mod health;
pub mod json;
pub mod keys;
pub mod law_files;
pub mod law_review;
pub mod lifecycle;
pub mod limits;
pub mod near;
pub mod negotiation;
pub mod openapi;
mod packed;
pub mod prepared;
pub mod problem;
pub mod query;
pub mod reload;
pub mod routes;
pub mod self_test;
pub mod service;
pub mod settings;
pub mod slow_readers;
pub mod telemetry;
#[cfg(test)]
mod test_support;
pub mod tls;
pub mod wire;
pub mod worked_examples;
