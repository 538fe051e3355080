//! Puts the parts together: plan, bound, certificate, in the task's own terms.

use super::bound::Proof;
use super::columns::{Pool, relax};
use super::dive::Diver;
use super::fill::fill;
use super::reduce::{Filling, Reduced};
use super::tidy::tidy;
use crate::model::certificate::Certificate;
use crate::model::task::{SolveOptions, StickAnswer, StickTask, UnplacedPiece};
use crate::model::{Effort, PlannedPiece, StickPlan};
use crate::units::{Cents, Length};

/// Work steps for each effort: range 10^6 to 10^11. A step is about a nanosecond's work.
fn budget(effort: Effort) -> u64 {
    match effort {
        Effort::Quick => 50_000_000,
        Effort::Normal => 1_500_000_000,
        Effort::Thorough => 20_000_000_000,
        Effort::About(steps) => steps,
    }
}

/// Plans sticks: everything placed first, then the least cost of what is bought, then the fewest sticks opened and the
/// longest leftovers. The answer depends on the task and the effort alone.
pub fn solve(task: &StickTask, options: &SolveOptions) -> StickAnswer {
    let r = Reduced::new(task);
    let counts = r.counts();
    let limits = r.limits();
    let all = budget(options.effort);
    let mut left = all;
    let mut best = fill(&r, &counts, &limits);
    let mut proof = Proof::by_length(&r, &counts);
    let mut by_length = true;
    let mut extra = 0;
    if !counts.is_empty() && (best.cost(&r) > proof.cost || best.missing.iter().any(|m| *m > 0)) {
        let mut pool = Pool::default();
        for u in &best.used {
            pool.add(&(u.class, u.pattern.clone()));
        }
        if let Some(root) = relax(&r, &counts, &limits, &mut pool, &mut left) {
            if root.proof.cost > proof.cost {
                proof = root.proof.clone();
                by_length = false;
            }
            let mut diver = Diver::new(&r, best, pool, proof.cost, left);
            diver.search(&root);
            (best, left) = (diver.best, diver.budget);
        }
    }
    for kind in several(&r, &best, &proof) {
        let mut steps = all / 8;
        best = alone(&r, best, kind, proof.cost, &mut steps);
        extra += all / 8 - steps;
    }
    tidy(&r, &mut best);
    let placed: Vec<u32> = counts
        .iter()
        .zip(&best.missing)
        .map(|(n, m)| n - m)
        .collect();
    let claim = claim(task, &r, &placed, &best, &proof, by_length, &mut left);
    let bought = best.cost(&r);
    let whole = best.missing.iter().all(|m| *m == 0);
    StickAnswer {
        sticks: plans(task, &r, &best),
        unplaced: unplaced(&r, &best),
        at_least: claim.at_least,
        cost_at_least: r.priced.then_some(Cents(claim.cost.min(bought))),
        proved: whole && claim.cost >= bought,
        certificate: claim.certificate,
        searched: all - left + extra,
    }
}

/// Most lengths that are each tried alone, range 2 to 10.
const MOST_ALONE: usize = 6;

/// The kinds that can be bought, where a mix of a few was searched and not proved.
fn several(r: &Reduced, best: &Filling, proof: &Proof) -> Vec<usize> {
    let mut kinds: Vec<usize> = (r.classes.iter())
        .filter(|c| c.bought)
        .map(|c| c.kind)
        .collect();
    kinds.sort_unstable();
    kinds.dedup();
    let proved = best.cost(r) <= proof.cost && best.missing.iter().all(|m| *m == 0);
    if proved || kinds.len() < 2 || kinds.len() > MOST_ALONE {
        kinds.clear();
    }
    kinds
}

/// The better of a plan and one that buys a single length: a mix must never be dearer than its best length alone.
fn alone(r: &Reduced, best: Filling, kind: usize, floor: i64, steps: &mut u64) -> Filling {
    let mut one = r.clone();
    for c in one
        .classes
        .iter_mut()
        .filter(|c| c.bought && c.kind != kind)
    {
        c.limit = 0;
    }
    let (counts, limits) = (one.counts(), one.limits());
    let first = fill(&one, &counts, &limits);
    let mut pool = Pool::default();
    for u in &first.used {
        pool.add(&(u.class, u.pattern.clone()));
    }
    let found = match relax(&one, &counts, &limits, &mut pool, steps) {
        Some(root) => {
            let mut diver = Diver::new(&one, first, pool, floor.max(root.proof.cost), *steps);
            diver.search(&root);
            *steps = diver.budget;
            diver.best
        }
        None => first,
    };
    if found.rank(r) < best.rank(r) {
        found
    } else {
        best
    }
}

struct Claim {
    cost: i64,
    at_least: u32,
    certificate: Certificate,
    /// True where plain lengths show it: then it stands without a certificate.
    plain: bool,
}

/// The strongest thing the weights at hand prove of the pieces placed.
fn claim(
    task: &StickTask,
    r: &Reduced,
    placed: &[u32],
    best: &Filling,
    proof: &Proof,
    by_length: bool,
    left: &mut u64,
) -> Claim {
    if !best.used.iter().any(|u| r.classes[u.class].bought) {
        return Claim {
            cost: 0,
            at_least: 0,
            certificate: Certificate::NothingToBuy,
            plain: true,
        };
    }
    if task.pieces.iter().any(|p| p.together.is_some()) {
        // The certificate speaks of pieces one by one, so its weights come from the task without groups.
        let mut single = task.clone();
        for p in &mut single.pieces {
            p.together = None;
        }
        for u in unplaced(r, best) {
            single.pieces[u.piece].count -= u.count;
        }
        let s = Reduced::new(&single);
        let counts = s.counts();
        let mut claim = Claim::by_length(&single, &s, &counts);
        if claim.cost < best.cost(r) {
            let limits = s.limits();
            if let Some(x) = relax(&s, &counts, &limits, &mut Pool::default(), left) {
                claim.better(&single, &s, &counts, &x.proof);
            }
        }
        return claim;
    }
    let mut claim = Claim::by_length(task, r, placed);
    if !by_length {
        claim.better(task, r, placed, &proof.for_counts(r, placed));
    }
    claim
}

impl Claim {
    fn by_length(task: &StickTask, r: &Reduced, counts: &[u32]) -> Self {
        let lengths = Proof::by_length(r, counts);
        let plain = lengths.plain(task, r, counts);
        Self {
            cost: lengths.cost,
            at_least: lengths.at_least(r, counts),
            certificate: lengths.certificate(task, r, counts, plain),
            plain,
        }
    }

    fn better(&mut self, task: &StickTask, r: &Reduced, counts: &[u32], proof: &Proof) {
        let at_least = proof.at_least(r, counts);
        if (proof.cost, at_least) > (self.cost, self.at_least) && proof.cost < i64::MAX {
            self.cost = proof.cost;
            let plain = if self.plain { self.at_least } else { 0 };
            self.at_least = at_least.max(plain);
            self.certificate = proof.certificate(task, r, counts, false);
        }
    }
}

/// What found no place, in the task's pieces.
fn unplaced(r: &Reduced, best: &Filling) -> Vec<UnplacedPiece> {
    let mut out: Vec<UnplacedPiece> = Vec::new();
    let mut add = |piece, count, fits_nothing| {
        let same = |u: &&mut UnplacedPiece| u.piece == piece && u.fits_nothing == fits_nothing;
        if let Some(u) = out.iter_mut().find(same) {
            u.count += count;
        } else {
            out.push(UnplacedPiece {
                piece,
                count,
                fits_nothing,
            });
        }
    };
    for (piece, count) in &r.misfits {
        add(*piece, *count, true);
    }
    for (s, missing) in r.sizes.iter().zip(&best.missing) {
        let mut left = *missing;
        for (member, n) in s.of.iter().rev() {
            let n = (*n).min(left);
            left -= n;
            if n > 0 {
                for (piece, copies) in member {
                    add(*piece, copies * n, false);
                }
            }
        }
    }
    out.sort_by_key(|u| u.piece);
    out
}

/// The sticks with real pieces on them, equal ones gathered.
fn plans(task: &StickTask, r: &Reduced, best: &Filling) -> Vec<StickPlan> {
    // Pieces of one size are handed out in the task's order; those missing are the last of them.
    let mut hand: Vec<Vec<(usize, u32)>> = (r.sizes.iter())
        .map(|s| {
            (s.of.iter().enumerate())
                .map(|(m, (_, n))| (m, *n))
                .collect()
        })
        .collect();
    let mut out: Vec<StickPlan> = Vec::new();
    for u in &best.used {
        let kind = &task.kinds[r.classes[u.class].kind];
        let mut times = u.times;
        while times > 0 {
            // How many sticks can be cut alike before a size runs over to its next mark.
            let mut alike = times;
            for (size, n) in &u.pattern {
                let first = hand[*size].iter().find(|(_, left)| *left > 0);
                let left = first.map_or(0, |(_, left)| *left);
                alike = alike.min((left / n).max(1));
            }
            let mut pieces: Vec<PlannedPiece> = Vec::new();
            for (size, n) in &u.pattern {
                let mut need = n * alike;
                for (member, left) in &mut hand[*size] {
                    let take = need.min(*left);
                    *left -= take;
                    need -= take;
                    let each = if alike > 1 { take / alike } else { take };
                    for _ in 0..each {
                        for (piece, copies) in &r.sizes[*size].of[*member].0 {
                            let p = &task.pieces[*piece];
                            pieces.extend((0..*copies).map(|_| PlannedPiece {
                                mark: p.mark.clone(),
                                length: p.length,
                            }));
                        }
                    }
                }
            }
            pieces.sort_by(|a, b| b.length.cmp(&a.length).then_with(|| a.mark.cmp(&b.mark)));
            let used: Length = pieces.iter().map(|p| p.length + task.kerf).sum();
            let plan = StickPlan {
                item: kind.item.clone(),
                rack: kind.rack.clone(),
                length: kind.length,
                count: alike,
                pieces,
                left: (kind.length - used).at_least_zero(),
            };
            let same = |p: &&mut StickPlan| {
                p.item == plan.item
                    && p.rack == plan.rack
                    && p.length == plan.length
                    && p.pieces == plan.pieces
            };
            if let Some(p) = out.iter_mut().find(same) {
                p.count += alike;
            } else {
                out.push(plan);
            }
            times -= alike;
        }
    }
    out
}
