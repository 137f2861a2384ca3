//! The runner of the cases, as a program: what it prints and writes, and how it ends.

use acceptance::server::Server;
use acceptance::tls::Pair;
use serde_json::{Value, json};
use std::io::{Read as _, Write as _};
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::{env, fs};

use crate::keys::KeysFile;
use crate::tls::Files;

/// A folder of this test alone, emptied.
fn folder(name: &str) -> PathBuf {
    let folder = env::temp_dir().join(format!("vat-schemes-runner-{name}-{}", std::process::id()));
    // It is not there yet, mostly.
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    folder
}

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_acceptance"));
    command.args(arguments).output().unwrap_or_else(|error| panic!("the runner does not start: {error}"))
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).unwrap_or_else(|error| panic!("no text: {error}"))
}

fn write(path: &Path, value: &Value) {
    fs::write(path, value.to_string()).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
}

fn own_case(id: &str, required: &str) -> Value {
    json!({
        "id": id,
        "title": "Goods <of ours>",
        "topic": "own",
        "path": "/v1/goods-tests",
        "request": {
            "period": { "start": "2026-04-01", "end": "2026-06-30" },
            "business": { "sector": "photography" },
            "turnover": "29400.00",
            "relevant_goods": "325.00"
        },
        "expected": { "goods_test": { "required": required } },
        "source": "Ours",
        "evidence": "derived"
    })
}

#[test]
fn every_published_case_passes_and_the_results_are_written() {
    let server = Server::start();
    let folder = folder("published");
    let (junit, json) = (folder.join("results.xml"), folder.join("results.json"));
    let base_url = format!("http://{}/", server.address);
    let ended = run(&["--base-url", &base_url, "--junit", &junit.to_string_lossy(), "--json", &json.to_string_lossy()]);
    assert_eq!(ended.status.code(), Some(0), "{}{}", text(&ended.stdout), text(&ended.stderr));
    let all = acceptance::cases::all().len();
    assert!(text(&ended.stdout).contains(&format!("{all} of {all} cases passed")), "{}", text(&ended.stdout));
    let results: Value =
        fs::read_to_string(&json).map(|text| serde_json::from_str(&text).unwrap_or_default()).unwrap_or_default();
    assert_eq!((results["sent"].as_u64(), results["passed"].as_u64()), (Some(all as u64), Some(all as u64)));
    let xml = fs::read_to_string(&junit).unwrap_or_default();
    assert_eq!(xml.matches("<testcase ").count(), all);
    server.finish();
}

#[test]
fn cases_of_ones_own_are_sent_and_what_differs_is_named() {
    let server = Server::start();
    let folder = folder("own");
    write(&folder.join("own-right.json"), &own_case("own-right", "588.00"));
    write(&folder.join("own-wrong.json"), &own_case("own-wrong", "588.01"));
    let junit = folder.join("results.xml");
    let base_url = format!("http://{}", server.address);
    let cases = folder.to_string_lossy();
    let ended = run(&["--base-url", &base_url, "--cases", &cases, "--only-given", "--junit", &junit.to_string_lossy()]);
    assert_eq!(ended.status.code(), Some(1), "{}{}", text(&ended.stdout), text(&ended.stderr));
    let printed = text(&ended.stdout);
    assert!(printed.contains("/goods_test/required: expected \"588.01\", the answer has \"588.00\""), "{printed}");
    assert!(printed.contains("1 of 2 cases passed"), "{printed}");
    let xml = fs::read_to_string(&junit).unwrap_or_default();
    assert!(xml.contains("failures=\"1\"") && xml.contains("own-wrong: Goods &lt;of ours&gt;"), "{xml}");
    let chosen = run(&["--base-url", &base_url, "--cases", &cases, "--topic", "own", "--filter", "own-right"]);
    assert_eq!(chosen.status.code(), Some(0), "{}", text(&chosen.stdout));
    assert!(text(&chosen.stdout).contains("1 of 1 cases passed"));
    server.finish();
}

#[test]
fn what_cannot_be_sent_says_what_to_change() {
    let folder = folder("bad");
    let mut bad = own_case("own", "588.00");
    bad["expect"] = bad["expected"].take();
    write(&folder.join("own.json"), &bad);
    write(&folder.join("other.json"), &own_case("gt-exactly-250", "588.00"));
    let cases = folder.to_string_lossy();
    for (arguments, says) in [
        (vec!["--list", "--cases", &cases], "own.json: it is no case: unknown field `expect`"),
        (vec!["--list", "--cases", &cases], "other.json: the file of `gt-exactly-250` is named `gt-exactly-250.json`"),
        (vec!["--list", "--topic", "nothing"], "no case fits"),
        (vec!["--base-url", "ftp://vat.example"], "it begins with https:// or http://"),
        (vec!["--base-url", "https://vat.example", "--key-file", "/nowhere"], "--key-file /nowhere"),
    ] {
        let ended = run(&arguments);
        assert_eq!(ended.status.code(), Some(2), "{arguments:?}");
        assert!(text(&ended.stderr).contains(says), "{arguments:?}: {}", text(&ended.stderr));
    }
    // Nobody listens there.
    let ended = run(&["--base-url", "http://127.0.0.1:1", "--filter", "gt-exactly-250"]);
    assert_eq!(ended.status.code(), Some(1));
    assert!(text(&ended.stdout).contains("no answer"), "{}", text(&ended.stdout));
}

/// As a platform would send them: over TLS, with a key, and the results for a build server.
#[test]
fn cases_are_sent_over_tls_with_a_key() {
    let pair = Pair::good_until(2040);
    let (files, keys) = (Files::of(&pair), KeysFile::empty());
    let key = keys.add("build-server");
    let [certificate, certificate_path, tls_key, tls_key_path] = files.arguments();
    let server =
        Server::start_with(&[certificate, certificate_path, tls_key, tls_key_path, "--keys-file", keys.path()]);
    let folder = folder("tls");
    let (right, wrong) = (folder.join("right.key"), folder.join("wrong.key"));
    fs::write(&right, format!("{key}\n")).expect("written");
    fs::write(&wrong, "vsk_wrong\n").expect("written");
    let (junit, json) = (folder.join("results.xml"), folder.join("results.json"));
    let base_url = format!("https://localhost:{}", server.address.port());
    let send = |more: &[&str]| {
        let (junit_name, json_name) = (junit.to_string_lossy(), json.to_string_lossy());
        let chosen = ["--base-url", &base_url, "--topic", "goods-test", "--filter", "exactly"];
        let ended = run(&[&chosen, &["--junit", &junit_name, "--json", &json_name][..], more].concat());
        let results: Value = serde_json::from_str(&fs::read_to_string(&json).unwrap_or_default()).unwrap_or_default();
        let xml = fs::read_to_string(&junit).unwrap_or_default();
        // What was written by one run is not taken for that of the next.
        let _ = (fs::remove_file(&json), fs::remove_file(&junit));
        (ended, results, xml)
    };
    let (right, wrong, trusted) =
        (right.to_string_lossy(), wrong.to_string_lossy(), files.certificate.to_string_lossy());

    let chosen = acceptance::cases::all();
    let chosen = chosen.iter().filter(|case| case.topic == "goods-test");
    let count = chosen.filter(|case| case.id.contains("exactly") || case.title.contains("exactly")).count();
    assert!(count > 1);
    let (ended, results, xml) = send(&["--key-file", &right, "--ca-certificate", &trusted]);
    assert_eq!(ended.status.code(), Some(0), "{}{}", text(&ended.stdout), text(&ended.stderr));
    assert!(text(&ended.stdout).contains(&format!("{count} of {count} cases passed")), "{}", text(&ended.stdout));
    assert_eq!((results["sent"].as_u64(), results["passed"].as_u64()), (Some(count as u64), Some(count as u64)));
    assert_eq!((xml.matches("<testcase ").count(), xml.contains("failures=\"0\"")), (count, true), "{xml}");

    for (case, more, says) in [
        ("another key", vec!["--key-file", &wrong, "--ca-certificate", &trusted], "expected status 200, it is 401"),
        ("no key", vec!["--ca-certificate", &trusted], "expected status 200, it is 401"),
        ("an authority that is not trusted", vec!["--key-file", &right], "no answer"),
    ] {
        let (ended, results, xml) = send(&more);
        assert_eq!(ended.status.code(), Some(1), "{case}: {}{}", text(&ended.stdout), text(&ended.stderr));
        assert!(text(&ended.stdout).contains(says), "{case}: {}", text(&ended.stdout));
        assert_eq!((results["sent"].as_u64(), results["passed"].as_u64()), (Some(count as u64), Some(0)), "{case}");
        assert!(!xml.contains("failures=\"0\"") || !xml.contains("errors=\"0\""), "{case}: {xml}");
        for output in [text(&ended.stdout), text(&ended.stderr), &results.to_string(), &xml] {
            assert!(!output.contains(&key), "{case}: the key is told");
        }
    }
    server.finish();
}

/// Who is asked to wait sends the same again, and no more often than is decent.
#[test]
fn a_service_that_asks_for_patience_is_given_it() {
    let folder = folder("patience");
    write(&folder.join("own-right.json"), &own_case("own-right", "588.00"));
    let cases = folder.to_string_lossy();
    for (turned_away, code, says) in [(2, 0, "1 of 1 cases passed"), (100, 1, "expected status 200, it is 429")] {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap_or_else(|error| panic!("no port: {error}"));
        let address = listener.local_addr().unwrap_or_else(|error| panic!("no address: {error}"));
        let service = std::thread::spawn(move || {
            let done = json!({ "goods_test": { "required": "588.00" } }).to_string();
            let mut bodies = Vec::new();
            for stream in listener.incoming() {
                let mut stream = stream.unwrap_or_else(|error| panic!("no connection: {error}"));
                let request = whole_request(&mut stream);
                // The test itself asks for an end.
                let Some((_, body)) = request.split_once("\r\n\r\n") else { break };
                bodies.push(body.to_owned());
                let (head, body) = match bodies.len() {
                    count if count <= turned_away => ("429 Too Many Requests\r\nRetry-After: 0", ""),
                    _ => ("200 OK\r\nContent-Type: application/json", done.as_str()),
                };
                let answer =
                    format!("HTTP/1.1 {head}\r\nConnection: close\r\nContent-Length: {}\r\n\r\n{body}", body.len());
                stream.write_all(answer.as_bytes()).unwrap_or_else(|error| panic!("not answered: {error}"));
            }
            bodies
        });
        let ended = run(&["--base-url", &format!("http://{address}"), "--cases", &cases, "--only-given"]);
        drop(std::net::TcpStream::connect(address));
        let bodies = service.join().unwrap_or_else(|_| panic!("the service failed"));
        assert_eq!(ended.status.code(), Some(code), "{}", text(&ended.stdout));
        assert!(text(&ended.stdout).contains(says), "{}", text(&ended.stdout));
        assert_eq!(bodies.len(), if code == 0 { turned_away + 1 } else { 6 });
        assert!(bodies.iter().all(|body| *body == bodies[0] && !body.is_empty()));
    }
}

/// What came, up to the length that its head announces, or to the end.
fn whole_request(stream: &mut std::net::TcpStream) -> String {
    let mut bytes = Vec::new();
    let mut buffer = [0; 4096];
    loop {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        if let Some((head, body)) = text.split_once("\r\n\r\n") {
            let announced = head.to_ascii_lowercase();
            let length = announced.lines().find_map(|line| line.strip_prefix("content-length: ")?.trim().parse().ok());
            if length.is_none_or(|length: usize| body.len() >= length) {
                return text;
            }
        }
        match stream.read(&mut buffer) {
            Ok(0) => return text,
            Ok(count) => bytes.extend_from_slice(&buffer[..count]),
            Err(error) => panic!("not read: {error}"),
        }
    }
}
