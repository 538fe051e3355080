//! One sheet, replayed cut by cut with the kerf, in the order of its cut numbers.

use super::fault::Fault;
use crate::model::{Cut, FirstCut, Grain, KeepRule, Place, SawAt, SheetPlan};
use crate::units::Length;

/// [x0, y0, x1, y1]
pub(super) type Rect = [Length; 4];

/// What the facts say of a sheet and its parts.
pub(super) struct Facts<'a> {
    /// Size of the stock.
    pub size: [Length; 2],
    /// What is cleaned off x0, x1, y0, y1.
    pub clean: [Length; 4],
    /// True if the grain runs along y.
    pub grain_along_y: bool,
    /// Her saw's kerf.
    pub kerf: Length,
    /// The store saw's kerf, where the store cuts.
    pub store: Option<Length>,
    /// Which leftovers are kept.
    pub keep: &'a KeepRule,
    /// How often the direction may change, first cuts counted as one.
    pub turns: Option<u8>,
    /// Which way the first cuts go.
    pub first: FirstCut,
}

/// A part as its row asks.
#[derive(Clone, Copy)]
pub(super) struct Asked {
    /// Its own length and width as cut.
    pub size: [Length; 2],
    /// How it lies to the grain.
    pub grain: Grain,
}

impl Asked {
    /// Whether its own length may run along x of a sheet: (straight, turned).
    pub(super) fn may(&self, grain_along_y: bool) -> (bool, bool) {
        match self.grain {
            Grain::Length => (!grain_along_y, grain_along_y),
            Grain::Width => (grain_along_y, !grain_along_y),
            Grain::Any => (true, true),
        }
    }
}

struct Free {
    rect: Rect,
    /// Direction of the cuts that made it, and how many changes of direction it took.
    made: Option<(bool, u32)>,
}

fn rect_of(at: [Length; 2], size: [Length; 2]) -> Rect {
    [at[0], at[1], at[0] + size[0], at[1] + size[1]]
}

/// True where every number of a sheet is one a sheet can have, so that sums of a few of them stay exact.
pub(super) fn sane(sheet: &SheetPlan) -> bool {
    let ok = |l: &Length| (Length::ZERO..=Length::LIMIT).contains(l);
    sheet.size.iter().all(|l| ok(l) && l.is_positive())
        && sheet.clean_edge.iter().all(ok)
        && sheet
            .places
            .iter()
            .all(|p| p.at.iter().all(ok) && p.size.iter().all(|l| ok(l) && l.is_positive()))
        && sheet
            .left
            .iter()
            .all(|p| p.at.iter().all(ok) && p.size.iter().all(|l| ok(l) && l.is_positive()))
        && sheet
            .cuts
            .iter()
            .all(|c| ok(&c.at) && c.of.iter().all(ok) && c.kerf.as_ref().is_none_or(ok))
}

/// The kerf of a cut; `None` where it is not the kerf of the saw it names.
pub(super) fn kerf_of(cut: &Cut, home: Length, store: Option<Length>) -> Option<Length> {
    let expected = match cut.saw {
        Some(SawAt::Store) => store?,
        _ => home,
    };
    let kerf = cut.kerf.unwrap_or(home);
    (kerf == expected).then_some(kerf)
}

/// Checks one sheet. `asked` finds a part's row by its mark.
pub(super) fn check(
    index: usize,
    sheet: &SheetPlan,
    facts: &Facts,
    asked: &dyn Fn(&str) -> Option<Asked>,
    faults: &mut Vec<Fault>,
) {
    if !sane(sheet) {
        let what = format!("a length of sheet {index}");
        faults.push(Fault::OutOfRange { what });
        return;
    }
    if sheet.size != facts.size {
        faults.push(Fault::SheetSize {
            sheet: index,
            found: sheet.size,
            expected: facts.size,
        });
        return;
    }
    if sheet.clean_edge != facts.clean {
        faults.push(Fault::CleanEdge { sheet: index });
    }
    if sheet.count == 0 {
        let what = format!("sheet {index}");
        faults.push(Fault::NoCount { what });
    }
    if sheet.places.is_empty() {
        let what = format!("sheet {index}");
        faults.push(Fault::NothingCut { what });
    }
    let c = facts.clean;
    let clean = [c[0], c[2], facts.size[0] - c[1], facts.size[1] - c[3]];
    parts(index, sheet, facts, clean, asked, faults);
    match replay(index, sheet, facts, clean) {
        Ok(free) => remains(index, sheet, facts, free, faults),
        Err(fault) => faults.push(fault),
    }
}

/// Size, grain, edges and overlap of the parts.
fn parts(
    index: usize,
    sheet: &SheetPlan,
    facts: &Facts,
    clean: Rect,
    asked: &dyn Fn(&str) -> Option<Asked>,
    faults: &mut Vec<Fault>,
) {
    for (i, p) in sheet.places.iter().enumerate() {
        let mark = p.mark.clone();
        let Some(row) = asked(&p.mark) else {
            faults.push(Fault::UnknownPart { mark });
            continue;
        };
        let [length, width] = row.size;
        let expected = if p.turned {
            [width, length]
        } else {
            [length, width]
        };
        if p.size != expected {
            faults.push(Fault::PartSize {
                mark: mark.clone(),
                found: p.size,
                expected,
            });
        }
        let (straight, turned) = row.may(facts.grain_along_y);
        if !(if p.turned { turned } else { straight }) {
            let mark = mark.clone();
            faults.push(Fault::AcrossGrain { sheet: index, mark });
        }
        let r = rect_of(p.at, p.size);
        if r[0] < clean[0] || r[1] < clean[1] || r[2] > clean[2] || r[3] > clean[3] {
            let mark = mark.clone();
            faults.push(Fault::OverEdge { sheet: index, mark });
        }
        let overlaps = |q: &&Place| {
            let s = rect_of(q.at, q.size);
            r[0] < s[2] && s[0] < r[2] && r[1] < s[3] && s[1] < r[3]
        };
        if let Some(q) = sheet.places[..i].iter().find(overlaps) {
            faults.push(Fault::Overlap {
                sheet: index,
                one: q.mark.clone(),
                other: mark,
            });
        }
    }
}

/// Makes every cut; what is free at the end.
fn replay(index: usize, sheet: &SheetPlan, facts: &Facts, clean: Rect) -> Result<Vec<Rect>, Fault> {
    let mut cuts: Vec<&Cut> = sheet.cuts.iter().collect();
    cuts.sort_by_key(|c| c.n);
    let mut free = Vec::new();
    if clean[0] < clean[2] && clean[1] < clean[3] {
        free.push(Free {
            rect: clean,
            made: None,
        });
    }
    for (n, cut) in (1..).zip(cuts) {
        if cut.n != n {
            return Err(Fault::CutNumbers { sheet: index, n });
        }
        let Some(kerf) = kerf_of(cut, facts.kerf, facts.store) else {
            let kerf = cut.kerf.unwrap_or(facts.kerf);
            return Err(Fault::CutKerf {
                sheet: index,
                n,
                kerf,
            });
        };
        let Some(at) = free.iter().position(|f| f.rect == cut.of) else {
            return Err(Fault::CutNotFree { sheet: index, n });
        };
        let piece = free.swap_remove(at);
        let axis = usize::from(!cut.across);
        if cut.at <= piece.rect[axis] || cut.at >= piece.rect[axis + 2] {
            return Err(Fault::CutOutside { sheet: index, n });
        }
        let changes = match piece.made {
            None => 1,
            Some((across, changes)) => changes + u32::from(across != cut.across),
        };
        if facts.turns.is_some_and(|t| changes > u32::from(t)) {
            return Err(Fault::Turns { sheet: index, n });
        }
        let wrong_way = match facts.first {
            FirstCut::Rip => cut.across,
            FirstCut::Crosscut => !cut.across,
            FirstCut::Either => false,
        };
        if piece.made.is_none() && wrong_way {
            return Err(Fault::FirstCut { sheet: index, n });
        }
        let made = Some((cut.across, changes));
        let (mut near, mut far) = (piece.rect, piece.rect);
        near[axis + 2] = cut.at;
        far[axis] = cut.at + kerf;
        free.push(Free { rect: near, made });
        if far[axis] < far[axis + 2] {
            free.push(Free { rect: far, made });
        }
    }
    Ok(free.into_iter().map(|f| f.rect).collect())
}

/// Matches what is free with parts and leftovers.
fn remains(
    index: usize,
    sheet: &SheetPlan,
    facts: &Facts,
    mut free: Vec<Rect>,
    faults: &mut Vec<Fault>,
) {
    for p in &sheet.places {
        let r = rect_of(p.at, p.size);
        if let Some(i) = free.iter().position(|f| *f == r) {
            free.swap_remove(i);
        } else {
            let mark = p.mark.clone();
            faults.push(Fault::NotFreed { sheet: index, mark });
        }
    }
    for l in &sheet.left {
        let r = rect_of(l.at, l.size);
        if let Some(i) = free.iter().position(|f| *f == r) {
            free.swap_remove(i);
        } else {
            let at = l.at;
            faults.push(Fault::LeftoverWrong { sheet: index, at });
        }
        if l.keep != keeps(facts.keep, l.size) {
            faults.push(Fault::KeepWrong {
                sheet: index,
                at: l.at,
                keep: l.keep,
            });
        }
    }
    for r in free {
        let small = (r[2] - r[0]).min(r[3] - r[1]);
        if small >= facts.kerf {
            let at = [r[0], r[1]];
            faults.push(Fault::LeftoverMissing { sheet: index, at });
        }
    }
}

/// The rule for keeping, worked out again: either of two sizes, either way round.
fn keeps(rule: &KeepRule, size: [Length; 2]) -> bool {
    let holds = |want: [Length; 2]| {
        (size[0] >= want[0] && size[1] >= want[1]) || (size[0] >= want[1] && size[1] >= want[0])
    };
    holds(rule.panel) || holds(rule.strip)
}
