//! The front of the opening and its doorway, looking down: what wall stands beside the door, and where the door is.

use super::ground::{CHAIN, View, figure};
use crate::book::draw::{Anchor, Drawing, Pen, pt};
use crate::book::pages::context::Context;
use crate::model::Doorway;
use crate::units::Length;

/// Half the length of the tick at a jamb.
const TICK: f64 = 1.5;

/// The walls from above, from the left front corner round: `low` and `high` are their places from left to right.
pub(super) struct Walls<'a> {
    pub(super) door: Option<&'a Doorway>,
    pub(super) low: Length,
    pub(super) high: Length,
    pub(super) depth: Length,
}

impl Walls<'_> {
    /// Draws them, broken at the doorway; open in front where there is none. What is said of the doorway comes back.
    pub(super) fn draw(&self, ctx: &Context, v: &View, d: &mut Drawing) -> Option<String> {
        let zero = Length::ZERO;
        let (left, right) = (self.low, self.high);
        let back = [(left, self.depth), (right, self.depth)];
        let side = |x| [(x, zero), (x, self.depth)];
        let front = [(left, zero), (right, zero)];
        let gap = self.door.and_then(|door| self.gap(door));
        let at = |wall: &str| gap.filter(|_| self.door.is_some_and(|door| door.wall == wall));
        d.path(v.path(&back), Pen::WIDE);
        for (wall, line) in [("left", side(left)), ("right", side(right))] {
            broken(v, d, line, at(wall));
        }
        if self.door.is_some() {
            broken(v, d, front, at("front"));
        } else {
            let y = v.y(zero);
            d.line(pt(v.x(left) - 4.0, y), pt(v.x(right) + 4.0, y), CHAIN);
        }
        self.door.map(|door| {
            self.name(ctx, v, d, (door, gap));
            said(ctx, door)
        })
    }

    /// From and to, along the front from left to right or along a side wall from the front back.
    fn gap(&self, door: &Doorway) -> Option<[Length; 2]> {
        let wide = door.width?;
        let (middle, most) = if door.wall == "front" {
            (
                door.middle_along([self.low, self.high]),
                [self.low, self.high],
            )
        } else {
            let from_back = door.middle_along([Length::ZERO, self.depth]);
            (self.depth - from_back, [Length::ZERO, self.depth])
        };
        let within = |l: Length| l.max(most[0]).min(most[1]);
        Some([within(middle - wide / 2), within(middle + wide / 2)])
    }

    fn name(
        &self,
        ctx: &Context,
        v: &View,
        d: &mut Drawing,
        (door, gap): (&Doorway, Option<[Length; 2]>),
    ) {
        let (Some(wide), Some([from, to])) = (door.width, gap) else {
            return;
        };
        let middle = (from + to) / 2;
        let size = ctx.size(wide);
        match door.wall.as_str() {
            "left" | "right" => {
                let (x, anchor) = if door.wall == "left" {
                    (v.x(self.low) - 2.5, Anchor::Right)
                } else {
                    (v.x(self.high) + 2.5, Anchor::Left)
                };
                let y = v.y(middle);
                figure(d, pt(x, y), anchor, "door", false);
                figure(d, pt(x, y + 3.5), anchor, &size, false);
            }
            _ => {
                let at = pt(v.x(middle), v.y(Length::ZERO) + 4.5);
                figure(d, at, Anchor::Centre, &format!("door {size}"), false);
            }
        }
    }
}

/// A wall with the doorway left out of it, a tick at each jamb.
fn broken(v: &View, d: &mut Drawing, [a, b]: [(Length, Length); 2], gap: Option<[Length; 2]>) {
    let Some([from, to]) = gap else {
        d.path(v.path(&[a, b]), Pen::WIDE);
        return;
    };
    let across = a.1 == b.1;
    let at = |l: Length| if across { (l, a.1) } else { (a.0, l) };
    d.path(v.path(&[a, at(from)]), Pen::WIDE);
    d.path(v.path(&[at(to), b]), Pen::WIDE);
    for jamb in [at(from), at(to)] {
        let (x, y) = (v.x(jamb.0), v.y(jamb.1));
        let (dx, dy) = if across { (0.0, TICK) } else { (TICK, 0.0) };
        d.line(pt(x - dx, y - dy), pt(x + dx, y + dy), Pen::WIDE);
    }
}

/// `Doorway in the front, 30 clear, 4 from its left end.`
fn said(ctx: &Context, door: &Doorway) -> String {
    let wall = match door.wall.as_str() {
        "front" => "front",
        "left" => "left wall",
        _ => "right wall",
    };
    let Some(wide) = door.width else {
        return format!("Doorway in the {wall}: its width is not measured yet.");
    };
    let place = door.from_left.map_or_else(
        || ", taken to stand in the middle".to_owned(),
        |from| format!(", its left jamb {} from the left end", ctx.size(from)),
    );
    format!("Doorway in the {wall}, {} clear{place}.", ctx.size(wide))
}
