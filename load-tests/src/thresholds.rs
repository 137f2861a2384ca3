//! Thresholds: one figure of a run over another, so that they hold on any machine.

use anyhow::{Context as _, bail};
use serde::{Deserialize, Serialize};

use crate::profile::Profile;
use crate::run::PhaseResult;

/// What must hold.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Threshold {
    /// In a sentence.
    pub says: String,
    pub of: Figure,
    /// What it is divided by.
    pub over: Figure,
    pub at_most: Option<f64>,
    pub at_least: Option<f64>,
}

/// A figure of a phase.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    pub measure: Measure,
    pub phase: String,
    /// Of one request alone, by name.
    pub request: Option<String>,
}

/// What is measured of a phase.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Latency that half of the requests do not exceed.
    P50,
    /// Latency that 99 of 100 requests do not exceed.
    P99,
    /// Requests or lines sent.
    Offered,
    /// Those answered as expected.
    Answered,
    /// Those answered otherwise, or not at all.
    Wrong,
    /// Processor time of the service.
    Cpu,
    /// Resident memory of the service at the end of the phase.
    Memory,
    /// The most memory of the service in the phase.
    Peak,
    /// From the start of the phase to the first line of an answer.
    FirstLine,
    /// How long the phase took until its last answer.
    Took,
    /// How long it was planned to take.
    Planned,
}

/// How a threshold came out.
#[derive(Clone, Debug, Serialize)]
pub struct Held {
    pub says: String,
    pub ratio: f64,
    pub at_most: Option<f64>,
    pub at_least: Option<f64>,
    pub holds: bool,
}

impl Threshold {
    /// Whether it speaks of what is in the profile.
    pub fn check(&self, profile: &Profile) -> Result<(), anyhow::Error> {
        if self.at_most.is_none() && self.at_least.is_none() {
            bail!("\"{}\" sets no bound", self.says);
        }
        for figure in [&self.of, &self.over] {
            let Some(phase) = profile.phases.iter().find(|phase| phase.name == figure.phase) else {
                bail!("\"{}\" speaks of the phase {}, which there is not", self.says, figure.phase);
            };
            let kinds = profile.kinds(phase)?;
            if let Some(request) = &figure.request
                && !kinds.iter().any(|(name, _)| name == request)
            {
                bail!("\"{}\" speaks of {request}, which {} does not send", self.says, figure.phase);
            }
        }
        Ok(())
    }

    /// Whether it holds.
    pub fn test(&self, phases: &[PhaseResult]) -> Result<Held, anyhow::Error> {
        let figure = |figure: &Figure| {
            let phase = phases.iter().find(|phase| phase.name == figure.phase).context("the phase did not run")?;
            phase.figure(figure.measure, figure.request.as_deref())
        };
        let ratio = figure(&self.of)? / figure(&self.over)?;
        // Nought over nought is no number, and no number holds.
        let holds = self.at_most.is_none_or(|most| ratio <= most) && self.at_least.is_none_or(|least| ratio >= least);
        Ok(Held { says: self.says.clone(), ratio, at_most: self.at_most, at_least: self.at_least, holds })
    }
}
