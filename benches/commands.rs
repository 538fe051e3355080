//! How long she waits: whole commands, the binary run on a copy of a sample. `book` on the alcove takes well under a second;
//! `cut` on the whole house takes some ten seconds, ten times over.

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// A copy of a sample in a folder that goes at the end.
fn copy(sample: &str) -> (tempfile::TempDir, PathBuf) {
    let dir = tempfile::tempdir().expect("a folder for the bench");
    let from = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("samples")
        .join(sample);
    for entry in std::fs::read_dir(from).expect("the sample") {
        let path = entry.expect("an entry").path();
        if path.is_file() {
            let name = path.file_name().expect("a name");
            std::fs::copy(&path, dir.path().join(name)).expect("copied");
        }
    }
    let at = dir.path().to_owned();
    (dir, at)
}

/// Runs a verb; `made/` goes first, so that every run does the whole work.
fn run(verb: &str, folder: &Path) {
    let _ = std::fs::remove_dir_all(folder.join("made")); // not there the first time
    let status = Command::new(env!("CARGO_BIN_EXE_nookwright"))
        .args([verb, "--quiet", "--in"])
        .arg(folder)
        .stdout(Stdio::null())
        .status()
        .expect("the program starts");
    assert!(status.success(), "{verb} ended with {status}");
}

fn commands(c: &mut Criterion) {
    let mut group = c.benchmark_group("commands");
    group.sampling_mode(SamplingMode::Flat).sample_size(10);
    group.warm_up_time(Duration::from_millis(1));
    for (verb, sample, seconds) in [("book", "alcove", 5), ("cut", "whole-house", 60)] {
        let (_dir, folder) = copy(sample);
        group.measurement_time(Duration::from_secs(seconds));
        group.bench_function(format!("{verb}, {sample}"), |b| {
            b.iter(|| run(verb, &folder));
        });
    }
    group.finish();
}

#[allow(missing_docs)]
mod group {
    use super::{commands, criterion_group};
    criterion_group!(all, commands);
}
use group::all;
criterion_main!(all);
