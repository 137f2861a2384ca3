//! A profile: what is sent when, and what must hold. One TOML file each, in `profiles/`.

use std::fs;
use std::path::Path;

use anyhow::{Context as _, anyhow, bail};
use bytes::Bytes;
use hyper::Method;
use serde::Deserialize;

use crate::client::Prepared;
use crate::open_loop::Kind;
use crate::service::root;
use crate::thresholds::Threshold;

/// A profile as its file has it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Profile {
    pub title: String,
    /// What it is for, in a sentence.
    pub says: String,
    /// Connections of the generator.
    #[serde(default = "connections")]
    pub connections: usize,
    /// More arguments of the service.
    #[serde(default)]
    pub service: Vec<String>,
    #[serde(default)]
    pub requests: Vec<RequestKind>,
    pub phases: Vec<Phase>,
    pub thresholds: Vec<Threshold>,
}

fn connections() -> usize {
    32
}

/// A kind of request.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RequestKind {
    pub name: String,
    #[serde(default = "post")]
    pub method: String,
    pub target: String,
    #[serde(default = "json")]
    pub media_type: String,
    /// A file in `requests/`.
    pub body: Option<String>,
    /// The body itself.
    pub text: Option<String>,
    /// The status that is right for it.
    pub expected: u16,
    #[serde(default = "one")]
    pub weight: u32,
}

fn post() -> String {
    "POST".to_owned()
}

fn json() -> String {
    "application/json".to_owned()
}

fn one() -> u32 {
    1
}

/// A stretch of a profile: an open loop for some seconds, or one batch of some lines.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Phase {
    pub name: String,
    /// Requests a second, as a share of what the service can do at most, which is measured first.
    pub rate: Option<f64>,
    /// The share at the end of the phase; absent: the same.
    pub to: Option<f64>,
    pub seconds: Option<f64>,
    /// The requests that are sent, by name; absent: all.
    pub only: Option<Vec<String>>,
    /// Lines of a batch, of the first request.
    pub lines: Option<u64>,
    /// The query of a batch.
    #[serde(default)]
    pub query: String,
}

/// What a phase does.
#[derive(Clone, Debug)]
pub enum Work {
    /// An open loop at shares of what is possible.
    OpenLoop { seconds: f64, from: f64, to: f64 },
    /// A batch.
    Batch { lines: u64, query: String },
}

impl Profile {
    /// Reads a profile by its name or path.
    pub fn read(name: &str) -> Result<Self, anyhow::Error> {
        let known = root().join("load-tests/profiles").join(format!("{name}.toml"));
        let path = if known.exists() { known } else { Path::new(name).to_owned() };
        let text = fs::read_to_string(&path).with_context(|| format!("no profile {name}"))?;
        let profile: Self = toml::from_str(&text).with_context(|| path.display().to_string())?;
        profile.check().with_context(|| path.display().to_string())?;
        Ok(profile)
    }

    /// The requests of a phase.
    pub fn kinds(&self, phase: &Phase) -> Result<Vec<(String, Kind)>, anyhow::Error> {
        let wanted = |request: &&RequestKind| phase.only.as_ref().is_none_or(|only| only.contains(&request.name));
        self.requests.iter().filter(wanted).map(|request| Ok((request.name.clone(), request.kind()?))).collect()
    }

    fn check(&self) -> Result<(), anyhow::Error> {
        if self.requests.is_empty() || self.phases.is_empty() {
            bail!("there is nothing to send");
        }
        for phase in &self.phases {
            phase.work().with_context(|| format!("phase {}", phase.name))?;
            for name in phase.only.iter().flatten() {
                if !self.requests.iter().any(|request| request.name == *name) {
                    bail!("phase {} wants {name}, which is no request", phase.name);
                }
            }
        }
        self.thresholds.iter().try_for_each(|threshold| threshold.check(self))
    }
}

impl RequestKind {
    fn kind(&self) -> Result<Kind, anyhow::Error> {
        let body = match (&self.body, &self.text) {
            (Some(file), None) => Bytes::from(body(file)?),
            (None, Some(text)) => Bytes::from(text.clone()),
            (None, None) => Bytes::new(),
            (Some(_), Some(_)) => bail!("request {} has a body twice", self.name),
        };
        let method = Method::from_bytes(self.method.as_bytes())?;
        let media_type = (!body.is_empty()).then(|| self.media_type.clone());
        let request = Prepared { method, target: self.target.clone(), media_type, body };
        Ok(Kind { request, expected: self.expected, weight: self.weight.max(1) })
    }
}

impl Phase {
    /// What it does.
    pub fn work(&self) -> Result<Work, anyhow::Error> {
        match (self.lines, self.seconds, self.rate) {
            (Some(lines), None, None) => Ok(Work::Batch { lines, query: self.query.clone() }),
            (None, Some(seconds), Some(from)) if seconds > 0.0 && from > 0.0 => {
                Ok(Work::OpenLoop { seconds, from, to: self.to.unwrap_or(from) })
            }
            _ => Err(anyhow!("a phase has either lines, or seconds and a rate above nought")),
        }
    }
}

/// A file of `requests/`.
pub fn body(name: &str) -> Result<Vec<u8>, anyhow::Error> {
    fs::read(root().join("load-tests/requests").join(name)).with_context(|| format!("no request {name}"))
}

#[cfg(test)]
mod tests {
    use super::Profile;
    use crate::service::root;

    #[test]
    fn every_profile_can_be_read() {
        let mut read = 0;
        for file in std::fs::read_dir(root().join("load-tests/profiles")).expect("profiles") {
            let path = file.expect("a profile").path();
            let profile = Profile::read(&path.display().to_string()).expect("a profile that can be read");
            for phase in &profile.phases {
                assert!(!profile.kinds(phase).expect("requests").is_empty(), "{}: {}", path.display(), phase.name);
            }
            assert!(!profile.thresholds.is_empty(), "{} must hold something", path.display());
            read += 1;
        }
        assert!(read >= 7, "smoke, steady, step, spike, soak, batch and malformed flood");
    }
}
