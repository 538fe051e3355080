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

fn options() -> SolveOptions {
    SolveOptions::default()
}

/// Five pieces of 5 ft 2 in: three 10 ft sticks "cover" the length and hold only three of them; a 16 ft and a 12 ft do it.
/// (Worked by hand: 3 x 62 = 186 of 192 in, 2 x 62 = 124 of 144 in.)
#[test]
fn five_pieces_of_five_foot_two() {
    let foot = |n| Length::FOOT * n;
    let task = StickTask {
        kinds: vec![
            kind("TEN", foot(10), 1_000),
            kind("TWELVE", foot(12), 1_200),
            kind("SIXTEEN", foot(16), 1_600),
        ],
        pieces: vec![piece("T", 5, Length::inches(62))],
        kerf: Length::in_64(8),
    };
    let answer = solve(&task, &options());
    let mut used: Vec<&str> = answer.sticks.iter().map(|s| s.item.as_str()).collect();
    used.sort_unstable();
    assert_eq!(used, ["SIXTEEN", "TWELVE"]);
    assert!(answer.proved);
    assert_eq!(answer.cost_at_least, Some(Cents(2_800)));
}

/// Two pieces of 6 ft never come out of a 12 ft stick once a kerf is taken; without one they do.
#[test]
fn two_six_foot_pieces_want_two_sticks() {
    for (kerf, sticks) in [
        (Length::in_64(8), 2),
        (Length::from_units(1), 2),
        (Length::ZERO, 1),
    ] {
        let task = StickTask {
            kinds: vec![kind("S", Length::FOOT * 12, 1_200)],
            pieces: vec![piece("T", 2, Length::FOOT * 6)],
            kerf,
        };
        let answer = solve(&task, &options());
        assert_eq!(bought(&task, &answer), sticks);
        assert!(answer.proved && answer.at_least == sticks);
    }
}

#[test]
fn groups_come_off_one_stick_or_not_at_all() {
    let together = |mark: &str, length| StickPiece {
        together: Some(7),
        ..piece(mark, 1, length)
    };
    let mut task = StickTask {
        kinds: vec![kind("S", Length::inches(100), 500)],
        pieces: vec![
            together("A", Length::inches(60)),
            together("B", Length::inches(30)),
            piece("C", 1, Length::inches(38)),
        ],
        kerf: Length::in_64(8),
    };
    let answer = solve(&task, &options());
    assert!(answer.sticks.iter().any(|s| {
        let marks: Vec<&str> = s.pieces.iter().map(|p| p.mark.as_str()).collect();
        marks == ["A", "B"]
    }));
    // Two inches more, and the two do not go on one stick any more: both are named.
    task.pieces[1].length = Length::inches(42);
    let answer = solve(&task, &options());
    let named: Vec<(usize, bool)> = (answer.unplaced.iter())
        .map(|u| (u.piece, u.fits_nothing))
        .collect();
    assert_eq!(named, [(0, true), (1, true)]);
}

/// The state of the complete search.
struct All<'a> {
    task: &'a StickTask,
    pieces: Vec<i64>,
    opened: Vec<u32>,
    room: Vec<i64>,
    best: Option<i64>,
}
impl All<'_> {
    fn cost(&self) -> i64 {
        (self.task.kinds.iter().zip(&self.opened))
            .map(|(k, n)| k.cost.map_or(0, |c| c.0) * i64::from(n.saturating_sub(k.have)))
            .sum()
    }
    fn place(&mut self, i: usize) {
        if self.best.is_some_and(|b| self.cost() >= b) {
            return;
        }
        let Some(p) = self.pieces.get(i).copied() else {
            self.best = Some(self.cost());
            return;
        };
        for s in 0..self.room.len() {
            if self.room[s] >= p && !self.room[..s].contains(&self.room[s]) {
                self.room[s] -= p;
                self.place(i + 1);
                self.room[s] += p;
            }
        }
        for k in 0..self.opened.len() {
            let kind = &self.task.kinds[k];
            let cap = (kind.length + self.task.kerf).units();
            let there = kind.at_most.is_none_or(|m| self.opened[k] < kind.have + m);
            if there && cap >= p {
                self.opened[k] += 1;
                self.room.push(cap - p);
                self.place(i + 1);
                self.room.pop();
                self.opened[k] -= 1;
            }
        }
    }
}

/// Least cost by trying everything: every way to put each piece on an open stick or on a new one of each class.
fn complete(task: &StickTask) -> Option<i64> {
    let kerf = task.kerf.units();
    let mut pieces: Vec<i64> = (task.pieces.iter())
        .flat_map(|p| std::iter::repeat_n(p.length.units() + kerf, p.count as usize))
        .collect();
    pieces.sort_unstable_by_key(|p| std::cmp::Reverse(*p));
    let mut all = All {
        task,
        pieces,
        opened: vec![0; task.kinds.len()],
        room: vec![],
        best: None,
    };
    all.place(0);
    all.best
}

/// Random small tasks with several lengths, prices, stock in hand and limits, against the complete search.
#[test]
fn small_tasks_cost_what_a_complete_search_finds() {
    let mut seed = 7u64;
    let mut roll = |n: u64| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) % n
    };
    let (mut all, mut dear, mut proved) = (0, 0, 0);
    for _ in 0..600 {
        let kinds: Vec<StickKind> = (0..=roll(3))
            .map(|i| StickKind {
                have: if roll(3) == 0 { roll(3) as u32 } else { 0 },
                at_most: (roll(3) == 0).then_some(roll(4) as u32),
                ..kind(
                    &format!("S{i}"),
                    Length::FOOT * [6, 8, 10, 12][roll(4) as usize],
                    300 + roll(900) as i64,
                )
            })
            .collect();
        let pieces: Vec<StickPiece> = (0..=roll(4))
            .map(|i| {
                piece(
                    &format!("T{i}"),
                    1 + roll(3) as u32,
                    Length::inches(10 + roll(70) as i64),
                )
            })
            .collect();
        let task = StickTask {
            kinds,
            pieces,
            kerf: Length::in_64(8),
        };
        let answer = solve(&task, &options());
        let cost: i64 = (task.kinds.iter())
            .map(|k| {
                let used: u32 = (answer.sticks.iter())
                    .filter(|s| s.item == k.item)
                    .map(|s| s.count)
                    .sum();
                k.cost.expect("priced").0 * i64::from(used.saturating_sub(k.have))
            })
            .sum();
        match complete(&task) {
            None => assert!(!answer.unplaced.is_empty()),
            Some(least) => {
                if !answer.unplaced.is_empty() {
                    dear += 1;
                    all += 1;
                    continue;
                }
                let bound = answer.cost_at_least.expect("priced").0;
                assert!(
                    bound <= least && least <= cost,
                    "{bound} {least} {cost}\n{task:#?}"
                );
                assert!(!answer.proved || cost == least);
                all += 1;
                dear += u32::from(cost > least);
                proved += u32::from(answer.proved);
            }
        }
    }
    assert!(all > 300);
    assert!(dear * 100 <= all, "{dear} of {all} dearer than the least");
    assert!(proved * 100 >= all * 97, "{proved} of {all} proved");
}
