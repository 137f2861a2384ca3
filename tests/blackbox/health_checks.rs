//! The check of a running service by the binary itself.

use crate::lifecycle::{ready, run};
use acceptance::server::{Server, wait_until};
use std::net::TcpListener;

fn health(arguments: &[&str], management: &str) -> (Option<i32>, String) {
    let environment = [("VAT_SCHEMES_MANAGEMENT_LISTEN", management)];
    let output = run(&[&["health"], arguments].concat(), &environment);
    assert!(output.stdout.is_empty(), "{output:?}");
    (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[test]
fn a_running_service_is_healthy_and_a_stopping_one_lives() {
    let mut server = Server::start_with(&["--drain-seconds", "600"]).expect_level("WARN");
    let management = server.management.to_string();
    assert_eq!(health(&[], &management), (Some(0), String::new()));
    assert_eq!(health(&["--live"], &management), (Some(0), String::new()));
    // A service that listens everywhere is asked on the same machine; a flag goes before the environment.
    let everywhere = format!("0.0.0.0:{}", server.management.port());
    assert_eq!(health(&["--management-listen", &everywhere], "127.0.0.1:1").0, Some(0));
    server.signal("TERM");
    wait_until("the service is no longer ready", || ready(&server).0 == 503);
    let (status, told) = health(&[], &management);
    assert_eq!(status, Some(1));
    assert!(told.contains("/health/ready") && told.contains("503"), "{told}");
    assert_eq!(health(&["--live"], &management).0, Some(0));
    server.signal("TERM");
    assert_eq!(server.wait().code(), Some(130));
    let (status, told) = health(&["--live"], &management);
    assert_eq!(status, Some(1));
    assert!(told.contains(&management), "{told}");
}

#[test]
fn what_does_not_speak_http_is_not_healthy() {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a listener");
    let address = listener.local_addr().expect("an address").to_string();
    let silent = std::thread::spawn(move || listener.accept().map(drop));
    let (status, told) = health(&[], &address);
    assert_eq!(status, Some(1), "{told}");
    silent.join().expect("the listener ends").expect("accepted");
    assert_eq!(health(&["--listen", "nonsense"], &address).0, Some(78));
}
