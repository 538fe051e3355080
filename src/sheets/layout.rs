//! From a slicing tree to a layout in real lengths: places, numbered cuts, leftovers.
//!
//! What room is left is first given to leftovers, the most valuable first, in the same tree and by the same rules as a
//! piece: so the direction of the last cuts is the one that keeps the largest leftover whole, and limits on turns hold
//! for the cuts that free it. Then the tree is cut level by level. Owns geometry; which mark a piece gets is `marks`.

use super::instance::{Instance, Kind};
use super::places::How;
use super::problem::Problem;
use super::tree::{Bin, Dir, LEFT, Node};
use crate::model::task::SheetTask;
use crate::model::{Cut, Leftover};
use crate::units::Length;

/// A piece at its place, its mark not chosen yet. Real units of the sheet, clean edge included.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) struct Lying {
    pub item: u32,
    pub second_way: bool,
    pub at: [i64; 2],
    pub size: [i64; 2],
}

/// One sheet, cut.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Layout {
    /// Index into `Instance::kinds`.
    pub kind: usize,
    pub lying: Vec<Lying>,
    pub left: Vec<Leftover>,
    pub cuts: Vec<Cut>,
}

/// A rectangle of the sheet in the search's directions.
#[derive(Clone, Copy)]
struct Panel {
    at: [i64; 2],
    size: [i64; 2],
}

impl Panel {
    /// Splits off `run` along a direction; the rest lies a kerf beyond, and may be nothing.
    fn split(self, dir: Dir, run: i64, kerf: i64) -> (Self, Self) {
        let axis = axis(dir);
        let (mut kept, mut rest) = (self, self);
        kept.size[axis] = run;
        rest.at[axis] += run + kerf;
        rest.size[axis] -= run + kerf;
        (kept, rest)
    }
    const fn is_nothing(self) -> bool {
        self.size[0] <= 0 || self.size[1] <= 0
    }
}

const fn axis(dir: Dir) -> usize {
    match dir {
        Dir::Along => 0,
        Dir::Down => 1,
    }
}

/// Lays out one sheet, as large leftovers on it as there can be.
pub(crate) fn lay_out(
    task: &SheetTask,
    instance: &Instance,
    problem: &Problem,
    bin: &Bin,
) -> Layout {
    let mut bin = bin.clone();
    let small = with_all_places(problem);
    bin.refresh(&small);
    give_room_to_leftovers(task, instance, &small, &mut bin);
    lay_out_as_is(task, instance, problem, &bin)
}

/// The problem with every place of a sheet that is wider than a kerf.
pub(crate) fn with_all_places(problem: &Problem) -> Problem {
    Problem {
        least: (problem.kerf + 1, problem.kerf + 1),
        ..problem.clone()
    }
}

/// Lays out one sheet, its leftovers in the tree.
pub(crate) fn lay_out_as_is(
    task: &SheetTask,
    instance: &Instance,
    problem: &Problem,
    bin: &Bin,
) -> Layout {
    let kind = &instance.kinds[bin.kind];
    let sheet = &task.kinds[kind.task_kind];
    let mut saw = Saw {
        kind,
        bin,
        kerf: task.kerf.units(),
        unit: instance.unit.units(),
        limited: task.turns.is_some() || problem.sheets[bin.kind].first.is_some(),
        sizes: Vec::new(),
        instance,
        lying: Vec::new(),
        left: Vec::new(),
        cuts: Vec::new(),
    };
    saw.measure();
    let clean = sheet.clean_edge.map(Length::units);
    let [x, y] = sheet.size.map(Length::units);
    let real = Panel {
        at: [clean[0], clean[2]],
        size: [x - clean[0] - clean[1], y - clean[2] - clean[3]],
    };
    let whole = if kind.transposed {
        Panel {
            at: [real.at[1], real.at[0]],
            size: [real.size[1], real.size[0]],
        }
    } else {
        real
    };
    saw.cut_node(0, whole, 0);
    saw.finish(task, bin.kind)
}

/// Fills the tree with leftovers: those worth keeping first, then by area.
fn give_room_to_leftovers(task: &SheetTask, instance: &Instance, problem: &Problem, bin: &mut Bin) {
    let unit = instance.unit.units();
    let kerf = task.kerf.units();
    let real = |v: i32| Length::from_units(i64::from(v) * unit - kerf);
    loop {
        // A first division with one part only must get its first cut.
        let alone = bin.nodes[0].dir().is_some()
            && bin.nodes.len() > 1
            && bin.nodes[1].len + 1 == bin.nodes[0].len;
        let best = bin
            .places
            .iter()
            .filter_map(|p| {
                let (mut w, mut h) = (p.w, p.h);
                if p.exact != 0 {
                    match p.dir {
                        Dir::Along if h >= p.exact => h = p.exact,
                        Dir::Down if w >= p.exact => w = p.exact,
                        _ => return None,
                    }
                }
                let (rw, rh) = (real(w), real(h));
                if !rw.is_positive() || !rh.is_positive() {
                    return None;
                }
                let keep = task.keep.keeps(rw, rh);
                // A strip is not turned once more for a leftover that is thrown away.
                if p.how == How::Stand && !keep {
                    return None;
                }
                let area = i128::from(rw.units()) * i128::from(rh.units());
                let first_cut = alone && p.how == How::Append && p.node == 0;
                Some(((first_cut, keep, area), *p, (w, h)))
            })
            .max_by(|a, b| a.0.cmp(&b.0));
        let Some((_, place, size)) = best else { break };
        if !bin.takes_more() {
            break;
        }
        bin.insert(problem, place, Node::leaf(LEFT, false, size));
    }
}

/// Cuts one sheet.
struct Saw<'a> {
    kind: &'a Kind,
    bin: &'a Bin,
    instance: &'a Instance,
    kerf: i64,
    unit: i64,
    limited: bool,
    /// Real size of each node, without the kerf.
    sizes: Vec<[i64; 2]>,
    lying: Vec<Lying>,
    left: Vec<Panel>,
    /// With their level.
    cuts: Vec<(u32, Dir, i64, Panel)>,
}

impl Saw<'_> {
    /// Real sizes from the pieces up.
    fn measure(&mut self) {
        let nodes = &self.bin.nodes;
        self.sizes = vec![[-self.kerf, -self.kerf]; nodes.len()];
        for (i, node) in nodes.iter().enumerate().rev() {
            if node.is_leaf() {
                let (item, second) = node.piece();
                self.sizes[i] = if item == LEFT {
                    [node.w, node.h].map(|v| i64::from(v) * self.unit - self.kerf)
                } else {
                    let way = self.instance.types[item as usize].ways[usize::from(second)];
                    [way.0, way.1].map(|v| v * self.unit - self.kerf)
                };
            }
            if i > 0 {
                let parent = node.parent as usize;
                let dir = nodes[parent].dir().expect("a parent is a division");
                let (along, across) = (axis(dir), 1 - axis(dir));
                self.sizes[parent][along] += self.sizes[i][along] + self.kerf;
                self.sizes[parent][across] = self.sizes[parent][across].max(self.sizes[i][across]);
            }
        }
    }

    fn is_left(&self, i: usize) -> bool {
        self.bin.nodes[i].is_leaf() && self.bin.nodes[i].piece().0 == LEFT
    }

    /// Frees everything in node `i` from its panel.
    fn cut_node(&mut self, i: usize, panel: Panel, level: u32) {
        let node = self.bin.nodes[i];
        let Some(dir) = node.dir() else {
            return self.cut_leaf(i, panel, level);
        };
        let mut children = Vec::new();
        let (mut child, end) = (i + 1, i + node.len as usize);
        while child < end {
            children.push(child);
            child += self.bin.nodes[child].len as usize;
        }
        // Leftovers last; before them the widest first, equal ones next to each other.
        children.sort_by_key(|c| {
            let [w, h] = self.sizes[*c];
            let (run, cross) = match dir {
                Dir::Along => (w, h),
                Dir::Down => (h, w),
            };
            (self.is_left(*c), -run, -cross, *c)
        });
        let mut rest = panel;
        for (n, child) in children.iter().copied().enumerate() {
            let run = self.sizes[child][axis(dir)];
            let spare = rest.size[axis(dir)] - run;
            let last = n + 1 == children.len();
            // The sheet may be a little larger than a whole number of units.
            let takes_all = spare == 0
                || (last && self.is_left(child))
                || (last && !self.limited && spare < self.unit && !self.bin.nodes[child].is_leaf());
            if takes_all {
                self.cut_node(child, rest, level + 1);
                return;
            }
            self.cuts.push((level, dir, rest.at[axis(dir)] + run, rest));
            let (kept, beyond) = rest.split(dir, run, self.kerf);
            self.cut_node(child, kept, level + 1);
            rest = beyond;
        }
        self.keep(rest);
    }

    fn cut_leaf(&mut self, i: usize, panel: Panel, level: u32) {
        if self.is_left(i) {
            self.keep(panel);
            return;
        }
        let size = self.sizes[i];
        let mut panel = panel;
        let spare = [panel.size[0] - size[0], panel.size[1] - size[1]];
        // Both only on a sheet with one piece whose leftovers are slivers: the longer way first.
        let first = if spare[0] > 0 { Dir::Along } else { Dir::Down };
        for (n, dir) in [first, first.other()].into_iter().enumerate() {
            if spare[axis(dir)] > 0 {
                let at = panel.at[axis(dir)] + size[axis(dir)];
                self.cuts.push((level + n as u32, dir, at, panel));
                let (kept, rest) = panel.split(dir, size[axis(dir)], self.kerf);
                self.keep(rest);
                panel = kept;
            }
        }
        let (item, second_way) = self.bin.nodes[i].piece();
        self.lying.push(Lying {
            item,
            second_way,
            at: panel.at,
            size,
        });
    }

    fn keep(&mut self, panel: Panel) {
        if !panel.is_nothing() {
            self.left.push(panel);
        }
    }

    /// Turns everything back to the sheet's own x and y and numbers the cuts.
    fn finish(mut self, task: &SheetTask, kind: usize) -> Layout {
        let turn = |v: [i64; 2]| {
            if self.kind.transposed {
                [v[1], v[0]]
            } else {
                v
            }
        };
        let lengths = |v: [i64; 2]| turn(v).map(Length::from_units);
        self.cuts.sort_by_key(|c| c.0);
        let cuts = self
            .cuts
            .iter()
            .enumerate()
            .map(|(n, (_, dir, at, of))| {
                let [x0, y0] = lengths(of.at);
                let [x1, y1] = lengths([of.at[0] + of.size[0], of.at[1] + of.size[1]]);
                Cut {
                    n: n as u32 + 1,
                    across: (*dir == Dir::Along) != self.kind.transposed,
                    at: Length::from_units(*at),
                    of: [x0, y0, x1, y1],
                    kerf: None,
                    saw: None,
                }
            })
            .collect();
        let left = self
            .left
            .iter()
            .map(|p| {
                let size = lengths(p.size);
                Leftover {
                    at: lengths(p.at),
                    size,
                    keep: task.keep.keeps(size[0], size[1]),
                }
            })
            .collect();
        let mut lying: Vec<Lying> = self
            .lying
            .iter()
            .map(|l| Lying {
                at: turn(l.at),
                size: turn(l.size),
                ..*l
            })
            .collect();
        lying.sort_by_key(|l| (l.at[1], l.at[0]));
        Layout {
            kind,
            lying,
            left,
            cuts,
        }
    }
}
