//! A job folder for one test, and the program run on it.

use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A folder of its own that goes when the test ends.
pub(crate) struct Job {
    dir: tempfile::TempDir,
}

/// What a run came to.
pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Job {
    /// A copy of a sample in `job/`, with nothing made in it yet.
    pub(crate) fn sample(name: &str) -> Self {
        let job = Self::empty();
        let from = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("samples")
            .join(name);
        std::fs::create_dir(job.path("")).expect("a folder for the copy");
        for entry in std::fs::read_dir(&from).expect("the sample") {
            let path = entry.expect("an entry").path();
            if path.is_file() {
                let name = path.file_name().expect("a name");
                std::fs::copy(&path, job.path("").join(name)).expect("copied");
            }
        }
        job
    }

    /// Nothing at all: `job/` is not there.
    pub(crate) fn empty() -> Self {
        Self {
            dir: tempfile::tempdir().expect("a folder for the test"),
        }
    }

    /// A file of the job.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        let job = self.dir.path().join("job");
        if name.is_empty() { job } else { job.join(name) }
    }

    /// The folder around it.
    pub(crate) fn around(&self) -> &Path {
        self.dir.path()
    }

    pub(crate) fn read(&self, name: &str) -> String {
        String::from_utf8(self.bytes(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
    }

    pub(crate) fn bytes(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.path(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
    }

    pub(crate) fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        std::fs::write(self.path(name), text).unwrap_or_else(|e| panic!("{name}: {e}"));
    }

    /// One place of one file changed; the place must be there exactly as given.
    pub(crate) fn change(self, name: &str, from: &str, to: &str) -> Self {
        let text = self.read(name);
        assert!(text.contains(from), "{name} does not hold {from:?}");
        self.write(name, text.replacen(from, to, 1));
        self
    }

    /// `nookwright` with these words, from the folder around the job, with no terminal.
    pub(crate) fn run(&self, words: &[&str]) -> Ran {
        let output = self.command(words).output().expect("the program starts");
        Ran::of(&output)
    }

    pub(crate) fn command(&self, words: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_nookwright"));
        command
            .args(words)
            .current_dir(self.dir.path())
            .env_remove("NO_COLOR")
            .stdin(Stdio::null());
        command
    }

    /// Every file of the job below `below`, by its path there.
    pub(crate) fn files(&self, below: &str) -> BTreeMap<String, Vec<u8>> {
        let mut all = BTreeMap::new();
        gather(&self.path(below), "", &mut all);
        all
    }

    /// Her own files: everything beside what the tool makes and keeps.
    pub(crate) fn hers(&self) -> BTreeMap<String, Vec<u8>> {
        let mut all = self.files("");
        all.retain(|name, _| !name.starts_with("made/") && !name.starts_with("kept/"));
        all
    }
}

fn gather(dir: &Path, lead: &str, all: &mut BTreeMap<String, Vec<u8>>) {
    let Ok(entries) = std::fs::read_dir(dir) else {
        return;
    };
    for entry in entries {
        let entry = entry.expect("an entry");
        let name = format!("{lead}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            gather(&entry.path(), &format!("{name}/"), all);
        } else {
            all.insert(name, std::fs::read(entry.path()).expect("a file"));
        }
    }
}

impl Ran {
    pub(crate) fn of(output: &Output) -> Self {
        Self {
            code: output.status.code().expect("the program ended by itself"),
            out: String::from_utf8_lossy(&output.stdout).into_owned(),
            err: String::from_utf8_lossy(&output.stderr).into_owned(),
        }
    }

    /// The one document on standard output; anything else there fails the test.
    pub(crate) fn json(&self) -> Value {
        let mut stream = serde_json::Deserializer::from_str(&self.out).into_iter::<Value>();
        let first = match stream.next() {
            Some(Ok(value)) => value,
            other => panic!("no document: {other:?}\n{}\n{}", self.out, self.err),
        };
        assert!(
            stream.next().is_none(),
            "more than one document:\n{}",
            self.out
        );
        first
    }

    /// Everything said on either side, line breaks as blanks.
    pub(crate) fn said(&self) -> String {
        let words = self
            .out
            .split_whitespace()
            .chain(self.err.split_whitespace());
        words.collect::<Vec<_>>().join(" ")
    }

    /// Ends with this code, else shows what was said.
    #[track_caller]
    pub(crate) fn ends(self, code: i32) -> Self {
        assert_eq!(self.code, code, "\n{}\n{}", self.out, self.err);
        self
    }
}
