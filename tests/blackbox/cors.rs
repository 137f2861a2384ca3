//! CORS: off unless it is set, and then for the pages that are named.

use acceptance::client::{Answer, Call, Client};
use acceptance::figures::consultant;
use acceptance::server::{self, Server, with_server};

const SECTOR: &str = "/v1/sectors/pubs";
const PAGE: &str = "https://books.example";
const STRANGER: &str = "https://stranger.example";

fn preflight(path: &str, origin: &str) -> Call {
    Call::new("OPTIONS", path)
        .header("origin", origin)
        .header("access-control-request-method", "POST")
        .header("access-control-request-headers", "authorization,content-type")
}

fn of_cors(answer: &Answer) -> Vec<String> {
    answer.header_names().into_iter().filter(|name| name.starts_with("access-control-")).collect()
}

fn get(client: &Client, origin: &str) -> Answer {
    client.send(&Call::new("GET", SECTOR).header("origin", origin))
}

#[test]
fn unless_it_is_set_no_answer_lets_another_page_read_it() {
    with_server(|client| {
        let comparison = Call::post("/v1/comparisons", consultant().to_string()).header("origin", PAGE);
        let calls = [
            Call::new("GET", SECTOR).header("origin", PAGE),
            Call::new("GET", "/openapi.json").header("origin", PAGE),
            Call::new("GET", "/v1/nowhere").header("origin", PAGE),
            preflight("/v1/comparisons", PAGE),
            comparison,
        ];
        for call in calls {
            let answer = client.send(&call);
            assert_eq!(of_cors(&answer), Vec::<String>::new(), "{call:?}");
            assert_eq!(answer.header("vary"), None, "{call:?}");
        }
    });
}

#[test]
fn a_page_that_is_named_may_call_and_no_other() {
    let server = Server::start_with(&["--cors-allow-origins", "https://other.example, https://books.example"]);
    let client = server.client();
    let answer = client.send(&preflight("/v1/comparisons", PAGE));
    assert_eq!(answer.status, 204);
    assert_eq!(answer.header("access-control-allow-origin"), Some(PAGE));
    assert!(answer.header("access-control-allow-methods").is_some_and(|methods| methods.contains("POST")));
    let headers = answer.header("access-control-allow-headers").expect("headers").to_ascii_lowercase();
    for needed in ["authorization", "content-type", "if-none-match", "traceparent", "x-request-id"] {
        assert!(headers.split(", ").any(|header| header == needed), "{needed} in {headers}");
    }
    assert_eq!(answer.header("access-control-max-age"), Some("3600"));
    let answer = client.send(&Call::post("/v1/comparisons", consultant().to_string()).header("origin", PAGE));
    assert_eq!((answer.status, answer.header("access-control-allow-origin")), (200, Some(PAGE)));
    assert!(answer.header("access-control-expose-headers").is_some_and(|names| names.contains("Retry-After")));
    assert_eq!(answer.header("access-control-allow-credentials"), None);
    let problem = client.send(&Call::new("GET", "/v1/nowhere").header("origin", PAGE));
    assert_eq!((problem.status, problem.header("access-control-allow-origin")), (404, Some(PAGE)));
    // Whoever keeps answers for others keeps them apart.
    assert!(get(&client, PAGE).header("vary").is_some_and(|vary| vary.contains("Origin")));
    for answer in [client.send(&preflight("/v1/comparisons", STRANGER)), get(&client, STRANGER), get(&client, "null")] {
        assert_eq!(of_cors(&answer), Vec::<String>::new());
        assert!(answer.header("vary").is_some_and(|vary| vary.contains("Origin")));
    }
    assert_eq!(client.get(SECTOR).status, 200, "who is no page is answered as ever");
    assert_eq!(
        client.send(&Call::new("OPTIONS", SECTOR).header("origin", PAGE)).header("allow"),
        Some("GET, HEAD, OPTIONS")
    );
    drop(client);
    server.finish();
}

/// A preflight never carries a key, and the refusal for want of one must be readable.
#[test]
fn a_preflight_needs_no_key() {
    let file = crate::keys::KeysFile::empty();
    file.add("page");
    let server = Server::start_with(&["--keys-file", file.path(), "--cors-allow-origins", "*"]);
    let client = server.client();
    let answer = client.send(&preflight("/v1/comparisons", STRANGER));
    assert_eq!((answer.status, answer.header("access-control-allow-origin")), (204, Some("*")));
    let answer = get(&client, STRANGER);
    assert_eq!((answer.status, answer.header("access-control-allow-origin")), (401, Some("*")));
    drop(client);
    server.finish();
}

#[test]
fn what_is_no_origin_is_refused_on_start() {
    for origins in
        ["books.example", "https://books.example/", "https://a.example,,https://b.example", "https://A.example"]
    {
        let output = server::command().args(["--cors-allow-origins", origins, "--check-config"]).output();
        let output = output.expect("the binary runs");
        assert_eq!(output.status.code(), Some(78), "{origins}: {output:?}");
        assert!(String::from_utf8_lossy(&output.stderr).contains("https://"), "{output:?}");
    }
}
