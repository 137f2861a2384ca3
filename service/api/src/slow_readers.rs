//! Cuts off callers that take no more of their answers, so that they cannot hold what was made for them.

use std::any::Any;
use std::time::Duration;

use actix_tls::accept::rustls_0_23::TlsStream;
use actix_web::dev::Extensions;
use actix_web::rt::net::TcpStream;

/// For a new connection of the API: has the system end it once nothing of what was sent has been taken for so long (RFC 5482, the
/// user timeout of TCP). The service itself cannot tell: what it writes goes no further than the system's buffers.
pub fn cut_off(patience: Duration) -> impl Fn(&dyn Any, &mut Extensions) + Clone + Send + Sync + 'static {
    move |connection, _| {
        let encrypted = connection.downcast_ref::<TlsStream<TcpStream>>().map(|stream| stream.get_ref().0);
        if let Some(stream) = encrypted.or_else(|| connection.downcast_ref::<TcpStream>()) {
            bound(stream, patience);
        }
    }
}

#[cfg(target_os = "linux")]
fn bound(stream: &TcpStream, patience: Duration) {
    if let Err(error) = socket2::SockRef::from(stream).set_tcp_user_timeout(Some(patience)) {
        tracing::debug!(%error, "a connection cannot be bounded");
    }
}

/// Other systems have no such bound for one connection.
#[cfg(not(target_os = "linux"))]
fn bound(_: &TcpStream, _: Duration) {}
