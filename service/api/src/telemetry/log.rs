//! The log: one JSON object a line, to standard output.

use tracing_subscriber::EnvFilter;
use tracing_subscriber::layer::SubscriberExt as _;
use tracing_subscriber::util::SubscriberInitExt as _;

/// Libraries report their own coming and going at this level and below; it is noise beside ours unless asked for. What the HTTP
/// parser says of malformed requests is left out: any caller could fill the log with it.
const QUIET: &str = "actix_server=warn,actix_http=off,mio=warn";

/// Starts the log with a filter from the settings, and has panics logged by where they happened. Their message is left out:
/// it could hold a caller's figures.
pub fn start(filter: &str) -> Result<(), anyhow::Error> {
    let filter = EnvFilter::try_new(format!("{QUIET},{filter}"))?;
    let lines = tracing_subscriber::fmt::layer()
        .json()
        .flatten_event(true)
        .with_current_span(false)
        .with_span_list(false)
        .with_target(false);
    tracing_subscriber::registry().with(filter).with(lines).try_init()?;
    std::panic::set_hook(Box::new(|panic| {
        let place = panic.location().map(ToString::to_string);
        tracing::error!(place = place.as_deref(), "panic");
    }));
    Ok(())
}
