//! A surface as she read it: a broken line through its readings, straight between them. Whole numbers only.
//!
//! Owns interpolation and the rule for the largest box: every reading within the stretch counts, and so does the next one
//! beyond each end, in full. It does not know whether the surface is a wall, a floor or a ceiling.
//! Method: plain linear interpolation; the counting rule is our own and errs on the small side.

use crate::units::Length;

/// `a * b / c` to the nearest unit, halves away from zero; `c` must not be zero.
pub(crate) fn scale(a: Length, b: Length, c: Length) -> Length {
    let (n, d) = (
        i128::from(a.units()) * i128::from(b.units()),
        i128::from(c.units()),
    );
    let (n, d) = if d < 0 { (-n, -d) } else { (n, d) };
    let q = if n >= 0 {
        (n + d / 2) / d
    } else {
        -((-n + d / 2) / d)
    };
    clamp(q)
}

/// The straight distance across `dx` and `dy`, to the unit below.
pub(crate) fn hypotenuse(dx: Length, dy: Length) -> Length {
    let (x, y) = (i128::from(dx.units()), i128::from(dy.units()));
    clamp((x * x + y * y).isqrt())
}

/// The straight distance across `dx` and `dy`, to the unit above: what must pass under a ceiling.
pub(crate) fn hypotenuse_up(dx: Length, dy: Length) -> Length {
    let down = hypotenuse(dx, dy);
    let (x, y, d) = (
        i128::from(dx.units()),
        i128::from(dy.units()),
        i128::from(down.units()),
    );
    if d * d == x * x + y * y {
        down
    } else {
        down + Length::from_units(1)
    }
}

/// Lengths are read up to 100 m; anything a sum of them can reach is far inside this.
fn clamp(q: i128) -> Length {
    const FAR: i128 = 1_i128 << 60;
    Length::from_units(q.clamp(-FAR, FAR) as i64)
}

/// Points (along, out) in order of `along`; no two at one place.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Trace {
    points: Vec<(Length, Length)>,
}

impl Trace {
    /// From readings in any order; of two at one place the smaller counts.
    pub fn new(mut points: Vec<(Length, Length)>) -> Self {
        points.sort();
        points.dedup_by(|later, first| later.0 == first.0);
        Self { points }
    }
    /// The readings, in order.
    pub fn points(&self) -> &[(Length, Length)] {
        &self.points
    }
    /// True where nothing was read.
    pub fn is_empty(&self) -> bool {
        self.points.is_empty()
    }
    /// The least reading.
    pub fn least(&self) -> Option<Length> {
        self.points.iter().map(|p| p.1).min()
    }
    /// The largest reading.
    pub fn most(&self) -> Option<Length> {
        self.points.iter().map(|p| p.1).max()
    }
    /// The value at a place: straight between readings, straight on beyond the last two.
    pub fn at(&self, along: Length) -> Option<Length> {
        let n = self.points.len();
        if n < 2 {
            return self.points.first().map(|p| p.1);
        }
        let upper = self.points.partition_point(|p| p.0 < along).clamp(1, n - 1);
        let ((x0, y0), (x1, y1)) = (self.points[upper - 1], self.points[upper]);
        Some(y0 + scale(y1 - y0, along - x0, x1 - x0))
    }
    /// The value of a wall at a height: straight between readings, and plumb below the first and above the last, where nobody
    /// measured. The one rule for walls, for every room.
    pub fn plumb_at(&self, along: Length) -> Option<Length> {
        let (first, last) = (self.points.first()?, self.points.last()?);
        self.at(along.max(first.0).min(last.0))
    }
    /// How far off plumb the wall would be there if it went on at its last slope.
    pub fn lean_at(&self, along: Length) -> Length {
        match (self.at(along), self.plumb_at(along)) {
            (Some(sloped), Some(plumb)) => (sloped - plumb).abs(),
            _ => Length::ZERO,
        }
    }
    /// How far `along` lies outside the readings; zero within them.
    pub fn beyond(&self, along: Length) -> Length {
        match (self.points.first(), self.points.last()) {
            (Some(a), Some(b)) => (a.0 - along).max(along - b.0).at_least_zero(),
            _ => Length::ZERO,
        }
    }
    /// The readings that count for something standing from `from` to `to`: those within, and the next beyond each end.
    pub fn counted(&self, from: Length, to: Length) -> &[(Length, Length)] {
        let first = self
            .points
            .partition_point(|p| p.0 <= from)
            .saturating_sub(1);
        let last = (self.points.partition_point(|p| p.0 < to) + 1).min(self.points.len());
        if first < last {
            &self.points[first..last]
        } else {
            &[]
        }
    }
    /// The least counted reading from `from` to `to`.
    pub fn least_over(&self, from: Length, to: Length) -> Option<Length> {
        self.counted(from, to).iter().map(|p| p.1).min()
    }
    /// The true least value of the broken line from `from` to `to`: its bends within, and both ends interpolated.
    pub fn lowest_between(&self, from: Length, to: Length) -> Option<Length> {
        let ends = [self.at(from)?, self.at(to)?];
        self.points
            .iter()
            .filter(|p| p.0 > from && p.0 < to)
            .map(|p| p.1)
            .chain(ends)
            .min()
    }
    /// The true largest value of the broken line from `from` to `to`.
    pub fn highest_between(&self, from: Length, to: Length) -> Option<Length> {
        let ends = [self.at(from)?, self.at(to)?];
        self.points
            .iter()
            .filter(|p| p.0 > from && p.0 < to)
            .map(|p| p.1)
            .chain(ends)
            .max()
    }
    /// The steepest piece: change of value over one inch of the way, without sign.
    pub fn steepest(&self) -> Length {
        self.points
            .windows(2)
            .map(|w| scale((w[1].1 - w[0].1).abs(), Length::INCH, w[1].0 - w[0].0))
            .max()
            .unwrap_or(Length::ZERO)
    }
    /// The slope of the piece at the low end (true) or the high end, as (change of value, length of the piece).
    pub fn end_piece(&self, low: bool) -> Option<(Length, Length)> {
        let n = self.points.len();
        if n < 2 {
            return None;
        }
        let (a, b) = if low {
            (self.points[0], self.points[1])
        } else {
            (self.points[n - 2], self.points[n - 1])
        };
        Some((b.1 - a.1, b.0 - a.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn t(points: &[(i64, i64)]) -> Trace {
        Trace::new(
            points
                .iter()
                .map(|&(a, b)| (Length::inches(a), Length::in_64(b)))
                .collect(),
        )
    }

    #[test]
    fn counts_the_next_reading_beyond_each_end_in_full() {
        let wall = t(&[(0, 64), (24, 56), (48, 8), (72, 40)]);
        // A box from 25 to 30 lies between 24 and 48: both count, the belly at 48 in full.
        assert_eq!(
            wall.least_over(Length::inches(25), Length::inches(30)),
            Some(Length::in_64(8))
        );
        // One that ends exactly on a reading still counts only that one at that end.
        assert_eq!(wall.counted(Length::inches(0), Length::inches(24)).len(), 2);
        assert_eq!(
            wall.least_over(Length::inches(50), Length::inches(90)),
            Some(Length::in_64(8))
        );
    }

    #[test]
    fn straight_between_and_beyond() {
        let wall = t(&[(0, 64), (24, 40)]);
        assert_eq!(wall.at(Length::inches(12)), Some(Length::in_64(52)));
        assert_eq!(wall.at(Length::inches(36)), Some(Length::in_64(28)));
        assert_eq!(Trace::default().at(Length::ZERO), None);
        // A wall is plumb beyond its readings; a foot further on at its slope it would be 12/64 off that.
        for (height, gap) in [(-12, 64), (12, 52), (36, 40)] {
            let found = wall.plumb_at(Length::inches(height));
            assert_eq!(found, Some(Length::in_64(gap)), "{height}");
        }
        assert_eq!(wall.lean_at(Length::inches(36)), Length::in_64(12));
        assert_eq!(wall.lean_at(Length::inches(-12)), Length::in_64(12));
        assert_eq!(wall.lean_at(Length::inches(24)), Length::ZERO);
        assert_eq!(
            hypotenuse(Length::inches(36), Length::inches(48)),
            Length::inches(60)
        );
    }
}
