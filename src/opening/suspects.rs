//! Which reading slipped: each is left out in turn, and the one whose slip explains every failed overlap is named.
//!
//! Owns the search and the order of the suspects. Overlaps alone decide whether anything is wrong and who can be the cause;
//! among several who could, the kind of slip and the likeness to the neighbours only set the order. Method: leave-one-out
//! least squares on the overlap equations, each weighed by what rounding does to it; our own weighting.

use super::likeness::Likeness;
use super::overlap::{Overlap, expected};
use super::reading::{self, ReadingAt as At};
use super::shape::{Shape, Side};
use super::slip::{self, SlipKind};
use crate::model::Opening;
use crate::units::{Length, Tape};

/// One explanation: these readings slipped, and this is what they should have been.
#[derive(Clone, PartialEq, Debug)]
pub struct Suspect {
    /// The readings and what they should be (two where left and right were changed about, or two slips are needed).
    pub readings: Vec<(At, Length)>,
    /// What kind of slip, where one is recognised.
    pub kind: Option<SlipKind>,
    /// Larger is likelier; only differences mean anything.
    pub score: f64,
}

/// Explanations less likely than the best by more than this are not listed (as a logarithm; 6 to 14 changes little).
const LISTED_WITHIN: f64 = 12.0;
/// At most so many explanations are listed: a longer list would not be read.
const LISTED: usize = 5;
/// Steps of the solver for the size of a slip; diagonals are nearly straight in it, so a few suffice.
const STEPS: usize = 5;

/// What the search needs at hand.
struct Search<'a> {
    opening: &'a Opening,
    overlaps: &'a [Overlap],
    likeness: Likeness,
    tape: Tape,
}

/// The explanations of what disagrees, likeliest first; empty where all agrees.
pub fn suspects(opening: &Opening, overlaps: &[Overlap], tape: Tape) -> Vec<Suspect> {
    if overlaps.iter().all(Overlap::agrees) {
        return Vec::new();
    }
    let search = Search {
        opening,
        overlaps,
        likeness: Likeness::of(opening),
        tape,
    };
    let mut found: Vec<Suspect> = search
        .pulling()
        .into_iter()
        .filter_map(|at| search.single(at))
        .chain(search.changed_about())
        .collect();
    if found.is_empty() {
        found.extend(search.several());
    }
    found.sort_by(|a, b| {
        b.score
            .total_cmp(&a.score)
            .then_with(|| a.readings.cmp(&b.readings))
    });
    let best = found.first().map_or(0.0, |s| s.score);
    found.retain(|s| s.score >= best - LISTED_WITHIN);
    found.truncate(LISTED);
    found
}

impl Search<'_> {
    /// Readings that could move a failed overlap back to where it agrees.
    fn pulling(&self) -> Vec<At> {
        let mut list: Vec<At> = self
            .overlaps
            .iter()
            .filter(|o| !o.agrees())
            .flat_map(|o| o.pull.iter().filter(|(_, p)| p.abs() > 0.05).map(|p| p.0))
            .collect();
        list.sort_unstable();
        list.dedup();
        list
    }

    /// Misses of the overlaps those readings pull, once they are changed: (read less expected, tolerance), in inches.
    fn misses(&self, changed: &Opening, shape: &Shape) -> Vec<(f64, f64)> {
        self.overlaps
            .iter()
            .map(|o| {
                let off = reading::get(changed, o.read_at)
                    .zip(expected(changed, shape, o.read_at))
                    .map_or(Length::ZERO, |(r, e)| r - e);
                (off.as_inches(), o.tolerance.as_inches())
            })
            .collect()
    }

    fn with(&self, readings: &[(At, Length)]) -> Vec<(f64, f64)> {
        let mut changed = self.opening.clone();
        for (at, value) in readings {
            reading::put(&mut changed, *at, *value);
        }
        self.misses(&changed, &Shape::of(&changed))
    }

    /// How badly the overlaps still miss, or nothing where one misses by more than its tolerance.
    fn cost(&self, readings: &[(At, Length)]) -> Option<f64> {
        let misses = self.with(readings);
        if misses
            .iter()
            .any(|(miss, tolerance)| miss.abs() > *tolerance)
        {
            return None;
        }
        // Rounding seldom reaches its worst: a third of the tolerance is about its standard deviation.
        Some(
            misses
                .iter()
                .map(|(m, t)| (3.0 * m / t).powi(2) / 2.0)
                .sum(),
        )
    }

    /// What the reading should be for the overlaps to agree best.
    fn solve(&self, at: At, start: Length) -> Option<Length> {
        let mut value = start;
        for _ in 0..STEPS {
            let here = self.with(&[(at, value)]);
            let ahead = self.with(&[(at, value + Length::INCH / 4)]);
            let (mut up, mut down) = (0.0, 0.0);
            for ((m, t), (m1, _)) in here.iter().zip(&ahead) {
                let pull = (m1 - m) * 4.0;
                up += pull * m / (t * t);
                down += pull * pull / (t * t);
            }
            if down <= 0.0 {
                return None;
            }
            // A slip beyond 1000 in is no slip of the tape; this also keeps the cast in range.
            let step = (up / down).clamp(-1000.0, 1000.0);
            value -= Length::from_units((step * Length::INCH.units() as f64) as i64);
        }
        Some(value)
    }

    /// The same reading on the other side.
    fn other_side(&self, at: At) -> Option<At> {
        let last = |n: usize, i: usize| n.checked_sub(i + 1);
        let level = &self.opening.level_line;
        let turn = |s| {
            if s == Side::Left {
                Side::Right
            } else {
                Side::Left
            }
        };
        match at {
            At::Gap(side, face, i) => Some(At::Gap(turn(side), face, i)),
            At::Down(face, i) => Some(At::Down(face, last(level.down_to_floor.len(), i)?)),
            At::Up(face, i) => Some(At::Up(face, last(level.up_to_ceiling.len(), i)?)),
            At::DiagonalUpRight => Some(At::DiagonalUpLeft),
            At::DiagonalUpLeft => Some(At::DiagonalUpRight),
            _ => None,
        }
        .filter(|o| *o != at)
    }

    /// One reading slipped, and nothing else.
    fn single(&self, at: At) -> Option<Suspect> {
        let read = reading::get(self.opening, at)?;
        let fitted = self.solve(at, read)?;
        let other = self
            .other_side(at)
            .and_then(|o| reading::get(self.opening, o));
        let near = Length::INCH / 2;
        let mut best: Option<Suspect> = None;
        let mut offer = |kind: Option<SlipKind>, truth: Length| {
            let Some(cost) = self.cost(&[(at, truth)]) else {
                return;
            };
            let score = kind.map_or(0.0, SlipKind::weight) - cost
                + self.likeness.gain(self.opening, at, truth);
            if best.as_ref().is_none_or(|b| score > b.score) {
                best = Some(Suspect {
                    readings: vec![(at, truth)],
                    kind,
                    score,
                });
            }
        };
        offer(None, fitted);
        for (kind, truth) in slip::known(read, other, self.tape.unit) {
            let truth = if kind == SlipKind::LeftForRight {
                fitted
            } else {
                truth
            };
            if (truth - fitted).abs() <= near {
                offer(Some(kind), truth);
            }
        }
        best
    }

    /// Left and right changed about: each is what the other was written as.
    fn changed_about(&self) -> Vec<Suspect> {
        self.pulling()
            .into_iter()
            .filter_map(|at| {
                let other = self.other_side(at).filter(|o| at < *o)?;
                let (a, b) = (
                    reading::get(self.opening, at)?,
                    reading::get(self.opening, other)?,
                );
                let readings = vec![(at, b), (other, a)];
                let cost = self.cost(&readings)?;
                let gain = self.likeness.gain(self.opening, at, b)
                    + self.likeness.gain(self.opening, other, a);
                Some(Suspect {
                    score: SlipKind::LeftForRight.weight() - cost + gain,
                    readings,
                    kind: Some(SlipKind::LeftForRight),
                })
            })
            .collect()
    }

    /// No single slip explains it: two that together do, or, failing that, the one that explains most.
    fn several(&self) -> Option<Suspect> {
        let failing = |readings: &[(At, Length)]| {
            self.with(readings)
                .iter()
                .map(|(m, t)| (m.abs() / t - 1.0).max(0.0))
                .sum::<f64>()
        };
        let mut fixed: Vec<(At, Length)> = Vec::new();
        for _ in 0..3 {
            let next = self
                .pulling()
                .into_iter()
                .filter(|at| fixed.iter().all(|(f, _)| f != at))
                .flat_map(|at| self.offers(at, &fixed))
                .map(|one| {
                    let mut all = fixed.clone();
                    all.push(one);
                    (failing(&all), all)
                })
                .min_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(&b.1)))?;
            fixed = next.1;
            if next.0 <= 0.0 {
                break;
            }
        }
        Some(Suspect {
            readings: fixed,
            kind: None,
            score: 0.0,
        })
    }

    /// Values of one reading that would each put one failed overlap right, others already mended.
    fn offers(&self, at: At, fixed: &[(At, Length)]) -> Vec<(At, Length)> {
        let Some(read) = reading::get(self.opening, at) else {
            return Vec::new();
        };
        let now = self.with(fixed);
        self.overlaps
            .iter()
            .zip(&now)
            .filter(|(o, (m, t))| m.abs() > *t && o.pull_of(at).abs() > 0.05)
            .map(|(o, (m, _))| {
                let by = (m / o.pull_of(at)).clamp(-1000.0, 1000.0);
                let by = Length::from_units((by * Length::INCH.units() as f64) as i64);
                (at, read - by)
            })
            .collect()
    }
}
