//! Where a piece can go on a sheet, and how well it lies there.
//!
//! For every division: at its end, or standing on its k shortest members; beside any single piece across the direction
//! it lies in; beside the whole. Each place is a free rectangle that the sheet can give without losing anything. A limit
//! on turns and a prescribed first direction only take places away or ask for an exact size across.

use super::problem::{Item, Problem};
use super::rooms::{GUARD, fill_up, find_one_each, measure, of_node, room};
use super::tree::{Bin, Dir};

/// How the tree changes when the place is taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum How {
    /// First piece of an empty sheet.
    First,
    /// One more part of a division.
    Append,
    /// The node and the piece become a new division.
    Wrap,
    /// The division's shortest members become a strip of their own that the piece stands on.
    Stand,
}

/// A free rectangle.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Place {
    pub w: i32,
    pub h: i32,
    /// What the piece will lie next to.
    pub next_w: i32,
    pub next_h: i32,
    /// Not 0: the piece must measure this across `dir`.
    pub exact: i32,
    /// `Stand`: members up to this size across are the short ones.
    pub limit: i32,
    pub node: u16,
    pub how: How,
    /// Direction of the division the piece will be part of.
    pub dir: Dir,
}

/// How places are compared; the smallest score wins.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Score {
    /// Least area left in the place.
    Area,
    /// Least left on the tighter side.
    Side,
    /// Least area lost because the piece and its neighbour differ across.
    Mismatch,
    /// The same, and a little for area left.
    MismatchAndArea,
}

/// All scores, in the order the multistart tries them.
pub(crate) const SCORES: [Score; 4] = [
    Score::Area,
    Score::Side,
    Score::Mismatch,
    Score::MismatchAndArea,
];

impl Score {
    /// The score of a piece of this size at a place where it fits.
    #[inline(always)]
    pub(crate) fn of(self, place: &Place, (w, h): (i32, i32)) -> i64 {
        let area = || i64::from(place.w) * i64::from(place.h) - i64::from(w) * i64::from(h);
        let mismatch = || {
            let (run, cross, next_run, next_cross) = match place.dir {
                Dir::Along => (w, h, place.next_w, place.next_h),
                Dir::Down => (h, w, place.next_h, place.next_w),
            };
            if cross <= next_cross {
                i64::from(run) * i64::from(next_cross - cross)
            } else {
                i64::from(next_run) * i64::from(cross - next_cross)
            }
        };
        match self {
            Self::Area => area(),
            Self::Side => i64::from((place.w - w).min(place.h - h)),
            Self::Mismatch => mismatch(),
            Self::MismatchAndArea => mismatch() + area() / 4,
        }
    }
}

/// True if a piece of this size may take the place.
pub(crate) const fn fits(place: &Place, (w, h): (i32, i32)) -> bool {
    if w > place.w || h > place.h {
        return false;
    }
    place.exact == 0
        || place.exact
            == match place.dir {
                Dir::Along => h,
                Dir::Down => w,
            }
}

/// True if an empty sheet takes the piece.
pub(crate) fn takes(problem: &Problem, kind: usize, item: &Item) -> bool {
    let (w, h) = problem.sheets[kind].size;
    item.ways.iter().any(|way| {
        let (flush_w, flush_h) = (way.0 == w, way.1 == h);
        let slack = problem.sheets[kind].slack;
        way.0 <= w
            && way.1 <= h
            && match problem.sheets[kind].first {
                None => problem.turns > 1 || flush_w || flush_h,
                Some(Dir::Along) => flush_h || (problem.turns > 1 && (slack || !flush_w)),
                Some(Dir::Down) => flush_w || (problem.turns > 1 && (slack || !flush_h)),
            }
    })
}

/// Members a division may have and still offer places on its shortest ones.
const MOST_STANDING: usize = 24;

/// Finds all places of a sheet anew.
pub(crate) fn find(bin: &mut Bin, problem: &Problem) {
    bin.one_each = problem.one_each(bin.kind);
    bin.places.clear();
    if bin.one_each {
        bin.rooms.clear();
        fill_up(&mut bin.rooms, bin.nodes.len() + 1);
        find_one_each(bin, problem, 0..bin.nodes.len() + 1);
        measure(bin, problem);
        return;
    }
    find_all(bin, problem);
    fill_up(&mut bin.rooms, bin.places.len());
}

fn find_all(bin: &mut Bin, problem: &Problem) {
    let Bin {
        nodes,
        places,
        rooms,
        kind,
        widest,
        tallest,
        ..
    } = bin;
    let sheet = problem.sheets[*kind];
    let turns = problem.turns;
    rooms.clear();
    (*widest, *tallest) = (0, 0);
    let (least_w, least_h) = problem.least;
    let mut add = |p: Place| {
        if p.w >= least_w && p.h >= least_h {
            *widest = (*widest).max(p.w);
            *tallest = (*tallest).max(p.h);
            places.push(p);
            rooms.push(room((p.w, p.h), problem.coarse) | GUARD);
        }
    };
    let across_sheet = |dir| match dir {
        Dir::Along => sheet.size.1,
        Dir::Down => sheet.size.0,
    };
    let whole = of_node(&[], 0, sheet.size);
    let Some(root) = nodes.first().copied() else {
        if turns > 1 {
            add(whole);
        } else {
            for dir in [Dir::Along, Dir::Down] {
                add(Place {
                    dir,
                    exact: across_sheet(dir),
                    ..whole
                });
            }
        }
        return;
    };
    for (i, node) in nodes.iter().enumerate() {
        let at = Place {
            w: node.room_w,
            h: node.room_h,
            next_w: node.w,
            next_h: node.h,
            exact: 0,
            limit: 0,
            node: i as u16,
            how: How::Append,
            dir: Dir::Along,
        };
        // The free part of a node's room beside it along `dir`.
        let beside = |dir| match dir {
            Dir::Along => Place {
                w: node.room_w - node.w,
                dir,
                ..at
            },
            Dir::Down => Place {
                h: node.room_h - node.h,
                dir,
                ..at
            },
        };
        if let Some(dir) = node.dir() {
            let exact = if node.level < turns {
                0
            } else if i == 0 {
                across_sheet(dir)
            } else {
                node.cross(dir)
            };
            let end = beside(dir);
            if i == 0 && node.len == 1 {
                // The first part must leave a first cut, unless it is the whole sheet.
                add(Place {
                    exact: across_sheet(dir),
                    ..end
                });
                let less = i32::from(exact == 0 && !sheet.slack);
                match dir {
                    Dir::Along => add(Place {
                        exact,
                        w: end.w - less,
                        ..end
                    }),
                    Dir::Down => add(Place {
                        exact,
                        h: end.h - less,
                        ..end
                    }),
                }
            } else {
                add(Place { exact, ..end });
            }
            if problem.standing && node.level.saturating_add(2) <= turns {
                stand(nodes, i, dir, turns, &at, &mut add);
            }
        } else if i == 0 {
            for dir in [Dir::Along, Dir::Down] {
                let exact = if turns > 1 { 0 } else { across_sheet(dir) };
                if exact == 0 || node.cross(dir) == exact {
                    add(Place {
                        how: How::Wrap,
                        exact,
                        ..beside(dir)
                    });
                }
            }
        } else if node.level < turns {
            let dir = nodes[node.parent as usize]
                .dir()
                .expect("a parent is a division")
                .other();
            let exact = if node.level + 1 == turns {
                node.cross(dir)
            } else {
                0
            };
            add(Place {
                how: How::Wrap,
                exact,
                ..beside(dir)
            });
        }
    }
    if let Some(dir) = root.dir()
        && sheet.first.is_none()
        && may_sink(nodes, turns)
    {
        let dir = dir.other();
        let (w, h) = match dir {
            Dir::Along => (sheet.size.0 - root.w, sheet.size.1),
            Dir::Down => (sheet.size.0, sheet.size.1 - root.h),
        };
        add(Place {
            w,
            h,
            next_w: root.w,
            next_h: root.h,
            how: How::Wrap,
            dir,
            ..whole
        });
    }
}

/// True if every division may lie one level deeper.
fn may_sink(nodes: &[super::tree::Node], turns: u8) -> bool {
    if turns == u8::MAX {
        return true;
    }
    nodes.iter().all(|n| {
        n.dir().is_none()
            || n.level + 1 < turns
            || (n.level + 1 == turns && members_alike(nodes, n))
    })
}

/// True if all members of the division measure the same across.
fn members_alike(nodes: &[super::tree::Node], division: &super::tree::Node) -> bool {
    let Some(dir) = division.dir() else {
        return true;
    };
    let at = nodes
        .iter()
        .position(|n| std::ptr::eq(n, division))
        .unwrap_or(0);
    let (mut child, end) = (at + 1, at + division.len as usize);
    while child < end {
        if nodes[child].cross(dir) != division.cross(dir) {
            return false;
        }
        child += nodes[child].len as usize;
    }
    true
}

/// Places on the shortest members of division `i`.
fn stand(
    nodes: &[super::tree::Node],
    i: usize,
    dir: Dir,
    turns: u8,
    at: &Place,
    add: &mut impl FnMut(Place),
) {
    let node = &nodes[i];
    let mut members = [(0, 0); MOST_STANDING];
    let (mut n, mut child, end) = (0, i + 1, i + node.len as usize);
    while child < end {
        if n == MOST_STANDING || (turns != u8::MAX && !nodes[child].is_leaf()) {
            return;
        }
        members[n] = (nodes[child].cross(dir), nodes[child].run(dir));
        n += 1;
        child += nodes[child].len as usize;
    }
    if n < 3 {
        return;
    }
    let members = &mut members[..n];
    members.sort_unstable();
    let tight = node.level + 2 == turns;
    let slack = match dir {
        Dir::Along => node.room_w - node.w,
        Dir::Down => node.room_h - node.h,
    };
    let mut run = members[0].1;
    for k in 1..n - 1 {
        run += members[k].1;
        let cross = members[k].0;
        if members[k + 1].0 == cross || (tight && members[0].0 != cross) {
            continue;
        }
        let base = Place {
            limit: cross,
            how: How::Stand,
            dir: dir.other(),
            ..*at
        };
        add(match dir {
            Dir::Along => Place {
                w: run + slack,
                h: node.room_h - cross,
                next_w: run,
                next_h: cross,
                ..base
            },
            Dir::Down => Place {
                w: node.room_w - cross,
                h: run + slack,
                next_w: cross,
                next_h: run,
                ..base
            },
        });
    }
}
