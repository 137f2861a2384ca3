//! Puts the published cases of `worked-examples` into the crate, so that the runner needs no files where it runs.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("worked-examples");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut files: Vec<PathBuf> = fs::read_dir(&folder)?.map(|entry| Ok(entry?.path())).collect::<io::Result<_>>()?;
    files.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        println!("cargo::rerun-if-changed={}", file.display());
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        writeln!(list, "    ({name:?}, include_str!({:?})),", fs::canonicalize(&file)?).map_err(io::Error::other)?;
    }
    list.push_str("]\n");
    let out = env::var_os("OUT_DIR").ok_or_else(|| io::Error::other("cargo names no folder for what is made"))?;
    fs::write(Path::new(&out).join("published.rs"), list)
}
