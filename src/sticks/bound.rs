//! What weights prove: the least cost of sticks that can hold a total weight, and the certificate that says so.

use super::reduce::Reduced;
use crate::model::certificate::{Certificate, Holds, PieceWeight, WeightRule, WeightsProof};
use crate::model::task::StickTask;

/// A class in the covering problem: each one costs `cost`, holds `most` weight, and there are `limit`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cover {
    /// Cost of one.
    pub cost: i64,
    /// Most weight one holds.
    pub most: i64,
    /// How many there are.
    pub limit: u32,
}

/// Steps the covering search may take before it settles for the fractional bound.
const COVER_STEPS: u32 = 200_000;

/// The least cost of sticks that together hold `need`; `None` if all there are do not.
pub(super) fn least_cost(classes: &[Cover], need: i128) -> Option<i64> {
    let mut left = need;
    let mut paid: Vec<Cover> = Vec::new();
    for c in classes.iter().filter(|c| c.most > 0) {
        if c.cost <= 0 {
            left -= i128::from(c.most) * i128::from(c.limit);
        } else {
            paid.push(*c);
        }
    }
    if left <= 0 {
        return Some(0);
    }
    let all: i128 = paid
        .iter()
        .map(|c| i128::from(c.most) * i128::from(c.limit))
        .sum();
    if all < left {
        return None;
    }
    paid.sort_by(|a, b| {
        (i128::from(a.cost) * i128::from(b.most))
            .cmp(&(i128::from(b.cost) * i128::from(a.most)))
            .then(b.most.cmp(&a.most))
    });
    let mut best = i64::MAX;
    let mut steps = COVER_STEPS;
    search(&paid, left, 0, &mut best, &mut steps);
    if steps == 0 {
        best = fractional(&paid, left).max(0);
    }
    Some(best)
}

/// Cost of covering `left` with parts of sticks, cheapest for their weight first, rounded up.
fn fractional(paid: &[Cover], mut left: i128) -> i64 {
    let mut cost: i128 = 0;
    for c in paid {
        let all = i128::from(c.most) * i128::from(c.limit);
        if all >= left {
            let part = left * i128::from(c.cost);
            return i64::try_from(cost + (part + i128::from(c.most) - 1) / i128::from(c.most))
                .unwrap_or(i64::MAX);
        }
        cost += i128::from(c.cost) * i128::from(c.limit);
        left -= all;
    }
    i64::MAX
}

fn search(paid: &[Cover], left: i128, spent: i64, best: &mut i64, steps: &mut u32) {
    if left <= 0 {
        *best = (*best).min(spent);
        return;
    }
    if *steps == 0 || paid.is_empty() || fractional(paid, left).saturating_add(spent) >= *best {
        return;
    }
    *steps -= 1;
    let c = paid[0];
    let most = i128::from(c.most);
    let full = ((left + most - 1) / most).min(i128::from(c.limit)) as i64;
    for n in (0..=full).rev() {
        if *steps == 0 {
            return;
        }
        let cost = spent.saturating_add(c.cost.saturating_mul(n));
        search(&paid[1..], left - most * i128::from(n), cost, best, steps);
    }
}

/// Weights that prove a bound: one for each size, and what one stick of each class holds of them.
#[derive(Clone, Debug)]
pub(super) struct Proof {
    /// Weight of each size.
    pub weights: Vec<i64>,
    /// Most weight of each class.
    pub most: Vec<i64>,
    /// The bound.
    pub cost: i64,
}

impl Proof {
    /// Total weight of what is asked.
    fn need(&self, counts: &[u32]) -> i128 {
        self.weights
            .iter()
            .zip(counts)
            .map(|(w, n)| i128::from(*w) * i128::from(*n))
            .sum()
    }

    /// Classes as the covering problem sees them, at the prices of `cost`.
    fn covers(&self, limits: &[u32], cost: impl Fn(usize) -> i64) -> Vec<Cover> {
        (self.most.iter().zip(limits).enumerate())
            .map(|(j, (most, limit))| Cover {
                cost: cost(j),
                most: *most,
                limit: *limit,
            })
            .collect()
    }

    /// Makes a proof of weights and what they come to for `counts`.
    pub(super) fn new(
        r: &Reduced,
        counts: &[u32],
        limits: &[u32],
        weights: Vec<i64>,
        most: Vec<i64>,
    ) -> Self {
        let mut proof = Self {
            weights,
            most,
            cost: 0,
        };
        let need = proof.need(counts);
        proof.cost =
            least_cost(&proof.covers(limits, |j| r.classes[j].cost), need).unwrap_or(i64::MAX);
        proof
    }

    /// The plainest weights: each thing weighs its length.
    pub(super) fn by_length(r: &Reduced, counts: &[u32]) -> Self {
        let weights = r.sizes.iter().map(|s| s.long).collect();
        let most = r.classes.iter().map(|c| c.cap).collect();
        Self::new(r, counts, &r.limits(), weights, most)
    }

    /// The same weights for other counts.
    pub(super) fn for_counts(&self, r: &Reduced, counts: &[u32]) -> Self {
        Self::new(
            r,
            counts,
            &r.limits(),
            self.weights.clone(),
            self.most.clone(),
        )
    }

    /// Least number bought.
    pub(super) fn at_least(&self, r: &Reduced, counts: &[u32]) -> u32 {
        let covers = self.covers(&r.limits(), |j| i64::from(r.classes[j].bought));
        least_cost(&covers, self.need(counts)).map_or(0, |n| u32::try_from(n).unwrap_or(0))
    }

    /// True if plain lengths show as much: rounding to the common divisor, or stock that is too short for any piece, can
    /// make the reduced lengths say more.
    pub(super) fn plain(&self, task: &StickTask, r: &Reduced, counts: &[u32]) -> bool {
        let kerf = task.kerf;
        let piece = |(p, n): &(usize, u32)| {
            i128::from((task.pieces[*p].length + kerf).units()) * i128::from(*n)
        };
        let mut need = 0;
        for (s, count) in r.sizes.iter().zip(counts) {
            let one: i128 = s.of[0].0.iter().map(piece).sum();
            need += one * i128::from(*count);
        }
        let (costs, _) = super::reduce::kind_costs(task);
        let covers = |bought: &dyn Fn(usize) -> i64| -> Vec<Cover> {
            (task.kinds.iter().enumerate())
                .flat_map(|(i, k)| {
                    let most = (k.length + kerf).units();
                    let limit = k.at_most.unwrap_or(u32::MAX);
                    [
                        Cover {
                            cost: 0,
                            most,
                            limit: k.have,
                        },
                        Cover {
                            cost: bought(i),
                            most,
                            limit,
                        },
                    ]
                })
                .collect()
        };
        least_cost(&covers(&|i| costs[i]), need) == Some(self.cost)
            && least_cost(&covers(&|_| 1), need) == Some(i64::from(self.at_least(r, counts)))
    }

    /// The certificate. `by_length`: the weights are lengths; else they are free and a stick holds the best set of the
    /// copies that exist. Things of a group get their weight shared out by length, rounded down: the group's members
    /// taken singly can fill a stick better than together, so the caller checks that `most` still holds.
    pub(super) fn certificate(
        &self,
        task: &StickTask,
        r: &Reduced,
        counts: &[u32],
        by_length: bool,
    ) -> Certificate {
        let mut weights: Vec<PieceWeight> = Vec::new();
        for (i, s) in r.sizes.iter().enumerate() {
            let mut left = counts[i];
            for (member, n) in &s.of {
                let n = (*n).min(left);
                left -= n;
                for (piece, copies) in member {
                    let p = &task.pieces[*piece];
                    let weight = if by_length {
                        (p.length + task.kerf).units()
                    } else {
                        self.weights[i]
                    };
                    if n > 0 && weight > 0 {
                        weights.push(PieceWeight {
                            mark: p.mark.clone(),
                            count: n * copies,
                            weight,
                        });
                    }
                }
            }
        }
        let holds = task
            .kinds
            .iter()
            .enumerate()
            .map(|(kind, k)| Holds {
                item: k.item.clone(),
                rack: k.rack.clone(),
                most: if by_length {
                    (k.length + task.kerf).units()
                } else {
                    (r.classes.iter().zip(&self.most))
                        .find(|(c, _)| c.kind == kind)
                        .map_or(0, |(_, m)| *m)
                },
            })
            .collect();
        Certificate::Weights(WeightsProof {
            rule: if by_length {
                WeightRule::Area
            } else {
                WeightRule::Pattern {
                    capped: true,
                    limits: Vec::new(),
                }
            },
            weights,
            holds,
        })
    }
}
