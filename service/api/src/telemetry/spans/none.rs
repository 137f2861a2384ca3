//! What stands for spans in a build without them.

use super::Outcome;
use crate::settings::Settings;
use crate::telemetry::trace_context::TraceParent;

/// No spans.
#[derive(Debug, Default)]
pub struct Spans;

/// No span.
#[derive(Debug, Default)]
pub struct RequestSpan;

impl Spans {
    /// None, whatever the settings; those that ask for spans are refused in this build.
    ///
    /// # Errors
    /// None.
    pub fn of(_: &Settings) -> Result<Self, anyhow::Error> {
        Ok(Self)
    }

    /// Begins nothing.
    pub fn begin(&self, _: &'static str, _: Option<TraceParent<'_>>) -> RequestSpan {
        RequestSpan
    }

    /// Has nothing to send.
    pub fn stop(&self) {}
}

impl RequestSpan {
    /// No trace.
    pub fn trace_id(&self) -> Option<String> {
        None
    }

    /// Ends nothing.
    pub fn end(self, _: &Outcome) {}
}
