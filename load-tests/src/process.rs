//! What a process of this machine has used, as Linux tells it.

use std::fs;
use std::time::Duration;

use anyhow::{Context as _, anyhow};

/// The processor time of all threads that a process has now.
pub fn cpu(id: u32) -> Result<Duration, anyhow::Error> {
    let mut nanoseconds = 0;
    for thread in fs::read_dir(format!("/proc/{id}/task")).context("the process has gone")? {
        // A thread may end between the listing and the reading.
        if let Ok(text) = fs::read_to_string(thread?.path().join("schedstat")) {
            nanoseconds += text.split(' ').next().unwrap_or_default().parse::<u64>().unwrap_or_default();
        }
    }
    Ok(Duration::from_nanos(nanoseconds))
}

/// The processor time of this thread.
pub fn cpu_of_this_thread() -> Result<Duration, anyhow::Error> {
    let text = fs::read_to_string("/proc/thread-self/schedstat")?;
    let nanoseconds = text.split(' ').next().unwrap_or_default().parse()?;
    Ok(Duration::from_nanos(nanoseconds))
}

/// Memory in KiB.
#[derive(Clone, Copy, Debug, Default, serde::Serialize)]
pub struct Memory {
    /// Resident now.
    pub resident: u64,
    /// The most that was resident since the start, or since [`forget_peak`].
    pub peak: u64,
    /// Resident now and not of any file: what the process itself has filled.
    pub anonymous: u64,
}

/// The memory of a process.
pub fn memory(id: u32) -> Result<Memory, anyhow::Error> {
    let text = fs::read_to_string(format!("/proc/{id}/status")).context("the process has gone")?;
    let field = |name: &str| -> Result<u64, anyhow::Error> {
        text.lines()
            .find_map(|line| line.strip_prefix(name)?.trim().strip_suffix(" kB")?.parse().ok())
            .ok_or_else(|| anyhow!("the status of a process has no {name}"))
    };
    Ok(Memory { resident: field("VmRSS:")?, peak: field("VmHWM:")?, anonymous: field("RssAnon:")? })
}

/// Has the peak of a process's memory begin anew.
pub fn forget_peak(id: u32) -> Result<(), anyhow::Error> {
    fs::write(format!("/proc/{id}/clear_refs"), "5").context("the peak of memory cannot be reset")
}

/// The machine, for a report.
#[derive(Clone, Debug, serde::Serialize)]
pub struct Machine {
    /// The processor's name.
    pub processor: String,
    /// Its cores.
    pub cores: usize,
    /// The kernel.
    pub kernel: String,
    /// Processes that ran or waited for a processor, on average over the last minute, before the run.
    pub load: String,
}

impl Machine {
    /// This machine.
    pub fn here() -> Self {
        let read = |path| fs::read_to_string(path).unwrap_or_default();
        let processor = read("/proc/cpuinfo")
            .lines()
            .find_map(|line| Some(line.strip_prefix("model name")?.split_once(':')?.1.trim().to_owned()))
            .unwrap_or_default();
        Self {
            processor,
            cores: std::thread::available_parallelism().map_or(1, usize::from),
            kernel: read("/proc/sys/kernel/osrelease").trim().to_owned(),
            load: read("/proc/loadavg").split(' ').next().unwrap_or_default().to_owned(),
        }
    }
}
