//! Instructions of one comparison, counted by callgrind: the same on a busy machine and on an idle one, so that a gate can compare them.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use anyhow::{Context as _, bail};
use clap::Args;
use serde::{Deserialize, Serialize};

use crate::service::{bench, root, scratch};

/// How often the work is done in the longer of two runs; the shorter does it not at all, and the difference is the work alone.
const TIMES: u64 = 60;

/// What is counted: requests, and how much of their answers is made. The floors are serde_json alone over the same bytes.
const REQUESTS: &[&str] = &["quarter.json", "short.json"];
const KINDS: &[&str] =
    &["whole", "without-workings", "summary", "floor-whole", "floor-without-workings", "floor-summary"];

/// What is to be counted.
#[derive(Debug, Args)]
pub struct Arguments {
    /// Writes what is counted to the file, instead of comparing it.
    #[arg(long)]
    update: bool,
    /// Counts one kind for one request alone and keeps callgrind's file here, for a look at where they go.
    #[arg(long, value_names = ["KIND", "REQUEST", "FILE"], num_args = 3)]
    profile: Option<Vec<String>>,
}

/// The counts on file.
#[derive(Debug, Serialize, Deserialize)]
struct OnFile {
    /// The compiler that made the code; another makes other code.
    compiler: String,
    /// By how much a count may differ from the one on file.
    tolerance_percent: f64,
    /// The same, where the compiler is another, and always for the floors: they are a yardstick, and none of this code.
    wider_tolerance_percent: f64,
    /// Instructions of one comparison, by request and kind.
    instructions: BTreeMap<String, BTreeMap<String, u64>>,
}

/// Counts, and compares with what is on file; whether all is within the tolerance.
pub fn run(arguments: &Arguments) -> Result<bool, anyhow::Error> {
    let bench = bench()?;
    if let Some([kind, request, file]) = arguments.profile.as_deref() {
        let counted = count(&bench, kind, request, TIMES, Path::new(file))?;
        writeln!(std::io::stdout(), "{counted} instructions in all; callgrind_annotate {file} shows where")?;
        return Ok(true);
    }
    let mut counted = BTreeMap::new();
    for request in REQUESTS {
        let mut kinds = BTreeMap::new();
        for kind in KINDS {
            kinds.insert((*kind).to_owned(), each(&bench, kind, request)?);
        }
        counted.insert((*request).to_owned(), kinds);
    }
    let path = root().join("load-tests/instructions.json");
    let on_file = fs::read(&path).ok().map(|bytes| serde_json::from_slice::<OnFile>(&bytes)).transpose()?;
    let compiler = compiler()?;
    if arguments.update {
        let (tolerance, wider) =
            on_file.map_or((3.0, 25.0), |known| (known.tolerance_percent, known.wider_tolerance_percent));
        let new =
            OnFile { compiler, tolerance_percent: tolerance, wider_tolerance_percent: wider, instructions: counted };
        fs::write(&path, serde_json::to_string_pretty(&new)? + "\n")?;
        return Ok(true);
    }
    compare(&on_file.context("there are no counts on file: run with --update")?, &compiler, &counted)
}

#[expect(clippy::cast_precision_loss, reason = "counts far below the limit")]
fn compare(
    on_file: &OnFile,
    compiler: &str,
    counted: &BTreeMap<String, BTreeMap<String, u64>>,
) -> Result<bool, anyhow::Error> {
    let mut out = std::io::stdout().lock();
    let tolerance = if compiler == on_file.compiler {
        on_file.tolerance_percent
    } else {
        writeln!(out, "counted with {compiler}, on file with {}: the wider tolerance holds", on_file.compiler)?;
        on_file.wider_tolerance_percent
    };
    let mut within = true;
    for (request, kinds) in counted {
        for (kind, now) in kinds {
            let before = on_file.instructions.get(request).and_then(|kinds| kinds.get(kind)).copied();
            let change = before.map_or(f64::INFINITY, |before| (*now as f64 / before as f64 - 1.0) * 100.0);
            let may = if kind.starts_with("floor-") { on_file.wider_tolerance_percent } else { tolerance };
            let holds = change.abs() <= may;
            within &= holds;
            let verdict = if holds { "holds" } else { "FAILS" };
            writeln!(
                out,
                "{verdict}  {request} {kind}: {now} instructions, {} on file, {change:+.2}% of {may}%",
                before.unwrap_or_default()
            )?;
        }
    }
    if !within {
        writeln!(
            out,
            "a count is further from the one on file than it may be: where that is meant, `cargo run --release -p load-tests -- \
             instructions --update` writes it anew, and the change says why"
        )?;
    }
    Ok(within)
}

/// Instructions of the work alone, done once.
fn each(bench: &Path, kind: &str, request: &str) -> Result<u64, anyhow::Error> {
    let file = scratch("callgrind")?;
    let many = count(bench, kind, request, TIMES, &file)?;
    let none = count(bench, kind, request, 0, &file)?;
    Ok(many.saturating_sub(none) / TIMES)
}

fn count(bench: &Path, kind: &str, request: &str, times: u64, file: &Path) -> Result<u64, anyhow::Error> {
    let request = File::open(root().join("load-tests/requests").join(request))?;
    let (folder, name) = (bench.parent().context("no folder")?, bench.file_name().context("no name")?);
    let output = Command::new("valgrind")
        // No path among the arguments: their lengths move what is allocated after them, and that the counts.
        .current_dir(folder)
        .args([
            "--tool=callgrind",
            "--quiet",
            &format!("--callgrind-out-file={}", std::path::absolute(file)?.display()),
        ])
        .arg(Path::new(".").join(name))
        .arg(kind)
        .arg(times.to_string())
        .stdin(request)
        .output()
        .context("valgrind does not start: install it")?;
    if !output.status.success() {
        bail!("{}", String::from_utf8_lossy(&output.stderr));
    }
    let text = fs::read_to_string(file)?;
    let total = text.lines().find_map(|line| line.strip_prefix("summary: ").or_else(|| line.strip_prefix("totals: ")));
    total.and_then(|total| total.trim().parse().ok()).context("callgrind counted nothing")
}

fn compiler() -> Result<String, anyhow::Error> {
    let output = Command::new("rustc").arg("--version").current_dir(root()).output().context("rustc does not start")?;
    Ok(String::from_utf8(output.stdout)?.trim().to_owned())
}
