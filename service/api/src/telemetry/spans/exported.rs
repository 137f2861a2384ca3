//! Spans made with OpenTelemetry's own libraries, and sent as OTLP over HTTP by a thread of its own: a collector that is slow or away
//! costs spans, never requests.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use anyhow::Context as _;
use opentelemetry::trace::{
    Span as _, SpanContext, SpanId, SpanKind, Status, TraceContextExt as _, TraceFlags, TraceId, TraceState,
    Tracer as _, TracerProvider as _,
};
use opentelemetry::{Context, KeyValue};
use opentelemetry_otlp::{Protocol, WithExportConfig as _};
use opentelemetry_sdk::Resource;
use opentelemetry_sdk::error::OTelSdkResult;
use opentelemetry_sdk::trace::{
    BatchConfigBuilder, BatchSpanProcessor, Sampler, SdkTracer, SdkTracerProvider, Span, SpanData, SpanExporter,
};

use super::Outcome;
use crate::settings::Settings;
use crate::telemetry::trace_context::TraceParent;

/// The most spans that wait; more are lost.
const MOST_WAITING: usize = 4096;
/// The most spans that are sent at once.
const MOST_AT_ONCE: usize = 512;
/// How long spans wait for others at most.
const WAIT: Duration = Duration::from_secs(2);
/// How long the collector may take.
const PATIENCE: Duration = Duration::from_secs(2);
/// How long the last spans may take when the service stops.
const PATIENCE_AT_THE_END: Duration = Duration::from_secs(3);

/// Makes spans and sends them, where the settings name a collector.
#[derive(Debug, Default)]
pub struct Spans {
    sending: Option<Sending>,
}

#[derive(Debug)]
struct Sending {
    provider: SdkTracerProvider,
    tracer: SdkTracer,
}

/// The span of a request under way. One that is dropped, because the caller has gone, ends without an outcome.
#[derive(Debug, Default)]
pub struct RequestSpan {
    span: Option<Span>,
    /// Whether the trace begins here.
    is_root: bool,
}

impl Spans {
    /// Spans for the collector that the settings name, if they name one. Not to be called in an asynchronous context.
    ///
    /// # Errors
    /// Why they cannot be sent: the client cannot be made. A collector that is away is no error.
    pub fn of(settings: &Settings) -> Result<Self, anyhow::Error> {
        let Some(endpoint) = &settings.otlp_endpoint else { return Ok(Self::default()) };
        let exporter = opentelemetry_otlp::SpanExporter::builder()
            .with_http()
            .with_protocol(Protocol::HttpJson)
            .with_endpoint(format!("{endpoint}/v1/traces"))
            .with_timeout(PATIENCE)
            .build()
            .context("spans cannot be sent to otlp_endpoint")?;
        let batches = BatchConfigBuilder::default()
            .with_max_queue_size(MOST_WAITING)
            .with_max_export_batch_size(MOST_AT_ONCE)
            .with_scheduled_delay(WAIT)
            .build();
        let processor = BatchSpanProcessor::builder(Told::new(exporter)).with_batch_config(batches).build();
        let share = f64::from(settings.otlp_sample_percentage.unwrap_or(100)) / 100.0;
        let provider = SdkTracerProvider::builder()
            .with_span_processor(processor)
            .with_sampler(Sampler::ParentBased(Box::new(Sampler::TraceIdRatioBased(share))))
            .with_resource(
                Resource::builder()
                    .with_service_name(env!("CARGO_PKG_NAME"))
                    .with_attribute(KeyValue::new("service.version", env!("CARGO_PKG_VERSION")))
                    .build(),
            )
            .build();
        let tracer = provider.tracer(env!("CARGO_PKG_NAME"));
        Ok(Self { sending: Some(Sending { provider, tracer }) })
    }

    /// Begins the span of a request, in the caller's trace where it names one.
    pub fn begin(&self, method: &'static str, parent: Option<TraceParent<'_>>) -> RequestSpan {
        let Some(Sending { tracer, .. }) = &self.sending else { return RequestSpan::default() };
        let parent = parent.and_then(caller);
        let is_root = parent.is_none();
        let context = parent.map_or_else(Context::new, |parent| Context::new().with_remote_span_context(parent));
        let span = tracer.span_builder(method).with_kind(SpanKind::Server).start_with_context(tracer, &context);
        RequestSpan { span: span.is_recording().then_some(span), is_root }
    }

    /// Sends what waits, and no more after that; for as long as the end of the service may wait for it.
    pub fn stop(&self) {
        if let Some(Sending { provider, .. }) = &self.sending
            && let Err(error) = provider.shutdown_with_timeout(PATIENCE_AT_THE_END)
        {
            tracing::warn!(reason = %error, "the last spans were not sent");
        }
    }
}

impl RequestSpan {
    /// The trace, where it begins with this span and is recorded.
    pub fn trace_id(&self) -> Option<String> {
        let span = self.span.as_ref().filter(|_| self.is_root)?;
        Some(span.span_context().trace_id().to_string())
    }

    /// Ends the span with what is known of its request, in the names of OpenTelemetry's conventions for HTTP servers.
    pub fn end(self, outcome: &Outcome) {
        let Some(mut span) = self.span else { return };
        let Outcome { method, route, status, problem } = *outcome;
        span.update_name(format!("{method} {route}"));
        span.set_attributes([
            KeyValue::new("http.request.method", method),
            KeyValue::new("http.route", route),
            KeyValue::new("http.response.status_code", i64::from(status)),
        ]);
        if let Some(code) = problem {
            span.set_attribute(KeyValue::new("vat_schemes.problem", code));
        }
        // By the conventions, what the caller has to change is no error of the server's.
        if status >= 500 {
            span.set_attribute(KeyValue::new("error.type", problem.unwrap_or("http")));
            span.set_status(Status::error(""));
        }
        span.end();
    }
}

/// The caller's span, as the library has it.
fn caller(parent: TraceParent<'_>) -> Option<SpanContext> {
    let flags = u8::from_str_radix(parent.flags, 16).ok()?;
    Some(SpanContext::new(
        TraceId::from_hex(parent.trace).ok()?,
        SpanId::from_hex(parent.span).ok()?,
        TraceFlags::new(flags) & TraceFlags::SAMPLED,
        true,
        TraceState::NONE,
    ))
}

/// An exporter that says in the log when spans begin to be lost, and when they are taken again: once each time, not for every batch.
#[derive(Debug)]
struct Told<E> {
    exporter: E,
    failing: AtomicBool,
}

impl<E> Told<E> {
    fn new(exporter: E) -> Self {
        Self { exporter, failing: AtomicBool::new(false) }
    }
}

impl<E: SpanExporter> SpanExporter for Told<E> {
    async fn export(&self, batch: Vec<SpanData>) -> OTelSdkResult {
        let result = self.exporter.export(batch).await;
        match &result {
            Ok(()) if self.failing.swap(false, Ordering::Relaxed) => tracing::info!("the collector takes spans again"),
            Err(error) if !self.failing.swap(true, Ordering::Relaxed) => {
                tracing::warn!(reason = %error, "the collector of otlp_endpoint takes no spans: they are lost until it does");
            }
            _ => {}
        }
        result
    }

    fn shutdown_with_timeout(&self, timeout: Duration) -> OTelSdkResult {
        self.exporter.shutdown_with_timeout(timeout)
    }

    fn force_flush(&self) -> OTelSdkResult {
        self.exporter.force_flush()
    }

    fn set_resource(&mut self, resource: &Resource) {
        self.exporter.set_resource(resource);
    }
}
