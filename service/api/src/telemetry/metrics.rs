//! The catalogue of metrics: every series that the service counts, in one place. All label values come from closed sets.

mod outcomes;

use std::time::Duration;

use prometheus::{
    Encoder as _, HistogramOpts, HistogramVec, IntCounter, IntCounterVec, IntGauge, IntGaugeVec, Opts, Registry,
    TextEncoder,
};

use crate::problem::ProblemCode;

pub use outcomes::{
    ComparisonOutcome, DatesOutcome, GoodsTestOutcome, InvoiceOutcome, Outcome, PartialExemptionYearOutcome,
    ReloadOutcome, ThresholdCheckOutcome,
};

/// Upper bounds of the classes of duration, in seconds. A comparison takes well under a millisecond, so most lie below one.
const DURATION_BUCKETS: [f64; 14] =
    [0.000_05, 0.000_1, 0.000_2, 0.000_5, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0];

/// Every metric of the service.
#[derive(Clone, Debug)]
pub struct Metrics {
    registry: Registry,
    requests: IntCounterVec,
    duration: HistogramVec,
    in_flight: IntGauge,
    comparisons: IntCounterVec,
    goods_tests: IntCounterVec,
    invoices: IntCounterVec,
    threshold_checks: IntCounterVec,
    dates: IntCounterVec,
    partial_exemption_years: IntCounterVec,
    problems: IntCounterVec,
    panics: IntCounter,
    build_info: IntGaugeVec,
    law_checked_on: IntGauge,
    law_reloads: IntCounterVec,
    ready: IntGauge,
    in_flight_limit: IntGauge,
    load_shed: IntCounter,
    keys: IntGauge,
    keys_refused: IntCounter,
    keys_reloads: IntCounterVec,
    rate_limited: IntCounter,
    certificate_not_after: IntGauge,
    certificate_reloads: IntCounterVec,
}

impl Metrics {
    /// All metrics, with the series of closed labels at nought.
    pub fn new() -> Result<Self, prometheus::Error> {
        let metrics = Self {
            registry: Registry::new(),
            requests: IntCounterVec::new(
                Opts::new(
                    "vat_schemes_http_requests_total",
                    "Requests answered by the API, by method, route and status.",
                ),
                &["method", "route", "status"],
            )?,
            duration: HistogramVec::new(
                HistogramOpts::new(
                    "vat_schemes_http_request_duration_seconds",
                    "Time from a request's head to its answer, by method and route.",
                )
                .buckets(DURATION_BUCKETS.to_vec()),
                &["method", "route"],
            )?,
            in_flight: IntGauge::new("vat_schemes_http_requests_in_flight", "Requests of the API being answered now.")?,
            comparisons: IntCounterVec::new(
                Opts::new("vat_schemes_comparisons_total", "Comparisons asked for, by outcome."),
                &["outcome"],
            )?,
            goods_tests: IntCounterVec::new(
                Opts::new("vat_schemes_goods_tests_total", "Goods tests asked for, by outcome."),
                &["outcome"],
            )?,
            invoices: IntCounterVec::new(
                Opts::new("vat_schemes_invoices_total", "Invoices whose VAT was asked for, by outcome."),
                &["outcome"],
            )?,
            threshold_checks: IntCounterVec::new(
                Opts::new("vat_schemes_threshold_checks_total", "Checks of the limits asked for, by outcome."),
                &["outcome"],
            )?,
            dates: IntCounterVec::new(
                Opts::new("vat_schemes_dates_total", "Lists of dates asked for, by outcome."),
                &["outcome"],
            )?,
            partial_exemption_years: IntCounterVec::new(
                Opts::new(
                    "vat_schemes_partial_exemption_years_total",
                    "Partial exemption years asked for, by outcome.",
                ),
                &["outcome"],
            )?,
            problems: IntCounterVec::new(
                Opts::new("vat_schemes_problems_total", "Problems answered by the API, by code."),
                &["code"],
            )?,
            panics: IntCounter::new("vat_schemes_panics_total", "Panics caught while answering a request.")?,
            build_info: IntGaugeVec::new(
                Opts::new(
                    "vat_schemes_build_info",
                    "Always 1; the labels say which build runs with which tables of law.",
                ),
                &["version", "law_edition"],
            )?,
            law_checked_on: IntGauge::new(
                "vat_schemes_law_checked_on_timestamp_seconds",
                "The day on which the tables of law were last checked, as seconds since 1970.",
            )?,
            ready: IntGauge::new("vat_schemes_ready", "1 while the service wants requests, else 0.")?,
            in_flight_limit: IntGauge::new(
                "vat_schemes_requests_in_flight_limit",
                "The most requests of the API that are answered at once; more are turned away.",
            )?,
            load_shed: IntCounter::new(
                "vat_schemes_load_shed_total",
                "Requests turned away because as many as are answered at once were under way.",
            )?,
            keys: IntGauge::new("vat_schemes_keys", "Keys that callers may show; 0 where none is asked for.")?,
            keys_refused: IntCounter::new(
                "vat_schemes_keys_refused_total",
                "Requests turned away because they came without a key, or with one that the service does not know.",
            )?,
            keys_reloads: IntCounterVec::new(
                Opts::new(
                    "vat_schemes_keys_reloads_total",
                    "Keys read anew on SIGHUP, by whether they were taken or refused.",
                ),
                &["outcome"],
            )?,
            rate_limited: IntCounter::new(
                "vat_schemes_rate_limited_total",
                "Requests turned away because their caller asks more often than it may.",
            )?,
            certificate_not_after: IntGauge::new(
                "vat_schemes_certificate_not_after_timestamp_seconds",
                "The last second at which the API's certificate is good, since 1970; 0 where it speaks plain HTTP.",
            )?,
            certificate_reloads: IntCounterVec::new(
                Opts::new(
                    "vat_schemes_certificate_reloads_total",
                    "Certificates read anew on SIGHUP, by whether they were taken or refused.",
                ),
                &["outcome"],
            )?,
            law_reloads: IntCounterVec::new(
                Opts::new(
                    "vat_schemes_law_reloads_total",
                    "Tables of law read anew on SIGHUP, by whether they were taken or refused.",
                ),
                &["outcome"],
            )?,
        };
        metrics.register()?;
        for code in ProblemCode::ALL {
            metrics.problems.with_label_values(&[code.as_str()]);
        }
        for outcome in ComparisonOutcome::ALL {
            metrics.comparisons.with_label_values(&[outcome.as_str()]);
        }
        for outcome in GoodsTestOutcome::ALL {
            metrics.goods_tests.with_label_values(&[outcome.as_str()]);
        }
        for outcome in InvoiceOutcome::ALL {
            metrics.invoices.with_label_values(&[outcome.as_str()]);
        }
        for outcome in ThresholdCheckOutcome::ALL {
            metrics.threshold_checks.with_label_values(&[outcome.as_str()]);
        }
        for outcome in DatesOutcome::ALL {
            metrics.dates.with_label_values(&[outcome.as_str()]);
        }
        for outcome in PartialExemptionYearOutcome::ALL {
            metrics.partial_exemption_years.with_label_values(&[outcome.as_str()]);
        }
        for outcome in ReloadOutcome::ALL {
            metrics.law_reloads.with_label_values(&[outcome.as_str()]);
            metrics.keys_reloads.with_label_values(&[outcome.as_str()]);
            metrics.certificate_reloads.with_label_values(&[outcome.as_str()]);
        }
        Ok(metrics)
    }

    fn register(&self) -> Result<(), prometheus::Error> {
        let registry = &self.registry;
        registry.register(Box::new(self.requests.clone()))?;
        registry.register(Box::new(self.duration.clone()))?;
        registry.register(Box::new(self.in_flight.clone()))?;
        registry.register(Box::new(self.comparisons.clone()))?;
        registry.register(Box::new(self.goods_tests.clone()))?;
        registry.register(Box::new(self.invoices.clone()))?;
        registry.register(Box::new(self.threshold_checks.clone()))?;
        registry.register(Box::new(self.dates.clone()))?;
        registry.register(Box::new(self.partial_exemption_years.clone()))?;
        registry.register(Box::new(self.problems.clone()))?;
        registry.register(Box::new(self.panics.clone()))?;
        registry.register(Box::new(self.build_info.clone()))?;
        registry.register(Box::new(self.law_checked_on.clone()))?;
        registry.register(Box::new(self.law_reloads.clone()))?;
        registry.register(Box::new(self.ready.clone()))?;
        registry.register(Box::new(self.in_flight_limit.clone()))?;
        registry.register(Box::new(self.load_shed.clone()))?;
        registry.register(Box::new(self.keys.clone()))?;
        registry.register(Box::new(self.keys_refused.clone()))?;
        registry.register(Box::new(self.keys_reloads.clone()))?;
        registry.register(Box::new(self.rate_limited.clone()))?;
        registry.register(Box::new(self.certificate_not_after.clone()))?;
        registry.register(Box::new(self.certificate_reloads.clone()))?;
        // Memory, threads and file handles of the process are known only where /proc is.
        #[cfg(target_os = "linux")]
        registry.register(Box::new(prometheus::process_collector::ProcessCollector::for_self()))?;
        Ok(())
    }

    /// Says which build runs, with which tables of law, last checked on which day.
    pub fn describe_build(&self, law_edition: &str, law_checked_on: jiff::civil::Date) {
        self.build_info.reset();
        self.build_info.with_label_values(&[env!("CARGO_PKG_VERSION"), law_edition]).set(1);
        let midnight = law_checked_on.to_zoned_datetime(jiff::tz::TimeZone::UTC).map(|day| day.timestamp().as_second());
        self.law_checked_on.set(midnight.unwrap_or(0));
    }

    /// Says how many requests are answered at once.
    pub fn describe_limits(&self, max_concurrent_requests: usize) {
        self.in_flight_limit.set(i64::try_from(max_concurrent_requests).unwrap_or(i64::MAX));
    }

    /// From now on the service wants requests, or wants none.
    pub fn set_ready(&self, ready: bool) {
        self.ready.set(i64::from(ready));
    }

    /// A request was turned away because others leave no room.
    pub fn count_load_shed(&self) {
        self.load_shed.inc();
    }

    /// Says how many keys callers may show.
    pub fn describe_keys(&self, keys: usize) {
        self.keys.set(i64::try_from(keys).unwrap_or(i64::MAX));
    }

    /// A request was turned away for want of a key.
    pub fn count_key_refused(&self) {
        self.keys_refused.inc();
    }

    /// A request was turned away because its caller asks too often.
    pub fn count_rate_limited(&self) {
        self.rate_limited.inc();
    }

    /// Keys were read anew.
    pub fn count_keys_reload(&self, outcome: ReloadOutcome) {
        self.keys_reloads.with_label_values(&[outcome.as_str()]).inc();
    }

    /// Says how long the certificate is good.
    pub fn describe_certificate(&self, not_after: i64) {
        self.certificate_not_after.set(not_after);
    }

    /// A certificate was read anew.
    pub fn count_certificate_reload(&self, outcome: ReloadOutcome) {
        self.certificate_reloads.with_label_values(&[outcome.as_str()]).inc();
    }

    /// Tables of law were read anew.
    pub fn count_law_reload(&self, outcome: ReloadOutcome) {
        self.law_reloads.with_label_values(&[outcome.as_str()]).inc();
    }

    /// A request has begun; it is under way until the guard is dropped, even if the caller goes away.
    pub fn begin_request(&self) -> InFlight {
        self.in_flight.inc();
        InFlight(self.in_flight.clone())
    }

    /// A request was answered.
    pub fn count_request(&self, method: &str, route: &str, status: u16, took: Duration) {
        self.requests.with_label_values(&[method, route, &status.to_string()]).inc();
        self.duration.with_label_values(&[method, route]).observe(took.as_secs_f64());
    }

    /// A problem was answered.
    pub fn count_problem(&self, code: ProblemCode) {
        self.problems.with_label_values(&[code.as_str()]).inc();
    }

    /// A calculation came out like this.
    pub fn count_outcome(&self, outcome: impl Outcome) {
        outcome.count(self);
    }

    /// A panic was caught.
    pub fn count_panic(&self) {
        self.panics.inc();
    }

    /// All series in the Prometheus text format.
    pub fn text(&self) -> Result<Vec<u8>, prometheus::Error> {
        let mut text = Vec::with_capacity(16 * 1024);
        TextEncoder::new().encode(&self.registry.gather(), &mut text)?;
        Ok(text)
    }
}

/// A request under way.
#[derive(Debug)]
pub struct InFlight(IntGauge);

impl Drop for InFlight {
    fn drop(&mut self) {
        self.0.dec();
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::{
        ComparisonOutcome, DatesOutcome, GoodsTestOutcome, InvoiceOutcome, Metrics, PartialExemptionYearOutcome,
    };
    use crate::problem::ProblemCode;

    fn page(metrics: &Metrics) -> String {
        String::from_utf8(metrics.text().expect("text")).expect("UTF-8")
    }

    #[test]
    fn closed_series_stand_at_nought_from_the_start() {
        let page = page(&Metrics::new().expect("metrics"));
        for code in ProblemCode::ALL {
            assert!(page.contains(&format!("vat_schemes_problems_total{{code=\"{}\"}} 0\n", code.as_str())));
        }
        for outcome in ComparisonOutcome::ALL {
            assert!(page.contains(&format!("vat_schemes_comparisons_total{{outcome=\"{}\"}} 0\n", outcome.as_str())));
        }
        for outcome in GoodsTestOutcome::ALL {
            assert!(page.contains(&format!("vat_schemes_goods_tests_total{{outcome=\"{}\"}} 0\n", outcome.as_str())));
        }
        for outcome in InvoiceOutcome::ALL {
            assert!(page.contains(&format!("vat_schemes_invoices_total{{outcome=\"{}\"}} 0\n", outcome.as_str())));
        }
        for outcome in DatesOutcome::ALL {
            assert!(page.contains(&format!("vat_schemes_dates_total{{outcome=\"{}\"}} 0\n", outcome.as_str())));
        }
        for outcome in PartialExemptionYearOutcome::ALL {
            let line = format!("vat_schemes_partial_exemption_years_total{{outcome=\"{}\"}} 0\n", outcome.as_str());
            assert!(page.contains(&line), "{line}");
        }
        assert!(page.contains("vat_schemes_panics_total 0\n"));
        assert!(page.contains("vat_schemes_http_requests_in_flight 0\n"));
    }

    #[test]
    fn what_happens_is_counted() {
        let metrics = Metrics::new().expect("metrics");
        metrics.describe_build("2026-11-25", jiff::civil::date(2026, 11, 25));
        metrics.count_request("GET", "/v1/sectors", 200, Duration::from_micros(150));
        metrics.count_problem(ProblemCode::NotFound);
        metrics.count_outcome(ComparisonOutcome::Equal);
        metrics.count_outcome(GoodsTestOutcome::LimitedCost);
        metrics.count_outcome(PartialExemptionYearOutcome::ToRepay);
        metrics.count_panic();
        let under_way = metrics.begin_request();
        let text = page(&metrics);
        for line in [
            "vat_schemes_http_requests_total{method=\"GET\",route=\"/v1/sectors\",status=\"200\"} 1",
            "vat_schemes_http_request_duration_seconds_bucket{method=\"GET\",route=\"/v1/sectors\",le=\"0.0001\"} 0",
            "vat_schemes_http_request_duration_seconds_bucket{method=\"GET\",route=\"/v1/sectors\",le=\"0.0002\"} 1",
            "vat_schemes_problems_total{code=\"not_found\"} 1",
            "vat_schemes_comparisons_total{outcome=\"equal\"} 1",
            "vat_schemes_goods_tests_total{outcome=\"limited_cost\"} 1",
            "vat_schemes_partial_exemption_years_total{outcome=\"to_repay\"} 1",
            "vat_schemes_panics_total 1",
            "vat_schemes_http_requests_in_flight 1",
            "vat_schemes_law_checked_on_timestamp_seconds 1795564800",
            concat!("vat_schemes_build_info{law_edition=\"2026-11-25\",version=\"", env!("CARGO_PKG_VERSION"), "\"} 1"),
        ] {
            assert!(text.contains(&format!("{line}\n")), "{line} in {text}");
        }
        drop(under_way);
        assert!(page(&metrics).contains("vat_schemes_http_requests_in_flight 0\n"));
    }
}
