//! The same files give the same bytes, whatever the number of threads and however often.

use crate::job::Job;
use std::collections::BTreeMap;

/// What a fresh copy of a sample comes to: what is printed and everything made.
fn made(sample: &str, verb: &[&str], threads: &str) -> BTreeMap<String, Vec<u8>> {
    let job = Job::sample(sample);
    let mut words = verb.to_vec();
    words.extend(["--in", "job", "--threads", threads]);
    let ran = job.run(&words).ends(0);
    let mut all = job.files("made");
    all.insert("standard output".into(), ran.out.into_bytes());
    all.insert("standard error".into(), ran.err.into_bytes());
    all
}

#[track_caller]
fn same(runs: &[BTreeMap<String, Vec<u8>>]) {
    for run in &runs[1..] {
        let (a, b): (Vec<_>, Vec<_>) = (runs[0].keys().collect(), run.keys().collect());
        assert_eq!(a, b, "the same files");
        for (name, bytes) in run {
            assert!(runs[0][name] == *bytes, "{name} differs");
        }
    }
}

fn each_way(sample: &str, verb: &[&str]) -> Vec<BTreeMap<String, Vec<u8>>> {
    ["1", "2", "1", "2"]
        .iter()
        .map(|threads| made(sample, verb, threads))
        .collect()
}

#[test]
fn a_book_is_the_same_for_any_number_of_threads() {
    for sample in ["alcove", "studio-mm"] {
        let runs = each_way(sample, &["book"]);
        for file in [
            "plan.json",
            "build-book.pdf",
            "build-book.txt",
            "labels.pdf",
            "buy.csv",
        ] {
            assert!(runs[0].contains_key(file), "{file} is made");
        }
        same(&runs);
    }
}

#[test]
fn lists_and_comparisons_are_too() {
    same(&each_way("alcove", &["compare"]));
    same(&each_way(
        "studio-mm",
        &["buy", "--json", "--effort", "quick"],
    ));
}

#[test]
fn a_bare_list_is_too() {
    let runs: Vec<BTreeMap<String, Vec<u8>>> = ["1", "2", "1", "2"]
        .iter()
        .map(|threads| {
            let job = Job::sample("bare-list");
            let words = [
                "cut",
                "job/parts.csv",
                "--out",
                "job/out",
                "--threads",
                threads,
            ];
            let ran = job.run(&words).ends(0);
            let mut all = job.files("out");
            all.insert("standard output".into(), ran.out.into_bytes());
            all
        })
        .collect();
    assert!(runs[0].contains_key("plan.json"));
    same(&runs);
}

/// Hundreds of parts: half a minute each time, so only in a long run.
#[test]
fn a_whole_house_is_too() {
    if std::env::var_os("NOOKWRIGHT_LONG").is_some() {
        same(&each_way("whole-house", &["book"]));
    }
}
