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
