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

/// Every page in Markdown, relative to the root of the workspace, in order.
pub fn pages() -> Vec<String> {
    let mut pages = Vec::new();
    collect_pages(&root(), Path::new(""), &mut pages);
    pages.sort();
    pages
}

fn collect_pages(root: &Path, folder: &Path, pages: &mut Vec<String>) {
    let full = root.join(folder);
    let entries = std::fs::read_dir(&full).unwrap_or_else(|error| panic!("cannot list {}: {error}", full.display()));
    for entry in entries {
        let entry = entry.unwrap_or_else(|error| panic!("cannot list {}: {error}", full.display()));
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = folder.join(&name);
        if entry.path().is_dir() {
            // What is built is no page of the project.
            if name != "target" && !name.starts_with('.') {
                collect_pages(root, &path, pages);
            }
        } else if name.ends_with(".md") {
            pages.push(path.to_string_lossy().into_owned());
        }
    }
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
