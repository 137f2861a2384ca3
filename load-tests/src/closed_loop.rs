//! A closed loop: each connection sends its next request when it has its answer. It tells what a server can do at most, never how long a
//! caller waits.

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::{Duration, Instant};

use anyhow::bail;
use hyper::StatusCode;

use crate::client::{Connection, Prepared};
use crate::process;

/// What a server did in a closed loop.
#[derive(Clone, Copy, Debug, serde::Serialize)]
pub struct Throughput {
    /// Requests answered in a second.
    pub per_second: f64,
    /// Processor time of the server for one request, in microseconds.
    pub cpu_microseconds: f64,
    /// The share of one core that the server used.
    pub cores: f64,
}

/// Has a server, by its address and process, answer one request over and over.
pub async fn throughput(
    (address, id): (SocketAddr, u32),
    request: &Prepared,
    connections: usize,
    lasting: Duration,
) -> Result<Throughput, anyhow::Error> {
    let request = Arc::new(request.clone());
    let (began, used) = (Instant::now(), process::cpu(id)?);
    let tasks: Vec<_> = (0..connections)
        .map(|_| {
            let request = Arc::clone(&request);
            tokio::spawn(async move {
                let mut connection = Connection::to(address);
                let mut answered = 0_u32;
                while began.elapsed() < lasting {
                    match connection.send(&request).await? {
                        (StatusCode::OK, _) => answered += 1,
                        (status, _) => bail!("{} is answered with {status}", request.target),
                    }
                }
                Ok(answered)
            })
        })
        .collect();
    let mut answered = 0.0;
    for task in tasks {
        answered += f64::from(task.await??);
    }
    let (took, used) = (began.elapsed().as_secs_f64(), (process::cpu(id)? - used).as_secs_f64());
    Ok(Throughput { per_second: answered / took, cpu_microseconds: used / answered * 1e6, cores: used / took })
}
