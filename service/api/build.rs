//! Puts the published cases of `tests/worked-examples` into the binary, so that the service can show them wherever it runs.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/worked-examples");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut files: Vec<PathBuf> = fs::read_dir(&folder)?.map(|entry| Ok(entry?.path())).collect::<io::Result<_>>()?;
    files.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    // The order of a folder is not that of its names.
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        println!("cargo::rerun-if-changed={}", file.display());
        writeln!(list, "    include_str!({:?}),", fs::canonicalize(&file)?).map_err(io::Error::other)?;
    }
    list.push_str("]\n");
    let out = env::var_os("OUT_DIR").ok_or_else(|| io::Error::other("cargo names no folder for what is made"))?;
    fs::write(Path::new(&out).join("worked_examples.rs"), list)
}
