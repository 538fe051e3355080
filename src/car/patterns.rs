//! Ways of cutting an empty sheet that leave pieces the car takes, and putting a sheet together from what was then planned
//! on each piece: for sheets whose first layout cannot be broken down.

use super::breakdown::{Broken, Piece, Search, StoreRules};
use super::fill::{Loose, fill};
use super::lay::lay;
use super::tree::Tree;
use crate::model::{Place, SheetPlan, StockRow};
use crate::units::Length;

/// Ways kept for one number of cuts.
const MOST: usize = 24;
/// Cuts of one way at most.
const MOST_CUTS: u32 = 3;

/// A way of cutting a sheet at the store.
#[derive(Clone, Debug)]
pub struct Pattern {
    broken: Broken,
    clean: [Length; 4],
    trim: Length,
}

/// A piece of a pattern as a sheet by itself: its size, and what comes off x0, x1, y0, y1 at home.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Blank {
    /// [along x, along y].
    pub size: [Length; 2],
    /// Edges: a factory edge is cleaned, a store-cut edge stays clear by what it may be off as well.
    pub clean_edge: [Length; 4],
}

impl Pattern {
    /// The pieces it leaves.
    pub fn blanks(&self) -> Vec<Blank> {
        let blank = |p: &Piece| {
            let off = |side: usize| p.rough[side].map_or(self.clean[side], |o| o + self.trim);
            Blank {
                size: [p.rect[2] - p.rect[0], p.rect[3] - p.rect[1]],
                clean_edge: [off(0), off(2), off(1), off(3)],
            }
        };
        self.broken.pieces.iter().map(blank).collect()
    }
}

/// Ways of cutting a sheet like this one, fewest cuts first.
pub fn patterns(sheet: &SheetPlan, row: Option<&StockRow>, rules: &StoreRules) -> Vec<Pattern> {
    let [x0, x1, y0, y1] = sheet.clean_edge;
    let zero = Length::ZERO;
    let whole = Piece {
        rect: [zero, zero, sheet.size[0], sheet.size[1]],
        rough: [None; 4],
        tree: None,
    };
    let search = Search::new(sheet, row, rules, &[]);
    let mut all = Vec::new();
    for cuts in 1..=MOST_CUTS {
        let mut seen: Vec<Vec<Blank>> = Vec::new();
        let mut ways: Vec<Pattern> = Vec::new();
        for broken in search.empty_ways(&whole, cuts, true) {
            let way = Pattern {
                broken,
                clean: [x0, y0, x1, y1],
                trim: rules.trim,
            };
            // The same pieces in another order serve for the same parts.
            let mut blanks = way.blanks();
            blanks.sort();
            if !seen.contains(&blanks) {
                seen.push(blanks);
                ways.push(way);
            }
        }
        let some = !all.is_empty();
        // Too many: some of each sort.
        let n = ways.len();
        let kept: Vec<Pattern> = if n > MOST {
            (0..MOST)
                .map(|i| ways[i * (n - 1) / (MOST - 1)].clone())
                .collect()
        } else {
            ways
        };
        all.extend(kept);
        // One cut more than needed may still hold what fewer do not.
        if some {
            break;
        }
    }
    all
}

/// Puts a sheet together: `on` holds for each piece of the pattern what was planned on it, with one kerf between parts.
pub fn assemble(
    sheet: &SheetPlan,
    pattern: &Pattern,
    on: &[Option<SheetPlan>],
    rules: &StoreRules,
) -> Option<SheetPlan> {
    let mut here = Vec::new();
    for plan in on {
        here.push(match plan {
            Some(plan) => (Some(Tree::of(plan, rules.kerf)?), plan.places.clone()),
            None => (None, Vec::new()),
        });
    }
    put_together(sheet, pattern, here, rules)
}

fn put_together(
    sheet: &SheetPlan,
    pattern: &Pattern,
    on: Vec<(Option<Tree>, Vec<Place>)>,
    rules: &StoreRules,
) -> Option<SheetPlan> {
    let mut places = Vec::new();
    let mut broken = pattern.broken.clone();
    for (piece, (mut tree, here)) in broken.pieces.iter_mut().zip(on) {
        if let Some(tree) = &mut tree {
            tree.renumber(places.len());
        }
        places.extend(here);
        piece.tree = tree;
    }
    let base = SheetPlan {
        count: 1,
        places,
        ..sheet.clone()
    };
    lay(&base, rules, &broken)
}

/// Places parts on `count` sheets cut by one pattern, by quick rules. Else the area that found no place at best.
pub fn repack(
    sheet: &SheetPlan,
    pattern: &Pattern,
    count: u32,
    parts: &[Loose],
    rules: &StoreRules,
) -> Result<Vec<SheetPlan>, i128> {
    let blanks = pattern.blanks();
    let rooms: Vec<[Length; 2]> = blanks
        .iter()
        .map(|b| {
            let [x0, x1, y0, y1] = b.clean_edge;
            [b.size[0] - x0 - x1, b.size[1] - y0 - y1]
        })
        .collect();
    let all: Vec<[Length; 2]> = (0..count).flat_map(|_| rooms.clone()).collect();
    let filled = fill(parts, &all, rules.kerf)?;
    let mut sheets = Vec::new();
    for here in filled.chunks(blanks.len()) {
        if here.iter().all(|(tree, _)| tree.is_none()) {
            continue;
        }
        let on = here.iter().map(|(tree, chosen)| {
            let place = |(part, way): &(usize, usize)| {
                let part = &parts[*part];
                let (size, turned) = part.ways[*way];
                Place {
                    mark: part.mark.clone(),
                    at: [Length::ZERO; 2],
                    size,
                    turned,
                }
            };
            (tree.clone(), chosen.iter().map(place).collect())
        });
        let plan = put_together(sheet, pattern, on.collect(), rules);
        sheets.push(plan.ok_or(i128::MAX)?);
    }
    Ok(sheets)
}
