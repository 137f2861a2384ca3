//! Spans for an OpenTelemetry collector, one a request, in a build with the feature `otlp`; without it there are none, and they cost
//! nothing.

#[cfg(feature = "otlp")]
mod exported;
#[cfg(not(feature = "otlp"))]
mod none;

#[cfg(feature = "otlp")]
pub use exported::{RequestSpan, Spans};
#[cfg(not(feature = "otlp"))]
pub use none::{RequestSpan, Spans};

/// How a request went: all that its span says, beside when. Never an address, a query, a body or a name.
#[derive(Clone, Copy, Debug)]
pub struct Outcome {
    /// Its method.
    pub method: &'static str,
    /// The pattern of its route.
    pub route: &'static str,
    /// The status of its answer.
    pub status: u16,
    /// The code of the problem that it was answered with, if it was.
    pub problem: Option<&'static str>,
}
