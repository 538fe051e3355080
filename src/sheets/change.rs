//! Pieces put into a tree and taken out of it. Where each node offers one place, putting one in works out only what it changes;
//! all else is worked out anew.

use super::places::{How, Place};
use super::problem::Problem;
use super::rooms;
use super::tree::{ALONG, Bin, Dir, LEFT, Node, give_room};

impl Bin {
    /// Puts a leaf at a place. The caller has seen that it fits.
    pub(crate) fn insert(&mut self, problem: &Problem, place: Place, leaf: Node) {
        let at = place.node as usize;
        let (item, _) = leaf.piece();
        if item != LEFT {
            self.filled += problem.items[item as usize].area;
            self.pieces += 1;
        }
        match place.how {
            How::First => self.nodes.push(leaf),
            How::Append => {
                if self.one_each {
                    return self.append(problem, at, leaf);
                }
                self.grow_above(at, 1);
                self.nodes.insert(at + self.nodes[at].len as usize, leaf);
                self.nodes[at].len += 1;
            }
            How::Wrap => {
                if self.one_each && at > 0 {
                    return self.wrap(problem, at, place.dir, leaf);
                }
                let len = self.nodes[at].len;
                self.grow_above(at, 2);
                self.nodes.insert(at + len as usize, leaf);
                self.nodes.insert(at, Node::division(place.dir, len + 2));
            }
            How::Stand => self.stand_on_shortest(at, place, leaf),
        }
        self.refresh(problem);
    }

    /// One more part of a division, where only what it changes need be worked out anew. Every place there is afterwards lies
    /// within one there was before: what fitted nowhere still does not.
    fn append(&mut self, problem: &Problem, at: usize, mut leaf: Node) {
        self.grow_above(at, 1);
        let to = at + self.nodes[at].len as usize;
        self.nodes[at].len += 1;
        leaf.parent = at as u16;
        self.make_room(to, 1);
        self.nodes[to] = leaf;
        let n = &mut self.nodes[at];
        let size = if n.mark == ALONG {
            (n.w + leaf.w, n.h.max(leaf.h))
        } else {
            (n.w.max(leaf.w), n.h + leaf.h)
        };
        self.resize(problem, at, size);
    }

    /// A piece and the leaf become a division, likewise.
    fn wrap(&mut self, problem: &Problem, at: usize, dir: Dir, mut leaf: Node) {
        self.grow_above(at, 2);
        self.make_room(at + 1, 2);
        let mut node = self.nodes[at];
        let mut division = Node::division(dir, 3);
        (division.parent, division.w, division.h) = (node.parent, node.w, node.h);
        node.parent = at as u16;
        leaf.parent = at as u16;
        self.nodes[at] = division;
        self.nodes[at + 1] = node;
        self.nodes[at + 2] = leaf;
        let size = match dir {
            Dir::Along => (node.w + leaf.w, node.h.max(leaf.h)),
            Dir::Down => (node.w.max(leaf.w), node.h + leaf.h),
        };
        self.resize(problem, at, size);
    }

    /// Moves the nodes from `from` on by so many positions.
    fn make_room(&mut self, from: usize, by: usize) {
        let n = self.nodes.len();
        self.nodes.resize(n + by, Node::division(Dir::Along, 1));
        self.nodes.copy_within(from..n, from + by);
        let moved = &mut self.nodes[from + by..];
        for node in moved.iter_mut().filter(|m| m.parent as usize >= from) {
            node.parent += by as u16;
        }
        rooms::fill_up(&mut self.rooms, n + by + 1);
        self.rooms.copy_within(from..n + 1, from + by);
    }

    /// A division or piece has a new size: sizes above it, and room below the highest that changed.
    fn resize(&mut self, problem: &Problem, mut at: usize, mut size: (i32, i32)) {
        let nodes = &mut self.nodes[..];
        loop {
            let node = &mut nodes[at];
            let (old, parent) = ((node.w, node.h), node.parent as usize);
            (node.w, node.h) = size;
            if at == 0 {
                break;
            }
            let above = &nodes[parent];
            let (more_w, more_h) = (size.0 - old.0, size.1 - old.1);
            let new = if above.mark == ALONG {
                (above.w + more_w, above.h.max(size.1))
            } else {
                (above.w.max(size.0), above.h + more_h)
            };
            if new == (above.w, above.h) {
                break;
            }
            (at, size) = (parent, new);
        }
        let end = at + nodes[at].len as usize;
        give_room(nodes, at..end);
        let beside_whole = self.nodes.len();
        rooms::find_one_each(self, problem, beside_whole..beside_whole + 1);
        rooms::find_one_each(self, problem, at..end);
        rooms::measure(self, problem);
    }

    fn grow_above(&mut self, mut at: usize, by: u16) {
        while at > 0 {
            at = self.nodes[at].parent as usize;
            self.nodes[at].len += by;
        }
    }

    /// Gathers the members of a strip that are no taller than the place says, and puts the leaf on top of them.
    fn stand_on_shortest(&mut self, at: usize, place: Place, leaf: Node) {
        let strip = place.dir.other();
        let end = at + self.nodes[at].len as usize;
        let (mut tall, mut short) = (Vec::new(), Vec::new());
        let mut child = at + 1;
        while child < end {
            let next = child + self.nodes[child].len as usize;
            let to = if self.nodes[child].cross(strip) <= place.limit {
                &mut short
            } else {
                &mut tall
            };
            to.extend_from_slice(&self.nodes[child..next]);
            child = next;
        }
        self.grow_above(at, 3);
        self.nodes[at].len += 3;
        let short_len = short.len() as u16;
        tall.push(Node::division(place.dir, short_len + 3));
        tall.push(Node::division(strip, short_len + 1));
        tall.append(&mut short);
        tall.push(leaf);
        self.nodes.splice(at + 1..end, tall);
    }

    /// Takes out every piece for which `drop` (by position) is true and tells its type. Divisions left with one part vanish, and a part that
    /// then lies in a division of its own direction is merged into it.
    pub(crate) fn remove(
        &mut self,
        problem: &Problem,
        drop: &[bool],
        scratch: &mut Vec<u16>,
        mut gone: impl FnMut(u32),
    ) {
        let n = self.nodes.len();
        // How many parts remain in each division.
        scratch.clear();
        scratch.resize(n, 0);
        for i in (0..n).rev() {
            let node = &self.nodes[i];
            let stays = if node.is_leaf() {
                if drop[i] {
                    let item = node.piece().0;
                    gone(item);
                    self.filled -= problem.items[item as usize].area;
                    self.pieces -= 1;
                }
                !drop[i]
            } else {
                scratch[i] > 0
            };
            scratch[i] = if node.is_leaf() {
                u16::from(stays)
            } else {
                scratch[i]
            };
            if stays && i > 0 {
                scratch[node.parent as usize] += 1;
            }
        }
        if self.pieces == 0 {
            let kind = self.kind;
            self.reset(problem, kind);
            return;
        }
        self.close_up(problem, scratch);
        self.refresh(problem);
    }

    /// Drops dead nodes; `state` tells how many parts each division has left (pieces: 1 if they stay).
    fn close_up(&mut self, problem: &Problem, state: &mut [u16]) {
        let fixed_root = problem.sheets[self.kind].first.is_some();
        let n = self.nodes.len();
        let (mut to, mut i) = (0, 0);
        while i < n {
            let mut node = self.nodes[i];
            if state[i] == 0 {
                i += node.len as usize;
                continue;
            }
            // One more than the new position of the division this node now lies in; a division that has been visited
            // keeps that number in `state`.
            let above = if i == 0 {
                0
            } else {
                state[node.parent as usize]
            };
            let stays = if node.is_leaf() {
                true
            } else {
                let merges = above > 0 && self.nodes[above as usize - 1].mark == node.mark;
                (state[i] >= 2 && !merges) || (i == 0 && fixed_root)
            };
            if stays {
                node.parent = above.saturating_sub(1);
                node.len = 1;
                self.nodes[to] = node;
                to += 1;
                state[i] = to as u16;
            } else {
                state[i] = above;
            }
            i += 1;
        }
        self.nodes.truncate(to);
        for i in (1..to).rev() {
            let Node { len, parent, .. } = self.nodes[i];
            self.nodes[parent as usize].len += len;
        }
    }
}
