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
