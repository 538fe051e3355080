//! The fewest cuts of the store's saw after which every piece of one sheet goes in the car.
//!
//! More and more cuts are tried: none, one, two ... For each first cut the content is shared between its sides in every way
//! that [`halves`] knows, and each side is broken down in turn. A cut keeps a distance from every part: how far off it may
//! be, and what her own saw takes off a rough edge. So the store never cuts a finished size.

mod ranges;

pub(crate) use ranges::round;

use super::few::{FEW, Few};
use super::fit::Spaces;
use super::halves::{Half, halves};
use super::lay::lay;
use super::tree::{Rect, Tree};
use crate::model::{FirstCut, KeepRule, SheetPlan, StockRow, StoreSaw};
use crate::model::{stacked_thickness as thickness, weigh};
use crate::units::{Length, Unit};
use std::collections::BTreeSet;

/// Cuts asked on one sheet at most. A clerk who is asked for more sends her home.
const MOST_CUTS: u32 = 7;
/// Work for one sheet.
const STEPS: u64 = 1_000_000;

/// What breaking down depends on, beside the layout.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StoreRules {
    /// Her saw's kerf.
    pub kerf: Length,
    /// What she takes off a rough edge, the kerf included.
    pub trim: Length,
    /// The store's saw.
    pub store: StoreSaw,
    /// The car.
    pub spaces: Spaces,
    /// How often the direction may change on a sheet.
    pub turns: Option<u8>,
    /// Which way the first cuts go.
    pub first: FirstCut,
    /// Which leftovers are kept.
    pub keep: KeepRule,
    /// Marks of parts that may lie either way.
    pub any_way: BTreeSet<String>,
    /// What the store's rule is marked in.
    pub unit: Unit,
}

/// Why a sheet cannot go in the car, however it is cut.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Stuck {
    /// A part alone goes in no space.
    Part(String),
    /// No cuts that keep clear of its parts leave pieces that go in.
    NoWay,
}

/// A piece of a sheet as it leaves the store's saw.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    /// Its outline on the sheet, factory edges as they come.
    pub rect: Rect,
    /// For x0, y0, x1, y1: how far off a store-cut edge may be; `None` for a factory edge.
    pub rough: [Option<Length>; 4],
    pub tree: Option<Tree>,
}

impl Piece {
    /// Its size at most, along an axis.
    pub(crate) fn most(&self, axis: usize) -> Length {
        let off = |s: usize| self.rough[s].unwrap_or_default();
        self.rect[axis + 2] - self.rect[axis] + off(axis) + off(axis + 2)
    }
}

/// A cut of the store's saw: the near side of `of` ends at `at`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct StoreCut {
    pub axis: usize,
    pub at: Length,
    pub of: Rect,
}

/// What the fence or stop is set to, and the way of the cut: what the store is asked for.
pub(crate) type Asked = (usize, Length);

/// A sheet broken down.
#[derive(Clone, Debug, Default)]
pub(crate) struct Broken {
    pub cuts: Vec<StoreCut>,
    pub pieces: Vec<Piece>,
    /// What each cut asks for.
    pub asked: Vec<Asked>,
    /// For a single cut, between what it may lie, measured as it is asked for.
    pub room: Option<(usize, Length, Length)>,
}

/// A cut that may be made anywhere between two positions.
struct Range {
    axis: usize,
    half: Half,
    low: Length,
    high: Length,
    off: Length,
}

pub(crate) struct Search<'a> {
    rules: &'a StoreRules,
    row: Option<&'a StockRow>,
    thick: Length,
    /// In the order x0, y0, x1, y1.
    clean: [Length; 4],
    prefer: &'a [Asked],
    /// Largest area the car takes in one piece.
    largest: i128,
    steps: u64,
    /// Where the layout is free.
    few: Option<Few>,
}

/// The layout with the fewest store cuts that let it go in the car: as it is where it goes in whole.
pub fn break_down(
    sheet: &SheetPlan,
    row: Option<&StockRow>,
    rules: &StoreRules,
) -> Result<SheetPlan, Stuck> {
    laid(sheet, row, rules, &[]).map(|found| found.0)
}

/// The same with sizes that other sheets ask for already; also what is asked, and the room of a single cut.
pub(crate) fn laid(
    sheet: &SheetPlan,
    row: Option<&StockRow>,
    rules: &StoreRules,
    prefer: &[Asked],
) -> Result<(SheetPlan, Broken), Stuck> {
    let zero = Length::ZERO;
    let whole = Piece {
        rect: [zero, zero, sheet.size[0], sheet.size[1]],
        rough: [None; 4],
        tree: Some(Tree::of(sheet, rules.kerf).ok_or(Stuck::NoWay)?),
    };
    let mut search = Search::new(sheet, row, rules, prefer);
    if search.goes_in(&whole) {
        return Ok((sheet.clone(), Broken::default()));
    }
    let goes = |p: &&crate::model::Place| {
        rules.spaces.takes(p.size, search.thick)
            && (rules.spaces.carries).is_none_or(|c| weigh(row, p.size).grams <= c)
    };
    if let Some(part) = sheet.places.iter().find(|p| !goes(p)) {
        return Err(Stuck::Part(part.mark.clone()));
    }
    if let Some(found) = search.fewest(sheet, &whole) {
        return Ok(found);
    }
    if sheet.places.len() <= FEW {
        // Parts may lie otherwise than they do, and beside others.
        let ways = sheet.places.iter().map(|p| {
            let [x, y] = p.size;
            let turns = x != y && rules.any_way.contains(&p.mark);
            if turns {
                vec![[x, y], [y, x]]
            } else {
                vec![[x, y]]
            }
        });
        search.few = Some(Few::new(&ways.collect::<Vec<_>>(), rules.kerf));
        search.steps = 0;
        return search.fewest(sheet, &whole).ok_or(Stuck::NoWay);
    }
    Err(Stuck::NoWay)
}

impl<'a> Search<'a> {
    pub(crate) fn new(
        sheet: &SheetPlan,
        row: Option<&'a StockRow>,
        rules: &'a StoreRules,
        prefer: &'a [Asked],
    ) -> Self {
        let [x0, x1, y0, y1] = sheet.clean_edge;
        let area = |a: Length, b: Length| i128::from(a.units()) * i128::from(b.units());
        let sides = rules.spaces.sizes.iter();
        let largest = sides
            .map(|[l, w, h]| area(*l, *w).max(area(*l, *h)).max(area(*w, *h)))
            .max();
        Self {
            rules,
            row,
            thick: thickness(row),
            clean: [x0, y0, x1, y1],
            prefer,
            largest: largest.unwrap_or_default(),
            steps: 0,
            few: None,
        }
    }

    fn goes_in(&self, piece: &Piece) -> bool {
        let size = [piece.most(0), piece.most(1)];
        self.rules.spaces.takes(size, self.thick)
            && (self.rules.spaces.carries).is_none_or(|c| weigh(self.row, size).grams <= c)
    }

    /// What must stay free of parts along a side.
    fn inset(&self, piece: &Piece, side: usize) -> Length {
        piece.rough[side].map_or(self.clean[side], |off| off + self.rules.trim)
    }

    /// What of a piece can hold parts.
    fn usable(&self, piece: &Piece, axis: usize) -> Length {
        let insets = self.inset(piece, axis) + self.inset(piece, axis + 2);
        piece.rect[axis + 2] - piece.rect[axis] - insets
    }

    /// True where this many cuts would not do even with nothing in the way.
    fn too_few(&self, piece: &Piece, cuts: u32) -> bool {
        let side = |a: usize| piece.rect[a + 2] - piece.rect[a];
        if cuts == 1 {
            // Two pieces, each as long as the car takes at that width.
            return [0, 1].iter().all(|a| {
                let longest = self.rules.spaces.longest(side(1 - a), self.thick);
                longest * 2 + self.rules.store.kerf < side(*a)
            });
        }
        let area = i128::from(side(0).units()) * i128::from(side(1).units());
        // What the blade takes is not counted, so this is only a bound.
        let kerfs = i128::from(cuts) * i128::from((side(0) + side(1)).units());
        let sawn = kerfs * i128::from(self.rules.store.kerf.units());
        area - sawn > self.largest * i128::from(cuts + 1)
    }

    /// The sheet with the fewest cuts.
    fn fewest(&mut self, sheet: &SheetPlan, whole: &Piece) -> Option<(SheetPlan, Broken)> {
        for cuts in 1..=MOST_CUTS {
            if let Some(broken) = self.cut(whole, cuts, true) {
                return Some((lay(sheet, self.rules, &broken)?, broken));
            }
            if self.steps > STEPS {
                break;
            }
        }
        None
    }

    /// Breaks a piece down with this many cuts.
    fn cut(&mut self, piece: &Piece, cuts: u32, first: bool) -> Option<Broken> {
        if cuts == 0 {
            return self.goes_in(piece).then(|| Broken {
                pieces: vec![piece.clone()],
                ..Broken::default()
            });
        }
        if self.steps > STEPS || self.too_few(piece, cuts) {
            return None;
        }
        let mut shares: Vec<(usize, Vec<Half>)> = Vec::new();
        for axis in self.axes(first) {
            let here = match &piece.tree {
                None => vec![Half::nothing()],
                Some(t) => match &self.few {
                    Some(few) => few.halves(t, *axis, self.usable(piece, 1 - *axis)),
                    None => halves(t, *axis, self.rules.kerf, &mut self.steps),
                },
            };
            shares.push((*axis, here));
        }
        for near in 0..cuts {
            let far = cuts - 1 - near;
            let mut ranges = self.ranges(piece, &shares, near == 0, far == 0);
            self.steps += shares.iter().map(|s| s.1.len() as u64).sum::<u64>();
            if let (0, 0) = (near, far) {
                return self.last(piece, &ranges);
            }
            // A side that goes in as it is takes all it can; else both sides are kept about alike.
            let half = |r: &Range| match (near, far) {
                (0, _) => Length::ZERO - r.half.need[0],
                (_, 0) => Length::ZERO - r.half.need[1],
                _ => (r.half.need[0] - r.half.need[1]).abs(),
            };
            ranges.sort_by_key(|r| (half(r), r.axis));
            for range in ranges {
                let mut spots = self.spots(piece, &range);
                if near == 0 || far == 0 {
                    spots.sort_by_key(|at| if near == 0 { Length::ZERO - *at } else { *at });
                }
                for at in spots {
                    self.steps += 1;
                    if self.steps > STEPS {
                        return None;
                    }
                    let [a, b] = self.divide(piece, &range, at);
                    // The side that must go in as it is has been seen to by the range.
                    let (one, two) = if near <= far {
                        let Some(one) = self.cut(&a, near, false) else {
                            continue;
                        };
                        (Some(one), self.cut(&b, far, false))
                    } else {
                        let Some(two) = self.cut(&b, far, false) else {
                            continue;
                        };
                        (self.cut(&a, near, false), Some(two))
                    };
                    if let (Some(one), Some(two)) = (one, two) {
                        return Some(self.join(piece, &range, at, one, two));
                    }
                }
            }
        }
        None
    }

    /// Ways of breaking down a piece with nothing on it.
    pub(crate) fn empty_ways(&self, piece: &Piece, cuts: u32, first: bool) -> Vec<Broken> {
        if cuts == 0 {
            let whole = Broken {
                pieces: vec![piece.clone()],
                ..Broken::default()
            };
            return self.goes_in(piece).then_some(whole).into_iter().collect();
        }
        if self.too_few(piece, cuts) {
            return Vec::new();
        }
        let shares: Vec<(usize, Vec<Half>)> = self
            .axes(first)
            .iter()
            .map(|a| (*a, vec![Half::nothing()]))
            .collect();
        let mut all = Vec::new();
        for near in 0..cuts {
            let far = cuts - 1 - near;
            for range in self.ranges(piece, &shares, near == 0, far == 0) {
                let mut spots = self.spots(piece, &range);
                // Between the ends too: what is planned on the pieces decides.
                let third = (range.high - range.low) / 3;
                spots.extend([range.low + third, range.high - third]);
                for at in spots {
                    let [a, b] = self.divide(piece, &range, at);
                    for one in self.empty_ways(&a, near, false).into_iter().take(4) {
                        for two in self.empty_ways(&b, far, false).into_iter().take(4) {
                            all.push(self.join(piece, &range, at, one.clone(), two));
                        }
                    }
                }
            }
        }
        all
    }

    /// The ways a cut may go.
    const fn axes(&self, first: bool) -> &'static [usize] {
        match self.rules.first {
            FirstCut::Rip if first => &[1],
            FirstCut::Crosscut if first => &[0],
            _ => &[1, 0],
        }
    }
}
