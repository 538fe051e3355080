//! Jobs from the text of their files, and dice that fall the same way on every machine.

use nookwright::files::read::{BareOptions, ReadJob, Reads, read_bare, read_folder};
use nookwright::model::task::SolveOptions;
use nookwright::model::{Effort, ItemResult, Job, Plan, Severity};
use nookwright::plan::{PlanError, make_plan};
use nookwright::units::Length;
use std::fs;

/// The files of a job folder.
#[derive(Clone, Debug, Default)]
pub(crate) struct Folder {
    pub(crate) project: String,
    pub(crate) parts: String,
    pub(crate) stock: String,
    /// Empty = there is none.
    pub(crate) offcuts: String,
}

fn sound(read: ReadJob) -> Job {
    let mistakes: Vec<_> = (read.problems.iter())
        .filter(|p| p.severity == Severity::Mistake)
        .collect();
    assert!(mistakes.is_empty(), "{mistakes:#?}");
    read.job.expect("files without a mistake are a job")
}

impl Folder {
    /// Reads it as `cut` does; a mistake in the files fails the test.
    pub(crate) fn read(&self) -> Job {
        let dir = tempfile::tempdir().expect("a folder");
        let write = |name: &str, text: &str| {
            if !text.is_empty() {
                fs::write(dir.path().join(name), text).expect("a file");
            }
        };
        write("project.toml", &self.project);
        write("parts.csv", &self.parts);
        write("stock.csv", &self.stock);
        write("offcuts.csv", &self.offcuts);
        sound(read_folder(dir.path(), &Reads::CUT).expect("files that can be opened"))
    }
}

/// Just a cut list with its stock, at a kerf and clean edge.
pub(crate) fn bare(parts: &str, stock: &str, kerf: Length, clean_edge: Length) -> Job {
    let dir = tempfile::tempdir().expect("a folder");
    let (list, goods) = (dir.path().join("parts.csv"), dir.path().join("stock.csv"));
    fs::write(&list, parts).expect("a file");
    fs::write(&goods, stock).expect("a file");
    let options = BareOptions {
        kerf: Some(kerf),
        clean_edge: Some(clean_edge),
        ..BareOptions::default()
    };
    sound(read_bare(&list, Some(&goods), &options).expect("files that can be opened"))
}

/// The plan of the job's main route, or what the referee says against it.
pub(crate) fn try_plan(job: &Job, threads: usize) -> Result<Plan, PlanError> {
    plan_with(job, threads, Effort::Quick)
}

/// The same at an effort.
pub(crate) fn plan_with(job: &Job, threads: usize, effort: Effort) -> Result<Plan, PlanError> {
    let options = SolveOptions {
        effort,
        threads,
        second_aims: true,
    };
    make_plan(job, job.main_route(), &options, &mut |_| ()).map(|o| o.plan)
}

/// The plan of the job's main route; a refusal fails the test.
pub(crate) fn plan(job: &Job) -> Plan {
    try_plan(job, 1).unwrap_or_else(|e| panic!("{e}"))
}

/// The result of the only material.
pub(crate) fn only(plan: &Plan) -> &ItemResult {
    assert_eq!(plan.items.len(), 1, "one material");
    &plan.items[0]
}

/// How many of a part are cut.
pub(crate) fn cut(plan: &Plan, mark: &str) -> u32 {
    let on_sheets = plan.sheets.iter().map(|s| {
        let here = s.places.iter().filter(|p| p.mark == mark).count();
        here as u32 * s.count
    });
    let on_sticks = plan.sticks.iter().map(|s| {
        let here = s.pieces.iter().filter(|p| p.mark == mark).count();
        here as u32 * s.count
    });
    on_sheets.chain(on_sticks).sum()
}

/// How many of a part are named as not placed.
pub(crate) fn unplaced(plan: &Plan, mark: &str) -> u32 {
    (plan.unplaced.iter())
        .filter(|u| u.mark == mark)
        .map(|u| u.count)
        .sum()
}

/// A plain linear congruential generator (Knuth's constants).
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice of their own for each number.
    pub(crate) fn new(number: u64) -> Self {
        let mut dice = Self(number.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        dice.roll(2);
        dice
    }
    pub(crate) fn roll(&mut self, n: u64) -> u64 {
        self.0 = (self.0)
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
    pub(crate) fn within(&mut self, low: i64, high: i64) -> i64 {
        low + self.roll((high - low + 1) as u64) as i64
    }
    pub(crate) fn one_in(&mut self, n: u64) -> bool {
        self.roll(n) == 0
    }
    pub(crate) fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.roll(from.len() as u64) as usize]
    }
}

/// The numbers of the random jobs to run: from NOOKWRIGHT_FROM or 0, as many as `usual`, `long` with NOOKWRIGHT_LONG=1,
/// N with NOOKWRIGHT_LONG=N.
pub(crate) fn numbers(usual: u64, long: u64) -> std::ops::Range<u64> {
    let number = |name: &str| std::env::var(name).ok().map(|v| v.parse().unwrap_or(1));
    let from: u64 = number("NOOKWRIGHT_FROM").unwrap_or(0);
    let many = match number("NOOKWRIGHT_LONG") {
        None => usual,
        Some(0 | 1) => long,
        Some(n) => n,
    };
    from..from + many
}
