//! What the drawings of the opening share: from places in the opening to places on paper, the outline of a plane, and
//! dimensions whose figure stands clear of the lines below it.

use crate::book::draw::{Anchor, Area, Dash, Drawing, Fill, Pen, Point, Text, Weight, pt};
use crate::book::pages::sheet::scales;
use crate::opening::{Plane, Side};
use crate::units::{Length, Unit};

/// A place in an upright plane: right from the left plumb line, up from the level line.
pub(super) type Spot = (Length, Length);

/// Level and plumb lines.
pub(super) const CHAIN: Pen = Pen::broken(0.25, Dash::Chain);
/// Edges that are not seen, and boxes that are only thought of.
pub(super) const DASHED: Pen = Pen::broken(0.35, Dash::Dashed);

/// From places to paper.
#[derive(Clone, Copy)]
pub(super) struct View {
    pub(super) scale: f64,
    left: f64,
    top: f64,
    at: Point,
}

impl View {
    /// With the place (`left`, `top`) at `at`.
    pub(super) fn new(scale: f64, (left, top): Spot, at: Point) -> Self {
        Self {
            scale,
            left: left.as_mm(),
            top: top.as_mm(),
            at,
        }
    }
    pub(super) fn x(&self, x: Length) -> f64 {
        self.at.x + (x.as_mm() - self.left) / self.scale
    }
    pub(super) fn y(&self, y: Length) -> f64 {
        self.at.y + (self.top - y.as_mm()) / self.scale
    }
    pub(super) fn at(&self, (x, y): Spot) -> Point {
        pt(self.x(x), self.y(y))
    }
    pub(super) fn path(&self, spots: &[Spot]) -> Vec<Point> {
        spots.iter().map(|s| self.at(*s)).collect()
    }
    /// The rectangle with that lower left corner.
    pub(super) fn area(&self, (x, y): Spot, [w, h]: [Length; 2]) -> Area {
        let (w, h) = (w.as_mm() / self.scale, h.as_mm() / self.scale);
        Area::new(self.x(x), self.y(y) - h, w, h)
    }
}

/// The largest round scale at which something so large (mm) takes no more than that room.
pub(super) fn scale_for(unit: Unit, size: [f64; 2], room: [f64; 2]) -> f64 {
    let fits = |s: &f64| size[0] / s <= room[0] && size[1] / s <= room[1];
    let least = (size[0] / room[0]).max(size[1] / room[1]).ceil();
    scales(unit).iter().copied().find(fits).unwrap_or(least)
}

/// Walls, floor and ceiling of a plane as broken lines.
pub(super) struct Outline {
    pub(super) left: Vec<Spot>,
    pub(super) right: Vec<Spot>,
    pub(super) floor: Vec<Spot>,
    pub(super) ceiling: Vec<Spot>,
}

impl Outline {
    /// `None` where a reading it needs was not taken.
    pub(super) fn of(plane: &Plane) -> Option<Self> {
        let apart = plane.apart?;
        let wall = |side: Side| {
            let (low, high) = (plane.corner(side, true)?, plane.corner(side, false)?);
            let mut spots = vec![low];
            for (y, gap) in plane.wall(side).points() {
                if *y > low.1 && *y < high.1 {
                    let x = if side == Side::Left {
                        -*gap
                    } else {
                        apart + *gap
                    };
                    spots.push((x, *y));
                }
            }
            spots.push(high);
            Some(spots)
        };
        let (left, right) = (wall(Side::Left)?, wall(Side::Right)?);
        let between = |a: Spot, b: Spot, points: &[Spot], sign: i64| {
            let inside = points.iter().filter(|p| p.0 > a.0 && p.0 < b.0);
            let mut spots = vec![a];
            spots.extend(inside.map(|p| (p.0, p.1 * sign)));
            spots.push(b);
            spots
        };
        Some(Self {
            floor: between(left[0], right[0], plane.floor.points(), -1),
            ceiling: between(*left.last()?, *right.last()?, plane.ceiling.points(), 1),
            left,
            right,
        })
    }
    /// Least and largest `x`, lowest and highest `y`.
    pub(super) fn extent(&self) -> (Spot, Spot) {
        let all = || {
            [&self.left, &self.right, &self.floor, &self.ceiling]
                .into_iter()
                .flatten()
        };
        let x = |s: &Spot| s.0;
        let y = |s: &Spot| s.1;
        let least = |of: &dyn Fn(&Spot) -> Length| all().map(of).min().unwrap_or_default();
        let most = |of: &dyn Fn(&Spot) -> Length| all().map(of).max().unwrap_or_default();
        ((least(&x), least(&y)), (most(&x), most(&y)))
    }
    /// Where it stands on its page, with room beside the walls for gaps and heights, and its scale.
    pub(super) fn elevation(&self, unit: Unit) -> (View, f64) {
        const WIDE: f64 = 178.0;
        let (low, high) = self.extent();
        let size = [(high.0 - low.0).as_mm(), (high.1 - low.1).as_mm()];
        let scale = scale_for(unit, size, [WIDE - 2.0 * BESIDE_WALLS, 176.0]);
        let left = (WIDE - size[0] / scale) / 2.0;
        (View::new(scale, (low.0, high.1), pt(left, 12.0)), scale)
    }
    /// Draws it.
    pub(super) fn draw(&self, drawing: &mut Drawing, view: &View, pen: Pen) {
        for side in [&self.left, &self.right, &self.floor, &self.ceiling] {
            drawing.path(view.path(side), pen);
        }
    }
}

/// Room beside the walls for gaps and heights, mm.
pub(super) const BESIDE_WALLS: f64 = 27.0;

/// A figure on a white field, so that lines below it do not cross it; `framed` marks one to take again.
pub(super) fn figure(drawing: &mut Drawing, at: Point, anchor: Anchor, text: &str, framed: bool) {
    let weight = if framed {
        Weight::Bold
    } else {
        Weight::Regular
    };
    let text = Text::new(at, 2.5, weight, text).anchored(anchor);
    let area = text.area().inset(-0.5);
    let pen = framed.then_some(Pen::solid(0.35));
    drawing.rect(area, Fill::White, pen);
    drawing.text(text);
}

/// A level dimension with its figure on the line, that share of the way along.
pub(super) fn span(
    drawing: &mut Drawing,
    x: [f64; 2],
    y: f64,
    share: f64,
    text: &str,
    framed: bool,
) {
    drawing.line(pt(x[0], y), pt(x[1], y), Pen::NARROW);
    heads(drawing, [pt(x[0], y), pt(x[1], y)], (1.0, 0.0));
    let at = pt(x[0] + (x[1] - x[0]) * share, y + 1.2);
    figure(drawing, at, Anchor::Centre, text, framed);
}

/// An upright dimension with its figure on the line, level.
pub(super) fn rise(
    drawing: &mut Drawing,
    x: f64,
    y: [f64; 2],
    share: f64,
    text: &str,
    framed: bool,
) {
    drawing.line(pt(x, y[0]), pt(x, y[1]), Pen::NARROW);
    heads(drawing, [pt(x, y[0]), pt(x, y[1])], (0.0, 1.0));
    let at = pt(x, y[0] + (y[1] - y[0]) * share + 1.2);
    figure(drawing, at, Anchor::Centre, text, framed);
}

/// Arrowheads at both ends, turned outward where the line is short.
fn heads(drawing: &mut Drawing, ends: [Point; 2], (dx, dy): (f64, f64)) {
    let long = (ends[1].x - ends[0].x).abs() + (ends[1].y - ends[0].y).abs();
    let way = if (ends[1].x - ends[0].x) + (ends[1].y - ends[0].y) < 0.0 {
        -1.0
    } else {
        1.0
    };
    let way = if long < 5.0 { -way } else { way };
    drawing.arrowhead(ends[0], dx * way, dy * way, 2.0);
    drawing.arrowhead(ends[1], -dx * way, -dy * way, 2.0);
}

/// Moves heights of lines of text apart so that none covers the next; they run from high to low on paper.
pub(super) fn apart(mut y: Vec<f64>, least: f64) -> Vec<f64> {
    for i in 1..y.len() {
        y[i] = y[i].min(y[i - 1] - least);
    }
    y
}

/// The scale bar of a drawing, a foot or half a metre a step.
pub(super) fn bar(drawing: &mut Drawing, at: Point, unit: Unit, scale: f64) {
    let (step, name) = match unit {
        Unit::Inch => (304.8, "1 ft"),
        Unit::Mm => (500.0, "500 mm"),
    };
    drawing.scale_bar(
        at,
        step / scale,
        2,
        &format!("{name} each, scale 1:{scale}"),
    );
}

#[cfg(test)]
mod tests {
    use super::apart;

    #[test]
    fn lines_of_text_keep_apart() {
        assert_eq!(apart(vec![50.0, 48.0, 20.0], 4.0), [50.0, 46.0, 20.0]);
    }
}
