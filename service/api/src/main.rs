//! `vat-schemes-api`: arguments, settings, run.

use std::io::Write as _;
use std::process::ExitCode;

use vat_schemes::law::Law;
use vat_schemes_api::keys::{self, KeysFileError};
use vat_schemes_api::law_files::LawFilesError;
use vat_schemes_api::settings::{Command, Environment};
use vat_schemes_api::tls::{Tls, TlsFilesError};
use vat_schemes_api::{examples, health, law_files, law_review, lifecycle, openapi, telemetry};

/// The exit status for settings that cannot be used (`EX_CONFIG` of sysexits).
const SETTINGS_NOT_USABLE: u8 = 78;

fn main() -> ExitCode {
    let environment: Environment = std::env::vars_os()
        .filter_map(|(name, value)| Some((name.into_string().ok()?, value.to_string_lossy().into_owned())))
        .collect();
    let command = match Command::read(std::env::args_os(), &environment) {
        Ok(command) => command,
        Err(error) => {
            eprintln!("vat-schemes-api: {error}");
            return ExitCode::from(SETTINGS_NOT_USABLE);
        }
    };
    match carry_out(command) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("vat-schemes-api: {error:#}");
            if error.is::<LawFilesError>() || error.is::<KeysFileError>() || error.is::<TlsFilesError>() {
                ExitCode::from(SETTINGS_NOT_USABLE)
            } else {
                ExitCode::FAILURE
            }
        }
    }
}

fn carry_out(command: Command) -> Result<(), anyhow::Error> {
    match command {
        Command::Print(text) => print(&text),
        Command::CheckConfig(settings) => {
            law_files::law(settings.law_directory.as_deref())?;
            keys::check(settings.keys_file.as_deref())?;
            Tls::of(&settings)?;
            print(&settings.to_toml())
        }
        Command::Health { settings, live } => health::ask(settings.management_listen, live),
        Command::LawTables(directory) => {
            let written = law_files::write_built_in(&directory)?;
            print(&written.iter().map(|path| format!("{}\n", path.display())).collect::<String>())
        }
        Command::LawReview { settings, asked } => {
            print(&law_review::list(&law_files::law(settings.law_directory.as_deref())?, &asked)?)
        }
        Command::NewKey(name) => {
            let made = keys::make(&name)?;
            // Beside the entry, so that what is put at the end of the keys file never holds the key.
            eprintln!("The key of {name}, shown this once:\n{}", made.key);
            print(&made.entry)
        }
        Command::OpenApi => print(&openapi::document(&Law::built_in()?)?),
        Command::Examples(folder) => {
            let changed = examples::rewrite(&Law::built_in()?, &folder)?;
            print(&changed.iter().map(|path| format!("{}\n", path.display())).collect::<String>())
        }
        Command::Serve(settings) => {
            telemetry::log::start(&settings.log)?;
            let outcome = lifecycle::run(&settings);
            telemetry::log::flush();
            outcome
        }
    }
}

fn print(text: &str) -> Result<(), anyhow::Error> {
    std::io::stdout().write_all(text.as_bytes())?;
    Ok(())
}
