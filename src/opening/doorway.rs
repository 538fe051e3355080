//! The doorway, in the front or in a side wall, as what has to be passed: boxes and clothes that stand into it, fronts that lie
//! behind the wall beside it, its casing on the inside. Where she does not say where it stands, it is taken to stand in the middle of
//! its wall.
//!
//! Least way through: 24 in for a closet that is reached into, S60.

use super::corner::CLEAR_WAY;
use super::floor::Foot;
use super::gate::{Gate, Role};
use super::hung::Hung;
use super::judge::Verdict;
use super::places::Placed;
use crate::model::{BoxPlan, Opening, WallSide};
use crate::units::{Length, Tape};

/// See the head of this file.
const LEAST: Length = Length::inches(24);
/// Room for a hand; common practice, no source.
const HAND: Length = Length::inches(4);
/// How far casing stands out from its wall; common practice, no source.
const CASING_THICK: Length = Length::in_64(48);

/// How far something stands into the way through, and past which jamb; nothing where it ends far enough from the door.
fn stands_in(gate: &Gate<'_>, wall: WallSide, foot: &Foot) -> Option<(usize, Length)> {
    let foot = gate.turned(foot);
    let near = foot.z[1] > gate.floor.z[1] - LEAST;
    let past = [foot.x[1] - gate.jambs[0], gate.jambs[1] - foot.x[0]];
    let at = match gate.role(wall) {
        Role::Facing => return None,
        Role::Beside(at) => at,
        // In the door's own wall: past the nearer jamb, nothing where it ends beside the doorway.
        Role::Own if past.iter().all(|p| p.is_positive()) => usize::from(past[1] < past[0]),
        Role::Own => return None,
    };
    let by = past[at].min(gate.jambs[1] - gate.jambs[0]);
    (near && by.is_positive()).then_some((at, by))
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
    let gate = Gate::of(opening, floor);
    if let Some(said) = gate.as_ref().and_then(|g| too_wide(g, tape)) {
        return vec![said];
    }
    let Some(gate) = gate.filter(Gate::has_wall) else {
        return Vec::new();
    };
    let mut list = way_through(&gate, (all, hung), tape);
    list.extend(all.iter().filter_map(|(b, _)| at_casing(&gate, b, tape)));
    let facing = |b: &Placed| gate.role(b.wall) == Role::Facing;
    for (b, plan) in all.iter().filter(|(b, _)| facing(b)) {
        for at in [0, 1] {
            list.extend(behind_wall(&gate, (b, *plan), at, tape));
        }
    }
    list
}

/// A doorway that does not go into its own wall, or reaches past its end.
fn too_wide(gate: &Gate<'_>, tape: Tape) -> Option<String> {
    let [from, to] = gate.floor.x;
    let over = (from - gate.jambs[0]).max(gate.jambs[1] - to);
    over.is_positive().then(|| {
        format!(
            "The doorway, {} wide, does not go into the {}, {} long: {} too far. Check its width, its wall and from_left under [opening.doorway].",
            tape.print(gate.jambs[1] - gate.jambs[0]),
            gate.wall(),
            tape.print(to - from),
            tape.print_up(over)
        )
    })
}

/// What stands into the doorway from its sides, each with how far, and what all of it leaves.
type IntoDoorway = (Vec<(String, Length, WallSide)>, Length);

fn into_doorway(gate: &Gate<'_>, all: &[Planned<'_>], hung: &[Hung]) -> IntoDoorway {
    let mut most = [Length::ZERO; 2];
    let mut list: Vec<(String, Length, WallSide)> = Vec::new();
    let mut see = |who: String, wall: WallSide, foot: &Foot| {
        if let Some((at, by)) = stands_in(gate, wall, foot) {
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
    (list, (whole - most[0] - most[1]).at_least_zero())
}

/// Boxes that leave nothing of the doorway: no one gets in.
pub(crate) fn judge_shut(v: &mut Verdict, opening: &Opening, floor: Foot, all: &[Planned<'_>]) {
    let Some(gate) = Gate::of(opening, floor).filter(Gate::has_wall) else {
        return;
    };
    let (list, left) = into_doorway(&gate, all, &[]);
    if list.is_empty() || left.is_positive() {
        return;
    }
    let who: Vec<String> = list
        .iter()
        .map(|(name, _, wall)| format!("{name} on the {} wall", wall.word()))
        .collect();
    v.no(
        format!(
            "The doorway in the {} is shut by {}{}.",
            gate.wall(),
            who.join(", "),
            gate.taken()
        ),
        if all.iter().all(|p| p.1.is_none()) {
            "Keep the frames clear of the doorway: choose shallower ones, or start them further along their wall (from_left in the [[run]])."
        } else {
            "Keep the boxes clear of the doorway: shallower, or starting further along their wall (from_left in the [[run]])."
        }
        .into(),
    );
}

/// What stands into the doorway from its sides, and what it leaves.
fn way_through(gate: &Gate<'_>, (all, hung): (&[Planned<'_>], &[Hung]), tape: Tape) -> Vec<String> {
    let (list, left) = into_doorway(gate, all, hung);
    let whole = gate.jambs[1] - gate.jambs[0];
    let said = |(who, by, wall): (String, Length, WallSide)| {
        let short = if left < LEAST {
            format!(", and {} is the least", tape.print(LEAST))
        } else {
            String::new()
        };
        let own = gate.role(wall) == Role::Own;
        let (by, of) = (tape.print_up(by), wall.word());
        let mend = if own {
            format!("{by} further along that wall would clear it.")
        } else {
            format!(
                "{by} shallower there, or a row that ends {} behind the {}, would clear it.",
                tape.print(LEAST),
                gate.wall()
            )
        };
        format!(
            "{who} on the {of} wall: {by} into the doorway{}; {} of its {} are left for boxes, a hand and you{short}. {mend}",
            gate.taken(),
            tape.print(left),
            tape.print(whole)
        )
    };
    list.into_iter().map(said).collect()
}

/// The end of a side row against casing on the inside of the front.
fn at_casing(gate: &Gate<'_>, b: &Placed, tape: Tape) -> Option<String> {
    let casing = gate.door.casing;
    let foot = gate.turned(&b.foot);
    let free = gate.floor.z[1] - foot.z[1];
    let past = [
        foot.x[1] - (gate.jambs[0] - casing),
        gate.jambs[1] + casing - foot.x[0],
    ];
    let by = match gate.role(b.wall) {
        Role::Facing => return None,
        Role::Beside(at) => past[at],
        Role::Own => past[0].min(past[1]),
    };
    if gate.role(b.wall) == Role::Own {
        return (casing.is_positive() && by.is_positive()).then(|| {
            format!(
                "Where the doorway is cased on the inside too, its casing of {} stands {} behind {} on the {} wall: set that row {} further along, or cut the casing back.",
                tape.print(casing),
                tape.print_up(by),
                b.standing.name,
                b.wall.word(),
                tape.print_up(by)
            )
        });
    }
    (casing.is_positive() && free < CASING_THICK && by.is_positive()).then(|| {
        format!(
            "Where the doorway is cased on the inside too, its casing of {} meets the end of {} on the {} wall, {} over: set that row {} from the {}, make it {} shallower, or cut the casing back.",
            tape.print(casing),
            b.standing.name,
            b.wall.word(),
            tape.print_up(by),
            tape.print_up(CASING_THICK),
            gate.wall(),
            tape.print_up(by)
        )
    })
}

/// The part of a box on the wall opposite that lies behind the wall at one side of the doorway.
fn behind_wall(
    gate: &Gate<'_>,
    (b, plan): (&Placed, Option<&BoxPlan>),
    at: usize,
    tape: Tape,
) -> Option<String> {
    let foot = gate.turned(&b.foot);
    let covered = if at == 0 {
        foot.x[1].min(gate.jambs[0]) - foot.x[0]
    } else {
        foot.x[1] - foot.x[0].max(gate.jambs[1])
    };
    let apart = (gate.floor.z[1] - foot.z[1]).at_least_zero();
    if !covered.is_positive() || apart >= CLEAR_WAY {
        return None;
    }
    let mut text = format!(
        "{} of the front of {} on the {} wall lies behind the wall {} of the doorway{}, {} from it: ",
        tape.print(covered),
        b.standing.name,
        b.wall.word(),
        if at == 0 { "left" } else { "right" },
        if gate.door.from_left.is_some() {
            ""
        } else {
            " (taking that to stand in the middle)"
        },
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
