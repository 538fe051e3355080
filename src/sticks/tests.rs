//! The stick planner against known optima, brute force and the worked traps of the trade.

use super::solve;
use crate::model::certificate::Certificate;
use crate::model::task::{SolveOptions, StickAnswer, StickKind, StickPiece, StickTask};
use crate::units::{Cents, Length};

fn kind(item: &str, length: Length, cents: i64) -> StickKind {
    StickKind {
        item: item.into(),
        rack: None,
        length,
        cost: Some(Cents(cents)),
        have: 0,
        at_most: None,
    }
}

fn piece(mark: &str, count: u32, length: Length) -> StickPiece {
    StickPiece {
        mark: mark.into(),
        count,
        length,
        together: None,
    }
}

fn bought(task: &StickTask, answer: &StickAnswer) -> u32 {
    let mut n = 0;
    for k in &task.kinds {
        let used: u32 = (answer.sticks.iter())
            .filter(|s| s.item == k.item && s.rack == k.rack)
            .map(|s| s.count)
            .sum();
        n += used.saturating_sub(k.have);
    }
    n
}

/// Every list of a file of one-dimensional lists with known optima, one JSON object a line. Reports and checks.
fn measure(path: &std::path::Path) {
    let text = std::fs::read_to_string(path).expect("lists");
    let (mut all, mut best, mut proved, mut slowest) = (0, 0, 0, 0.0f64);
    let start = std::time::Instant::now();
    for line in text.lines() {
        let list: serde_json::Value = serde_json::from_str(line).expect("a list");
        let mm = |v: &serde_json::Value| Length::mm(v.as_i64().expect("a size"));
        let task = StickTask {
            kinds: vec![StickKind {
                cost: None,
                ..kind("S", mm(&list["stick"]), 0)
            }],
            pieces: (list["items"].as_array().expect("items").iter().enumerate())
                .map(|(i, v)| {
                    piece(
                        &format!("P{i}"),
                        v[1].as_u64().expect("count") as u32,
                        mm(&v[0]),
                    )
                })
                .collect(),
            kerf: Length::ZERO,
        };
        let t = std::time::Instant::now();
        let answer = solve(&task, &SolveOptions::default());
        let took = t.elapsed().as_secs_f64();
        slowest = slowest.max(took);
        let optimum = list["optimum"].as_u64().expect("optimum") as u32;
        let n = bought(&task, &answer);
        assert!(answer.unplaced.is_empty());
        assert!(
            answer.at_least <= optimum,
            "{} bound {} above {optimum}",
            list["id"],
            answer.at_least
        );
        assert!(n >= optimum);
        assert!(!answer.proved || n == optimum);
        all += 1;
        best += u32::from(n == optimum);
        proved += u32::from(answer.proved);
        if n != optimum || !answer.proved || took > 0.5 {
            eprintln!(
                "{} got {n} optimum {optimum} at least {} {took:.2} s {}",
                list["id"], answer.at_least, answer.searched
            );
        }
    }
    eprintln!(
        "{all} lists, {best} at the optimum, {proved} proved, {:.2} s, slowest {slowest:.2} s",
        start.elapsed().as_secs_f64()
    );
}

#[test]
fn known_lists() {
    if let Ok(path) = std::env::var("NOOKWRIGHT_STICK_LISTS") {
        measure(std::path::Path::new(&path));
    }
}

#[test]
fn nothing_asked_is_nothing_bought() {
    let task = StickTask {
        kinds: vec![kind("S", Length::inches(96), 740)],
        pieces: vec![],
        kerf: Length::in_64(8),
    };
    let answer = solve(&task, &SolveOptions::default());
    assert!(answer.sticks.is_empty() && answer.proved);
    assert_eq!(answer.certificate, Certificate::NothingToBuy);
}
