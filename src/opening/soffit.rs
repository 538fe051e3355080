//! Steps and slopes in the ceiling: the boxes that stand clear of them.
//!
//! Owns what a soffit takes from the whole-width box and the other boxes that are left beside it, in front of it or under the
//! high part of a slope.

use super::floor::Foot;
use super::shape::{Shape, Side};
use super::survey::{BoxSize, OtherBox, width_over};
use crate::model::{Opening, Soffit};
use crate::units::Length;

/// A ceiling that is out by more than this is a slope worth using: boxes under its high part are listed.
const SLOPE: Length = Length::inches(2);

/// Left end, right end (as `x`) and underside (as `y`) of a soffit.
pub(crate) fn place(shape: &Shape, s: &Soffit) -> Option<(Length, Length, Length)> {
    let from = shape.x_from_left(s.from_left?);
    let to = from + s.width?;
    let ceiling = shape
        .planes()
        .filter_map(|p| p.ceiling.lowest_between(from, to))
        .min()?;
    Some((from, to, ceiling - s.down?))
}

/// A soffit over a box seen from above.
pub(crate) struct OverFoot {
    x: [Length; 2],
    z: [Length; 2],
    /// It covers none of the box's corners.
    between: bool,
    /// Its underside, as `y`.
    pub(crate) under: Length,
}

impl OverFoot {
    /// True where the gap above the box is measured to it.
    pub(crate) fn counts_at(&self, x: Length, z: Length) -> bool {
        self.between || self.holds(x, z)
    }
    fn holds(&self, x: Length, z: Length) -> bool {
        let within = |at: Length, [from, to]: [Length; 2]| from <= at && at <= to;
        within(x, self.x) && within(z, self.z)
    }
}

/// The soffits that hang over a box; one without a depth of its own over the whole depth.
pub(crate) fn over_foot(opening: &Opening, shape: &Shape, foot: &Foot) -> Vec<OverFoot> {
    let one = |s: &Soffit| {
        let (from, to, under) = place(shape, s)?;
        let deep = s.depth.unwrap_or(foot.z[1]);
        if from >= foot.x[1] || to <= foot.x[0] || deep <= foot.z[0] {
            return None;
        }
        let mut over = OverFoot {
            x: [from, to],
            z: [Length::ZERO, deep],
            between: false,
            under,
        };
        let corner = |x: &Length| foot.z.iter().any(|z| over.holds(*x, *z));
        over.between = !foot.x.iter().any(corner);
        Some(over)
    };
    opening.soffits.iter().filter_map(one).collect()
}

/// The lowest underside of any soffit, as `y`.
pub(crate) fn lowest(opening: &Opening, shape: &Shape) -> Option<Length> {
    opening
        .soffits
        .iter()
        .filter_map(|s| place(shape, s))
        .map(|p| p.2)
        .min()
}

/// Lowest ceiling over a stretch, soffits included, every reading in full and the next beyond each end.
pub(crate) fn ceiling_over(
    opening: &Opening,
    shape: &Shape,
    from: Length,
    to: Length,
) -> Option<Length> {
    let plain = shape
        .planes()
        .filter_map(|p| p.ceiling.least_over(from, to))
        .min()?;
    let under = opening
        .soffits
        .iter()
        .filter_map(|s| place(shape, s))
        .filter(|(a, b, _)| *a < to && *b > from)
        .map(|p| p.2);
    Some(under.chain([plain]).min().unwrap_or(plain))
}

/// Boxes taller than the whole-width one.
pub(crate) fn other_boxes(opening: &Opening, shape: &Shape, whole: BoxSize) -> Vec<OtherBox> {
    let (Some(width), Some(height), Some(down)) = (whole.width, whole.height, shape.least_down())
    else {
        return Vec::new();
    };
    let Some(left_gap) = shape.least_gap(Side::Left, -down, height - down) else {
        return Vec::new();
    };
    let (left, right) = (-left_gap, width - left_gap);
    let mut edges: Vec<Length> = opening
        .soffits
        .iter()
        .filter_map(|s| place(shape, s))
        .flat_map(|p| [p.0, p.1])
        .collect();
    let sloped = match (shape.front.ceiling.most(), shape.front.ceiling.least()) {
        (Some(a), Some(b)) => a - b > SLOPE,
        _ => false,
    };
    if sloped {
        edges.extend(shape.front.ceiling.points().iter().map(|p| p.0));
    }
    edges.push(left);
    edges.push(right);
    edges.retain(|e| *e >= left && *e <= right);
    edges.sort_unstable();
    edges.dedup();
    let mut boxes: Vec<OtherBox> = Vec::new();
    for (i, &from) in edges.iter().enumerate() {
        for &to in &edges[i + 1..] {
            if let Some(found) = between(opening, shape, whole, (from, to)) {
                boxes.push(found);
            }
        }
    }
    boxes.extend(in_front(opening, shape, whole, left));
    // A box inside another one is not worth a line.
    let inside = |a: &OtherBox, b: &OtherBox| {
        a != b
            && a.size.height <= b.size.height
            && a.size.depth <= b.size.depth
            && a.from_left_plumb_line >= b.from_left_plumb_line
            && end(a) <= end(b)
    };
    let kept: Vec<OtherBox> = boxes
        .iter()
        .filter(|a| !boxes.iter().any(|b| inside(a, b)))
        .cloned()
        .collect();
    kept
}

fn end(b: &OtherBox) -> Length {
    b.from_left_plumb_line + b.size.width.unwrap_or_default()
}

/// The tallest box from one `x` to another, if it is taller than the whole-width one and fits between the walls.
fn between(
    opening: &Opening,
    shape: &Shape,
    whole: BoxSize,
    (from, to): (Length, Length),
) -> Option<OtherBox> {
    let down = shape
        .planes()
        .filter_map(|p| p.floor.least_over(from, to))
        .min()?;
    let up = ceiling_over(opening, shape, from, to)?;
    let height = down + up;
    if Some(height) <= whole.height {
        return None;
    }
    // Higher up the walls may stand closer.
    let left = -shape.least_gap(Side::Left, -down, up)?;
    let right = left + width_over(shape, -down, up)?;
    let (from, to) = (from.max(left), to.min(right));
    (to > from).then(|| OtherBox {
        what: if opening.soffits.is_empty() {
            "under the high part of the ceiling".into()
        } else {
            "clear of the soffit".into()
        },
        from_left_plumb_line: from,
        size: BoxSize {
            width: Some(to - from),
            height: Some(height),
            depth: whole.depth,
        },
    })
}

/// Where every soffit stops short of the front: the full-height box in front of them all.
fn in_front(opening: &Opening, shape: &Shape, whole: BoxSize, left: Length) -> Option<OtherBox> {
    let deepest = opening
        .soffits
        .iter()
        .map(|s| s.depth)
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .max()?;
    let depth = whole.depth? - deepest;
    let (down, up) = (shape.least_down()?, shape.least_up()?);
    let width = width_over(shape, -down, up)?;
    depth.is_positive().then(|| OtherBox {
        what: "in front of the soffit".into(),
        from_left_plumb_line: left,
        size: BoxSize {
            width: Some(width),
            height: Some(down + up),
            depth: Some(depth),
        },
    })
}
