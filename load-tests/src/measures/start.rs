//! From the start of the process to its first answer that it is ready, and its memory when it has nothing to do.

use std::path::Path;
use std::time::Duration;

use super::{Extent, Figure};
use crate::process;
use crate::service::Server;

/// As many starts as make a middle one.
const STARTS_A_ROUND: usize = 4;

pub async fn measure(binary: &Path, extent: Extent) -> Result<Vec<Figure>, anyhow::Error> {
    let workers = std::thread::available_parallelism()?.get();
    let [mut milliseconds, mut processor, mut resident, mut anonymous] = [const { Vec::new() }; 4];
    for _ in 0..extent.rounds * STARTS_A_ROUND {
        let server = Server::service(binary, workers, &[]).await?;
        milliseconds.push(server.started_in.as_secs_f64() * 1e3);
        processor.push(process::cpu(server.id())?.as_secs_f64() * 1e3);
        tokio::time::sleep(Duration::from_millis(200)).await;
        let memory = process::memory(server.id())?;
        resident.push(mebibytes(memory.resident));
        anonymous.push(mebibytes(memory.anonymous));
    }
    Ok(vec![
        Figure::of("milliseconds from start to ready", milliseconds).at_most(50.0),
        Figure::of("milliseconds of processor until then", processor),
        Figure::of("MiB of memory when idle, of the process itself", anonymous).at_most(10.0),
        Figure::of("MiB of memory when idle, with the pages of its file", resident),
    ])
}

#[expect(clippy::cast_precision_loss, reason = "KiB")]
fn mebibytes(kib: u64) -> f64 {
    kib as f64 / 1024.0
}
