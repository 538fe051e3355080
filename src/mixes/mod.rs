//! Which flat-pack frames to buy: a complete search through the numbers of each frame on each wall.
//!
//! Every order of the frames of one row takes the same width, and gaps are taken over the whole row, so a mix is counted
//! once whatever its order. Each mix is filled in its cheapest ways; a way that gives no more and costs no less than another
//! is dropped. Mixes are ranked by wants met, how short the others are, money, unused width; where nothing is wanted, by unused
//! width, then money. Does not know how sizes were measured: room comes in the task.

use crate::model::mix::{Amounts, Mix, MixOption, MixRow, MixTask};
use crate::solve::budget::Budget;
use crate::units::{Cents, Length};

/// The best `few`, best first, and whether the search was complete. `lengths` gives the room the corners leave on each wall
/// of the task when rows of these depths stand there (nothing = an empty wall); `stands` says whether rows can be set up
/// together, and is asked only of those that would be among the best.
pub fn best_mixes(
    task: &MixTask,
    few: usize,
    lengths: &dyn Fn(&[Length]) -> Vec<Length>,
    stands: &dyn Fn(&[MixRow]) -> bool,
) -> (Vec<Mix>, bool) {
    let mut search = Search {
        task,
        few,
        lengths,
        stands,
        budget: Budget::new(task.steps),
        counts: vec![vec![0; task.kinds.len()]; task.walls.len()],
        found: Vec::new(),
    };
    let start = MixOption {
        gives: capped(task.start, task.wanted),
        ..MixOption::default()
    };
    search.place(0, 0, vec![start]);
    let complete = !search.budget.is_empty();
    (search.found.into_iter().map(|f| f.1).collect(), complete)
}

/// What ranks a mix, the least first, and its counts so that ties always fall the same way.
type Rank = ([i64; 4], Vec<Vec<usize>>);

struct Search<'a> {
    task: &'a MixTask,
    few: usize,
    lengths: &'a dyn Fn(&[Length]) -> Vec<Length>,
    stands: &'a dyn Fn(&[MixRow]) -> bool,
    budget: Budget,
    /// By wall and kind.
    counts: Vec<Vec<usize>>,
    found: Vec<(Rank, Mix)>,
}

impl Search<'_> {
    /// Chooses how many of this kind stand on this wall; `front` are the ways to fill what was chosen of earlier kinds.
    fn place(&mut self, kind: usize, wall: usize, front: Vec<MixOption>) {
        if !self.budget.spend(1) {
            return;
        }
        if kind == self.task.kinds.len() {
            self.weigh(&front);
            return;
        }
        if wall == self.task.walls.len() {
            let options = &self.task.kinds[kind].options;
            let n: usize = self.counts.iter().map(|w| w[kind]).sum();
            if n == 0 {
                self.place(kind + 1, 0, front);
            } else if let Some(with) = options.get(n - 1) {
                self.budget.spend((front.len() * with.len()) as u64);
                let joined = join(&front, with, self.task.wanted);
                self.place(kind + 1, 0, joined);
            }
            return;
        }
        loop {
            self.place(kind, wall + 1, front.clone());
            self.counts[wall][kind] += 1;
            if self.unused(wall).is_none() {
                break;
            }
        }
        self.counts[wall][kind] = 0;
    }

    /// Width left on a wall by what stands there, corners apart; `None` = too much.
    fn unused(&self, wall: usize) -> Option<Length> {
        let mut least: Option<Length> = None;
        let mut taken = Length::ZERO;
        for (k, n) in self.counts[wall]
            .iter()
            .enumerate()
            .filter(|(_, n)| **n > 0)
        {
            // A taller row never has more room, so the least of the kinds' rooms is that of the tallest.
            let room = self.task.walls[wall].room[k]?;
            least = Some(least.map_or(room, |l| l.min(room)));
            taken += self.task.kinds[k].width * *n as i64;
        }
        let left = least.map_or(Length::ZERO, |l| l - taken);
        (left >= Length::ZERO).then_some(left)
    }

    fn weigh(&mut self, front: &[MixOption]) {
        if self.counts.iter().flatten().all(|n| *n == 0) {
            return;
        }
        let kinds = &self.task.kinds;
        let used = |w: &Vec<usize>| {
            w.iter()
                .enumerate()
                .filter(|(_, n)| **n > 0)
                .map(|(k, n)| (k, *n))
                .collect::<Vec<_>>()
        };
        let depths: Vec<Length> = self
            .counts
            .iter()
            .map(|w| {
                used(w)
                    .iter()
                    .map(|(k, _)| kinds[*k].depth)
                    .max()
                    .unwrap_or_default()
            })
            .collect();
        let corners = (self.lengths)(&depths);
        let mut rows = Vec::new();
        for (i, w) in self.counts.iter().enumerate() {
            let Some(unused) = self.unused(i) else { return };
            let taken: Length = used(w)
                .iter()
                .map(|(k, n)| kinds[*k].width * *n as i64)
                .sum();
            if taken > corners[i] {
                return;
            }
            rows.push(MixRow {
                wall: self.task.walls[i].wall,
                units: used(w)
                    .iter()
                    .flat_map(|(k, n)| std::iter::repeat_n(kinds[*k].code.clone(), *n))
                    .collect(),
                unused: unused.min(corners[i] - taken),
                head_gap: None,
            });
        }
        let unused: Length = rows.iter().map(|r| r.unused).sum();
        let Some((key, fill)) = front
            .iter()
            .map(|o| (self.key(o, unused), o))
            .min_by_key(|(k, _)| *k)
        else {
            return;
        };
        let rank = (key, self.counts.clone());
        let at = self.found.partition_point(|f| f.0 < rank);
        if at < self.few && (self.stands)(&rows) {
            let (short, thousandths) = short(fill.gives, self.task.wanted);
            let mix = Mix {
                rows,
                extras: fill.extras.clone(),
                wants_short: short,
                short_thousandths: thousandths,
                cents: fill.cents,
                unused,
            };
            self.found.insert(at, (rank, mix));
            self.found.truncate(self.few);
        }
    }

    fn key(&self, fill: &MixOption, unused: Length) -> [i64; 4] {
        let (short, thousandths) = short(fill.gives, self.task.wanted);
        let (cents, unused) = (fill.cents.0, unused.units());
        if self.task.wanted == [0; 4] {
            [0, 0, unused, cents]
        } else {
            [i64::from(short), thousandths, cents, unused]
        }
    }
}

/// How many wants are short, and by how many thousandths of each, rounded up.
fn short(gives: Amounts, wanted: Amounts) -> (u32, i64) {
    let mut sum = (0, 0);
    for (g, w) in gives.iter().zip(wanted).filter(|(g, w)| **g < *w) {
        sum.0 += 1;
        // Wants are bounded by the readers' 100 m, so this cannot overflow.
        sum.1 += ((w - g) * 1000 + w - 1) / w;
    }
    sum
}

fn capped(gives: Amounts, wanted: Amounts) -> Amounts {
    std::array::from_fn(|i| gives[i].min(wanted[i]))
}

/// Every pair of ways, those that another beats left out. More than is wanted counts as what is wanted.
fn join(a: &[MixOption], b: &[MixOption], wanted: Amounts) -> Vec<MixOption> {
    let mut all: Vec<(Amounts, Cents, usize, usize)> = Vec::with_capacity(a.len() * b.len());
    for (i, p) in a.iter().enumerate() {
        for (j, q) in b.iter().enumerate() {
            let gives = std::array::from_fn(|n| p.gives[n] + q.gives[n]);
            all.push((capped(gives, wanted), p.cents + q.cents, i, j));
        }
    }
    all.sort_by_key(|o| (o.1, std::cmp::Reverse(o.0)));
    let mut kept: Vec<(Amounts, Cents, usize, usize)> = Vec::new();
    for o in all {
        if !kept
            .iter()
            .any(|k| k.0.iter().zip(o.0).all(|(x, y)| *x >= y))
        {
            kept.push(o);
        }
    }
    kept.into_iter()
        .map(|(gives, cents, i, j)| MixOption {
            gives,
            cents,
            extras: a[i].extras.iter().chain(&b[j].extras).cloned().collect(),
        })
        .collect()
}
