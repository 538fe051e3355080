//! Raster points (Beasley 1985, "Algorithms for unconstrained two-dimensional guillotine cutting"): the lengths that sums
//! of piece sides reach, any number of copies. A cut need only be made at one of them.

/// Points along one direction, ascending, and the way back from any length to the last point within it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Points {
    /// The points; the first is 0, the lengths of the sheets are always among them.
    pub at: Vec<i64>,
    bucket: Vec<u32>,
    shift: u32,
}

/// Longest sheet for which the sums are marked one by one. Beyond it the sums are kept as a list.
const DENSE: i64 = 1 << 20;

impl Points {
    /// `None` if there are more than `most` points. With `keep`, only about so many of them: patterns found on them are
    /// right, but may not be the best.
    pub(super) fn new(
        sides: &[i64],
        sheets: &[i64],
        most: usize,
        keep: Option<usize>,
    ) -> Option<Self> {
        let longest = sheets.iter().copied().max().unwrap_or(0);
        let mut sides: Vec<i64> = sides
            .iter()
            .copied()
            .filter(|s| *s > 0 && *s <= longest)
            .collect();
        sides.sort_unstable();
        sides.dedup();
        let least = sides.first().copied().unwrap_or(longest + 1);
        // A cut nearer to the far edge than the smallest side frees nothing.
        let last = longest - least;
        let mut at = sums(&sides, last, most)?;
        if let Some(keep) = keep.filter(|k| at.len() > *k) {
            at = thinned(&at, &sides, longest, keep);
        }
        at.extend_from_slice(sheets);
        // A piece nearly as long as the sheet still needs its own point: it is the sheet's.
        at.sort_unstable();
        at.dedup();
        if at.len() > most {
            return None;
        }
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
        Some(Self { at, bucket, shift })
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

fn sums(sides: &[i64], last: i64, most: usize) -> Option<Vec<i64>> {
    if last < 0 {
        return Some(vec![0]);
    }
    if last <= DENSE {
        let mut reached = vec![false; last as usize + 1];
        reached[0] = true;
        for &s in sides.iter().filter(|s| **s <= last) {
            for c in s as usize..reached.len() {
                reached[c] |= reached[c - s as usize];
            }
        }
        return Some((0..=last).filter(|c| reached[*c as usize]).collect());
    }
    let mut all: std::collections::BTreeSet<i64> = [0].into();
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
