//! The plan of the row: looking down, the back wall at the top.

use super::front::Walls;
use super::ground::{CHAIN, Outline, View, figure, rise, scale_for, span};
use crate::book::block::Figure;
use crate::book::draw::{Anchor, Drawing, Fill, Pen, Weight, pt};
use crate::book::pages::context::Context;
use crate::model::{Opening, WallSide};
use crate::opening::{RouteFit, Row, studs_on};
use crate::plan::Fitted;
use crate::units::Length;

/// `None` where no depth was read.
pub(super) fn looking_down(
    ctx: &Context,
    opening: &Opening,
    fitted: &Fitted,
    sits: &RouteFit,
) -> Option<Figure> {
    let outline = Outline::of(&fitted.survey.shape.front)?;
    let (low, high) = outline.extent();
    let depth = fitted.survey.largest_box.depth?;
    let row = sits.row.as_ref();
    let deep = row.map_or(Length::ZERO, Row::depth);
    let off = sits.off_back;
    let reach = sits.above.iter().map(|b| b.z[1]);
    let reach = reach.fold(deep + off, Length::max);
    let out = (reach - depth).at_least_zero();
    let size = [(high.0 - low.0).as_mm(), (depth + out).as_mm()];
    let scale = scale_for(ctx.tape.unit, size, [124.0, 45.0]);
    let left = (178.0 - size[0] / scale) / 2.0;
    let v = View::new(scale, (low.0, depth), pt(left, 12.0));
    let mut d = Drawing::new();
    let walls = Walls {
        door: opening.doorway.as_ref(),
        low: low.0,
        high: high.0,
        depth,
    };
    let doorway = walls.draw(ctx, &v, &mut d);
    let front = v.y(Length::ZERO);
    // The boxes touch each wall where it stands nearest, or stand off it by what stays there.
    for b in row.iter().flat_map(|r| &r.boxes) {
        let area = v.area((b.x, depth - off - b.depth), [b.width, b.depth]);
        d.rect(area, Fill::None, Some(Pen::WIDE));
        figure(&mut d, area.centre(), Anchor::Centre, &b.name, false);
    }
    let mut twin = Vec::new();
    for b in &sits.above {
        let [wide, deep] = [b.x[1] - b.x[0], b.z[1] - b.z[0]];
        let area = v.area((b.x[0], depth - b.z[1]), [wide, deep]);
        d.rect(area, Fill::None, Some(Pen::WIDE));
        let name = &b.standing.name;
        figure(&mut d, area.centre(), Anchor::Centre, name, false);
        let side = if b.wall == WallSide::Left {
            "left"
        } else {
            "right"
        };
        twin.push(format!(
            "  {name} on the {side} wall: {} wide, {} deep, from {} to {} off the back wall.",
            ctx.size(b.standing.width),
            ctx.size(b.standing.depth),
            ctx.size(b.z[0]),
            ctx.size(b.z[1])
        ));
    }
    for stud in studs_on(opening, WallSide::Back) {
        let x = v.x(fitted.survey.shape.x_from_left(stud.from_left));
        d.line(pt(x, v.y(depth) - 3.5), pt(x, v.y(depth) + 3.5), CHAIN);
    }
    if let Some(first) = row.and_then(|r| r.boxes.first()) {
        // Where no row on a side wall stands before the box.
        let free = |x: &Length| sits.above.iter().all(|b| *x <= b.x[0] || *x >= b.x[1]);
        let places = [1, 6, 3, 5, 7].map(|n| first.x + first.width * n / 8);
        let x = v.x(places.into_iter().find(free).unwrap_or(places[0]));
        let ends = [v.y(depth) - 2.0, v.y(Length::ZERO) - 0.5];
        d.line(pt(x, ends[0]), pt(x, ends[1]), CHAIN);
        figure(&mut d, pt(x, v.y(depth) + 4.0), Anchor::Centre, "A", false);
        figure(
            &mut d,
            pt(x, v.y(Length::ZERO) - 4.0),
            Anchor::Centre,
            "A",
            false,
        );
    }
    let y = v.y(depth) - 5.0;
    let tight = |g: &[Length]| g.iter().min().copied().unwrap_or_default();
    let (l, r) = (tight(&sits.left_gap), tight(&sits.right_gap));
    if let Some((start, end)) = row.and_then(Row::ends) {
        span(
            &mut d,
            [v.x(start), v.x(end)],
            y,
            0.5,
            &ctx.size(end - start),
            false,
        );
        figure(
            &mut d,
            pt(v.x(low.0) - 2.0, y + 1.2),
            Anchor::Right,
            &ctx.size(l),
            false,
        );
        figure(
            &mut d,
            pt(v.x(high.0) + 2.0, y + 1.2),
            Anchor::Left,
            &ctx.size(r),
            false,
        );
        let edge = v.x(end) - 7.0;
        rise(
            &mut d,
            edge,
            [v.y(depth - off), v.y(depth - off - deep)],
            0.5,
            &ctx.size(deep),
            false,
        );
    }
    rise(
        &mut d,
        v.x(high.0) + 12.0,
        [v.y(depth), front],
        0.5,
        &ctx.size(depth),
        false,
    );
    d.say(
        pt(0.0, 3.0),
        2.5,
        Weight::Bold,
        "PLAN, looking down; gaps at the tightest place",
    );
    let back = depth - deep - off;
    let mut words = String::new();
    if row.is_some() {
        words = if back < Length::ZERO {
            format!("The boxes stand {} out of the opening.", ctx.size(-back))
        } else {
            format!("Fronts {} behind the front of the opening.", ctx.size(back))
        };
    }
    if off.is_positive() {
        let space = if words.is_empty() { "" } else { " " };
        words += &format!(
            "{space}Rows stand {} off their walls, for base or crown that stays.",
            ctx.size(off)
        );
    }
    // The door in front is named under its wall.
    let in_front = opening.doorway.as_ref().is_some_and(|d| d.wall == "front");
    let named = if in_front { 4.0 } else { 0.0 };
    let below = v.y(Length::ZERO.min(depth - reach)) + 5.0 + named;
    let from = if off.is_positive() { 0.0 } else { v.x(low.0) };
    d.say(pt(from, below), 2.5, Weight::Regular, &words);
    let mut lowest = below;
    if let Some(doorway) = &doorway {
        lowest += 3.5;
        d.say(pt(from, lowest), 2.5, Weight::Regular, doorway);
    }
    let mut said = Vec::new();
    if let Some(row) = row {
        said.push(format!(
            "Plan: row {} wide, {} deep in a depth of {}.",
            ctx.size(row.width()),
            ctx.size(deep),
            ctx.size(depth)
        ));
        said.push(format!(
            "  tightest gap left {}, right {}. {words}",
            ctx.size(l),
            ctx.size(r)
        ));
    } else {
        said.push(format!("Plan: a depth of {}. {words}", ctx.size(depth)));
    }
    said.extend(doorway.map(|words| format!("  {words}")));
    said.extend(twin);
    Some(Figure {
        size: [178.0, lowest + 3.0],
        drawing: d,
        twin: said,
    })
}
