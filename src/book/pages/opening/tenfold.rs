//! The sketch with the errors ten times as large: how walls, floor and ceiling run against a level, plumb frame.

use super::ground::{DASHED, Outline, View, scale_for};
use crate::book::block::Figure;
use crate::book::draw::{Drawing, Fill, Pen, Weight, pt, text_width};
use crate::book::pages::context::Context;
use crate::opening::Side;
use crate::plan::Fitted;
use crate::units::Length;

/// How much larger the errors are drawn.
const TIMES: i64 = 10;

/// The sketch; `None` where the shape is not known.
pub(super) fn sketch(ctx: &Context, fitted: &Fitted) -> Option<Figure> {
    let shape = &fitted.survey.shape;
    let plane = &shape.front;
    Outline::of(plane)?;
    let (down, up) = (plane.floor.least()?, plane.ceiling.least()?);
    let apart = plane.apart?;
    let (left, right) = (plane.left.least()?, plane.right.least()?);
    // Each surface leaves the frame by ten times what it is farther out than its nearest place.
    let out = |value: Length, least: Length| (value - least) * TIMES;
    let wall = |side: Side| -> Vec<(Length, Length)> {
        let (least, at) = if side == Side::Left {
            (left, -left)
        } else {
            (right, apart + right)
        };
        let way = if side == Side::Left { -1 } else { 1 };
        let trace = plane.wall(side);
        trace
            .points()
            .iter()
            .map(|(y, g)| (at + out(*g, least) * way, *y))
            .collect()
    };
    let floor: Vec<_> = plane
        .floor
        .points()
        .iter()
        .map(|(x, d)| (*x, -down - out(*d, down)))
        .collect();
    let ceiling: Vec<_> = plane
        .ceiling
        .points()
        .iter()
        .map(|(x, u)| (*x, up + out(*u, up)))
        .collect();
    let all: Vec<_> = [wall(Side::Left), wall(Side::Right), floor, ceiling].into();
    let spots = || {
        all.iter()
            .flatten()
            .copied()
            .chain([(-left, -down), (apart + right, up)])
    };
    let (x0, x1) = (spots().map(|s| s.0).min()?, spots().map(|s| s.0).max()?);
    let (y0, y1) = (spots().map(|s| s.1).min()?, spots().map(|s| s.1).max()?);
    let size = [(x1 - x0).as_mm(), (y1 - y0).as_mm()];
    let scale = scale_for(ctx.tape.unit, size, [72.0, 88.0]);
    let view = View::new(scale, (x0, y1), pt(1.0, 11.0));
    let mut d = Drawing::new();
    let frame = view.area((-left, -down), [apart + left + right, down + up]);
    d.rect(frame, Fill::None, Some(DASHED));
    for line in &all {
        d.path(view.path(line), Pen::WIDE);
    }
    d.say(pt(0.0, 3.0), 2.5, Weight::Bold, "NOT TO SCALE, errors x10");
    let bottom = view.y(y0) + 5.0;
    let mut twin = vec!["Sketch with the errors ten times as large, not to scale.".to_owned()];
    let mut y = bottom;
    for (what, by) in [
        ("floor out", fitted.survey.floor_out),
        ("ceiling out", fitted.survey.ceiling_out),
    ] {
        let Some(by) = by else { continue };
        let words = format!("{what} by {}", ctx.size(by));
        d.say(pt(1.0, y), 2.5, Weight::Regular, &words);
        // A figure that is not to scale is underlined (ISO 129-1).
        d.line(
            pt(1.0, y + 0.9),
            pt(1.0 + text_width(&words, 2.5, Weight::Regular), y + 0.9),
            Pen::NARROW,
        );
        twin.push(format!("  {words}"));
        y += 4.8;
    }
    Some(Figure {
        size: [size[0] / scale + 4.0, y],
        drawing: d,
        twin,
    })
}
