//! HTTP written byte by byte: slow bodies, wrong encodings, broken requests.

use std::io::{Read, Write};
use std::net::{Shutdown, SocketAddr, TcpStream};
use std::time::Duration;

/// How long to wait for an answer that should come at once: only a fault reaches it.
const PATIENCE: Duration = Duration::from_secs(60);

/// A connection on which bytes are written as they are.
pub struct Connection {
    stream: TcpStream,
}

/// An answer as it came over the wire.
#[derive(Debug)]
pub struct RawAnswer {
    /// Status code.
    pub status: u16,
    /// Names in lower case, and values.
    pub headers: Vec<(String, String)>,
    /// What follows the headers.
    pub body: Vec<u8>,
}

impl RawAnswer {
    /// The value of a header, by its name in lower case.
    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }
}

impl Connection {
    /// Connects to `address`.
    pub fn open(address: SocketAddr) -> std::io::Result<Connection> {
        let stream = TcpStream::connect(address)?;
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_write_timeout(Some(PATIENCE))?;
        Ok(Connection { stream })
    }

    /// Writes bytes.
    pub fn write(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        self.stream.write_all(bytes)?;
        self.stream.flush()
    }

    /// Says that nothing more will be written.
    pub fn end_of_writing(&mut self) -> std::io::Result<()> {
        self.stream.shutdown(Shutdown::Write)
    }

    /// Reads what has come, waiting for something to come; an error where the connection ends.
    pub fn read_some(&mut self) -> std::io::Result<String> {
        let mut buffer = [0; 65_536];
        match self.read_once(&mut buffer)? {
            0 => Err(std::io::ErrorKind::UnexpectedEof.into()),
            count => Ok(String::from_utf8_lossy(&buffer[..count]).into_owned()),
        }
    }

    /// Whether nothing comes for so long, and the connection stays open.
    pub fn is_silent_for(&mut self, time: Duration) -> bool {
        let waited = self.stream.set_read_timeout(Some(time));
        let come = self.stream.peek(&mut [0]);
        let back = self.stream.set_read_timeout(Some(PATIENCE));
        waited.is_ok()
            && back.is_ok()
            && come.is_err_and(|error| {
                matches!(error.kind(), std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut)
            })
    }

    /// Reads what has come. A machine that was stopped for a while interrupts a read with a timeout: it is made again.
    fn read_once(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        loop {
            match self.stream.read(buffer) {
                Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
                other => return other,
            }
        }
    }

    /// Reads one answer: its headers, and as much body as its `Content-Length` announces.
    ///
    /// `None` when the connection is closed before an answer.
    pub fn read(&mut self) -> std::io::Result<Option<RawAnswer>> {
        let mut bytes = Vec::new();
        let mut buffer = [0; 4096];
        loop {
            if let Some(answer) = parse(&bytes, false) {
                return Ok(Some(answer));
            }
            match self.read_once(&mut buffer) {
                Ok(0) => return Ok(parse(&bytes, true)),
                Ok(count) => bytes.extend_from_slice(&buffer[..count]),
                Err(error) if error.kind() == std::io::ErrorKind::ConnectionReset => return Ok(parse(&bytes, true)),
                Err(error) => return Err(error),
            }
        }
    }
}

/// The headers of a `POST` of JSON whose body is `length` bytes.
pub fn post_head(path: &str, length: usize) -> Vec<u8> {
    format!(
        "POST {path} HTTP/1.1\r\nHost: localhost\r\nAccept: application/json\r\nContent-Type: application/json\r\nContent-Length: {length}\r\n\r\n"
    )
    .into_bytes()
}

/// One exchange: writes `bytes`, reads the answer.
pub fn exchange(address: SocketAddr, bytes: &[u8]) -> std::io::Result<Option<RawAnswer>> {
    let mut connection = Connection::open(address)?;
    connection.write(bytes)?;
    connection.read()
}

pub(crate) fn parse(bytes: &[u8], ended: bool) -> Option<RawAnswer> {
    let end = bytes.windows(4).position(|window| window == b"\r\n\r\n")?;
    let head = String::from_utf8_lossy(&bytes[..end]);
    let mut lines = head.split("\r\n");
    let status = lines.next()?.split(' ').nth(1)?.parse().ok()?;
    let headers: Vec<(String, String)> = lines
        .filter_map(|line| line.split_once(':'))
        .map(|(name, value)| (name.to_ascii_lowercase(), value.trim().to_owned()))
        .collect();
    let length: Option<usize> =
        headers.iter().find(|(name, _)| name == "content-length").and_then(|(_, value)| value.parse().ok());
    let body = &bytes[end + 4..];
    match length {
        Some(length) if body.len() >= length => Some(RawAnswer { status, headers, body: body[..length].to_vec() }),
        None if ended || status == 100 => Some(RawAnswer { status, headers, body: body.to_vec() }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_ends_where_its_length_says() {
        let bytes = b"HTTP/1.1 200 OK\r\nContent-Length: 2\r\nX-A: b\r\n\r\n{}HTTP/1.1";
        let answer = parse(bytes, false).expect("a whole answer");
        assert_eq!((answer.status, answer.body.as_slice()), (200, b"{}".as_slice()));
        assert_eq!(answer.header("x-a"), Some("b"));
        assert!(parse(&bytes[..bytes.len() - 9], false).is_none());
    }
}
