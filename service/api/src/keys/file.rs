//! The file of keys: TOML, an entry for each key.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::Deserialize;

use super::Key;

/// A keys file that cannot be used. Nothing of it is used then.
#[derive(Debug, thiserror::Error)]
#[error("the keys file {} cannot be used: {reason}", .path.display())]
pub struct KeysFileError {
    path: PathBuf,
    reason: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Entries {
    #[serde(default)]
    key: Vec<Entry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    name: String,
    sha256: String,
}

/// The most characters that a name may have.
const MAX_NAME: usize = 64;

/// Reads a file of keys.
pub(super) fn read(path: &Path) -> Result<Vec<Key>, KeysFileError> {
    let refused = |reason| KeysFileError { path: path.to_owned(), reason };
    let text = std::fs::read_to_string(path).map_err(|error| refused(error.to_string()))?;
    keys(&text).map_err(refused)
}

fn keys(text: &str) -> Result<Vec<Key>, String> {
    let entries: Entries = toml::from_str(text).map_err(|error: toml::de::Error| {
        // What the reader says of it may quote what stands there, and somebody may have put a key there.
        let line = error.span().map_or(1, |span| 1 + text[..span.start].matches('\n').count());
        format!("at line {line} it is not of the form that new-key prints: [[key]], then name and sha256 in quotes")
    })?;
    if entries.key.is_empty() {
        return Err(
            "it holds no [[key]], and nobody could call; leave keys_file out where no key is asked for".to_owned()
        );
    }
    let mut keys: Vec<Key> = Vec::new();
    for (place, Entry { name, sha256 }) in (1..).zip(entries.key) {
        if !is_name(&name) {
            return Err(format!(
                "the name of key {place} is not 1 to {MAX_NAME} letters, digits, points, underscores and hyphens"
            ));
        }
        let digest = digest(&sha256).ok_or_else(|| {
            format!("sha256 of key {place} ({name}) is not 64 hexadecimal digits: write what new-key prints")
        })?;
        if keys.iter().any(|key| key.digest == digest) {
            return Err(format!("key {place} ({name}) stands there already: each entry has a key of its own"));
        }
        keys.push(Key { name: Arc::from(name), digest });
    }
    Ok(keys)
}

/// Whether a text can be the name of a key.
pub(super) fn is_name(name: &str) -> bool {
    (1..=MAX_NAME).contains(&name.len())
        && name.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'_' | b'-'))
}

fn digest(text: &str) -> Option<[u8; 32]> {
    let mut digest = [0; 32];
    if text.len() != 2 * digest.len() || !text.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return None;
    }
    for (byte, pair) in digest.iter_mut().zip(text.as_bytes().chunks_exact(2)) {
        *byte = u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok()?;
    }
    Some(digest)
}

#[cfg(test)]
mod tests {
    use super::keys;

    const ONE: &str =
        "[[key]]\nname = \"a\"\nsha256 = \"9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08\"\n";

    #[test]
    fn a_name_may_have_several_keys() {
        let two = ONE.replace("9f86", "0F86");
        let keys = keys(&format!("{ONE}{two}")).expect("keys");
        assert_eq!(keys.len(), 2);
        assert_eq!(keys[0].name, keys[1].name);
        assert_eq!((keys[0].digest[0], keys[1].digest[0], keys[1].digest[31]), (0x9f, 0x0f, 0x08));
    }

    #[test]
    fn what_cannot_be_used_is_named_and_never_quoted() {
        for (text, part) in [
            (String::new(), "holds no [[key]]"),
            ("[[key]\nsecret".to_owned(), "at line 1 "),
            ("key = \"secret\"".to_owned(), "at line 1 "),
            (format!("{ONE}{ONE}"), "key 2 (a) stands there already"),
            (ONE.replace("9f86", "secret"), "sha256 of key 1 (a) is not 64"),
            (ONE.replace("9f86", "+f86"), "sha256 of key 1 (a) is not 64"),
            (ONE.replace("\"a\"", "\"a secret\""), "the name of key 1"),
            (ONE.replace("name", "secret"), "at line 2 "),
            (ONE.replace("name = \"a\"\n", ""), "at line 1 "),
        ] {
            let reason = keys(&text).expect_err("refused");
            assert!(reason.contains(part), "{reason}");
            assert!(!reason.contains("secret"), "{reason}");
        }
    }
}
