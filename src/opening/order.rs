//! In which order the boxes are set, each one checked with the earlier ones standing.
//!
//! Owns the order and its check. The order first tried starts at the end where the floor is highest (S45, S46); behind a doorway
//! narrower than the row the boxes beside the door come first. Where a box of it would shut out a later one, the order is worked
//! out from its end: the last box is one that can be set with all others standing, and so on back. What stands only ever takes
//! floor, so if any order goes, this finds one.
//!
//! A box is tilted up along a straight strip of free floor as broad as itself and as long as its side-view diagonal, on the base
//! or, off the bases, on the floor to be lifted on; or it comes in upright; or it is raised with its top still out of the doorway.
//! Then it is moved to its place upright, past no box that stands.

use super::floor::{Foot, free_places, is_free, longest, reached};
use super::gate::{Role, role, turn, turn_back};
use super::places::Placed;
use super::stand::LIFT;
use super::trace::hypotenuse_up;
use crate::model::{Doorway, WallSide};
use crate::units::Length;
use serde::Serialize;

/// One box set, with the earlier ones standing.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Step {
    /// Its name.
    #[serde(rename = "box")]
    pub name: String,
    /// back, left or right.
    pub wall: String,
    /// Which box of its wall, counted from 1 at the left.
    pub number: usize,
    /// True if it can be stood up and moved to its place.
    pub goes: bool,
    /// How, or why not.
    pub how: String,
    /// Floor it takes in a line to be tilted up.
    pub needs: Length,
    /// The longest such line the boxes that stand leave in the opening, or in front of it where it has no doorway: null = open.
    pub floor: Option<Length>,
}

/// The floor, what bounds it, and the ways to bring a box in upright.
pub(crate) struct Ground<'a> {
    pub(crate) floor: Foot,
    /// Lowest ceiling over the floor.
    pub(crate) ceiling: Length,
    /// The door it has; `None` = open along its whole front.
    pub(crate) doorway: Option<&'a Doorway>,
    /// Where else boxes can be stood up: the ceiling there and the floor there, where read.
    pub(crate) elsewhere: Vec<(Length, Option<Length>)>,
}

const TILTED_ON_BASE: &str = "tilted up on the base";
const TILTED: &str = "tilted up on the floor that is left";
const TILTED_LIFTED: &str = "tilted up on the floor that is left, then lifted on to the base";
const BROUGHT: &str = "stood up before it comes in, then brought in upright";
const LEANED: &str = "raised with its top out of the doorway";
const NO_FLOOR: &str = "not floor enough left to stand it up";
const NO_WAY: &str = "no way to its place past what stands";

impl Ground<'_> {
    /// The floor a box may be tilted up and moved on: without a doorway, that in front of the opening too.
    fn reach(&self, long: Length) -> Foot {
        let mut all = self.floor;
        if self.doorway.is_none() {
            all.z[1] += long * 2;
        }
        all
    }
    /// How a box gets to its place with those standing; `Err` says why it does not.
    fn set(
        &self,
        b: &Placed,
        standing: &[Foot],
        bases: &[Foot],
    ) -> Result<&'static str, &'static str> {
        let s = &b.standing;
        let diagonal = hypotenuse_up(s.height, s.depth);
        let all = self.reach(diagonal);
        let lifts = !b.base_height.is_positive() || s.height + b.base_height + LIFT <= self.ceiling;
        let mut ways: Vec<(&'static str, (Length, Length))> = Vec::new();
        let mut tilt = |how, taken: &[Foot]| {
            for strip in strips(b, diagonal) {
                ways.extend(
                    free_places(&all, taken, strip)
                        .into_iter()
                        .map(|c| (how, c)),
                );
            }
        };
        if diagonal + b.base_height <= self.ceiling {
            let based = b.base_height.is_positive();
            tilt(if based { TILTED_ON_BASE } else { TILTED }, standing);
        } else if diagonal <= self.ceiling && lifts {
            tilt(TILTED_LIFTED, &[standing, bases].concat());
        }
        if lifts && self.comes_in_upright(b, standing, diagonal) {
            ways.extend(self.entries(b).into_iter().map(|at| (BROUGHT, at)));
        }
        ways.extend(self.leans_in(b, standing, diagonal).map(|at| (LEANED, at)));
        if ways.is_empty() {
            return Err(NO_FLOOR);
        }
        let corners: Vec<_> = ways.iter().map(|w| w.1).collect();
        let found = reached(&all, standing, &b.foot, &corners);
        let way = ways.iter().find(|(_, corner)| found.contains(corner));
        way.map(|w| w.0).ok_or(NO_WAY)
    }
    /// Where a box that was brought in stands first: inside the middle of its door, or in front of an opening that has none.
    fn entry(&self, size: [Length; 2]) -> (Length, Length) {
        let [x, z] = [self.floor.x, self.floor.z];
        // Inside the floor, however near a corner the door stands.
        let at = |[from, to]: [Length; 2], size: Length| {
            let centre = self
                .doorway
                .map_or((from + to) / 2, |d| d.middle_along([from, to]));
            (centre - size / 2).min(to - size).max(from)
        };
        match self.doorway.map(|d| d.wall.as_str()) {
            None => (at(x, size[0]), z[1]),
            Some("left") => (x[0], at(z, size[1])),
            Some("right") => (x[1] - size[0], at(z, size[1])),
            Some(_) => (at(x, size[0]), z[1] - size[1]),
        }
    }
    /// All places it may stand first: where it passes its door without a turn, before its own place or as near it as the door
    /// reaches, and at either side of the door, too.
    fn entries(&self, b: &Placed) -> Vec<(Length, Length)> {
        let size = b.foot.size();
        let middle = self.entry(size);
        let mut all = vec![middle];
        let Some((door, wide)) = self.doorway.and_then(|d| Some((d, d.width?))) else {
            return all;
        };
        let aside = matches!(door.wall.as_str(), "left" | "right");
        let (span, across, own) = if aside {
            (self.floor.z, size[1], b.foot.z[0])
        } else {
            (self.floor.x, size[0], b.foot.x[0])
        };
        let from = (door.middle_along(span) - wide / 2).max(span[0]);
        let to = (door.middle_along(span) + wide / 2).min(span[1]) - across;
        if from <= to {
            let at = |v: Length| if aside { (middle.0, v) } else { (v, middle.1) };
            all.extend([own.max(from).min(to), from, to].map(at));
        }
        all
    }
    /// Stood up elsewhere, upright through the door, and turned there where its broad side will not pass.
    fn comes_in_upright(&self, b: &Placed, standing: &[Foot], diagonal: Length) -> bool {
        let stands = self
            .elsewhere
            .iter()
            .any(|(up, long)| diagonal <= *up && long.is_none_or(|l| diagonal <= l));
        let Some(door) = self.doorway else {
            return stands;
        };
        let size = b.foot.size();
        let aside = matches!(door.wall.as_str(), "left" | "right");
        let across = size[usize::from(aside)];
        let least = size[0].min(size[1]);
        let turn = hypotenuse_up(size[0], size[1]);
        let circle = Foot::at(self.entry([turn; 2]), [turn; 2]);
        stands
            && door.height.is_none_or(|h| b.standing.height <= h)
            && door.width.is_none_or(|w| {
                across <= w || (least <= w && is_free(&self.floor, standing, &circle))
            })
    }
    /// Raised in line with its door, its foot against the far end of the free lane, its top out of the doorway at first; where its
    /// foot stands then. A box whose wall does not face the door is turned there.
    fn leans_in(
        &self,
        b: &Placed,
        standing: &[Foot],
        diagonal: Length,
    ) -> Option<(Length, Length)> {
        let door = self.doorway?;
        let (wall, head) = (door.wall.as_str(), door.height?);
        let s = &b.standing;
        let breadth = match role(wall, b.wall) {
            Role::Facing => s.width,
            _ => hypotenuse_up(s.width, s.depth),
        };
        let (floor, own) = (turn(wall, &self.floor), turn(wall, &b.foot).size());
        let middle = match wall {
            "left" => door.middle_along(self.floor.z),
            "right" => -door.middle_along(self.floor.z),
            _ => door.middle_along(self.floor.x),
        };
        let x = (middle - breadth / 2)
            .min(floor.x[1] - breadth)
            .max(floor.x[0]);
        let [far, near] = floor.z;
        let there: Vec<Foot> = standing.iter().map(|f| turn(wall, f)).collect();
        let whole = Foot::at((x, far), [breadth, near - far]);
        let behind = there.iter().filter(|f| f.meets(&whole)).map(|f| f.z[1]);
        let from = behind.max().unwrap_or(far);
        let lane = Foot::at((x, from), [breadth, near - from]);
        let goes = s.width <= door.width?
            && diagonal + b.base_height <= self.ceiling
            && is_free(&floor, &there, &lane)
            && clears_head(s.height, s.depth, near - from, head - b.base_height);
        let at = turn_back(wall, &Foot::at((x, from), own));
        goes.then_some((at.x[0], at.z[0]))
    }
    /// Every box in this order, each with the earlier ones standing.
    pub(crate) fn steps(&self, order: &[&Placed]) -> Vec<Step> {
        let bases = bases(order);
        let mut standing = Vec::new();
        let mut list = Vec::new();
        for b in order {
            let found = self.set(b, &standing, &bases);
            let diagonal = hypotenuse_up(b.standing.height, b.standing.depth);
            let strips = strips(b, diagonal);
            let long = strips.iter().map(|s| {
                let deep = s[1] == diagonal;
                longest(&self.floor, &standing, s[usize::from(!deep)], deep)
            });
            list.push(Step {
                name: b.standing.name.clone(),
                wall: b.wall.word().into(),
                number: b.number,
                goes: found.is_ok(),
                how: found.unwrap_or_else(|why| why).into(),
                needs: diagonal,
                floor: self.doorway.and(long.max()),
            });
            standing.push(b.foot);
        }
        list
    }
    /// The order first tried, or where that does not go another that does, if there is one.
    pub(crate) fn order<'b>(&self, first: &[&'b Placed]) -> Vec<&'b Placed> {
        let bases = bases(first);
        let mut left = first.to_vec();
        let mut last = Vec::new();
        while let Some(at) = (0..left.len()).rev().find(|i| {
            let others: Vec<Foot> = (0..left.len())
                .filter(|k| k != i)
                .map(|k| left[k].foot)
                .collect();
            self.set(left[*i], &others, &bases).is_ok()
        }) {
            last.push(left.remove(at));
        }
        last.reverse();
        left.extend(last);
        left
    }
}

/// Floor under bases, which are laid before the first box.
fn bases(all: &[&Placed]) -> Vec<Foot> {
    let based = all.iter().filter(|b| b.base_height.is_positive());
    based.map(|b| b.foot).collect()
}

/// The strips a box can be tilted up on, along `x` and along `z`: straight out from its wall, or along it with room to turn.
fn strips(b: &Placed, diagonal: Length) -> [[Length; 2]; 2] {
    let turn = hypotenuse_up(b.standing.width, b.standing.depth);
    match b.wall {
        WallSide::Back => [[b.standing.width, diagonal], [diagonal, turn]],
        _ => [[diagonal, b.standing.width], [turn, diagonal]],
    }
}

/// True if a box of that height and depth can be raised, its foot against the back of a floor `deep` deep, under a door head at the
/// front of it. The upper edge of its top meets the door at cos t = deep / height and stands d cos t + h sin t high there; the lower
/// edge comes in last, at h cos t + d sin t = deep, h sin t high. Between the two it is lower than at one of them.
fn clears_head(height: Length, depth: Length, deep: Length, head: Length) -> bool {
    let [h, d, deep, head] = [height, depth, deep, head].map(|l| l.as_inches());
    if h <= deep {
        return true;
    }
    if d >= deep {
        return false;
    }
    let upper = (deep / h).acos();
    let lower = d.atan2(h) + (deep / h.hypot(d)).acos();
    d * upper.cos() + h * upper.sin() <= head && h * lower.sin() <= head
}

/// The boxes in the order first tried; `shims` under the left and right side of each box of the back row.
pub(crate) fn first_order<'a>(
    all: &'a [Placed],
    (doorway, floor): (Option<&Doorway>, Option<Foot>),
    shims: &[[Length; 2]],
) -> Vec<&'a Placed> {
    let mut order: Vec<&Placed> = all.iter().collect();
    let back = |b: &Placed| b.wall == WallSide::Back;
    let (mut row, mut sides): (Vec<&Placed>, Vec<&Placed>) = order.drain(..).partition(|b| back(b));
    if shims.first().map(|s| s[0]) > shims.last().map(|s| s[1]) {
        row.reverse();
    }
    let ends = row
        .iter()
        .map(|b| b.foot.x[0])
        .min()
        .zip(row.iter().map(|b| b.foot.x[1]).max());
    // Past a door in a side wall the boxes furthest from it come first.
    match doorway.map(|d| d.wall.as_str()) {
        Some("left") => row.sort_by_key(|b| std::cmp::Reverse(b.foot.x[0])),
        Some("right") => row.sort_by_key(|b| b.foot.x[0]),
        _ => {}
    }
    if let Some((left, right)) = ends
        && doorway.is_none_or(|d| d.wall == "front")
        && doorway
            .and_then(|d| d.width)
            .is_some_and(|w| w < right - left)
    {
        let wall = floor.map_or([left, right], |f| f.x);
        let door = doorway.map_or((left + right) / 2, |d| d.middle_along(wall));
        row.sort_by_key(|b| std::cmp::Reverse((b.foot.x[0] + b.standing.width / 2 - door).abs()));
    }
    // Side rows from the back corner to the front.
    sides.sort_by_key(|b| b.foot.z[0]);
    row.extend(sides);
    row
}

#[cfg(test)]
mod tests {
    use super::clears_head;
    use crate::opening::samples::Dice;
    use crate::units::Length;

    /// 84 x 24 on a floor 60 deep: the top meets the door at cos t = 60 / 84, 24 x 0.7143 + 84 x 0.6999 = 75.93 high.
    #[test]
    fn a_door_head_by_hand() {
        let l = |inches: f64| Length::from_units((inches * 2_032_000.0) as i64);
        assert!(clears_head(l(84.0), l(24.0), l(60.0), l(76.0)));
        assert!(!clears_head(l(84.0), l(24.0), l(60.0), l(75.9)));
        assert!(!clears_head(l(84.0), l(24.0), l(23.0), l(200.0)));
    }

    /// The rectangle turned step by step, its foot against the back: the highest place at which an edge crosses the door.
    #[test]
    fn a_door_head_by_turning_the_box() {
        let mut dice = Dice::new(5);
        for _ in 0..200 {
            let h = 60.0 + dice.below(40) as f64;
            let d = 12.0 + dice.below(16) as f64;
            let deep = d + 4.0 + dice.below((h - d) as usize - 4) as f64;
            let mut most: f64 = 0.0;
            for step in 0..=18_000 {
                let t = f64::from(step) * std::f64::consts::FRAC_PI_2 / 18_000.0;
                let (s, c) = t.sin_cos();
                let lower = (d * s, 0.0);
                let corners = [
                    lower,
                    (lower.0 + h * c, h * s),
                    (h * c, d * c + h * s),
                    (0.0, d * c),
                ];
                for i in 0..4 {
                    let (a, b) = (corners[i], corners[(i + 1) % 4]);
                    if (a.0 - deep) * (b.0 - deep) < 0.0 {
                        most = most.max(a.1 + (b.1 - a.1) * (deep - a.0) / (b.0 - a.0));
                    }
                }
            }
            let l = |inches: f64| Length::from_units((inches * 2_032_000.0) as i64);
            let clears = |head: f64| clears_head(l(h), l(d), l(deep), l(head));
            assert!(
                clears(most + 0.05) && !clears(most - 0.05),
                "{h} {d} {deep} {most}"
            );
        }
    }
}
