//! One run at a time in a folder: the second of two stops. The lock belongs to the open file, so it goes when the program
//! ends, however it ends.

use super::error::WriteError;
use std::fs::{File, TryLockError};
use std::path::Path;

/// Name of the tool's own folder inside a folder it writes to: lock, list of what it made, work in hand.
pub(super) const TOOL: &str = ".tool";

/// Held while a run writes to a folder.
#[derive(Debug)]
pub struct RunLock {
    _file: Option<File>,
}

impl RunLock {
    /// Takes the lock of a folder, which is made if it is not there.
    pub fn take(dir: &Path) -> Result<Self, WriteError> {
        let tool = dir.join(TOOL);
        std::fs::create_dir_all(&tool).map_err(WriteError::io(&tool, "made"))?;
        let path = tool.join("lock");
        let file = File::options()
            .write(true)
            .create(true)
            .truncate(false)
            .open(&path)
            .map_err(WriteError::io(&path, "written"))?;
        match file.try_lock() {
            Ok(()) => Ok(Self { _file: Some(file) }),
            Err(TryLockError::WouldBlock) => Err(WriteError::Busy(dir.to_owned())),
            // Some network folders know no locks; a single user is better served without one than not at all.
            Err(TryLockError::Error(e)) if e.kind() == std::io::ErrorKind::Unsupported => {
                Ok(Self { _file: None })
            }
            Err(TryLockError::Error(e)) => Err(WriteError::io(&path, "locked")(e)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_second_run_stops_and_a_later_one_goes_on() {
        let dir = tempfile::tempdir().expect("folder");
        let first = RunLock::take(dir.path()).expect("free");
        assert!(matches!(
            RunLock::take(dir.path()),
            Err(WriteError::Busy(_))
        ));
        drop(first);
        RunLock::take(dir.path()).expect("free again");
    }
}
