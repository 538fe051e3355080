//! What base and crown that stay do to a row, in words.

use super::sit::Row;
use super::stays::{
    Span, Staying, base_ends, base_notch, crown_notch, end_walls, reaches, stands_off,
};
use super::survey::Survey;
use crate::model::{Notch, Run, WallSide};
use crate::units::{Length, Tape};

/// How to notch instead: boxes by their trim's own key, frames by their run's, for they are not hers to cut unasked.
pub(super) fn or_notch(run: &Run) -> &'static str {
    match run.build.notch {
        Some(false) => "or notch them round it (take notch = false out of their [[run]])",
        _ if run.has_boxes() => {
            "or notch them round it (notch = true in its [[opening.existing_trim]])"
        }
        _ => {
            "or notch the frames round it, where their maker lets them be cut (notch = true in their [[run]])"
        }
    }
}

/// How to stand boxes clear above base that is in their way on these walls, with a comma before it; nothing where crown is, or where
/// the head gap or the crown above leaves no room for it.
pub(super) fn or_above(
    survey: &Survey,
    (run, row): (&Run, &Row),
    walls: &[WallSide],
    tape: Tape,
) -> String {
    let raised = || {
        let span = row.span();
        let on = |t: &&Staying| walls.iter().any(|w| t.is_on(*w));
        let all = || survey.stays.iter().filter(on);
        let in_way: Vec<&Staying> = all()
            .filter(|t| reaches(survey, t, span).is_some())
            .collect();
        if !row.base_height.is_positive() || in_way.iter().any(|t| t.overhead) {
            return None;
        }
        let high: Option<Vec<Length>> = in_way.iter().map(|t| t.high).collect();
        let bottom = high?.into_iter().max()?;
        let top = bottom + row.height();
        let free = survey.largest_box.height? - top;
        let above = Span {
            bottom,
            top: Some(top),
        };
        let clear = all().all(|t| reaches(survey, t, above).is_none());
        (clear && free >= run.head_gap_least).then_some(bottom)
    };
    raised().map_or_else(String::new, |high| {
        format!(
            ", stand them clear above it (base_height = \"{}\")",
            tape.print_up(high)
        )
    })
}

/// One sentence for each kind; `keeps`: how far its ends keep off what stays beside them.
pub(super) fn said(
    survey: &Survey,
    run: &Run,
    row: &Row,
    (keeps, tape): ([Length; 2], Tape),
) -> Vec<String> {
    let (wall, span) = (run.wall.word(), row.span());
    let who = if run.has_boxes() { "boxes" } else { "frames" };
    let mut list = Vec::new();
    let off = stands_off(survey, run, span);
    if off.is_positive() {
        list.push(format!(
            "Base or crown that stays holds the {who} on the {wall} wall {0} off it: put spacers {0} thick over the studs where they are screwed, {1}.",
            tape.print_up(off),
            or_notch(run)
        ));
    }
    if let Some(notch) = base_notch(survey, run, span) {
        let deep = tape.print_up(notch.deep);
        list.push(if notch.high.is_positive() {
            base_cut(run, (who, wall), &notch, tape)
        } else {
            format!(
                "Base stays behind the {who} on the {wall} wall, which stand clear above it: only the base frame stands {deep} off the wall."
            )
        });
    }
    if let Some(notch) = crown_notch(survey, run, span) {
        let [deep, high] = [notch.deep, notch.high].map(|l| tape.print_up(l));
        list.push(if run.has_boxes() {
            format!(
                "Crown stays behind the boxes on the {wall} wall: notch the top back corner of every side and partition, {deep} deep and {high} high, cut the back edge of each top to the same line, take {high} off the upper end of each back, and set the nailer below it."
            )
        } else {
            format!(
                "Crown stays behind the frames on the {wall} wall: their top back corners are to be notched {deep} deep and {high} high. {ASK}"
            )
        });
    }
    list.extend(at_ends(run, keeps, tape));
    let less = base_ends(survey, run, row);
    if less.iter().any(|l| l.is_positive()) {
        list.push(format!(
            "Base stays beside the row on the {wall} wall, which stands clear above it: only the base frame is shorter there, {} at the left end and {} at the right.",
            tape.print(less[0]),
            tape.print(less[1])
        ));
    }
    list
}

const ASK: &str = "Whether bought frames may be cut is their maker's word: ask first, and keep every screw and fitting clear of the cut.";

fn base_cut(run: &Run, (who, wall): (&str, &str), notch: &Notch, tape: Tape) -> String {
    let [deep, high] = [notch.deep, notch.high].map(|l| tape.print_up(l));
    if run.has_boxes() {
        return format!(
            "Base stays behind the boxes on the {wall} wall: notch the bottom back corner of every side and partition, {deep} deep and {high} high, cut the back edge of each bottom to the same line and {high} off the lower end of each back; the base frame stands {deep} off the wall, too."
        );
    }
    format!(
        "Base stays behind the {who} on the {wall} wall: their bottom back corners are to be notched {deep} deep and {high} high; a base frame stands {deep} off the wall, too. {ASK}"
    )
}

fn at_ends(run: &Run, keeps: [Length; 2], tape: Tape) -> Option<String> {
    let ends = end_walls(run.wall).into_iter().zip(keeps);
    let each = ends.filter_map(|(wall, keep)| {
        let wall = wall.filter(|_| keep.is_positive())?;
        Some(format!(
            "{} off the {} wall",
            tape.print_up(keep),
            wall.word()
        ))
    });
    let each: Vec<String> = each.collect();
    (!each.is_empty()).then(|| {
        format!(
            "At its ends the row on the {} wall keeps {} for base or crown that stays, notched or not: the strip there is cut round it.",
            run.wall.word(),
            each.join(" and ")
        )
    })
}

/// Said of boxes that end below crown that stays.
pub(super) fn clear_of_crown(survey: &Survey, run: &Run, row: &Row, tape: Tape) -> Option<String> {
    let span = row.span();
    let ends = end_walls(run.wall);
    let walls: Vec<WallSide> = ends.into_iter().flatten().chain([run.wall]).collect();
    let crown = survey.stays.iter().filter(|t| t.overhead);
    let crown = crown.filter(|t| walls.iter().any(|w| t.is_on(*w)));
    let clear = crown.filter(|t| reaches(survey, t, span).is_none());
    let high = clear.filter_map(|t| t.high).max()?;
    let room = survey.largest_box.height? - high - span.top?;
    Some(format!(
        "Crown stays, and the boxes on the {} wall end {} below it: it is not in their way.",
        run.wall.word(),
        tape.print(room.at_least_zero())
    ))
}
