//! Whole packs: the cheapest mix that covers a need, the runner-up, and the mix that nearly does.
//!
//! Owns the search over pack counts; must not know what the packs are of. Method: depth-first over the pack sizes, cheapest
//! content first, cut off by the price of the rest at the best rate still open (the bound of the fractional knapsack). The
//! search is complete; only a need of absurd size would meet its step budget, and then the answer says so.

/// One pack size on sale.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct PackSize {
    /// How much it holds, in the unit of the need; at least 1.
    pub(crate) content: i64,
    /// Its price in cents, not below 0.
    pub(crate) cents: i64,
    /// How many can be had at most.
    pub(crate) at_most: Option<u32>,
}

/// So many packs of each size.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Mix {
    /// In the order of the sizes asked about.
    pub(crate) packs: Vec<u32>,
    /// What they cost.
    pub(crate) cents: i64,
    /// What they hold.
    pub(crate) content: i64,
}

/// What the search found.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Answer {
    /// The cheapest mix that covers the need.
    pub(crate) best: Mix,
    /// The cheapest other mix that covers it and has no pack too many.
    pub(crate) runner_up: Option<Mix>,
    /// The mix that holds most among those cheaper than `best`.
    pub(crate) nearly: Option<Mix>,
    /// False if the step budget ended the search for `best`.
    pub(crate) complete: bool,
}

/// Nodes looked at before a search gives up. [default: 1 000 000] [range: any; below 1 000 real lists may meet it]
const STEPS: u32 = 1_000_000;
/// No need is covered by more packs than this: whoever asks for more has typed something wrong.
const MOST_PACKS: i64 = 10_000_000;

/// The cheapest whole-pack mix that covers `need`. `None` if none does (limits, or an absurd need).
pub(crate) fn cheapest_mix(sizes: &[PackSize], need: i64) -> Option<Answer> {
    let (best, complete) = Search::new(sizes, need)?.cheapest();
    let best = best?;
    let runner_up = (0..sizes.len())
        .filter(|&i| best.packs[i] > 0)
        .filter_map(|i| {
            // Another mix without a pack too many has fewer of at least one size: try each in turn.
            let mut fewer = sizes.to_vec();
            fewer[i].at_most = Some(best.packs[i] - 1);
            Search::new(&fewer, need)?.cheapest().0
        })
        .min_by_key(|m| (m.cents, m.packs.iter().map(|&p| u64::from(p)).sum::<u64>()));
    let nearly = Search::new(sizes, need).and_then(|s| s.most_for_less_than(best.cents));
    Some(Answer {
        best,
        runner_up,
        nearly,
        complete,
    })
}

struct Search {
    /// Sizes, cheapest content first, with their index in the question and the most that make sense.
    rows: Vec<(usize, PackSize, i64)>,
    need: i64,
    counts: Vec<u32>,
    best: Option<Mix>,
    steps: u32,
}

impl Search {
    fn new(sizes: &[PackSize], need: i64) -> Option<Self> {
        let need = need.max(0);
        let mut rows = Vec::new();
        for (i, size) in sizes.iter().enumerate() {
            if size.content < 1 || size.cents < 0 {
                continue;
            }
            let enough = ceil_div(need, size.content);
            let limit = size.at_most.map_or(enough, |m| enough.min(i64::from(m)));
            if limit > MOST_PACKS {
                return None;
            }
            rows.push((i, *size, limit));
        }
        // Price for content as a fraction, compared crosswise; the larger pack first among equals gives fewer packs.
        rows.sort_by(|(_, a, _), (_, b, _)| {
            (i128::from(a.cents) * i128::from(b.content))
                .cmp(&(i128::from(b.cents) * i128::from(a.content)))
                .then(b.content.cmp(&a.content))
        });
        Some(Self {
            counts: vec![0; sizes.len()],
            rows,
            need,
            best: None,
            steps: 0,
        })
    }

    fn cheapest(mut self) -> (Option<Mix>, bool) {
        self.cover(0, self.need, 0);
        let complete = self.steps < STEPS;
        if let Some(best) = &mut self.best {
            // Packs that cost nothing may be there without being needed.
            for (i, size, _) in &self.rows {
                while best.packs[*i] > 0 && best.content - size.content >= self.need {
                    best.packs[*i] -= 1;
                    best.content -= size.content;
                    best.cents -= size.cents;
                }
            }
        }
        (self.best, complete)
    }

    fn cover(&mut self, row: usize, still: i64, spent: i64) {
        if still <= 0 {
            if self.best.as_ref().is_none_or(|b| spent < b.cents) {
                self.best = Some(self.mix(spent));
            }
            return;
        }
        let Some(&(index, size, limit)) = self.rows.get(row) else {
            return;
        };
        for n in (0..=ceil_div(still, size.content).min(limit)).rev() {
            self.steps += 1;
            let cost = spent.saturating_add(n.saturating_mul(size.cents));
            let rest = still.saturating_sub(n.saturating_mul(size.content));
            let least = cost.saturating_add(self.least_for(row + 1, rest));
            if self.steps >= STEPS {
                break;
            }
            if self.best.as_ref().is_some_and(|b| least >= b.cents) {
                // Fewer of the cheaper content only makes the rest dearer, once no pack is more than was needed.
                if rest > 0 {
                    break;
                }
                continue;
            }
            self.counts[index] = n as u32;
            self.cover(row + 1, rest, cost);
        }
        self.counts[index] = 0;
    }

    /// No mix of the rows from `row` on covers `still` for less.
    fn least_for(&self, row: usize, still: i64) -> i64 {
        if still <= 0 {
            return 0;
        }
        self.rows.get(row).map_or(i64::MAX, |(_, s, _)| {
            let exact = i128::from(still) * i128::from(s.cents);
            let content = i128::from(s.content);
            i64::try_from((exact + content - 1) / content).unwrap_or(i64::MAX)
        })
    }

    fn most_for_less_than(mut self, cents: i64) -> Option<Mix> {
        if cents < 1 {
            return None;
        }
        self.fill(0, cents - 1, 0, 0);
        self.best
            .filter(|m| m.content > 0 && m.content < self.need.max(1))
    }

    fn fill(&mut self, row: usize, purse: i64, spent: i64, content: i64) {
        if self.best.as_ref().is_none_or(|b| content > b.content) {
            self.best = Some(self.mix(spent));
        }
        let Some(&(index, size, limit)) = self.rows.get(row) else {
            return;
        };
        let payable = if size.cents == 0 {
            limit
        } else {
            limit.min(purse / size.cents)
        };
        for n in (0..=payable).rev() {
            self.steps += 1;
            let left = purse - n * size.cents;
            let held = content.saturating_add(n.saturating_mul(size.content));
            let most = held.saturating_add(self.most_for(row + 1, left));
            if self.steps >= STEPS || self.best.as_ref().is_some_and(|b| most <= b.content) {
                break;
            }
            self.counts[index] = n as u32;
            self.fill(row + 1, left, spent + n * size.cents, held);
        }
        self.counts[index] = 0;
    }

    /// No mix of the rows from `row` on holds more for that money.
    fn most_for(&self, row: usize, purse: i64) -> i64 {
        self.rows.get(row).map_or(0, |(_, s, _)| {
            if s.cents == 0 {
                return i64::MAX;
            }
            let exact = i128::from(purse) * i128::from(s.content) / i128::from(s.cents);
            i64::try_from(exact).unwrap_or(i64::MAX)
        })
    }

    fn mix(&self, cents: i64) -> Mix {
        let content = self
            .rows
            .iter()
            .map(|(i, s, _)| i64::from(self.counts[*i]).saturating_mul(s.content))
            .fold(0, i64::saturating_add);
        Mix {
            packs: self.counts.clone(),
            cents,
            content,
        }
    }
}

/// Division rounding up, of a number not below 0 by one above 0.
pub(crate) fn ceil_div(a: i64, b: i64) -> i64 {
    a / b + i64::from(a % b != 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn size(content: i64, cents: i64) -> PackSize {
        PackSize {
            content,
            cents,
            at_most: None,
        }
    }

    /// 431 sq ft of primer at 300 a gallon is 1.44 gal, two coats of paint at 375 are 2.30 gal: round up for each can,
    /// not for each coat (worked in quarts by hand). A quart here costs a third of a gallon.
    #[test]
    fn cans_are_rounded_up_not_coats() {
        let cans = [size(4, 4_500), size(1, 1_500)];
        let primer = cheapest_mix(&cans, 6).expect("a mix");
        assert_eq!(primer.best.packs, [1, 2], "1 gal + 2 qt for 7 500");
        assert_eq!(primer.runner_up.expect("another").packs, [2, 0]);
        let paint = cheapest_mix(&cans, 10).expect("a mix");
        assert_eq!(paint.best.packs, [2, 2]);
    }

    #[test]
    fn limits_and_gifts_are_kept_to() {
        let mut rows = [size(4, 100), size(1, 0)];
        assert_eq!(cheapest_mix(&rows, 7).expect("a mix").best.packs, [0, 7]);
        rows[1].at_most = Some(2);
        assert_eq!(cheapest_mix(&rows, 7).expect("a mix").best.packs, [2, 0]);
        rows[0].at_most = Some(1);
        assert_eq!(cheapest_mix(&rows, 7), None);
    }

    /// Every mix there is, for comparison.
    fn all(sizes: &[PackSize], need: i64) -> Vec<Mix> {
        let mut mixes = vec![Mix {
            packs: Vec::new(),
            cents: 0,
            content: 0,
        }];
        for s in sizes {
            let most = ceil_div(need, s.content).min(s.at_most.map_or(i64::MAX, i64::from));
            mixes = mixes
                .iter()
                .flat_map(|m| {
                    (0..=most).map(move |n| {
                        let mut packs = m.packs.clone();
                        packs.push(n as u32);
                        Mix {
                            packs,
                            cents: m.cents + n * s.cents,
                            content: m.content + n * s.content,
                        }
                    })
                })
                .collect();
        }
        mixes
    }

    proptest! {
        #[test]
        fn equals_trying_every_mix(
            rows in prop::collection::vec((1i64..30, 1i64..200, prop::option::of(0u32..6)), 1..4),
            need in 1i64..120,
        ) {
            let sizes: Vec<PackSize> = rows.iter()
                .map(|&(content, cents, at_most)| PackSize { content, cents, at_most }).collect();
            let every = all(&sizes, need);
            let best = every.iter().filter(|m| m.content >= need).map(|m| m.cents).min();
            let found = cheapest_mix(&sizes, need);
            prop_assert_eq!(found.as_ref().map(|a| a.best.cents), best);
            let Some(found) = found else { return Ok(()) };
            prop_assert!(found.complete);
            // The runner-up: cheapest other mix from which no pack can be left out.
            let second = every.iter()
                .filter(|m| m.content >= need && m.packs != found.best.packs)
                .filter(|m| m.packs.iter().zip(&sizes).all(|(&n, s)| n == 0 || m.content - s.content < need))
                .map(|m| m.cents).min();
            prop_assert_eq!(found.runner_up.map(|m| m.cents), second);
            let most = every.iter().filter(|m| m.cents < found.best.cents).map(|m| m.content).max().unwrap_or(0);
            prop_assert_eq!(found.nearly.map_or(0, |m| m.content), most);
        }
    }
}
