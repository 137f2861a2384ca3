//! The runner: it sends case files to any deployment of the service, one after the other, and says what came back.

mod given;
mod junit;
mod results;
mod send;

use crate::cases::{self, Case};
use crate::differences::differences;
use clap::Parser;
use results::{Outcome, Result as CaseResult};
use std::io::Write;
use std::path::PathBuf;
use std::time::Instant;

/// Sends the published cases to a deployment of the service and compares the figures.
///
/// Exit code 0: every case came back as published. 1: at least one did not. 2: nothing was sent, and the message says why.
/// What the service answers is a calculation, not advice.
#[derive(Debug, Parser)]
#[command(name = "acceptance")]
pub struct Options {
    /// Address of the deployment, with https:// or http://
    #[arg(long, value_name = "URL", required_unless_present = "list")]
    pub base_url: Option<String>,
    /// Folder with case files of your own; may be given more than once
    #[arg(long, value_name = "DIRECTORY")]
    pub cases: Vec<PathBuf>,
    /// Leave the published cases out: send only those of --cases
    #[arg(long, requires = "cases")]
    pub only_given: bool,
    /// Send only cases whose id or title holds this
    #[arg(long, value_name = "TEXT")]
    pub filter: Option<String>,
    /// Send only cases about this; may be given more than once
    #[arg(long, value_name = "TOPIC")]
    pub topic: Vec<String>,
    /// File that holds the key to send as a bearer token
    #[arg(long, value_name = "FILE")]
    pub key_file: Option<PathBuf>,
    /// File with the certificates (PEM) to trust in place of the public ones
    #[arg(long, value_name = "FILE")]
    pub ca_certificate: Option<PathBuf>,
    /// How long to wait for an answer
    #[arg(long, value_name = "SECONDS", default_value_t = 30)]
    pub timeout_seconds: u64,
    /// File to write the results to as JUnit XML
    #[arg(long, value_name = "FILE")]
    pub junit: Option<PathBuf>,
    /// File to write the results to as JSON
    #[arg(long, value_name = "FILE")]
    pub json: Option<PathBuf>,
    /// Show the cases that would be sent, and send nothing
    #[arg(long)]
    pub list: bool,
}

/// Runs the cases; whether every one came back as it should.
///
/// # Errors
/// Why nothing was sent, or where the results could not be written.
pub fn run(options: &Options, out: &mut impl Write) -> Result<bool, String> {
    let cases = chosen(options)?;
    let unwritten = |error: std::io::Error| format!("the results cannot be printed: {error}");
    if options.list {
        results::list(&cases, out).map_err(unwritten)?;
        return Ok(true);
    }
    let base_url = options.base_url.as_deref().unwrap_or_default().trim_end_matches('/');
    let sender = send::Sender::new(options)?;
    let mut results = Vec::with_capacity(cases.len());
    for case in cases {
        let begun = Instant::now();
        let outcome = judge(&case, sender.send(&format!("{base_url}{}", case.path), &case.request));
        results.push(CaseResult { case, outcome, seconds: begun.elapsed().as_secs_f64() });
    }
    results::table(&results, out).map_err(unwritten)?;
    let write = |path: &PathBuf, text: String| {
        std::fs::write(path, text).map_err(|error| format!("{}: {error}", path.display()))
    };
    if let Some(path) = &options.json {
        write(path, results::json(base_url, &results))?;
    }
    if let Some(path) = &options.junit {
        write(path, junit::xml(&results))?;
    }
    Ok(results.iter().all(|result| matches!(result.outcome, Outcome::Passed)))
}

/// The cases to send, in the order of their ids, the published ones first.
fn chosen(options: &Options) -> Result<Vec<Case>, String> {
    let published = cases::all();
    let given = given::read(&options.cases, &published)?;
    let mut all = if options.only_given { Vec::new() } else { published };
    all.extend(given);
    all.retain(|case| {
        let held = |text: &String| case.id.contains(text) || case.title.contains(text);
        options.filter.as_ref().is_none_or(held) && (options.topic.is_empty() || options.topic.contains(&case.topic))
    });
    if all.is_empty() {
        return Err("no case fits --filter and --topic: --list without them shows all".to_owned());
    }
    Ok(all)
}

fn judge(case: &Case, answer: Result<send::Answer, String>) -> Outcome {
    let answer = match answer {
        Ok(answer) => answer,
        Err(fault) => return Outcome::NotAnswered(fault),
    };
    if answer.status != case.status {
        let text: String = answer.text.chars().take(1000).collect();
        return Outcome::Differs(vec![format!("expected status {}, it is {}: {text}", case.status, answer.status)]);
    }
    match serde_json::from_str(&answer.text) {
        Ok(body) => match differences(&case.expected, &body) {
            found if found.is_empty() => Outcome::Passed,
            found => Outcome::Differs(found),
        },
        Err(error) => Outcome::NotAnswered(format!("the answer is no JSON: {error}")),
    }
}
