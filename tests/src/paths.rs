//! Where the project's files are.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

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

/// When a file, or the file of a folder that changed last, was changed; `path` is relative to the root of the workspace.
pub fn last_changed(path: &str) -> Option<SystemTime> {
    newest(&root().join(path))
}

fn newest(path: &Path) -> Option<SystemTime> {
    let metadata = path.metadata().ok()?;
    if !metadata.is_dir() {
        return metadata.modified().ok();
    }
    std::fs::read_dir(path).ok()?.flatten().filter_map(|entry| newest(&entry.path())).max()
}

/// Whether there is a file or folder at a path relative to the root of the workspace.
pub fn exists(path: &str) -> bool {
    root().join(path).exists()
}
