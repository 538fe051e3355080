//! The last touch at one cost: close what need not be opened, and gather what remains into the longest leftovers.

use super::fill::{push, tighten};
use super::reduce::{Filling, Reduced};

/// More sticks than this are left as they are: the moves are tried pair by pair.
const MOST_STICKS: usize = 400;

struct Stick {
    class: usize,
    has: Vec<u32>,
    room: i64,
}

/// Moves things between sticks while that gathers the waste (the sum of squared leftovers grows), then drops the empty
/// ones. Never opens a stick, so the cost can only fall.
pub(super) fn tidy(r: &Reduced, filling: &mut Filling) {
    let count: usize = filling.used.iter().map(|u| u.times as usize).sum();
    if count <= MOST_STICKS {
        let mut sticks: Vec<Stick> = Vec::new();
        for u in &filling.used {
            for _ in 0..u.times {
                let mut has = vec![0; r.sizes.len()];
                let mut room = r.classes[u.class].cap;
                for (i, n) in &u.pattern {
                    has[*i] += n;
                    room -= i64::from(*n) * r.sizes[*i].long;
                }
                sticks.push(Stick {
                    class: u.class,
                    has,
                    room,
                });
            }
        }
        let mut rounds = 0;
        while rounds < 50 && gather(r, &mut sticks) {
            rounds += 1;
        }
        for from in 0..sticks.len() {
            if !r.classes[sticks[from].class].bought {
                shut(r, &mut sticks, from);
            }
        }
        // Gathering can make room for something that had none.
        for (i, missing) in filling.missing.iter_mut().enumerate() {
            let size = r.sizes[i].long;
            for s in &mut sticks {
                while *missing > 0 && s.room >= size {
                    *missing -= 1;
                    s.has[i] += 1;
                    s.room -= size;
                }
            }
        }
        filling.used.clear();
        for s in sticks {
            let pattern: Vec<(usize, u32)> = (s.has.iter().enumerate())
                .filter(|(_, n)| **n > 0)
                .map(|(i, n)| (i, *n))
                .collect();
            if !pattern.is_empty() {
                push(&mut filling.used, s.class, pattern, 1);
            }
        }
    }
    // What is left of a stick may go on a cheaper one, or on one in hand that was too short for all of it.
    tighten(r, &r.limits(), filling);
    let full = |class: usize, p: &[(usize, u32)]| {
        r.classes[class].cap
            - p.iter()
                .map(|(i, n)| r.sizes[*i].long * i64::from(*n))
                .sum::<i64>()
    };
    // Free ones first, longest first, fullest first: the order of work at the saw.
    filling.used.sort_by_key(|u| {
        let c = &r.classes[u.class];
        (
            c.bought,
            std::cmp::Reverse(c.cap),
            c.kind,
            full(u.class, &u.pattern),
            u.pattern.clone(),
        )
    });
}

/// Empties a free stick onto what is open beside it, where all of it goes there: nothing is taken from the rack for
/// what a bought stick has room for.
fn shut(r: &Reduced, sticks: &mut [Stick], from: usize) {
    let mut room: Vec<i64> = sticks.iter().map(|s| s.room).collect();
    let open = |s: &Stick| s.has.iter().any(|n| *n > 0);
    let mut moves: Vec<(usize, usize)> = Vec::new();
    // Longest first, each to the fullest stick that takes it.
    for (i, n) in sticks[from].has.iter().enumerate() {
        for _ in 0..*n {
            let size = r.sizes[i].long;
            let to = (0..sticks.len())
                .filter(|to| *to != from && open(&sticks[*to]) && room[*to] >= size)
                .min_by_key(|to| room[*to]);
            let Some(to) = to else { return };
            room[to] -= size;
            moves.push((i, to));
        }
    }
    for (i, to) in moves {
        let size = r.sizes[i].long;
        sticks[from].has[i] -= 1;
        sticks[from].room += size;
        sticks[to].has[i] += 1;
        sticks[to].room -= size;
    }
}

/// One round of moves from a stick to a fuller one. True if any was made.
fn gather(r: &Reduced, sticks: &mut [Stick]) -> bool {
    let mut moved = false;
    for from in 0..sticks.len() {
        for to in 0..sticks.len() {
            if from == to
                || sticks[to].room > sticks[from].room && !clears(r, &sticks[from], &sticks[to])
            {
                continue;
            }
            for i in 0..r.sizes.len() {
                let size = r.sizes[i].long;
                while sticks[from].has[i] > 0 && sticks[to].room >= size {
                    sticks[from].has[i] -= 1;
                    sticks[from].room += size;
                    sticks[to].has[i] += 1;
                    sticks[to].room -= size;
                    moved = true;
                }
            }
        }
    }
    moved
}

/// True if everything on a stick would go on another, so that the first stays shut.
fn clears(r: &Reduced, from: &Stick, to: &Stick) -> bool {
    let used = r.classes[from.class].cap - from.room;
    let dear = r.classes[from.class].cost >= r.classes[to.class].cost;
    used > 0 && used <= to.room && dear
}
