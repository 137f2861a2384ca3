//! What goes over the wire: the types of requests and answers, and their conversion to and from the calculation.

pub mod v1;
