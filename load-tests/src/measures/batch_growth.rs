//! Batches of 10³, 10⁴, 10⁵ … lines, each by a service of its own: what ten times as many lines cost, and the memory at each.

use std::path::Path;

use anyhow::bail;
use serde_json::Value;

use super::{Extent, Figure};
use crate::batch;
use crate::profile;
use crate::service::Server;

const LEAST: u64 = 1_000;

/// Answers without workings: a million whole ones are 33 GB.
const QUERY: &str = "?workings=false";

/// A batch that comes before each, so that a service's first steps are in none of them.
const BEFORE: u64 = 1_000;

pub async fn measure(binary: &Path, extent: Extent) -> Result<Vec<Figure>, anyhow::Error> {
    let request: Value = serde_json::from_slice(&profile::body("quarter.json")?)?;
    let workers = std::thread::available_parallelism()?.get();
    let lengths: Vec<u64> = std::iter::successors(Some(LEAST), |lines| Some(lines * 10))
        .take_while(|lines| *lines <= extent.most_lines)
        .collect();
    let mut outcomes: Vec<Vec<batch::BatchOutcome>> = vec![Vec::new(); lengths.len()];
    // Memory is looked at in a process of its own; more rounds than one only where they are short.
    for (lines, outcomes) in lengths.iter().zip(&mut outcomes) {
        for _ in 0..if *lines <= 10_000 { extent.rounds } else { 1 } {
            let server = Server::service(binary, workers, &[]).await?;
            let place = (server.address, server.id());
            batch::send(place, QUERY, &request, BEFORE).await?;
            let outcome = batch::send(place, QUERY, &request, *lines).await?;
            if outcome.answered != *lines || outcome.returned != *lines {
                bail!("{} of {lines} lines were answered", outcome.answered);
            }
            outcomes.push(outcome);
        }
    }
    let mut figures = Vec::new();
    let each = |of: fn(&batch::BatchOutcome) -> f64| -> Vec<(u64, Vec<f64>)> {
        lengths.iter().copied().zip(outcomes.iter().map(|rounds| rounds.iter().map(of).collect())).collect()
    };
    for (says, of) in [
        ("microseconds of processor a line", (|outcome| outcome.cpu_microseconds) as fn(&batch::BatchOutcome) -> f64),
        ("lines a second", |outcome| per_second(outcome)),
        ("cores used", |outcome| outcome.cores),
        ("KiB of memory at its peak", |outcome| kib(outcome.peak)),
    ] {
        figures
            .extend(each(of).into_iter().map(|(lines, rounds)| Figure::of(format!("{lines} lines: {says}"), rounds)));
    }
    let costs = each(|outcome| outcome.cpu_microseconds);
    for pair in costs.windows(2) {
        if let [(few, cost), (many, more)] = pair {
            let ratio = 10.0 * super::middle(more) / super::middle(cost);
            figures.push(Figure::of(format!("cost of {many} lines over that of {few}"), vec![ratio]).at_most(10.5));
        }
    }
    let peaks = each(|outcome| kib(outcome.peak));
    if let (Some((_, ten_thousand)), Some((most, peak))) = (peaks.get(1), peaks.last()) {
        let ratio = super::middle(peak) / super::middle(ten_thousand);
        figures
            .push(Figure::of(format!("peak of memory at {most} lines over that at 10000"), vec![ratio]).at_most(1.1));
    }
    Ok(figures)
}

#[expect(clippy::cast_precision_loss, reason = "few lines")]
fn per_second(outcome: &batch::BatchOutcome) -> f64 {
    outcome.lines as f64 / outcome.seconds
}

#[expect(clippy::cast_precision_loss, reason = "KiB")]
fn kib(count: u64) -> f64 {
    count as f64
}
