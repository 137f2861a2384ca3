//! Case files of someone else, beside the published ones.

use crate::cases::{self, Case};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The cases of these folders, in the order of their ids.
pub fn read(folders: &[PathBuf], published: &[Case]) -> Result<Vec<Case>, String> {
    let mut known: BTreeSet<String> = published.iter().map(|case| case.id.clone()).collect();
    let mut found = Vec::new();
    let mut faults = Vec::new();
    for folder in folders {
        let files = files(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
        if files.is_empty() {
            faults.push(format!("{}: no file there ends in .json", folder.display()));
        }
        for file in files {
            let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let text = fs::read_to_string(&file).map_err(|error| format!("{}: {error}", file.display()))?;
            match cases::read(&name, &text) {
                Ok(case) if known.insert(case.id.clone()) => found.push(case),
                Ok(case) => faults.push(format!("{}: another case is called `{}` already", file.display(), case.id)),
                Err(why) => faults.extend(why.iter().map(|fault| format!("{}: {fault}", file.display()))),
            }
        }
    }
    if !faults.is_empty() {
        return Err(format!(
            "{}\nThe form of a case is described in tests/worked-examples/README.md.",
            faults.join("\n")
        ));
    }
    found.sort_by(|one: &Case, other| one.id.cmp(&other.id));
    Ok(found)
}

fn files(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let mut files = fs::read_dir(folder)?.map(|entry| Ok(entry?.path())).collect::<std::io::Result<Vec<_>>>()?;
    files.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    Ok(files)
}
