//! Load on the service, over HTTP: profiles with thresholds, and the measures of a comparison's cost.

mod arrivals;
mod batch;
mod client;
mod closed_loop;
mod floor;
mod histogram;
mod instructions;
mod measures;
mod open_loop;
mod process;
mod profile;
mod report;
mod run;
mod service;
mod thresholds;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Load on the service, over HTTP.
#[derive(Debug, Parser)]
#[command(name = "load-tests")]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Runs a profile against a service that is started for it; the exit status says whether its thresholds hold.
    Run(run::Arguments),
    /// Measures what a comparison costs, as ratios in one run.
    Measure(measures::Arguments),
    /// Counts the instructions of a comparison by callgrind, and compares them with those on file.
    Instructions(instructions::Arguments),
    /// Serves the floor: a bare handler that reads JSON and writes the JSON of a file.
    Floor {
        /// The file with the answer.
        answer: PathBuf,
    },
}

fn main() -> ExitCode {
    let outcome = match Arguments::parse().command {
        Command::Run(arguments) => run::run(&arguments),
        Command::Measure(arguments) => measures::run(&arguments),
        Command::Instructions(arguments) => instructions::run(&arguments),
        Command::Floor { answer } => floor::serve(&answer).map(|()| true),
    };
    match outcome {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("load-tests: {error:#}");
            ExitCode::from(2)
        }
    }
}

#[cfg(test)]
mod tests {
    use clap::Parser as _;

    use super::{Arguments, service};

    /// They take too long to be run by a test, but not to be read by one.
    #[test]
    fn every_command_that_a_page_shows_is_taken() {
        let mut taken = 0;
        for page in ["DEVELOPERS.md", "load-tests/RESULTS.md", "load-tests/CAPACITY.md"] {
            let text = std::fs::read_to_string(service::root().join(page)).expect(page);
            for shown in text.split("-p load-tests -- ").skip(1) {
                let line = shown.split(['\n', '`']).next().unwrap_or_default();
                let words = std::iter::once("load-tests").chain(line.split_whitespace());
                if let Err(error) = Arguments::try_parse_from(words) {
                    panic!("{page}: {line}: {error}");
                }
                if let Some(profile) = line.strip_prefix("run ").and_then(|rest| rest.split_whitespace().next()) {
                    let path = format!("load-tests/profiles/{profile}.toml");
                    assert!(service::root().join(&path).exists(), "{page}: there is no {path}");
                }
                taken += 1;
            }
        }
        assert!(taken >= 3, "{taken} commands were found");
    }
}
