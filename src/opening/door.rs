//! A door that swings into the opening, against rows beside it and in its own wall: the quarter circle that its leaf sweeps, hung on
//! either side.

use super::floor::Foot;
use super::gate::Gate;
use super::hung::Hung;
use super::judge::Verdict;
use super::places::{self, Placed};
use super::sit::Row;
use super::survey::Survey;
use crate::model::{Opening, Run, Swing, WallSide};
use crate::units::{Length, Tape};

/// Says no where the leaf hits a box on whichever side it is hung; where one side is free, that side is the caution. What faces a
/// door in the front is held against it by depth.
pub(crate) fn judge_side_rows(
    v: &mut Verdict,
    cautions: &mut Vec<String>,
    (opening, survey): (&Opening, &Survey),
    rows: &[(&Run, Row)],
) {
    let all: Vec<(&Run, &Row)> = rows.iter().map(|(run, row)| (*run, row)).collect();
    let floor = places::floor(survey, &all);
    let Some(gate) = floor.and_then(|floor| swings_in(opening, floor)) else {
        return;
    };
    let (jambs, wide) = (gate.jambs, gate.jambs[1] - gate.jambs[0]);
    let seen = |r: &&(&Run, Row)| gate.wall() != "front" || r.0.wall != WallSide::Back;
    let boxes: Vec<Placed> = (rows.iter().filter(seen))
        .filter_map(|(run, row)| places::places(survey, run, row))
        .flatten()
        .collect();
    let hits = |hinge: Length| {
        let hit =
            |b: &&Placed| sweeps(hinge, jambs, (gate.floor.z[1], wide), &gate.turned(&b.foot));
        boxes.iter().filter(hit).collect::<Vec<_>>()
    };
    let [left, right] = jambs.map(hits);
    let name = |b: &Placed| format!("{} on the {} wall", b.standing.name, b.wall.word());
    let place = place(&gate);
    match (left.first(), right.first()) {
        (None, None) => {}
        (Some(b), Some(_)) => v.no(
            format!(
                "The door swings in and sweeps {}: it hits {}, hung on either side{place}.",
                v.size(wide),
                name(b)
            ),
            {
                let run = rows.iter().find(|(run, _)| run.wall == b.wall);
                let bought = run.is_some_and(|(run, _)| !run.has_boxes());
                let change = if bought {
                    "choose shallower frames beside it"
                } else {
                    "make the boxes beside it shallower"
                };
                format!("Hang the door to swing out or slide, or {change}.")
            },
        ),
        (Some(b), None) => cautions.push(format!(
            "The door swings in: hung at the left it hits {}{place}. Hang it at the right.",
            name(b)
        )),
        (None, Some(b)) => cautions.push(format!(
            "The door swings in: hung at the right it hits {}{place}. Hang it at the left.",
            name(b)
        )),
    }
}

/// The doorway whose leaf swings into the opening.
fn swings_in(opening: &Opening, floor: Foot) -> Option<Gate<'_>> {
    Gate::of(opening, floor).filter(|g| g.door.swing == Swing::In)
}

/// Where the door is taken to stand, and which hand is meant.
fn place(gate: &Gate<'_>) -> String {
    let middle = if gate.door.from_left.is_some() {
        String::new()
    } else {
        format!(
            "taking the doorway to stand in the middle of the {}",
            gate.wall()
        )
    };
    let hand = if gate.wall() == "front" {
        ""
    } else {
        "left and right as seen from outside"
    };
    match (middle.is_empty(), hand.is_empty()) {
        (true, true) => String::new(),
        (false, false) => format!(" ({middle}; {hand})"),
        _ => format!(" ({middle}{hand})"),
    }
}

/// Clothes that the leaf swings into, on whichever side it is hung, where the boxes they hang in stand clear of it.
pub(crate) fn clothes(opening: &Opening, floor: &Foot, hung: &[Hung], tape: Tape) -> Vec<String> {
    let Some(gate) = swings_in(opening, *floor) else {
        return Vec::new();
    };
    let (jambs, wide) = (gate.jambs, gate.jambs[1] - gate.jambs[0]);
    let hits = |foot: &Foot| {
        jambs.map(|hinge| sweeps(hinge, jambs, (gate.floor.z[1], wide), &gate.turned(foot)))
    };
    let mut list = Vec::new();
    for h in hung {
        let side = match (hits(&h.strip), hits(&h.at.foot)) {
            ([true, true], b) if b != [true, true] => "on either side",
            ([true, false], [false, _]) => "at the left",
            ([false, true], [_, false]) => "at the right",
            _ => continue,
        };
        list.push(format!(
            "The door swings in: hung {side} it swings into the clothes of {} on the {} wall, which hang {} out{}. Hang it to swing out or slide, or hang the clothes on narrower hangers.",
            h.at.standing.name,
            h.at.wall.word(),
            tape.print(h.out),
            place(&gate)
        ));
    }
    list
}

/// True if the leaf, hung at `hinge` in the front, meets what stands there on its way between the jambs.
fn sweeps(hinge: Length, jambs: [Length; 2], (front, wide): (Length, Length), foot: &Foot) -> bool {
    let x = [foot.x[0].max(jambs[0]), foot.x[1].min(jambs[1])];
    if x[0] >= x[1] || foot.z[1] <= front - wide {
        return false;
    }
    let near = |at: Length, [from, to]: [Length; 2]| at.max(from).min(to);
    let aside = (near(hinge, x) - hinge).units();
    let deep = (front - near(front, foot.z)).units();
    let square = |n: i64| i128::from(n) * i128::from(n);
    square(aside) + square(deep) < square(wide.units())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::opening::samples::inch;

    /// A leaf of 30 between 20 and 50 in a front at 60. A box 24 deep at the left wall, from 40 to 60: its corner at (24, 60) lies
    /// 4 from the left hinge and 26 from the right one. One 22 deep up to 31: 29 behind the front, 2 aside of the left hinge
    /// (29.07 away) and 28 aside of the right one (40.3 away).
    #[test]
    fn a_leaf_sweeps_a_quarter_circle() {
        let foot = |x: [&str; 2], z: [&str; 2]| Foot {
            x: x.map(inch),
            z: z.map(inch),
        };
        let jambs = ["20", "50"].map(inch);
        let hits = |hinge: &str, f: &Foot| sweeps(inch(hinge), jambs, (inch("60"), inch("30")), f);
        let near = foot(["0", "24"], ["40", "60"]);
        assert!(hits("20", &near) && hits("50", &near));
        let far = foot(["0", "22"], ["0", "31"]);
        assert!(hits("20", &far) && !hits("50", &far));
        assert!(!hits("20", &foot(["0", "20"], ["0", "60"])));
        assert!(!hits("20", &foot(["0", "24"], ["0", "30"])));
    }
}
