//! Who may call, where the settings name a file of keys: each request shows a key, and each caller has a rate of its own.
//!
//! A key is long and random, so that its SHA-256 is enough to know it again and tells nobody what it is. Keys are never logged.

mod file;
mod layer;
mod made;
mod rate;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError, RwLock};
use std::time::Instant;

use actix_web::web::Data;
use sha2::{Digest as _, Sha256};
use subtle::ConstantTimeEq as _;

use crate::reload::Reloadable;
use crate::settings::Settings;
use crate::telemetry::Metrics;
use crate::telemetry::metrics::ReloadOutcome;

pub use file::KeysFileError;
pub use layer::{KeyName, require};
pub use made::{MadeKey, make};
use rate::Rates;

/// The most bytes that a key may have: what is longer is none, and is not even hashed.
const MAX_KEY_BYTES: usize = 256;

/// A key of the file: whose it is, and its SHA-256.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Key {
    name: Arc<str>,
    digest: [u8; 32],
}

/// The keys that callers may show, and how often each caller may ask.
#[derive(Debug)]
pub struct Keys {
    path: PathBuf,
    current: RwLock<Arc<[Key]>>,
    rates: Option<Rates>,
}

impl Keys {
    /// The keys of the file that the settings name, if they name one.
    ///
    /// # Errors
    /// What is wrong with that file.
    pub fn of(settings: &Settings) -> Result<Option<Self>, KeysFileError> {
        let Some(path) = settings.keys_file.clone() else { return Ok(None) };
        let keys = file::read(&path)?;
        let rates = settings
            .key_requests_per_minute
            .map(|per_minute| Rates::new(per_minute, settings.key_burst.unwrap_or(per_minute), Instant::now()));
        Ok(Some(Self { path, current: RwLock::new(keys.into()), rates }))
    }

    /// How many keys there are.
    pub fn count(&self) -> usize {
        self.current().len()
    }

    /// The name of a key that a caller shows, if it is one of these. How long that takes does not tell how much of it is right.
    fn name_of(&self, shown: &[u8]) -> Option<Arc<str>> {
        if shown.len() > MAX_KEY_BYTES {
            return None;
        }
        let digest: [u8; 32] = Sha256::digest(shown).into();
        // Each is looked at, wherever the right one stands.
        let keys = self.current();
        let mut found = None;
        for key in keys.iter() {
            if bool::from(key.digest.ct_eq(&digest)) {
                found = Some(&key.name);
            }
        }
        found.cloned()
    }

    fn current(&self) -> Arc<[Key]> {
        Arc::clone(&self.current.read().unwrap_or_else(PoisonError::into_inner))
    }

    fn read_anew(&self) -> Result<String, KeysFileError> {
        let keys = file::read(&self.path)?;
        let names: BTreeSet<Arc<str>> = keys.iter().map(|key| Arc::clone(&key.name)).collect();
        let used = format!("keys: {}, callers: {}", keys.len(), names.len());
        *self.current.write().unwrap_or_else(PoisonError::into_inner) = keys.into();
        if let Some(rates) = &self.rates {
            rates.keep_only(&names);
        }
        Ok(used)
    }
}

/// Whether this file can be used.
///
/// # Errors
/// What is wrong with it.
pub fn check(path: Option<&Path>) -> Result<(), KeysFileError> {
    path.map(file::read).transpose().map(drop)
}

/// The keys file, read anew on SIGHUP.
pub struct KeysFile {
    keys: Data<Option<Keys>>,
    metrics: Data<Metrics>,
}

impl KeysFile {
    /// The file, if there is one.
    pub fn of(keys: &Data<Option<Keys>>, metrics: &Data<Metrics>) -> Option<Self> {
        keys.is_some().then(|| Self { keys: keys.clone(), metrics: metrics.clone() })
    }
}

impl Reloadable for KeysFile {
    fn name(&self) -> &'static str {
        "keys"
    }

    fn reload(&self) -> Result<String, anyhow::Error> {
        let Some(keys) = self.keys.as_ref() else { return Ok("keys: 0".to_owned()) };
        let used = keys.read_anew()?;
        self.metrics.describe_keys(keys.count());
        Ok(used)
    }

    fn count(&self, outcome: ReloadOutcome) {
        self.metrics.count_keys_reload(outcome);
    }
}
