//! The floor: a bare handler that reads a request with serde_json and writes an answer with serde_json, and does nothing between.

use std::path::Path;

use actix_web::http::StatusCode;
use actix_web::web::{Bytes, Data, post, resource};
use actix_web::{App, HttpResponse, HttpServer, web};
use anyhow::Context as _;
use serde_json::Value;

/// Serves the answer of a file on the address of the environment variable `FLOOR_LISTEN`, with one worker.
pub fn serve(answer: &Path) -> Result<(), anyhow::Error> {
    let answer: Data<Value> = Data::new(serde_json::from_slice(&std::fs::read(answer)?)?);
    let address = std::env::var("FLOOR_LISTEN").context("FLOOR_LISTEN says no address")?;
    let server = HttpServer::new(move || {
        App::new()
            .app_data(answer.clone())
            .app_data(web::PayloadConfig::new(1 << 20))
            .service(resource("/").get(|| async { HttpResponse::Ok().finish() }))
            .service(resource("/v1/comparisons").route(post().to(handle)))
    })
    .workers(1)
    .bind(address)?;
    actix_web::rt::System::new().block_on(server.run())?;
    Ok(())
}

async fn handle(body: Bytes, answer: Data<Value>) -> HttpResponse {
    let read: Result<Value, _> = serde_json::from_slice(&body);
    match (read, serde_json::to_vec(answer.get_ref())) {
        (Ok(read), Ok(written)) => {
            // Kept until here, so that reading is not left out.
            drop(std::hint::black_box(read));
            HttpResponse::Ok().content_type("application/json").body(written)
        }
        _ => HttpResponse::new(StatusCode::BAD_REQUEST),
    }
}
