//! Old base and crown that stay: what boxes stand off them, and what is cut out of boxes that are notched round them.
//!
//! Base runs along the floor of every wall; crown under the ceiling, and stands in the way only of boxes whose top reaches up into
//! it. With `notch = true` the backs of a row go to the wall, cut round it; where an end of the row meets a wall it stands off that
//! wall all the same, for a side cut away at its end would carry nothing.

use super::judge::wall_word;
use super::sit::Row;
use super::survey::{BoxSize, Survey};
use crate::model::{Notch, Opening, Reading, Run};
use crate::units::{Length, Tape};

/// One kind of trim that stays.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Staying {
    thick: Length,
    high: Reading,
    overhead: bool,
    notch: bool,
}

/// What stays and is measured.
pub(super) fn staying(opening: &Opening) -> Vec<Staying> {
    let stays = opening.existing_trim.iter().filter(|t| t.stay);
    let one = |t: &crate::model::ExistingTrim| {
        Some(Staying {
            thick: t.thick?,
            high: t.height,
            overhead: t.is_overhead(),
            notch: t.notch,
        })
    };
    stays.filter_map(one).collect()
}

/// The largest box where base or crown stays on: narrower by it at both sides and shallower by it at the back, where boxes
/// are not notched round it.
pub(super) fn between_trim(stays: &[Staying], whole: BoxSize) -> Option<BoxSize> {
    let thick = stays.iter().map(|t| t.thick).max()?;
    let behind = stays.iter().filter(|t| !t.notch).map(|t| t.thick).max();
    let less = |of: Option<Length>, by| of.map(|l| (l - by).at_least_zero());
    Some(BoxSize {
        width: less(whole.width, thick * 2),
        height: whole.height,
        depth: less(whole.depth, behind.unwrap_or_default()),
    })
}

/// How far a box reaches up into trim; `top` over the highest floor, `None` = as high as any. Nothing where it ends below.
fn reaches(survey: &Survey, t: &Staying, top: Option<Length>) -> Option<Length> {
    if !t.overhead {
        return Some(Length::ZERO);
    }
    let (Some(top), Some(ceiling), Some(high)) = (top, survey.largest_box.height, t.high) else {
        return Some(t.high.unwrap_or_default());
    };
    Some(top - (ceiling - high)).filter(|r| r.is_positive())
}

fn thickest(survey: &Survey, top: Option<Length>, of: impl Fn(&Staying) -> bool) -> Length {
    let stays = survey.stays.iter().filter(|t| of(t));
    let in_way = stays.filter(|t| reaches(survey, t, top).is_some());
    in_way.map(|t| t.thick).max().unwrap_or_default()
}

/// How far the ends of a row stand off a wall with base or crown that stays, the row ending `top` over the highest floor (`None` =
/// under the ceiling); nothing where it comes off.
pub fn stands_off(survey: &Survey, top: Option<Length>) -> Length {
    thickest(survey, top, |_| true)
}

/// How far the backs of a row stand off the wall behind them: nothing where they are notched.
pub fn stands_off_back(survey: &Survey, top: Option<Length>) -> Length {
    thickest(survey, top, |t| !t.notch)
}

/// What is cut out of the top back corners of boxes round crown that stays.
pub fn crown_notch(survey: &Survey, top: Length) -> Option<Notch> {
    let round = survey.stays.iter().filter(|t| t.overhead && t.notch);
    let each = round.filter_map(|t| Some((t.thick, reaches(survey, t, Some(top))?)));
    let all: Vec<(Length, Length)> = each.collect();
    let thick = all.iter().map(|n| n.0).max()?;
    Some(Notch::round(thick, all.iter().map(|n| n.1).max()?))
}

/// What trim that stays does to a row: one sentence for each kind.
pub(super) fn said(
    (opening, survey): (&Opening, &Survey),
    run: &Run,
    row: &Row,
    tape: Tape,
) -> Vec<String> {
    let (wall, top) = (wall_word(run.wall), row.base_height + row.height());
    let mut list = Vec::new();
    let off = stands_off_back(survey, Some(top));
    if off.is_positive() {
        list.push(format!(
            "Base or crown that stays holds the boxes on the {wall} wall {0} off it: put spacers {0} thick over the studs where they are screwed, or notch them round it (notch = true in its [[opening.existing_trim]]).",
            tape.print_up(off)
        ));
    }
    if let Some(notch) = opening.base_notch(row.base_height) {
        let deep = tape.print_up(notch.deep);
        list.push(if notch.high.is_positive() {
            let high = tape.print_up(notch.high);
            format!(
                "Base stays behind the boxes on the {wall} wall: notch the bottom back corner of every side and partition, {deep} deep and {high} high, cut the back edge of each bottom to the same line and {high} off the lower end of each back; the base frame stands {deep} off the wall, too."
            )
        } else {
            format!(
                "Base stays behind the boxes on the {wall} wall, which stand clear above it: only the base frame stands {deep} off the wall."
            )
        });
    }
    if let Some(notch) = crown_notch(survey, top) {
        let [deep, high] = [notch.deep, notch.high].map(|l| tape.print_up(l));
        list.push(format!(
            "Crown stays behind the boxes on the {wall} wall: notch the top back corner of every side and partition, {deep} deep and {high} high, cut the back edge of each top to the same line, take {high} off the upper end of each back, and set the nailer below it."
        ));
    }
    let ends = stands_off(survey, Some(top));
    if ends.is_positive() && !list.is_empty() {
        list.push(format!(
            "Where the row on the {wall} wall ends at a wall with base or crown that stays, it keeps {} from it, notched or not: the strip there is cut round it.",
            tape.print_up(ends)
        ));
    }
    list
}

/// Said of boxes that end below crown that stays.
pub(super) fn clear_of_crown(survey: &Survey, run: &Run, row: &Row, tape: Tape) -> Option<String> {
    let top = row.base_height + row.height();
    let crown = survey.stays.iter().filter(|t| t.overhead);
    let clear = crown.filter(|t| reaches(survey, t, Some(top)).is_none());
    let high = clear.filter_map(|t| t.high).max()?;
    let room = survey.largest_box.height? - high - top;
    Some(format!(
        "Crown stays, and the boxes on the {} wall end {} below it: it is not in their way.",
        wall_word(run.wall),
        tape.print(room.at_least_zero())
    ))
}
