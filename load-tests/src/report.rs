//! What a run came to: on the screen, as JSON, and as a page with its histograms.

mod page;

use std::fs;
use std::io::Write as _;
use std::path::Path;

use anyhow::Context as _;

use crate::run::Report;

/// Prints the gist of it.
pub fn print(report: &Report) -> Result<(), anyhow::Error> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{}: {}", report.title, report.says)?;
    writeln!(out, "a rate of 1 is {:.0} requests a second", report.capacity)?;
    for phase in &report.phases {
        match (&phase.all, &phase.batch) {
            (Some(all), _) => writeln!(
                out,
                "{:12} {:>9} sent {:>9} answered {:>5} wrong  p50 {:>7} p99 {:>7} p99.9 {:>7} longest {:>8} microseconds; memory {} KiB",
                phase.name,
                all.offered,
                all.answered,
                all.unexpected + all.failed,
                all.latency.p50,
                all.latency.p99,
                all.latency.p999,
                all.latency.longest,
                phase.memory.resident
            )?,
            (None, Some(batch)) => writeln!(
                out,
                "{:12} {:>9} lines {:>9} answered, {:.1} microseconds of processor each, {:.2} s, {:.2} cores, peak of memory {} KiB",
                phase.name, batch.lines, batch.answered, batch.cpu_microseconds, batch.seconds, batch.cores, batch.peak
            )?,
            (None, None) => {}
        }
    }
    for held in &report.thresholds {
        let verdict = if held.holds { "holds" } else { "FAILS" };
        writeln!(out, "{verdict}  {:.3} {}: {}", held.ratio, bounds(held.at_most, held.at_least), held.says)?;
    }
    Ok(())
}

/// Writes `PATH.json` and `PATH.html`.
pub fn write(report: &Report, path: &Path) -> Result<(), anyhow::Error> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    let json = serde_json::to_string_pretty(report)?;
    fs::write(path.with_extension("json"), json + "\n").with_context(|| path.display().to_string())?;
    fs::write(path.with_extension("html"), page::page(report)).with_context(|| path.display().to_string())?;
    Ok(())
}

/// The bounds of a threshold, for people.
fn bounds(at_most: Option<f64>, at_least: Option<f64>) -> String {
    let most = at_most.map(|most| format!("at most {most}"));
    let least = at_least.map(|least| format!("at least {least}"));
    most.into_iter().chain(least).collect::<Vec<_>>().join(", ")
}
