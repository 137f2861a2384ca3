//! The one table of settings, from which the flags, the environment, the file and `--help` are made.

use std::net::SocketAddr;
use std::path::PathBuf;

use actix_web::http::Uri;
use actix_web::http::uri::Scheme;

use super::Settings;
use super::sources::Given;
use crate::cors;

/// One setting.
#[derive(Debug)]
pub struct Setting {
    /// Its name in the file, and in upper case with `VAT_SCHEMES_` before it, in the environment.
    pub key: &'static str,
    /// Its flag, without the dashes.
    pub flag: &'static str,
    /// Its variable in the environment.
    pub variable: &'static str,
    /// What stands for the value in `--help`.
    pub value_name: &'static str,
    /// The default as it would be written; empty when the machine decides, or when there is none.
    pub default: &'static str,
    /// What it does.
    pub help: &'static str,
}

/// The variable that names the settings file.
pub const CONFIG_VARIABLE: &str = "VAT_SCHEMES_CONFIG";

/// Every setting, in the order in which `--help` and `--check-config` show them.
pub const SETTINGS: &[Setting] = &[
    Setting {
        key: "listen",
        flag: "listen",
        variable: "VAT_SCHEMES_LISTEN",
        value_name: "ADDRESS",
        default: "127.0.0.1:8080",
        help: "Address and port of the API; port 0 takes a free one",
    },
    Setting {
        key: "management_listen",
        flag: "management-listen",
        variable: "VAT_SCHEMES_MANAGEMENT_LISTEN",
        value_name: "ADDRESS",
        default: "127.0.0.1:8081",
        help: "Address and port of health and metrics; port 0 takes a free one",
    },
    Setting {
        key: "max_body_bytes",
        flag: "max-body-bytes",
        variable: "VAT_SCHEMES_MAX_BODY_BYTES",
        value_name: "BYTES",
        default: "1048576",
        help: "The most bytes that a request's body may have, 1 to 67108864",
    },
    Setting {
        key: "body_timeout_seconds",
        flag: "body-timeout-seconds",
        variable: "VAT_SCHEMES_BODY_TIMEOUT_SECONDS",
        value_name: "SECONDS",
        default: "10",
        help: "How long a request's body may take to arrive, 1 to 600",
    },
    Setting {
        key: "max_head_bytes",
        flag: "max-head-bytes",
        variable: "VAT_SCHEMES_MAX_HEAD_BYTES",
        value_name: "BYTES",
        default: "16384",
        help: "The most bytes that a request's line and headers may have, 1024 to 65536",
    },
    Setting {
        key: "head_timeout_seconds",
        flag: "head-timeout-seconds",
        variable: "VAT_SCHEMES_HEAD_TIMEOUT_SECONDS",
        value_name: "SECONDS",
        default: "5",
        help: "How long a request's line and headers may take to arrive, 1 to 600",
    },
    Setting {
        key: "write_timeout_seconds",
        flag: "write-timeout-seconds",
        variable: "VAT_SCHEMES_WRITE_TIMEOUT_SECONDS",
        value_name: "SECONDS",
        default: "30",
        help: "How long a caller may take none of an answer before it is cut off, 1 to 600",
    },
    Setting {
        key: "keep_alive_seconds",
        flag: "keep-alive-seconds",
        variable: "VAT_SCHEMES_KEEP_ALIVE_SECONDS",
        value_name: "SECONDS",
        default: "75",
        help: "How long a connection without a request is kept open, 1 to 3600; longer than the proxy before the service keeps it",
    },
    Setting {
        key: "max_concurrent_requests",
        flag: "max-concurrent-requests",
        variable: "VAT_SCHEMES_MAX_CONCURRENT_REQUESTS",
        value_name: "REQUESTS",
        default: "512",
        help: "The most requests that are answered at once, a batch being one; more are turned away with 503; 1 to 1000000",
    },
    Setting {
        key: "max_connections",
        flag: "max-connections",
        variable: "VAT_SCHEMES_MAX_CONNECTIONS",
        value_name: "CONNECTIONS",
        default: "8192",
        help: "The most connections that are open at once, shared out over the workers; more wait to be accepted; 1 to 1000000",
    },
    Setting {
        key: "drain_seconds",
        flag: "drain-seconds",
        variable: "VAT_SCHEMES_DRAIN_SECONDS",
        value_name: "SECONDS",
        default: "0",
        help: "How long to keep answering, no longer ready, before the service stops accepting, 0 to 600",
    },
    Setting {
        key: "shutdown_timeout_seconds",
        flag: "shutdown-timeout-seconds",
        variable: "VAT_SCHEMES_SHUTDOWN_TIMEOUT_SECONDS",
        value_name: "SECONDS",
        default: "30",
        help: "How long requests under way may take to finish when the service stops, 1 to 600",
    },
    Setting {
        key: "workers",
        flag: "workers",
        variable: "VAT_SCHEMES_WORKERS",
        value_name: "THREADS",
        default: "",
        help: "Threads that answer requests, 1 to 1024; the default is as many as the machine runs at once",
    },
    Setting {
        key: "law_directory",
        flag: "law-directory",
        variable: "VAT_SCHEMES_LAW_DIRECTORY",
        value_name: "DIR",
        default: "",
        help: "A directory of tables of law that take the place of those that come with the service; read anew on SIGHUP",
    },
    Setting {
        key: "keys_file",
        flag: "keys-file",
        variable: "VAT_SCHEMES_KEYS_FILE",
        value_name: "FILE",
        default: "",
        help: "The keys that callers show as Authorization: Bearer, a TOML file of what new-key prints; read anew on SIGHUP; without it none is asked for",
    },
    Setting {
        key: "key_requests_per_minute",
        flag: "key-requests-per-minute",
        variable: "VAT_SCHEMES_KEY_REQUESTS_PER_MINUTE",
        value_name: "REQUESTS",
        default: "",
        help: "How many requests each name in the keys file may send in a minute, a batch being one; more are turned away with 429; 1 to 1000000; without it any number",
    },
    Setting {
        key: "key_burst",
        flag: "key-burst",
        variable: "VAT_SCHEMES_KEY_BURST",
        value_name: "REQUESTS",
        default: "",
        help: "How many of them it may send at once after a pause, 1 to 1000000; the default is as many as in a minute",
    },
    Setting {
        key: "tls_certificate",
        flag: "tls-certificate",
        variable: "VAT_SCHEMES_TLS_CERTIFICATE",
        value_name: "FILE",
        default: "",
        help: "The API's certificate and those that vouch for it, in PEM, with which it speaks TLS 1.2 and 1.3; read anew on SIGHUP; without it plain HTTP",
    },
    Setting {
        key: "tls_key",
        flag: "tls-key",
        variable: "VAT_SCHEMES_TLS_KEY",
        value_name: "FILE",
        default: "",
        help: "The certificate's private key, in PEM; read anew on SIGHUP",
    },
    Setting {
        key: "cors_allow_origins",
        flag: "cors-allow-origins",
        variable: "VAT_SCHEMES_CORS_ALLOW_ORIGINS",
        value_name: "ORIGINS",
        default: "",
        help: "The origins of web pages that may call from a browser, such as https://books.example, with commas between them, or * for all; without it none",
    },
    Setting {
        key: "otlp_endpoint",
        flag: "otlp-endpoint",
        variable: "VAT_SCHEMES_OTLP_ENDPOINT",
        value_name: "URL",
        default: "",
        help: "An OpenTelemetry collector that takes a span of each request as OTLP over HTTP, such as http://127.0.0.1:4318; only in a build with the feature otlp; without it none",
    },
    Setting {
        key: "otlp_sample_percentage",
        flag: "otlp-sample-percentage",
        variable: "VAT_SCHEMES_OTLP_SAMPLE_PERCENTAGE",
        value_name: "PERCENTAGE",
        default: "",
        help: "How many in a hundred requests have a span, 0 to 100, where the caller's traceparent does not decide it; the default is all",
    },
    Setting {
        key: "log",
        flag: "log",
        variable: "VAT_SCHEMES_LOG",
        value_name: "FILTER",
        default: "info",
        help: "What is logged: error, warn, info, debug or trace, or a list such as info,vat_schemes_api=debug",
    },
];

/// Reads each setting out of the places where it can be given, the first place first. What cannot be used is noted, and something
/// usable stands in for it so that the rest is looked at too.
pub(super) struct Reader<'a> {
    sources: &'a [&'a Given],
    problems: &'a mut Vec<String>,
    problems_before: usize,
}

impl<'a> Reader<'a> {
    pub(super) fn new(sources: &'a [&'a Given], problems: &'a mut Vec<String>) -> Self {
        let problems_before = problems.len();
        Self { sources, problems, problems_before }
    }

    /// Whether everything that was read can be used.
    pub(super) fn all_usable(&mut self, settings: &Settings) -> bool {
        if settings.listen == settings.management_listen && settings.listen.port() != 0 {
            self.problems.push(format!(
                "listen and management_listen are both {}: give one of them another port",
                settings.listen
            ));
        }
        if settings.key_requests_per_minute.is_some() && settings.keys_file.is_none() {
            self.problems.push(
                "key_requests_per_minute is for the names in keys_file, and there is none: name one, or leave it out"
                    .to_owned(),
            );
        }
        if settings.key_burst.is_some() && settings.key_requests_per_minute.is_none() {
            self.problems.push(
                "key_burst goes with key_requests_per_minute, which is not given: give both, or leave it out"
                    .to_owned(),
            );
        }
        if settings.otlp_endpoint.is_some() && !cfg!(feature = "otlp") {
            self.problems.push(
                "otlp_endpoint is for a build with the feature otlp, and this is none: build with --features otlp, or leave it out"
                    .to_owned(),
            );
        }
        if settings.otlp_sample_percentage.is_some() && settings.otlp_endpoint.is_none() {
            self.problems.push(
                "otlp_sample_percentage goes with otlp_endpoint, which is not given: give both, or leave it out"
                    .to_owned(),
            );
        }
        for (given, of, missing) in [
            ("tls_certificate", &settings.tls_certificate, ("tls_key", &settings.tls_key)),
            ("tls_key", &settings.tls_key, ("tls_certificate", &settings.tls_certificate)),
        ] {
            if of.is_some() && missing.1.is_none() {
                self.problems
                    .push(format!("{given} goes with {}, which is not given: give both, or neither", missing.0));
            }
        }
        self.problems.len() == self.problems_before
    }

    /// The text given for a setting, with the place where it was given; else its default.
    fn text(&self, key: &str) -> (String, String) {
        for source in self.sources {
            if let Some(value) = source.get(key) {
                return (value.text.clone(), value.place.clone());
            }
        }
        let default = SETTINGS.iter().find(|setting| setting.key == key).map_or("", |setting| setting.default);
        (default.to_owned(), format!("the default of {key}"))
    }

    pub(super) fn address(&mut self, key: &str) -> SocketAddr {
        let (text, place) = self.text(key);
        text.parse().unwrap_or_else(|_| {
            self.problems.push(format!(
                "{place}: \"{text}\" is not an address with a port: write for example 127.0.0.1:8080 or [::1]:8080"
            ));
            SocketAddr::from(([127, 0, 0, 1], 0))
        })
    }

    pub(super) fn number<N>(&mut self, key: &str, least: N, most: N) -> N
    where
        N: std::str::FromStr + PartialOrd + std::fmt::Display + Copy,
    {
        let (text, place) = self.text(key);
        match text.parse::<N>() {
            Ok(number) if number >= least && number <= most => number,
            _ => {
                self.problems.push(format!("{place}: \"{text}\" is not a whole number from {least} to {most}"));
                least
            }
        }
    }

    /// A number; none where nothing, or an empty text, is given.
    pub(super) fn optional_number(&mut self, key: &str, least: u32, most: u32) -> Option<u32> {
        let (text, _) = self.text(key);
        (!text.is_empty()).then(|| self.number(key, least, most))
    }

    pub(super) fn workers(&mut self) -> usize {
        if self.sources.iter().any(|source| source.contains_key("workers")) {
            self.number("workers", 1, 1024)
        } else {
            std::thread::available_parallelism().map_or(1, std::num::NonZero::get)
        }
    }

    /// A path; none where nothing, or an empty text, is given.
    pub(super) fn path(&mut self, key: &str) -> Option<PathBuf> {
        let (text, _) = self.text(key);
        (!text.is_empty()).then(|| PathBuf::from(text))
    }

    /// Origins with commas between them; none where nothing, or an empty text, is given.
    pub(super) fn origins(&mut self, key: &str) -> Vec<String> {
        let (text, place) = self.text(key);
        if text.is_empty() {
            return Vec::new();
        }
        let origins: Vec<String> = text.split(',').map(|origin| origin.trim().to_owned()).collect();
        if !origins.iter().all(|origin| origin == cors::ALL || cors::is_origin(origin)) {
            self.problems.push(format!(
                "{place}: \"{text}\" is not a list of origins: write scheme, host and port alone and in lower case, such as https://books.example, with commas between them, or * for all"
            ));
        }
        origins
    }

    /// The address of a collector; none where nothing, or an empty text, is given.
    pub(super) fn collector(&mut self, key: &str) -> Option<String> {
        let (text, place) = self.text(key);
        if text.is_empty() {
            return None;
        }
        let is_usable = text.parse::<Uri>().is_ok_and(|address| {
            address.scheme() == Some(&Scheme::HTTP) && address.host().is_some() && address.query().is_none()
        });
        if !is_usable || text.contains(['@', '#']) {
            self.problems.push(format!(
                "{place}: \"{text}\" is not the address of a collector: write http, its host and its port, such as http://127.0.0.1:4318"
            ));
        }
        Some(text.trim_end_matches('/').to_owned())
    }

    pub(super) fn filter(&mut self, key: &str) -> String {
        let (text, place) = self.text(key);
        if text.trim().is_empty() || tracing_subscriber::EnvFilter::try_new(&text).is_err() {
            self.problems.push(format!(
                "{place}: \"{text}\" is not a log filter: write error, warn, info, debug or trace, or a list such as info,vat_schemes_api=debug"
            ));
        }
        text
    }
}
