//! The measures of the service, as ratios in one run: each side is measured in turn, several times over, and the middle ratio counts.

mod batch_floor;
mod batch_growth;
mod floor;
mod replicas;
mod request_growth;
mod start;

use std::fs;
use std::io::Write as _;
use std::path::PathBuf;
use std::time::Duration;

use clap::{Args, ValueEnum};
use serde::Serialize;

use crate::process::Machine;
use crate::service::binary;

/// What is measured, and how long.
#[derive(Debug, Args)]
pub struct Arguments {
    /// The binary of the service; without it, it is built for release.
    #[arg(long)]
    binary: Option<PathBuf>,
    /// The measures wanted; without it, all.
    #[arg(long, value_delimiter = ',')]
    only: Vec<Measure>,
    /// How often each side is measured.
    #[arg(long, default_value_t = 5)]
    rounds: usize,
    /// How long each closed or open loop lasts.
    #[arg(long, default_value_t = 3.0)]
    seconds: f64,
    /// Lines of the longest batch.
    #[arg(long, default_value_t = 1_000_000)]
    lines: u64,
    /// The file that the figures are written to, as JSON.
    #[arg(long)]
    report: Option<PathBuf>,
}

/// A measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Measure {
    /// Throughput and latency against a bare handler that reads and writes the same JSON.
    Floor,
    /// Lines of a batch against serde_json alone.
    BatchFloor,
    /// Cost and memory of batches, ten times longer each time.
    BatchGrowth,
    /// Cost of a request from 2 to 2,000 lines.
    RequestGrowth,
    /// One replica against two behind a proxy.
    Replicas,
    /// From start to ready, and memory when idle.
    Start,
}

/// How long each part of a measure lasts, and how often it is repeated.
#[derive(Clone, Copy, Debug)]
pub struct Extent {
    pub rounds: usize,
    pub lasting: Duration,
    pub most_lines: u64,
}

/// A figure, most often a ratio.
#[derive(Clone, Debug, Serialize)]
pub struct Figure {
    pub says: String,
    /// The middle one of all rounds.
    pub value: f64,
    /// Every round.
    pub rounds: Vec<f64>,
    pub at_most: Option<f64>,
    pub at_least: Option<f64>,
}

impl Figure {
    /// A figure from its rounds.
    pub fn of(says: impl Into<String>, rounds: Vec<f64>) -> Self {
        Self { says: says.into(), value: middle(&rounds), rounds, at_most: None, at_least: None }
    }

    /// With the goal that it should not exceed.
    pub fn at_most(mut self, most: f64) -> Self {
        self.at_most = Some(most);
        self
    }

    /// With the goal that it should reach.
    pub fn at_least(mut self, least: f64) -> Self {
        self.at_least = Some(least);
        self
    }

    /// Whether it reaches its goal, where it has one.
    fn reached(&self) -> Option<bool> {
        match (self.at_most, self.at_least) {
            (None, None) => None,
            (most, least) => {
                Some(most.is_none_or(|most| self.value <= most) && least.is_none_or(|least| self.value >= least))
            }
        }
    }
}

#[derive(Serialize)]
struct Report {
    machine: Machine,
    measures: Vec<(String, Vec<Figure>)>,
}

/// Measures, and says whether every goal is reached.
pub fn run(arguments: &Arguments) -> Result<bool, anyhow::Error> {
    let binary = binary(arguments.binary.as_deref())?;
    let extent = Extent {
        rounds: arguments.rounds.max(1),
        lasting: Duration::from_secs_f64(arguments.seconds),
        most_lines: arguments.lines,
    };
    let machine = Machine::here();
    let executor = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build()?;
    let mut measures = Vec::new();
    let mut all_reached = true;
    for measure in Measure::value_variants() {
        if !arguments.only.is_empty() && !arguments.only.contains(measure) {
            continue;
        }
        let figures = executor.block_on(async {
            match measure {
                Measure::Floor => floor::measure(&binary, extent).await,
                Measure::BatchFloor => batch_floor::measure(&binary, extent).await,
                Measure::BatchGrowth => batch_growth::measure(&binary, extent).await,
                Measure::RequestGrowth => request_growth::measure(&binary, extent).await,
                Measure::Replicas => replicas::measure(&binary, extent).await,
                Measure::Start => start::measure(&binary, extent).await,
            }
        })?;
        let name = measure.to_possible_value().map_or_else(String::new, |value| value.get_name().to_owned());
        let mut out = std::io::stdout().lock();
        writeln!(out, "{name}")?;
        for figure in &figures {
            let verdict = match figure.reached() {
                None => "       ",
                Some(true) => "reached",
                Some(false) => "MISSED ",
            };
            all_reached &= figure.reached() != Some(false);
            writeln!(out, "  {verdict} {:>10.3}  {}", figure.value, figure.says)?;
        }
        measures.push((name, figures));
    }
    if let Some(path) = &arguments.report {
        fs::write(path, serde_json::to_string_pretty(&Report { machine, measures })? + "\n")?;
    }
    Ok(all_reached)
}

/// The middle one of some figures.
fn middle(figures: &[f64]) -> f64 {
    let mut sorted = figures.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied().unwrap_or(f64::NAN)
}
