//! Where a job stands after some of its cuts: parts made, pieces left, and the rest of the plan as it was.
//! Replays cuts on bare rectangles; plans nothing.

use crate::model::midway::{CutMade, Done, Midway, Opened, PartsMade, Spoiled, StartedPiece};
use crate::model::task::SheetTask;
use crate::model::{Cut, Leftover, Place, SheetPlan};
use crate::units::Length;
use std::collections::BTreeMap;

/// [x0, y0, x1, y1]
type Rect = [Length; 4];

/// Why what is said to be done cannot have been done.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum MidwayError {
    /// No such sheet or copy in the plan.
    #[error("the plan has no copy {copy} of sheet {}", sheet + 1)]
    NoSheet {
        /// Index into the plan's sheets.
        sheet: usize,
        /// As said.
        copy: u32,
    },
    /// No such cut, or the piece it divides is not free then.
    #[error("sheet {}, copy {copy}: cut {cut} cannot be made then, for its piece is not free", sheet + 1)]
    NotFree {
        /// Index into the plan's sheets.
        sheet: usize,
        /// Which copy.
        copy: u32,
        /// The cut.
        cut: u32,
    },
    /// Nothing free lies where something is said to be spoiled.
    #[error("sheet {}, copy {copy}: nothing that is free begins there, so nothing there was spoiled", sheet + 1)]
    NothingThere {
        /// Index into the plan's sheets.
        sheet: usize,
        /// Which copy.
        copy: u32,
    },
    /// More is left of a spoiled piece than there was.
    #[error("sheet {}, copy {copy}: what is left of the spoiled piece is larger than the piece was", sheet + 1)]
    LeftTooLarge {
        /// Index into the plan's sheets.
        sheet: usize,
        /// Which copy.
        copy: u32,
    },
}

/// Where a job stands, and the rest of its plan.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stand {
    /// Made, left and opened.
    pub midway: Midway,
    /// What remains of the plan: sheets not started, and the layouts of the pieces that are left. Leaves out what was
    /// spoiled.
    pub carry_on: Vec<SheetPlan>,
}

/// Follows the cuts that are made. `sheets` are those of the whole plan; the ones of other materials are passed over.
pub fn midway(task: &SheetTask, sheets: &[SheetPlan], done: &Done) -> Result<Stand, MidwayError> {
    let ours = |s: &SheetPlan| task.kinds.iter().any(|k| k.item == s.item);
    let there = |sheet: usize, copy: u32| {
        let plan = sheets.get(sheet);
        let known = plan.is_some_and(|s| (1..=s.count).contains(&copy));
        known
            .then_some(())
            .ok_or(MidwayError::NoSheet { sheet, copy })
    };
    let mut started: BTreeMap<(usize, u32), Vec<Rect>> = BTreeMap::new();
    for made in &done.cuts {
        there(made.sheet, made.copy)?;
        let plan = &sheets[made.sheet];
        if ours(plan) {
            let free = started
                .entry((made.sheet, made.copy))
                .or_insert_with(|| vec![clean(plan)]);
            make(plan, made, task.kerf, free)?;
        }
    }
    let mut scraps: Vec<(usize, u32, Rect)> = Vec::new();
    for spoiled in &done.spoiled {
        there(spoiled.sheet, spoiled.copy)?;
        let plan = &sheets[spoiled.sheet];
        if ours(plan) {
            // A sheet may be spoiled before it is cut.
            let free = started
                .entry((spoiled.sheet, spoiled.copy))
                .or_insert_with(|| vec![clean(plan)]);
            scraps.extend(spoil(spoiled, free)?);
        }
    }
    let mut stand = Stand::default();
    for ((sheet, copy), free) in &started {
        let scraps = scraps
            .iter()
            .filter(|s| (s.0, s.1) == (*sheet, *copy))
            .map(|s| s.2);
        take_stock(task, sheets, (*sheet, *copy), free, scraps, &mut stand);
    }
    for (i, plan) in sheets.iter().enumerate().filter(|(_, s)| ours(s)) {
        let begun = started.keys().filter(|(s, _)| *s == i).count() as u32;
        if begun > 0 {
            open(&mut stand.midway.opened, plan, begun);
        }
        if begun < plan.count {
            stand.carry_on.push(SheetPlan {
                count: plan.count - begun,
                ..plan.clone()
            });
        }
    }
    Ok(stand)
}

fn clean(plan: &SheetPlan) -> Rect {
    let c = plan.clean_edge;
    [c[0], c[2], plan.size[0] - c[1], plan.size[1] - c[3]]
}

fn make(
    plan: &SheetPlan,
    made: &CutMade,
    kerf: Length,
    free: &mut Vec<Rect>,
) -> Result<(), MidwayError> {
    let cut = plan.cuts.iter().find(|c| c.n == made.cut);
    let at = cut.and_then(|c| free.iter().position(|r| *r == c.of));
    let (Some(cut), Some(at)) = (cut, at) else {
        return Err(MidwayError::NotFree {
            sheet: made.sheet,
            copy: made.copy,
            cut: made.cut,
        });
    };
    let whole = free.swap_remove(at);
    let axis = usize::from(!cut.across);
    let (mut near, mut far) = (whole, whole);
    near[axis + 2] = cut.at;
    far[axis] = cut.at + cut.kerf.unwrap_or(kerf);
    free.push(near);
    if far[axis] < far[axis + 2] {
        free.push(far);
    }
    Ok(())
}

/// Takes a spoiled piece away; gives what is left of it.
fn spoil(
    spoiled: &Spoiled,
    free: &mut Vec<Rect>,
) -> Result<Option<(usize, u32, Rect)>, MidwayError> {
    let (sheet, copy) = (spoiled.sheet, spoiled.copy);
    let here = |r: &Rect| [r[0], r[1]] == spoiled.at;
    let at = free
        .iter()
        .position(here)
        .ok_or(MidwayError::NothingThere { sheet, copy })?;
    let was = free.swap_remove(at);
    let Some([x, y]) = spoiled.left else {
        return Ok(None);
    };
    let rect = [was[0], was[1], was[0] + x, was[1] + y];
    if rect[2] > was[2] || rect[3] > was[3] || !x.is_positive() || !y.is_positive() {
        return Err(MidwayError::LeftTooLarge { sheet, copy });
    }
    Ok(Some((sheet, copy, rect)))
}

/// Sorts what is free of one started sheet into parts and pieces.
fn take_stock(
    task: &SheetTask,
    sheets: &[SheetPlan],
    (sheet, copy): (usize, u32),
    free: &[Rect],
    scraps: impl Iterator<Item = Rect>,
    stand: &mut Stand,
) {
    let plan = &sheets[sheet];
    let part = |r: &Rect| {
        let is = |p: &&Place| p.at == [r[0], r[1]] && p.size == size(r);
        plan.places.iter().find(is)
    };
    let mut left: Vec<(Rect, bool)> = scraps.map(|r| (r, false)).collect();
    for rect in free {
        match part(rect) {
            Some(p) => count(&mut stand.midway.made, &p.mark),
            None => left.push((*rect, true)),
        }
    }
    left.sort_unstable();
    for (n, (rect, planned)) in (1..).zip(left) {
        let mut mark = format!("{}.{copy}/{n}", sheet + 1);
        while task
            .kinds
            .iter()
            .any(|k| k.rack.as_deref() == Some(mark.as_str()))
        {
            mark.push('\'');
        }
        if planned {
            stand.carry_on.extend(within(plan, &rect, &mark));
        }
        stand.midway.pieces.push(StartedPiece {
            mark,
            item: plan.item.clone(),
            sheet,
            copy,
            at: [rect[0], rect[1]],
            size: size(&rect),
            clean_edge: [Length::ZERO; 4],
        });
    }
}

fn size(r: &Rect) -> [Length; 2] {
    [r[2] - r[0], r[3] - r[1]]
}

fn count(made: &mut Vec<PartsMade>, mark: &str) {
    match made.iter_mut().find(|m| m.mark == mark) {
        Some(m) => m.count += 1,
        None => made.push(PartsMade {
            mark: mark.into(),
            count: 1,
        }),
    }
}

fn open(opened: &mut Vec<Opened>, plan: &SheetPlan, n: u32) {
    match opened
        .iter_mut()
        .find(|o| o.item == plan.item && o.rack == plan.rack)
    {
        Some(o) => o.count += n,
        None => opened.push(Opened {
            item: plan.item.clone(),
            rack: plan.rack.clone(),
            count: n,
        }),
    }
}

/// The plan of a piece, moved to its own corner; `None` where no part is to come out of it.
fn within(plan: &SheetPlan, rect: &Rect, mark: &str) -> Option<SheetPlan> {
    let inside = |r: Rect| r[0] >= rect[0] && r[1] >= rect[1] && r[2] <= rect[2] && r[3] <= rect[3];
    let box_of =
        |at: [Length; 2], size: [Length; 2]| [at[0], at[1], at[0] + size[0], at[1] + size[1]];
    let moved = |at: [Length; 2]| [at[0] - rect[0], at[1] - rect[1]];
    let places: Vec<Place> = (plan.places.iter())
        .filter(|p| inside(box_of(p.at, p.size)))
        .map(|p| Place {
            at: moved(p.at),
            ..p.clone()
        })
        .collect();
    if places.is_empty() {
        return None;
    }
    let left = (plan.left.iter())
        .filter(|l| inside(box_of(l.at, l.size)))
        .map(|l| Leftover {
            at: moved(l.at),
            ..l.clone()
        });
    let mut cuts: Vec<&Cut> = plan.cuts.iter().filter(|c| inside(c.of)).collect();
    cuts.sort_by_key(|c| c.n);
    let cuts = (1..).zip(cuts).map(|(n, c)| Cut {
        n,
        at: c.at - rect[usize::from(!c.across)],
        of: [
            c.of[0] - rect[0],
            c.of[1] - rect[1],
            c.of[2] - rect[0],
            c.of[3] - rect[1],
        ],
        ..c.clone()
    });
    Some(SheetPlan {
        item: plan.item.clone(),
        rack: Some(mark.into()),
        count: 1,
        size: size(rect),
        clean_edge: [Length::ZERO; 4],
        places,
        left: left.collect(),
        cuts: cuts.collect(),
    })
}
