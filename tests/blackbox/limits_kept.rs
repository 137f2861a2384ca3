//! Limits on what callers may take of the service: heads, requests at once, connections, and the time that they may take over them.

use crate::lifecycle::{ready, under_way};
use crate::transport::raw_problem;
use acceptance::client::{BATCHES, Call, Client, LINES, problem_codes};
use acceptance::figures::consultant;
use acceptance::metrics::Page;
use acceptance::raw::{self, Connection};
use acceptance::server::{Server, wait_until};
use std::collections::BTreeSet;
use std::time::Duration;

const SECTOR: &str = "/v1/sectors/pubs";

/// A server that takes one request at once, and has it.
pub struct Busy {
    server: Server,
    connection: Connection,
    rest: Vec<u8>,
    /// A client that finds no room.
    pub client: Client,
}

impl Busy {
    /// Starts it.
    pub fn start() -> Busy {
        let server = Server::start_with(&["--max-concurrent-requests", "1", "--body-timeout-seconds", "600"])
            .expect_level("ERROR");
        let (connection, rest) = under_way(&server);
        let client = server.client();
        Busy { server, connection, rest, client }
    }

    /// Ends it, with the one request answered.
    pub fn finish(mut self) {
        self.connection.write(&self.rest).expect("written");
        assert_eq!(self.connection.read().expect("read").map(|answer| answer.status), Some(200));
        drop((self.connection, self.client));
        self.server.finish();
    }
}

/// The codes of these limits.
pub fn codes(client: &Client) -> BTreeSet<String> {
    let busy = Busy::start();
    let head = Call::new("GET", SECTOR).header("x-padding", &"x".repeat(20_000));
    let mut codes = problem_codes(&client.send(&head).json());
    codes.extend(problem_codes(&busy.client.get(SECTOR).json()));
    busy.finish();
    codes
}

fn metric(server: &Server, name: &str) -> Option<f64> {
    Page::read(server.management_client().get("/metrics").text()).ok()?.value(name)
}

/// What finds no room is turned away at once and told when to come again; a stream takes room until its end; the management port is
/// always answered.
#[test]
fn more_requests_than_are_answered_at_once_are_turned_away() {
    let server =
        Server::start_with(&["--max-concurrent-requests", "2", "--body-timeout-seconds", "600"]).expect_level("ERROR");
    let client = server.client();
    assert_eq!(metric(&server, "vat_schemes_requests_in_flight_limit"), Some(2.0));
    let mut batch = Connection::open(server.address).expect("a connection");
    let head = format!(
        "POST {BATCHES}?fields=summary HTTP/1.1\r\nHost: localhost\r\nContent-Type: {LINES}\r\nTransfer-Encoding: chunked\r\n\r\n"
    );
    batch.write(head.as_bytes()).expect("written");
    let line = format!("{}\n", consultant());
    batch.write(format!("{:x}\r\n{line}\r\n", line.len()).as_bytes()).expect("written");
    let mut come = String::new();
    while !come.contains("\"summary\"") {
        come.push_str(&batch.read_some().expect("an answer"));
    }
    assert_eq!(client.get(SECTOR).status, 200, "there is room for one more");
    let (mut slow, rest) = under_way(&server);
    for _ in 0..3 {
        let answer = client.get(SECTOR);
        assert_eq!((answer.status, answer.header("retry-after")), (503, Some("1")));
        assert_eq!(answer.json()["code"], "overloaded");
    }
    assert_eq!(metric(&server, "vat_schemes_load_shed_total"), Some(3.0));
    assert_eq!(ready(&server).0, 200, "turning away is not failing");
    slow.write(&rest).expect("written");
    assert_eq!(slow.read().expect("read").map(|answer| answer.status), Some(200));
    assert_eq!(client.get(SECTOR).status, 200);
    // The stream has not ended: it counts still.
    let (mut slow, rest) = under_way(&server);
    assert_eq!(client.get(SECTOR).status, 503);
    batch.write(b"0\r\n\r\n").expect("written");
    while !come.contains("\"complete\":true") {
        come.push_str(&batch.read_some().expect("an answer"));
    }
    wait_until("the stream's room is free", || client.get(SECTOR).status == 200);
    // A caller that goes away leaves its room.
    slow.write(&rest[..1]).expect("written");
    drop((slow, batch));
    let (gone, _) = under_way(&server);
    drop(gone);
    wait_until("the room of who has gone is free", || {
        (0..3).all(|_| client.get(SECTOR).status == 200)
            && metric(&server, "vat_schemes_http_requests_in_flight") == Some(0.0)
    });
    drop(client);
    server.finish();
}

/// The last byte that a head may have, and one more.
#[test]
fn a_head_may_have_so_many_bytes_and_no_more() {
    let server = Server::start_with(&["--max-head-bytes", "1024"]);
    for (bytes, status) in [(1024, 200), (1025, 431), (60_000, 431)] {
        let start = format!("GET {SECTOR} HTTP/1.1\r\nHost: localhost\r\nX-Padding: ");
        let padding = "x".repeat(bytes - start.len() - 2);
        let answer = raw::exchange(server.address, format!("{start}{padding}\r\n\r\n").as_bytes());
        let answer = answer.expect("read").expect("an answer");
        assert_eq!(answer.status, status, "{bytes}");
        if status == 431 {
            assert_eq!(raw_problem(&answer)["code"], "head_too_large");
            assert_eq!(answer.header("connection"), Some("close"));
        }
    }
    // What no buffer holds is turned away by the server itself.
    let answer =
        raw::exchange(server.address, format!("GET / HTTP/1.1\r\nX-Padding: {}", "x".repeat(200_000)).as_bytes());
    assert!(
        matches!(&answer, Ok(None) | Err(_))
            || answer.is_ok_and(|answer| answer.is_some_and(|answer| answer.status == 431))
    );
    server.finish();
}

/// Who takes too long over a head, or keeps a connection without using it, is cut off; others are answered meanwhile.
#[test]
fn slow_and_idle_connections_are_cut_off() {
    let server = Server::start_with(&["--head-timeout-seconds", "1", "--keep-alive-seconds", "1"]);
    let mut slow: Vec<Connection> = (0..50)
        .map(|_| {
            let mut connection = Connection::open(server.address).expect("a connection");
            connection.write(b"POST /v1/comparisons HTTP/1.1\r\nHost: loc").expect("written");
            connection
        })
        .collect();
    let mut idle = Connection::open(server.address).expect("a connection");
    idle.write(format!("GET {SECTOR} HTTP/1.1\r\nHost: localhost\r\n\r\n").as_bytes()).expect("written");
    assert_eq!(idle.read().expect("read").map(|answer| answer.status), Some(200));
    server.client().compare(&consultant());
    for connection in &mut slow {
        let answer = connection.read().expect("cut off");
        assert!(answer.as_ref().is_none_or(|answer| answer.status == 408), "{answer:?}");
    }
    assert!(matches!(idle.read(), Ok(None)), "an idle connection is closed");
    server.finish();
}

/// More connections than are open at once wait until one of them ends.
#[test]
fn more_connections_than_are_open_at_once_wait() {
    let server = Server::start_with(&["--workers", "1", "--max-connections", "1", "--keep-alive-seconds", "600"]);
    let get = format!("GET {SECTOR} HTTP/1.1\r\nHost: localhost\r\n\r\n");
    let mut first = Connection::open(server.address).expect("a connection");
    first.write(get.as_bytes()).expect("written");
    assert_eq!(first.read().expect("read").map(|answer| answer.status), Some(200));
    let mut second = Connection::open(server.address).expect("a connection");
    second.write(get.as_bytes()).expect("written");
    assert!(second.is_silent_for(Duration::from_millis(300)), "there is one connection at once");
    drop(first);
    assert_eq!(second.read().expect("read").map(|answer| answer.status), Some(200));
    drop(second);
    server.finish();
}

/// Who takes none of its answers is cut off, and its room is free again.
#[test]
fn a_caller_that_does_not_read_is_cut_off() {
    let server =
        Server::start_with(&["--max-concurrent-requests", "1", "--write-timeout-seconds", "1"]).expect_level("ERROR");
    let client = server.client();
    let line = format!("{}\n", consultant());
    let lines = line.repeat(2_000);
    let mut batch = Connection::open(server.address).expect("a connection");
    let head = format!(
        "POST {BATCHES} HTTP/1.1\r\nHost: localhost\r\nContent-Type: {LINES}\r\nContent-Length: {}\r\n\r\n",
        lines.len()
    );
    // Back-pressure may keep the last lines from being taken in: the connection ends then while they are being written.
    let sent = batch.write(head.as_bytes()).and_then(|()| batch.write(lines.as_bytes()));
    if sent.is_ok() {
        // The answer has begun, so the request has its room.
        batch.read_some().expect("the beginning of the answer");
    }
    wait_until("the room of who does not read is free", || client.get(SECTOR).status == 200);
    let end = std::iter::repeat_with(|| batch.read_some()).find_map(Result::err);
    assert!(sent.is_err() || end.is_some(), "cut off");
    drop((client, batch));
    server.finish();
}
