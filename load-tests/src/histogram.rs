//! Latencies, kept as a histogram of microseconds with three significant digits.

use std::time::Duration;

use hdrhistogram::Histogram;
use serde::Serialize;

/// Longer ones count as this long: a minute.
const LONGEST_MICROSECONDS: u64 = 60_000_000;

/// Latencies.
#[derive(Clone, Debug)]
pub struct Latencies(Histogram<u64>);

impl Latencies {
    /// None yet.
    pub fn new() -> Self {
        Self(Histogram::new_with_max(LONGEST_MICROSECONDS, 3).expect("bounds that a histogram can have"))
    }

    /// Adds one.
    pub fn add(&mut self, latency: Duration) {
        let microseconds = u64::try_from(latency.as_micros()).unwrap_or(LONGEST_MICROSECONDS);
        self.0.saturating_record(microseconds);
    }

    /// Adds those of another.
    pub fn join(&mut self, other: &Self) {
        // Both have the same bounds.
        let _ = self.0.add(&other.0);
    }

    /// The latency in microseconds that so large a share of all does not exceed.
    pub fn quantile(&self, share: f64) -> u64 {
        self.0.value_at_quantile(share)
    }

    /// The longest in microseconds.
    pub fn longest(&self) -> u64 {
        self.0.max()
    }

    /// What a report says of them.
    pub fn summary(&self) -> Summary {
        Summary {
            count: self.0.len(),
            mean: self.0.mean(),
            p50: self.quantile(0.50),
            p90: self.quantile(0.90),
            p99: self.quantile(0.99),
            p999: self.quantile(0.999),
            longest: self.longest(),
            classes: self
                .0
                .iter_log(50, 1.25)
                .map(|class| Class { at_most: class.value_iterated_to(), count: class.count_since_last_iteration() })
                .collect(),
        }
    }
}

/// Latencies in a report: microseconds.
#[derive(Clone, Debug, Serialize)]
pub struct Summary {
    pub count: u64,
    pub mean: f64,
    pub p50: u64,
    pub p90: u64,
    pub p99: u64,
    pub p999: u64,
    pub longest: u64,
    /// How many fell into each class, up to the longest.
    pub classes: Vec<Class>,
}

/// A class of latencies: those above the class before, up to this one.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Class {
    pub at_most: u64,
    pub count: u64,
}
