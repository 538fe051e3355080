//! Along a row of tasks: where a number of sheets stops being enough, or begins to be.

use crate::model::task::SheetTask;
use crate::sheets::what_if::{Known, OnSheets, on_sheets};

/// Work steps for one question at most. Default 3,000,000.
const ONE: u64 = 3_000_000;
/// What a question costs that takes no search.
const LEAST: u64 = 100_000;

/// What was found, by index into the row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Found {
    /// The first at which the number is another; `None` = the same as far as was looked.
    pub(super) at: Option<usize>,
    /// The last before it at which it is still the same.
    pub(super) still: usize,
    /// As far as was looked.
    pub(super) looked_to: usize,
    /// Shown, on both sides of the step.
    pub(super) proved: bool,
    /// The row only grows (or only shrinks), so it stays so beyond `at`.
    pub(super) onward: bool,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Said {
    Yes,
    No,
    Open,
}

/// Looks along `tasks` (the first is the known one) for the first that needs more than `bought` sheets (`more`), or does with
/// fewer. Spends about `steps`. `None` if nothing was decided at all.
pub(super) fn search(
    known: Known,
    bought: u32,
    tasks: &[&SheetTask],
    more: bool,
    steps: u64,
) -> Option<Found> {
    let last = tasks.len().checked_sub(1).filter(|n| *n > 0)?;
    let mut left = steps;
    let aim = if more { bought } else { bought.checked_sub(1)? };
    let list = limited(known, tasks);
    let mut ask = |n: usize| -> Option<Said> {
        if left == 0 {
            return None;
        }
        let one = ONE.min(left);
        let (said, spent) = match on_sheets(known, &list[n], aim, one, 1) {
            OnSheets::Yes(_) => (Said::Yes, LEAST),
            OnSheets::No { .. } | OnSheets::TooLarge => (Said::No, LEAST),
            OnSheets::NotFound { searched } => (Said::Open, searched.max(LEAST)),
        };
        left = left.saturating_sub(spent);
        Some(said)
    };
    // What is so on the near side of the step.
    let near = |said: Said| (said == Said::Yes) == more;
    let onward = tasks.windows(2).all(|w| {
        let (a, b) = if more { (w[0], w[1]) } else { (w[1], w[0]) };
        is_no_easier(a, b)
    });
    if !onward {
        return one_by_one(last, more, ask);
    }
    let end = ask(last)?;
    if near(end) {
        return Some(Found {
            at: None,
            still: last,
            looked_to: last,
            proved: end != Said::Open,
            onward,
        });
    }
    let (mut low, mut high) = (0, last);
    let (mut at_low, mut at_high) = (None, end);
    while high - low > 1 {
        let middle = low.midpoint(high);
        let Some(said) = ask(middle) else { break };
        if near(said) {
            (low, at_low) = (middle, Some(said));
        } else {
            (high, at_high) = (middle, said);
        }
    }
    // One side of the step is a plan that was found, the other must be shown; at no mark off, it is the plan that is known.
    let shown = if more {
        at_high == Said::No
    } else if low == 0 {
        known.answer.at_least >= bought
    } else {
        at_low == Some(Said::No)
    };
    Some(Found {
        at: Some(high),
        still: low,
        looked_to: last,
        proved: shown && high - low == 1,
        onward,
    })
}

/// Every mark in turn: where parts grow and others shrink, nothing follows from one mark for the next.
fn one_by_one(
    last: usize,
    more: bool,
    mut ask: impl FnMut(usize) -> Option<Said>,
) -> Option<Found> {
    let mut proved = true;
    let mut still = 0;
    for n in 1..=last {
        let Some(said) = ask(n) else { break };
        if (said == Said::Yes) != more {
            let shown = if more { said == Said::No } else { true };
            return Some(Found {
                at: Some(n),
                still,
                looked_to: n,
                proved: proved && shown,
                onward: false,
            });
        }
        proved &= said != Said::Open;
        still = n;
    }
    (still > 0).then_some(Found {
        at: None,
        still,
        looked_to: still,
        proved,
        onward: false,
    })
}

/// With several sizes of sheet, `as many sheets` means those that are bought now, none in place of another.
fn limited(known: Known, tasks: &[&SheetTask]) -> Vec<SheetTask> {
    let sizes = known.task.kinds.iter().filter(|k| k.rack.is_none()).count();
    let mut list: Vec<SheetTask> = tasks.iter().map(|t| (*t).clone()).collect();
    if sizes < 2 {
        return list;
    }
    for task in &mut list {
        for kind in task.kinds.iter_mut().filter(|k| k.rack.is_none()) {
            let of = known.answer.sheets.iter();
            let used: u32 = of
                .filter(|s| s.item == kind.item && s.rack.is_none())
                .map(|s| s.count)
                .sum();
            kind.at_most = Some(used.saturating_sub(kind.have));
        }
    }
    list
}

/// True if wherever the pieces of `b` can be cut, those of `a` can: no piece smaller, none fewer.
fn is_no_easier(a: &SheetTask, b: &SheetTask) -> bool {
    a.kinds == b.kinds
        && a.pieces.len() == b.pieces.len()
        && a.pieces.iter().zip(&b.pieces).all(|(a, b)| {
            let larger = a.size[0] <= b.size[0] && a.size[1] <= b.size[1];
            a.mark == b.mark && a.grain == b.grain && larger && a.count <= b.count
        })
}
