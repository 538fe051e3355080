//! Seeded random numbers: the same seed gives the same numbers on any machine.
//!
//! The generator is SplitMix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014): one
//! addition and three multiplications a number, and a seed made of several parts is just as random as a plain one.

/// A stream of random numbers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Rng(u64);

const GOLDEN: u64 = 0x9e37_79b9_7f4a_7c15;

const fn mix(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

impl Rng {
    /// A stream named by its parts, for instance (search, round, group). Different parts give unrelated streams.
    pub fn new(parts: &[u64]) -> Self {
        let seed = parts.iter().fold(GOLDEN, |s, p| {
            mix(s ^ mix(p.wrapping_add(GOLDEN))).wrapping_add(GOLDEN)
        });
        Self(seed)
    }
    /// The next number.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(GOLDEN);
        mix(self.0)
    }
    /// A number below `n`; 0 if `n` is 0. (Lemire's multiplication without the rejection: the bias is below n / 2^32.)
    pub fn below(&mut self, n: u32) -> u32 {
        (((self.next_u64() >> 32) * u64::from(n)) >> 32) as u32
    }
    /// An index below `n`; 0 if `n` is 0.
    pub fn index(&mut self, n: usize) -> usize {
        self.below(u32::try_from(n).unwrap_or(u32::MAX)) as usize
    }
    /// True `per_mille` times in a thousand.
    pub fn chance(&mut self, per_mille: u32) -> bool {
        self.below(1000) < per_mille
    }
    /// Puts a slice in random order.
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for i in (1..items.len()).rev() {
            items.swap(i, self.index(i + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First outputs of SplitMix64 for the state 1234567, as printed with the algorithm's public-domain reference code.
    #[test]
    fn it_is_splitmix64() {
        let mut r = Rng(1_234_567);
        let first: Vec<u64> = (0..3).map(|_| r.next_u64()).collect();
        assert_eq!(
            first,
            [
                6_457_827_717_110_365_317,
                3_203_168_211_198_807_973,
                9_817_491_932_198_370_423
            ]
        );
    }

    #[test]
    fn below_is_even_and_within() {
        let mut r = Rng::new(&[1, 2]);
        let mut seen = [0u32; 7];
        for _ in 0..70_000 {
            seen[r.index(7)] += 1;
        }
        assert!(seen.iter().all(|n| (9_500..10_500).contains(n)), "{seen:?}");
        assert_ne!(
            Rng::new(&[1, 2]).next_u64(),
            Rng::new(&[2, 1]).next_u64(),
            "the order of the parts matters"
        );
    }
}
