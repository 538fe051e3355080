//! What one sheet can hold under edge-to-edge cuts: the most weight of any pattern.
//!
//! It is a table over pairs of lengths that sums of piece sides can reach: a rectangle holds its best single
//! piece, or what two rectangles hold that one cut makes of it (Gilmore & Gomory 1966; Beasley 1985). Counters may ride
//! along, one for each limit on copies.

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
/// Most numbers in the table (8 bytes each).
const NUMBERS: usize = 20_000_000;
/// Most states of the counters.
const STATES: usize = 4_096;

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

/// The counters' states, mixed radix: for each, the ways to share it between two sides of a cut.
fn shares(limits: &[u32]) -> Option<Vec<Vec<(usize, usize)>>> {
    let mut states = 1usize;
    for l in limits {
        states = states
            .checked_mul(*l as usize + 1)
            .filter(|s| *s <= STATES)?;
    }
    let digits = |mut s: usize| -> Vec<usize> {
        limits
            .iter()
            .map(|l| {
                let d = s % (*l as usize + 1);
                s /= *l as usize + 1;
                d
            })
            .collect()
    };
    let all: Vec<Vec<usize>> = (0..states).map(digits).collect();
    Some(
        (0..states)
            .map(|c| {
                (0..=c)
                    .filter(|a| all[*a].iter().zip(&all[c]).all(|(x, y)| x <= y))
                    .map(|a| (a, c - a))
                    .collect()
            })
            .collect(),
    )
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
        lengths(&sums(&along, room.0)?, room.0),
        lengths(&sums(&across, room.1)?, room.1),
    );
    let shares = shares(limits)?;
    let states = shares.len();
    let pairs = shares.iter().map(Vec::len).sum::<usize>() as u64;
    let (nx, ny) = (xs.len(), ys.len());
    if nx.saturating_mul(ny).saturating_mul(states) > NUMBERS {
        return None;
    }
    let (x_at, y_at) = (Steps::new(&xs), Steps::new(&ys));
    // Where a rectangle, made longer, comes to hold more: only there is it worth cutting. One list for each width.
    let mut rises: Vec<Vec<u32>> = vec![Vec::new(); ny];
    let mut work = 0u64;
    // What each single piece needs of the counters: its state's digit.
    let mut radix = 1usize;
    let mut unit = Vec::new();
    for l in limits {
        unit.push(radix);
        radix *= *l as usize + 1;
    }
    let has =
        |c: usize, limit: usize| !(c / unit[limit]).is_multiple_of(limits[limit] as usize + 1);
    let row = ny * states;
    let mut table = vec![0i64; nx * row];
    for xi in 0..nx {
        let (done, rest) = table.split_at_mut(xi * row);
        let now = &mut rest[..row];
        for s in &shapes {
            for w in s.ways.iter().filter(|w| w.0 <= xs[xi]) {
                let from = ys.partition_point(|y| *y < w.1);
                for cells in now[from * states..].chunks_exact_mut(states) {
                    for (c, cell) in cells.iter_mut().enumerate() {
                        if s.limit.is_none_or(|l| has(c, l)) {
                            *cell = (*cell).max(s.weight);
                        }
                    }
                }
            }
        }
        let mut up: Vec<u32> = Vec::new();
        for yi in 0..ny {
            let (below, at) = now.split_at_mut(yi * states);
            let cell = &mut at[..states];
            let here = |x: usize| x * row + yi * states;
            // Cuts across: two pieces as wide as this one, finished earlier.
            for a in rises[yi].iter().map(|a| *a as usize) {
                let rest = xs[xi] - xs[a];
                if rest < xs[a] {
                    break;
                }
                let b = x_at.last_within(rest);
                work += pairs;
                join(
                    cell,
                    &done[here(a)..][..states],
                    &done[here(b)..][..states],
                    &shares,
                );
            }
            // Cuts along: two of the same length, narrower.
            for a in up.iter().map(|a| *a as usize) {
                let rest = ys[yi] - ys[a];
                if rest < ys[a] {
                    break;
                }
                let b = y_at.last_within(rest);
                work += pairs;
                join(
                    cell,
                    &below[a * states..][..states],
                    &below[b * states..][..states],
                    &shares,
                );
            }
            let narrower = (yi > 0).then(|| &below[(yi - 1) * states..]);
            let shorter = (xi > 0).then(|| &done[here(xi - 1)..]);
            for smaller in [narrower, shorter].into_iter().flatten() {
                for (c, s) in cell.iter_mut().zip(smaller) {
                    *c = (*c).max(*s);
                }
            }
            if more_than(cell, narrower) {
                up.push(yi as u32);
            }
            if more_than(cell, shorter) {
                rises[yi].push(xi as u32);
            }
        }
        if work > WORK {
            return None;
        }
    }
    table
        .chunks_exact(states)
        .last()
        .and_then(|cells| cells.iter().copied().max())
}

/// True where a rectangle holds more than a smaller one, in some state.
fn more_than(cell: &[i64], smaller: Option<&[i64]>) -> bool {
    match smaller {
        None => cell.iter().any(|c| *c > 0),
        Some(smaller) => cell.iter().zip(smaller).any(|(c, s)| c > s),
    }
}

/// Sums by length: which is the last that is at most so long.
struct Steps {
    unit: i64,
    at: Vec<u32>,
}

impl Steps {
    fn new(sums: &[i64]) -> Self {
        let unit = sums.iter().fold(0, |a, b| gcd(a, *b)).max(1);
        let cells = sums.last().map_or(0, |l| (l / unit) as usize);
        let mut at = vec![0u32; cells + 1];
        let mut next = 0;
        for (i, cell) in at.iter_mut().enumerate() {
            while next + 1 < sums.len() && sums[next + 1] <= i as i64 * unit {
                next += 1;
            }
            *cell = next as u32;
        }
        Self { unit, at }
    }
    /// For a length that is at least the first sum and at most the last.
    fn last_within(&self, length: i64) -> usize {
        self.at[(length / self.unit) as usize] as usize
    }
}

/// Raises a cell, state by state, to what two pieces `a`, `b` side by side hold.
fn join(to: &mut [i64], a: &[i64], b: &[i64], shares: &[Vec<(usize, usize)>]) {
    if let ([to], [a], [b]) = (&mut *to, a, b) {
        *to = (*to).max(a.saturating_add(*b));
        return;
    }
    for (t, ways) in to.iter_mut().zip(shares) {
        for (i, j) in ways {
            *t = (*t).max(a[*i].saturating_add(b[*j]));
        }
    }
}
