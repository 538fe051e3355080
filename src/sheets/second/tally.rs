//! What the saw does on one sheet: its cuts, the widths its fence is set to, what stays. In the search's units.
//!
//! Follows the same rules as `layout`, without lengths: members of a division come off the widest first, leftovers last, and a
//! member that is all that remains is freed by no cut.

use crate::sheets::tree::{Bin, Dir, LEFT, Node};

/// What one sheet comes to.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(crate) struct Tally {
    pub cuts: i64,
    /// Fence settings, each once, ascending.
    pub rips: Vec<i32>,
    /// Narrow rips from a piece that is itself narrow.
    pub slim: i64,
    /// Leftovers: what lies along x and along y.
    pub left: Vec<(i32, i32)>,
}

/// How a sheet is read.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reading {
    /// The direction whose cuts are rips.
    pub rip: Dir,
    /// Below this a rip is narrow.
    pub narrow: i32,
    /// The first cut takes off what all of the sheet's pieces leave at its side.
    pub trimmed: bool,
}

/// Room for the members of the divisions that are open.
#[derive(Debug, Default)]
pub(crate) struct Scratch {
    members: Vec<(bool, i32, i32, usize)>,
    block: Vec<i32>,
}

struct Walk<'a> {
    nodes: &'a [Node],
    how: Reading,
    scratch: &'a mut Scratch,
    tally: &'a mut Tally,
}

/// Reads a sheet of this size, its kerf included.
pub(crate) fn read(
    bin: &Bin,
    sheet: (i32, i32),
    how: Reading,
    scratch: &mut Scratch,
    tally: &mut Tally,
) {
    (tally.cuts, tally.slim) = (0, 0);
    tally.rips.clear();
    tally.left.clear();
    scratch.members.clear();
    scratch.block.clear();
    let Some(root) = bin.nodes.first() else {
        return;
    };
    let mut walk = Walk {
        nodes: &bin.nodes,
        how,
        scratch,
        tally,
    };
    let mut panel = sheet;
    if how.trimmed
        && let Some(dir) = root.dir()
    {
        // The direction the members lie across.
        let other = dir.other();
        let (whole, part) = (along(panel, other), root.cross(dir));
        if part < whole {
            walk.cut(other, part, whole);
            walk.tally.left.push(with(panel, other, whole - part));
            panel = with(panel, other, part);
        }
    }
    walk.free(0, panel);
    tally.rips.sort_unstable();
    tally.rips.dedup();
}

const fn along(panel: (i32, i32), dir: Dir) -> i32 {
    match dir {
        Dir::Along => panel.0,
        Dir::Down => panel.1,
    }
}

const fn with(panel: (i32, i32), dir: Dir, run: i32) -> (i32, i32) {
    match dir {
        Dir::Along => (run, panel.1),
        Dir::Down => (panel.0, run),
    }
}

impl Walk<'_> {
    fn is_left(&self, i: usize) -> bool {
        self.nodes[i].is_leaf() && self.nodes[i].piece().0 == LEFT
    }

    /// A cut that takes `run` off a panel of `of`.
    fn cut(&mut self, dir: Dir, run: i32, of: i32) {
        self.tally.cuts += 1;
        if dir == self.how.rip {
            self.tally.rips.push(run);
            if run < self.how.narrow && of < 3 * self.how.narrow {
                self.tally.slim += 1;
            }
        }
    }

    fn keep(&mut self, panel: (i32, i32)) {
        if panel.0 > 0 && panel.1 > 0 {
            self.tally.left.push(panel);
        }
    }

    fn free(&mut self, i: usize, panel: (i32, i32)) {
        let node = self.nodes[i];
        let Some(dir) = node.dir() else {
            return self.free_leaf(i, panel);
        };
        let begin = self.scratch.members.len();
        let (mut child, end) = (i + 1, i + node.len as usize);
        while child < end {
            let member = &self.nodes[child];
            let key = (
                self.is_left(child),
                -member.run(dir),
                -member.cross(dir),
                child,
            );
            self.scratch.members.push(key);
            child += self.nodes[child].len as usize;
        }
        self.scratch.members[begin..].sort_unstable();
        let stop = self.scratch.members.len();
        let mut rest = along(panel, dir);
        let first_rip = self.tally.rips.len();
        let mut all = false;
        for n in begin..stop {
            let (left, run, _, _) = self.scratch.members[n];
            let run = -run;
            if run == rest || (n + 1 == stop && left) {
                all = !left;
                break;
            }
            self.cut(dir, run, rest);
            rest -= run;
        }
        // One of strips that fill their panel is never measured: one whose width is needed once.
        if all && dir == self.how.rip {
            self.spare_one(first_rip, rest);
        }
        let mut rest = along(panel, dir);
        for n in begin..stop {
            let (left, run, _, child) = self.scratch.members[n];
            let run = -run;
            let run = if n + 1 == stop && left { rest } else { run };
            self.free(child, with(panel, dir, run));
            rest -= run;
        }
        self.scratch.members.truncate(begin);
        self.keep(with(panel, dir, rest));
    }

    /// The strip that is not measured need not be the last: it is best one of a width that comes once.
    fn spare_one(&mut self, from: usize, last: i32) {
        let rips = &mut self.tally.rips;
        if rips[from..].contains(&last) {
            // The last comes more than once: another may be spared for it.
            let once = (from..rips.len()).find(|a| {
                let same = rips[from..].iter().filter(|r| **r == rips[*a]).count();
                same == 1 && rips[*a] != last
            });
            if let Some(a) = once {
                rips[a] = last;
            }
        }
    }

    fn free_leaf(&mut self, i: usize, panel: (i32, i32)) {
        if self.is_left(i) {
            return self.keep(panel);
        }
        let node = self.nodes[i];
        let mut panel = panel;
        let first = if node.w < panel.0 {
            Dir::Along
        } else {
            Dir::Down
        };
        for dir in [first, first.other()] {
            let (run, of) = (node.run(dir), along(panel, dir));
            if run < of {
                self.cut(dir, run, of);
                self.keep(with(panel, dir, of - run));
                panel = with(panel, dir, run);
            }
        }
    }
}
