//! Starts the real binary on free ports and ends it: a clean exit and a clean log are part of every test.

use crate::client::Client;
use crate::log;
use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Read};
use std::net::SocketAddr;
use std::path::PathBuf;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError, mpsc};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// Names another binary to test; without it, the package is built.
const BINARY_VARIABLE: &str = "VAT_SCHEMES_API_BINARY";

/// How long to wait for what should happen at once: only a fault reaches it.
const PATIENCE: Duration = Duration::from_secs(60);

/// The binary to test, built at the first call.
pub fn binary() -> PathBuf {
    static BINARY: OnceLock<PathBuf> = OnceLock::new();
    BINARY
        .get_or_init(|| match std::env::var_os(BINARY_VARIABLE) {
            Some(path) => PathBuf::from(path),
            None => built_beside().unwrap_or_else(build),
        })
        .clone()
}

/// The binary beside this test's own executable, where it is newer than everything that it is made from. `cargo test --workspace`
/// has just built it then, and building it again for this test alone would build its dependencies a second time.
fn built_beside() -> Option<PathBuf> {
    let test = std::env::current_exe().ok()?;
    let binary = test.parent()?.parent()?.join("vat-schemes-api");
    let built = binary.metadata().ok()?.modified().ok()?;
    let sources = ["service", "openapi", "Cargo.toml", "Cargo.lock"];
    let newest = sources.iter().filter_map(|source| crate::paths::last_changed(source)).max()?;
    (newest < built).then_some(binary)
}

fn build() -> PathBuf {
    let output = Command::new(env!("CARGO"))
        .args(["build", "--package", "vat-schemes-api", "--bin", "vat-schemes-api", "--message-format", "json"])
        .current_dir(crate::paths::root())
        .stderr(Stdio::inherit())
        .output()
        .unwrap_or_else(|error| panic!("cargo does not start: {error}"));
    assert!(output.status.success(), "the service does not build");
    String::from_utf8_lossy(&output.stdout)
        .lines()
        .filter_map(|line| serde_json::from_str::<serde_json::Value>(line).ok())
        .filter_map(|message| message.get("executable")?.as_str().map(PathBuf::from))
        .next_back()
        .unwrap_or_else(|| panic!("cargo names no executable"))
}

/// A command that runs the binary, free of settings from the tester's own environment.
pub fn command() -> Command {
    let mut command = Command::new(binary());
    for (name, _) in std::env::vars_os() {
        if name.to_string_lossy().starts_with("VAT_SCHEMES_") {
            command.env_remove(name);
        }
    }
    command
}

/// A running server.
pub struct Server {
    child: Child,
    reader: Option<JoinHandle<()>>,
    errors: Option<JoinHandle<String>>,
    lines: Arc<Mutex<Vec<String>>>,
    secrets: Arc<Mutex<BTreeSet<String>>>,
    expected_levels: BTreeSet<&'static str>,
    /// Where the API listens.
    pub address: SocketAddr,
    /// Where the management port listens.
    pub management: SocketAddr,
}

impl Server {
    /// Starts a server with default settings on free ports.
    pub fn start() -> Server {
        Server::start_with(&[])
    }

    /// Starts a server on free ports, with more arguments.
    pub fn start_with(arguments: &[&str]) -> Server {
        let mut command = command();
        command.args(["--listen", "127.0.0.1:0", "--management-listen", "127.0.0.1:0"]).args(arguments);
        Server::start_command(command)
    }

    /// Starts a server by a command that is ready but for its input and output.
    pub fn start_command(mut command: Command) -> Server {
        let mut child = command
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap_or_else(|error| panic!("the service does not start: {error}"));
        let lines = Arc::new(Mutex::new(Vec::new()));
        let (send, receive) = mpsc::channel();
        let reader = child.stdout.take().map(|output| {
            let lines = Arc::clone(&lines);
            std::thread::spawn(move || {
                for line in BufReader::new(output).lines().map_while(Result::ok) {
                    if let Ok(read) = log::line(&line) {
                        let address = |name| log::text(&read, name).parse::<SocketAddr>().ok();
                        if let (Some(api), Some(management)) = (address("listen"), address("management_listen")) {
                            // Nobody waits any more once the addresses are known.
                            let _ = send.send((api, management));
                        }
                    }
                    lock(&lines).push(line);
                }
            })
        });
        let errors = child.stderr.take().map(|mut output| {
            std::thread::spawn(move || {
                let mut text = String::new();
                match output.read_to_string(&mut text) {
                    Ok(_) => text,
                    Err(error) => format!("{text}{error}"),
                }
            })
        });
        let Ok((address, management)) = receive.recv_timeout(PATIENCE) else {
            // The addresses never came: what was printed instead says why.
            let _ = child.kill();
            let _ = child.wait();
            let printed = errors.map(JoinHandle::join);
            panic!("the service names no addresses: {:?} {printed:?}", lock(&lines));
        };
        Server {
            child,
            reader,
            errors,
            lines,
            secrets: Arc::default(),
            expected_levels: BTreeSet::from(["INFO"]),
            address,
            management,
        }
    }

    /// Says that lines of this level are expected in the log.
    pub fn expect_level(mut self, level: &'static str) -> Server {
        self.expected_levels.insert(level);
        self
    }

    /// A client of the API.
    pub fn client(&self) -> Client {
        Client::new(self.address, Arc::clone(&self.secrets))
    }

    /// A client of the management port.
    pub fn management_client(&self) -> Client {
        Client::management(self.management)
    }

    /// Sends a signal: `TERM`, `INT`.
    pub fn signal(&self, name: &str) {
        let status = Command::new("kill")
            .args([format!("-{name}"), self.child.id().to_string()])
            .status()
            .unwrap_or_else(|error| panic!("kill does not start: {error}"));
        assert!(status.success(), "the signal {name} was not sent");
    }

    /// Waits for the end of the process.
    pub fn wait(&mut self) -> ExitStatus {
        let deadline = Instant::now() + PATIENCE;
        loop {
            match self.child.try_wait() {
                Ok(Some(status)) => return status,
                Ok(None) if Instant::now() < deadline => std::thread::sleep(Duration::from_millis(5)),
                other => panic!("the service does not end: {other:?}"),
            }
        }
    }

    /// The log so far, read line by line.
    pub fn log(&self) -> Vec<log::Line> {
        lock(&self.lines).iter().map(|line| log::line(line).unwrap_or_else(|fault| panic!("{fault}"))).collect()
    }

    /// Ends the server and asserts a clean end and a clean log. Gives the log.
    pub fn finish(mut self) -> Vec<log::Line> {
        self.signal("TERM");
        let status = self.wait();
        assert_eq!(status.code(), Some(0), "the service ends with {status}: {:?}", lock(&self.lines));
        self.closed_log()
    }

    /// The whole log of an ended server, found clean.
    pub fn closed_log(&mut self) -> Vec<log::Line> {
        if let Some(reader) = self.reader.take() {
            reader.join().unwrap_or_else(|_| panic!("the log was not read to its end"));
        }
        let errors = self.errors.take().map(JoinHandle::join);
        assert!(
            matches!(&errors, None | Some(Ok(_))) && errors.iter().flatten().all(String::is_empty),
            "on standard error: {errors:?}"
        );
        let lines = self.log();
        let secrets = lock(&self.secrets).clone();
        for line in &lines {
            let level = log::text(line, "level");
            assert!(self.expected_levels.contains(level), "level `{level}` in the log: {line:?}");
            if let Some(secret) = log::tells(line, &secrets) {
                panic!("the log tells `{secret}`: {line:?}");
            }
        }
        lines
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // A test that failed leaves its server running; one that ended has nothing left to kill.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Runs a test against a server of its own, which then ends cleanly.
pub fn with_server(test: impl FnOnce(&Client)) {
    let server = Server::start();
    let client = server.client();
    test(&client);
    // Its connections, kept open, would have the server wait for them.
    drop(client);
    server.finish();
}

/// Waits until `condition` holds.
pub fn wait_until(what: &str, mut condition: impl FnMut() -> bool) {
    let deadline = Instant::now() + PATIENCE;
    while !condition() {
        assert!(Instant::now() < deadline, "waited in vain: {what}");
        std::thread::sleep(Duration::from_millis(5));
    }
}

/// A lock whose holder may have failed: the failure is reported by its own test.
pub fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
