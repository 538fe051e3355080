//! The base under a row, built like a ladder: front and back, crosspieces between them, joints where a sheet is too short. Owns where
//! each of them stands; the cut list, the pages and the counts are all drawn from it.

use crate::model::Job;
use crate::units::Length;
use serde::Serialize;

/// Crosspieces stand no further apart than this, middle to middle (formats of the files).
const APART: Length = Length::inches(18);

/// A base. Places along it are from its left end.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Ladder {
    /// Its length: that of the row, less `ends`.
    pub long: Length,
    /// How much shorter than the row it is at its left and at its right, where base that stays on the walls holds it off.
    pub ends: [Length; 2],
    /// Length of a crosspiece: between front and back.
    pub between: Length,
    /// Its height at the highest floor.
    pub high: Length,
    /// Thickness of its boards.
    pub thick: Length,
    /// Middles of the crosspieces.
    pub crosspieces: Vec<Length>,
    /// Where two boxes or frames meet over it.
    pub seams: Vec<Length>,
    /// Pieces of the front, left to right.
    pub front: Vec<Length>,
    /// Pieces of the back, left to right.
    pub back: Vec<Length>,
}

impl Ladder {
    /// The base under boxes or frames so wide, from the sheet `item`.
    pub fn new(
        (job, item): (&Job, &str),
        (widths, ends): (&[Length], [Length; 2]),
        [between, high]: [Length; 2],
        thick: Length,
    ) -> Self {
        let (long, seams) = along(widths, ends);
        let crosspieces = middles(long, thick, &seams);
        let most = longest(job, item).filter(|m| *m < long);
        let joints_at = joints(&crosspieces, job.mark());
        let front = pieces(long, most, &joints_at, &[]);
        // The back from its right end, so that its joints lie elsewhere.
        let mirrored = |l: &Length| long - *l;
        let places: Vec<Length> = joints_at.iter().rev().map(mirrored).collect();
        let taken: Vec<Length> = meet(&front).iter().map(mirrored).collect();
        let mut back = pieces(long, most, &places, &taken);
        back.reverse();
        Self {
            long,
            ends,
            between,
            high,
            thick,
            crosspieces,
            seams,
            front,
            back,
        }
    }
    /// From the front of its front to the back of its back.
    pub fn depth(&self) -> Length {
        self.between + self.thick * 2
    }
    /// Left faces of the crosspieces: what is marked on front and back.
    pub fn marks(&self) -> Vec<Length> {
        let half = self.thick / 2;
        self.crosspieces.iter().map(|m| *m - half).collect()
    }
    /// Where front and back are joined, if they are.
    pub fn joined(&self) -> [Vec<Length>; 2] {
        [meet(&self.front), meet(&self.back)]
    }
    /// True where a crosspiece stands under that seam.
    pub fn carries(&self, seam: Length) -> bool {
        self.crosspieces.contains(&seam)
    }
}

/// Length of the base under boxes so wide, and where two of them meet over it, from its left end.
fn along(widths: &[Length], ends: [Length; 2]) -> (Length, Vec<Length>) {
    let row: Length = widths.iter().copied().sum();
    let long = row - ends[0] - ends[1];
    let on_it = |s: &Length| s.is_positive() && *s < long;
    let seams = meet(widths).into_iter().map(|s| s - ends[0]);
    (long, seams.filter(on_it).collect())
}

/// How many crosspieces a base so long has, its ends included.
pub fn crosspieces(long: Length, thick: Length) -> usize {
    gaps_over((long - thick).at_least_zero()).max(1) + 1
}

fn gaps_over(long: Length) -> usize {
    let gaps = (long.units() + APART.units() - 1) / APART.units();
    usize::try_from(gaps).unwrap_or(1)
}

/// Middles of the crosspieces: at both ends, under as many seams as their number allows, the others evenly between.
fn middles(long: Length, thick: Length, seams: &[Length]) -> Vec<Length> {
    let gaps = crosspieces(long, thick) - 1;
    let [first, last] = [thick / 2, long - thick / 2];
    let needed = |fixed: &[Length]| -> usize {
        fixed
            .windows(2)
            .map(|w| gaps_over(w[1] - w[0]).max(1))
            .sum()
    };
    let mut fixed = vec![first, last];
    for seam in seams {
        let mut with = fixed.clone();
        with.insert(with.len() - 1, *seam);
        let apart = with.windows(2).all(|w| w[1] - w[0] >= thick);
        if apart && needed(&with) <= gaps {
            fixed = with;
        }
    }
    let mut parts: Vec<usize> = fixed
        .windows(2)
        .map(|w| gaps_over(w[1] - w[0]).max(1))
        .collect();
    // What is left over goes where they would stand farthest apart.
    for _ in parts.iter().sum()..gaps {
        let gap = |i: &usize| (fixed[i + 1] - fixed[*i]) / parts[*i] as i64;
        let Some(widest) = (0..parts.len()).rev().max_by_key(gap) else {
            break;
        };
        parts[widest] += 1;
    }
    let mut all = vec![first];
    for (w, n) in fixed.windows(2).zip(parts) {
        let n = n as i64;
        all.extend((1..n).map(|k| w[0] + (w[1] - w[0]) * k / n));
        all.push(w[1]);
    }
    all
}

/// Where front or back may be joined: over a crosspiece that is not at an end, on a mark of the tape.
fn joints(crosspieces: &[Length], mark: Length) -> Vec<Length> {
    let to_mark = |l: &Length| {
        if mark.is_positive() {
            *l - *l % mark
        } else {
            *l
        }
    };
    let inner = crosspieces.get(1..crosspieces.len().saturating_sub(1));
    inner.unwrap_or_default().iter().map(to_mark).collect()
}

/// The lengths of a board that is joined where it must be: each piece as long as the sheet gives, but not joined where the other
/// board is.
fn pieces(long: Length, most: Option<Length>, places: &[Length], taken: &[Length]) -> Vec<Length> {
    let Some(most) = most else { return vec![long] };
    let (mut all, mut at) = (Vec::new(), Length::ZERO);
    while long - at > most {
        let within = |p: &&Length| **p > at && **p - at <= most;
        let free = places.iter().filter(within).rfind(|p| !taken.contains(p));
        let next = free.or_else(|| places.iter().rfind(within));
        let next = next.copied().unwrap_or(at + most);
        all.push(next - at);
        at = next;
    }
    all.push(long - at);
    all
}

/// Where pieces laid end to end meet.
fn meet(pieces: &[Length]) -> Vec<Length> {
    let mut all: Vec<Length> = Vec::new();
    for p in pieces.iter().take(pieces.len().saturating_sub(1)) {
        all.push(all.last().copied().unwrap_or_default() + *p);
    }
    all
}

/// The longest strip a sheet gives along its grain.
pub(super) fn longest(job: &Job, item: &str) -> Option<Length> {
    let off = job.saw.bought_clean_edges();
    let row = job.stock_row(item)?;
    let (along, off) = if row.grain_along_width {
        (row.width, off[2] + off[3])
    } else {
        (row.length, off[0] + off[1])
    };
    along.map(|l| l - off).filter(|l| l.is_positive())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(whole: i64, in_64: i64) -> Length {
        Length::inches(whole) + Length::in_64(in_64)
    }

    /// By hand: 58 1/4 long of boards 23/32 thick wants four gaps, and the seam at 28 1/2 takes the middle one: 28 9/64 and 29 25/64
    /// are two gaps each.
    #[test]
    fn a_crosspiece_stands_under_the_seam_where_their_number_allows() {
        let all = middles(inch(58, 16), inch(0, 46), &[inch(28, 32)]);
        assert_eq!(all.len(), 5);
        assert_eq!(all[2], inch(28, 32));
        assert_eq!((all[0], all[4]), (inch(0, 23), inch(57, 57)));
        assert!(all.windows(2).all(|w| w[1] - w[0] <= APART));
    }

    /// By hand: boxes of 24, 24 and 22, held off 3/4 at the left and 1/2 at the right: 68 3/4 long, seams 3/4 nearer its left end.
    #[test]
    fn base_that_stays_at_the_ends_makes_it_shorter() {
        let ends = [inch(0, 48), inch(0, 32)];
        let (long, seams) = along(&[inch(24, 0), inch(24, 0), inch(22, 0)], ends);
        assert_eq!(long, inch(68, 48));
        assert_eq!(seams, [inch(23, 16), inch(47, 16)]);
        assert_eq!(
            along(&[inch(24, 0)], [Length::ZERO; 2]),
            (inch(24, 0), vec![])
        );
    }

    /// 69 long, seams at 22 1/4 and 46 3/4: under both they would want six gaps, four carry one of them at most (21 57/64 wants
    /// two, 46 3/4 less that three), so five stand evenly.
    #[test]
    fn where_it_does_not_they_stand_evenly() {
        let all = middles(inch(69, 0), inch(0, 46), &[inch(22, 16), inch(46, 48)]);
        assert_eq!(all.len(), 5);
        assert_eq!(all[2], inch(34, 32));
        assert!(all.windows(2).all(|w| w[1] - w[0] <= APART));
    }

    #[test]
    fn joints_lie_over_crosspieces_and_not_opposite() {
        for long in [100, 120, 150, 190, 200, 260] {
            let (long, thick) = (Length::inches(long), inch(0, 48));
            let (most, mark) = (inch(95, 48), inch(0, 4));
            let cross = middles(long, thick, &[]);
            let places = joints(&cross, mark);
            let front = pieces(long, Some(most), &places, &[]);
            let mirrored: Vec<Length> = places.iter().rev().map(|l| long - *l).collect();
            let taken: Vec<Length> = meet(&front).iter().map(|l| long - *l).collect();
            let mut back = pieces(long, Some(most), &mirrored, &taken);
            back.reverse();
            for side in [&front, &back] {
                assert_eq!(side.iter().copied().sum::<Length>(), long);
                assert!(side.iter().all(|p| *p <= most && p.is_positive()));
                let on = |e: &Length| cross.iter().any(|c| (*c - *e).abs() < mark);
                assert!(meet(side).iter().all(on));
            }
            let [a, b] = [meet(&front), meet(&back)];
            assert!(a.iter().all(|e| !b.contains(e)), "{long:?} {a:?} {b:?}");
        }
    }
}
