//! Keeping old files, and replacing one file so that either the old or the new one is there, never half of it.

use super::error::WriteError;
use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Remembers the last number given, so that a number is not used twice even after its file was deleted.
const COUNTER: &str = ".last-number";

/// Copies bytes into `kept/` as `0007-parts.csv`: a number never used before there, then the file's own name.
pub fn keep_copy(kept: &Path, name: &str, bytes: &[u8]) -> Result<PathBuf, WriteError> {
    fs::create_dir_all(kept).map_err(WriteError::io(kept, "made"))?;
    let counter = kept.join(COUNTER);
    let remembered = fs::read_to_string(&counter)
        .ok()
        .and_then(|t| t.trim().parse().ok());
    let mut number: u64 = remembered.unwrap_or(0).max(highest(kept)?);
    loop {
        number += 1;
        let path = kept.join(format!("{number:04}-{}", name.replace(['/', '\\'], "-")));
        match File::options().write(true).create_new(true).open(&path) {
            Ok(mut file) => {
                let written = file.write_all(bytes).and_then(|()| file.sync_all());
                if let Err(why) = written {
                    let _ = fs::remove_file(&path); // half a copy is worse than none
                    return Err(WriteError::io(&path, "written")(why));
                }
                fs::write(&counter, format!("{number}\n"))
                    .map_err(WriteError::io(&counter, "written"))?;
                return Ok(path);
            }
            Err(e) if e.kind() == ErrorKind::AlreadyExists => {}
            Err(e) => return Err(WriteError::io(&path, "written")(e)),
        }
    }
}

/// The highest number a file in there starts with.
fn highest(kept: &Path) -> Result<u64, WriteError> {
    let mut highest = 0;
    for entry in fs::read_dir(kept).map_err(WriteError::io(kept, "read"))? {
        let entry = entry.map_err(WriteError::io(kept, "read"))?;
        let name = entry.file_name();
        let digits: String = name
            .to_string_lossy()
            .chars()
            .take_while(char::is_ascii_digit)
            .collect();
        highest = highest.max(digits.parse().unwrap_or(0));
    }
    Ok(highest)
}

/// Writes a file beside and renames it over the old one. A link stays a link: what it points to is replaced.
pub fn replace_file(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let name = real
        .file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned();
    let beside = real.with_file_name(format!(".{name}.new"));
    let write = || -> std::io::Result<()> {
        let mut file = File::create(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        if let Ok(old) = fs::metadata(&real) {
            fs::set_permissions(&beside, old.permissions())?;
        }
        fs::rename(&beside, &real)
    };
    write().map_err(|why| {
        let _ = fs::remove_file(&beside);
        WriteError::io(path, "written")(why)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_in_kept_is_never_used_twice() {
        let dir = tempfile::tempdir().expect("folder");
        let kept = dir.path().join("kept");
        let one = keep_copy(&kept, "parts.csv", b"1").expect("kept");
        let two = keep_copy(&kept, "parts.csv", b"2").expect("kept");
        assert_eq!(fs::read(&one).expect("read"), b"1");
        fs::remove_file(&two).expect("deleted by her");
        let three = keep_copy(&kept, "stock.csv", b"3").expect("kept");
        assert_eq!(three.file_name().expect("name"), "0003-stock.csv");
    }
}
