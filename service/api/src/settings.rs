//! The service's settings: where they come from and what they may be.
//!
//! A flag goes before an environment variable, that before the file named by `--config`, and that before the default.
//! A name that nobody knows is an error: a misspelt setting must not pass in silence.

mod sources;
mod table;

use std::fmt::Write as _;
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::law_review::Asked;

pub use sources::Environment;
pub use table::{SETTINGS, Setting};

/// What the command line asks for.
#[derive(Debug)]
pub enum Command {
    /// Run the service.
    Serve(Settings),
    /// Print the settings that would apply, and end.
    CheckConfig(Settings),
    /// Print the API document, and end.
    OpenApi,
    /// Write the answers of the examples in this folder anew, and end.
    Examples(PathBuf),
    /// Ask the running service whether it lives, or else whether it wants requests, and end.
    Health {
        /// The settings of that service.
        settings: Settings,
        /// Whether it lives.
        live: bool,
    },
    /// Write the tables of law that come with the service into this directory, and end.
    LawTables(PathBuf),
    /// List what is due for review in the law that the settings name, and end.
    LawReview {
        /// The settings of the service whose law it is.
        settings: Settings,
        /// What is asked for.
        asked: Asked,
    },
    /// Make a key of this name and print it, and end.
    NewKey(String),
    /// Print a text asked for by `--help` or `--version`, and end.
    Print(String),
}

/// The settings that apply.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// Where the API listens.
    pub listen: SocketAddr,
    /// Where health and metrics listen.
    pub management_listen: SocketAddr,
    /// The most bytes that a request's body may have.
    pub max_body_bytes: usize,
    /// How long a request's body may take to arrive, in seconds.
    pub body_timeout_seconds: u64,
    /// The most bytes that a request's line and headers may have.
    pub max_head_bytes: usize,
    /// How long a request's line and headers may take to arrive, in seconds.
    pub head_timeout_seconds: u64,
    /// How long a caller may take none of an answer, in seconds.
    pub write_timeout_seconds: u64,
    /// How long a connection without a request is kept open, in seconds.
    pub keep_alive_seconds: u64,
    /// The most requests that are answered at once.
    pub max_concurrent_requests: usize,
    /// The most connections that are open at once.
    pub max_connections: usize,
    /// How long the service keeps answering after it has stopped being ready, in seconds.
    pub drain_seconds: u64,
    /// How long requests under way may take to finish once no new ones are accepted, in seconds.
    pub shutdown_timeout_seconds: u64,
    /// Threads that answer requests.
    pub workers: usize,
    /// The directory whose tables of law take the place of those that come with the service.
    pub law_directory: Option<PathBuf>,
    /// The file of the keys that callers show; without one, none is asked for.
    pub keys_file: Option<PathBuf>,
    /// How many requests come back to each caller in a minute.
    pub key_requests_per_minute: Option<u32>,
    /// How many requests each caller may send at once.
    pub key_burst: Option<u32>,
    /// The certificate that callers are shown, in PEM; without one, the API speaks plain HTTP.
    pub tls_certificate: Option<PathBuf>,
    /// Its key, in PEM.
    pub tls_key: Option<PathBuf>,
    /// The origins of other web pages that may call from a browser.
    pub cors_allow_origins: Vec<String>,
    /// The collector that takes a span of each request, without `/v1/traces`; without one, none is made.
    pub otlp_endpoint: Option<String>,
    /// How many in a hundred requests have a span, where the caller does not decide it.
    pub otlp_sample_percentage: Option<u32>,
    /// What is logged.
    pub log: String,
}

/// Settings that cannot be used. Each problem names the setting, where it was given, and what to write instead.
#[derive(Debug, thiserror::Error)]
#[error("the settings cannot be used:\n  {}", .problems.join("\n  "))]
pub struct SettingsError {
    problems: Vec<String>,
}

impl SettingsError {
    fn new(problems: Vec<String>) -> Self {
        Self { problems }
    }
}

impl Command {
    /// Reads the command line, the environment and the file that they name.
    pub fn read(
        arguments: impl IntoIterator<Item = std::ffi::OsString>,
        environment: &Environment,
    ) -> Result<Self, SettingsError> {
        let line = match sources::read_arguments(arguments)? {
            sources::Arguments::Print(text) => return Ok(Self::Print(text)),
            sources::Arguments::OpenApi => return Ok(Self::OpenApi),
            sources::Arguments::Examples(folder) => return Ok(Self::Examples(folder)),
            sources::Arguments::LawTables(directory) => return Ok(Self::LawTables(directory)),
            sources::Arguments::NewKey(name) => return Ok(Self::NewKey(name)),
            sources::Arguments::Run(line) => line,
        };
        let mut problems = Vec::new();
        let variables = sources::read_environment(environment, &mut problems);
        let file = line.config.clone().or_else(|| variables.config.clone());
        let from_file = match &file {
            Some(path) => sources::read_file(&PathBuf::from(path), &mut problems),
            None => sources::Given::default(),
        };
        let settings = Settings::from_sources(&[&line.given, &variables.given, &from_file], &mut problems);
        match settings {
            Some(settings) if problems.is_empty() => Ok(match line.purpose {
                sources::Purpose::Serve => Self::Serve(settings),
                sources::Purpose::CheckConfig => Self::CheckConfig(settings),
                sources::Purpose::Health { live } => Self::Health { settings, live },
                sources::Purpose::LawReview(asked) => Self::LawReview { settings, asked },
            }),
            _ => Err(SettingsError::new(problems)),
        }
    }
}

impl Settings {
    /// The settings with nothing given anywhere.
    pub fn defaults() -> Result<Self, SettingsError> {
        let mut problems = Vec::new();
        Self::from_sources(&[], &mut problems).ok_or_else(|| SettingsError::new(problems))
    }

    /// The settings that these places give, the first place first; nothing where one of them cannot be used.
    fn from_sources(sources: &[&sources::Given], problems: &mut Vec<String>) -> Option<Self> {
        let mut read = table::Reader::new(sources, problems);
        let settings = Self {
            listen: read.address("listen"),
            management_listen: read.address("management_listen"),
            max_body_bytes: read.number("max_body_bytes", 1, 64 * 1024 * 1024),
            body_timeout_seconds: read.number("body_timeout_seconds", 1, 600),
            max_head_bytes: read.number("max_head_bytes", 1024, 65_536),
            head_timeout_seconds: read.number("head_timeout_seconds", 1, 600),
            write_timeout_seconds: read.number("write_timeout_seconds", 1, 600),
            keep_alive_seconds: read.number("keep_alive_seconds", 1, 3600),
            max_concurrent_requests: read.number("max_concurrent_requests", 1, 1_000_000),
            max_connections: read.number("max_connections", 1, 1_000_000),
            drain_seconds: read.number("drain_seconds", 0, 600),
            shutdown_timeout_seconds: read.number("shutdown_timeout_seconds", 1, 600),
            workers: read.workers(),
            law_directory: read.path("law_directory"),
            keys_file: read.path("keys_file"),
            key_requests_per_minute: read.optional_number("key_requests_per_minute", 1, 1_000_000),
            key_burst: read.optional_number("key_burst", 1, 1_000_000),
            tls_certificate: read.path("tls_certificate"),
            tls_key: read.path("tls_key"),
            cors_allow_origins: read.origins("cors_allow_origins"),
            otlp_endpoint: read.collector("otlp_endpoint"),
            otlp_sample_percentage: read.optional_number("otlp_sample_percentage", 0, 100),
            log: read.filter("log"),
        };
        read.all_usable(&settings).then_some(settings)
    }

    /// How long a request's body may take to arrive.
    pub fn body_timeout(&self) -> Duration {
        Duration::from_secs(self.body_timeout_seconds)
    }

    /// How long a request's line and headers may take to arrive.
    pub fn head_timeout(&self) -> Duration {
        Duration::from_secs(self.head_timeout_seconds)
    }

    /// How long a caller may take none of an answer.
    pub fn write_timeout(&self) -> Duration {
        Duration::from_secs(self.write_timeout_seconds)
    }

    /// How long a connection without a request is kept open.
    pub fn keep_alive(&self) -> Duration {
        Duration::from_secs(self.keep_alive_seconds)
    }

    /// How long the service keeps answering after it has stopped being ready.
    pub fn drain(&self) -> Duration {
        Duration::from_secs(self.drain_seconds)
    }

    /// The settings as a file that `--config` reads.
    pub fn to_toml(&self) -> String {
        let mut text = String::new();
        for setting in SETTINGS {
            let value = match setting.key {
                "listen" => quoted(&self.listen.to_string()),
                "management_listen" => quoted(&self.management_listen.to_string()),
                "max_body_bytes" => self.max_body_bytes.to_string(),
                "body_timeout_seconds" => self.body_timeout_seconds.to_string(),
                "max_head_bytes" => self.max_head_bytes.to_string(),
                "head_timeout_seconds" => self.head_timeout_seconds.to_string(),
                "write_timeout_seconds" => self.write_timeout_seconds.to_string(),
                "keep_alive_seconds" => self.keep_alive_seconds.to_string(),
                "max_concurrent_requests" => self.max_concurrent_requests.to_string(),
                "max_connections" => self.max_connections.to_string(),
                "drain_seconds" => self.drain_seconds.to_string(),
                "shutdown_timeout_seconds" => self.shutdown_timeout_seconds.to_string(),
                "workers" => self.workers.to_string(),
                "law_directory" => quoted(&shown(self.law_directory.as_deref())),
                "keys_file" => quoted(&shown(self.keys_file.as_deref())),
                "key_requests_per_minute" => shown_number(self.key_requests_per_minute),
                "key_burst" => shown_number(self.key_burst),
                "tls_certificate" => quoted(&shown(self.tls_certificate.as_deref())),
                "tls_key" => quoted(&shown(self.tls_key.as_deref())),
                "cors_allow_origins" => quoted(&self.cors_allow_origins.join(", ")),
                "otlp_endpoint" => quoted(self.otlp_endpoint.as_deref().unwrap_or_default()),
                "otlp_sample_percentage" => shown_number(self.otlp_sample_percentage),
                _ => quoted(&self.log),
            };
            // Writing to a String cannot fail.
            let _ = writeln!(text, "{} = {value}", setting.key);
        }
        text
    }
}

/// A path as it is written, nothing where there is none.
fn shown(path: Option<&Path>) -> String {
    path.map(|path| path.display().to_string()).unwrap_or_default()
}

/// A number as it is written, an empty text where there is none.
fn shown_number(number: Option<u32>) -> String {
    number.map_or_else(|| quoted(""), |number| number.to_string())
}

/// A TOML basic string.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for character in text.chars() {
        match character {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            control if control.is_control() => {
                let _ = write!(quoted, "\\u{:04X}", u32::from(control));
            }
            plain => quoted.push(plain),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests;
