//! Starting and stopping: settings, signals, requests under way.

use acceptance::client::{BATCHES, Call, LINES};
use acceptance::figures::consultant;
use acceptance::log::text;
use acceptance::metrics::Page;
use acceptance::raw::{self, Connection};
use acceptance::server::{self, Server, wait_until};
use std::net::{TcpListener, TcpStream};
use std::path::PathBuf;
use std::process::Output;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Exit status for settings that cannot be used (`EX_CONFIG` of sysexits.h).
const BAD_SETTINGS: i32 = 78;

/// A connection whose request has arrived in part and is being waited for.
pub fn under_way(server: &Server) -> (Connection, Vec<u8>) {
    let body = consultant().to_string().into_bytes();
    let mut connection = Connection::open(server.address).expect("a connection");
    connection.write(&raw::post_head("/v1/comparisons", body.len())).expect("written");
    connection.write(&body[..10]).expect("written");
    wait_until("the request is under way", || in_flight(server) == Some(1.0));
    (connection, body[10..].to_vec())
}

fn in_flight(server: &Server) -> Option<f64> {
    let answer = server.management_client().get("/metrics");
    Page::read(answer.text()).ok()?.value("vat_schemes_http_requests_in_flight")
}

pub fn ready(server: &Server) -> (u16, String) {
    // Not a checked exchange: 503 is for whoever asks for health, and no problem.
    let answer = server
        .management_client()
        .exchange(&Call::new("GET", "/health/ready"))
        .expect("the management port answers to the end");
    (answer.status, answer.json()["status"].as_str().unwrap_or_default().to_owned())
}

fn stops_under_way(signal: &str) {
    let mut server = Server::start_with(&["--body-timeout-seconds", "600", "--shutdown-timeout-seconds", "600"]);
    let (mut connection, rest) = under_way(&server);
    assert_eq!(ready(&server), (200, "ready".to_owned()));
    server.signal(signal);
    wait_until("the service is no longer ready", || ready(&server).0 == 503);
    assert_eq!(ready(&server).1, "stopping");
    let live = server.management_client().get("/health/live");
    assert_eq!(live.status, 200, "stopping is not failing");
    // New callers are turned away, the one under way is answered.
    wait_until("no more connections are accepted", || TcpStream::connect(server.address).is_err());
    connection.write(&rest).expect("written");
    let answer = connection.read().expect("read").expect("an answer");
    assert_eq!(answer.status, 200);
    assert_eq!(server.wait().code(), Some(0));
    server.closed_log();
}

#[test]
fn a_request_under_way_is_answered_before_the_end() {
    stops_under_way("TERM");
}

/// A batch is answered to its last line, those sent after the signal among them.
#[test]
fn a_batch_under_way_is_answered_to_its_end() {
    let mut server = Server::start_with(&["--body-timeout-seconds", "600", "--shutdown-timeout-seconds", "600"]);
    let mut batch = Connection::open(server.address).expect("a connection");
    let head = format!(
        "POST {BATCHES}?fields=summary HTTP/1.1\r\nHost: localhost\r\nContent-Type: {LINES}\r\nTransfer-Encoding: chunked\r\n\r\n"
    );
    batch.write(head.as_bytes()).expect("written");
    let line = format!("{}\n", consultant());
    let mut come = String::new();
    for number in 1..=3 {
        batch.write(format!("{:x}\r\n{line}\r\n", line.len()).as_bytes()).expect("written");
        while come.matches("\"summary\"").count() < number {
            come.push_str(&batch.read_some().expect("an answer"));
        }
        if number == 1 {
            server.signal("TERM");
            wait_until("no more connections are accepted", || TcpStream::connect(server.address).is_err());
        }
    }
    batch.write(b"0\r\n\r\n").expect("written");
    while !come.contains("\"complete\":true") {
        come.push_str(&batch.read_some().expect("the closing line"));
    }
    drop(batch);
    assert_eq!(server.wait().code(), Some(0));
    server.closed_log();
}

#[test]
fn an_interrupt_is_a_request_to_stop() {
    stops_under_way("INT");
}

#[test]
fn a_second_signal_ends_at_once() {
    let mut server = Server::start_with(&["--body-timeout-seconds", "600", "--shutdown-timeout-seconds", "600"])
        .expect_level("WARN");
    let (mut connection, _) = under_way(&server);
    server.signal("TERM");
    wait_until("the service is no longer ready", || ready(&server).0 == 503);
    server.signal("TERM");
    assert_eq!(server.wait().code(), Some(130));
    let answer = connection.read();
    assert!(matches!(answer, Ok(None)), "{answer:?}");
}

/// Idle connections that are kept open do not hold up the end.
#[test]
fn an_idle_connection_does_not_hold_up_the_end() {
    let mut server = Server::start_with(&["--shutdown-timeout-seconds", "600"]);
    let mut connection = Connection::open(server.address).expect("a connection");
    connection.write(b"GET /v1/sectors/pubs HTTP/1.1\r\nHost: localhost\r\n\r\n").expect("written");
    assert_eq!(connection.read().expect("read").map(|answer| answer.status), Some(200));
    server.signal("TERM");
    assert_eq!(server.wait().code(), Some(0));
}

/// With a time to drain the service goes on answering although it is no longer ready, so that nobody meets a closed door.
#[test]
fn while_it_drains_the_service_answers() {
    let mut server = Server::start_with(&["--drain-seconds", "600"]).expect_level("WARN");
    server.signal("TERM");
    wait_until("the service is no longer ready", || ready(&server).0 == 503);
    server.client().compare(&consultant());
    // A connection that is kept open is closed after its answer, so that the next request goes elsewhere.
    let mut connection = Connection::open(server.address).expect("a connection");
    connection.write(b"GET /v1/sectors/pubs HTTP/1.1\r\nHost: localhost\r\n\r\n").expect("written");
    let answer = connection.read().expect("read").expect("an answer");
    assert_eq!((answer.status, answer.header("connection")), (200, Some("close")));
    assert_eq!(ready(&server), (503, "stopping".to_owned()));
    server.signal("TERM");
    assert_eq!(server.wait().code(), Some(130));
}

/// Lines are written several at a time, and none is lost or torn, whoever logs beside and however the service is ended in order.
#[test]
fn every_request_has_its_line_however_many_come_at_once() {
    const CALLERS: usize = 4;
    const EACH: usize = 300;
    let mut server = Server::start_with(&["--drain-seconds", "600"]).expect_level("WARN");
    std::thread::scope(|scope| {
        for caller in 0..CALLERS {
            let client = server.client();
            scope.spawn(move || {
                for call in 0..EACH {
                    client.send(
                        &Call::new("GET", "/v1/sectors/pubs").header("x-request-id", &format!("{caller}-{call}")),
                    );
                }
            });
        }
    });
    // The second signal ends it at once, just after the last answers.
    server.signal("TERM");
    wait_until("the service is no longer ready", || ready(&server).0 == 503);
    server.client().send(&Call::new("GET", "/v1/sectors/pubs").header("x-request-id", "the-last"));
    server.signal("TERM");
    assert_eq!(server.wait().code(), Some(130));
    let log = server.closed_log();
    let mut told: Vec<&str> =
        log.iter().filter(|line| line.contains_key("route")).map(|line| text(line, "request_id")).collect();
    let mut sent: Vec<String> =
        (0..CALLERS).flat_map(|caller| (0..EACH).map(move |call| format!("{caller}-{call}"))).collect();
    sent.push("the-last".to_owned());
    told.sort_unstable();
    sent.sort_unstable();
    assert_eq!(told, sent);
}

/// Runs the binary to its end.
pub fn run(arguments: &[&str], environment: &[(&str, &str)]) -> Output {
    server::command()
        .args(arguments)
        .envs(environment.iter().copied())
        .output()
        .unwrap_or_else(|error| panic!("the binary does not run: {error}"))
}

/// A settings file of this process, which is taken away again.
struct SettingsFile(PathBuf);

impl SettingsFile {
    fn with(text: &str) -> SettingsFile {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("vat-schemes-test-{}-{number}.toml", std::process::id()));
        std::fs::write(&path, text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        SettingsFile(path)
    }

    fn path(&self) -> &str {
        self.0.to_str().unwrap_or_default()
    }
}

impl Drop for SettingsFile {
    fn drop(&mut self) {
        // It is in the folder for temporary files: a failure here harms nobody.
        let _ = std::fs::remove_file(&self.0);
    }
}

/// Asserts that a settings file is accepted.
pub fn assert_settings_accepted(text: &str) {
    let file = SettingsFile::with(text);
    let output = run(&["--config", file.path(), "--check-config"], &[]);
    assert!(output.status.success(), "{text}\n{output:?}");
}

fn effective(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

#[test]
fn settings_without_any_are_the_documented_ones() {
    let shown = effective(&run(&["--check-config"], &[]));
    for line in [
        "listen = \"127.0.0.1:8080\"",
        "management_listen = \"127.0.0.1:8081\"",
        "max_body_bytes = 1048576",
        "body_timeout_seconds = 10",
        "drain_seconds = 0",
        "shutdown_timeout_seconds = 30",
        "max_head_bytes = 16384",
        "head_timeout_seconds = 5",
        "write_timeout_seconds = 30",
        "keep_alive_seconds = 75",
        "max_concurrent_requests = 512",
        "max_connections = 8192",
        "law_directory = \"\"",
    ] {
        assert!(shown.lines().any(|shown| shown == line), "{line} is not in\n{shown}");
    }
    // What is shown can be used as it is.
    let file = SettingsFile::with(&shown);
    assert_eq!(effective(&run(&["--check-config", "--config", file.path()], &[])), shown);
}

#[test]
fn flags_go_before_the_environment_and_that_before_the_file() {
    let file = SettingsFile::with("drain_seconds = 1\nmax_body_bytes = 1001\nbody_timeout_seconds = 11\n");
    let environment = [("VAT_SCHEMES_DRAIN_SECONDS", "2"), ("VAT_SCHEMES_MAX_BODY_BYTES", "1002")];
    let shown = effective(&run(&["--config", file.path(), "--drain-seconds", "3", "--check-config"], &environment));
    for line in
        ["drain_seconds = 3", "max_body_bytes = 1002", "body_timeout_seconds = 11", "shutdown_timeout_seconds = 30"]
    {
        assert!(shown.lines().any(|shown| shown == line), "{line} is not in\n{shown}");
    }
    let by_environment = effective(&run(&["--check-config"], &[("VAT_SCHEMES_CONFIG", file.path())]));
    assert!(by_environment.contains("drain_seconds = 1"), "{by_environment}");
}

/// Arguments, environment, and what a message about them must name.
type BadSettings<'case> = (&'case [&'case str], &'case [(&'case str, &'case str)], &'case [&'case str]);

#[test]
fn settings_that_cannot_be_used_are_fatal_and_named() {
    let unknown_key = SettingsFile::with("lisen = \"127.0.0.1:0\"\n");
    let wrong_value = SettingsFile::with("drain_seconds = \"soon\"\n");
    let no_toml = SettingsFile::with("drain_seconds: 3\n");
    let cases: [BadSettings<'_>; 12] = [
        (&["--lisen", "127.0.0.1:0"], &[], &["--lisen", "--listen"]),
        (&["serve"], &[], &["serve"]),
        (&["--listen", "everywhere"], &[], &["listen", "everywhere"]),
        (&["--max-body-bytes", "-1"], &[], &["max"]),
        (&["--max-body-bytes", "0"], &[], &["max"]),
        (&["--workers", "0"], &[], &["workers"]),
        (&[], &[("VAT_SCHEMES_LISEN", "127.0.0.1:0")], &["VAT_SCHEMES_LISEN", "VAT_SCHEMES_LISTEN"]),
        (&[], &[("VAT_SCHEMES_DRAIN_SECONDS", "soon")], &["VAT_SCHEMES_DRAIN_SECONDS", "soon"]),
        (&["--config", unknown_key.path()], &[], &["lisen", "listen"]),
        (&["--config", wrong_value.path()], &[], &["drain_seconds"]),
        (&["--config", no_toml.path()], &[], &[no_toml.path()]),
        (&["--config", "no/such/file.toml"], &[], &["no/such/file.toml"]),
    ];
    for (arguments, environment, named) in cases {
        for check in [true, false] {
            let mut arguments = arguments.to_vec();
            if check {
                arguments.push("--check-config");
            }
            let output = run(&arguments, environment);
            let text =
                format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
            assert_eq!(output.status.code(), Some(BAD_SETTINGS), "{arguments:?} {environment:?}: {text}");
            for name in named {
                assert!(text.contains(name), "{name} is not named: {text}");
            }
        }
    }
}

#[test]
fn help_and_version_are_told() {
    let help = run(&["--help"], &[]);
    assert!(help.status.success());
    let text = String::from_utf8_lossy(&help.stdout).into_owned();
    for flag in [
        "--listen",
        "--management-listen",
        "--config",
        "--check-config",
        "--max-body-bytes",
        "--body-timeout-seconds",
        "--drain-seconds",
        "--shutdown-timeout-seconds",
        "--workers",
        "--log",
        "VAT_SCHEMES_LISTEN",
        "127.0.0.1:8080",
    ] {
        assert!(text.contains(flag), "{flag} is not in\n{text}");
    }
}

#[test]
fn an_address_that_is_taken_is_named() {
    let taken = TcpListener::bind("127.0.0.1:0").expect("a free port");
    let address = taken.local_addr().expect("an address").to_string();
    for flag in ["--listen", "--management-listen"] {
        let other = if flag == "--listen" { "--management-listen" } else { "--listen" };
        let output = run(&[flag, &address, other, "127.0.0.1:0"], &[]);
        assert!(!output.status.success() && output.status.code().is_some(), "{output:?}");
        let text = format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
        assert!(text.contains(&address), "{text}");
    }
}

/// The settings of a file and of the environment start a server too.
#[test]
fn a_server_starts_by_file_and_environment() {
    let file = SettingsFile::with("listen = \"127.0.0.1:0\"\n");
    let mut command = server::command();
    command.args(["--config", file.path()]).env("VAT_SCHEMES_MANAGEMENT_LISTEN", "127.0.0.1:0");
    let server = Server::start_command(command);
    server.client().compare(&consultant());
    server.finish();
}
