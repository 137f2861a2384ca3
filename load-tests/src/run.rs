//! A profile from its start to its report.

use std::net::SocketAddr;
use std::path::PathBuf;
use std::time::Duration;

use anyhow::Context as _;
use clap::Args;
use serde::Serialize;
use serde_json::Value;

use crate::arrivals::Arrivals;
use crate::batch::{self, BatchOutcome};
use crate::closed_loop::{self, Throughput};
use crate::histogram::Summary;
use crate::open_loop::{self, Outcome};
use crate::process::{self, Machine, Memory};
use crate::profile::{Phase, Profile, Work};
use crate::report;
use crate::service::{Server, binary};
use crate::thresholds::{Held, Measure};

/// How long a closed loop looks for what the service can do.
const LOOKING: Duration = Duration::from_secs(3);

/// What is run, and how.
#[derive(Debug, Args)]
pub struct Arguments {
    /// The name of a profile, or the path of its file.
    profile: String,
    /// The binary of the service; without it, it is built for release.
    #[arg(long)]
    binary: Option<PathBuf>,
    /// Workers of the service; without it, one for each core.
    #[arg(long)]
    workers: Option<usize>,
    /// What the service can do at most, in requests a second; without it, that is measured.
    #[arg(long)]
    capacity: Option<f64>,
    /// Where the report is written: PATH.json and PATH.html.
    #[arg(long)]
    report: Option<PathBuf>,
}

/// What a run came to.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    pub title: String,
    pub says: String,
    pub machine: Machine,
    pub workers: usize,
    pub connections: usize,
    /// What a closed loop found the service to do at most.
    pub at_most: Option<Throughput>,
    /// Requests a second that a rate of one stands for.
    pub capacity: f64,
    pub phases: Vec<PhaseResult>,
    pub thresholds: Vec<Held>,
    pub holds: bool,
}

/// What a phase came to.
#[derive(Clone, Debug, Serialize)]
pub struct PhaseResult {
    pub name: String,
    /// Requests a second at the start and at the end.
    pub per_second: Option<[f64; 2]>,
    pub planned_seconds: f64,
    pub took_seconds: f64,
    /// Processor time of the service.
    pub cpu_seconds: f64,
    pub memory: Memory,
    /// All requests together.
    pub all: Option<Requests>,
    /// Each request of the mix.
    pub requests: Vec<Requests>,
    /// How late the generator was itself, in microseconds: what it adds to the latencies.
    pub generator_late: Option<Summary>,
    pub batch: Option<BatchOutcome>,
}

/// How requests of a name came out.
#[derive(Clone, Debug, Serialize)]
pub struct Requests {
    pub name: String,
    pub offered: u64,
    pub answered: u64,
    pub unexpected: u64,
    pub failed: u64,
    /// From when each was due, in microseconds.
    pub latency: Summary,
}

impl Requests {
    fn of(name: &str, outcome: &Outcome) -> Self {
        Self {
            name: name.to_owned(),
            offered: outcome.offered,
            answered: outcome.answered,
            unexpected: outcome.unexpected,
            failed: outcome.failed,
            latency: outcome.latencies.summary(),
        }
    }
}

impl PhaseResult {
    /// One of its figures.
    #[expect(clippy::cast_precision_loss, reason = "counts far below the limit")]
    pub fn figure(&self, measure: Measure, request: Option<&str>) -> Result<f64, anyhow::Error> {
        let requests = || match request {
            None => self.all.as_ref().context("a batch has no latencies"),
            Some(name) => self.requests.iter().find(|of| of.name == name).context("no such request"),
        };
        Ok(match (measure, &self.batch) {
            (Measure::Cpu, _) => self.cpu_seconds,
            (Measure::Memory, _) => self.memory.resident as f64,
            (Measure::Peak, _) => self.memory.peak as f64,
            (Measure::Took, _) => self.took_seconds,
            (Measure::Planned, _) => self.planned_seconds,
            (Measure::Offered, Some(batch)) => batch.lines as f64,
            (Measure::Answered, Some(batch)) => batch.answered as f64,
            (Measure::Wrong, Some(batch)) => batch.lines.abs_diff(batch.answered.min(batch.returned)) as f64,
            (Measure::FirstLine, Some(batch)) => batch.first_line_after * self.took_seconds,
            (Measure::FirstLine, None) => anyhow::bail!("only a batch has a first line"),
            (Measure::P50, _) => requests()?.latency.p50 as f64,
            (Measure::P99, _) => requests()?.latency.p99 as f64,
            (Measure::Offered, None) => requests()?.offered as f64,
            (Measure::Answered, None) => requests()?.answered as f64,
            (Measure::Wrong, None) => (requests()?.unexpected + requests()?.failed) as f64,
        })
    }
}

/// Runs a profile, and says whether its thresholds hold.
pub fn run(arguments: &Arguments) -> Result<bool, anyhow::Error> {
    let profile = Profile::read(&arguments.profile)?;
    let binary = binary(arguments.binary.as_deref())?;
    let executor = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build()?;
    let report = executor.block_on(async {
        let machine = Machine::here();
        let workers = arguments.workers.unwrap_or(machine.cores);
        let more: Vec<&str> = profile.service.iter().map(String::as_str).collect();
        let server = Server::service(&binary, workers, &more).await?;
        let (capacity, at_most) = match arguments.capacity {
            Some(given) => (given, None),
            None => {
                let kinds = profile.kinds(profile.phases.first().context("no phase")?)?;
                let (_, kind) = kinds.first().context("no request")?;
                let found =
                    closed_loop::throughput((server.address, server.id()), &kind.request, profile.connections, LOOKING);
                let found = found.await?;
                (found.per_second, Some(found))
            }
        };
        let mut phases = Vec::with_capacity(profile.phases.len());
        for phase in &profile.phases {
            let result = run_phase(&profile, phase, (server.address, server.id()), capacity).await;
            phases.push(result.with_context(|| format!("phase {}", phase.name))?);
        }
        let thresholds: Vec<Held> =
            profile.thresholds.iter().map(|threshold| threshold.test(&phases)).collect::<Result<_, _>>()?;
        let holds = thresholds.iter().all(|held| held.holds);
        Ok::<_, anyhow::Error>(Report {
            title: profile.title.clone(),
            says: profile.says.clone(),
            machine,
            workers,
            connections: profile.connections,
            at_most,
            capacity,
            phases,
            thresholds,
            holds,
        })
    })?;
    report::print(&report)?;
    if let Some(path) = &arguments.report {
        report::write(&report, path)?;
    }
    Ok(report.holds)
}

async fn run_phase(
    profile: &Profile,
    phase: &Phase,
    server: (SocketAddr, u32),
    capacity: f64,
) -> Result<PhaseResult, anyhow::Error> {
    let kinds = profile.kinds(phase)?;
    process::forget_peak(server.1)?;
    let used = process::cpu(server.1)?;
    let mut result = match phase.work()? {
        Work::OpenLoop { seconds, from, to } => {
            let per_second = [from * capacity, to * capacity];
            let (names, kinds): (Vec<String>, Vec<_>) = kinds.into_iter().unzip();
            let arrivals = Arrivals::over(seconds, per_second[0], per_second[1]);
            let outcomes = open_loop::drive(server.0, &kinds, profile.connections, arrivals).await?;
            PhaseResult {
                name: phase.name.clone(),
                per_second: Some(per_second),
                planned_seconds: seconds,
                took_seconds: outcomes.took.as_secs_f64(),
                cpu_seconds: 0.0,
                memory: Memory::default(),
                all: Some(Requests::of("all", &outcomes.all())),
                requests: names.iter().zip(&outcomes.kinds).map(|(name, kind)| Requests::of(name, kind)).collect(),
                generator_late: Some(outcomes.late.summary()),
                batch: None,
            }
        }
        Work::Batch { lines, query } => {
            let (_, kind) = kinds.first().context("no request")?;
            let request: Value = serde_json::from_slice(&kind.request.body)?;
            let batch = batch::send(server, &query, &request, lines).await?;
            PhaseResult {
                name: phase.name.clone(),
                per_second: None,
                planned_seconds: batch.seconds,
                took_seconds: batch.seconds,
                cpu_seconds: 0.0,
                memory: Memory::default(),
                all: None,
                requests: Vec::new(),
                generator_late: None,
                batch: Some(batch),
            }
        }
    };
    result.cpu_seconds = process::cpu(server.1)?.saturating_sub(used).as_secs_f64();
    result.memory = process::memory(server.1)?;
    Ok(result)
}
