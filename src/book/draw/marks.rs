//! The signs of a workshop drawing: grain arrow, banded edge, balloon, arrowhead, overall dimension, scale bar, test rule,
//! box to tick. Owns their shapes; must not know which part wears one.
//!
//! Line kinds after ISO 128-2, dimensions after ISO 129-1 (figure above and parallel to its line, read from the foot or
//! from the right). Grain and edge signs: common practice, no source.

use super::font::Weight;
use super::list::{Area, Drawing, Fill, Pen, Point, pt};
use super::text::{Anchor, Text, Turn, half_cap, text_width};

/// Which edge of an area, as it lies on the paper.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
    /// Upper.
    Top,
    /// Lower.
    Bottom,
}

impl Drawing {
    /// A long two-headed arrow with three short side hairs, along the grain.
    pub fn grain(&mut self, centre: Point, length: f64, upright: bool) {
        let at = |along: f64, off: f64| {
            if upright {
                pt(centre.x + off, centre.y + along)
            } else {
                pt(centre.x + along, centre.y + off)
            }
        };
        let half = length / 2.0;
        self.line(at(-half, 0.0), at(half, 0.0), Pen::NARROW);
        for end in [-half, half] {
            let back = end - 1.8 * end.signum();
            let head = vec![at(end, 0.0), at(back, 0.55), at(back, -0.55)];
            self.polygon(head, Fill::Black, None);
        }
        for hair in [-1.0, 0.0, 1.0] {
            let along = hair * (half * 0.35).min(2.2);
            self.line(at(along - 0.6, 0.9), at(along + 0.6, -0.9), Pen::NARROW);
        }
    }
    /// The sign of a part that may be turned: a small open circle.
    pub fn grain_any(&mut self, centre: Point) {
        self.circle(centre, 1.1, Fill::None, Some(Pen::NARROW));
    }
    /// A banded edge: a thick bar just inside the edge and a filled triangle pointing at it.
    pub fn banded(&mut self, area: Area, side: Side) {
        const BAR: f64 = 1.2;
        let long = match side {
            Side::Left | Side::Right => area.h,
            Side::Top | Side::Bottom => area.w,
        };
        let inset = (long * 0.04).min(1.5);
        let bar = match side {
            Side::Left => Area::new(area.x + 0.5, area.y + inset, BAR, long - 2.0 * inset),
            Side::Right => Area::new(
                area.right() - 0.5 - BAR,
                area.y + inset,
                BAR,
                long - 2.0 * inset,
            ),
            Side::Top => Area::new(area.x + inset, area.y + 0.5, long - 2.0 * inset, BAR),
            Side::Bottom => Area::new(
                area.x + inset,
                area.bottom() - 0.5 - BAR,
                long - 2.0 * inset,
                BAR,
            ),
        };
        self.rect(bar, Fill::Black, None);
        let (c, reach, half) = (bar.centre(), 2.2, 1.3);
        let triangle = match side {
            Side::Left => [
                pt(bar.right() + 0.2, c.y),
                pt(bar.right() + reach, c.y - half),
                pt(bar.right() + reach, c.y + half),
            ],
            Side::Right => [
                pt(bar.x - 0.2, c.y),
                pt(bar.x - reach, c.y - half),
                pt(bar.x - reach, c.y + half),
            ],
            Side::Top => [
                pt(c.x, bar.bottom() + 0.2),
                pt(c.x - half, bar.bottom() + reach),
                pt(c.x + half, bar.bottom() + reach),
            ],
            Side::Bottom => [
                pt(c.x, bar.y - 0.2),
                pt(c.x - half, bar.y - reach),
                pt(c.x + half, bar.y - reach),
            ],
        };
        if long > 4.0 {
            self.polygon(triangle.to_vec(), Fill::Black, None);
        }
    }
    /// A number in a circle.
    pub fn balloon(&mut self, centre: Point, radius: f64, size: f64, text: &str) {
        self.circle(centre, radius, Fill::White, Some(Pen::NARROW));
        let at = pt(centre.x, centre.y + half_cap(size));
        self.say_centred(at, size, Weight::Bold, text);
    }
    /// A closed narrow arrowhead with its point at `tip`, coming from the direction (`dx`, `dy`).
    pub fn arrowhead(&mut self, tip: Point, dx: f64, dy: f64, long: f64) {
        let (bx, by) = (tip.x + dx * long, tip.y + dy * long);
        let half = long * 0.28;
        let points = vec![
            tip,
            pt(bx - dy * half, by + dx * half),
            pt(bx + dy * half, by - dx * half),
        ];
        self.polygon(points, Fill::Black, None);
    }
    /// A level dimension: the line at height `y` between two places, its figure above it.
    pub fn dimension(&mut self, x: [f64; 2], y: f64, size: f64, figure: &str) {
        self.line(pt(x[0], y), pt(x[1], y), Pen::NARROW);
        self.arrowhead(pt(x[0], y), 1.0, 0.0, 2.5);
        self.arrowhead(pt(x[1], y), -1.0, 0.0, 2.5);
        let middle = f64::midpoint(x[0], x[1]);
        self.say_centred(pt(middle, y - size * 0.6), size, Weight::Regular, figure);
    }
    /// An upright dimension: its figure to the left of the line, read from the right.
    pub fn dimension_up(&mut self, x: f64, y: [f64; 2], size: f64, figure: &str) {
        self.line(pt(x, y[0]), pt(x, y[1]), Pen::NARROW);
        self.arrowhead(pt(x, y[0]), 0.0, 1.0, 2.5);
        self.arrowhead(pt(x, y[1]), 0.0, -1.0, 2.5);
        let at = pt(x - size * 0.6, f64::midpoint(y[0], y[1]));
        self.text(
            Text::new(at, size, Weight::Regular, figure)
                .anchored(Anchor::Centre)
                .turned(Turn::Up),
        );
    }
    /// A scale bar of equal steps, black and white in turn, with its name behind it. Returns its whole length.
    pub fn scale_bar(&mut self, at: Point, step: f64, steps: u32, name: &str) -> f64 {
        for i in 0..steps {
            let fill = if i % 2 == 0 { Fill::Black } else { Fill::White };
            let area = Area::new(at.x + step * f64::from(i), at.y - 1.5, step, 1.5);
            self.rect(area, fill, Some(Pen::NARROW));
        }
        let bar = step * f64::from(steps);
        let said = self.say(pt(at.x + bar + 2.0, at.y), 2.5, Weight::Regular, name);
        bar + 2.0 + said
    }
    /// A box to tick, standing on a baseline.
    pub fn tick_box(&mut self, at: Point, size: f64) {
        let area = Area::new(at.x, at.y - size, size, size);
        self.rect(area, Fill::White, Some(Pen::solid(0.35)));
    }
    /// A rule to measure the printer with: `marks` steps of `step` millimetres, numbered by `number`.
    pub fn test_rule(&mut self, at: Point, step: f64, marks: u32, fine: u32, last: &str) {
        let length = step * f64::from(marks);
        self.line(at, pt(at.x + length, at.y), Pen::solid(0.35));
        for i in 0..=marks * fine {
            let x = at.x + step * f64::from(i) / f64::from(fine);
            let tall = if i % fine == 0 { 4.0 } else { 2.0 };
            self.line(pt(x, at.y), pt(x, at.y - tall), Pen::NARROW);
        }
        self.say(pt(at.x + length + 1.5, at.y), 2.5, Weight::Bold, last);
    }
    /// Third-angle or first-angle sign (ISO 5456-2): a cone seen from the side and from its end.
    pub fn projection_sign(&mut self, at: Point, first_angle: bool) {
        let (cone, end) = if first_angle { (0.0, 12.5) } else { (7.0, 3.0) };
        let (wide, small) = (2.5, 1.25);
        let (l, r) = (at.x + cone, at.x + cone + 7.0);
        // The end view stands beside the small end in third angle, beside the large end in first angle.
        let points = vec![
            pt(l, at.y - small),
            pt(r, at.y - wide),
            pt(r, at.y + wide),
            pt(l, at.y + small),
        ];
        self.polygon(points, Fill::None, Some(Pen::solid(0.35)));
        let centre = pt(at.x + end, at.y);
        for radius in [wide, small] {
            self.circle(centre, radius, Fill::None, Some(Pen::solid(0.35)));
        }
        let axis = Pen::broken(0.18, super::list::Dash::Chain);
        self.line(pt(at.x - 1.0, at.y), pt(at.x + 16.0, at.y), axis);
    }
}

/// The least radius of a balloon around a text of that size.
pub(crate) fn balloon_radius(text: &str, size: f64) -> f64 {
    let width = text_width(text, size, Weight::Bold);
    (width / 2.0).hypot(size / 2.0) + 0.45
}
