//! Keys: who may call, how often, and that neither log nor metrics tell them.

use acceptance::client::{BATCHES, Call, Client, problem_codes};
use acceptance::figures::consultant;
use acceptance::log::text;
use acceptance::metrics::Page;
use acceptance::server::{self, Server, wait_until};
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::Output;
use std::sync::atomic::{AtomicUsize, Ordering};

const SECTOR: &str = "/v1/sectors/pubs";

/// The exit status for settings that cannot be used (`EX_CONFIG` of sysexits.h).
const BAD_SETTINGS: i32 = 78;

/// A file of keys that is taken away again.
pub struct KeysFile(PathBuf);

impl KeysFile {
    /// An empty one.
    pub fn empty() -> KeysFile {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let file =
            KeysFile(std::env::temp_dir().join(format!("vat-schemes-keys-{}-{number}.toml", std::process::id())));
        file.write("");
        file
    }

    /// Its path.
    pub fn path(&self) -> &str {
        self.0.to_str().expect("a path in UTF-8")
    }

    fn write(&self, text: &str) {
        std::fs::write(&self.0, text).expect("written");
    }

    /// Adds a new key and gives it.
    pub fn add(&self, name: &str) -> String {
        let (key, entry) = new_key(name);
        let text = std::fs::read_to_string(&self.0).expect("read");
        self.write(&format!("{text}{entry}"));
        key
    }
}

impl Drop for KeysFile {
    fn drop(&mut self) {
        // It is in the folder for temporary files: a failure here harms nobody.
        let _ = std::fs::remove_file(&self.0);
    }
}

fn run(arguments: &[&str]) -> Output {
    server::command().args(arguments).output().unwrap_or_else(|error| panic!("the binary does not run: {error}"))
}

/// A new key and its entry.
fn new_key(name: &str) -> (String, String) {
    let output = run(&["new-key", name]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let shown = String::from_utf8(output.stderr).expect("text");
    let key = shown.lines().last().expect("a key").to_owned();
    (key, String::from_utf8(output.stdout).expect("text"))
}

/// A request that shows a key.
pub fn shown(call: Call, key: &str) -> Call {
    call.header("authorization", &format!("Bearer {key}"))
}

fn metric(server: &Server, name: &str) -> Option<f64> {
    Page::read(server.management_client().get("/metrics").text()).ok()?.value(name)
}

/// A server whose one caller has sent all that it may for hours.
pub struct Spent {
    server: Server,
    _file: KeysFile,
    /// The caller's key.
    pub key: String,
    /// A client that shows none.
    pub client: Client,
}

impl Spent {
    /// Starts it.
    pub fn start() -> Spent {
        let file = KeysFile::empty();
        let key = file.add("spent");
        let server =
            Server::start_with(&["--keys-file", file.path(), "--key-requests-per-minute", "1", "--key-burst", "1"]);
        let client = server.client();
        let spent = Spent { server, _file: file, key, client };
        assert_eq!(spent.client.send(&shown(Call::new("GET", SECTOR), &spent.key)).status, 200);
        spent
    }

    /// Ends it.
    pub fn finish(self) {
        drop(self.client);
        self.server.finish();
    }
}

/// The codes of keys.
pub fn codes() -> BTreeSet<String> {
    let spent = Spent::start();
    let plain = || Call::new("GET", SECTOR);
    let mut codes = problem_codes(&spent.client.send(&plain()).json());
    codes.extend(problem_codes(&spent.client.send(&shown(plain(), "vsk_unknown")).json()));
    // A minute passes in no test, but on a machine that sleeps: twice is enough.
    for _ in 0..2 {
        let answer = spent.client.send(&shown(plain(), &spent.key));
        if answer.status == 429 {
            codes.extend(problem_codes(&answer.json()));
        }
    }
    spent.finish();
    codes
}

#[test]
fn a_new_key_is_long_and_its_entry_does_not_hold_it() {
    let (first, entry) = new_key("firm-1.app_a");
    let (second, _) = new_key("firm-1.app_a");
    assert_ne!(first, second);
    for key in [&first, &second] {
        let random = key.strip_prefix("vsk_").expect("the beginning of every key");
        assert!(random.len() == 64 && random.bytes().all(|byte| byte.is_ascii_hexdigit()), "{key}");
    }
    assert!(entry.starts_with("[[key]]\nname = \"firm-1.app_a\"\nsha256 = \"") && !entry.contains(&first), "{entry}");
    for name in ["", "two words", "quote\"", &"x".repeat(65)] {
        let output = run(&["new-key", name]);
        assert_eq!((output.status.code(), output.stdout.as_slice()), (Some(1), b"".as_slice()), "{name}");
    }
}

#[test]
fn who_shows_a_key_is_answered_and_named_in_the_log() {
    let file = KeysFile::empty();
    let (one, two) = (file.add("one"), file.add("two"));
    let server = Server::start_with(&["--keys-file", file.path()]);
    assert_eq!(metric(&server, "vat_schemes_keys"), Some(2.0));
    let client = server.client();
    for key in [&one, &two] {
        let answer = client.send(&shown(Call::post("/v1/comparisons", consultant().to_string()), key));
        assert_eq!(answer.status, 200);
    }
    let missing = client.get(SECTOR);
    assert_eq!((missing.status, missing.header("www-authenticate")), (401, Some("Bearer")));
    assert_eq!(missing.json()["code"], "key_missing");
    let other_scheme = client.send(&Call::new("GET", SECTOR).header("authorization", "Basic dTpw"));
    assert_eq!(other_scheme.json()["code"], "key_missing");
    let halves = [&one[..one.len() - 1], &format!("{one}0"), "vsk_", &"x".repeat(8000)];
    for unknown in halves {
        let answer = client.send(&shown(Call::new("GET", SECTOR), unknown));
        assert_eq!((answer.status, answer.header("www-authenticate")), (401, Some("Bearer error=\"invalid_token\"")));
        assert_eq!(answer.json()["code"], "key_unknown");
    }
    assert_eq!(metric(&server, "vat_schemes_keys_refused_total"), Some(6.0));
    drop(client);
    let log = server.finish();
    let named: Vec<&str> = log.iter().filter(|line| line.contains_key("route")).map(|line| text(line, "key")).collect();
    assert_eq!(named[..2], ["one", "two"]);
    assert!(named[2..].iter().all(|name| name.is_empty()), "{named:?}");
    let log = format!("{log:?}");
    for secret in [one.as_str(), two.as_str(), "dTpw", "xxxxxxxx"] {
        assert!(!log.contains(secret.trim_start_matches("vsk_")), "the log tells a key");
    }
}

/// What the API is, everybody may read; all else needs a key, however its path is written.
#[test]
fn what_is_open_without_a_key() {
    let file = KeysFile::empty();
    file.add("one");
    let server = Server::start_with(&["--keys-file", file.path()]);
    let client = server.client();
    for open in ["/openapi.json", "/docs/"] {
        assert_eq!(client.get(open).status, 200, "{open}");
    }
    for closed in ["/v1/sectors", "/%76%31/sectors", "/v1%2Fsectors", "//v1/sectors", "/docs/../v1/sectors", "/nothing"]
    {
        let request = format!("GET {closed} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        let answer = acceptance::raw::exchange(server.address, request.as_bytes()).expect("read").expect("an answer");
        // What looks like a file of the docs page is none.
        let expected = if closed.starts_with("/docs/") { 404 } else { 401 };
        assert_eq!(answer.status, expected, "{closed}");
    }
    for open in ["/health/live", "/health/ready", "/metrics"] {
        assert_eq!(server.management_client().get(open).status, 200, "the management port asks for no key");
    }
    drop(client);
    server.finish();
}

#[test]
fn keys_are_changed_while_the_service_runs() {
    let file = KeysFile::empty();
    let old = file.add("app");
    let server = Server::start_with(&["--keys-file", file.path()]).expect_level("ERROR");
    let client = server.client();
    let status = |key: &str| client.send(&shown(Call::new("GET", SECTOR), key)).status;
    let reloads = |outcome: &str| metric(&server, &format!("vat_schemes_keys_reloads_total{{outcome=\"{outcome}\"}}"));
    let new = file.add("app");
    assert_eq!((status(&old), status(&new)), (200, 401), "not before it is read");
    server.signal("HUP");
    wait_until("the new key is known", || reloads("taken") == Some(1.0));
    assert_eq!((status(&old), status(&new)), (200, 200), "both for a while");
    assert_eq!(metric(&server, "vat_schemes_keys"), Some(2.0));
    let both = std::fs::read_to_string(file.path()).expect("read");
    for (times, bad) in (1..).zip(["", "[[key]]\nname = \"app\"\n", &format!("{both}{both}")]) {
        file.write(bad);
        server.signal("HUP");
        wait_until("the bad file is refused", || reloads("refused") == Some(f64::from(times)));
        assert_eq!((status(&old), status(&new)), (200, 200), "the old keys stay");
    }
    let entry = both.rfind("[[key]]").expect("an entry");
    file.write(&both[entry..]);
    server.signal("HUP");
    wait_until("the old key is gone", || reloads("taken") == Some(2.0));
    assert_eq!((status(&old), status(&new)), (401, 200));
    drop(client);
    let log = server.finish();
    let refusals: Vec<&str> =
        log.iter().filter(|line| text(line, "level") == "ERROR").map(|line| text(line, "error")).collect();
    assert_eq!(refusals.len(), 3);
    assert!(refusals.iter().all(|refusal| refusal.contains(file.path())), "{refusals:?}");
}

#[test]
fn a_keys_file_that_cannot_be_used_is_fatal_on_start() {
    let file = KeysFile::empty();
    for arguments in [
        &["--keys-file", file.path()][..],
        &["--keys-file", file.path(), "--check-config"],
        &["--keys-file", "/no/such/keys.toml"],
        &["--key-requests-per-minute", "60"],
        &["--key-burst", "60"],
    ] {
        let output = run(&[&["--listen", "127.0.0.1:0", "--management-listen", "127.0.0.1:0"], arguments].concat());
        assert_eq!(output.status.code(), Some(BAD_SETTINGS), "{output:?}");
    }
}

/// Each caller has a bucket of its own, whichever of its keys it shows; a batch is one request.
#[test]
fn who_asks_more_often_than_agreed_is_told_when_to_come_back() {
    let file = KeysFile::empty();
    let (one, again, two) = (file.add("one"), file.add("one"), file.add("two"));
    let server =
        Server::start_with(&["--keys-file", file.path(), "--key-requests-per-minute", "1", "--key-burst", "3"]);
    let client = server.client();
    let get = |key: &str| client.send(&shown(Call::new("GET", SECTOR), key));
    let lines = format!("{}\n", consultant()).repeat(20);
    assert_eq!(client.send(&shown(Call::post_lines(BATCHES, lines), &one)).status, 200);
    assert_eq!((get(&one).status, get(&again).status), (200, 200));
    let answer = get(&again);
    assert_eq!((answer.status, answer.json()["code"].as_str()), (429, Some("rate_limited")));
    let seconds: u32 = answer.header("retry-after").and_then(|value| value.parse().ok()).expect("whole seconds");
    assert!((1..=60).contains(&seconds), "one request comes back in a minute, not in {seconds} s");
    assert_eq!(get(&one).status, 429);
    assert_eq!(get(&two).status, 200, "the other caller has its own");
    assert_eq!(metric(&server, "vat_schemes_rate_limited_total"), Some(2.0));
    assert_eq!(metric(&server, "vat_schemes_keys_refused_total"), Some(0.0));
    drop(client);
    let log = server.finish();
    let limited: Vec<&str> =
        log.iter().filter(|line| text(line, "problem") == "rate_limited").map(|line| text(line, "key")).collect();
    assert_eq!(limited, ["one", "one"]);
}
