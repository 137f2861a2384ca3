//! Servers that are started for a run, and ended after it.

use std::fs::{self, File};
use std::net::{SocketAddr, TcpListener};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use anyhow::{Context as _, bail};

use crate::client::{Connection, Prepared};

/// How long a server may take until it answers: only a fault reaches it.
const PATIENCE: Duration = Duration::from_secs(20);

/// A server of this run.
pub struct Server {
    child: Child,
    /// Where it answers.
    pub address: SocketAddr,
    /// From its start until it was ready.
    pub started_in: Duration,
}

impl Server {
    /// Starts the service with so many workers, and waits until it is ready.
    pub async fn service(binary: &Path, workers: usize, more: &[&str]) -> Result<Self, anyhow::Error> {
        let (address, management) = (free_address()?, free_address()?);
        let mut command = Command::new(binary);
        for (name, _) in std::env::vars_os() {
            if name.to_string_lossy().starts_with("VAT_SCHEMES_") {
                command.env_remove(name);
            }
        }
        command.args(["--listen", &address.to_string(), "--management-listen", &management.to_string()]);
        command.args(["--workers", &workers.to_string()]).args(more);
        Self::start(command, address, management, "/health/ready").await
    }

    /// Starts the floor with one worker.
    pub async fn floor(answer: &Path) -> Result<Self, anyhow::Error> {
        let address = free_address()?;
        let mut command = Command::new(std::env::current_exe()?);
        command.arg("floor").arg(answer).env("FLOOR_LISTEN", address.to_string());
        Self::start(command, address, address, "/").await
    }

    /// Starts a proxy by its command, and waits until it passes a request on.
    pub async fn proxy(command: Command, address: SocketAddr) -> Result<Self, anyhow::Error> {
        Self::start(command, address, address, "/openapi.json").await
    }

    async fn start(
        mut command: Command,
        address: SocketAddr,
        asked: SocketAddr,
        ready: &str,
    ) -> Result<Self, anyhow::Error> {
        let log = scratch("log")?;
        command.env("GLIBC_TUNABLES", tunables()?);
        let started = Instant::now();
        // A file, as a container's log is one: a pipe would have the generator read along.
        command.stdin(Stdio::null()).stdout(File::create(&log)?).stderr(Stdio::inherit());
        let child = command.spawn().with_context(|| format!("{} does not start", command.get_program().display()))?;
        // The file lives as long as the server has it open.
        fs::remove_file(&log)?;
        let mut server = Self { child, address, started_in: Duration::ZERO };
        let request = Prepared::get(ready);
        while started.elapsed() < PATIENCE {
            if let Ok((status, _)) = Connection::to(asked).send(&request).await
                && status.is_success()
            {
                server.started_in = started.elapsed();
                return Ok(server);
            }
            if let Some(status) = server.child.try_wait()? {
                bail!("{} has ended by itself: {status}", command.get_program().display());
            }
            tokio::time::sleep(Duration::from_millis(1)).await;
        }
        bail!("{} does not become ready", command.get_program().display())
    }

    /// Its process.
    pub fn id(&self) -> u32 {
        self.child.id()
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// An address of this machine that nobody listens on.
pub fn free_address() -> Result<SocketAddr, anyhow::Error> {
    Ok(TcpListener::bind("127.0.0.1:0")?.local_addr()?)
}

/// The path of a file for this run.
pub fn scratch(kind: &str) -> Result<PathBuf, anyhow::Error> {
    use std::sync::atomic::{AtomicU32, Ordering};
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let folder = std::env::temp_dir().join(format!("load-tests-{}", std::process::id()));
    fs::create_dir_all(&folder)?;
    Ok(folder.join(format!("{}.{kind}", NEXT.fetch_add(1, Ordering::Relaxed))))
}

/// The root of the repository.
pub fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

/// What the image tells the C library of its memory: the service is measured as it ships, and the floor beside it likewise.
fn tunables() -> Result<&'static str, anyhow::Error> {
    include_str!("../../deploy/Dockerfile")
        .lines()
        .find_map(|line| line.trim().trim_end_matches('\\').trim_end().strip_prefix("GLIBC_TUNABLES="))
        .context("the image sets no GLIBC_TUNABLES")
}

/// The binary of the service: the one given, or one that is built for release now.
pub fn binary(given: Option<&Path>) -> Result<PathBuf, anyhow::Error> {
    if let Some(given) = given {
        return Ok(given.to_owned());
    }
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(["build", "--release", "--locked", "--package", "vat-schemes-api", "--bin", "vat-schemes-api"]);
    built(&mut command, "bin")
}

/// The bench of the calculation, built as the image's binary is.
pub fn bench() -> Result<PathBuf, anyhow::Error> {
    let mut command = Command::new(root().join("deploy/image/build"));
    built(command.args(["--bench", "comparison"]), "bench")
}

/// Has cargo build a target of this kind, and says where it is.
fn built(command: &mut Command, kind: &str) -> Result<PathBuf, anyhow::Error> {
    let output = command
        .args(["--message-format", "json"])
        .current_dir(root())
        .stderr(Stdio::inherit())
        .output()
        .with_context(|| format!("{} does not start", command.get_program().display()))?;
    if !output.status.success() {
        bail!("the service does not build");
    }
    String::from_utf8_lossy(&output.stdout)
        .lines()
        .filter_map(|line| serde_json::from_str::<serde_json::Value>(line).ok())
        // A bench is built together with the binary, and cargo names them in either order.
        .filter(|message| message["target"]["kind"][0] == kind)
        .filter_map(|message| message.get("executable")?.as_str().map(PathBuf::from))
        .next_back()
        .context("cargo names no executable")
}
