//! Where the project's files are.

use std::path::{Path, PathBuf};

/// The root of the workspace.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().map(Path::to_path_buf).unwrap_or_default()
}

/// The text of a file of the project; `path` is relative to the root of the workspace.
pub fn read(path: &str) -> String {
    let full = root().join(path);
    std::fs::read_to_string(&full).unwrap_or_else(|error| panic!("cannot read {}: {error}", full.display()))
}

/// The names of the files of a folder that end in `extension`, in order.
pub fn files(folder: &str, extension: &str) -> Vec<String> {
    let full = root().join(folder);
    let entries = std::fs::read_dir(&full).unwrap_or_else(|error| panic!("cannot list {}: {error}", full.display()));
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap_or_else(|error| panic!("cannot list {}: {error}", full.display())))
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .filter(|name| name.ends_with(extension))
        .collect();
    names.sort();
    names
}
