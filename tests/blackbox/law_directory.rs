//! Tables of law from a directory: mounted beside the service, read anew while it runs, refused where they are not sound.

use acceptance::client::{BATCHES, Client, LINES};
use acceptance::figures::{consultant, text_at};
use acceptance::metrics::Page;
use acceptance::raw::Connection;
use acceptance::server::{self, Server, wait_until};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Output;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// The exit status for settings that cannot be used (`EX_CONFIG` of sysexits.h).
const BAD_SETTINGS: i32 = 78;

/// A directory of tables that is taken away again.
struct Directory(PathBuf);

impl Directory {
    /// All tables that come with the service.
    fn of_built_in() -> Directory {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("vat-schemes-law-{}-{number}", std::process::id()));
        let directory = Directory(path);
        let output = run(&["law-tables", directory.path()]);
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        assert_eq!(String::from_utf8_lossy(&output.stdout).lines().count(), 7);
        directory
    }

    /// A set of its own name in which the limit for registration rises in April 2027: of the tables only those that changed.
    fn of_budget(edition: &str) -> Directory {
        let directory = Directory::of_built_in();
        for table in ["authorities", "flat_rate_percentages", "fuel_scale_charges", "trades", "bank_holidays"] {
            std::fs::remove_file(directory.0.join(format!("{table}.toml"))).expect("removed");
        }
        directory.name(edition);
        let limit = "value = \"90000.00\"\nfrom = \"2024-04-01\"\n";
        directory.edit("parameters.toml", |text| {
            let start = text.find("id = \"vat_registration\"").expect("the limit for registration");
            let row = start + text[start..].find(limit).expect("the row in force");
            let end = text[row..].find("\n\n").map_or(text.trim_end().len(), |end| row + end);
            format!(
                "{}{limit}to = \"2027-03-31\"\n{}\n\n[[parameter.row]]\nvalue = \"95000.00\"\nfrom = \"2027-04-01\"\n{}{}",
                &text[..row],
                &text[row + limit.len()..end],
                &text[row + limit.len()..end],
                &text[end..]
            )
        });
        directory
    }

    fn path(&self) -> &str {
        self.0.to_str().expect("a path in UTF-8")
    }

    fn edit(&self, file: &str, change: impl FnOnce(&str) -> String) {
        let path = self.0.join(file);
        let text = std::fs::read_to_string(&path).expect("a table");
        let changed = change(&text);
        assert_ne!(text, changed, "{file} stays as it is");
        std::fs::write(path, changed).expect("written");
    }

    fn name(&self, edition: &str) {
        let text = format!("edition = \"{edition}\"\nchecked_on = \"2026-11-25\"\n");
        std::fs::write(self.0.join("edition.toml"), text).expect("written");
    }
}

impl Drop for Directory {
    fn drop(&mut self) {
        // It is in the folder for temporary files: a failure here harms nobody.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn run(arguments: &[&str]) -> Output {
    server::command().args(arguments).output().unwrap_or_else(|error| panic!("the binary does not run: {error}"))
}

fn edition(client: &Client) -> String {
    text_at(&client.compare(&consultant()), "/law/edition").to_owned()
}

fn limit_in_2027(client: &Client) -> String {
    let listed = client.get_json("/v1/parameters?on=2027-04-01");
    let items = listed["items"].as_array().expect("items");
    let limit = items.iter().find(|item| item["id"] == "vat_registration").expect("the limit");
    text_at(limit, "/value").to_owned()
}

fn reloads(server: &Server, outcome: &str) -> Option<f64> {
    let answer = server.management_client().get("/metrics");
    Page::read(answer.text()).ok()?.value(&format!("vat_schemes_law_reloads_total{{outcome=\"{outcome}\"}}"))
}

#[test]
fn tables_of_a_directory_take_the_place_of_those_that_came_with_the_service() {
    let own = Server::start();
    let (own_edition, own_tag) = (edition(&own.client()), tag(&own.client()));
    assert_eq!(limit_in_2027(&own.client()), "90000.00");
    own.finish();

    let directory = Directory::of_budget("budget 2027");
    // Hidden files are not tables: a cluster keeps its links there.
    std::fs::write(directory.0.join(".kept"), "not a table").expect("written");
    let server = Server::start_with(&["--law-directory", directory.path()]);
    let client = server.client();
    assert_eq!(edition(&client), "budget 2027");
    assert_ne!(own_edition, "budget 2027");
    assert_eq!(limit_in_2027(&client), "95000.00");
    assert_ne!(tag(&client), own_tag, "who has the old answer is given the new one");
    let history = client.get_json("/v1/parameters/vat_registration");
    assert!(history.to_string().contains("95000.00"), "{history}");
    // What the directory does not hold is the service's own.
    assert_eq!(client.get("/v1/sectors/pubs").status, 200);
    let page = server.management_client().get("/metrics");
    let editions = Page::read(page.text()).expect("metrics").label_values("vat_schemes_build_info", "law_edition");
    assert!(editions.iter().eq(["budget 2027"]), "{editions:?}");
    drop(client);
    let log = server.finish();
    assert!(log.iter().any(|line| line.values().any(|value| value == "budget 2027")), "{log:?}");
}

fn tag(client: &Client) -> Option<String> {
    client.get("/v1/parameters/vat_registration").header("etag").map(str::to_owned)
}

/// Requests that began under the old law end under it; those that come after have the new one.
#[test]
fn a_newer_set_is_taken_while_the_service_runs() {
    let directory = Directory::of_budget("first");
    let server = Server::start_with(&["--law-directory", directory.path()]);
    let client = server.client();
    let mut batch = Connection::open(server.address).expect("a connection");
    let head = format!(
        "POST {BATCHES}?workings=false HTTP/1.1\r\nHost: localhost\r\nContent-Type: {LINES}\r\nTransfer-Encoding: chunked\r\n\r\n"
    );
    batch.write(head.as_bytes()).expect("written");
    assert!(line_of(&mut batch).contains("\"edition\":\"first\""));

    directory.name("second");
    server.signal("HUP");
    wait_until("the newer set is used", || reloads(&server, "taken") == Some(1.0));
    assert_eq!(edition(&client), "second");
    assert!(line_of(&mut batch).contains("\"edition\":\"first\""), "a batch ends under the law it began with");
    batch.write(b"0\r\n\r\n").expect("written");
    drop(batch);
    drop(client);
    let log = server.finish();
    let told = |line: &&acceptance::log::Line| line.get("used").is_some_and(|used| used.to_string().contains("second"));
    assert_eq!(log.iter().filter(told).count(), 1, "{log:?}");
}

/// Under load a change of law loses no request, and each answer is wholly of one set.
#[test]
fn a_newer_set_is_taken_under_load() {
    let directory = Directory::of_budget("set 0");
    let server = Server::start_with(&["--law-directory", directory.path()]);
    let ending = AtomicBool::new(false);
    let seen: BTreeSet<String> = std::thread::scope(|scope| {
        let callers: Vec<_> = (0..4)
            .map(|_| {
                scope.spawn(|| {
                    let client = server.client();
                    let mut seen = BTreeSet::new();
                    while !ending.load(Ordering::Relaxed) {
                        seen.insert(edition(&client));
                    }
                    seen
                })
            })
            .collect();
        for change in 1..=10 {
            directory.name(&format!("set {change}"));
            server.signal("HUP");
            wait_until("the newer set is used", || reloads(&server, "taken") == Some(f64::from(change)));
        }
        ending.store(true, Ordering::Relaxed);
        callers.into_iter().flat_map(|caller| caller.join().expect("every request was answered")).collect()
    });
    assert!(seen.len() > 2 && seen.iter().all(|edition| edition.starts_with("set ")), "{seen:?}");
    server.finish();
}

/// The answer to one more line of a batch.
fn line_of(batch: &mut Connection) -> String {
    let line = format!("{}\n", consultant());
    batch.write(format!("{:x}\r\n{line}\r\n", line.len()).as_bytes()).expect("written");
    let mut come = String::new();
    while !come.contains("\"edition\"") {
        come.push_str(&batch.read_some().expect("an answer"));
    }
    come
}

/// What makes a set unfit, how it is made so, and what the message must name.
type Fault = (&'static str, fn(&Directory), &'static [&'static str]);

fn faults() -> Vec<Fault> {
    vec![
        ("no name", |directory| remove(&directory.0.join("edition.toml")), &["edition.toml", "missing"]),
        (
            "the name of the service's own set",
            |directory| {
                let own = Directory::of_built_in();
                std::fs::copy(own.0.join("edition.toml"), directory.0.join("edition.toml")).expect("copied");
            },
            &["edition.toml", "a name of its own"],
        ),
        (
            "a gap",
            |directory| directory.edit("parameters.toml", |text| text.replace("\"2027-04-01\"", "\"2027-04-02\"")),
            &["parameters.toml", "vat_registration", "2027-03-31"],
        ),
        (
            "an overlap",
            |directory| directory.edit("parameters.toml", |text| text.replace("\"2027-04-01\"", "\"2027-03-31\"")),
            &["parameters.toml", "vat_registration"],
        ),
        (
            "an unknown authority",
            |directory| directory.edit("parameters.toml", |text| text.replace("si-2011-897", "si-2011-898")),
            &["parameters.toml", "si-2011-898"],
        ),
        (
            "no sane amount",
            |directory| directory.edit("parameters.toml", |text| text.replace("\"95000.00\"", "\"-95000.00\"")),
            &["parameters.toml", "vat_registration"],
        ),
        (
            "no TOML",
            |directory| directory.edit("parameters.toml", |text| text.replacen("[[parameter]]", "[[parameter", 1)),
            &["parameters.toml"],
        ),
        (
            "a stranger among the tables",
            |directory| std::fs::write(directory.0.join("parameter.toml"), "").expect("written"),
            &["parameter.toml", "parameters.toml"],
        ),
        (
            "a table too large",
            |directory| {
                std::fs::write(directory.0.join("trades.toml"), " ".repeat(4 * 1024 * 1024 + 1)).expect("written")
            },
            &["trades.toml", "4194304"],
        ),
        (
            "no text",
            |directory| std::fs::write(directory.0.join("trades.toml"), [0xFF, 0xFE]).expect("written"),
            &["trades.toml"],
        ),
    ]
}

fn remove(path: &Path) {
    std::fs::remove_file(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
}

fn assert_names(text: &str, names: &[&str], fault: &str) {
    for name in names {
        assert!(text.contains(name), "{fault}: {name} is not in {text}");
    }
}

#[test]
fn a_set_that_is_not_sound_does_not_start_the_service() {
    let missing = run(&["--check-config", "--law-directory", "/no/such/directory"]);
    assert_eq!(missing.status.code(), Some(BAD_SETTINGS), "{missing:?}");
    assert_names(&String::from_utf8_lossy(&missing.stderr), &["/no/such/directory"], "no directory");
    for (fault, spoil, names) in faults() {
        let directory = Directory::of_budget("spoilt");
        let arguments =
            ["--law-directory", directory.path(), "--listen", "127.0.0.1:0", "--management-listen", "127.0.0.1:0"];
        assert_eq!(run(&[&arguments[..], &["--check-config"]].concat()).status.code(), Some(0), "{fault}");
        spoil(&directory);
        for check in [&["--check-config"][..], &[]] {
            let output = run(&[&arguments[..], check].concat());
            assert_eq!(output.status.code(), Some(BAD_SETTINGS), "{fault}: {output:?}");
            let told = String::from_utf8_lossy(&output.stderr);
            assert_names(&told, names, fault);
            assert!(told.contains(directory.path()), "{fault}: {told}");
        }
    }
}

#[test]
fn a_set_that_is_not_sound_is_refused_and_the_old_one_stays() {
    let directory = Directory::of_budget("sound");
    let server = Server::start_with(&["--law-directory", directory.path()]).expect_level("ERROR");
    let client = server.client();
    let faults = faults();
    let mut refused = 0.0;
    for (_, spoil, _) in &faults {
        let other = Directory::of_budget("spoilt");
        spoil(&other);
        replace(&directory, &other);
        server.signal("HUP");
        refused += 1.0;
        wait_until("the set is refused", || reloads(&server, "refused") == Some(refused));
        assert_eq!(edition(&client), "sound");
        assert_eq!(limit_in_2027(&client), "95000.00");
    }
    replace(&directory, &Directory::of_budget("mended"));
    server.signal("HUP");
    wait_until("the mended set is used", || reloads(&server, "taken") == Some(1.0));
    assert_eq!(edition(&client), "mended");
    drop(client);
    let log = server.finish();
    let told: Vec<String> = log
        .iter()
        .filter(|line| acceptance::log::text(line, "level") == "ERROR")
        .map(|line| Value::from_iter(line.clone()).to_string())
        .collect();
    assert_eq!(told.len(), faults.len());
    for (told, (fault, _, names)) in told.iter().zip(faults) {
        assert_names(told, names, fault);
    }
}

/// Has one directory hold what the other holds.
fn replace(directory: &Directory, by: &Directory) {
    std::fs::remove_dir_all(&directory.0).expect("removed");
    std::fs::rename(&by.0, &directory.0).expect("renamed");
}

/// Without a setting that names files there is nothing to read anew, and the signal ends nothing.
#[test]
fn a_hang_up_without_files_changes_nothing() {
    let server = Server::start();
    let before = edition(&server.client());
    server.signal("HUP");
    wait_until("the signal is told of", || {
        server.log().iter().any(|line| acceptance::log::text(line, "message").contains("anew"))
    });
    assert_eq!(edition(&server.client()), before);
    assert_eq!((reloads(&server, "taken"), reloads(&server, "refused")), (Some(0.0), Some(0.0)));
    server.finish();
}

#[test]
fn the_tables_written_out_are_never_written_over() {
    let directory = Directory::of_built_in();
    let again = run(&["law-tables", directory.path()]);
    assert_eq!(again.status.code(), Some(1), "{again:?}");
    assert_names(&String::from_utf8_lossy(&again.stderr), &["edition.toml", "overwritten"], "a second time");
}
