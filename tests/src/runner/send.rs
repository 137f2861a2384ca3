//! How a case is sent.

use super::Options;
use serde_json::Value;
use std::fs;
use std::path::Path;
use std::time::Duration;
use ureq::tls::{Certificate, PemItem, RootCerts, TlsConfig};
use ureq::{Agent, Body, http};

/// How often a request is sent again where the service asks for patience.
const TRIES: usize = 6;
/// The longest that the service may ask to wait.
const LONGEST_WAIT: u64 = 60;

/// An answer.
pub struct Answer {
    /// Its status.
    pub status: u16,
    /// Its body.
    pub text: String,
}

/// What sends.
pub struct Sender {
    agent: Agent,
    key: Option<String>,
}

impl Sender {
    /// With the certificates and the key that the options name.
    pub fn new(options: &Options) -> Result<Sender, String> {
        let base = options.base_url.as_deref().unwrap_or_default();
        if !base.starts_with("https://") && !base.starts_with("http://") {
            return Err(format!("--base-url {base}: it begins with https:// or http://"));
        }
        let key = options.key_file.as_deref().map(key).transpose()?;
        let mut config = Agent::config_builder()
            .timeout_global(Some(Duration::from_secs(options.timeout_seconds)))
            .http_status_as_error(false)
            .max_redirects(0);
        if let Some(path) = &options.ca_certificate {
            let tls = TlsConfig::builder().root_certs(RootCerts::from(certificates(path)?)).build();
            config = config.tls_config(tls);
        }
        Ok(Sender { agent: config.build().into(), key })
    }

    /// Sends a request, again where the service says after how long.
    pub fn send(&self, url: &str, request: &Value) -> Result<Answer, String> {
        let body = request.to_string();
        let mut tries = 0;
        loop {
            tries += 1;
            let mut call = self.agent.post(url).header("content-type", "application/json");
            if let Some(key) = &self.key {
                call = call.header("authorization", format!("Bearer {key}"));
            }
            let mut response = call.send(&body).map_err(|error| format!("{url}: {error}"))?;
            if tries < TRIES
                && let Some(wait) = patience(&response)
            {
                std::thread::sleep(wait);
                continue;
            }
            let status = response.status().as_u16();
            let text = response.body_mut().read_to_string().map_err(|error| format!("{url}: {error}"))?;
            return Ok(Answer { status, text });
        }
    }
}

/// How long the service asks to wait, where it has too much to do.
fn patience(response: &http::Response<Body>) -> Option<Duration> {
    matches!(response.status().as_u16(), 429 | 503).then_some(())?;
    let seconds: u64 = response.headers().get("retry-after")?.to_str().ok()?.parse().ok()?;
    (seconds <= LONGEST_WAIT).then(|| Duration::from_secs(seconds))
}

fn key(path: &Path) -> Result<String, String> {
    let text = fs::read_to_string(path).map_err(|error| format!("--key-file {}: {error}", path.display()))?;
    let key = text.trim();
    if key.is_empty() || !key.chars().all(|letter| letter.is_ascii_graphic()) {
        return Err(format!("--key-file {}: it holds one key and nothing else", path.display()));
    }
    Ok(key.to_owned())
}

fn certificates(path: &Path) -> Result<Vec<Certificate<'static>>, String> {
    let refused = |why: String| format!("--ca-certificate {}: {why}", path.display());
    let text = fs::read(path).map_err(|error| refused(error.to_string()))?;
    let mut found = Vec::new();
    for item in ureq::tls::parse_pem(&text) {
        if let PemItem::Certificate(certificate) = item.map_err(|error| refused(error.to_string()))? {
            found.push(certificate);
        }
    }
    if found.is_empty() { Err(refused("it holds no certificate in PEM".to_owned())) } else { Ok(found) }
}
