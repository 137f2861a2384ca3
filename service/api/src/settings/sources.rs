//! The places where settings are given: the command line, the environment and a file.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

use clap::error::ErrorKind;
use clap::{Arg, ArgAction, ArgMatches};

use jiff::civil::Date;
use vat_schemes::law::Review;

use super::SettingsError;
use super::table::{CONFIG_VARIABLE, SETTINGS};
use crate::law_review::Asked;

/// The variables of the environment that concern the service.
pub type Environment = BTreeMap<String, String>;

/// The beginning of the names of the service's variables.
const PREFIX: &str = "VAT_SCHEMES_";

/// A value as it was written, and where.
#[derive(Clone, Debug)]
pub(super) struct Value {
    pub(super) text: String,
    pub(super) place: String,
}

/// What one place gives, by key.
pub(super) type Given = BTreeMap<&'static str, Value>;

pub(super) enum Arguments {
    Print(String),
    OpenApi,
    Examples(PathBuf),
    LawTables(PathBuf),
    NewKey(String),
    Run(Line),
}

/// A command line that runs the service or checks its settings.
pub(super) struct Line {
    pub(super) given: Given,
    pub(super) config: Option<String>,
    pub(super) purpose: Purpose,
}

/// What the settings are read for.
#[derive(Clone, Copy)]
pub(super) enum Purpose {
    Serve,
    CheckConfig,
    Health { live: bool },
    LawReview(Asked),
}

/// The environment's settings and the file that it names.
pub(super) struct Variables {
    pub(super) given: Given,
    pub(super) config: Option<String>,
}

fn command() -> clap::Command {
    let command = clap::Command::new("vat-schemes-api")
        .version(env!("CARGO_PKG_VERSION"))
        .about("UK VAT for one period under standard accounting and under the Flat Rate Scheme, over HTTP")
        .after_help(
            "A flag goes before an environment variable, that before the settings file, and that before the default.",
        )
        .args_conflicts_with_subcommands(true)
        .subcommand(clap::Command::new("openapi").about("Print the API document and end"))
        .subcommand(
            clap::Command::new("examples")
                .about("Write the answers of the examples in a folder anew, print the names of the files that changed, and end")
                .long_about(
                    "Write the answers of the examples in a folder anew, each from its request, print the names of the files that \
                     changed, and end. An example is a file comparison_*.json, goods_test_*.json, \
                     partial_exemption_year_*.json or threshold_check_*.json that holds summary, request and answer.",
                )
                .arg(
                    Arg::new("folder")
                        .value_name("DIR")
                        .required(true)
                        .value_parser(clap::value_parser!(PathBuf))
                        .help("The folder, openapi/examples in the sources"),
                ),
        )
        .subcommand(
            with_settings(clap::Command::new("health"))
                .about("Ask the service that runs with these settings whether it wants requests, and end; 1 if it does not")
                .arg(
                    Arg::new("live")
                        .long("live")
                        .action(ArgAction::SetTrue)
                        .help("Ask whether it lives, though it may be starting or stopping"),
                ),
        )
        .subcommand(
            clap::Command::new("law-tables")
                .about("Write the tables of law that come with the service into a directory, print their names, and end")
                .long_about(
                    "Write the tables of law that come with the service into a directory, print their names, and end. Keep those \
                     that you change and edition.toml, give the set a name of its own there, and name the directory by \
                     --law-directory.",
                )
                .arg(
                    Arg::new("directory")
                        .value_name("DIR")
                        .required(true)
                        .value_parser(clap::value_parser!(PathBuf))
                        .help("The directory; it is made where it is not there, and nothing in it is overwritten"),
                ),
        )
        .subcommand(law_review())
        .subcommand(
            clap::Command::new("new-key")
                .about("Make a key for a caller, print its entry for the keys file and, on standard error, the key; and end")
                .long_about(
                    "Make a key for a caller, print its entry for the keys file and, on standard error, the key; and end. The \
                     entry holds the SHA-256 of the key alone: who loses the key needs a new one. Two entries may share a name, so \
                     that a new key is taken while the old one still is.",
                )
                .arg(
                    Arg::new("name")
                        .value_name("NAME")
                        .required(true)
                        .help("The caller, as the log names it: letters, digits, points, underscores and hyphens"),
                ),
        )
        .arg(
            Arg::new("check_config")
                .long("check-config")
                .action(ArgAction::SetTrue)
                .help("Print the settings that would apply as TOML and end; 78 if they cannot be used"),
        );
    with_settings(command)
}

fn law_review() -> clap::Command {
    let months = |name: &'static str, default: &'static str, help: &'static str| {
        Arg::new(name)
            .long(name)
            .value_name("MONTHS")
            .default_value(default)
            .value_parser(clap::value_parser!(u16).range(0..=1200))
            .help(help)
    };
    with_settings(clap::Command::new("law-review"))
        .about("List the rows of the law tables that are due for review on a day, with authority and reason, and end")
        .long_about(
            "List the rows of the law tables that are due for review on a day, each with its value, days, authority and reason, and \
             end. The tables are those that a service with these settings uses.",
        )
        .arg(
            Arg::new("day")
                .value_name("DAY")
                .required(true)
                .value_parser(clap::value_parser!(Date))
                .help("The day of the review, in the form 2026-11-25"),
        )
        .arg(months("months", "12", "A row is due when it was last checked so many months before the day"))
        .arg(months("around", "6", "A row is due when it begins or ends within so many months of the day"))
        .arg(Arg::new("json").long("json").action(ArgAction::SetTrue).help("Print the list as JSON"))
}

/// The flag that names the settings file, and one for each setting.
fn with_settings(command: clap::Command) -> clap::Command {
    let mut command = command.arg(
        Arg::new("config")
            .long("config")
            .value_name("FILE")
            .help(format!("A TOML file of settings, named as in the environment but in lower case and without the prefix [env: {CONFIG_VARIABLE}]")),
    );
    for setting in SETTINGS {
        let default =
            if setting.default.is_empty() { String::new() } else { format!(" [default: {}]", setting.default) };
        command = command.arg(
            Arg::new(setting.key)
                .long(setting.flag)
                .value_name(setting.value_name)
                .allow_hyphen_values(true)
                .help(format!("{} [env: {}]{default}", setting.help, setting.variable)),
        );
    }
    command
}

pub(super) fn read_arguments(arguments: impl IntoIterator<Item = OsString>) -> Result<Arguments, SettingsError> {
    let matches = match command().try_get_matches_from(arguments) {
        Ok(matches) => matches,
        Err(error) if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) => {
            return Ok(Arguments::Print(error.to_string()));
        }
        Err(error) => {
            let text = error.to_string();
            return Err(SettingsError::new(vec![text.trim_start_matches("error: ").trim_end().to_owned()]));
        }
    };
    match matches.subcommand() {
        Some(("openapi", _)) => return Ok(Arguments::OpenApi),
        Some(("examples", of_examples)) => {
            let folder = of_examples.get_one::<PathBuf>("folder").cloned().unwrap_or_default();
            return Ok(Arguments::Examples(folder));
        }
        Some(("health", of_health)) => {
            return Ok(Arguments::Run(Line {
                given: given_in(of_health),
                config: of_health.get_one::<String>("config").cloned(),
                purpose: Purpose::Health { live: of_health.get_flag("live") },
            }));
        }
        Some(("law-review", of_review)) => {
            let months = |name| of_review.get_one::<u16>(name).copied().unwrap_or_default();
            // The command is not taken without a day.
            let on = of_review.get_one::<Date>("day").copied().unwrap_or_default();
            let review = Review { on, months: months("months"), around: months("around") };
            return Ok(Arguments::Run(Line {
                given: given_in(of_review),
                config: of_review.get_one::<String>("config").cloned(),
                purpose: Purpose::LawReview(Asked { review, json: of_review.get_flag("json") }),
            }));
        }
        Some(("new-key", of_key)) => {
            return Ok(Arguments::NewKey(of_key.get_one::<String>("name").cloned().unwrap_or_default()));
        }
        Some(("law-tables", of_tables)) => {
            let directory = of_tables.get_one::<PathBuf>("directory").cloned().unwrap_or_default();
            return Ok(Arguments::LawTables(directory));
        }
        _ => {}
    }
    Ok(Arguments::Run(Line {
        given: given_in(&matches),
        config: matches.get_one::<String>("config").cloned(),
        purpose: if matches.get_flag("check_config") { Purpose::CheckConfig } else { Purpose::Serve },
    }))
}

fn given_in(matches: &ArgMatches) -> Given {
    SETTINGS
        .iter()
        .filter_map(|setting| {
            let text = matches.get_one::<String>(setting.key)?.clone();
            Some((setting.key, Value { text, place: format!("--{}", setting.flag) }))
        })
        .collect()
}

pub(super) fn read_environment(environment: &Environment, problems: &mut Vec<String>) -> Variables {
    let mut variables = Variables { given: Given::new(), config: None };
    for (name, text) in environment.iter().filter(|(name, _)| name.starts_with(PREFIX)) {
        if name == CONFIG_VARIABLE {
            variables.config = Some(text.clone());
        } else if let Some(setting) = SETTINGS.iter().find(|setting| setting.variable == name) {
            variables.given.insert(setting.key, Value { text: text.clone(), place: name.clone() });
        } else {
            let known = SETTINGS.iter().map(|setting| setting.variable).chain([CONFIG_VARIABLE]);
            let near = nearest(name, known);
            problems.push(format!("{name}: there is no such variable{near}{}", service_link(name)));
        }
    }
    variables
}

/// Kubernetes puts variables into a container for each service beside it, and one named vat-schemes collides with ours.
fn service_link(name: &str) -> &'static str {
    if name.contains("_PORT") || name.ends_with("_SERVICE_HOST") {
        "; if the cluster set it, put enableServiceLinks: false into the pod"
    } else {
        ""
    }
}

pub(super) fn read_file(path: &Path, problems: &mut Vec<String>) -> Given {
    let shown = path.display();
    let text = match std::fs::read_to_string(path) {
        Ok(text) => text,
        Err(error) => {
            problems.push(format!("{shown}: the settings file cannot be read: {error}"));
            return Given::new();
        }
    };
    let table = match text.parse::<toml::Table>() {
        Ok(table) => table,
        Err(error) => {
            problems.push(format!("{shown}: the settings file is not TOML: {}", error.message()));
            return Given::new();
        }
    };
    let mut given = Given::new();
    for (key, value) in &table {
        let Some(setting) = SETTINGS.iter().find(|setting| setting.key == key) else {
            let near = nearest(key, SETTINGS.iter().map(|setting| setting.key));
            problems.push(format!("{key} in {shown}: there is no such setting{near}"));
            continue;
        };
        let text = match value {
            toml::Value::String(text) => text.clone(),
            toml::Value::Integer(number) => number.to_string(),
            _ => {
                problems.push(format!("{key} in {shown}: write text in quotes or a whole number"));
                continue;
            }
        };
        given.insert(setting.key, Value { text, place: format!("{key} in {shown}") });
    }
    given
}

/// "; did you mean …?" when a known name is close.
fn nearest<'k>(name: &str, known: impl Iterator<Item = &'k str>) -> String {
    crate::near::nearest(name, known).map_or(String::new(), |near| format!("; did you mean {near}?"))
}
