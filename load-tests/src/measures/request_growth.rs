//! What a request costs as it grows from 2 to 2,000 lines.

use std::path::Path;
use std::time::Duration;

use serde_json::{Value, json};

use super::{Extent, Figure};
use crate::client::Prepared;
use crate::closed_loop::throughput;
use crate::profile;
use crate::service::Server;

/// Lines, half of them sales and half purchases.
const LINES: [usize; 4] = [2, 20, 200, 2_000];

pub async fn measure(binary: &Path, extent: Extent) -> Result<Vec<Figure>, anyhow::Error> {
    let server = Server::service(binary, 1, &[]).await?;
    let mut figures = Vec::new();
    for (name, target) in [("workings off", "/v1/comparisons?workings=false"), ("workings on", "/v1/comparisons")] {
        let mut costs = Vec::new();
        for lines in LINES {
            let request = Prepared::json(target, serde_json::to_vec(&of_lines(lines)?)?);
            let mut rounds = Vec::new();
            for _ in 0..extent.rounds {
                let lasting = Duration::from_secs(1).min(extent.lasting);
                rounds.push(throughput((server.address, server.id()), &request, 4, lasting).await?.cpu_microseconds);
            }
            let cost = Figure::of(format!("{name}: microseconds of processor for {lines} lines"), rounds);
            costs.push(cost.value);
            figures.push(cost);
        }
        for (pair, lines) in costs.windows(2).zip(LINES.windows(2)) {
            if let ([few, many], [of_few, of_many]) = (pair, lines) {
                figures.push(Figure::of(
                    format!("{name}: cost of {of_many} lines over that of {of_few}"),
                    vec![many / few],
                ));
            }
        }
    }
    Ok(figures)
}

/// The usual request with so many lines.
fn of_lines(lines: usize) -> Result<Value, anyhow::Error> {
    let mut request: Value = serde_json::from_slice(&profile::body("quarter.json")?)?;
    let of = |count: usize, line: Value| Value::Array(vec![line; count]);
    request["sales"] = of(lines / 2, json!({ "treatment": "standard_rated", "net": "240.10", "vat": "48.02" }));
    request["purchases"] = of(lines / 2, json!({ "spend": "materials", "net": "31.20", "vat": "6.24" }));
    Ok(request)
}
