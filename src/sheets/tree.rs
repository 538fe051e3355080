//! The slicing tree of one sheet, open to change anywhere.
//!
//! A tree of any arity whose divisions alternate in direction, kept as one flat list in preorder: a division is followed
//! by all that lies in it. Sizes run up the tree (what a part needs), room runs down (how far it may grow while the
//! sheet still holds everything), so a piece can be put in wherever there is room without moving the rest by hand. The
//! idea of inserting at any node of such a tree: Fleszar, Computers & OR 40 (2013); of tearing out and refilling it:
//! Gardeyn & Wauters, EJOR 301 (2022). Owns structure and sizes; where pieces may go is `places`, what is best is not
//! decided here.

use super::places::{self, Place};
use super::problem::{Problem, Sheet};
use super::rooms::{self, Room};

/// How the parts of a division lie.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Dir {
    /// Side by side along the sheet's x.
    Along,
    /// One below the other along its y.
    Down,
}

impl Dir {
    pub(crate) const fn other(self) -> Self {
        match self {
            Self::Along => Self::Down,
            Self::Down => Self::Along,
        }
    }
}

pub(super) const ALONG: u32 = u32::MAX;
const DOWN: u32 = u32::MAX - 1;
/// Types of piece are numbered below this; what lies above stands for divisions.
const FIRST_MARK: u32 = DOWN;
/// A leaf that stands for a leftover.
pub(crate) const LEFT: u32 = (FIRST_MARK - 1) >> 1;
/// More nodes than this and a sheet takes no more pieces: positions are kept in 16 bits.
const MOST_NODES: usize = 60_000;

/// One division or piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Node {
    /// What it needs.
    pub w: i32,
    pub h: i32,
    /// How far it may grow.
    pub room_w: i32,
    pub room_h: i32,
    /// Twice the type, plus one where it lies the second way; or a division.
    pub(super) mark: u32,
    /// Position of the division it lies in.
    pub parent: u16,
    /// How many nodes it comes to, itself included.
    pub len: u16,
    /// Divisions above it and itself: the first cuts are level 1.
    pub level: u8,
}

impl Node {
    pub(crate) const fn leaf(item: u32, second_way: bool, size: (i32, i32)) -> Self {
        Self {
            w: size.0,
            h: size.1,
            room_w: 0,
            room_h: 0,
            mark: item * 2 + second_way as u32,
            parent: 0,
            len: 1,
            level: 0,
        }
    }
    pub(crate) const fn division(dir: Dir, len: u16) -> Self {
        Self {
            w: 0,
            h: 0,
            room_w: 0,
            room_h: 0,
            mark: match dir {
                Dir::Along => ALONG,
                Dir::Down => DOWN,
            },
            parent: 0,
            len,
            level: 0,
        }
    }
    /// The direction of a division; `None` for a piece.
    pub(crate) const fn dir(&self) -> Option<Dir> {
        match self.mark {
            ALONG => Some(Dir::Along),
            DOWN => Some(Dir::Down),
            _ => None,
        }
    }
    pub(crate) const fn is_leaf(&self) -> bool {
        self.mark < FIRST_MARK
    }
    /// Type of a piece, and whether it lies the second way.
    pub(crate) const fn piece(&self) -> (u32, bool) {
        (self.mark >> 1, self.mark & 1 == 1)
    }
    /// Size across a direction.
    pub(crate) const fn cross(&self, dir: Dir) -> i32 {
        match dir {
            Dir::Along => self.h,
            Dir::Down => self.w,
        }
    }
    /// Size along a direction.
    pub(crate) const fn run(&self, dir: Dir) -> i32 {
        match dir {
            Dir::Along => self.w,
            Dir::Down => self.h,
        }
    }
}

/// One sheet: its tree and where more can go.
#[derive(PartialEq, Eq, Debug, Default)]
pub(crate) struct Bin {
    /// Index into `Problem::sheets`.
    pub kind: usize,
    pub nodes: Vec<Node>,
    /// Where places are not one to a node; see [`Bin::place`].
    pub places: Vec<Place>,
    /// Each node offers one place, which is read off it.
    pub one_each: bool,
    /// Width and height of each place in one word, for a quick first look.
    pub rooms: Vec<Room>,
    /// Area of the pieces on it.
    pub filled: i64,
    /// Pieces on it.
    pub pieces: u32,
    /// No place is wider, and none is taller.
    pub widest: i32,
    pub tallest: i32,
    /// Types known to fit no place as the sheet is now, a bit each; only the first few hundred types are noted.
    pub hopeless: [u64; HOPELESS],
}

/// Words of `Bin::hopeless`.
const HOPELESS: usize = 4;

// By hand, so that copies into a bin that has its memory already take no new one.
impl Clone for Bin {
    fn clone(&self) -> Self {
        let mut to = Self::default();
        to.clone_from(self);
        to
    }
    fn clone_from(&mut self, from: &Self) {
        self.kind = from.kind;
        self.nodes.clone_from(&from.nodes);
        self.places.clone_from(&from.places);
        self.one_each = from.one_each;
        self.rooms.clone_from(&from.rooms);
        self.filled = from.filled;
        self.pieces = from.pieces;
        self.widest = from.widest;
        self.tallest = from.tallest;
        self.hopeless = from.hopeless;
    }
}

impl Bin {
    /// An empty sheet.
    pub(crate) fn new(problem: &Problem, kind: usize) -> Self {
        let mut bin = Self::default();
        bin.reset(problem, kind);
        bin
    }
    /// Empties it and makes it a sheet of this kind.
    pub(crate) fn reset(&mut self, problem: &Problem, kind: usize) {
        self.kind = kind;
        self.nodes.clear();
        if let Some(dir) = problem.sheets[kind].first {
            self.nodes.push(Node::division(dir, 1));
        }
        self.filled = 0;
        self.pieces = 0;
        self.refresh(problem);
    }
    pub(crate) const fn is_empty(&self) -> bool {
        self.pieces == 0
    }
    /// True while positions still fit their type.
    pub(crate) fn takes_more(&self) -> bool {
        self.nodes.len() < MOST_NODES
    }
    /// True if the type is known to fit nowhere.
    pub(crate) fn is_hopeless(&self, item: u32) -> bool {
        let word = (item / 64) as usize;
        word < HOPELESS && self.hopeless[word] >> (item % 64) & 1 == 1
    }
    /// Notes that the type fits nowhere; forgotten when the sheet changes.
    pub(crate) fn note_hopeless(&mut self, item: u32) {
        let word = (item / 64) as usize;
        if word < HOPELESS {
            self.hopeless[word] |= 1 << (item % 64);
        }
    }
    /// The place of a room, on a sheet of this size.
    #[inline(always)]
    pub(crate) fn place(&self, room: usize, sheet: (i32, i32)) -> Place {
        if self.one_each {
            rooms::of_node(&self.nodes, room, sheet)
        } else {
            self.places[room]
        }
    }
    /// All places that take some piece of the problem.
    pub(crate) fn places<'a>(&'a self, problem: &'a Problem) -> impl Iterator<Item = Place> + 'a {
        let (sheet, least) = (problem.sheets[self.kind].size, problem.least);
        let rooms = if self.one_each {
            self.nodes.len() + 1
        } else {
            self.places.len()
        };
        let all = (0..rooms).map(move |i| self.place(i, sheet));
        all.filter(move |p| p.w >= least.0 && p.h >= least.1)
    }
    /// Shows every place that takes a piece of this size; true if there is none.
    #[inline(always)]
    pub(crate) fn scan(
        &self,
        problem: &Problem,
        size: (i32, i32),
        mut look: impl FnMut(Place),
    ) -> bool {
        let needs = rooms::room(size, problem.coarse);
        let mut none = true;
        // Most places take no piece: a whole lot is passed over at once.
        for (lot, rooms) in self
            .rooms
            .as_chunks::<{ rooms::TOGETHER }>()
            .0
            .iter()
            .enumerate()
        {
            let mut some = 0;
            for room in rooms {
                // The guard of the lower half shifted up meets that of the upper one where a piece fits.
                let left = room - needs;
                some |= left & left << 16;
            }
            if some >> 31 == 0 {
                continue;
            }
            for (i, room) in rooms.iter().enumerate() {
                if (room - needs) & rooms::GUARD == rooms::GUARD {
                    let sheet = problem.sheets[self.kind].size;
                    let place = self.place(lot * rooms::TOGETHER + i, sheet);
                    if places::fits(&place, size) {
                        none = false;
                        look(place);
                    }
                }
            }
        }
        none
    }
    /// Positions of the pieces.
    pub(crate) fn leaves(&self) -> impl Iterator<Item = usize> {
        (0..self.nodes.len()).filter(|i| self.nodes[*i].is_leaf())
    }

    /// Sizes, room, levels and places anew. A few dozen nodes: cheaper than keeping track of what changed.
    pub(crate) fn refresh(&mut self, problem: &Problem) {
        self.hopeless = [0; HOPELESS];
        let (sheet_w, sheet_h) = problem.sheets[self.kind].size;
        let nodes = &mut self.nodes[..];
        let n = nodes.len();
        // Parents and levels, walking down.
        let mut above = 0usize;
        for i in 0..n {
            if i > 0 {
                while i >= above + nodes[above].len as usize {
                    above = nodes[above].parent as usize;
                }
                nodes[i].parent = above as u16;
                nodes[i].level = nodes[above].level;
            } else {
                nodes[0].level = 0;
                nodes[0].parent = 0;
            }
            if !nodes[i].is_leaf() {
                nodes[i].level += 1;
                (nodes[i].w, nodes[i].h) = (0, 0);
                above = i;
            }
        }
        // Needs, walking up.
        for i in (1..n).rev() {
            let Node { w, h, parent, .. } = nodes[i];
            let p = &mut nodes[parent as usize];
            if p.mark == ALONG {
                p.w += w;
                p.h = p.h.max(h);
            } else {
                p.w = p.w.max(w);
                p.h += h;
            }
        }
        // Room, walking down.
        if let Some(root) = nodes.first_mut() {
            (root.room_w, root.room_h) = (sheet_w, sheet_h);
        }
        give_room(nodes, 1..n);
        self.leave_a_first_cut(problem);
        super::places::find(self, problem);
    }

    /// True if the tree as it lies would begin with a cut in the direction prescribed for `sheet`, or with none at all.
    pub(crate) fn has_first_cut_on(&self, sheet: &Sheet) -> bool {
        let (Some(dir), false) = (sheet.first, sheet.slack) else {
            return true;
        };
        let [root, only, ..] = &self.nodes[..] else {
            return true;
        };
        let left = match dir {
            Dir::Along => sheet.size.0 - root.w,
            Dir::Down => sheet.size.1 - root.h,
        };
        let whole = only.is_leaf() && (only.w, only.h) == sheet.size;
        only.len + 1 != root.len || left > 0 || whole
    }

    /// Where the direction of the first cuts is prescribed, the only part of the first division must leave a cut there,
    /// or the first real cut would go the other way.
    fn leave_a_first_cut(&mut self, problem: &Problem) {
        let sheet = &problem.sheets[self.kind];
        let Some(dir) = sheet.first.filter(|_| !sheet.slack) else {
            return;
        };
        if self.nodes.len() < 2 || self.nodes[1].len + 1 != self.nodes[0].len {
            return;
        }
        let least = match dir {
            Dir::Along => sheet.size.0 - self.nodes[1].w,
            Dir::Down => sheet.size.1 - self.nodes[1].h,
        };
        if least <= 0 {
            return;
        }
        let end = self.nodes.len();
        for node in &mut self.nodes[1..end] {
            match dir {
                Dir::Along => node.room_w -= 1,
                Dir::Down => node.room_h -= 1,
            }
        }
    }
}

/// How far some nodes may grow, those above them known.
pub(super) fn give_room(nodes: &mut [Node], which: std::ops::Range<usize>) {
    for i in which.start.max(1)..which.end {
        let p = nodes[nodes[i].parent as usize];
        let node = &mut nodes[i];
        if p.mark == ALONG {
            node.room_w = p.room_w - p.w + node.w;
            node.room_h = p.room_h;
        } else {
            node.room_w = p.room_w;
            node.room_h = p.room_h - p.h + node.h;
        }
    }
}
