//! The blocks of every page: each is run, or left to the reader for a reason that stands here.

use acceptance::client::{Call, Client};
use acceptance::console::{self, Block, Command};
use acceptance::differences::differences;
use acceptance::paths;
use acceptance::server::{self, Server};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::{env, fs};

/// Commands, and first lines of blocks, that no test runs, each with its reason. One that no page shows any more is taken out.
const LEFT_TO_THE_READER: [(&str, &str); 9] = [
    ("cargo run --release", "it starts the service for good, which every test here does on free ports"),
    ("cargo test --workspace", "it is running"),
    ("docker build --file tests/Dockerfile --tag vat-schemes-acceptance .", "it needs Docker"),
    ("docker run --rm vat-schemes-acceptance --base-url https://vat.example", "it needs Docker"),
    (
        "cargo run --release -p load-tests -- run steady --report target/load/steady",
        "minutes of load; the load tests read it",
    ),
    (
        "cargo run --release -p load-tests -- measure --report target/load/measures.json",
        "minutes of load; the load tests read it",
    ),
    ("cargo run --release -p load-tests -- instructions", "it needs callgrind; .ci/load runs it"),
    ("comparison -> warnings, cautions", "a drawing"),
    (
        "apiVersion: kustomize.config.k8s.io/v1beta1",
        "it needs a repository beside this one; deploy/checks renders what it is over",
    ),
];

/// Stands for the programs of this workspace where a page says `cargo run`: they are built already.
const CARGO: &str = r#"#!/bin/sh
[ "$1" = run ] || { echo "cargo $1 is not run here" >&2; exit 90; }
shift
[ "$1" = --release ] && shift
[ "$1" = -p ] && [ "$3" = -- ] || { echo "which package does this run: $*" >&2; exit 91; }
package="$2"
shift 3
case "$package" in
    vat-schemes-api) exec "$SERVICE" "$@" ;;
    acceptance) exec "$RUNNER" "$@" ;;
    *) echo "nobody has built $package" >&2; exit 92 ;;
esac
"#;

/// A folder for the commands of a block: a copy of `openapi`, and `bin` with what stands for `cargo`. It is taken away again.
struct Folder(PathBuf);

impl Folder {
    fn new() -> Folder {
        let folder = Folder(env::temp_dir().join(format!("vat-schemes-blocks-{}", std::process::id())));
        // It is not there yet, mostly.
        let _ = fs::remove_dir_all(&folder.0);
        fs::create_dir_all(folder.0.join("bin")).expect("made");
        fs::create_dir_all(folder.0.join("openapi/examples")).expect("made");
        for name in Folder::copied() {
            fs::write(folder.0.join(&name), paths::read(&name)).expect("written");
        }
        let cargo = folder.0.join("bin/cargo");
        fs::write(&cargo, CARGO).expect("written");
        let status = std::process::Command::new("chmod").arg("755").arg(&cargo).status().expect("chmod runs");
        assert!(status.success());
        folder
    }

    /// The files that are copied.
    fn copied() -> Vec<String> {
        let examples =
            paths::files("openapi/examples", ".json").into_iter().map(|name| format!("openapi/examples/{name}"));
        examples.chain(["openapi/v1.json".to_owned()]).collect()
    }

    /// Runs a text as a shell does.
    fn run(&self, text: &str) {
        let mut path = vec![self.0.join("bin")];
        path.extend(env::split_paths(&env::var_os("PATH").unwrap_or_default()));
        let output = std::process::Command::new("sh")
            .args(["-e", "-u", "-c", text])
            .current_dir(&self.0)
            .env("PATH", env::join_paths(path).expect("paths"))
            .env("SERVICE", server::binary())
            .env("RUNNER", env!("CARGO_BIN_EXE_acceptance"))
            .output()
            .expect("a shell");
        assert!(output.status.success(), "{text}\n{output:?}");
    }

    /// Asserts that what was copied is there as it was, and no file beside it: pages say how to make these files, and they are up to date.
    fn assert_as_it_was(&self) {
        let mut names = BTreeSet::new();
        for folder in ["openapi", "openapi/examples"] {
            for entry in fs::read_dir(self.0.join(folder)).expect("a folder") {
                let entry = entry.expect("an entry");
                if entry.path().is_file() {
                    names.insert(format!("{folder}/{}", entry.file_name().to_string_lossy()));
                }
            }
        }
        assert_eq!(names, Folder::copied().into_iter().collect());
        for name in names {
            let text = fs::read_to_string(self.0.join(&name)).expect("text");
            assert!(text == paths::read(&name), "{name} is made otherwise than it is kept");
        }
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // It is in the folder for temporary files: a failure here harms nobody.
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// What runs the blocks, and what it has met.
struct Reader<'server> {
    server: &'server Server,
    client: Client,
    management: Client,
    folder: Folder,
    left: BTreeSet<&'static str>,
    requests: usize,
    programs: usize,
    settings: usize,
}

impl Reader<'_> {
    /// Whether a command or a block is left to the reader.
    fn is_left(&mut self, text: &str) -> bool {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let known = LEFT_TO_THE_READER.iter().find(|(known, _)| *known == text);
        self.left.extend(known.map(|(known, _)| *known));
        known.is_some()
    }

    fn read(&mut self, page: &str, block: &Block) {
        match block.language.as_str() {
            "console" => {
                for command in console::commands(&block.text) {
                    self.command(page, &command);
                }
            }
            "sh" => {
                let (left, run): (Vec<&str>, Vec<&str>) = block.text.lines().partition(|line| self.is_left(line));
                assert!(left.is_empty() || run.is_empty(), "{page}: half of a block is run: {}", block.text);
                if !run.is_empty() {
                    self.folder.run(&block.text);
                    self.folder.assert_as_it_was();
                    self.programs += 1;
                }
            }
            "toml" => {
                crate::lifecycle::assert_settings_accepted(&block.text);
                self.settings += 1;
            }
            other => {
                let first = block.text.lines().next().unwrap_or_default();
                assert!(self.is_left(first), "{page}: nobody runs a block of `{other}`:\n{}", block.text);
            }
        }
    }

    fn command(&mut self, page: &str, command: &Command) {
        let text = command.words.join(" ");
        if self.is_left(&text) {
            assert!(command.output.trim().is_empty(), "{page}: the output of {text} is not checked");
        } else if command.words.first().is_some_and(|word| word == "curl") {
            run_curl(command, &self.client, &self.management);
            self.requests += 1;
        } else if text.starts_with("cargo run ") {
            assert!(command.output.trim().is_empty(), "{page}: the output of {text} is not checked");
            self.folder.run(&text.replace("https://vat.example", &format!("http://{}", self.server.address)));
            self.folder.assert_as_it_was();
            self.programs += 1;
        } else {
            panic!("{page}: nobody runs {text}");
        }
    }
}

/// Requests are sent and their answers compared, programs run, settings checked; what is left over is on the list above.
#[test]
fn every_block_of_every_page_does_what_it_shows() {
    let server = Server::start();
    let (client, management) = (server.client(), server.management_client());
    let mut reader = Reader {
        server: &server,
        client,
        management,
        folder: Folder::new(),
        left: BTreeSet::new(),
        requests: 0,
        programs: 0,
        settings: 0,
    };
    let pages = paths::pages();
    for page in ["README.md", "DEVELOPERS.md", "deploy/README.md", "tests/worked-examples/README.md"] {
        assert!(pages.iter().any(|known| known == page), "{page} is not among {pages:?}");
    }
    for page in &pages {
        for block in console::blocks(&paths::read(page)) {
            reader.read(page, &block);
        }
    }
    assert!(reader.requests >= 3 && reader.programs >= 2 && reader.settings >= 2, "something is read no more");
    let known: BTreeSet<&str> = LEFT_TO_THE_READER.iter().map(|(known, _)| *known).collect();
    assert_eq!(reader.left, known, "no page shows these any more");
    drop(reader);
    server.finish();
}

/// A command of the service within a sentence names a subcommand and flags that there are.
#[test]
fn every_command_within_a_sentence_is_known() {
    let help = |arguments: &[&str]| {
        let output = server::command().args(arguments).output().expect("the binary runs");
        assert!(output.status.success(), "{arguments:?}: {output:?}");
        String::from_utf8(output.stdout).expect("text")
    };
    let whole = help(&["--help"]);
    let mut checked = 0;
    for page in paths::pages() {
        let text = paths::read(&page);
        // Fences hold three of the marks, so that what stands in a block is between an even number of them too.
        for span in text.split('`').skip(1).step_by(2) {
            let Some(command) = span.strip_prefix("vat-schemes-api ") else { continue };
            let words: Vec<&str> = command.split_whitespace().collect();
            let own = match words.first() {
                Some(word) if !word.starts_with('-') => help(&[word, "--help"]),
                _ => whole.clone(),
            };
            for flag in words.iter().filter(|word| word.starts_with("--")) {
                let known = own.split_whitespace().any(|word| word == *flag);
                assert!(known, "{page}: `{span}`: there is no {flag}");
            }
            checked += 1;
        }
    }
    assert!(checked > 5, "{checked} commands were found");
}

/// Runs a `curl` command against the servers of this test and compares what it prints with what is shown.
fn run_curl(command: &Command, client: &Client, management: &Client) {
    let mut words = command.words.iter().map(String::as_str);
    assert_eq!(words.next(), Some("curl"), "who runs {:?}?", command.words);
    let (mut method, mut url, mut body, mut headers) = (None, None, None, Vec::new());
    while let Some(word) = words.next() {
        let mut value = || words.next().unwrap_or_else(|| panic!("{word} without its value"));
        match word {
            "-s" | "--silent" | "-sS" | "-S" | "-f" | "-fsS" | "--fail" | "--fail-with-body" => {}
            "-X" | "--request" => method = Some(value()),
            "-H" | "--header" => headers.push(value()),
            "-d" | "--data" | "--data-binary" => body = Some(value()),
            "--json" => {
                headers.extend(["Content-Type: application/json", "Accept: application/json"]);
                body = Some(value());
            }
            word if !word.starts_with('-') && url.is_none() => url = Some(word),
            other => panic!("what does `{other}` mean in {:?}?", command.words),
        }
    }
    let url = url.unwrap_or_else(|| panic!("no address in {:?}", command.words));
    let url = url.strip_prefix("http://").unwrap_or(url);
    let (host, target) = url.split_once('/').unwrap_or((url, ""));
    let client = match host {
        "localhost:8080" | "127.0.0.1:8080" => client,
        "localhost:8081" | "127.0.0.1:8081" => management,
        other => panic!("who is {other}?"),
    };
    let method = method.unwrap_or(if body.is_some() { "POST" } else { "GET" });
    let mut call = Call::new(method, &format!("/{target}"));
    for header in headers {
        let (name, value) = header.split_once(':').unwrap_or_else(|| panic!("not a header: {header}"));
        call = call.header(name.trim(), value.trim());
    }
    if let Some(body) = body {
        call = match body.strip_prefix('@') {
            Some(file) => call.body(paths::read(file)),
            None => call.body(body),
        };
    }
    let answer = client.send(&call);
    match serde_json::from_str::<Value>(&command.output) {
        // An answer may be shown in part; what is shown must be right, and lists must be whole.
        Ok(shown) => {
            let found = differences(&shown, &answer.json());
            assert!(found.is_empty(), "{:?}\n{found:#?}", command.words);
        }
        Err(_) => assert_eq!(command.output.trim(), answer.text().trim(), "{:?}", command.words),
    }
}
