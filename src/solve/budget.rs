//! Work-step budgets. Owns the counting; must never look at a clock, for then a slow machine would give another plan.

/// A number of work steps that may be spent. One step is about one nanosecond to ten of a present-day core: looking at
/// one place for a piece, or at one cell of a table.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Budget {
    limit: u64,
    spent: u64,
}

impl Budget {
    /// A fresh budget.
    pub const fn new(limit: u64) -> Self {
        Self { limit, spent: 0 }
    }
    /// Spends steps. True while there is some left; spending beyond the limit is counted too, so that a caller may look
    /// only now and then.
    pub fn spend(&mut self, steps: u64) -> bool {
        self.spent = self.spent.saturating_add(steps);
        self.spent < self.limit
    }
    /// Steps spent so far.
    pub const fn spent(&self) -> u64 {
        self.spent
    }
    /// Steps left.
    pub const fn left(&self) -> u64 {
        self.limit.saturating_sub(self.spent)
    }
    /// True when nothing is left.
    pub const fn is_empty(&self) -> bool {
        self.spent >= self.limit
    }
    /// Splits off a part of what is left: spend from it, then give it back with [`Budget::settle`].
    #[must_use]
    pub fn part(&self, most: u64) -> Self {
        Self::new(self.left().min(most))
    }
    /// Counts what a part has spent.
    pub fn settle(&mut self, part: &Self) {
        self.spent = self.spent.saturating_add(part.spent);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_counted_once() {
        let mut all = Budget::new(100);
        assert!(all.spend(40));
        let mut part = all.part(1000);
        assert_eq!(part.left(), 60);
        assert!(!part.spend(70), "a part ends where the whole does");
        all.settle(&part);
        assert!(all.is_empty());
        assert_eq!(all.spent(), 110);
    }
}
