//! What the black-box tests are made of: a server started from the real binary, a client that holds every exchange to the API
//! document, a second reader of the workings, and the published cases.
//!
//! Nothing here knows the code of the service: only HTTP, `openapi/v1.json` and published sources.

pub mod arithmetic;
pub mod balance;
pub mod calendar;
pub mod cases;
pub mod client;
pub mod console;
pub mod diary;
pub mod differences;
pub mod document;
pub mod figures;
pub mod generator;
pub mod log;
pub mod metrics;
pub mod paths;
pub mod raw;
pub mod replay;
pub mod runner;
pub mod second_calculation;
pub mod server;
pub mod tls;
