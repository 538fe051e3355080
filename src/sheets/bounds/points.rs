//! Raster points (Terno, Lindemann & Scheithauer 1987; Scheithauer & Terno 1996): the lengths that a part of a sheet need have.
//!
//! Sums of piece sides, any number of copies, are enough (Beasley 1985). Of these, only the largest that leaves a given
//! sum free beside it matters: for every sum p, the largest sum within sheet - p. Cutting such a length at such a length
//! leaves, rounded down to a sum, such a length again, so a table over them loses nothing, and near the sheet's full
//! length, where sums lie densely, few of them remain.

use crate::sheets::instance::Instance;
use std::collections::BTreeSet;

/// Points along one direction, ascending, and the way back from any length to the last point within it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Points {
    /// The points; the first is 0, the lengths of the sheets are always among them.
    pub at: Vec<i64>,
    longest: i64,
    bucket: Vec<u32>,
    shift: u32,
}

/// The points of both directions.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Grid {
    /// Along x.
    pub xs: Points,
    /// Along y.
    pub ys: Points,
}

/// Most sums in one direction. Default 500,000.
const SUMS: usize = 500_000;

impl Grid {
    /// The grid for the types that are `wanted` (by index); `None` if it would be too large to think of.
    pub(super) fn new(instance: &Instance, wanted: &[bool]) -> Option<Self> {
        let (along, across) = sides(instance, wanted);
        let widths: Vec<i64> = instance.kinds.iter().map(|k| k.w).collect();
        let heights: Vec<i64> = instance.kinds.iter().map(|k| k.h).collect();
        Some(Self {
            xs: Points::new(&along, &widths, SUMS)?,
            ys: Points::new(&across, &heights, SUMS)?,
        })
    }

    /// About `keep` points a side of it.
    pub(super) fn thinned(&self, instance: &Instance, wanted: &[bool], keep: usize) -> Self {
        let (along, across) = sides(instance, wanted);
        Self {
            xs: self.xs.thinned(&along, keep),
            ys: self.ys.thinned(&across, keep),
        }
    }

    /// Rectangles in a table over it.
    pub(super) fn cells(&self) -> usize {
        self.xs.len().saturating_mul(self.ys.len())
    }
}

/// The sides along x and along y of the types that are wanted, in any way that some sheet takes.
fn sides(instance: &Instance, wanted: &[bool]) -> (Vec<i64>, Vec<i64>) {
    let takes = |w: i64, h: i64| instance.kinds.iter().any(|k| w <= k.w && h <= k.h);
    let types = instance.types.iter().zip(wanted).filter(|(_, w)| **w);
    let ways = types.flat_map(|(t, _)| &t.ways);
    let (mut along, mut across): (Vec<i64>, Vec<i64>) =
        ways.filter(|w| takes(w.0, w.1)).copied().unzip();
    for side in [&mut along, &mut across] {
        side.retain(|s| *s > 0);
        side.sort_unstable();
        side.dedup();
    }
    (along, across)
}

/// Longest sheet for which the sums are marked one by one. Beyond it the sums are kept as a list.
const DENSE: i64 = 1 << 20;

impl Points {
    /// The points for pieces with these sides; `None` if there are more than `most` sums.
    fn new(sides: &[i64], sheets: &[i64], most: usize) -> Option<Self> {
        let longest = sheets.iter().copied().max().unwrap_or(0);
        let at = raster(&sums(sides, longest, most)?, sheets);
        Some(Self::of(at, longest))
    }

    /// About so many of the points: patterns found on them are right, but may not be the best.
    fn thinned(&self, sides: &[i64], keep: usize) -> Self {
        if self.at.len() <= keep {
            return self.clone();
        }
        Self::of(thinned(&self.at, sides, self.longest, keep), self.longest)
    }

    /// With other lengths added; `None` if nothing is new, or more than `most` points would come of it.
    pub(super) fn with(&self, more: &BTreeSet<i64>, most: usize) -> Option<Self> {
        let new = more.iter().filter(|p| **p > 0 && **p <= self.longest);
        let new: Vec<i64> = new
            .filter(|p| self.at.binary_search(p).is_err())
            .copied()
            .collect();
        let len = self.at.len() + new.len();
        (!new.is_empty() && len <= most)
            .then(|| Self::of(self.at.iter().copied().chain(new).collect(), self.longest))
    }

    fn of(mut at: Vec<i64>, longest: i64) -> Self {
        at.sort_unstable();
        at.dedup();
        let mut shift = 0;
        while (longest >> shift) > 65_535 {
            shift += 1;
        }
        let mut bucket = Vec::with_capacity((longest >> shift) as usize + 1);
        let mut i = 0;
        for b in 0..=(longest >> shift) {
            while i + 1 < at.len() && at[i + 1] <= b << shift {
                i += 1;
            }
            bucket.push(i as u32);
        }
        Self {
            at,
            longest,
            bucket,
            shift,
        }
    }

    /// Index of the last point within `length` (0 <= length <= the longest sheet).
    #[inline]
    pub(super) fn floor(&self, length: i64) -> usize {
        let mut i = self.bucket[(length >> self.shift) as usize] as usize;
        if self.shift > 0 {
            while i + 1 < self.at.len() && self.at[i + 1] <= length {
                i += 1;
            }
        }
        i
    }

    /// Index of the first point that is at least `length`, where there is one.
    pub(super) fn ceil(&self, length: i64) -> Option<usize> {
        let i = self.at.partition_point(|p| *p < length);
        (i < self.at.len()).then_some(i)
    }

    pub(super) fn len(&self) -> usize {
        self.at.len()
    }
}

/// Of the sums, those that some sum leaves free on some sheet.
fn raster(sums: &[i64], sheets: &[i64]) -> Vec<i64> {
    let mut kept: Vec<i64> = vec![0];
    for sheet in sheets {
        let on_sheet = &sums[..sums.partition_point(|p| p <= sheet)];
        let mut last = on_sheet.len();
        for p in on_sheet {
            while last > 0 && on_sheet[last - 1] > sheet - p {
                last -= 1;
            }
            kept.extend(last.checked_sub(1).map(|i| on_sheet[i]));
        }
    }
    kept.sort_unstable();
    kept.dedup();
    kept
}

fn sums(sides: &[i64], last: i64, most: usize) -> Option<Vec<i64>> {
    if last < 0 {
        return Some(vec![0]);
    }
    if last <= DENSE {
        return Some(marked_sums(sides, last as usize));
    }
    let mut all: BTreeSet<i64> = [0].into();
    let mut fresh = vec![0];
    while let Some(from) = fresh.pop() {
        for s in sides {
            let to = from + s;
            if to <= last && all.insert(to) {
                fresh.push(to);
            }
        }
        if all.len() > most {
            return None;
        }
    }
    Some(all.into_iter().collect())
}

/// The sums up to `last`, each length a bit: sixty-four lengths take a step together.
fn marked_sums(sides: &[i64], last: usize) -> Vec<i64> {
    let mut marks = vec![0u64; last / 64 + 1];
    marks[0] = 1;
    for &side in sides.iter().filter(|s| **s > 0 && **s <= last as i64) {
        let (words, bits) = (side as usize / 64, side as u32 % 64);
        for i in words..marks.len() {
            // What lies one side below: marked with all its copies already, except within this word.
            let low = marks[i - words] << bits;
            let high = match (bits, i.checked_sub(words + 1)) {
                (1.., Some(below)) => marks[below] >> (64 - bits),
                _ => 0,
            };
            marks[i] |= low | high;
            if words == 0 {
                let mut step = bits;
                while step < 64 {
                    marks[i] |= marks[i] << step;
                    step *= 2;
                }
            }
        }
    }
    let mut sums = Vec::new();
    for (i, word) in marks.iter().enumerate() {
        let mut left = *word;
        while left != 0 {
            sums.push(i as i64 * 64 + i64::from(left.trailing_zeros()));
            left &= left - 1;
        }
    }
    while sums.last().is_some_and(|s| *s > last as i64) {
        sums.pop();
    }
    sums
}

/// 0, the sides themselves, and the rest evenly.
fn thinned(at: &[i64], sides: &[i64], longest: i64, keep: usize) -> Vec<i64> {
    let last = at.last().copied().unwrap_or(0);
    let mut kept: Vec<i64> = vec![0];
    kept.extend(sides.iter().copied().filter(|s| *s <= last));
    let opposite = sides.iter().map(|s| longest - s);
    // Where the last piece of a row may start, as far as a sum reaches.
    kept.extend(opposite.filter_map(|o| at[..at.partition_point(|p| *p <= o)].last().copied()));
    let more = keep.saturating_sub(kept.len()).max(keep / 4).max(1);
    kept.extend((0..more).map(|i| at[i * at.len() / more]));
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::rng::Rng;

    /// Held against the rule itself: a length is a sum if it is one side more than a sum.
    #[test]
    fn sums_marked_together_are_those_marked_one_by_one() {
        for seed in 0..400 {
            let mut rng = Rng::new(&[seed]);
            let last = 1 + rng.index(700);
            let sides: Vec<i64> = (0..1 + rng.below(4))
                .map(|_| i64::from(rng.below(200)))
                .collect();
            let mut reached = vec![false; last + 1];
            reached[0] = true;
            for c in 1..=last {
                reached[c] = sides
                    .iter()
                    .any(|s| *s > 0 && *s as usize <= c && reached[c - *s as usize]);
            }
            let plain: Vec<i64> = (0..=last as i64).filter(|c| reached[*c as usize]).collect();
            assert_eq!(
                sums(&sides, last as i64, SUMS),
                Some(plain),
                "{sides:?} {last}"
            );
        }
    }
}
