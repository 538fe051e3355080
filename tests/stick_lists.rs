//! One-dimensional lists with known optima through the stick planner and the referee.
//!
//! `data/stick_lists.jsonl` is a sample of the sets of Scholl, Klein & Juergens 1997, Schwerin & Waescher 1997, Waescher &
//! Gau 1996 and Schoenfield 2002 (Hard28) as collected in the ESICUP mirror JeroenGar/datasets (CC0), optima from
//! rafaelmartinelli/BPPLib.jl (MIT). `NOOKWRIGHT_STICK_LISTS=FILE` runs a whole file of the same form and prints a table.

use nookwright::model::task::{SolveOptions, StickKind, StickPiece, StickTask};
use nookwright::units::Length;
use nookwright::{referee, sticks};
use std::time::{Duration, Instant};

fn task_of(list: &serde_json::Value) -> StickTask {
    let mm = |v: &serde_json::Value| Length::mm(v.as_i64().expect("a size"));
    StickTask {
        kinds: vec![StickKind {
            item: "S".into(),
            rack: None,
            length: mm(&list["stick"]),
            cost: None,
            have: 0,
            at_most: None,
        }],
        pieces: (list["items"].as_array().expect("items").iter().enumerate())
            .map(|(i, v)| StickPiece {
                mark: format!("P{i}"),
                count: v[1].as_u64().expect("count") as u32,
                length: mm(&v[0]),
                together: None,
            })
            .collect(),
        kerf: Length::ZERO,
    }
}

/// Runs every list of a file; the number of lists, how many at the optimum, how many proved.
fn run(text: &str, table: bool) -> (u32, u32, u32) {
    let (mut all, mut best, mut proved) = (0, 0, 0);
    let (mut total, mut slowest, mut checking) = (Duration::ZERO, Duration::ZERO, Duration::ZERO);
    for line in text.lines() {
        let list: serde_json::Value = serde_json::from_str(line).expect("a list");
        let task = task_of(&list);
        let start = Instant::now();
        let answer = sticks::solve(&task, &SolveOptions::default());
        let took = start.elapsed();
        total += took;
        slowest = slowest.max(took);
        let start = Instant::now();
        let verdict = referee::check_sticks(&task, &answer);
        checking += start.elapsed();
        let id = &list["id"];
        assert!(verdict.is_ok(), "{id}: {verdict:?}");
        let optimum = list["optimum"].as_u64().expect("optimum") as u32;
        let n: u32 = answer.sticks.iter().map(|s| s.count).sum();
        assert!(answer.unplaced.is_empty() && n >= optimum, "{id}");
        assert!(
            answer.at_least <= optimum,
            "{id}: a bound above the optimum"
        );
        assert!(!answer.proved || n == optimum, "{id}: falsely proved");
        all += 1;
        best += u32::from(n == optimum);
        proved += u32::from(answer.proved);
        if table && (n != optimum || !answer.proved) {
            let least = answer.at_least;
            eprintln!("{id}: {n} sticks, optimum {optimum}, bound {least}, {took:.2?}");
        }
    }
    if table {
        eprintln!(
            "{all} lists, {best} at the optimum, {proved} proved; {total:.2?}, slowest {slowest:.2?}; referee {checking:.2?}"
        );
    }
    (all, best, proved)
}

#[test]
fn sampled_lists_reach_their_optimum() {
    let (all, best, proved) = run(include_str!("data/stick_lists.jsonl"), false);
    assert!(all >= 30);
    assert!(best + 1 >= all, "{best} of {all} at the optimum");
    assert!(proved * 100 >= all * 90, "{proved} of {all} proved");
}

#[test]
fn a_whole_file_on_request() {
    if let Ok(path) = std::env::var("NOOKWRIGHT_STICK_LISTS") {
        let text = std::fs::read_to_string(path).expect("a file of lists");
        let (all, best, _) = run(&text, true);
        assert!(best * 100 >= all * 97, "{best} of {all} at the optimum");
    }
}
