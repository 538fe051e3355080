//! A layout as a tree: what is cut side by side, and of which parts. Places and waste are left out; sizes are what the
//! content needs with one kerf between neighbours.

use crate::model::SheetPlan;
use crate::units::Length;

/// [x0, y0, x1, y1]
pub(crate) type Rect = [Length; 4];

/// Parts in one or more rows, one in the other.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) enum Tree {
    /// A part.
    Part {
        /// Index into the layout's places.
        place: usize,
        /// [along x, along y].
        size: [Length; 2],
    },
    /// Several things side by side.
    Row {
        /// 0 = along x, 1 = along y.
        axis: usize,
        /// At least two, none of them a row the same way.
        of: Vec<Tree>,
        /// [along x, along y].
        size: [Length; 2],
    },
}

impl Tree {
    pub(crate) const fn size(&self) -> [Length; 2] {
        match self {
            Self::Part { size, .. } | Self::Row { size, .. } => *size,
        }
    }

    /// Puts things side by side. `None` for nothing.
    pub(crate) fn row(axis: usize, things: Vec<Self>, kerf: Length) -> Option<Self> {
        let mut of = Vec::new();
        for thing in things {
            match thing {
                Self::Row {
                    axis: a, of: inner, ..
                } if a == axis => of.extend(inner),
                other => of.push(other),
            }
        }
        if of.len() < 2 {
            return of.pop();
        }
        let mut size = [Length::ZERO - kerf; 2];
        for thing in &of {
            let s = thing.size();
            size[axis] += s[axis] + kerf;
            size[1 - axis] = size[1 - axis].max(s[1 - axis]);
        }
        Some(Self::Row { axis, of, size })
    }

    /// Reads the tree off a layout's cuts. `None` where they do not free its parts.
    pub(crate) fn of(sheet: &SheetPlan, kerf: Length) -> Option<Self> {
        let c = sheet.clean_edge;
        let rect = [c[0], c[2], sheet.size[0] - c[1], sheet.size[1] - c[3]];
        let mut found = 0;
        let tree = read(sheet, rect, kerf, &mut found)?;
        (found == sheet.places.len()).then_some(tree)
    }

    /// The parts in it, as indices into the layout's places.
    pub(crate) fn parts(&self, into: &mut Vec<usize>) {
        match self {
            Self::Part { place, .. } => into.push(*place),
            Self::Row { of, .. } => of.iter().for_each(|t| t.parts(into)),
        }
    }

    /// Counts its places from another first one.
    pub(crate) fn renumber(&mut self, first: usize) {
        match self {
            Self::Part { place, .. } => *place += first,
            Self::Row { of, .. } => of.iter_mut().for_each(|t| t.renumber(first)),
        }
    }
}

fn read(sheet: &SheetPlan, rect: Rect, kerf: Length, found: &mut usize) -> Option<Tree> {
    let mut rect = rect;
    // What lies beside what, with the way it is cut: the far side is followed without going deeper.
    let mut before: Vec<(usize, Tree)> = Vec::new();
    let mut tree = loop {
        let Some(cut) = sheet.cuts.iter().find(|c| c.of == rect) else {
            let here = |p: &crate::model::Place| {
                p.at == [rect[0], rect[1]] && p.size == [rect[2] - rect[0], rect[3] - rect[1]]
            };
            break sheet.places.iter().position(here).map(|place| {
                *found += 1;
                let size = sheet.places[place].size;
                Tree::Part { place, size }
            });
        };
        let axis = usize::from(!cut.across);
        let mut near = rect;
        near[axis + 2] = cut.at;
        if let Some(tree) = read(sheet, near, kerf, found) {
            before.push((axis, tree));
        }
        rect[axis] = cut.at + cut.kerf.unwrap_or(kerf);
        if rect[axis] >= rect[axis + 2] {
            break None;
        }
    };
    for (axis, near) in before.into_iter().rev() {
        let things = std::iter::once(near).chain(tree).collect();
        tree = Tree::row(axis, things, kerf);
    }
    tree
}
