//! Lays a broken-down sheet out again: each piece of it from its factory edges, cut free at home from there.
//!
//! What lies against a rough edge is always cut free of it by her own saw, and where both edges are rough one is trimmed
//! first. Owns geometry; where the store cuts is `breakdown`.

use super::breakdown::{Broken, Piece, StoreRules};
use super::tree::{Rect, Tree};
use crate::model::{Cut, FirstCut, Leftover, Place, SawAt, SheetPlan};
use crate::units::Length;

struct Home<'a> {
    sheet: &'a SheetPlan,
    rules: &'a StoreRules,
    /// True along an axis where the content is pushed to the far edge.
    from_far: [bool; 2],
    places: Vec<Place>,
    left: Vec<Rect>,
    cuts: Vec<Cut>,
}

/// The sheet with its store cuts first. `None` where the rules on turns do not allow what comes of it.
pub(crate) fn lay(sheet: &SheetPlan, rules: &StoreRules, broken: &Broken) -> Option<SheetPlan> {
    let [x0, x1, y0, y1] = sheet.clean_edge;
    let clean = [x0, y0, sheet.size[0] - x1, sheet.size[1] - y1];
    let within = |r: &Rect| {
        let mut r = *r;
        for axis in [0, 1] {
            r[axis] = r[axis].max(clean[axis]);
            r[axis + 2] = r[axis + 2].min(clean[axis + 2]);
        }
        r
    };
    let mut home = Home {
        sheet,
        rules,
        from_far: [false; 2],
        places: Vec::new(),
        left: Vec::new(),
        cuts: Vec::new(),
    };
    for cut in &broken.cuts {
        home.cuts.push(Cut {
            n: 0,
            across: cut.axis == 0,
            at: cut.at,
            of: within(&cut.of),
            kerf: (rules.store.kerf != rules.kerf).then_some(rules.store.kerf),
            saw: Some(SawAt::Store),
        });
    }
    for piece in &broken.pieces {
        home.piece(piece, within(&piece.rect));
    }
    for (n, cut) in (1..).zip(&mut home.cuts) {
        cut.n = n;
    }
    home.places.sort_by_key(|p| (p.at[1], p.at[0]));
    let left = home.left.iter().map(|r| {
        let size = [r[2] - r[0], r[3] - r[1]];
        Leftover {
            at: [r[0], r[1]],
            size,
            keep: rules.keep.keeps(size[0], size[1]),
        }
    });
    let plan = SheetPlan {
        left: left.collect(),
        places: home.places,
        cuts: home.cuts,
        ..sheet.clone()
    };
    allowed(&plan, rules, clean).then_some(plan)
}

/// True where no piece is turned more often than her rules say, the store's cuts counted.
fn allowed(plan: &SheetPlan, rules: &StoreRules, clean: Rect) -> bool {
    let mut free: Vec<(Rect, Option<(bool, u32)>)> = vec![(clean, None)];
    for cut in &plan.cuts {
        let Some(i) = free.iter().position(|f| f.0 == cut.of) else {
            return false;
        };
        let (rect, made) = free.swap_remove(i);
        let turns = made.map_or(1, |(across, n)| n + u32::from(across != cut.across));
        let wrong = match rules.first {
            FirstCut::Rip => cut.across,
            FirstCut::Crosscut => !cut.across,
            FirstCut::Either => false,
        };
        if rules.turns.is_some_and(|t| turns > u32::from(t)) || made.is_none() && wrong {
            return false;
        }
        let axis = usize::from(!cut.across);
        let (mut near, mut far) = (rect, rect);
        near[axis + 2] = cut.at;
        far[axis] = cut.at + cut.kerf.unwrap_or(rules.kerf);
        free.push((near, Some((cut.across, turns))));
        if far[axis] < far[axis + 2] {
            free.push((far, Some((cut.across, turns))));
        }
    }
    true
}

impl Home<'_> {
    fn piece(&mut self, piece: &Piece, rect: Rect) {
        let mut rect = rect;
        let Some(tree) = &piece.tree else {
            self.keep(rect);
            return;
        };
        for axis in [0, 1] {
            let rough = [piece.rough[axis], piece.rough[axis + 2]];
            self.from_far[axis] = rough[0].is_some() && rough[1].is_none();
            if let [Some(off), Some(_)] = rough {
                let at = rect[axis] + off + self.rules.trim - self.rules.kerf;
                let (waste, rest) = self.saw(axis, at, rect);
                self.keep(waste);
                rect = rest;
            }
        }
        self.free(tree, rect);
    }

    /// One cut: the near side and the far side.
    fn saw(&mut self, axis: usize, at: Length, of: Rect) -> (Rect, Rect) {
        let (mut near, mut far) = (of, of);
        near[axis + 2] = at;
        far[axis] = at + self.rules.kerf;
        self.cuts.push(Cut {
            n: 0,
            across: axis == 0,
            at,
            of,
            kerf: None,
            saw: None,
        });
        (near, far)
    }

    /// Takes `run` off the end the content is pushed to: what is taken, and the rest.
    fn take(&mut self, axis: usize, run: Length, of: Rect) -> (Rect, Rect) {
        if self.from_far[axis] {
            let (rest, taken) = self.saw(axis, of[axis + 2] - run - self.rules.kerf, of);
            (taken, rest)
        } else {
            self.saw(axis, of[axis] + run, of)
        }
    }

    /// Frees everything in the tree from its panel.
    fn free(&mut self, tree: &Tree, panel: Rect) {
        let mut rest = panel;
        match tree {
            Tree::Part { place, size } => self.part(*place, *size, panel),
            Tree::Row { axis, of, .. } => {
                let axis = *axis;
                rest = self.one_leftover(tree, rest);
                let mut things: Vec<&Tree> = of.iter().collect();
                let key = |t: &&Tree| [t.size()[axis], t.size()[1 - axis]];
                things.sort_by_key(|t| std::cmp::Reverse(key(t)));
                for thing in things {
                    let run = thing.size()[axis];
                    if rest[axis + 2] - rest[axis] == run {
                        self.free(thing, rest);
                        return;
                    }
                    // A kerf that runs off the edge leaves nothing beyond, on either side.
                    if self.runs_off(axis, run, rest) {
                        let (taken, _) = self.off_the_edge(axis, run, rest);
                        self.free(thing, taken);
                        return;
                    }
                    let (taken, beyond) = self.take(axis, run, rest);
                    self.free(thing, taken);
                    rest = beyond;
                }
                self.keep(rest);
            }
        }
    }

    /// Where most things in a row are as wide as each other, what is beyond them comes off in one piece.
    fn one_leftover(&mut self, tree: &Tree, panel: Rect) -> Rect {
        let Tree::Row { axis, of, size } = tree else {
            return panel;
        };
        let cross = 1 - axis;
        let spare = panel[cross + 2] - panel[cross] - size[cross];
        let wide = of.iter().filter(|t| t.size()[cross] == size[cross]);
        if self.rules.turns.is_some() || spare <= self.rules.kerf || wide.count() < 2 {
            return panel;
        }
        let (taken, rest) = self.take(cross, size[cross], panel);
        self.keep(rest);
        taken
    }

    fn runs_off(&self, axis: usize, run: Length, of: Rect) -> bool {
        of[axis + 2] - of[axis] - run <= self.rules.kerf
    }

    /// Less than a kerf beyond: the cut is made from the near end, where a cut can be written that leaves nothing.
    fn off_the_edge(&mut self, axis: usize, run: Length, of: Rect) -> (Rect, Rect) {
        let (taken, rest) = self.saw(axis, of[axis] + run, of);
        (taken, rest)
    }

    fn part(&mut self, place: usize, size: [Length; 2], panel: Rect) {
        let mut panel = panel;
        let spare = [0, 1].map(|a| panel[a + 2] - panel[a] - size[a]);
        // The way that leaves the larger piece beyond the first cut.
        let area = |a: usize| {
            let across = panel[3 - a] - panel[1 - a];
            i128::from(spare[a].units()) * i128::from(across.units())
        };
        let first = usize::from(area(1) > area(0));
        for axis in [first, 1 - first] {
            if !spare[axis].is_positive() {
                continue;
            }
            if self.runs_off(axis, size[axis], panel) {
                panel = self.off_the_edge(axis, size[axis], panel).0;
                continue;
            }
            let (taken, rest) = self.take(axis, size[axis], panel);
            self.keep(rest);
            panel = taken;
        }
        let of = &self.sheet.places[place];
        self.places.push(Place {
            at: [panel[0], panel[1]],
            size,
            turned: of.turned != (size != of.size),
            ..of.clone()
        });
    }

    fn keep(&mut self, rect: Rect) {
        if rect[0] < rect[2] && rect[1] < rect[3] {
            self.left.push(rect);
        }
    }
}
