//! `POST /v1/comparisons` against a bare handler that reads the same request and writes the same answer with serde_json.
//!
//! Both servers have one worker and run throughout; each is measured in turn. What either can do at most is told by the processor time
//! that a request costs it, since the generator shares the machine; what a closed loop came to stands beside it.

use std::fs;
use std::path::Path;

use anyhow::{Context as _, bail};

use super::{Extent, Figure};
use crate::arrivals::Arrivals;
use crate::client::{Connection, Prepared};
use crate::closed_loop::throughput;
use crate::open_loop::{Kind, drive};
use crate::profile;
use crate::service::{Server, scratch};

const CONNECTIONS: usize = 16;

/// The share of what the slower of both can do at which latencies are compared.
const LOAD: f64 = 0.4;

pub async fn measure(binary: &Path, extent: Extent) -> Result<Vec<Figure>, anyhow::Error> {
    let mut figures = Vec::new();
    for (name, target, goal) in
        [("workings off", "/v1/comparisons?workings=false", 0.9), ("workings on", "/v1/comparisons", 0.75)]
    {
        let request = Prepared::json(target, profile::body("quarter.json")?);
        let service = Server::service(binary, 1, &[]).await?;
        let floor = floor_of(&service, &request).await?;
        let servers = [(service.address, service.id()), (floor.address, floor.id())];
        let [mut by_processor, mut by_clock, mut p50, mut p99] = [const { Vec::new() }; 4];
        let [mut cost, mut floor_cost] = [const { Vec::new() }; 2];
        for round in 0..=extent.rounds {
            let ours = throughput(servers[0], &request, CONNECTIONS, extent.lasting).await?;
            let bare = throughput(servers[1], &request, CONNECTIONS, extent.lasting).await?;
            let per_second = LOAD * ours.per_second.min(bare.per_second);
            let kinds = [Kind { request: request.clone(), expected: 200, weight: 1 }];
            let mut quantiles = Vec::new();
            for (address, _) in servers {
                let arrivals = Arrivals::over(extent.lasting.as_secs_f64(), per_second, per_second);
                let all = drive(address, &kinds, CONNECTIONS, arrivals).await?.all();
                if all.answered < all.offered {
                    bail!("not every request was answered as it should be");
                }
                quantiles.push([0.5, 0.99].map(|share| all.latencies.quantile(share)));
            }
            // The first round warms up.
            if round == 0 {
                continue;
            }
            by_processor.push(bare.cpu_microseconds / ours.cpu_microseconds);
            by_clock.push(ours.per_second / bare.per_second);
            cost.push(ours.cpu_microseconds);
            floor_cost.push(bare.cpu_microseconds);
            if let [ours, bare] = quantiles.as_slice() {
                p50.push(ratio(ours[0], bare[0]));
                p99.push(ratio(ours[1], bare[1]));
            }
        }
        figures.push(
            Figure::of(format!("{name}: throughput over the floor's, by processor time"), by_processor).at_least(goal),
        );
        figures.push(Figure::of(format!("{name}: throughput over the floor's, by the clock"), by_clock));
        figures.push(Figure::of(format!("{name}: p99 over the floor's"), p99).at_most(1.25));
        figures.push(Figure::of(format!("{name}: p50 over the floor's"), p50));
        figures.push(Figure::of(format!("{name}: microseconds of processor a request"), cost));
        figures.push(Figure::of(format!("{name}: the floor's"), floor_cost));
    }
    Ok(figures)
}

#[expect(clippy::cast_precision_loss, reason = "microseconds")]
fn ratio(one: u64, other: u64) -> f64 {
    one as f64 / other.max(1) as f64
}

/// A floor that writes what the service answers.
async fn floor_of(service: &Server, request: &Prepared) -> Result<Server, anyhow::Error> {
    let (status, answer) = Connection::to(service.address).fetch(request).await?;
    if !status.is_success() {
        bail!("the service answers {status}");
    }
    let file = scratch("json")?;
    fs::write(&file, &answer)?;
    Server::floor(&file).await.context("the floor")
}
