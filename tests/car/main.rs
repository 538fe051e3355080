//! Store cuts and the car, on whole jobs: random ones, small ones against a complete search, and one worked by hand.
//! `NOOKWRIGHT_LONG=N` runs N random jobs.

mod complete;
mod random;
mod sticks;
mod van;
mod worked;

use nookwright::files::read::{Reads, read_folder};
use nookwright::model::task::SolveOptions;
use nookwright::model::{Effort, Job, Plan, SawAt, SheetPlan};
use nookwright::plan::make_plan;
use nookwright::units::Length;
use std::fs;

/// A job from the text of its files.
fn job(project: &str, parts: &str, stock: &str) -> Job {
    let dir = tempfile::tempdir().expect("a folder");
    for (name, text) in [
        ("project.toml", project),
        ("parts.csv", parts),
        ("stock.csv", stock),
    ] {
        fs::write(dir.path().join(name), text).expect("a file");
    }
    let read = read_folder(dir.path(), &Reads::CUT).expect("files that can be opened");
    read.job.unwrap_or_else(|| panic!("{:#?}", read.problems))
}

/// Its plan, passed by the referee.
fn plan(job: &Job) -> Plan {
    let options = SolveOptions {
        effort: Effort::Quick,
        threads: 1,
        second_aims: true,
    };
    make_plan(job, job.main_route(), &options, &mut |_| ())
        .unwrap_or_else(|e| panic!("{e}"))
        .plan
}

/// The same job with nothing said of a car: no cut is asked of the store.
fn without_car(job: &Job) -> Job {
    let mut job = job.clone();
    job.car.spaces.clear();
    job
}

fn bought(plan: &Plan) -> u32 {
    plan.items.iter().map(|i| i.sheets).sum()
}

/// A plain linear congruential generator (Knuth's constants): the same on every machine.
struct Dice(u64);

impl Dice {
    fn new(number: u64) -> Self {
        let mut dice = Self(number.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        dice.roll(2);
        dice
    }
    fn roll(&mut self, n: u64) -> u64 {
        self.0 = (self.0)
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
    fn within(&mut self, low: i64, high: i64) -> i64 {
        low + self.roll((high - low + 1) as u64) as i64
    }
    fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.roll(from.len() as u64) as usize]
    }
}

/// How many random jobs: `usual`, or as many as NOOKWRIGHT_LONG says (1 = twenty times as many).
fn numbers(usual: u64) -> std::ops::Range<u64> {
    let of = |name: &str| std::env::var(name).ok().and_then(|v| v.parse::<u64>().ok());
    let from = of("NOOKWRIGHT_FROM").unwrap_or(0);
    let many = match of("NOOKWRIGHT_LONG") {
        None => usual,
        Some(0 | 1) => usual * 20,
        Some(n) => n,
    };
    from..from + many
}

/// A sheet as it is bought, sawn by the store's cuts alone: outlines at the sizes asked for, and which of each piece's sides
/// x0, y0, x1, y1 the store cut.
fn pieces(sheet: &SheetPlan, store_kerf: Length) -> Vec<([Length; 4], [bool; 4])> {
    let zero = Length::ZERO;
    let mut all = vec![([zero, zero, sheet.size[0], sheet.size[1]], [false; 4])];
    for cut in sheet.cuts.iter().filter(|c| c.saw == Some(SawAt::Store)) {
        // A piece is found by a point inside it, well away from its edges.
        let inside = |r: &[Length; 4]| {
            let middle = [(cut.of[0] + cut.of[2]) / 2, (cut.of[1] + cut.of[3]) / 2];
            (0..2).all(|a| r[a] < middle[a] && middle[a] < r[a + 2])
        };
        let found = all.iter().position(|(r, _)| inside(r));
        let (rect, rough) = all.swap_remove(found.expect("a store cut of a piece"));
        let axis = usize::from(!cut.across);
        let (mut near, mut far) = ((rect, rough), (rect, rough));
        near.0[axis + 2] = cut.at;
        near.1[axis + 2] = true;
        far.0[axis] = cut.at + store_kerf;
        far.1[axis] = true;
        all.extend([near, far]);
    }
    all
}

/// What is wrong with a plan's store cuts; `stuck` counts sheets that go in no space and were not cut.
fn faults(job: &Job, plan: &Plan, stuck: &mut u32) -> Vec<String> {
    let mut wrong = Vec::new();
    let Some(store) = &job.saw.store else {
        return wrong;
    };
    for (n, sheet) in plan.sheets.iter().enumerate() {
        let row = job.stock_row(&sheet.item).expect("a row");
        let thick = row.thickness().expect("a thickness");
        let goes = |size: [Length; 2]| {
            let mut a = [size[0], size[1], thick];
            a.sort();
            let in_space = |s: &nookwright::model::CarSpace| {
                let mut b = s.size.map(|side| side - job.car.clearance);
                b.sort();
                a.iter().zip(&b).all(|(a, b)| a <= b)
            };
            // 3 lb a square foot an inch of thickness (APA rule for plywood).
            let pounds =
                size[0].as_inches() * size[1].as_inches() / 144.0 * thick.as_inches() * 3.0;
            let carried = job
                .car
                .carries_grams
                .is_none_or(|c| pounds * 453.59 <= c as f64 + 2.0);
            job.car.spaces.iter().any(in_space) && carried
        };
        let all = pieces(sheet, store.kerf);
        let cuts = all.len() - 1;
        if cuts == 0 && !goes(sheet.size) {
            *stuck += sheet.count;
        }
        if cuts > 0 && goes(sheet.size) {
            wrong.push(format!("sheet {n} goes in whole and is cut"));
        }
        for (rect, rough) in all.iter().filter(|_| cuts > 0) {
            let size = [0, 1].map(|a| rect[a + 2] - rect[a]);
            let rough = [0, 1].map(|a| i64::from(rough[a]) + i64::from(rough[a + 2]));
            let largest = [0, 1].map(|a| size[a] + store.true_to * rough[a]);
            if !goes(largest) {
                wrong.push(format!("sheet {n}: a piece {largest:?} goes nowhere"));
            }
            if store
                .smallest_piece
                .is_some_and(|s| size[0].min(size[1]) < s)
            {
                wrong.push(format!(
                    "sheet {n}: a piece {size:?} is too small for the store"
                ));
            }
        }
        for p in &sheet.places {
            // Whole on one piece, and clear of its store-cut edges by her own clean-up and what the cut may be off.
            let clear = store.true_to + job.saw.clean_edge.max(job.saw.kerf);
            let holds = all.iter().any(|(rect, _)| {
                (0..2).all(|a| {
                    let raw = [Length::ZERO, sheet.size[a]];
                    let low = if rect[a] == raw[0] {
                        raw[0]
                    } else {
                        rect[a] + clear
                    };
                    let high = if rect[a + 2] == raw[1] {
                        raw[1]
                    } else {
                        rect[a + 2] - clear
                    };
                    low <= p.at[a] && p.at[a] + p.size[a] <= high
                })
            });
            if !holds {
                wrong.push(format!("sheet {n}: {} does not survive whole", p.mark));
            }
        }
    }
    wrong
}
