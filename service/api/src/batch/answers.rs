//! The stream of answers to a stream of lines.

use std::cell::RefCell;
use std::num::NonZero;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use actix_web::Error;
use actix_web::rt::time::timeout;
use actix_web::web::{self, Bytes, Payload};
use futures_util::stream::{self, Stream, StreamExt as _};

use super::line::{Form, Setting, answer_lines, write};
use super::lines::{Line, Lines};
use super::tally::Tally;
use crate::buffers::Buffers;
use crate::problem::Problem;
use crate::service::Service;
use crate::telemetry::{Metrics, RequestContext};
use crate::wire::v1::batch::BatchLine;

/// The bytes of a piece after which no more lines are added.
const ENOUGH_BYTES: usize = 64 * 1024;

/// The room of a buffer for the answers of a piece: what most need, and what is kept at most.
const USUAL_BYTES: usize = 512 * 1024;
const MOST_KEPT_BYTES: usize = 4 * 1024 * 1024;

/// What a batch is worked out with.
pub struct Batch {
    /// The law and the bounds of a request.
    pub service: Arc<Service>,
    /// Where outcomes are counted.
    pub metrics: Option<web::Data<Metrics>>,
    /// How much of each comparison is wanted.
    pub form: Form,
    /// By what the request is found again.
    pub context: RequestContext,
}

/// What is known of a batch under way.
#[derive(Default)]
struct Progress {
    tally: Tally,
    blank: u64,
    broken_off: Option<&'static str>,
}

/// Answers the lines of a body: one line for each, in order, and a closing one with counts. Dropping the stream ends the work.
pub fn answers(payload: Payload, batch: Batch) -> impl Stream<Item = Result<Bytes, Error>> {
    let Batch { service, metrics, form, context } = batch;
    let setting = Setting { form, most_bytes: service.max_body_bytes, context };
    let progress = Rc::new(RefCell::new(Progress::default()));
    let pieces = pieces(payload, service.max_body_bytes, most_lines(form), service.body_timeout, Rc::clone(&progress));
    let at_once = 2 * std::thread::available_parallelism().map_or(2, NonZero::get);
    let (of_lines, closing) = ((service.clone(), setting.clone(), Rc::clone(&progress)), (service, setting, progress));
    // One for each piece, one that is being sent and one that waits for that.
    let buffers = Buffers::keeping(at_once + 2, MOST_KEPT_BYTES);
    pieces
        .map(move |lines| {
            let (service, setting, progress) = of_lines.clone();
            let (metrics, buffers, mut written) = (metrics.clone(), buffers.clone(), buffers.take(USUAL_BYTES));
            // The work begins when the piece is taken, and `buffered` takes no more pieces than are to be worked on at once.
            let working = web::block(move || {
                let metrics = metrics.as_ref().map(|metrics| metrics.get_ref());
                let tally = answer_lines(&service.law, metrics, &setting, &lines, &mut written);
                (written, tally)
            });
            async move {
                // The threads of a server that is ending take no more work.
                let (written, tally) = working.await.map_err(|_| Problem::internal())?;
                progress.borrow_mut().tally.add(&tally);
                Ok(buffers.lend(written))
            }
        })
        .buffered(at_once)
        .chain(stream::once(async move {
            let (service, setting, progress) = closing;
            let progress = progress.borrow();
            let end =
                progress.tally.end(progress.blank, progress.broken_off, vat_schemes::general_cautions(&service.law));
            tracing::info!(
                lines = end.lines,
                answered = end.answered,
                refused = end.refused,
                not_valid = end.not_valid,
                failed = end.failed,
                complete = end.complete,
                request_id = setting.context.request_id,
                "batch"
            );
            let mut written = Vec::with_capacity(1024);
            write(&BatchLine { end: Some(end), ..BatchLine::default() }, &mut written);
            Ok(Bytes::from(written))
        }))
}

/// The lines of a body in pieces, as they come.
fn pieces(
    payload: Payload,
    most_bytes: usize,
    most_lines: usize,
    patience: Duration,
    progress: Rc<RefCell<Progress>>,
) -> impl Stream<Item = Vec<Line>> {
    stream::unfold(Some((payload, Lines::new(most_bytes))), move |state| {
        let progress = Rc::clone(&progress);
        async move {
            let (mut payload, mut lines) = state?;
            loop {
                let piece = piece(&mut lines, most_lines);
                if !piece.is_empty() {
                    return Some((piece, Some((payload, lines))));
                }
                let broken_off = match timeout(patience, payload.next()).await {
                    Ok(Some(Ok(bytes))) => {
                        lines.push(&bytes);
                        continue;
                    }
                    Ok(None) => None,
                    Ok(Some(Err(error))) => {
                        tracing::debug!(%error, "a batch broke off");
                        Some(
                            "The body broke off, or its chunks are not as HTTP has them: send the lines that are missing again.",
                        )
                    }
                    Err(_) => Some(
                        "No more of the body came for too long: send the lines that are missing again, without pausing.",
                    ),
                };
                let last: Vec<Line> =
                    if broken_off.is_none() { lines.last().into_iter().collect() } else { Vec::new() };
                let mut progress = progress.borrow_mut();
                progress.blank = lines.blank;
                progress.broken_off = broken_off;
                return if last.is_empty() { None } else { Some((last, None)) };
            }
        }
    })
}

/// The most lines that are worked on together: enough that the way to a thread and back costs little beside the work, and few enough that
/// their answers take half a megabyte or so.
fn most_lines(form: Form) -> usize {
    match form {
        Form::Whole => 16,
        Form::WithoutWorkings | Form::Summary => 64,
    }
}

/// Lines that have come whole: no more than so many, and however few, so that nobody waits for lines that are yet to be sent.
fn piece(lines: &mut Lines, most_lines: usize) -> Vec<Line> {
    let mut piece = Vec::new();
    let mut bytes = 0;
    while piece.len() < most_lines && bytes < ENOUGH_BYTES {
        let Some(line) = lines.next_ended() else { break };
        bytes += line.text.as_ref().map_or(0, |text| text.len());
        piece.push(line);
    }
    piece
}
