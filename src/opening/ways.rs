//! The clear way to stand in before each run: to the run, the wall or the front opposite, clothes that hang out taken off.

use super::floor::Foot;
use super::hung::Hung;
use super::places::Placed;
use crate::model::{Run, WallSide};
use crate::units::Length;
use serde::Serialize;

/// Before one run.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct StandingWay {
    /// back, left or right.
    pub wall: String,
    /// What is opposite at the narrowest place.
    pub to: String,
    /// How wide the way is there.
    pub clear: Length,
}

/// Of every run of a route, in their order; before a run on the back wall an open front bounds nothing. `door`: the wall its
/// doorway stands in, where it has one; its other walls are closed.
pub(crate) fn ways(
    floor: &Foot,
    runs: &[&Run],
    (all, hung): (&[Placed], &[Hung]),
    door: Option<&str>,
) -> Vec<StandingWay> {
    let mut list: Vec<StandingWay> = Vec::new();
    for run in runs {
        if list.iter().any(|w| w.wall == run.wall.word()) {
            continue;
        }
        let own = all.iter().filter(|b| b.wall == run.wall);
        let found = own.filter_map(|b| before(floor, b, (all, hung), door));
        if let Some((clear, to)) = found.min() {
            list.push(StandingWay {
                wall: run.wall.word().into(),
                to,
                clear,
            });
        }
    }
    list
}

/// Before one box: what is nearest.
fn before(
    floor: &Foot,
    b: &Placed,
    (all, hung): (&[Placed], &[Hung]),
    door: Option<&str>,
) -> Option<(Length, String)> {
    let clothes = |o: &Placed| {
        let of = hung.iter().find(|h| h.at == *o);
        of.map_or(Length::ZERO, |h| h.out)
    };
    let own = clothes(b);
    let named = |wall: &str, word: &'static str| {
        if door == Some(wall) {
            "the wall with the door"
        } else {
            word
        }
    };
    let wall = match b.wall {
        WallSide::Back if door.is_some() => {
            Some((floor.z[1] - b.foot.z[1], named("front", "the front wall")))
        }
        WallSide::Back => None,
        WallSide::Left => Some((floor.x[1] - b.foot.x[1], named("right", "the right wall"))),
        WallSide::Right => Some((b.foot.x[0] - floor.x[0], named("left", "the left wall"))),
    };
    let wall = wall.map(|(clear, to)| (clear, to.to_owned()));
    // A run round the corner stands beside the way, not across it.
    let faces = |o: &&Placed| {
        let walls = [b.wall, o.wall];
        !walls.contains(&WallSide::Back) && b.wall != o.wall
    };
    let others = all.iter().filter(faces).filter_map(|o| {
        let meets = b.foot.z[1].min(o.foot.z[1]) > b.foot.z[0].max(o.foot.z[0]);
        let apart = (o.foot.x[0] - b.foot.x[1]).max(b.foot.x[0] - o.foot.x[1]);
        let name = format!("{} on the {} wall", o.standing.name, o.wall.word());
        (meets && apart >= Length::ZERO).then_some((apart - clothes(o), name))
    });
    let (clear, to) = others.chain(wall).min()?;
    Some(((clear - own).at_least_zero(), to))
}
