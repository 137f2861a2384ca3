//! Asks a running service for its health, for checks that have nothing but the binary.

use std::io::{Read as _, Write as _};
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, TcpStream};
use std::time::Duration;

use anyhow::{Context as _, bail};

/// How long each step may take: connecting, asking, being answered.
const PATIENCE: Duration = Duration::from_secs(2);

/// The most bytes of an answer that are looked at.
const MOST_BYTES: u64 = 16 * 1024;

/// Asks the service whose management port listens there whether it lives, or whether it wants requests.
///
/// # Errors
/// Where it does not answer, or answers that it does not.
pub fn ask(management_listen: SocketAddr, live: bool) -> Result<(), anyhow::Error> {
    let path = if live { "/health/live" } else { "/health/ready" };
    let address = reachable(management_listen);
    let asked = || format!("http://{address}{path}");
    let mut stream = TcpStream::connect_timeout(&address, PATIENCE).with_context(asked)?;
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let request = format!("GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n");
    stream.write_all(request.as_bytes()).with_context(asked)?;
    let mut answer = Vec::new();
    stream.take(MOST_BYTES).read_to_end(&mut answer).with_context(asked)?;
    let head = String::from_utf8_lossy(&answer);
    match head.lines().next().and_then(|line| line.strip_prefix("HTTP/1.1 ")) {
        Some(status) if status.starts_with("200") => Ok(()),
        Some(status) => bail!("{} answers {status}", asked()),
        None => bail!("{} answers with something that is not HTTP", asked()),
    }
}

/// Where a service that listens on every address can be reached from the same machine.
fn reachable(listen: SocketAddr) -> SocketAddr {
    let here = match listen.ip() {
        IpAddr::V4(address) if address.is_unspecified() => IpAddr::V4(Ipv4Addr::LOCALHOST),
        IpAddr::V6(address) if address.is_unspecified() => IpAddr::V6(Ipv6Addr::LOCALHOST),
        address => address,
    };
    SocketAddr::new(here, listen.port())
}

#[cfg(test)]
mod tests {
    use super::reachable;

    #[test]
    fn every_address_is_reached_on_this_machine() {
        for (listen, asked) in [
            ("0.0.0.0:8081", "127.0.0.1:8081"),
            ("[::]:8081", "[::1]:8081"),
            ("10.0.0.1:8081", "10.0.0.1:8081"),
            ("127.0.0.1:1", "127.0.0.1:1"),
        ] {
            assert_eq!(reachable(listen.parse().expect("an address")).to_string(), asked);
        }
    }
}
