//! Random tasks through the planners and the referee: no answer may be refused. `NOOKWRIGHT_LONG=1` runs many more.

use nookwright::model::certificate::Certificate;
use nookwright::model::task::{
    PieceKind, SheetKind, SheetTask, SolveOptions, StickKind, StickPiece, StickTask,
};
use nookwright::model::{Effort, FirstCut, Grain, KeepRule};
use nookwright::units::{Cents, Length};
use nookwright::{referee, sheets, sticks};

/// A plain linear congruential generator (Knuth's constants): the tasks are the same on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, n: u64) -> u64 {
        self.0 = (self.0)
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
    fn within(&mut self, low: i64, high: i64) -> i64 {
        low + self.roll((high - low + 1) as u64) as i64
    }
    fn one_in(&mut self, n: u64) -> bool {
        self.roll(n) == 0
    }
}

fn times(usual: u64, long: u64) -> u64 {
    if std::env::var("NOOKWRIGHT_LONG").is_ok() {
        long
    } else {
        usual
    }
}

fn stick_task(d: &mut Dice) -> StickTask {
    let kerf = Length::in_64([0, 6, 8][d.roll(3) as usize]);
    let priced = !d.one_in(4);
    let mut kinds: Vec<StickKind> = (0..=d.roll(3))
        .map(|i| StickKind {
            item: format!("S{i}"),
            rack: None,
            length: Length::FOOT * [8, 10, 12, 14, 16][d.roll(5) as usize],
            cost: priced.then(|| Cents(d.within(400, 2_400))),
            have: if d.one_in(3) { d.roll(4) as u32 } else { 0 },
            at_most: if d.one_in(3) {
                Some(d.roll(5) as u32)
            } else {
                None
            },
        })
        .collect();
    for r in 0..d.roll(3) {
        kinds.push(StickKind {
            item: "S0".into(),
            rack: Some(format!("R-{r}")),
            length: Length::inches(d.within(12, 90)),
            cost: None,
            have: 1,
            at_most: Some(0),
        });
    }
    let groups = d.one_in(4);
    let pieces = (0..d.within(1, 9))
        .map(|i| StickPiece {
            mark: format!("T{i}"),
            count: d.within(1, 5) as u32,
            length: Length::in_64(d.within(6 * 16, 130 * 16) * 4),
            together: (groups && d.one_in(3)).then(|| d.roll(2) as u32),
        })
        .collect();
    StickTask {
        kinds,
        pieces,
        kerf,
    }
}

fn quick() -> SolveOptions {
    SolveOptions {
        effort: Effort::Quick,
        threads: 1,
        second_aims: true,
    }
}

#[test]
fn stick_plans_pass_the_referee() {
    let (mut proved, n) = (0, times(1_500, 100_000));
    for seed in 0..n {
        let task = stick_task(&mut Dice(seed));
        let answer = sticks::solve(&task, &quick());
        proved += u64::from(answer.proved);
        if let Err(faults) = referee::check_sticks(&task, &answer) {
            panic!("seed {seed}: {faults:?}\n{task:#?}\n{answer:#?}");
        }
        assert_eq!(answer, sticks::solve(&task, &quick()), "the same twice");
    }
    eprintln!("{proved} of {n} stick tasks proved");
    assert!(proved * 10 >= n * 7, "only {proved} of {n} proved");
}

fn sheet_task(d: &mut Dice) -> SheetTask {
    let edge = Length::in_64([0, 8, 16][d.roll(3) as usize]);
    let priced = !d.one_in(4);
    let mut kinds: Vec<SheetKind> = (0..=d.roll(2))
        .map(|i| {
            let size = [[96, 48], [96, 60], [48, 48], [97, 49]][d.roll(4) as usize];
            SheetKind {
                item: format!("P{i}"),
                rack: None,
                size: size.map(Length::inches),
                clean_edge: [edge; 4],
                grain_along_y: d.one_in(6),
                cost: priced.then(|| Cents(d.within(2_000, 9_000))),
                have: if d.one_in(3) { d.roll(3) as u32 } else { 0 },
                at_most: if d.one_in(4) {
                    Some(d.roll(4) as u32)
                } else {
                    None
                },
            }
        })
        .collect();
    for r in 0..d.roll(3) {
        kinds.push(SheetKind {
            item: "P0".into(),
            rack: Some(format!("R-{r}")),
            size: [
                Length::inches(d.within(10, 60)),
                Length::inches(d.within(8, 40)),
            ],
            clean_edge: [edge, Length::ZERO, edge, Length::ZERO],
            grain_along_y: d.one_in(4),
            cost: None,
            have: 1,
            at_most: Some(0),
        });
    }
    let pieces = (0..d.within(1, 8))
        .map(|i| PieceKind {
            mark: format!("M{i}"),
            count: d.within(1, 5) as u32,
            size: [
                Length::in_64(d.within(3 * 16, 60 * 16) * 4),
                Length::in_64(d.within(2 * 16, 30 * 16) * 4),
            ],
            grain: [Grain::Length, Grain::Width, Grain::Any][d.roll(3) as usize],
            match_group: None,
        })
        .collect();
    SheetTask {
        kinds,
        pieces,
        kerf: Length::in_64([6, 8][d.roll(2) as usize]),
        turns: if d.one_in(4) {
            Some(d.within(2, 3) as u8)
        } else {
            None
        },
        first: FirstCut::Either,
        keep: KeepRule::default(),
        narrowest_safe_rip: Length::in_64(96),
    }
}

#[test]
fn sheet_plans_pass_the_referee() {
    let n = times(40, 20_000);
    let mut refused = Vec::new();
    for seed in 0..n {
        let task = sheet_task(&mut Dice(seed));
        let mut answer = sheets::solve(&task, &quick(), &mut |_| {});
        // What is claimed without a certificate is not for this test: it is about layouts, limits and certificates.
        answer.proved &= answer.certificate != Certificate::None;
        if let Err(faults) = referee::check_sheets(&task, &answer) {
            refused.push(format!("seed {seed}: {faults:?}"));
        }
    }
    assert!(
        refused.is_empty(),
        "{} refused:\n{}",
        refused.len(),
        refused.join("\n")
    );
}
