//! A first plan in one pass: stick after stick, each filled as full as what is left allows.
//!
//! Each stick takes the longest thing left and then the fullest set beside it (the minimum-slack rule, Gupta & Ho 1999),
//! on the class that comes out cheapest for the length it uses. Best-fit decreasing runs beside it, and the better stays.

use super::knapsack::{Thing, best_set};
use super::reduce::{Class, Filling, Pattern, Reduced, Used};

/// Which classes a pass prefers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Prefer {
    /// Cheapest for the length it uses; free ones first.
    Cheapest,
    /// The fullest, free ones first.
    Fullest,
    /// One bought class only, after the free ones.
    Only(usize),
}

/// Steps one stick's filling may take.
const FILL_STEPS: u64 = 400_000;

/// The best of the quick passes for what is left of each size and class.
pub(super) fn fill(r: &Reduced, demand: &[u32], limits: &[u32]) -> Filling {
    let mut best: Option<Filling> = None;
    let mut ways = vec![Prefer::Cheapest];
    let paid: Vec<usize> = (0..r.classes.len())
        .filter(|j| r.classes[*j].bought)
        .collect();
    if r.classes.len() > 1 {
        ways.push(Prefer::Fullest);
    }
    if paid.len() > 1 {
        ways.extend(paid.iter().map(|j| Prefer::Only(*j)));
    }
    for prefer in ways {
        for fitted in [false, true] {
            let mut filling = pass(r, demand, limits, prefer, fitted);
            tighten(r, limits, &mut filling);
            if best.as_ref().is_none_or(|b| filling.rank(r) < b.rank(r)) {
                best = Some(filling);
            }
        }
    }
    best.unwrap_or_default()
}

/// One pass. `fitted`: fill by the exact fullest set, else longest thing that fits first.
fn pass(r: &Reduced, demand: &[u32], limits: &[u32], prefer: Prefer, fitted: bool) -> Filling {
    let mut left = demand.to_vec();
    let mut limits = limits.to_vec();
    let mut used: Vec<Used> = Vec::new();
    let mut missing = vec![0; demand.len()];
    while let Some(first) = left.iter().position(|n| *n > 0) {
        let rest: i64 = left
            .iter()
            .zip(&r.sizes)
            .map(|(n, s)| i64::from(*n) * s.long)
            .sum();
        let mut best: Option<(Score, usize, Pattern)> = None;
        let mut last_cap = (-1, Pattern::new());
        for (j, c) in r.classes.iter().enumerate() {
            let allowed = match prefer {
                Prefer::Only(only) => !c.bought || j == only,
                _ => true,
            };
            if limits[j] == 0 || !allowed || c.cap < r.sizes[first].long {
                continue;
            }
            if last_cap.0 != c.cap {
                last_cap = (c.cap, one_stick(r, &left, first, c.cap, fitted));
            }
            let set = last_cap.1.clone();
            let full: i64 = set
                .iter()
                .map(|(i, n)| i64::from(*n) * r.sizes[*i].long)
                .sum();
            let score = Score::of(c, full, full == rest, prefer);
            if best.as_ref().is_none_or(|(s, ..)| score.beats(s)) {
                best = Some((score, j, set));
            }
        }
        let Some((_, class, pattern)) = best else {
            missing[first] += left[first];
            left[first] = 0;
            continue;
        };
        let copies = pattern.iter().map(|(i, n)| left[*i] / n).min().unwrap_or(1);
        let times = copies.min(limits[class]).max(1);
        for (i, n) in &pattern {
            left[*i] -= n * times;
        }
        if limits[class] != u32::MAX {
            limits[class] -= times;
        }
        push(&mut used, class, pattern, times);
    }
    Filling { used, missing }
}

/// Adds sticks to a list, gathering equal ones.
pub(super) fn push(used: &mut Vec<Used>, class: usize, pattern: Pattern, times: u32) {
    match used
        .iter_mut()
        .find(|u| u.class == class && u.pattern == pattern)
    {
        Some(u) => u.times += times,
        None => used.push(Used {
            class,
            pattern,
            times,
        }),
    }
}

/// Moves each stick's pieces to the cheapest class that is still to be had and holds them.
pub(super) fn tighten(r: &Reduced, limits: &[u32], filling: &mut Filling) {
    let mut left = limits.to_vec();
    for u in &filling.used {
        if left[u.class] != u32::MAX {
            left[u.class] = left[u.class].saturating_sub(u.times);
        }
    }
    let mut at = 0;
    while let Some(u) = filling.used.get_mut(at) {
        let full: i64 = (u.pattern.iter())
            .map(|(i, n)| i64::from(*n) * r.sizes[*i].long)
            .sum();
        let now = &r.classes[u.class];
        let better = (0..r.classes.len())
            .filter(|j| r.classes[*j].cap >= full && left[*j] > 0)
            .filter(|j| r.classes[*j].cost < now.cost)
            .min_by_key(|j| (r.classes[*j].cost, r.classes[*j].cap));
        let Some(j) = better else {
            at += 1;
            continue;
        };
        // As many as there are; the others are looked at again.
        let times = u.times.min(left[j]);
        if left[u.class] != u32::MAX {
            left[u.class] += times;
        }
        if left[j] != u32::MAX {
            left[j] -= times;
        }
        let moved = Used {
            class: j,
            pattern: u.pattern.clone(),
            times,
        };
        u.times -= times;
        if u.times == 0 {
            *u = moved;
        } else {
            filling.used.push(moved);
        }
    }
}

/// How good a stick is: cost for each unit used, with the last stick judged by cost alone.
struct Score {
    free: bool,
    ends: bool,
    cost: i64,
    full: i64,
    cap: i64,
    by_fullness: bool,
}

impl Score {
    fn of(c: &Class, full: i64, ends: bool, prefer: Prefer) -> Self {
        Self {
            free: !c.bought,
            ends,
            cost: c.cost,
            full,
            cap: c.cap,
            by_fullness: prefer == Prefer::Fullest,
        }
    }
    fn beats(&self, o: &Self) -> bool {
        if self.free != o.free {
            return self.free;
        }
        if !self.free && (self.ends || o.ends) && self.cost != o.cost {
            // Compare finishing now with one more stick of the other kind: the cheaper stick wins if it also ends.
            if self.ends && o.ends {
                return self.cost < o.cost;
            }
        }
        let ratio = |a: i64, b: i64| i128::from(a) * i128::from(b);
        let (mine, theirs) = if self.free || self.by_fullness {
            (ratio(o.full, self.cap), ratio(self.full, o.cap))
        } else {
            (ratio(self.cost, o.full), ratio(o.cost, self.full))
        };
        mine < theirs || (mine == theirs && self.cap < o.cap)
    }
}

/// What goes on one stick with the longest thing left.
fn one_stick(r: &Reduced, left: &[u32], first: usize, cap: i64, fitted: bool) -> Pattern {
    let room = cap - r.sizes[first].long;
    let others = |i: usize| left[i] - u32::from(i == first);
    let mut set: Pattern = Vec::new();
    if fitted {
        let things: Vec<Thing> = (first..left.len())
            .filter(|i| others(*i) > 0 && r.sizes[*i].long <= room)
            .map(|i| Thing {
                id: i,
                size: r.sizes[i].long,
                worth: r.sizes[i].long,
                copies: others(i),
            })
            .collect();
        if let Some(best) = best_set(&things, room, &mut FILL_STEPS.clone()) {
            set = best.set;
        }
    }
    if set.is_empty() {
        let mut room = room;
        for i in first..left.len() {
            let n = i64::from(others(i)).min(room / r.sizes[i].long);
            if n > 0 {
                room -= n * r.sizes[i].long;
                set.push((i, n as u32));
            }
        }
    }
    match set.iter_mut().find(|(i, _)| *i == first) {
        Some((_, n)) => *n += 1,
        None => set.push((first, 1)),
    }
    set.sort_unstable();
    set
}
