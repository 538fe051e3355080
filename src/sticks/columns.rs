//! Column generation: the least cost of parts of sticks, with every possible way of cutting one in reach.
//!
//! Source of the method: Gilmore & Gomory, Operations Research 9 (1961) 849-859. The prices of the sizes are scaled to
//! whole numbers before the knapsack sees them, so what it says of them is exact and becomes the certificate's weights.

use super::bound::Proof;
use super::knapsack::{Best, Thing, best_set};
use super::master::{Column, Master};
use super::reduce::{Pattern, Reduced};

/// A pattern and the class it is for.
pub(super) type Way = (usize, Pattern);

/// Patterns seen so far, reused from one programme to the next.
#[derive(Default)]
pub(super) struct Pool {
    ways: Vec<Way>,
    seen: std::collections::BTreeSet<Way>,
}

impl Pool {
    /// Adds a way; false if it is there already.
    pub(super) fn add(&mut self, way: &Way) -> bool {
        let new = self.seen.insert(way.clone());
        if new {
            self.ways.push(way.clone());
        }
        new
    }
}

/// What a programme gives.
pub(super) struct Relaxed {
    /// Ways in use and how much of each.
    pub used: Vec<(Way, f64)>,
    /// The bound its prices prove, whole.
    pub proof: Proof,
}

/// Whole-number scale of the dearest class's cost: weights keep about nine digits.
const SCALE: f64 = 1e9;

/// Solves the programme for `demand` pieces of each size and `limits` sticks of each class.
pub(super) fn relax(
    r: &Reduced,
    demand: &[u32],
    limits: &[u32],
    pool: &mut Pool,
    budget: &mut u64,
) -> Option<Relaxed> {
    let rows_of: Vec<usize> = (0..demand.len()).filter(|i| demand[*i] > 0).collect();
    let mut row_at = vec![usize::MAX; demand.len()];
    for (row, i) in rows_of.iter().enumerate() {
        row_at[*i] = row;
    }
    let total: u64 = demand.iter().map(|n| u64::from(*n)).sum();
    let mut limit_row = vec![None; r.classes.len()];
    // A hair more than whole demands keeps the corners of the programme apart, so that it does not stall.
    let mut right: Vec<f64> = (rows_of.iter().enumerate())
        .map(|(k, i)| f64::from(demand[*i]) + 1e-5 * (1.0 + ((k * 7919) % 101) as f64 / 101.0))
        .collect();
    let dearest = r.classes.iter().map(|c| c.cost).max()?.max(1) as f64;
    let mut unit_costs = vec![dearest * 1000.0; right.len()];
    for (j, c) in r.classes.iter().enumerate() {
        if c.limit != u32::MAX && u64::from(limits[j]) < total {
            limit_row[j] = Some(right.len());
            right.push(f64::from(limits[j]));
            unit_costs.push(0.0);
        }
    }
    let mut master = Master::new(&right, &unit_costs);
    let mut ways: Vec<Option<Way>> = vec![None; right.len()];
    for row in 0..rows_of.len() {
        master.add(Column {
            cost: 0.0,
            rows: vec![(row, -1.0)],
        });
        ways.push(None);
    }
    let enter = |master: &mut Master, ways: &mut Vec<Option<Way>>, way: &Way| {
        let mut rows: Vec<(usize, f64)> = (way.1.iter())
            .map(|(i, n)| (row_at[*i], f64::from(*n)))
            .collect();
        rows.extend(limit_row[way.0].map(|row| (row, 1.0)));
        master.add(Column {
            cost: r.classes[way.0].cost as f64,
            rows,
        });
        ways.push(Some(way.clone()));
    };
    for way in &pool.ways {
        if limits[way.0] > 0 && way.1.iter().all(|(i, n)| *n <= demand[*i]) {
            enter(&mut master, &mut ways, way);
        }
    }
    let scale = SCALE / dearest;
    loop {
        if !master.optimise(budget) {
            return None;
        }
        let mut weights = vec![0i64; demand.len()];
        let mut things = Vec::new();
        for (row, i) in rows_of.iter().enumerate() {
            weights[*i] = (master.duals[row].max(0.0) * scale) as i64;
            things.push(Thing {
                id: *i,
                size: r.sizes[*i].long,
                worth: weights[*i],
                copies: demand[*i],
            });
        }
        let mut most = vec![0i64; r.classes.len()];
        let mut fresh: Vec<Way> = Vec::new();
        let mut known: Vec<(i64, Best)> = Vec::new();
        for (j, c) in r.classes.iter().enumerate() {
            let at = known.iter().position(|(cap, _)| *cap == c.cap);
            let at = if let Some(at) = at {
                at
            } else {
                known.push((c.cap, best_set(&things, c.cap, budget)?));
                known.len() - 1
            };
            let best = &known[at].1;
            most[j] = best.worth;
            let rent = limit_row[j].map_or(0.0, |row: usize| master.duals[row].min(0.0));
            let price = (c.cost as f64 - rent) * scale;
            if limits[j] > 0 && best.worth as f64 > price + SCALE * 1e-6 {
                fresh.push((j, best.set.clone()));
            }
        }
        let mut added = false;
        for way in fresh {
            // A way that is there already is one the simplex holds to be no better: then its sums are at their limit.
            if pool.add(&way) {
                enter(&mut master, &mut ways, &way);
                added = true;
            }
        }
        if added {
            continue;
        }
        let used = (master.in_use().into_iter())
            .filter_map(|(j, x)| ways[j].clone().map(|w| (w, x)))
            .collect();
        let proof = Proof::new(r, demand, limits, weights, most);
        return Some(Relaxed { used, proof });
    }
}
