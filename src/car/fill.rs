//! A quick try at placing parts on the pieces of a pattern: one after the other, each where it leaves least beside it.
//!
//! Several orders by size and a few dozen shuffled ones. What it does not place may still have a place: that is the
//! planner's work, which takes a thousand times longer.

use super::tree::Tree;
use crate::solve::rng::Rng;
use crate::units::Length;

/// Shuffled orders tried at most.
const SHUFFLES: usize = 40;
/// The same, times the square of the number of parts.
const WORK: usize = 400_000;

/// A part to be placed: the ways it may lie, [along x, along y] and whether its own length runs along y then.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Loose {
    /// Its mark.
    pub mark: String,
    /// Ways.
    pub ways: Vec<([Length; 2], bool)>,
}

/// A room on a piece: empty, or with a part in its corner and two rooms beside it.
#[derive(Clone, Debug)]
enum Room {
    Empty,
    Used {
        part: usize,
        size: [Length; 2],
        /// The first cut goes across this axis.
        axis: usize,
        /// Beyond the first cut, and beside the part.
        rest: [usize; 2],
    },
}

/// A part placed: which, and in which of its ways.
pub(crate) type Chosen = (usize, usize);

struct Filling<'a> {
    parts: &'a [Loose],
    kerf: Length,
    rooms: Vec<(Room, [Length; 2])>,
    /// For each room in use, how the part lies.
    way: Vec<usize>,
}

impl Filling<'_> {
    /// Puts a part where it leaves least on its tighter side. False where there is no room.
    fn put(&mut self, part: usize, along: bool) -> bool {
        let mut best: Option<(Length, usize, usize)> = None;
        for (r, (room, size)) in self.rooms.iter().enumerate() {
            if !matches!(room, Room::Empty) {
                continue;
            }
            for (w, (s, _)) in self.parts[part].ways.iter().enumerate() {
                if s[0] <= size[0] && s[1] <= size[1] {
                    let spare = (size[0] - s[0]).min(size[1] - s[1]);
                    if best.is_none_or(|b| (spare, r, w) < b) {
                        best = Some((spare, r, w));
                    }
                }
            }
        }
        let Some((_, r, w)) = best else { return false };
        let room = self.rooms[r].1;
        let size = self.parts[part].ways[w].0;
        let spare = [0, 1].map(|a| (room[a] - size[a] - self.kerf).at_least_zero());
        // The larger rest stays whole, or the smaller, as asked.
        let axis = usize::from((spare[1] > spare[0]) == along);
        let (mut beyond, mut beside) = (room, size);
        beyond[axis] = spare[axis];
        beside[1 - axis] = spare[1 - axis];
        let first = self.rooms.len();
        for rest in [beyond, beside] {
            self.rooms.push((Room::Empty, rest));
            self.way.push(0);
        }
        self.way[r] = w;
        self.rooms[r].0 = Room::Used {
            part,
            size,
            axis,
            rest: [first, first + 1],
        };
        true
    }

    /// The tree of what lies in a room; its places are indices into `chosen`.
    fn tree(&self, room: usize, chosen: &mut Vec<Chosen>) -> Option<Tree> {
        let Room::Used {
            part,
            size,
            axis,
            rest,
        } = self.rooms[room].0
        else {
            return None;
        };
        let place = chosen.len();
        chosen.push((part, self.way[room]));
        let part = Tree::Part { place, size };
        let beside = self.tree(rest[1], chosen);
        let strip = Tree::row(
            1 - axis,
            std::iter::once(part).chain(beside).collect(),
            self.kerf,
        );
        let beyond = self.tree(rest[0], chosen);
        Tree::row(axis, strip.into_iter().chain(beyond).collect(), self.kerf)
    }
}

/// Places all parts in the rooms given, or says how much area is left over at best. One tree for each room.
pub(crate) fn fill(
    parts: &[Loose],
    rooms: &[[Length; 2]],
    kerf: Length,
) -> Result<Vec<(Option<Tree>, Vec<Chosen>)>, i128> {
    let area = |p: usize| {
        let s = parts[p].ways.first().map_or([Length::ZERO; 2], |w| w.0);
        i128::from(s[0].units()) * i128::from(s[1].units())
    };
    let side = |p: usize, n: usize| parts[p].ways.first().map_or(Length::ZERO, |w| w.0[n]);
    let mut least = i128::MAX;
    let mut rng = Rng::new(&[31]);
    let shuffles = (WORK / (parts.len() * parts.len()).max(1)).min(SHUFFLES);
    for turn in 0..shuffles + 4 {
        let mut order: Vec<usize> = (0..parts.len()).collect();
        match turn {
            0 => order.sort_by_key(|p| (-area(*p), *p)),
            1 => {
                order.sort_by_key(|p| (Length::ZERO - side(*p, 0).max(side(*p, 1)), -area(*p), *p))
            }
            2 => order.sort_by_key(|p| (Length::ZERO - side(*p, 1), -area(*p), *p)),
            3 => order.sort_by_key(|p| (Length::ZERO - side(*p, 0), -area(*p), *p)),
            _ => rng.shuffle(&mut order),
        }
        for along in [false, true] {
            let mut filling = Filling {
                parts,
                kerf,
                rooms: rooms.iter().map(|r| (Room::Empty, *r)).collect(),
                way: vec![0; rooms.len()],
            };
            let left: i128 = order
                .iter()
                .filter(|p| !filling.put(**p, along))
                .map(|p| area(*p))
                .sum();
            if left == 0 {
                let trees = (0..rooms.len()).map(|r| {
                    let mut chosen = Vec::new();
                    (filling.tree(r, &mut chosen), chosen)
                });
                return Ok(trees.collect());
            }
            least = least.min(left);
        }
    }
    Err(least)
}
