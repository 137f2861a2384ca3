//! One comparison, over and over, in this process and without HTTP: what callgrind counts and profilers look at.
//!
//! `comparison KIND TIMES <REQUEST` does the work of KIND that many times, and prints how long one took. `floor`
//! kinds have serde_json alone read the same request and write the same answer, so that the rest can be told from what JSON costs.

use std::hint::black_box;
use std::io::Read as _;
use std::process::ExitCode;
use std::time::Instant;

use anyhow::{Context as _, anyhow, bail};
use serde_json::Value;
use vat_schemes::law::Law;
use vat_schemes::workings::Workings;
use vat_schemes_api::json;
use vat_schemes_api::routes::comparisons::compare;
use vat_schemes_api::wire::v1::batch::ComparisonSummary;

const USUAL_BYTES: usize = 32 * 1024;

const USAGE: &str = "comparison KIND TIMES <REQUEST; kinds: whole, without-workings, summary, floor-whole, floor-without-workings, floor-summary";

/// How much of an answer is made.
#[derive(Clone, Copy)]
enum Form {
    Whole,
    WithoutWorkings,
    Summary,
}

fn main() -> ExitCode {
    // `cargo bench` adds a flag of its own.
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}

#[expect(clippy::print_stdout, reason = "a program for people and scripts")]
fn run(arguments: &[String]) -> Result<(), anyhow::Error> {
    let [kind, times] = arguments else { bail!(USAGE) };
    let mut request = Vec::new();
    std::io::stdin().read_to_end(&mut request).context("the request")?;
    let times: u32 = times.parse().context(USAGE)?;
    let law = Law::built_in()?;
    let (form, is_floor) = match kind.as_str() {
        "whole" => (Form::Whole, false),
        "without-workings" => (Form::WithoutWorkings, false),
        "summary" => (Form::Summary, false),
        "floor-whole" => (Form::Whole, true),
        "floor-without-workings" => (Form::WithoutWorkings, true),
        "floor-summary" => (Form::Summary, true),
        _ => bail!(USAGE),
    };
    let answer = answer(&law, &request, form)?;
    let held: Value = serde_json::from_slice(&answer)?;
    let started = Instant::now();
    for _ in 0..times {
        let written = if is_floor {
            black_box(serde_json::from_slice::<Value>(black_box(&request))?);
            let mut written = Vec::with_capacity(USUAL_BYTES);
            serde_json::to_writer(&mut written, black_box(&held))?;
            written
        } else {
            self::answer(&law, black_box(&request), form)?
        };
        black_box(written);
    }
    if times > 0 {
        let took = started.elapsed() / times;
        println!("{kind}: {} bytes in, {} bytes out, {took:?} each", request.len(), answer.len());
    }
    Ok(())
}

/// What the service does between the bytes of a request and those of its answer.
fn answer(law: &Law, request: &[u8], form: Form) -> Result<Vec<u8>, anyhow::Error> {
    let workings = match form {
        Form::Whole => Workings::kept,
        Form::WithoutWorkings | Form::Summary => Workings::not_kept,
    };
    let (comparison, _) = compare(law, request, workings).map_err(|problem| anyhow!("{problem:?}"))?;
    Ok(match form {
        Form::Whole | Form::WithoutWorkings => json::written(&comparison, USUAL_BYTES)?,
        Form::Summary => json::written(&ComparisonSummary::from(comparison), USUAL_BYTES)?,
    })
}
