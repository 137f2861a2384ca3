//! What a request must keep to before anything is done for it: the size of its head, and that others leave room.

use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::task::{Context, Poll};

use actix_web::Error;
use actix_web::body::{BodySize, BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{HeaderValue, RETRY_AFTER};
use actix_web::middleware::Next;
use actix_web::web::{Bytes, Data};

use crate::problem::{Problem, ProblemCode};
use crate::settings::Settings;
use crate::telemetry::Metrics;

/// The limits, and how much of them is used now.
#[derive(Debug)]
pub struct Limits {
    max_head_bytes: usize,
    max_concurrent_requests: usize,
    under_way: Arc<AtomicUsize>,
}

impl Limits {
    /// The limits of the settings; nothing is used yet.
    pub fn new(settings: &Settings) -> Self {
        Self {
            max_head_bytes: settings.max_head_bytes,
            max_concurrent_requests: settings.max_concurrent_requests,
            under_way: Arc::default(),
        }
    }

    /// Room for one more request, if there is some.
    fn room(&self) -> Option<Room> {
        // Taken first and given back where it was too much, so that two cannot both take the last.
        let room = Room(Arc::clone(&self.under_way));
        let before = self.under_way.fetch_add(1, Ordering::AcqRel);
        (before < self.max_concurrent_requests).then_some(room)
    }
}

/// Room that a request takes until this is dropped.
struct Room(Arc<AtomicUsize>);

impl Drop for Room {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::AcqRel);
    }
}

/// Turns away what is over a limit. A request that is turned away is never queued: who asks again a second later is served sooner
/// than who waits behind thousands.
pub async fn keep(request: ServiceRequest, next: Next<BoxBody>) -> Result<ServiceResponse<BoxBody>, Error> {
    let Some(limits) = request.app_data::<Data<Limits>>().cloned() else {
        return Ok(request.error_response(Problem::internal()));
    };
    if head_bytes(&request) > limits.max_head_bytes {
        return Ok(request.error_response(head_too_large(limits.max_head_bytes)));
    }
    let Some(room) = limits.room() else {
        if let Some(metrics) = request.app_data::<Data<Metrics>>() {
            metrics.count_load_shed();
        }
        return Ok(request.error_response(overloaded(limits.max_concurrent_requests)));
    };
    let response = next.call(request).await?;
    // An answer that is whole takes no more work; a stream works on until its end.
    Ok(match response.response().body().size() {
        BodySize::Stream => response.map_body(|_, body| BoxBody::new(Streaming { body, _room: room })),
        BodySize::None | BodySize::Sized(_) => response,
    })
}

/// The bytes of a request's line and headers, as HTTP/1.1 writes them.
fn head_bytes(request: &ServiceRequest) -> usize {
    let target = request.uri().path_and_query().map_or(0, |target| target.as_str().len());
    let line = request.method().as_str().len() + " ".len() + target + " HTTP/1.1\r\n".len();
    let headers = request.headers().iter();
    line + headers.map(|(name, value)| name.as_str().len() + value.len() + ": \r\n".len()).sum::<usize>()
}

fn head_too_large(most: usize) -> Problem {
    Problem::new(
        ProblemCode::HeadTooLarge,
        format!(
            "The request's line and headers may have {most} bytes, and these have more: send fewer or shorter headers."
        ),
    )
    .closing()
}

fn overloaded(most: usize) -> Problem {
    Problem::new(
        ProblemCode::Overloaded,
        format!("{most} requests are being answered, as many as are at once: send this one again after a second."),
    )
    .with_header(RETRY_AFTER, HeaderValue::from_static("1"))
    .closing()
}

/// A stream that takes room until its end.
struct Streaming {
    body: BoxBody,
    _room: Room,
}

impl MessageBody for Streaming {
    type Error = Box<dyn std::error::Error>;

    fn size(&self) -> BodySize {
        self.body.size()
    }

    fn poll_next(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Result<Bytes, Self::Error>>> {
        Pin::new(&mut self.body).poll_next(context)
    }
}

#[cfg(test)]
mod tests {
    use super::Limits;
    use crate::settings::Settings;

    #[test]
    fn room_is_given_back() {
        let mut settings = Settings::defaults().expect("settings");
        settings.max_concurrent_requests = 2;
        let limits = Limits::new(&settings);
        let (one, two) = (limits.room(), limits.room());
        assert!(one.is_some() && two.is_some());
        for _ in 0..3 {
            assert!(limits.room().is_none(), "a refusal takes no room");
        }
        drop(one);
        let three = limits.room();
        assert!(three.is_some() && limits.room().is_none());
        drop((two, three));
        assert!(limits.room().is_some());
    }
}
