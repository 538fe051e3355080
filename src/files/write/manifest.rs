//! The list of what the tool made in a folder, with a digest of each file (SHA-256, FIPS 180-4): how a file that she has
//! edited since, or one that is hers, is told from one of ours.

use super::error::WriteError;
use super::lock::TOOL;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};

/// One file we made.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct Entry {
    pub(super) name: String,
    pub(super) sha256: String,
    /// The verb that made it.
    pub(super) verb: String,
    /// The plan it was made from.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub(super) plan: Option<String>,
}

/// Everything we made in a folder.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub(super) struct Manifest {
    format: String,
    pub(super) files: Vec<Entry>,
}

impl Default for Manifest {
    fn default() -> Self {
        Self {
            format: "nookwright made 1".into(),
            files: Vec::new(),
        }
    }
}

impl Manifest {
    pub(super) fn path(dir: &Path) -> PathBuf {
        dir.join(TOOL).join("made.json")
    }
    /// What stands in the folder's list. A list that is missing or damaged knows no file: then every file is hers, and
    /// is kept before anything takes its place.
    pub(super) fn read(dir: &Path) -> Result<Self, WriteError> {
        let path = Self::path(dir);
        match fs::read(&path) {
            Ok(bytes) => Ok(serde_json::from_slice(&bytes).unwrap_or_default()),
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(Self::default()),
            Err(e) => Err(WriteError::io(&path, "read")(e)),
        }
    }
    pub(super) fn entry(&self, name: &str) -> Option<&Entry> {
        self.files.iter().find(|e| e.name == name)
    }
}

/// SHA-256 as hexadecimal digits.
pub(super) fn digest(bytes: &[u8]) -> String {
    use std::fmt::Write;
    Sha256::digest(bytes)
        .iter()
        .fold(String::with_capacity(64), |mut s, b| {
            let _ = write!(s, "{b:02x}"); // writing to a String cannot fail
            s
        })
}

#[cfg(test)]
mod tests {
    /// FIPS 180-4 example: the digest of `abc`.
    #[test]
    fn the_digest_is_the_standards() {
        assert_eq!(
            super::digest(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
