//! TLS: the service's own certificate, changed while it runs.

use acceptance::client::{BATCHES, LINES};
use acceptance::figures::consultant;
use acceptance::metrics::Page;
use acceptance::server::{self, Server, wait_until};
use acceptance::tls::Pair;
use rustls::version::{TLS12, TLS13};
use std::io::{Read as _, Write as _};
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

/// The exit status for settings that cannot be used (`EX_CONFIG` of sysexits.h).
const BAD_SETTINGS: i32 = 78;

const REQUEST: &str = "GET /v1/sectors/pubs HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n";

/// Seconds from 1970 to the beginning of 2040 and of 2050.
const YEAR_2040: f64 = 2_208_988_800.0;
const YEAR_2050: f64 = 2_524_608_000.0;

/// The two files, taken away again.
pub struct Files {
    /// The certificate.
    pub certificate: PathBuf,
    key: PathBuf,
}

impl Files {
    /// Writes them.
    pub fn of(pair: &Pair) -> Files {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let path =
            |end| std::env::temp_dir().join(format!("vat-schemes-tls-{}-{number}-{end}.pem", std::process::id()));
        let files = Files { certificate: path("certificate"), key: path("key") };
        files.write(&pair.certificate, &pair.key);
        files
    }

    fn write(&self, certificate: &str, key: &str) {
        std::fs::write(&self.certificate, certificate).expect("written");
        std::fs::write(&self.key, key).expect("written");
    }

    /// The settings that name them.
    pub fn arguments(&self) -> [&str; 4] {
        [
            "--tls-certificate",
            self.certificate.to_str().expect("a path in UTF-8"),
            "--tls-key",
            self.key.to_str().expect("a path in UTF-8"),
        ]
    }
}

impl Drop for Files {
    fn drop(&mut self) {
        // They are in the folder for temporary files: a failure here harms nobody.
        let _ = std::fs::remove_file(&self.certificate);
        let _ = std::fs::remove_file(&self.key);
    }
}

fn metric(server: &Server, name: &str) -> Option<f64> {
    Page::read(server.management_client().get("/metrics").text()).ok()?.value(name)
}

#[test]
fn both_versions_are_spoken_and_the_answer_says_to_stay_with_tls() {
    let pair = Pair::good_until(2040);
    let files = Files::of(&pair);
    let server = Server::start_with(&files.arguments());
    for version in [&TLS12, &TLS13] {
        let answer = pair.ask(server.address, &[version], REQUEST).expect("read").expect("an answer");
        assert_eq!(answer.status, 200);
        let hsts = answer.header("strict-transport-security");
        assert_eq!(hsts, Some("max-age=31536000"), "{answer:?}");
        assert!(String::from_utf8_lossy(&answer.body).contains("\"pubs\""));
    }
    let plain = acceptance::raw::exchange(server.address, REQUEST.as_bytes());
    assert!(!matches!(&plain, Ok(Some(answer)) if answer.status < 400), "no answer without TLS: {plain:?}");
    let other = Pair::good_until(2040);
    assert!(other.ask(server.address, &[&TLS13], REQUEST).is_err(), "the certificate is that of the file");
    // The management port stays as it is.
    assert_eq!(metric(&server, "vat_schemes_certificate_not_after_timestamp_seconds"), Some(YEAR_2040));
    assert_eq!(server.management_client().get("/health/ready").header("strict-transport-security"), None);
    server.finish();
}

#[test]
fn without_a_certificate_nothing_speaks_of_tls() {
    let server = Server::start();
    assert_eq!(server.client().get("/v1/sectors/pubs").header("strict-transport-security"), None);
    assert_eq!(metric(&server, "vat_schemes_certificate_not_after_timestamp_seconds"), Some(0.0));
    server.finish();
}

#[test]
fn a_certificate_is_changed_while_the_service_runs() {
    let (old, new) = (Pair::good_until(2040), Pair::good_until(2050));
    let files = Files::of(&old);
    let server = Server::start_with(&files.arguments()).expect_level("ERROR");
    let reloads =
        |outcome: &str| metric(&server, &format!("vat_schemes_certificate_reloads_total{{outcome=\"{outcome}\"}}"));
    let shows = |pair: &Pair| pair.ask(server.address, &[&TLS13], REQUEST).is_ok_and(|answer| answer.is_some());
    assert!(shows(&old));
    let bad = [
        (new.certificate.as_str(), old.key.as_str()),
        (new.certificate.as_str(), ""),
        ("", new.key.as_str()),
        ("-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n", new.key.as_str()),
    ];
    for (times, (certificate, key)) in (1..).zip(bad) {
        files.write(certificate, key);
        server.signal("HUP");
        wait_until("the bad pair is refused", || reloads("refused") == Some(f64::from(times)));
        assert!(shows(&old) && !shows(&new), "the old one stays");
    }
    files.write(&new.certificate, &new.key);
    server.signal("HUP");
    wait_until("the new one is taken", || reloads("taken") == Some(1.0));
    assert!(shows(&new) && !shows(&old));
    assert_eq!(metric(&server, "vat_schemes_certificate_not_after_timestamp_seconds"), Some(YEAR_2050));
    let log = format!("{:?}", server.finish());
    assert!(!log.contains("PRIVATE KEY") && log.contains("cannot be used"), "{log}");
}

#[test]
fn a_pair_that_cannot_be_used_is_fatal_on_start() {
    let (one, other) = (Pair::good_until(2040), Pair::good_until(2040));
    let files = Files::of(&one);
    let [certificate_flag, certificate, key_flag, key] = files.arguments();
    let runs = |arguments: &[&str]| {
        let free = ["--listen", "127.0.0.1:0", "--management-listen", "127.0.0.1:0"];
        let output = server::command().args(free).args(arguments).output().expect("the binary runs");
        assert_eq!(output.status.code(), Some(BAD_SETTINGS), "{output:?}");
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    assert!(runs(&[certificate_flag, certificate]).contains("tls_key"));
    assert!(runs(&[key_flag, key]).contains("tls_certificate"));
    files.write(&one.certificate, &other.key);
    assert!(runs(&files.arguments()).contains(certificate));
    assert!(runs(&[&files.arguments()[..], &["--check-config"]].concat()).contains(certificate));
}

/// Under TLS too, who takes none of its answers is cut off.
#[test]
fn a_caller_that_does_not_read_is_cut_off() {
    let pair = Pair::good_until(2040);
    let files = Files::of(&pair);
    let limits = ["--max-concurrent-requests", "1", "--write-timeout-seconds", "1"];
    let server = Server::start_with(&[&files.arguments()[..], &limits].concat()).expect_level("ERROR");
    let lines = format!("{}\n", consultant()).repeat(2_000);
    let head = format!(
        "POST {BATCHES} HTTP/1.1\r\nHost: localhost\r\nContent-Type: {LINES}\r\nContent-Length: {}\r\n\r\n",
        lines.len()
    );
    let mut stalled = pair.open(server.address, &[&TLS13]).expect("a connection");
    // Back-pressure may keep the last lines from being taken in: the connection ends then while they are being written.
    let sent = stalled.write_all(head.as_bytes()).and_then(|()| stalled.write_all(lines.as_bytes()));
    if sent.is_ok() {
        // The answer has begun, so the request has its room.
        stalled.read_exact(&mut [0]).expect("the beginning of the answer");
    }
    wait_until("the room of who does not read is free", || {
        let answer = pair.ask(server.address, &[&TLS13], REQUEST).expect("read");
        answer.is_some_and(|answer| answer.status == 200)
    });
    let end = stalled.read_to_end(&mut Vec::new());
    assert!(sent.is_err() || end.is_err(), "cut off");
    server.finish();
}
