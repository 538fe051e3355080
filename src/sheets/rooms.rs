//! The quick look at a sheet's places: how wide and tall each is, in one word, and, where each node offers one place, the place
//! read off its node when it is wanted.

use super::places::{How, Place};
use super::problem::Problem;
use super::tree::{Bin, Dir, Node};

/// Width and height of a place in one word, rounded down to 15 bits each: a quick first look. Above each half a bit stays
/// set when a piece no larger is subtracted.
pub(crate) type Room = u32;
/// Those bits.
pub(crate) const GUARD: Room = 1 << 31 | 1 << 15;

/// Rooms are looked at so many together, and their list filled up to whole lots with rooms that take nothing.
pub(crate) const TOGETHER: usize = 8;

/// The sides in one word. `coarse`: bits that are left out.
#[inline(always)]
pub(crate) const fn room((w, h): (i32, i32), coarse: u32) -> Room {
    ((w >> coarse) as Room) << 16 | (h >> coarse) as Room
}

/// The place that a node offers where turns are free, no first cut is prescribed and nothing stands on short members: at the
/// end of a division, else across the division that a piece lies in. One more than the last node: beside the whole.
#[inline(always)]
pub(crate) fn of_node(nodes: &[Node], i: usize, sheet: (i32, i32)) -> Place {
    let whole = Place {
        w: sheet.0,
        h: sheet.1,
        next_w: 0,
        next_h: 0,
        exact: 0,
        limit: 0,
        node: 0,
        how: How::First,
        dir: Dir::Along,
    };
    let Some(root) = nodes.first() else {
        return whole;
    };
    let beside = |n: &Node, dir: Dir, how: How| {
        let (w, h) = match dir {
            Dir::Along => (n.room_w - n.w, n.room_h),
            Dir::Down => (n.room_w, n.room_h - n.h),
        };
        Place {
            w,
            h,
            next_w: n.w,
            next_h: n.h,
            node: i as u16,
            how,
            dir,
            ..whole
        }
    };
    match nodes.get(i) {
        None => {
            // Beside a single piece the other way, or beside the first division.
            let dir = root.dir().map_or(Dir::Down, Dir::other);
            Place {
                node: 0,
                ..beside(root, dir, How::Wrap)
            }
        }
        Some(n) => match n.dir() {
            Some(dir) => beside(n, dir, How::Append),
            None if i == 0 => beside(n, Dir::Along, How::Wrap),
            None => {
                let above = nodes[n.parent as usize].dir();
                beside(n, above.map_or(Dir::Along, Dir::other), How::Wrap)
            }
        },
    }
}

/// Makes room for `rooms`, in whole lots.
pub(crate) fn fill_up(list: &mut Vec<Room>, rooms: usize) {
    list.resize(rooms.next_multiple_of(TOGETHER), GUARD);
}

/// Room at some nodes, one place each; one more than the last node: beside the whole.
pub(crate) fn find_one_each(bin: &mut Bin, problem: &Problem, which: std::ops::Range<usize>) {
    let sheet = problem.sheets[bin.kind].size;
    let (least_w, least_h) = problem.least;
    for i in which {
        let p = of_node(&bin.nodes, i, sheet);
        let serves = p.w >= least_w && p.h >= least_h;
        let sides = if serves { (p.w, p.h) } else { (0, 0) };
        bin.rooms[i] = room(sides, problem.coarse) | GUARD;
    }
}

/// How wide and tall the places are, from their rooms.
pub(crate) fn measure(bin: &mut Bin, problem: &Problem) {
    let (mut wide, mut tall) = (0, 0);
    for room in &bin.rooms {
        wide = wide.max(room & !GUARD & 0xffff_0000);
        tall = tall.max(room & !GUARD & 0xffff);
    }
    let rest = (1 << problem.coarse) - 1;
    bin.widest = ((wide >> 16) << problem.coarse) as i32 + rest;
    bin.tallest = (tall << problem.coarse) as i32 + rest;
}
