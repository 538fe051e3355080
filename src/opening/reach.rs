//! What a box on one wall takes from the front of a box on another: in a corner the end of one row stands before part of the other.

use super::corner::CLEAR_WAY;
use super::floor::Foot;
use super::places::{self, Placed};
use super::sit::Row;
use super::survey::Survey;
use crate::model::{BoxPlan, Run, WallSide};
use crate::units::{Length, Tape};

/// A caution for each box that another one stands before, nearer than a person needs to stand and reach in.
pub(crate) fn behind_others(survey: &Survey, rows: &[(&Run, Row)], tape: Tape) -> Vec<String> {
    let mut all: Vec<(Placed, Option<&BoxPlan>)> = Vec::new();
    for (run, row) in rows {
        let boxes = places::places(survey, run, row).unwrap_or_default();
        all.extend(
            boxes
                .into_iter()
                .enumerate()
                .map(|(i, p)| (p, run.boxes.get(i))),
        );
    }
    let mut list = Vec::new();
    for (b, plan) in &all {
        for (o, _) in all.iter().filter(|(o, _)| o.wall != b.wall) {
            let Some((covered, apart)) = before(b.wall, &b.foot, &o.foot) else {
                continue;
            };
            if apart >= CLEAR_WAY {
                continue;
            }
            let has = |what: &str, yes: bool| yes.then(|| what.to_owned());
            let open = [
                has("doors", plan.is_some_and(|p| p.doors > 0)),
                has("drawers", plan.is_some_and(|p| p.drawers > 0)),
            ];
            let open: Vec<String> = open.into_iter().flatten().collect();
            let hangs = plan.is_some_and(|p| p.rail);
            let mut text = format!(
                "{} of the front of {} on the {} wall lies behind {} on the {} wall",
                tape.print(covered),
                b.standing.name,
                b.wall.word(),
                o.standing.name,
                o.wall.word()
            );
            if apart.is_positive() {
                text += &format!(", {} in front of it", tape.print(apart));
            }
            text += ": what stands there is reached round its end";
            if hangs {
                text += ", and clothes on that much of its rail";
            }
            if !open.is_empty() {
                text += &format!("; its {} do not open there", open.join(" and "));
            }
            list.push(text + ".");
        }
    }
    list
}

/// How much of a box's front another one stands before, and how far in front; `None` where it stands aside or behind.
fn before(wall: WallSide, b: &Foot, o: &Foot) -> Option<(Length, Length)> {
    let over = |a: [Length; 2], c: [Length; 2]| a[1].min(c[1]) - a[0].max(c[0]);
    let (covered, apart) = match wall {
        WallSide::Back => (over(b.x, o.x), o.z[0] - b.z[1]),
        WallSide::Left => (over(b.z, o.z), o.x[0] - b.x[1]),
        WallSide::Right => (over(b.z, o.z), b.x[0] - o.x[1]),
    };
    (covered.is_positive() && apart >= Length::ZERO).then_some((covered, apart))
}
