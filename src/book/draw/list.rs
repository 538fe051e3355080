//! The display list: what is on a page, in millimetres from its top left. Owns shapes, pens and areas; must not know any
//! file format or what a shape stands for.

use super::font::Weight;
use super::text::{Anchor, Text};

/// The thinnest line a cheap printer keeps, in millimetres.
pub(super) const THINNEST: f64 = 0.18;

/// A place.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Point {
    /// From the left.
    pub x: f64,
    /// From the top.
    pub y: f64,
}

/// A place, short to write.
pub(crate) const fn pt(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// An upright rectangle.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Area {
    /// Left.
    pub x: f64,
    /// Top.
    pub y: f64,
    /// Width.
    pub w: f64,
    /// Height.
    pub h: f64,
}

impl Area {
    /// From its left top corner and its size.
    pub const fn new(x: f64, y: f64, w: f64, h: f64) -> Self {
        Self { x, y, w, h }
    }
    /// Its right edge.
    pub fn right(&self) -> f64 {
        self.x + self.w
    }
    /// Its lower edge.
    pub fn bottom(&self) -> f64 {
        self.y + self.h
    }
    /// Its middle.
    pub fn centre(&self) -> Point {
        pt(self.x + self.w / 2.0, self.y + self.h / 2.0)
    }
    /// Smaller by `by` on every side; never less than nothing.
    #[must_use]
    pub fn inset(&self, by: f64) -> Self {
        let (w, h) = ((self.w - 2.0 * by).max(0.0), (self.h - 2.0 * by).max(0.0));
        Self::new(
            self.x + (self.w - w) / 2.0,
            self.y + (self.h - h) / 2.0,
            w,
            h,
        )
    }
    /// True if the two have some area in common, a hair's overlap not counted.
    pub fn meets(&self, other: &Self) -> bool {
        const HAIR: f64 = 0.01;
        self.x + HAIR < other.right()
            && other.x + HAIR < self.right()
            && self.y + HAIR < other.bottom()
            && other.y + HAIR < self.bottom()
    }
    /// True if `other` lies wholly inside, a hair apart.
    pub fn holds(&self, other: &Self) -> bool {
        const HAIR: f64 = 0.01;
        other.x >= self.x - HAIR
            && other.y >= self.y - HAIR
            && other.right() <= self.right() + HAIR
            && other.bottom() <= self.bottom() + HAIR
    }
    /// The least area around both.
    #[must_use]
    pub fn around(&self, other: &Self) -> Self {
        let (x, y) = (self.x.min(other.x), self.y.min(other.y));
        Self::new(
            x,
            y,
            self.right().max(other.right()) - x,
            self.bottom().max(other.bottom()) - y,
        )
    }
}

/// How a line is broken (ISO 128-2 names).
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Dash {
    /// Continuous.
    #[default]
    Solid,
    /// Dashed.
    Dashed,
    /// Long-dash-dot.
    Chain,
    /// Long-dash-double-dot.
    DoubleChain,
    /// Dotted.
    Dotted,
}

impl Dash {
    /// Lengths of dashes and gaps in turn, in millimetres; empty = continuous.
    pub(super) fn pattern(self) -> &'static [f64] {
        match self {
            Self::Solid => &[],
            Self::Dashed => &[2.0, 1.0],
            Self::Chain => &[5.0, 1.0, 0.6, 1.0],
            Self::DoubleChain => &[5.0, 1.0, 0.6, 1.0, 0.6, 1.0],
            Self::Dotted => &[0.5, 1.2],
        }
    }
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Dashed => "dashed",
            Self::Chain => "chain",
            Self::DoubleChain => "double-chain",
            Self::Dotted => "dotted",
        }
    }
}

/// What a line is drawn with.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pen {
    /// Width.
    pub width: f64,
    /// How it is broken.
    pub dash: Dash,
}

impl Pen {
    /// Narrow continuous: dimensions, leaders, hatching, table rules.
    pub const NARROW: Self = Self::solid(0.25);
    /// Wide continuous: what is cut.
    pub const WIDE: Self = Self::solid(0.5);
    /// A continuous pen.
    pub const fn solid(width: f64) -> Self {
        Self {
            width,
            dash: Dash::Solid,
        }
    }
    /// A broken pen.
    pub const fn broken(width: f64, dash: Dash) -> Self {
        Self { width, dash }
    }
    /// The width that is painted: never under what a cheap printer keeps.
    pub(super) fn painted(self) -> f64 {
        self.width.max(THINNEST)
    }
}

/// What a shape is filled with.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Fill {
    /// Nothing: what lies below shows.
    #[default]
    None,
    /// Paper white: what lies below is covered.
    White,
    /// A light grey that survives a poor printer.
    Light,
    /// Black.
    Black,
}

impl Fill {
    /// Lightness from 0 (black) to 1, if it paints at all.
    pub(super) fn lightness(self) -> Option<f64> {
        match self {
            Self::None => None,
            Self::White => Some(1.0),
            Self::Light => Some(0.88),
            Self::Black => Some(0.0),
        }
    }
}

/// One thing on the page.
#[derive(Clone, PartialEq, Debug)]
pub enum Item {
    /// An open line through points.
    Line {
        /// Its points.
        points: Vec<Point>,
        /// Drawn with.
        pen: Pen,
    },
    /// An upright rectangle.
    Rect {
        /// Where.
        area: Area,
        /// Filled with.
        fill: Fill,
        /// Outlined with.
        pen: Option<Pen>,
    },
    /// A closed shape.
    Polygon {
        /// Its corners.
        points: Vec<Point>,
        /// Filled with.
        fill: Fill,
        /// Outlined with.
        pen: Option<Pen>,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: f64,
        /// Filled with.
        fill: Fill,
        /// Outlined with.
        pen: Option<Pen>,
    },
    /// Lines at 45 degrees, cut off at the edges of the area.
    Hatch {
        /// Where.
        area: Area,
        /// From line to line.
        pitch: f64,
    },
    /// Text.
    Text(Text),
    /// An area that leads to another page of the same document.
    Link {
        /// Where.
        area: Area,
        /// Page number, from 1.
        page: usize,
    },
}

/// A piece of drawing with its own origin.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Drawing {
    /// In the order they are painted.
    pub items: Vec<Item>,
}

impl Drawing {
    /// Nothing yet.
    pub fn new() -> Self {
        Self::default()
    }
    /// A straight line.
    pub fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.path(vec![from, to], pen);
    }
    /// A line through points.
    pub fn path(&mut self, points: Vec<Point>, pen: Pen) {
        self.items.push(Item::Line { points, pen });
    }
    /// A rectangle.
    pub fn rect(&mut self, area: Area, fill: Fill, pen: Option<Pen>) {
        self.items.push(Item::Rect { area, fill, pen });
    }
    /// A closed shape.
    pub fn polygon(&mut self, points: Vec<Point>, fill: Fill, pen: Option<Pen>) {
        self.items.push(Item::Polygon { points, fill, pen });
    }
    /// A circle.
    pub fn circle(&mut self, centre: Point, radius: f64, fill: Fill, pen: Option<Pen>) {
        self.items.push(Item::Circle {
            centre,
            radius,
            fill,
            pen,
        });
    }
    /// Hatching.
    pub fn hatch(&mut self, area: Area, pitch: f64) {
        self.items.push(Item::Hatch { area, pitch });
    }
    /// Text that is already laid out.
    pub fn text(&mut self, text: Text) {
        if !text.runs.is_empty() {
            self.items.push(Item::Text(text));
        }
    }
    /// Level text from its start, and how long it is.
    pub fn say(&mut self, at: Point, size: f64, weight: Weight, text: &str) -> f64 {
        let text = Text::new(at, size, weight, text);
        let width = text.width();
        self.text(text);
        width
    }
    /// Level text about its middle.
    pub fn say_centred(&mut self, at: Point, size: f64, weight: Weight, text: &str) {
        self.text(Text::new(at, size, weight, text).anchored(Anchor::Centre));
    }
    /// Level text before its end.
    pub fn say_right(&mut self, at: Point, size: f64, weight: Weight, text: &str) {
        self.text(Text::new(at, size, weight, text).anchored(Anchor::Right));
    }
    /// Puts a drawing with its origin at `at`.
    pub fn put(&mut self, other: &Self, at: Point) {
        self.items
            .extend(other.items.iter().map(|i| i.moved(at.x, at.y)));
    }
    /// Letters the font lacks, in the order they turn up.
    pub fn missing(&self) -> Vec<char> {
        let mut all = Vec::new();
        for item in &self.items {
            if let Item::Text(text) = item {
                for letter in &text.missing {
                    if !all.contains(letter) {
                        all.push(*letter);
                    }
                }
            }
        }
        all
    }
}

impl Item {
    /// The same, moved.
    #[must_use]
    pub fn moved(&self, dx: f64, dy: f64) -> Self {
        let shift = |p: &Point| pt(p.x + dx, p.y + dy);
        let shift_area = |a: &Area| Area::new(a.x + dx, a.y + dy, a.w, a.h);
        let mut moved = self.clone();
        match &mut moved {
            Self::Line { points, .. } | Self::Polygon { points, .. } => {
                for p in points {
                    *p = shift(p);
                }
            }
            Self::Rect { area, .. } | Self::Hatch { area, .. } | Self::Link { area, .. } => {
                *area = shift_area(area);
            }
            Self::Circle { centre, .. } => *centre = shift(centre),
            Self::Text(text) => text.at = shift(&text.at),
        }
        moved
    }
    /// The area it can reach.
    pub fn area(&self) -> Area {
        match self {
            Self::Line { points, pen } => around(points).grown(pen.painted() / 2.0),
            Self::Polygon { points, pen, .. } => {
                around(points).grown(pen.map_or(0.0, |p| p.painted() / 2.0))
            }
            Self::Rect { area, pen, .. } => area.grown(pen.map_or(0.0, |p| p.painted() / 2.0)),
            Self::Circle {
                centre,
                radius,
                pen,
                ..
            } => {
                let r = radius + pen.map_or(0.0, |p| p.painted() / 2.0);
                Area::new(centre.x - r, centre.y - r, 2.0 * r, 2.0 * r)
            }
            Self::Hatch { area, .. } | Self::Link { area, .. } => *area,
            Self::Text(text) => text.area(),
        }
    }
}

impl Area {
    fn grown(self, by: f64) -> Self {
        Self::new(
            self.x - by,
            self.y - by,
            self.w + 2.0 * by,
            self.h + 2.0 * by,
        )
    }
}

fn around(points: &[Point]) -> Area {
    let first = points.first().copied().unwrap_or_default();
    let (mut low, mut high) = (first, first);
    for p in points {
        low = pt(low.x.min(p.x), low.y.min(p.y));
        high = pt(high.x.max(p.x), high.y.max(p.y));
    }
    Area::new(low.x, low.y, high.x - low.x, high.y - low.y)
}

/// The lines of a hatching: at 45 degrees, rising to the right, exactly cut off at the area's edges.
pub(super) fn hatch_lines(area: Area, pitch: f64) -> Vec<[Point; 2]> {
    // A line x + y = c crosses the area for c from its left top to its right bottom corner.
    let step = pitch.max(0.5) * std::f64::consts::SQRT_2;
    let (first, last) = (area.x + area.y, area.right() + area.bottom());
    let count = ((last - first) / step).floor().clamp(0.0, 10_000.0) as usize;
    (1..=count)
        .filter_map(|i| {
            let c = first + step * i as f64;
            let x0 = (c - area.bottom()).max(area.x);
            let x1 = (c - area.y).min(area.right());
            (x1 - x0 > 0.05).then(|| [pt(x0, c - x0), pt(x1, c - x1)])
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatching_stays_inside_its_area() {
        let area = Area::new(10.0, 20.0, 33.0, 7.0);
        let lines = hatch_lines(area, 2.0);
        assert!(lines.len() > 10);
        for [a, b] in lines {
            for p in [a, b] {
                assert!(area.holds(&Area::new(p.x, p.y, 0.0, 0.0)), "{p:?}");
            }
            assert!(((b.x - a.x) - (a.y - b.y)).abs() < 1e-9, "45 degrees");
        }
        assert!(hatch_lines(Area::new(0.0, 0.0, 0.0, 0.0), 2.0).is_empty());
    }

    #[test]
    fn an_inset_larger_than_the_area_leaves_its_middle() {
        let left = Area::new(0.0, 0.0, 4.0, 30.0).inset(3.0);
        assert_eq!((left.x, left.w, left.h), (2.0, 0.0, 24.0));
    }
}
