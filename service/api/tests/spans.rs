//! Spans as a collector receives them, from the real program.

use std::collections::VecDeque;
use std::io::{BufRead as _, BufReader, Read, Write as _};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread::JoinHandle;
use std::time::Duration;

use serde_json::Value;

const TRACE: &str = "4bf92f3577b34da6a3ce929d0e0e4736";
const CALLER: &str = "00f067aa0ba902b7";

/// A collector that gives the statuses one after the other, then 200, and passes on what it was sent.
fn collector(mut statuses: VecDeque<u16>) -> (SocketAddr, Receiver<Value>) {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = listener.local_addr().expect("an address");
    let (send, receive) = channel();
    std::thread::spawn(move || {
        for stream in listener.incoming().map_while(Result::ok) {
            let mut reader = BufReader::new(stream);
            while let Some((line, body)) = read_request(&mut reader) {
                assert_eq!(line, "POST /v1/traces HTTP/1.1");
                let status = statuses.pop_front().unwrap_or(200);
                let answer =
                    format!("HTTP/1.1 {status} -\r\ncontent-type: application/json\r\ncontent-length: 2\r\n\r\n{{}}");
                reader.get_mut().write_all(answer.as_bytes()).expect("answered");
                let batch = serde_json::from_slice(&body).expect("JSON");
                if status == 200 && send.send(batch).is_err() {
                    return;
                }
            }
        }
    });
    (address, receive)
}

fn read_request(reader: &mut BufReader<TcpStream>) -> Option<(String, Vec<u8>)> {
    let mut lines = reader.by_ref().lines().map_while(Result::ok);
    let first = lines.next()?;
    let mut length = 0;
    for line in lines.take_while(|line| !line.is_empty()) {
        if let Some((name, value)) = line.split_once(": ")
            && name.eq_ignore_ascii_case("content-length")
        {
            length = value.parse().expect("a length");
        }
    }
    let mut body = vec![0; length];
    reader.read_exact(&mut body).ok()?;
    Some((first, body))
}

/// The running program.
struct Service {
    child: Child,
    api: SocketAddr,
    log: JoinHandle<Vec<Value>>,
    lines: Receiver<Value>,
}

impl Service {
    fn start(collector: SocketAddr, more: &[&str]) -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_vat-schemes-api"));
        for (name, _) in
            std::env::vars().filter(|(name, _)| name.starts_with("VAT_SCHEMES_") || name.starts_with("OTEL_"))
        {
            command.env_remove(name);
        }
        let mut child = command
            .args(["--listen", "127.0.0.1:0", "--management-listen", "127.0.0.1:0", "--otlp-endpoint"])
            .arg(format!("http://{collector}/"))
            .args(more)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let output = child.stdout.take().expect("its output");
        let (send, lines) = channel();
        let log = std::thread::spawn(move || {
            let lines = BufReader::new(output).lines().map_while(Result::ok);
            lines
                .map(|line| serde_json::from_str::<Value>(&line).expect("a line of JSON"))
                .inspect(|line| drop(send.send(line.clone())))
                .collect()
        });
        let listening = lines.recv().expect("a line");
        let api = listening["listen"].as_str().expect("an address").parse().expect("an address");
        Self { child, api, log, lines }
    }

    /// Sends a request and gives the status of its answer.
    fn send(&self, method: &str, target: &str, header: &str, body: &str) -> u16 {
        let mut stream = TcpStream::connect(self.api).expect("connected");
        let head = format!(
            "{method} {target} HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\ncontent-type: application/json\r\ncontent-length: {}\r\n{header}\r\n",
            body.len()
        );
        stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(body.as_bytes())).expect("sent");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("answered");
        answer.split(' ').nth(1).expect("a status").parse().expect("a status")
    }

    /// Waits for a line of the log with this message.
    fn wait_for(&self, message: &str) -> Value {
        self.lines
            .iter()
            .find(|line| line["message"].as_str().is_some_and(|text| text.contains(message)))
            .expect(message)
    }

    /// The line of the log with this message, if it comes within a moment.
    fn next_with(&self, message: &str) -> Option<Value> {
        let moment = Duration::from_millis(100);
        let mut lines = std::iter::from_fn(|| self.lines.recv_timeout(moment).ok());
        lines.find(|line| line["message"].as_str().is_some_and(|text| text.contains(message)))
    }

    /// Stops the program and gives its log.
    fn stop(mut self) -> Vec<Value> {
        let id = self.child.id().to_string();
        assert!(Command::new("kill").args(["-TERM", &id]).status().expect("kill").success());
        assert!(self.child.wait().expect("ended").success());
        self.log.join().expect("a log")
    }
}

/// The spans of these batches, by name.
fn spans(batches: &[Value]) -> Vec<Value> {
    let list = |of: &Value, name: &str| of[name].as_array().cloned().unwrap_or_default();
    let resources = batches.iter().flat_map(|batch| list(batch, "resourceSpans"));
    let scopes = resources.flat_map(|resource| list(&resource, "scopeSpans"));
    let mut spans: Vec<Value> = scopes.flat_map(|scope| list(&scope, "spans")).collect();
    spans.sort_by_key(|span| span["name"].as_str().map(str::to_owned));
    spans
}

fn attribute<'a>(span: &'a Value, name: &str) -> Option<&'a Value> {
    let attribute = span["attributes"].as_array()?.iter().find(|attribute| attribute["key"] == name)?;
    attribute["value"].as_object()?.values().next()
}

fn traceparent(flags: &str) -> String {
    format!("traceparent: 00-{TRACE}-{CALLER}-{flags}\r\n")
}

fn all(receive: &Receiver<Value>) -> Vec<Value> {
    receive.try_iter().collect()
}

#[test]
fn each_request_has_a_span_that_says_how_it_went_and_nothing_of_its_figures() {
    let (address, received) = collector(VecDeque::new());
    let service = Service::start(address, &[]);
    assert_eq!(service.send("GET", "/v1/sectors?q=secretquery", "", ""), 200);
    assert_eq!(service.send("POST", "/v1/comparisons", &traceparent("01"), "{\"sales\": \"9753197.53\"}"), 400);
    assert_eq!(service.send("GET", "/v1/authorities", &traceparent("00"), ""), 200);
    let log = service.stop();
    // What waited was sent before the program ended.
    let batches = all(&received);
    let spans = spans(&batches);
    assert_eq!(spans.len(), 2, "the caller of the third does not record its trace: {spans:#?}");

    let (root, child) = (&spans[0], &spans[1]);
    assert_eq!((root["name"].as_str(), root["kind"].as_i64()), (Some("GET /v1/sectors"), Some(2)));
    assert!(root["parentSpanId"].as_str().is_none_or(str::is_empty), "{root}");
    let trace = root["traceId"].as_str().expect("a trace");
    assert_eq!(trace.len(), 32);
    let line = log.iter().find(|line| line["route"] == "/v1/sectors").expect("its line");
    assert_eq!(line["trace_id"], trace, "log and span name each other");
    let moment = |name: &str| root[name].as_str().expect("a moment").parse::<u64>().expect("nanoseconds");
    assert!(moment("startTimeUnixNano") > 0 && moment("endTimeUnixNano") >= moment("startTimeUnixNano"));
    assert_eq!(attribute(root, "http.request.method"), Some(&"GET".into()));
    assert_eq!(attribute(root, "http.route"), Some(&"/v1/sectors".into()));
    assert_eq!(
        attribute(root, "http.response.status_code").map(|status| status.to_string().replace('"', "")),
        Some("200".to_owned())
    );
    assert_eq!(attribute(root, "vat_schemes.problem"), None);

    assert_eq!(child["name"], "POST /v1/comparisons");
    assert_eq!((child["traceId"].as_str(), child["parentSpanId"].as_str()), (Some(TRACE), Some(CALLER)));
    assert!(attribute(child, "vat_schemes.problem").is_some());
    assert_eq!(attribute(child, "error.type"), None, "what the caller has to change is no error of the server's");

    let text = serde_json::to_string(&batches).expect("text");
    assert!(text.contains("\"vat-schemes-api\"") && text.contains(env!("CARGO_PKG_VERSION")), "{text}");
    for secret in ["9753197", "secret", "127.0.0.1"] {
        assert!(!text.contains(secret), "{secret} in {text}");
    }
}

#[test]
fn the_share_of_requests_is_for_traces_that_begin_here() {
    let (address, received) = collector(VecDeque::new());
    let service = Service::start(address, &["--otlp-sample-percentage", "0"]);
    for _ in 0..10 {
        assert_eq!(service.send("GET", "/v1/authorities", "", ""), 200);
    }
    assert_eq!(service.send("GET", "/v1/sectors", &traceparent("01"), ""), 200);
    let log = service.stop();
    let spans = spans(&all(&received));
    assert_eq!(spans.len(), 1, "{spans:#?}");
    assert_eq!(spans[0]["name"], "GET /v1/sectors");
    let line = log.iter().find(|line| line["route"] == "/v1/authorities").expect("its line");
    assert!(line.get("trace_id").is_none_or(Value::is_null), "a trace that is not recorded is none: {line}");
}

#[test]
fn a_collector_that_refuses_costs_spans_and_one_warning() {
    let (address, received) = collector(VecDeque::from([400, 400]));
    let service = Service::start(address, &[]);
    for warned in [true, false] {
        assert_eq!(service.send("GET", "/v1/authorities", "", ""), 200);
        if warned {
            let warning = service.wait_for("takes no spans");
            assert_eq!(warning["level"], "WARN");
        }
    }
    // Until one is taken, which is told too.
    let told = loop {
        assert_eq!(service.send("GET", "/v1/sectors", "", ""), 200);
        if let Some(told) = service.next_with("takes spans again") {
            break told;
        }
    };
    assert_eq!(told["level"], "INFO");
    let log = service.stop();
    assert_eq!(log.iter().filter(|line| line["level"] == "WARN").count(), 1);
    assert!(!spans(&all(&received)).is_empty());
}

#[test]
fn a_collector_that_is_away_does_not_keep_the_program_from_answering_and_ending() {
    let away = TcpListener::bind("127.0.0.1:0").expect("a port").local_addr().expect("an address");
    let service = Service::start(away, &[]);
    for _ in 0..20 {
        assert_eq!(service.send("GET", "/v1/sectors", "", ""), 200);
    }
    let log = service.stop();
    assert!(log.iter().any(|line| line["level"] == "WARN"));
}
