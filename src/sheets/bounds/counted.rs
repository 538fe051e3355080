//! Counters of copies packed into numbers: one field for each limit, so that states are added, compared and held against
//! the limits in one step each.

use super::bound::CopyLimitDraft;

/// How many pieces of each limit a block holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub(super) struct State {
    /// A field for each limit, each with a bit free above it.
    fields: u64,
    /// The same in mixed radix: where it stands in a list of all states.
    pub index: u32,
}

/// The limits and where each has its field.
#[derive(Clone, Debug)]
pub(super) struct Counters {
    /// By limit: one piece of it.
    one: Vec<State>,
    /// The bits between the fields.
    guards: u64,
    /// What each field lacks to full, so that one piece too many sets its guard.
    slack: u64,
    /// How many states there are.
    pub states: usize,
}

/// States that limits make.
pub(super) fn states(limits: &[CopyLimitDraft]) -> usize {
    limits
        .iter()
        .fold(1, |n, l| n.saturating_mul(l.most as usize + 1))
}

impl Counters {
    /// `None` if there are too many states to number.
    pub(super) fn new(limits: &[CopyLimitDraft]) -> Option<Self> {
        let states = states(limits);
        let mut counters = Self {
            one: Vec::new(),
            guards: 0,
            slack: 0,
            states,
        };
        let (mut shift, mut unit) = (0, 1u32);
        for limit in limits {
            let bits = u32::BITS - limit.most.leading_zeros();
            if shift + bits >= u64::BITS {
                return None;
            }
            counters.one.push(State {
                fields: 1 << shift,
                index: unit,
            });
            counters.guards |= 1 << (shift + bits);
            counters.slack |= ((1 << bits) - 1 - u64::from(limit.most)) << shift;
            shift += bits + 1;
            unit = unit.checked_mul(limit.most + 1)?;
        }
        Some(counters)
    }

    /// One piece of a limit; nothing for `None`.
    pub(super) fn one(&self, limit: Option<usize>) -> State {
        limit.map_or_else(State::default, |l| self.one[l])
    }

    /// Both together, if the limits allow it.
    #[inline]
    pub(super) fn sum(&self, a: State, b: State) -> Option<State> {
        let fields = a.fields + b.fields;
        ((fields + self.slack) & self.guards == 0).then_some(State {
            fields,
            index: a.index + b.index,
        })
    }

    /// True if `a` holds no more of any limit than `b`.
    #[inline]
    pub(super) fn within(&self, a: State, b: State) -> bool {
        ((b.fields | self.guards) - a.fields) & self.guards == self.guards
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        #[test]
        fn counts_as_lists_of_numbers_do(
            limits in proptest::collection::vec(1u32..6, 1..6),
            a in proptest::collection::vec(0u32..6, 6),
            b in proptest::collection::vec(0u32..6, 6),
        ) {
            let drafts: Vec<CopyLimitDraft> = limits.iter().map(|m| CopyLimitDraft { types: vec![], most: *m }).collect();
            let counters = Counters::new(&drafts).unwrap();
            let state = |n: &[u32]| {
                let mut s = State::default();
                for (l, most) in limits.iter().enumerate() {
                    for _ in 0..n[l].min(*most) {
                        s = counters.sum(s, counters.one(Some(l))).unwrap();
                    }
                }
                s
            };
            let (x, y) = (state(&a), state(&b));
            let pairs = || limits.iter().zip(a.iter().zip(&b)).map(|(m, (a, b))| (*m, *a.min(m), *b.min(m)));
            proptest::prop_assert_eq!(counters.within(x, y), pairs().all(|(_, a, b)| a <= b));
            proptest::prop_assert_eq!(counters.sum(x, y).is_some(), pairs().all(|(m, a, b)| a + b <= m));
            proptest::prop_assert!((x.index as usize) < counters.states);
        }
    }
}
