//! Tables of law from a directory: a firm that has newer ones than this release mounts those that changed.

use std::path::{Path, PathBuf};

use anyhow::{Context as _, bail};
use vat_schemes::law::{Law, Tables};

use crate::near;

/// The name of the table that names the set; the only one that must be there.
const EDITION: &str = "edition.toml";

/// The most bytes of one table: many times the largest that comes with the service.
const MOST_BYTES: u64 = 4 * 1024 * 1024;

/// The names of the tables.
const NAMES: [&str; 7] = [
    EDITION,
    "authorities.toml",
    "parameters.toml",
    "flat_rate_percentages.toml",
    "fuel_scale_charges.toml",
    "trades.toml",
    "bank_holidays.toml",
];

/// The tables of a directory cannot be used: why, and what to change.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub struct LawFilesError(String);

/// The law that applies: that of the directory, or else the one that comes with the service.
///
/// # Errors
/// [`LawFilesError`] where a file cannot be read or is none of the tables, where the set has no name of its own, or where it is not sound:
/// every row that is wrong is named then.
pub fn law(directory: Option<&Path>) -> Result<Law, anyhow::Error> {
    match directory {
        Some(directory) => Ok(read(directory).map_err(|error| LawFilesError(format!("{error:#}")))?),
        None => Ok(Law::built_in()?),
    }
}

/// Reads the tables of a directory; those that it does not hold are the ones that come with the service. The set is checked as a whole.
fn read(directory: &Path) -> Result<Law, anyhow::Error> {
    let of_directory = || format!("law_directory {}", directory.display());
    for name in names(directory).with_context(of_directory)? {
        if !NAMES.contains(&name.as_str()) {
            let meant = near::nearest(&name, NAMES.into_iter())
                .map(|near| format!(" Did you mean {near}?"))
                .unwrap_or_default();
            bail!("{}: {name} is no table of law: they are {}.{meant}", of_directory(), NAMES.join(", "));
        }
    }
    let table = |name| text(&directory.join(name)).with_context(of_directory);
    let built_in = &Tables::BUILT_IN;
    let Some(edition) = table(EDITION)? else {
        bail!(
            "{}: {EDITION} is missing. It names the set of tables, and the day on which it was last checked.",
            of_directory()
        );
    };
    let [_, authorities, parameters, percentages, fuel_scale_charges, trades, bank_holidays] = NAMES.map(table);
    let (authorities, parameters, percentages) = (authorities?, parameters?, percentages?);
    let (fuel_scale_charges, trades, bank_holidays) = (fuel_scale_charges?, trades?, bank_holidays?);
    let law = Law::from_tables(&Tables {
        edition: &edition,
        authorities: authorities.as_deref().unwrap_or(built_in.authorities),
        parameters: parameters.as_deref().unwrap_or(built_in.parameters),
        flat_rate_percentages: percentages.as_deref().unwrap_or(built_in.flat_rate_percentages),
        fuel_scale_charges: fuel_scale_charges.as_deref().unwrap_or(built_in.fuel_scale_charges),
        trades: trades.as_deref().unwrap_or(built_in.trades),
        bank_holidays: bank_holidays.as_deref().unwrap_or(built_in.bank_holidays),
    })
    .with_context(of_directory)?;
    let own = Law::built_in()?;
    if law.edition() == own.edition() {
        bail!(
            "{}: {EDITION} names the set {}, as the one that comes with the service is called. Answers name the set that they rest on: \
             give this one a name of its own.",
            of_directory(),
            own.edition()
        );
    }
    Ok(law)
}

/// The names of the files in a directory that are meant as tables. Hidden ones are not: a cluster keeps its links there.
fn names(directory: &Path) -> Result<Vec<String>, anyhow::Error> {
    let mut names = Vec::new();
    for entry in std::fs::read_dir(directory).context("it cannot be read")? {
        let name = entry.context("it cannot be read")?.file_name().to_string_lossy().into_owned();
        if !name.starts_with('.') {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

/// The text of a file, if it is there.
fn text(path: &PathBuf) -> Result<Option<String>, anyhow::Error> {
    let name = || path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    match std::fs::metadata(path) {
        Ok(metadata) if metadata.len() > MOST_BYTES => {
            bail!("{} has {} bytes: a table has {MOST_BYTES} at most", name(), metadata.len())
        }
        Ok(_) => std::fs::read_to_string(path).map(Some).with_context(|| format!("{} cannot be read", name())),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error).with_context(|| format!("{} cannot be read", name())),
    }
}

/// Writes the tables that come with the service into a directory, for whoever begins a set of their own. Nothing is overwritten.
///
/// # Errors
/// Where a table is there already or cannot be written.
pub fn write_built_in(directory: &Path) -> Result<Vec<PathBuf>, anyhow::Error> {
    let built_in = &Tables::BUILT_IN;
    let texts = [
        built_in.edition,
        built_in.authorities,
        built_in.parameters,
        built_in.flat_rate_percentages,
        built_in.fuel_scale_charges,
        built_in.trades,
        built_in.bank_holidays,
    ];
    let paths: Vec<PathBuf> = NAMES.iter().map(|name| directory.join(name)).collect();
    std::fs::create_dir_all(directory).with_context(|| format!("{} cannot be made", directory.display()))?;
    if let Some(there) = paths.iter().find(|path| path.exists()) {
        bail!("{} is there already, and nothing is overwritten: name another directory", there.display());
    }
    for (path, text) in paths.iter().zip(texts) {
        std::fs::write(path, text).with_context(|| format!("{} cannot be written", path.display()))?;
    }
    Ok(paths)
}
