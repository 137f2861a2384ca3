//! Sends the published cases, and others beside them, to any deployment of the service.

use acceptance::runner::{Options, run};
use clap::Parser as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run(&Options::parse(), &mut std::io::stdout().lock()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::from(1),
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::from(2)
        }
    }
}
