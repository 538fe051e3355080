//! Guillotine layouts of sheets: search, bounds, proofs, and the order of cuts.

mod added;
mod answer;
mod bounds;
mod build;
mod change;
mod course;
mod effort;
mod groups;
mod instance;
mod known;
mod layout;
mod midway;
pub mod order;
mod packing;
mod patterns;
mod places;
mod problem;
mod recreate;
mod replan;
mod rooms;
mod ruin;
mod schedule;
mod second;
mod sizes;
mod tree;
#[cfg(test)]
mod tree_tests;
pub mod what_if;

pub use midway::{MidwayError, Stand, midway};
pub use replan::{Replan, replan};

use crate::model::task::{SheetAnswer, SheetTask, SolveOptions};
use crate::units::Tape;

/// How far a search has come, for a progress line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Progress {
    /// Sheets bought by the best plan so far.
    pub sheets: u32,
    /// Proved lower bound on them so far.
    pub at_least: u32,
    /// Pieces not placed yet.
    pub unplaced: u32,
}

/// Plans the sheets of one material.
pub fn solve(
    task: &SheetTask,
    options: &SolveOptions,
    progress: &mut dyn FnMut(Progress),
) -> SheetAnswer {
    schedule::solve(task, options, progress)
}

/// One plain sentence on why no plan does with less, made from the answer's certificate; `sheets` is how many are bought.
pub fn why(task: &SheetTask, answer: &SheetAnswer, sheets: u32, tape: &Tape) -> String {
    bounds::why(task, &answer.certificate, sheets, tape)
}
