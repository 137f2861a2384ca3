//! The log: one JSON object a line, to standard output.

mod output;

pub use output::flush;

use std::fmt::{self, Write as _};

use tracing::field::{Field, Visit};
use tracing::{Event, Subscriber};
use tracing_subscriber::EnvFilter;
use tracing_subscriber::fmt::format::Writer;
use tracing_subscriber::fmt::time::{FormatTime as _, SystemTime};
use tracing_subscriber::fmt::{FmtContext, FormatEvent, FormatFields};
use tracing_subscriber::layer::SubscriberExt as _;
use tracing_subscriber::registry::LookupSpan;
use tracing_subscriber::util::SubscriberInitExt as _;

use self::output::Output;
use crate::json::escape;

/// Libraries report their own coming and going at this level and below; it is noise beside ours unless asked for. What the HTTP
/// parser says of malformed requests is left out: any caller could fill the log with it.
const QUIET: &str = "actix_server=warn,actix_http=off,mio=warn";

/// Starts the log with a filter from the settings, and has panics logged by where they happened. Their message is left out:
/// it could hold a caller's figures.
pub fn start(filter: &str) -> Result<(), anyhow::Error> {
    let filter = EnvFilter::try_new(format!("{QUIET},{filter}"))?;
    let lines = tracing_subscriber::fmt::layer().event_format(Lines).with_writer(Output::start()?);
    tracing_subscriber::registry().with(filter).with(lines).try_init()?;
    std::panic::set_hook(Box::new(|panic| {
        let place = panic.location().map(ToString::to_string);
        tracing::error!(place = place.as_deref(), "panic");
    }));
    Ok(())
}

/// An event as a line: its time, its level, and its fields beside them. Every request writes one, so it is written in one go; the library's
/// own way to write JSON takes as long as a quarter of the calculation.
struct Lines;

impl<S, N> FormatEvent<S, N> for Lines
where
    S: Subscriber + for<'a> LookupSpan<'a>,
    N: for<'a> FormatFields<'a> + 'static,
{
    fn format_event(&self, _: &FmtContext<'_, S, N>, mut line: Writer<'_>, event: &Event<'_>) -> fmt::Result {
        line.write_str("{\"timestamp\":\"")?;
        SystemTime.format_time(&mut line)?;
        write!(line, "\",\"level\":\"{}\"", event.metadata().level())?;
        let mut fields = Fields { line, outcome: Ok(()) };
        event.record(&mut fields);
        fields.outcome?;
        fields.line.write_str("}\n")
    }
}

/// Writes the fields of an event one after the other.
struct Fields<'w> {
    line: Writer<'w>,
    outcome: fmt::Result,
}

impl Fields<'_> {
    fn formatted(&mut self, field: &Field, value: fmt::Arguments<'_>) {
        let mut put = || {
            write!(self.line, ",\"{}\":\"", field.name())?;
            Escaping(&mut self.line).write_fmt(value)?;
            self.line.write_str("\"")
        };
        self.outcome = self.outcome.and_then(|()| put());
    }

    fn text(&mut self, field: &Field, value: &str) {
        let line = &mut self.line;
        let mut put = || {
            line.write_str(",\"")?;
            line.write_str(field.name())?;
            line.write_str("\":\"")?;
            escape(value, |piece| line.write_str(piece))?;
            line.write_str("\"")
        };
        self.outcome = self.outcome.and_then(|()| put());
    }

    fn plain(&mut self, field: &Field, value: impl fmt::Display) {
        let line = &mut self.line;
        self.outcome = self.outcome.and_then(|()| write!(line, ",\"{}\":{value}", field.name()));
    }
}

impl Visit for Fields<'_> {
    fn record_debug(&mut self, field: &Field, value: &dyn fmt::Debug) {
        self.formatted(field, format_args!("{value:?}"));
    }

    fn record_str(&mut self, field: &Field, value: &str) {
        self.text(field, value);
    }

    fn record_u64(&mut self, field: &Field, value: u64) {
        self.plain(field, value);
    }

    fn record_i64(&mut self, field: &Field, value: i64) {
        self.plain(field, value);
    }

    fn record_bool(&mut self, field: &Field, value: bool) {
        self.plain(field, value);
    }
}

/// Texts are written as they stand in JSON.
struct Escaping<'l, 'w>(&'l mut Writer<'w>);

impl fmt::Write for Escaping<'_, '_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        escape(text, |piece| self.0.write_str(piece))
    }
}
