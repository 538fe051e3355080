//! What one sheet can hold under edge-to-edge cuts: the most weight of any pattern.
//!
//! It is a table over pairs of lengths that sums of piece sides can reach: a rectangle holds its best single
//! piece, or what two rectangles hold that one cut makes of it (Gilmore & Gomory 1966; Beasley 1985). Where copies are
//! limited, `copies` does the same with counts.

use super::copies;

/// A kind of piece, sides a kerf longer than it is.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    /// (along, across) for each way it may lie.
    pub ways: Vec<(i64, i64)>,
    /// Its weight.
    pub weight: i64,
    /// How many there are.
    pub count: u32,
    /// Which limit on copies counts it.
    pub limit: Option<usize>,
}

/// Joins of two rectangles the referee is given for one sheet.
const WORK: u64 = 1_500_000_000;
/// Most rectangles in the table (8 bytes each).
const NUMBERS: usize = 20_000_000;

/// Every sum of sides up to `room`, ascending, without 0. `None` if there are too many.
fn sums(sides: &[i64], room: i64) -> Option<Vec<i64>> {
    let g = sides.iter().fold(0, |a, b| gcd(a, *b)).max(1);
    let cells = usize::try_from(room / g).ok()?;
    if cells > 4_000_000 {
        return None;
    }
    let mut reach = vec![false; cells + 1];
    reach[0] = true;
    for i in 0..=cells {
        if reach[i] {
            for s in sides {
                let j = i + (s / g) as usize;
                if j <= cells {
                    reach[j] = true;
                }
            }
        }
    }
    Some(
        (1..=cells)
            .filter(|i| reach[*i])
            .map(|i| i as i64 * g)
            .collect(),
    )
}

/// The sums that matter: where a row of blocks shares `room` with a sum, what is left for it counts only down to the next
/// sum, so every part may be taken as long as one of these (Scheithauer & Terno 1996). What such a part becomes when it is
/// cut is again one of them: with s the largest sum within room - p, the largest within s - q is the largest within
/// room - (p + q), for it fits beside q in what p leaves.
fn lengths(sums: &[i64], room: i64) -> Vec<i64> {
    let beside = std::iter::once(0).chain(sums.iter().copied());
    let mut kept: Vec<i64> = beside
        .filter_map(|p| {
            let fit = sums.partition_point(|s| *s <= room - p);
            fit.checked_sub(1).map(|last| sums[last])
        })
        .collect();
    kept.sort_unstable();
    kept.dedup();
    kept
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// The most weight a sheet of `room` holds, any number of copies beyond the limits. `None`: too much work to say.
pub(super) fn most_weight(shapes: &[Shape], limits: &[u32], room: (i64, i64)) -> Option<i64> {
    let shapes: Vec<Shape> = (shapes.iter().cloned())
        .map(|mut s| {
            s.ways.retain(|w| w.0 <= room.0 && w.1 <= room.1);
            s
        })
        .filter(|s| s.weight > 0 && s.count > 0 && !s.ways.is_empty())
        .collect();
    if shapes.is_empty() {
        return Some(0);
    }
    let along: Vec<i64> = shapes
        .iter()
        .flat_map(|s| s.ways.iter().map(|w| w.0))
        .collect();
    let across: Vec<i64> = shapes
        .iter()
        .flat_map(|s| s.ways.iter().map(|w| w.1))
        .collect();
    let (xs, ys) = (
        Lengths::new(lengths(&sums(&along, room.0)?, room.0)),
        Lengths::new(lengths(&sums(&across, room.1)?, room.1)),
    );
    if xs.at.len().saturating_mul(ys.at.len()) > NUMBERS {
        return None;
    }
    if limits.is_empty() {
        any_number(&shapes, &xs, &ys)
    } else {
        copies::most_weight(&shapes, limits, (&xs, &ys))
    }
}

/// The same with any number of copies.
fn any_number(shapes: &[Shape], xs: &Lengths, ys: &Lengths) -> Option<i64> {
    let (nx, ny) = (xs.at.len(), ys.at.len());
    // Where a rectangle, made longer, comes to hold more: only there is it worth cutting. One list for each width.
    let mut rises: Vec<Vec<u32>> = vec![Vec::new(); ny];
    let mut work = 0u64;
    let mut table = vec![0i64; nx * ny];
    for xi in 0..nx {
        let x = xs.at[xi];
        let (done, rest) = table.split_at_mut(xi * ny);
        let now = &mut rest[..ny];
        for s in shapes {
            for w in s.ways.iter().filter(|w| w.0 <= x) {
                let from = ys.at.partition_point(|y| *y < w.1);
                for cell in &mut now[from..] {
                    *cell = (*cell).max(s.weight);
                }
            }
        }
        let mut up: Vec<u32> = Vec::new();
        for yi in 0..ny {
            let y = ys.at[yi];
            let mut most = now[yi];
            // Cuts across: two pieces as wide as this one, finished earlier.
            for a in rises[yi].iter().map(|a| *a as usize) {
                let rest = x - xs.at[a];
                if rest < xs.at[a] {
                    break;
                }
                work += 1;
                let b = xs.last_within(rest);
                most = most.max(done[a * ny + yi].saturating_add(done[b * ny + yi]));
            }
            // Cuts along: two of the same length, narrower.
            for a in up.iter().map(|a| *a as usize) {
                let rest = y - ys.at[a];
                if rest < ys.at[a] {
                    break;
                }
                work += 1;
                most = most.max(now[a].saturating_add(now[ys.last_within(rest)]));
            }
            let narrower = if yi > 0 { now[yi - 1] } else { 0 };
            let shorter = if xi > 0 { done[(xi - 1) * ny + yi] } else { 0 };
            now[yi] = most.max(narrower).max(shorter);
            if now[yi] > narrower {
                up.push(yi as u32);
            }
            if now[yi] > shorter {
                rises[yi].push(xi as u32);
            }
        }
        if work > WORK {
            return None;
        }
    }
    table.last().copied()
}

/// Lengths that matter, ascending, and which is the last that is at most so long.
pub(super) struct Lengths {
    /// The lengths.
    pub at: Vec<i64>,
    unit: i64,
    last: Vec<u32>,
}

impl Lengths {
    fn new(at: Vec<i64>) -> Self {
        let unit = at.iter().fold(0, |a, b| gcd(a, *b)).max(1);
        let cells = at.last().map_or(0, |l| (l / unit) as usize);
        let mut last = vec![0u32; cells + 1];
        let mut next = 0;
        for (i, cell) in last.iter_mut().enumerate() {
            while next + 1 < at.len() && at[next + 1] <= i as i64 * unit {
                next += 1;
            }
            *cell = next as u32;
        }
        Self { at, unit, last }
    }

    /// For a length that is at least the first and at most the last.
    pub(super) fn last_within(&self, length: i64) -> usize {
        self.last[(length / self.unit) as usize] as usize
    }
}
