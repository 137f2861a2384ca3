//! A batch of comparisons in one request, made while it is sent and counted while it is answered, so that nothing of it is kept.

use std::convert::Infallible;
use std::net::SocketAddr;
use std::time::{Duration, Instant};

use anyhow::{Context as _, bail};
use bytes::{Bytes, BytesMut};
use futures_util::stream;
use http_body_util::{BodyExt as _, StreamBody};
use hyper::Request;
use hyper::body::Frame;
use hyper::header::{CONTENT_TYPE, HOST};
use serde_json::Value;

use crate::client::open;
use crate::process::{self, Memory};

/// Lines that are sent together: enough that the generator is not what is measured.
const LINES_A_PIECE: u64 = 64;

/// What came of a batch.
#[derive(Clone, Debug, serde::Serialize)]
pub struct BatchOutcome {
    /// Lines sent.
    pub lines: u64,
    /// Lines that came back with a comparison, by the closing line.
    pub answered: u64,
    /// Lines that came back in all, without the closing one.
    pub returned: u64,
    pub bytes_sent: u64,
    pub bytes_returned: u64,
    pub seconds: f64,
    /// From the first byte sent to the first line back, as a share of the whole.
    pub first_line_after: f64,
    /// Processor time of the service for one line, in microseconds.
    pub cpu_microseconds: f64,
    /// The cores that the service used.
    pub cores: f64,
    /// The service's memory at its peak, in KiB.
    pub peak: u64,
    /// Its memory after the batch.
    pub after: Memory,
}

/// A line of a batch: a request on one line, with a reference that carries its number.
pub fn line(request: &Value, number: u64) -> Result<Vec<u8>, anyhow::Error> {
    let mut request = request.clone();
    if let Some(members) = request.as_object_mut() {
        members.insert("reference".to_owned(), Value::String(format!("client {number}")));
    }
    let mut line = serde_json::to_vec(&request)?;
    line.push(b'\n');
    Ok(line)
}

/// Sends a batch of so many lines to a service, by its address and process.
pub async fn send(
    (address, id): (SocketAddr, u32),
    query: &str,
    request: &Value,
    lines: u64,
) -> Result<BatchOutcome, anyhow::Error> {
    let (piece, in_piece) = piece(request, lines)?;
    let (whole, rest) = (lines / in_piece, lines % in_piece);
    let last = Bytes::from((0..rest).map(|number| line(request, number)).collect::<Result<Vec<_>, _>>()?.concat());
    let bytes_sent = whole * piece.len() as u64 + last.len() as u64;
    let pieces = (0..whole).map(move |_| piece.clone()).chain((rest > 0).then_some(last));
    let frames = stream::iter(pieces.map(|piece| Ok::<_, Infallible>(Frame::data(piece))));
    let mut sender = open(address).await?;
    process::forget_peak(id)?;
    let used = process::cpu(id)?;
    let began = Instant::now();
    let head = Request::post(format!("/v1/comparisons/batch{query}"))
        .header(HOST, address.to_string())
        .header(CONTENT_TYPE, "application/x-ndjson");
    let answer = sender.send_request(head.body(StreamBody::new(frames))?).await?;
    if !answer.status().is_success() {
        bail!("the batch is answered with {}", answer.status());
    }
    let mut body = answer.into_body();
    let (mut returned, mut bytes_returned, mut first) = (0_u64, 0_u64, None);
    // The last two ends of lines are all that has to be known of where lines are.
    let mut kept = BytesMut::new();
    while let Some(frame) = body.frame().await {
        let frame = frame.context("the answer broke off")?;
        let Some(bytes) = frame.data_ref() else { continue };
        first.get_or_insert_with(|| began.elapsed());
        bytes_returned += bytes.len() as u64;
        returned += bytes.iter().filter(|byte| **byte == b'\n').count() as u64;
        kept.extend_from_slice(bytes);
        let end = kept.len().saturating_sub(1);
        if let Some(position) = kept[..end].iter().rposition(|byte| *byte == b'\n') {
            drop(kept.split_to(position + 1));
        }
    }
    let took = began.elapsed();
    let used = process::cpu(id)?.saturating_sub(used);
    let after = process::memory(id)?;
    let closing: Value = serde_json::from_slice(&kept).context("the closing line is no JSON")?;
    let answered = closing["end"]["answered"].as_u64().context("the closing line counts nothing")?;
    #[expect(clippy::cast_precision_loss, reason = "no batch has so many lines")]
    let each = used.as_secs_f64() * 1e6 / lines.max(1) as f64;
    Ok(BatchOutcome {
        lines,
        answered,
        returned: returned.saturating_sub(1),
        bytes_sent,
        bytes_returned,
        seconds: took.as_secs_f64(),
        first_line_after: first.unwrap_or(took).as_secs_f64() / took.as_secs_f64().max(f64::MIN_POSITIVE),
        cpu_microseconds: each,
        cores: used.as_secs_f64() / took.max(Duration::from_nanos(1)).as_secs_f64(),
        peak: after.peak,
        after,
    })
}

/// Some lines, made once and sent over and over.
fn piece(request: &Value, lines: u64) -> Result<(Bytes, u64), anyhow::Error> {
    let count = LINES_A_PIECE.min(lines.max(1));
    let lines: Vec<Vec<u8>> = (0..count).map(|number| line(request, number)).collect::<Result<_, _>>()?;
    Ok((Bytes::from(lines.concat()), count))
}
