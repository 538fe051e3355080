//! The doorway in the front, as what has to be passed: boxes and clothes that stand into it, fronts that lie behind the wall
//! beside it, its casing on the inside. Where she does not say how far from the left wall it stands, it is taken to stand in the
//! middle of the front.
//!
//! Least way through: 24 in for a closet that is reached into, S60.

use super::corner::CLEAR_WAY;
use super::floor::Foot;
use super::hung::Hung;
use super::judge::wall_word;
use super::places::Placed;
use crate::model::{BoxPlan, Doorway, Opening, WallSide};
use crate::units::{Length, Tape};

/// See the head of this file.
const LEAST: Length = Length::inches(24);
/// Room for a hand; common practice, no source.
const HAND: Length = Length::inches(4);
/// How far casing stands out from its wall; common practice, no source.
const CASING_THICK: Length = Length::in_64(48);

/// The doorway of the front, on the floor.
struct Gate<'a> {
    door: &'a Doorway,
    jambs: [Length; 2],
    floor: Foot,
}

impl Gate<'_> {
    fn of(opening: &Opening, floor: Foot) -> Option<Gate<'_>> {
        let door = opening.doorway.as_ref().filter(|d| d.wall == "front")?;
        let (wide, room) = (door.width?, floor.x[1] - floor.x[0]);
        if wide >= room || !(floor.z[1] - floor.z[0]).is_positive() {
            return None;
        }
        let from = door.middle(floor.x[0], floor.x[1]) - wide / 2;
        Some(Gate {
            door,
            jambs: [from, from + wide],
            floor,
        })
    }
    /// How far something on a side wall stands into the way through; nothing where it ends far enough behind the front.
    fn stands_in(&self, wall: WallSide, foot: &Foot) -> Option<Length> {
        let near = foot.z[1] > self.floor.z[1] - LEAST;
        let by = match wall {
            WallSide::Back => return None,
            WallSide::Left => foot.x[1] - self.jambs[0],
            WallSide::Right => self.jambs[1] - foot.x[0],
        };
        (near && by.is_positive()).then_some(by)
    }
}

/// A box with what is planned in it; frames have no plan.
pub(crate) type Planned<'a> = (Placed, Option<&'a BoxPlan>);

/// Cautions on the doorway against every box of a route and the clothes in front of them.
pub(crate) fn cautions(
    opening: &Opening,
    floor: Foot,
    (all, hung): (&[Planned<'_>], &[Hung]),
    tape: Tape,
) -> Vec<String> {
    let Some(gate) = Gate::of(opening, floor) else {
        return Vec::new();
    };
    let mut list = way_through(&gate, (all, hung), tape);
    list.extend(all.iter().filter_map(|(b, _)| at_casing(&gate, b, tape)));
    for (b, plan) in all.iter().filter(|(b, _)| b.wall == WallSide::Back) {
        for at in [0, 1] {
            list.extend(behind_wall(&gate, (b, *plan), at, tape));
        }
    }
    list
}

/// What stands into the doorway from its sides, and what it leaves.
fn way_through(gate: &Gate<'_>, (all, hung): (&[Planned<'_>], &[Hung]), tape: Tape) -> Vec<String> {
    let mut most = [Length::ZERO; 2];
    let mut list: Vec<(String, Length, WallSide)> = Vec::new();
    let mut see = |who: String, wall: WallSide, foot: &Foot| {
        if let Some(by) = gate.stands_in(wall, foot) {
            let at = usize::from(wall == WallSide::Right);
            most[at] = most[at].max(by);
            list.push((who, by, wall));
        }
    };
    for (b, _) in all {
        see(b.standing.name.clone(), b.wall, &b.foot);
    }
    for h in hung {
        let who = format!("the clothes of {}", h.at.standing.name);
        see(who, h.at.wall, &h.strip);
    }
    let whole = gate.jambs[1] - gate.jambs[0];
    let left = (whole - most[0] - most[1]).at_least_zero();
    let said = |(who, by, wall): (String, Length, WallSide)| {
        let short = if left < LEAST {
            format!(", and {} is the least", tape.print(LEAST))
        } else {
            String::new()
        };
        let (by, of) = (tape.print_up(by), wall_word(wall));
        let taken = if gate.door.from_left.is_some() {
            ""
        } else {
            ", taking it to stand in the middle of the front"
        };
        format!(
            "{who} on the {of} wall: {by} into the doorway{taken}; {} of its {} are left for boxes, a hand and you{short}. {by} shallower there, or a row that ends {} behind the front, would clear it.",
            tape.print(left),
            tape.print(whole),
            tape.print(LEAST)
        )
    };
    list.into_iter().map(said).collect()
}

/// The end of a side row against casing on the inside of the front.
fn at_casing(gate: &Gate<'_>, b: &Placed, tape: Tape) -> Option<String> {
    let casing = gate.door.casing;
    let free = gate.floor.z[1] - b.foot.z[1];
    let by = match b.wall {
        WallSide::Back => return None,
        WallSide::Left => b.foot.x[1] - (gate.jambs[0] - casing),
        WallSide::Right => gate.jambs[1] + casing - b.foot.x[0],
    };
    (casing.is_positive() && free < CASING_THICK && by.is_positive()).then(|| {
        format!(
            "Where the doorway is cased on the inside too, its casing of {} meets the end of {} on the {} wall, {} over: set that row {} from the front, make it {} shallower, or cut the casing back.",
            tape.print(casing),
            b.standing.name,
            wall_word(b.wall),
            tape.print_up(by),
            tape.print_up(CASING_THICK),
            tape.print_up(by)
        )
    })
}

/// The part of a box on the back wall that lies behind the wall at one side of the doorway.
fn behind_wall(
    gate: &Gate<'_>,
    (b, plan): (&Placed, Option<&BoxPlan>),
    at: usize,
    tape: Tape,
) -> Option<String> {
    let covered = if at == 0 {
        b.foot.x[1].min(gate.jambs[0]) - b.foot.x[0]
    } else {
        b.foot.x[1] - b.foot.x[0].max(gate.jambs[1])
    };
    let apart = (gate.floor.z[1] - b.foot.z[1]).at_least_zero();
    if !covered.is_positive() || apart >= CLEAR_WAY {
        return None;
    }
    let mut text = format!(
        "{} of the front of {} on the back wall lies behind the wall {} of the doorway (taking that to stand in the middle), {} from it: ",
        tape.print(covered),
        b.standing.name,
        if at == 0 { "left" } else { "right" },
        tape.print(apart)
    );
    text += if apart < HAND {
        "a hand does not get in there, what stands there is reached slantwise from the doorway"
    } else {
        "what stands there is reached round the jamb"
    };
    if plan.is_some_and(|p| p.doors > 0) {
        text += "; its door opens there only as far as the wall";
    }
    if plan.is_some_and(|p| p.drawers > 0) {
        text += "; its drawers do not come out past the jamb";
    }
    text += &format!(
        ". A box {} narrower on that side, or a doorway that much wider, would clear it.",
        tape.print_up(covered)
    );
    Some(text)
}
