//! Packs the texts that the binary carries: the API document, the examples that it shows, and the published cases. Packed they take a tenth
//! of the room.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use flate2::Compression;
use flate2::write::GzEncoder;

fn main() -> io::Result<()> {
    pack_addresses();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    pack("openapi.json.gz", &text(&root.join("openapi/v1.json"))?)?;
    let examples: Vec<String> = json_files(&root.join("openapi/examples"))?
        .iter()
        .map(|path| {
            let name = path.file_stem().unwrap_or_default().to_string_lossy();
            Ok(format!("\"{name}\":{}", text(path)?))
        })
        .collect::<io::Result<_>>()?;
    pack("examples.json.gz", &format!("{{{}}}", examples.join(",")))?;
    let cases: Vec<String> =
        json_files(&root.join("tests/worked-examples"))?.iter().map(|path| text(path)).collect::<io::Result<_>>()?;
    pack("worked_examples.json.gz", &format!("[{}]", cases.join(",")))
}

/// Has the linker write the list of places that hold addresses in its short form, a thirtieth of the long one. Only where the C library is
/// in the binary too: an older one outside would not know that form.
fn pack_addresses() {
    let has = |name: &str, value: &str| env::var(name).is_ok_and(|list| list.split(',').any(|item| item == value));
    if has("CARGO_CFG_TARGET_FEATURE", "crt-static") && has("CARGO_CFG_TARGET_ENV", "gnu") {
        println!("cargo::rustc-link-arg-bins=-Wl,-z,pack-relative-relocs");
    }
}

fn json_files(folder: &Path) -> io::Result<Vec<PathBuf>> {
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut files: Vec<PathBuf> = fs::read_dir(folder)?.map(|entry| Ok(entry?.path())).collect::<io::Result<_>>()?;
    files.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    // The order of a folder is not that of its names.
    files.sort();
    Ok(files)
}

fn text(path: &Path) -> io::Result<String> {
    println!("cargo::rerun-if-changed={}", path.display());
    fs::read_to_string(path)
}

fn pack(name: &str, text: &str) -> io::Result<()> {
    let out = env::var_os("OUT_DIR").ok_or_else(|| io::Error::other("cargo names no folder for what is made"))?;
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(text.as_bytes())?;
    fs::write(Path::new(&out).join(name), encoder.finish()?)
}
