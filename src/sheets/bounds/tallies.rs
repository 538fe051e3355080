//! How many of each type a block holds, packed: a few bits for each type, so that blocks are added and compared as numbers.

/// Words of a tally.
const WORDS: usize = 4;

/// How many of each type.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub(super) struct Tally([u64; WORDS]);

/// Where the bits of each type are. Above them one stays free.
#[derive(Clone, Debug)]
pub(super) struct Tallies {
    /// By type: word, first bit, how many bits.
    fields: Vec<(usize, u32, u32)>,
    /// The free bits.
    guards: [u64; WORDS],
    /// What each field lacks to full: one piece too many then sets its free bit.
    lacks: [u64; WORDS],
}

impl Tallies {
    /// For so many of each type; `None` if they do not go in.
    pub(super) fn new(counts: impl Iterator<Item = u32>) -> Option<Self> {
        let mut tallies = Self {
            fields: Vec::new(),
            guards: [0; WORDS],
            lacks: [0; WORDS],
        };
        let (mut word, mut shift) = (0, 0);
        for count in counts {
            let bits = u32::BITS - count.leading_zeros();
            if count > u32::from(u8::MAX) {
                return None;
            }
            if shift + bits >= u64::BITS {
                (word, shift) = (word + 1, 0);
            }
            if word == WORDS {
                return None;
            }
            tallies.fields.push((word, shift, bits));
            tallies.guards[word] |= 1 << (shift + bits);
            tallies.lacks[word] |= ((1 << bits) - 1 - u64::from(count)) << shift;
            shift += bits + 1;
        }
        Some(tallies)
    }

    /// One piece of a type.
    pub(super) fn one(&self, kind: usize) -> Tally {
        let (word, shift, _) = self.fields[kind];
        let mut one = Tally::default();
        one.0[word] = 1 << shift;
        one
    }

    /// Both together, if there are so many pieces.
    #[inline]
    pub(super) fn sum(&self, a: Tally, b: Tally) -> Option<Tally> {
        let mut sum = a;
        let mut over = 0;
        for i in 0..WORDS {
            sum.0[i] += b.0[i];
            over |= (sum.0[i] + self.lacks[i]) & self.guards[i];
        }
        (over == 0).then_some(sum)
    }

    /// True if `a` is part of `b`.
    #[inline]
    pub(super) fn within(&self, a: Tally, b: Tally) -> bool {
        let part =
            |i: usize| ((b.0[i] | self.guards[i]) - a.0[i]) & self.guards[i] == self.guards[i];
        (0..WORDS).all(part)
    }

    /// By type.
    pub(super) fn counts(&self, of: Tally) -> Vec<u8> {
        let each = self.fields.iter();
        each.map(|(word, shift, bits)| ((of.0[*word] >> shift) & ((1 << bits) - 1)) as u8)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        #[test]
        fn counts_as_lists_of_numbers_do(
            types in proptest::collection::vec((1u32..9, 0u32..9, 0u32..9), 1..50),
        ) {
            let tallies = Tallies::new(types.iter().map(|t| t.0)).unwrap();
            let tally = |counts: &dyn Fn(&(u32, u32, u32)) -> u32| {
                let mut all = Tally::default();
                for (kind, t) in types.iter().enumerate() {
                    for _ in 0..counts(t).min(t.0) {
                        all = tallies.sum(all, tallies.one(kind)).unwrap();
                    }
                }
                all
            };
            let (a, b) = (tally(&|t| t.1), tally(&|t| t.2));
            let numbers = |n: &dyn Fn(&(u32, u32, u32)) -> u32| -> Vec<u8> { types.iter().map(|t| n(t).min(t.0) as u8).collect() };
            let (x, y) = (numbers(&|t| t.1), numbers(&|t| t.2));
            proptest::prop_assert_eq!(tallies.counts(a), x.clone());
            proptest::prop_assert_eq!(tallies.within(a, b), x.iter().zip(&y).all(|(a, b)| a <= b));
            let fits = x.iter().zip(&y).zip(&types).all(|((a, b), t)| u32::from(*a) + u32::from(*b) <= t.0);
            proptest::prop_assert_eq!(tallies.sum(a, b).is_some(), fits);
        }
    }
}
