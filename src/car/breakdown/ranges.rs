//! Where a cut may lie, which spots of that stretch are tried, and what the two sides then are: a clerk is asked for round sizes,
//! measured from a factory edge.

use super::{Broken, Half, Piece, Range, Search, StoreCut};
use crate::model::weigh;
use crate::units::{Length, Unit};

impl Search<'_> {
    /// Where a cut may lie for each share; a final side must go in the car.
    pub(super) fn ranges(
        &self,
        piece: &Piece,
        shares: &[(usize, Vec<Half>)],
        near_final: bool,
        far_final: bool,
    ) -> Vec<Range> {
        let (store, trim) = (&self.rules.store, self.rules.trim);
        let mut all = Vec::new();
        for (axis, shares) in shares {
            let axis = *axis;
            let (from, to) = (piece.rect[axis], piece.rect[axis + 2]);
            let rough = [axis, axis + 2].map(|s| piece.rough[s].unwrap_or_default());
            // Measured from a factory edge where there is one.
            let off = store.true_to + rough[0].min(rough[1]);
            let insets = [axis, axis + 2].map(|s| self.inset(piece, s));
            let across = piece.most(1 - axis);
            let most = self.longest(piece, axis, across);
            // Something to hold must remain beyond what is cleaned off.
            let least = |side: usize| {
                let usable = insets[side] + off + trim + self.rules.kerf;
                store.smallest_piece.unwrap_or_default().max(usable)
            };
            for half in shares {
                let needs = |side: usize| {
                    let need = half.need[side];
                    let with = insets[side] + need + off + trim;
                    least(side).max(if need.is_positive() {
                        with
                    } else {
                        Length::ZERO
                    })
                };
                let mut low = from + needs(0);
                let mut high = to - store.kerf - needs(1);
                if near_final {
                    high = high.min(from + most - rough[0] - off);
                }
                if far_final {
                    low = low.max(to - store.kerf - most + rough[1] + off);
                }
                if low <= high {
                    let half = half.clone();
                    all.push(Range {
                        axis,
                        half,
                        low,
                        high,
                        off,
                    });
                }
            }
        }
        all
    }

    /// How long a piece of this width may be at most in the car, by size and weight.
    pub(super) fn longest(&self, piece: &Piece, axis: usize, across: Length) -> Length {
        let by_size = self.rules.spaces.longest(across, self.thick);
        let Some(carries) = self.rules.spaces.carries else {
            return by_size;
        };
        let whole = piece.most(axis);
        let grams = i128::from(weigh(self.row, [whole, across]).grams.max(1));
        let by_weight = i128::from(whole.units()) * i128::from((carries - 1).max(0)) / grams;
        by_size.min(Length::from_units(
            i64::try_from(by_weight).unwrap_or(i64::MAX),
        ))
    }

    /// One cut, both sides final: a size asked already, else the cut with most room on both sides.
    pub(super) fn last(&self, piece: &Piece, ranges: &[Range]) -> Option<Broken> {
        for (axis, size) in self.prefer {
            let at = |r: &Range| {
                self.position(piece, *axis, *size)
                    .filter(|at| r.low <= *at && *at <= r.high)
            };
            let fits = ranges.iter().filter(|r| r.axis == *axis);
            for range in fits {
                if let Some(at) = at(range)
                    && let Some(found) = self.both(piece, range, at)
                {
                    return Some(found);
                }
            }
        }
        let mut order: Vec<&Range> = ranges.iter().collect();
        order.sort_by_key(|r| (r.low - r.high, 1 - r.axis));
        order.into_iter().find_map(|range| {
            let spots = self.spots(piece, range);
            spots.into_iter().find_map(|at| self.both(piece, range, at))
        })
    }

    pub(super) fn both(&self, piece: &Piece, range: &Range, at: Length) -> Option<Broken> {
        let [a, b] = self.divide(piece, range, at);
        if !self.goes_in(&a) || !self.goes_in(&b) {
            return None;
        }
        let one = |p: Piece| Broken {
            pieces: vec![p],
            ..Broken::default()
        };
        let mut found = self.join(piece, range, at, one(a), one(b));
        let ends = [range.low, range.high].map(|at| self.measured(piece, range.axis, at));
        found.room = Some((range.axis, ends[0].min(ends[1]), ends[0].max(ends[1])));
        Some(found)
    }

    pub(super) fn divide(&self, piece: &Piece, range: &Range, at: Length) -> [Piece; 2] {
        let axis = range.axis;
        let [near, far] = range.half.sides.clone();
        let mut sides = [near, far].map(|tree| Piece {
            tree,
            ..piece.clone()
        });
        sides[0].rect[axis + 2] = at;
        sides[0].rough[axis + 2] = Some(range.off);
        sides[1].rect[axis] = at + self.rules.store.kerf;
        sides[1].rough[axis] = Some(range.off);
        sides
    }

    pub(super) fn join(
        &self,
        piece: &Piece,
        range: &Range,
        at: Length,
        one: Broken,
        two: Broken,
    ) -> Broken {
        let axis = range.axis;
        let mut all = Broken {
            cuts: vec![StoreCut {
                axis,
                at,
                of: piece.rect,
            }],
            asked: vec![(axis, self.measured(piece, axis, at))],
            ..Broken::default()
        };
        for side in [one, two] {
            all.cuts.extend(side.cuts);
            all.pieces.extend(side.pieces);
            all.asked.extend(side.asked);
        }
        all
    }

    /// True where the clerk measures from the far edge: the near one was cut, the far one was not.
    pub(super) fn from_far(piece: &Piece, axis: usize) -> bool {
        piece.rough[axis].is_some() && piece.rough[axis + 2].is_none()
    }

    /// What the store's fence is set to for a cut here.
    pub(super) fn measured(&self, piece: &Piece, axis: usize, at: Length) -> Length {
        if Self::from_far(piece, axis) {
            piece.rect[axis + 2] - at - self.rules.store.kerf
        } else {
            at - piece.rect[axis]
        }
    }

    pub(super) fn position(&self, piece: &Piece, axis: usize, size: Length) -> Option<Length> {
        let at = if Self::from_far(piece, axis) {
            piece.rect[axis + 2] - size - self.rules.store.kerf
        } else {
            piece.rect[axis] + size
        };
        (at > piece.rect[axis] && at < piece.rect[axis + 2]).then_some(at)
    }

    /// Positions worth trying in a range: sizes asked already, the roundest, and as far as it goes either way.
    pub(super) fn spots(&self, piece: &Piece, range: &Range) -> Vec<Length> {
        let axis = range.axis;
        let inside = |at: &Length| range.low <= *at && *at <= range.high;
        let mut spots: Vec<Length> = self
            .prefer
            .iter()
            .filter(|p| p.0 == axis)
            .filter_map(|p| self.position(piece, axis, p.1))
            .filter(inside)
            .collect();
        let ends = [range.low, range.high].map(|at| self.measured(piece, axis, at));
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        let round = round(low, high, self.rules.unit);
        spots.extend(self.position(piece, axis, round).filter(inside));
        let step = fine(self.rules.unit);
        let up = Length::from_units(-(-low.units()).div_euclid(step) * step);
        let down = Length::from_units(high.units().div_euclid(step) * step);
        for size in [down, up] {
            spots.extend(self.position(piece, axis, size).filter(inside));
        }
        spots.extend([range.low, range.high]);
        let mut seen: Vec<Length> = Vec::new();
        spots.retain(|s| {
            let new = !seen.contains(s);
            seen.push(*s);
            new
        });
        spots
    }
}

/// The finest mark a clerk is asked to set: 1/8 in or 1 mm.
const fn fine(unit: Unit) -> i64 {
    match unit {
        Unit::Inch => Length::in_64(8).units(),
        Unit::Mm => Length::MM.units(),
    }
}

/// The roundest size in a range, nearest its middle.
pub(crate) fn round(low: Length, high: Length, unit: Unit) -> Length {
    let steps: &[i64] = match unit {
        Unit::Inch => &[64, 32, 16, 8, 4, 1],
        Unit::Mm => &[50, 10, 5, 1],
    };
    let mark = match unit {
        Unit::Inch => Length::in_64(1).units(),
        Unit::Mm => Length::MM.units(),
    };
    let middle = (low.units() + high.units()) / 2;
    for step in steps {
        let step = step * mark;
        let below = middle.div_euclid(step) * step;
        let nearer = if middle - below <= below + step - middle {
            [below, below + step]
        } else {
            [below + step, below]
        };
        let inside = nearer
            .into_iter()
            .find(|v| low.units() <= *v && *v <= high.units());
        if let Some(v) = inside {
            return Length::from_units(v);
        }
    }
    low
}
