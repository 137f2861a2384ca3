//! One connection to a server, and one request at a time on it.

use std::net::SocketAddr;

use anyhow::Context as _;
use bytes::Bytes;
use http_body_util::{BodyExt as _, Full};
use hyper::body::Body;
use hyper::client::conn::http1::{self, SendRequest};
use hyper::header::{CONTENT_TYPE, HOST};
use hyper::{Method, Request, StatusCode};
use hyper_util::rt::TokioIo;
use tokio::net::TcpStream;

/// A request that is sent many times.
#[derive(Clone, Debug)]
pub struct Prepared {
    pub method: Method,
    pub target: String,
    pub media_type: Option<String>,
    pub body: Bytes,
}

impl Prepared {
    /// A POST of JSON.
    pub fn json(target: &str, body: impl Into<Bytes>) -> Self {
        Self {
            method: Method::POST,
            target: target.to_owned(),
            media_type: Some("application/json".to_owned()),
            body: body.into(),
        }
    }

    /// A GET.
    pub fn get(target: &str) -> Self {
        Self { method: Method::GET, target: target.to_owned(), media_type: None, body: Bytes::new() }
    }
}

/// A connection that is opened when it is needed, and anew where the server has closed it.
pub struct Connection {
    address: SocketAddr,
    host: String,
    sender: Option<SendRequest<Full<Bytes>>>,
}

impl Connection {
    /// A connection that is not open yet.
    pub fn to(address: SocketAddr) -> Self {
        Self { address, host: address.to_string(), sender: None }
    }

    /// Sends a request and reads the answer to its end: its status, and how many bytes its body had.
    pub async fn send(&mut self, request: &Prepared) -> Result<(StatusCode, usize), anyhow::Error> {
        let mut bytes = 0;
        let status = self.exchange(request, |piece| bytes += piece.len()).await?;
        Ok((status, bytes))
    }

    /// Sends a request and keeps the body of the answer.
    pub async fn fetch(&mut self, request: &Prepared) -> Result<(StatusCode, Vec<u8>), anyhow::Error> {
        let mut body = Vec::new();
        let status = self.exchange(request, |piece| body.extend_from_slice(piece)).await?;
        Ok((status, body))
    }

    async fn exchange(
        &mut self,
        request: &Prepared,
        mut take: impl FnMut(&Bytes),
    ) -> Result<StatusCode, anyhow::Error> {
        // Put back only when the answer has come whole: after a failure the connection is a new one.
        let mut kept = self.sender.take();
        let is_open = match &mut kept {
            Some(kept) => kept.ready().await.is_ok(),
            None => false,
        };
        let mut sender = match kept {
            Some(kept) if is_open => kept,
            _ => open(self.address).await?,
        };
        let mut head = Request::builder().method(request.method.clone()).uri(&request.target).header(HOST, &self.host);
        if let Some(media_type) = &request.media_type {
            head = head.header(CONTENT_TYPE, media_type);
        }
        let answer = sender.send_request(head.body(Full::new(request.body.clone()))?).await?;
        let status = answer.status();
        let mut body = answer.into_body();
        while let Some(frame) = body.frame().await {
            if let Some(piece) = frame?.data_ref() {
                take(piece);
            }
        }
        self.sender = Some(sender);
        Ok(status)
    }
}

/// Opens a connection that takes requests with bodies of a kind.
pub async fn open<B>(address: SocketAddr) -> Result<SendRequest<B>, anyhow::Error>
where
    B: Body<Data = Bytes, Error: Into<Box<dyn std::error::Error + Send + Sync>>> + Send + 'static,
{
    let stream = TcpStream::connect(address).await.with_context(|| format!("no connection to {address}"))?;
    stream.set_nodelay(true)?;
    let (sender, connection) = http1::handshake(TokioIo::new(stream)).await?;
    // It ends with the sender; what goes wrong on it is told to the sender.
    tokio::spawn(connection);
    Ok(sender)
}
