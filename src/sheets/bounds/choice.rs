//! A plan chosen among many sets of pieces, each of which one sheet can hold.
//!
//! At every step the linear program over the sets is solved: where it needs more sheets than there are no choice leads on,
//! and a set whose reduced cost passes what the program leaves is in no plan. Of the set that is used most, the piece that
//! fewest sets hold is looked at: one of those sets must be chosen. They are tried in the order of their use, and how far
//! from the first choices a plan may lie grows bit by bit (limited discrepancy search: Harvey & Ginsberg, IJCAI 1995).

use crate::solve::master::Master;

/// Price at which a piece may stay without a set: more than a set is worth.
const TOP: f64 = 4.0;
/// Rounding of the program.
const TINY: f64 = 1e-6;
/// Ranks of all choices together, tried one after the other; where there may be more sets yet, only the first.
const SLIPS: [u32; 3] = [4, 12, u32::MAX];
/// Work steps of a set that goes into a program.
const SET: u64 = 8;
/// Sets that the program looks at first: those that cost least at the prices of the one before. Default 500, range 100..=2,000.
const FIRST: usize = 500;

/// What a set holds: types, and how many of each.
pub(super) type Set = Vec<(u16, u8)>;

/// All sets, one after the other: they are walked through for every program.
struct Sets {
    held: Vec<(u16, u8)>,
    /// Where each begins, and the end.
    from: Vec<u32>,
}

impl Sets {
    fn new(sets: &[Set]) -> Self {
        let mut all = Self {
            held: Vec::with_capacity(sets.iter().map(Vec::len).sum()),
            from: Vec::with_capacity(sets.len() + 1),
        };
        for set in sets {
            all.from.push(all.held.len() as u32);
            all.held.extend(set);
        }
        all.from.push(all.held.len() as u32);
        all
    }

    fn get(&self, set: u32) -> &[(u16, u8)] {
        let set = set as usize;
        &self.held[self.from[set] as usize..self.from[set + 1] as usize]
    }
}

/// How a choice ended.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Chosen {
    /// Positions of the sets of a plan.
    Plan(Vec<u32>),
    /// No choice among these sets is a plan.
    None,
    /// Not all was tried.
    Stopped,
}

/// Sets that together hold at least so many of each type, no more than `sheets` of them. `all`: there will be no more sets.
pub(super) fn choose(
    sets: &[Set],
    (counts, sheets): (&[u8], u32),
    all: bool,
    steps: &mut u64,
) -> Chosen {
    let all_sets = Sets::new(sets);
    let mut choice = Choice {
        sets: &all_sets,
        chosen: Vec::new(),
        cut_short: false,
    };
    let every: Vec<u32> = (0..sets.len() as u32).collect();
    let first = match choice.program(&every, counts, (sheets, &[]), steps) {
        None => return Chosen::Stopped,
        Some(End::Dead) => return Chosen::None,
        Some(End::Whole) => return Chosen::Plan(choice.chosen),
        Some(End::Open(first)) => first,
    };
    let tries = if all { SLIPS.len() } else { 1 };
    for slips in &SLIPS[..tries] {
        choice.cut_short = false;
        match choice.branch(&first, counts, (sheets, *slips), steps) {
            None => return Chosen::Stopped,
            Some(true) => return Chosen::Plan(choice.chosen),
            Some(false) if choice.cut_short => {}
            Some(false) => return Chosen::None,
        }
    }
    Chosen::Stopped
}

struct Choice<'a> {
    sets: &'a Sets,
    chosen: Vec<u32>,
    /// Choices were left out for want of slips.
    cut_short: bool,
}

/// What the program says of a state.
enum End {
    /// Nothing is left to cover.
    Whole,
    /// No choice leads on.
    Dead,
    Open(Open),
}

/// A state from which choices may lead on.
struct Open {
    prices: Vec<f64>,
    /// What the sets of a plan may cost at these prices, all together.
    may_cost: f64,
    /// Sets that may be in a plan.
    serve: Vec<u32>,
    /// Those with the piece that is next, most used first, and their reduced costs.
    next: Vec<(u32, f64)>,
}

/// A set that may be chosen.
struct Candidate {
    set: u32,
    share: f64,
    /// Its reduced cost.
    cost: f64,
}

impl Choice<'_> {
    /// Solves the program over the sets `from`; `before`: prices of one like it, if there was one. `None`: out of steps.
    fn program(
        &self,
        from: &[u32],
        left: &[u8],
        (sheets, before): (u32, &[f64]),
        steps: &mut u64,
    ) -> Option<End> {
        if left.iter().all(|n| *n == 0) {
            return Some(End::Whole);
        }
        if sheets == 0 {
            return Some(End::Dead);
        }
        *steps = steps.checked_sub(100 + SET * from.len() as u64)?;
        let top = |n: &u8| if *n > 0 { TOP } else { 0.0 };
        let need = left.iter().map(|n| f64::from(*n)).collect();
        let mut program = Master::new(need, left.iter().map(top).collect());
        let mut of = Vec::with_capacity(from.len());
        let mut terms: Vec<(usize, f64)> = Vec::new();
        for &set in from {
            terms.clear();
            terms.extend(self.held(set, left));
            if !terms.is_empty() {
                program.add(&terms, 1.0);
                of.push(set);
            }
        }
        if !before.is_empty() {
            program.look_first(self.cheapest(&of, left, before));
        }
        let (prices, value) = match program.solve(steps) {
            Some((prices, value)) if *steps > 0 => (prices.to_vec(), value),
            _ => return None,
        };
        let may_cost = f64::from(sheets) - value + TINY;
        let (used, whole) = program.used();
        if may_cost < 0.0 || !whole {
            return Some(End::Dead);
        }
        let all = of.iter().zip(used).map(|(&set, share)| Candidate {
            set,
            share,
            cost: 1.0 - self.worth(set, left, &prices),
        });
        let mut all: Vec<Candidate> = all.filter(|c| c.cost <= may_cost).collect();
        let Some(piece) = self.next_piece(&all, left) else {
            return Some(End::Dead);
        };
        let serve = all.iter().map(|c| c.set).collect();
        all.retain(|c| self.sets.get(c.set).iter().any(|h| h.0 == piece));
        all.sort_unstable_by(|a, b| {
            let by_share = b.share.total_cmp(&a.share);
            let by_cost = by_share.then(a.cost.total_cmp(&b.cost));
            by_cost.then(a.set.cmp(&b.set))
        });
        Some(End::Open(Open {
            prices,
            may_cost,
            serve,
            next: all.iter().map(|c| (c.set, c.cost)).collect(),
        }))
    }

    /// Positions in `from` of the sets that cost least at these prices.
    fn cheapest(&self, from: &[u32], left: &[u8], prices: &[f64]) -> Vec<u32> {
        let cost = |set: &u32| 1.0 - self.worth(*set, left, prices);
        let mut all: Vec<(f64, u32)> = from.iter().map(cost).zip(0..).collect();
        if all.len() > FIRST {
            all.select_nth_unstable_by(FIRST - 1, |a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            all.truncate(FIRST);
        }
        let mut first: Vec<u32> = all.iter().map(|a| a.1).collect();
        first.sort_unstable();
        first
    }

    /// True if a choice that lies so far from the first ones covers `left`. `None`: out of steps.
    fn branch(
        &mut self,
        open: &Open,
        left: &[u8],
        (sheets, slips): (u32, u32),
        steps: &mut u64,
    ) -> Option<bool> {
        let mut serve = open.serve.clone();
        for (rank, &(set, cost)) in (0..).zip(&open.next) {
            let Some(slips) = slips.checked_sub(rank) else {
                self.cut_short = true;
                break;
            };
            let mut rest = left.to_vec();
            for (kind, n) in self.sets.get(set) {
                let there = &mut rest[usize::from(*kind)];
                *there = there.saturating_sub(*n);
            }
            *steps = steps.checked_sub(4 * serve.len() as u64)?;
            // At these prices the rest is worth what it was: what costs more than is left is in no plan with this set.
            let may_cost = open.may_cost - cost + TINY;
            let fits = |o: &u32| 1.0 - self.worth(*o, &rest, &open.prices) <= may_cost;
            let others: Vec<u32> = serve.iter().copied().filter(fits).collect();
            self.chosen.push(set);
            let fewer = (sheets - 1, &open.prices[..]);
            let found = match self.program(&others, &rest, fewer, steps)? {
                End::Whole => true,
                End::Dead => false,
                End::Open(next) => self.branch(&next, &rest, (sheets - 1, slips), steps)?,
            };
            if found {
                return Some(true);
            }
            self.chosen.pop();
            // Plans with it have all been tried.
            serve.retain(|o| *o != set);
        }
        Some(false)
    }

    /// What a set holds of what is left.
    fn held<'s>(&'s self, set: u32, left: &'s [u8]) -> impl Iterator<Item = (usize, f64)> + 's {
        let all = self.sets.get(set).iter();
        let some = all.map(|(kind, n)| (usize::from(*kind), (*n).min(left[usize::from(*kind)])));
        some.filter(|h| h.1 > 0)
            .map(|(kind, n)| (kind, f64::from(n)))
    }

    fn worth(&self, set: u32, left: &[u8], prices: &[f64]) -> f64 {
        self.held(set, left).map(|(kind, n)| prices[kind] * n).sum()
    }

    /// Of the set that the program uses most, the piece that fewest sets hold.
    fn next_piece(&self, all: &[Candidate], left: &[u8]) -> Option<u16> {
        let most = all.iter().max_by(|a, b| {
            let by_share = a.share.total_cmp(&b.share);
            let by_cost = by_share.then(b.cost.total_cmp(&a.cost));
            by_cost.then(b.set.cmp(&a.set))
        })?;
        let mut with = vec![0u32; left.len()];
        for (kind, _) in all.iter().flat_map(|c| self.sets.get(c.set)) {
            with[usize::from(*kind)] += 1;
        }
        let pieces = self.sets.get(most.set).iter().map(|h| h.0);
        let there = pieces.filter(|kind| left[usize::from(*kind)] > 0);
        there.min_by_key(|kind| with[usize::from(*kind)])
    }
}

#[cfg(test)]
mod tests {
    use super::{Chosen, Set, choose};
    use crate::solve::rng::Rng;

    fn covers(chosen: &[u32], sets: &[Set], counts: &[u8]) -> bool {
        let mut left: Vec<i32> = counts.iter().map(|n| i32::from(*n)).collect();
        for (kind, n) in chosen.iter().flat_map(|s| &sets[*s as usize]) {
            left[usize::from(*kind)] -= i32::from(*n);
        }
        left.iter().all(|n| *n <= 0)
    }

    /// Every choice of so many sets, each as often as wanted.
    fn any(sets: &[Set], counts: &[u8], sheets: u32, from: u32, chosen: &mut Vec<u32>) -> bool {
        if covers(chosen, sets, counts) {
            return true;
        }
        if sheets == 0 {
            return false;
        }
        (from..sets.len() as u32).any(|s| {
            chosen.push(s);
            let found = any(sets, counts, sheets - 1, s, chosen);
            chosen.pop();
            found
        })
    }

    /// Held against trying every choice.
    #[test]
    fn finds_a_choice_where_there_is_one() {
        let (mut plans, mut none) = (0, 0);
        for seed in 0..400 {
            let mut rng = Rng::new(&[seed]);
            let kinds = 3 + rng.index(5);
            let counts: Vec<u8> = (0..kinds).map(|_| 1 + rng.index(2) as u8).collect();
            let mut sets: Vec<Set> = Vec::new();
            for _ in 0..4 + rng.index(9) {
                let some = (0..kinds as u16).filter(|_| rng.index(3) == 0);
                let set: Set = some.map(|kind| (kind, 1)).collect();
                let twice = |(kind, n): &(u16, u8)| (*kind, (*n + 1).min(counts[*kind as usize]));
                let set = if seed % 3 == 0 {
                    set.iter().map(twice).collect()
                } else {
                    set
                };
                if !set.is_empty() {
                    sets.push(set);
                }
            }
            let sheets = 2 + rng.index(3) as u32;
            let truth = any(&sets, &counts, sheets, 0, &mut Vec::new());
            let mut steps = 100_000_000;
            match choose(&sets, (&counts, sheets), true, &mut steps) {
                Chosen::Plan(chosen) => {
                    plans += 1;
                    assert!(truth && chosen.len() <= sheets as usize, "job {seed}");
                    assert!(covers(&chosen, &sets, &counts), "job {seed}");
                }
                end => {
                    none += 1;
                    assert!(!truth && end == Chosen::None, "job {seed}: {end:?}");
                }
            }
        }
        assert!(
            plans > 50 && none > 50,
            "too one-sided: {plans} with, {none} without"
        );
        assert_eq!(
            choose(&[vec![(0, 1)]], (&[1], 1), true, &mut 50),
            Chosen::Stopped,
            "no steps"
        );
    }
}
