//! A row on a side wall as one faces it: boxes with their shelves, the floor and the ceiling at the fronts of the boxes, the gaps
//! at both ends.

use super::ground::{CHAIN, DASHED, View, bar, figure, rise, scale_for, span};
use super::stands::{drawn, fronts};
use crate::book::block::Figure;
use crate::book::draw::{Anchor, Drawing, Fill, Pen, Weight, pt};
use crate::book::pages::context::Context;
use crate::model::WallSide;
use crate::opening::{Above, GapAt, RouteFit, SideRow};
use crate::plan::Fitted;
use crate::units::Length;

/// Room for the drawing, mm.
const ROOM: [f64; 2] = [120.0, 95.0];

/// `None` where the depth or the ceiling was not read.
pub(super) fn facing(
    ctx: &Context,
    fitted: &Fitted,
    sits: &RouteFit,
    r: &SideRow,
) -> Option<Figure> {
    let room = fitted.survey.largest_box;
    let (long, height) = (room.depth?, room.height?);
    let wall = if r.wall == "left" {
        WallSide::Left
    } else {
        WallSide::Right
    };
    let boxes: Vec<&Above> = sits.above.iter().filter(|b| b.wall == wall).collect();
    let (first, last) = (boxes.first()?, boxes.last()?);
    let least = fitted.survey.shape.least_down()?;
    // Heights from the highest floor.
    let base = least - r.base_below_line;
    let scale = scale_for(ctx.tape.unit, [long.as_mm(), height.as_mm()], ROOM);
    let left = (178.0 - long.as_mm() / scale) / 2.0;
    let v = View::new(scale, (Length::ZERO, height), pt(left, 16.0));
    let mut d = Drawing::new();
    let mut twin = vec![format!(
        "The {} wall, facing it: {} from front to corner, {} high.",
        r.wall,
        ctx.size(long),
        ctx.size(height)
    )];
    let title = format!("THE {} WALL, facing it", r.wall.to_uppercase());
    d.say(pt(0.0, 3.0), 2.5, Weight::Bold, &title);
    let mut ground = Vec::new();
    let mut over = Vec::new();
    let made = drawn(ctx);
    let floor = v.y(Length::ZERO);
    for (b, at) in boxes.iter().zip(&r.boxes) {
        let s = &b.standing;
        let (from, to) = (s.x, s.x + s.width);
        let top = base + s.height;
        ground.push((from, -at.shims.left_front));
        ground.push((to, -at.shims.right_front));
        over.push((from, top + at.head_gap.left_front));
        over.push((to, top + at.head_gap.right_front));
        let area = v.area((from, base), [s.width, s.height]);
        d.rect(area, Fill::None, Some(Pen::WIDE));
        let own = made.iter().find(|a| a.in_box == s.name);
        for shelf in own.iter().flat_map(|a| &a.shelves) {
            let y = v.y(base + shelf.top);
            let pen = if shelf.fixed { Pen::WIDE } else { DASHED };
            d.line(pt(area.x, y), pt(area.right(), y), pen);
        }
        let before = own.map_or_else(String::new, |own| {
            fronts(&mut d, ctx, own, (&v, from, base))
        });
        figure(&mut d, area.centre(), Anchor::Centre, &s.name, false);
        let x = [v.x(from), v.x(to)];
        span(&mut d, x, floor + 7.0, 0.5, &ctx.size(s.width), false);
        twin.push(format!(
            "  {}: {} wide, {} high, from {} to {} along the wall{before}",
            s.name,
            ctx.size(s.width),
            ctx.size(s.height),
            ctx.size(from),
            ctx.size(to)
        ));
    }
    let start = first.standing.x;
    let end = last.standing.x + last.standing.width;
    if base.is_positive() {
        let area = v.area((start, Length::ZERO), [end - start, base]);
        d.rect(area, Fill::None, Some(Pen::WIDE));
    }
    d.path(v.path(&ground), Pen::WIDE);
    d.path(v.path(&over), Pen::WIDE);
    for x in [Length::ZERO, long] {
        // The corner with the back wall is a wall; the front is where the opening ends.
        let corner = (x == long) == (wall == WallSide::Left);
        let pen = if corner { Pen::WIDE } else { CHAIN };
        d.line(pt(v.x(x), v.y(height)), pt(v.x(x), floor), pen);
        let word = if corner { "corner" } else { "front" };
        let at = pt(v.x(x), v.y(height) - 6.0);
        figure(&mut d, at, Anchor::Centre, word, false);
    }
    let tightest = |list: &[GapAt]| list.iter().map(|g| g.gap).min();
    for (gap, x, anchor) in [
        (
            tightest(&r.left_gap),
            v.x(start.min(Length::ZERO)) - 2.0,
            Anchor::Right,
        ),
        (
            tightest(&r.right_gap),
            v.x(end.max(long)) + 2.0,
            Anchor::Left,
        ),
    ] {
        if let Some(gap) = gap {
            let at = pt(x, floor + 8.2);
            figure(&mut d, at, anchor, &format!("gap {}", ctx.size(gap)), false);
        }
    }
    let tall = boxes.iter().map(|b| b.standing.height).max()?;
    rise(
        &mut d,
        v.x(long) + 14.0,
        [v.y(base + tall), v.y(base)],
        0.5,
        &ctx.size(tall),
        false,
    );
    bar(
        &mut d,
        pt(v.x(Length::ZERO), floor + 14.0),
        ctx.tape.unit,
        scale,
    );
    Some(Figure {
        size: [178.0, floor + 19.0],
        drawing: d,
        twin,
    })
}
