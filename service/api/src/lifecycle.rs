//! Start, ready, drain, stop.

use std::sync::Arc;
use std::time::Duration;

use actix_web::web::Data;
use actix_web::{HttpServer, rt};
use anyhow::{Context as _, bail};
use tokio::signal::unix::{Signal, SignalKind, signal};
use vat_schemes::law::Law;

use crate::app;
use crate::routes::management::Readiness;
use crate::self_test;
use crate::service::Service;
use crate::settings::Settings;
use crate::telemetry::Metrics;

/// The exit status when a second signal ends the service at once: as a shell has it for SIGINT.
const ENDED_AT_ONCE: i32 = 130;

/// How long a request's head may take to arrive.
const HEAD_TIMEOUT: Duration = Duration::from_secs(5);

/// Runs the service until a signal ends it and every request under way is answered.
pub fn run(settings: &Settings) -> Result<(), anyhow::Error> {
    let law = Law::built_in()?;
    self_test::run(&law).context("the service failed its self-test, so it does not start")?;
    let metrics = Metrics::new()?;
    metrics.describe_build(law.edition(), law.checked_on());
    let (edition, checked_on) = (law.edition().to_owned(), law.checked_on());
    let shared = Shared {
        service: Data::from(Arc::new(Service::new(law, settings)?)),
        metrics: Data::new(metrics),
        readiness: Data::new(Readiness::default()),
    };
    rt::System::new().block_on(serve(settings, shared, &edition, checked_on))
}

/// What both ports work with.
struct Shared {
    service: Data<Service>,
    metrics: Data<Metrics>,
    readiness: Data<Readiness>,
}

async fn serve(
    settings: &Settings,
    shared: Shared,
    edition: &str,
    checked_on: jiff::civil::Date,
) -> Result<(), anyhow::Error> {
    let mut signals = Signals::new().context("signals cannot be received")?;
    let Shared { service, metrics, readiness } = shared;

    let api_metrics = metrics.clone();
    let api = HttpServer::new(move || app::api(service.clone(), api_metrics.clone()))
        .workers(settings.workers)
        .client_request_timeout(HEAD_TIMEOUT)
        .shutdown_timeout(settings.shutdown_timeout_seconds)
        // A server that stops on a signal of its own stops the whole system with it, and the other server in the middle of its own
        // stop: both are stopped by their handles instead.
        .disable_signals()
        .bind(settings.listen)
        .with_context(|| cannot_listen("listen", settings.listen))?;
    let management_readiness = readiness.clone();
    let management = HttpServer::new(move || app::management(metrics.clone(), management_readiness.clone()))
        .workers(1)
        .client_request_timeout(HEAD_TIMEOUT)
        .shutdown_timeout(1)
        .disable_signals()
        .bind(settings.management_listen)
        .with_context(|| cannot_listen("management_listen", settings.management_listen))?;

    let listen = addresses(&api.addrs());
    let management_listen = addresses(&management.addrs());
    let (api, management) = (api.run(), management.run());
    let (api_handle, management_handle) = (api.handle(), management.handle());
    let (mut api, mut management) = (rt::spawn(api), rt::spawn(management));
    readiness.ready();
    tracing::info!(
        listen,
        management_listen,
        version = env!("CARGO_PKG_VERSION"),
        law_edition = edition,
        law_checked_on = %checked_on,
        workers = settings.workers,
        "listening"
    );

    tokio::select! {
        () = signals.next() => {}
        ended = &mut api => bail!("the API's server ended by itself: {ended:?}"),
        ended = &mut management => bail!("the management server ended by itself: {ended:?}"),
    }
    readiness.stopping();
    tracing::info!(drain_seconds = settings.drain_seconds, "stopping");
    rt::spawn(async move {
        signals.next().await;
        tracing::warn!("a second signal: ending at once, without waiting for requests under way");
        std::process::exit(ENDED_AT_ONCE);
    });
    rt::time::sleep(settings.drain()).await;
    api_handle.stop(true).await;
    api.await?.context("the API's server failed")?;
    management_handle.stop(true).await;
    management.await?.context("the management server failed")?;
    tracing::info!("stopped");
    Ok(())
}

fn cannot_listen(setting: &str, address: std::net::SocketAddr) -> String {
    format!(
        "{setting}: the service cannot listen on {address}; free that address or choose another, or port 0 for a free one"
    )
}

fn addresses(addresses: &[std::net::SocketAddr]) -> String {
    addresses.iter().map(ToString::to_string).collect::<Vec<_>>().join(",")
}

/// The signals that end the service.
struct Signals {
    terminate: Signal,
    interrupt: Signal,
}

impl Signals {
    fn new() -> Result<Self, std::io::Error> {
        Ok(Self { terminate: signal(SignalKind::terminate())?, interrupt: signal(SignalKind::interrupt())? })
    }

    async fn next(&mut self) {
        tokio::select! {
            _ = self.terminate.recv() => {}
            _ = self.interrupt.recv() => {}
        }
    }
}
