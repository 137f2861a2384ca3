//! What the service tells about itself: one log line a request, metrics, and ids to find a request by.

pub mod log;
pub mod metrics;
mod observe;
mod request_id;
pub mod spans;
mod trace_context;

pub use metrics::Metrics;
pub use observe::{RequestContext, RouteLabel, observe, observe_management};
