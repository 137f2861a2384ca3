//! Start, ready, read anew, drain, stop.

use std::sync::Arc;

use actix_web::web::{self, Data};
use actix_web::{HttpServer, rt};
use anyhow::{Context as _, bail};
use tokio::signal::unix::{Signal, SignalKind, signal};
use vat_schemes::law::Law;

use crate::app::{self, Shared};
use crate::cors::Origins;
use crate::keys::{Keys, KeysFile};
use crate::law_files;
use crate::limits::Limits;
use crate::reload::{self, LawDirectory, Reloadable};
use crate::routes::management::Readiness;
use crate::self_test;
use crate::service::{Current, Service};
use crate::settings::Settings;
use crate::slow_readers;
use crate::telemetry::Metrics;
use crate::telemetry::spans::Spans;
use crate::tls::{Certificates, Tls};

/// The exit status when a second signal ends the service at once: as a shell has it for SIGINT.
const ENDED_AT_ONCE: i32 = 130;

/// Runs the service until a signal ends it and every request under way is answered.
pub fn run(settings: &Settings) -> Result<(), anyhow::Error> {
    // Its figures are those of the law that comes with this build, whatever law is mounted beside it.
    self_test::run(&Law::built_in()?).context("the service failed its self-test, so it does not start")?;
    let law = law_files::law(settings.law_directory.as_deref())?;
    let metrics = Metrics::new()?;
    metrics.describe_build(law.edition(), law.checked_on());
    let keys = Keys::of(settings)?;
    metrics.describe_keys(keys.as_ref().map_or(0, Keys::count));
    let tls = Tls::of(settings)?;
    metrics.describe_certificate(tls.as_ref().map_or(0, |tls| tls.not_after()));
    let shared = Shared {
        origins: Data::new(Origins::of(settings)),
        service: Data::new(Current::new(Service::new(law, settings)?)),
        metrics: Data::new(metrics),
        spans: Data::new(Spans::of(settings)?),
        keys: Data::new(keys),
        limits: Data::new(Limits::new(settings)),
        readiness: Data::new(Readiness::default()),
    };
    rt::System::new().block_on(serve(settings, shared, tls))
}

async fn serve(settings: &Settings, shared: Shared, tls: Option<Arc<Tls>>) -> Result<(), anyhow::Error> {
    let no_signals = "signals cannot be received";
    let mut signals = Signals::new().context(no_signals)?;
    let mut hang_up = signal(SignalKind::hangup()).context(no_signals)?;
    let reloadable = Arc::new(reloadable(settings, &shared, tls.as_ref()));
    let law = shared.service.service();
    let (metrics, readiness) = (shared.metrics.clone(), shared.readiness.clone());
    let spans = shared.spans.clone();

    metrics.describe_limits(settings.max_concurrent_requests);
    let metrics_of_state = metrics.clone();
    let api = HttpServer::new(move || app::api(shared.clone()))
        .workers(settings.workers)
        .client_request_timeout(settings.head_timeout())
        .keep_alive(settings.keep_alive())
        .on_connect(slow_readers::cut_off(settings.write_timeout()))
        // Each thread counts its own.
        .max_connections(settings.max_connections.div_ceil(settings.workers))
        .shutdown_timeout(settings.shutdown_timeout_seconds)
        // A server that stops on a signal of its own stops the whole system with it, and the other server in the middle of its own
        // stop: both are stopped by their handles instead.
        .disable_signals();
    let api = match &tls {
        Some(tls) => api.bind_rustls_0_23(settings.listen, tls.server_config()?),
        None => api.bind(settings.listen),
    };
    let api = api.with_context(|| cannot_listen("listen", settings.listen))?;
    let management_readiness = readiness.clone();
    let management = HttpServer::new(move || app::management(metrics.clone(), management_readiness.clone()))
        .workers(1)
        .client_request_timeout(settings.head_timeout())
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
    metrics_of_state.set_ready(true);
    tracing::info!(
        listen,
        management_listen,
        version = env!("CARGO_PKG_VERSION"),
        law_edition = law.law.edition(),
        law_checked_on = %law.law.checked_on(),
        workers = settings.workers,
        tls = tls.is_some(),
        "listening"
    );

    drop(law);
    loop {
        tokio::select! {
            () = signals.end() => break,
            _ = hang_up.recv() => reload::all(Arc::clone(&reloadable)).await,
            ended = &mut api => bail!("the API's server ended by itself: {ended:?}"),
            ended = &mut management => bail!("the management server ended by itself: {ended:?}"),
        }
    }
    readiness.stopping();
    metrics_of_state.set_ready(false);
    tracing::info!(drain_seconds = settings.drain_seconds, "stopping");
    rt::spawn(async move {
        signals.end().await;
        // A warning: it and all that was logged before are written at once.
        tracing::warn!("a second signal: ending at once, without waiting for requests under way");
        std::process::exit(ENDED_AT_ONCE);
    });
    rt::time::sleep(settings.drain()).await;
    api_handle.stop(true).await;
    api.await?.context("the API's server failed")?;
    management_handle.stop(true).await;
    management.await?.context("the management server failed")?;
    web::block(move || spans.stop()).await?;
    tracing::info!("stopped");
    Ok(())
}

/// What SIGHUP has read anew.
fn reloadable(settings: &Settings, shared: &Shared, tls: Option<&Arc<Tls>>) -> Vec<Box<dyn Reloadable>> {
    let mut reloadable: Vec<Box<dyn Reloadable>> = Vec::new();
    if let Some(directory) = LawDirectory::of(settings, &shared.service, &shared.metrics) {
        reloadable.push(Box::new(directory));
    }
    if let Some(file) = KeysFile::of(&shared.keys, &shared.metrics) {
        reloadable.push(Box::new(file));
    }
    if let Some(tls) = tls {
        reloadable.push(Box::new(Certificates::new(Arc::clone(tls), shared.metrics.clone())));
    }
    reloadable
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

    /// Waits for one that ends the service.
    async fn end(&mut self) {
        tokio::select! {
            _ = self.terminate.recv() => {}
            _ = self.interrupt.recv() => {}
        }
    }
}
