//! Lines of a batch a second on one core, against the same lines read and written by serde_json alone.
//!
//! The floor is one thread of this process, by its processor time; the service's is that of all its threads, with what HTTP costs.

use std::hint::black_box;
use std::path::Path;

use anyhow::Context as _;
use serde_json::Value;

use super::{Extent, Figure};
use crate::batch;
use crate::client::{Connection, Prepared};
use crate::process;
use crate::profile;
use crate::service::Server;

const LINES: u64 = 20_000;

pub async fn measure(binary: &Path, extent: Extent) -> Result<Vec<Figure>, anyhow::Error> {
    let request: Value = serde_json::from_slice(&profile::body("quarter.json")?)?;
    let server = Server::service(binary, 1, &[]).await?;
    let mut figures = Vec::new();
    for (name, query, goal) in [
        ("whole answers", "", None),
        ("without workings", "?workings=false", Some(0.7)),
        ("summaries", "?fields=summary", None),
    ] {
        let line = batch::line(&request, 1)?;
        let answer = answered(&server, query, &line).await?;
        let [mut ratios, mut cost, mut floor_cost] = [const { Vec::new() }; 3];
        for round in 0..=extent.rounds {
            let ours = batch::send((server.address, server.id()), query, &request, LINES).await?;
            let (line, answer) = (line.clone(), answer.clone());
            let floor = tokio::task::spawn_blocking(move || serde_json_alone(&line, &answer, LINES)).await??;
            if round > 0 {
                ratios.push(floor / ours.cpu_microseconds);
                cost.push(ours.cpu_microseconds);
                floor_cost.push(floor);
            }
        }
        let ratio = Figure::of(format!("{name}: lines a second and core over serde_json's alone"), ratios);
        figures.push(match goal {
            Some(goal) => ratio.at_least(goal),
            None => ratio,
        });
        figures.push(Figure::of(format!("{name}: microseconds of processor a line"), cost));
        figures.push(Figure::of(format!("{name}: serde_json's"), floor_cost));
    }
    Ok(figures)
}

/// The line that answers a line.
async fn answered(server: &Server, query: &str, line: &[u8]) -> Result<Value, anyhow::Error> {
    let request = Prepared {
        media_type: Some("application/x-ndjson".to_owned()),
        ..Prepared::json(&format!("/v1/comparisons/batch{query}"), line.to_vec())
    };
    let (_, body) = Connection::to(server.address).fetch(&request).await?;
    let first = body.split(|byte| *byte == b'\n').next().context("no answer")?;
    Ok(serde_json::from_slice(first)?)
}

/// Microseconds of processor that reading a line and writing its answer takes.
#[expect(clippy::cast_precision_loss, reason = "few lines")]
fn serde_json_alone(line: &[u8], answer: &Value, lines: u64) -> Result<f64, anyhow::Error> {
    let mut written = Vec::with_capacity(1 << 20);
    let used = process::cpu_of_this_thread()?;
    for _ in 0..lines {
        black_box(serde_json::from_slice::<Value>(black_box(line))?);
        if written.len() > 1 << 19 {
            written.clear();
        }
        serde_json::to_writer(&mut written, black_box(answer))?;
        written.push(b'\n');
    }
    black_box(&written);
    Ok((process::cpu_of_this_thread()? - used).as_secs_f64() * 1e6 / lines as f64)
}
