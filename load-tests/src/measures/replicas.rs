//! One replica against two behind a proxy, each with one worker.

use std::fs;
use std::net::SocketAddr;
use std::path::Path;
use std::process::Command;

use anyhow::Context as _;

use super::{Extent, Figure};
use crate::client::Prepared;
use crate::closed_loop::throughput;
use crate::profile;
use crate::service::{Server, free_address, scratch};

const CONNECTIONS: usize = 32;

pub async fn measure(binary: &Path, extent: Extent) -> Result<Vec<Figure>, anyhow::Error> {
    let request = Prepared::json("/v1/comparisons", profile::body("quarter.json")?);
    let replicas = [Server::service(binary, 1, &[]).await?, Server::service(binary, 1, &[]).await?];
    let [one, two] =
        [&replicas[..1], &replicas[..]].map(|replicas| proxy(replicas.iter().map(|server| server.address)));
    let (one, two) = (one.await?, two.await?);
    let [mut ratios, mut direct, mut of_one, mut of_two, mut cost, mut cost_of_two] = [const { Vec::new() }; 6];
    let first = replicas[0].id();
    for round in 0..=extent.rounds {
        let bare = throughput((replicas[0].address, first), &request, CONNECTIONS, extent.lasting).await?;
        let with_one = throughput((one.address, one.id()), &request, CONNECTIONS, extent.lasting).await?;
        let with_two = throughput((two.address, two.id()), &request, CONNECTIONS, extent.lasting).await?;
        if round > 0 {
            ratios.push(with_two.per_second / with_one.per_second);
            direct.push(bare.per_second);
            of_one.push(with_one.per_second);
            of_two.push(with_two.per_second);
            cost.push(bare.cpu_microseconds);
            cost_of_two.push(with_two.cpu_microseconds);
        }
    }
    Ok(vec![
        Figure::of("requests a second of two replicas behind a proxy over those of one", ratios),
        Figure::of("requests a second of one replica without a proxy", direct),
        Figure::of("requests a second of one replica behind a proxy", of_one),
        Figure::of("requests a second of two replicas behind a proxy", of_two),
        Figure::of("microseconds of the replica's processor a request", cost),
        Figure::of("microseconds of the proxy's processor a request", cost_of_two),
    ])
}

/// A proxy in front of some replicas: HAProxy with one thread.
async fn proxy(replicas: impl Iterator<Item = SocketAddr>) -> Result<Server, anyhow::Error> {
    let address = free_address()?;
    let mut settings = format!(
        "global\n    nbthread 1\n    maxconn 1024\ndefaults\n    mode http\n    timeout connect 2s\n    timeout client 30s\n    timeout server \
         30s\n    http-reuse always\nfrontend api\n    bind {address}\n    default_backend replicas\nbackend replicas\n    balance leastconn\n"
    );
    for (number, replica) in replicas.enumerate() {
        settings.push_str(&format!("    server replica{number} {replica}\n"));
    }
    let file = scratch("cfg")?;
    fs::write(&file, settings)?;
    let mut command = Command::new("haproxy");
    command.arg("-db").arg("-f").arg(&file);
    Server::proxy(command, address).await.context("haproxy (package haproxy of Debian)")
}
