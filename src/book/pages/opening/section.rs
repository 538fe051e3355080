//! Section A-A: the opening cut from front to back through the tallest box.

use super::ground::{CHAIN, View, figure, rise, scale_for, span};
use crate::book::block::Figure;
use crate::book::draw::{Anchor, Drawing, Fill, Pen, Weight, pt};
use crate::book::pages::context::Context;
use crate::opening::{RouteFit, Row};
use crate::plan::Fitted;
use crate::units::Length;

/// `None` where the largest box is not known.
pub(super) fn through(
    ctx: &Context,
    fitted: &Fitted,
    (sits, row): (&RouteFit, &Row),
    setback: Length,
) -> Option<Figure> {
    let room = fitted.survey.largest_box;
    let (height, depth) = (room.height?, room.depth?);
    let off = sits.off_back;
    let deep = depth.max(row.depth() + off);
    // The front is at the left: nought is the back wall, and the floor at its highest.
    let size = [deep.as_mm(), height.as_mm()];
    let scale = scale_for(ctx.tape.unit, size, [34.0, 84.0]);
    let v = View::new(scale, (-deep, height), pt(11.0, 8.0));
    let mut d = Drawing::new();
    d.say(pt(0.0, 3.0), 2.5, Weight::Bold, "SECTION A-A");
    let (back, floor, top) = (Length::ZERO, v.y(Length::ZERO), v.y(height));
    d.line(pt(v.x(-deep) - 3.0, floor), pt(v.x(back), floor), Pen::WIDE);
    d.line(pt(v.x(-deep) - 3.0, top), pt(v.x(back), top), Pen::WIDE);
    d.line(pt(v.x(back), floor), pt(v.x(back), top), Pen::WIDE);
    d.line(
        pt(v.x(-depth), floor + 2.0),
        pt(v.x(-depth), top - 2.0),
        CHAIN,
    );
    let base = row.base_height;
    // Base that stays on the wall keeps the ladder off it.
    let behind = off + sits.base_off_back;
    let foot = (row.depth() + off - setback - behind).at_least_zero();
    if base.is_positive() {
        d.rect(
            v.area((-foot - behind, Length::ZERO), [foot, base]),
            Fill::None,
            Some(Pen::WIDE),
        );
    }
    let area = v.area((-row.depth() - off, base), [row.depth(), row.height()]);
    d.rect(area, Fill::None, Some(Pen::WIDE));
    rise(
        &mut d,
        area.centre().x,
        [area.y, area.bottom()],
        0.5,
        &ctx.size(row.height()),
        false,
    );
    span(
        &mut d,
        [area.x, area.right()],
        floor + 5.0,
        0.5,
        &ctx.size(row.depth()),
        false,
    );
    let least = sits.head_gap.iter().min().copied().unwrap_or_default();
    let x = v.x(back) + 2.0;
    figure(
        &mut d,
        pt(x, f64::midpoint(top, area.y) + 1.2),
        Anchor::Left,
        &ctx.size(least),
        false,
    );
    figure(
        &mut d,
        pt(x, f64::midpoint(area.bottom(), floor) + 1.2),
        Anchor::Left,
        &ctx.size(base),
        false,
    );
    rise(&mut d, 5.0, [top, floor], 0.4, &ctx.size(height), false);
    d.say(
        pt(0.0, floor + 12.0),
        2.5,
        Weight::Regular,
        "front is left; floor at its highest",
    );
    Some(Figure {
        size: [v.x(back) + 14.0, floor + 14.0],
        drawing: d,
        twin: vec![format!(
            "Section A-A, front at the left: base {}, box {} high and {} deep, {} above it at the lowest ceiling, in {}.",
            ctx.size(base),
            ctx.size(row.height()),
            ctx.size(row.depth()),
            ctx.size(least),
            ctx.size(height)
        )],
    })
}
