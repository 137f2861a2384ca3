//! What SIGHUP has the service read anew. Each thing is checked whole before it takes the place of the old one, and a bad one is
//! refused by name while the old one stays.

use std::path::PathBuf;
use std::sync::Arc;

use actix_web::rt::task::spawn_blocking;
use actix_web::web::Data;

use crate::law_files;
use crate::service::{Current, Service};
use crate::settings::Settings;
use crate::telemetry::Metrics;
use crate::telemetry::metrics::ReloadOutcome;

/// Something that is read from files and can be read anew while the service runs.
pub trait Reloadable: Send + Sync {
    /// What it is, in the log.
    fn name(&self) -> &'static str;

    /// Reads it anew, and has the service use it. Says what is used from now on.
    ///
    /// # Errors
    /// Why what was read cannot be used; nothing has changed then.
    fn reload(&self) -> Result<String, anyhow::Error>;

    /// Counts how that came out.
    fn count(&self, outcome: ReloadOutcome);
}

/// Reads everything anew, one thing after another. What cannot be used stops nothing else.
pub async fn all(things: Arc<Vec<Box<dyn Reloadable>>>) {
    if things.is_empty() {
        tracing::info!("asked to read files anew, but no setting names one");
        return;
    }
    // Files are read where they hold up no request.
    let read = spawn_blocking(move || {
        for thing in things.iter() {
            one(thing.as_ref());
        }
    });
    if read.await.is_err() {
        tracing::error!("reading files anew ended in a fault; what was not read stays as it was");
    }
}

fn one(thing: &dyn Reloadable) {
    let outcome = match thing.reload() {
        Ok(used) => {
            tracing::info!(what = thing.name(), used, "read anew");
            ReloadOutcome::Taken
        }
        Err(error) => {
            tracing::error!(
                what = thing.name(),
                error = format!("{error:#}"),
                "what was read cannot be used; the old one stays"
            );
            ReloadOutcome::Refused
        }
    };
    thing.count(outcome);
}

/// The tables of law, where a directory of them is named.
pub struct LawDirectory {
    directory: PathBuf,
    current: Data<Current>,
    settings: Settings,
    metrics: Data<Metrics>,
}

impl LawDirectory {
    /// The directory of the settings, if they name one.
    pub fn of(settings: &Settings, current: &Data<Current>, metrics: &Data<Metrics>) -> Option<Self> {
        Some(Self {
            directory: settings.law_directory.clone()?,
            current: current.clone(),
            settings: settings.clone(),
            metrics: metrics.clone(),
        })
    }
}

impl Reloadable for LawDirectory {
    fn name(&self) -> &'static str {
        "law"
    }

    fn reload(&self) -> Result<String, anyhow::Error> {
        let law = law_files::law(Some(&self.directory))?;
        let used = format!("edition {}, checked on {}", law.edition(), law.checked_on());
        let (edition, checked_on) = (law.edition().to_owned(), law.checked_on());
        // Requests under way finish with the law that they began with.
        self.current.replace(Service::new(law, &self.settings)?);
        self.metrics.describe_build(&edition, checked_on);
        Ok(used)
    }

    fn count(&self, outcome: ReloadOutcome) {
        self.metrics.count_law_reload(outcome);
    }
}
