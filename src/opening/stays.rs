//! Old base and crown that stay: what boxes stand off them, and what is cut out of boxes that are notched round them.
//!
//! Base runs along the floor of its wall and stands in the way of boxes that begin below its top; crown under the ceiling, of boxes
//! whose top reaches up into it. With `notch = true` the backs of a row of boxes go to the wall, cut round it; of bought frames only
//! where their own run says so. Where an end of the row meets a wall it stands off that wall all the same, for a side cut away along
//! its whole lower edge would carry nothing.

use super::sit::Row;
use super::survey::{BoxSize, Survey};
use crate::model::{NOTCH_PLAY, Notch, Opening, Reading, Run, WallSide};
use crate::units::Length;

/// One kind of trim that stays.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Staying {
    /// `None` = on all walls.
    wall: Option<WallSide>,
    pub(super) thick: Length,
    pub(super) high: Reading,
    pub(super) overhead: bool,
    notch: bool,
}

impl Staying {
    pub(super) fn is_on(&self, wall: WallSide) -> bool {
        self.wall.is_none_or(|w| w == wall)
    }
}

/// How high something stands over the highest floor.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Span {
    /// Its lower edge.
    pub bottom: Length,
    /// Its upper edge; `None` = as high as any.
    pub top: Option<Length>,
}

/// What stays and is measured.
pub(super) fn staying(opening: &Opening) -> Vec<Staying> {
    let stays = opening.existing_trim.iter().filter(|t| t.stay);
    let one = |t: &crate::model::ExistingTrim| {
        Some(Staying {
            wall: t.wall,
            thick: t.thick?,
            high: t.height,
            overhead: t.is_overhead(),
            notch: t.notch,
        })
    };
    stays.filter_map(one).collect()
}

/// The largest box where base or crown stays on: narrower by it at the sides and shallower by it at the back, where boxes
/// are not notched round it.
pub(super) fn between_trim(stays: &[Staying], whole: BoxSize) -> Option<BoxSize> {
    if stays.is_empty() {
        return None;
    }
    let thick = |wall, notched: bool| {
        let on = stays
            .iter()
            .filter(|t| t.is_on(wall) && (notched || !t.notch));
        on.map(|t| t.thick).max().unwrap_or_default()
    };
    let less = |of: Option<Length>, by| of.map(|l| (l - by).at_least_zero());
    let sides = thick(WallSide::Left, true) + thick(WallSide::Right, true);
    Some(BoxSize {
        width: less(whole.width, sides),
        height: whole.height,
        depth: less(whole.depth, thick(WallSide::Back, false)),
    })
}

/// How far something that high reaches into trim; nothing where it stands clear above or below it. What is not measured is taken
/// to be in the way.
pub(super) fn reaches(survey: &Survey, t: &Staying, span: Span) -> Option<Length> {
    let by = match (t.overhead, t.high) {
        (false, Some(high)) => high - span.bottom,
        (true, Some(high)) => match (span.top, survey.largest_box.height) {
            (Some(top), Some(ceiling)) => top - (ceiling - high),
            _ => high,
        },
        (_, None) => return Some(Length::ZERO),
    };
    Some(by).filter(|by| by.is_positive())
}

fn notches(run: &Run, t: &Staying) -> bool {
    run.build.notch.unwrap_or(t.notch && run.has_boxes())
}

fn thickest(
    survey: &Survey,
    (wall, span): (WallSide, Span),
    of: impl Fn(&Staying) -> bool,
) -> Length {
    let stays = survey.stays.iter().filter(|t| t.is_on(wall) && of(t));
    let in_way = stays.filter(|t| reaches(survey, t, span).is_some());
    in_way.map(|t| t.thick).max().unwrap_or_default()
}

/// How far what is not cut keeps off a wall with base or crown that stays; nothing where it comes off.
pub fn keeps_off(survey: &Survey, wall: WallSide, span: Span) -> Length {
    thickest(survey, (wall, span), |_| true)
}

/// How far the backs of a row stand off the wall behind them: nothing where they are notched.
pub fn stands_off(survey: &Survey, run: &Run, span: Span) -> Length {
    thickest(survey, (run.wall, span), |t| !notches(run, t))
}

/// What boxes give way to base that stays behind them: a notch at their bottom back corners, or where they stand clear above it what
/// their base frame keeps off the wall.
pub fn base_notch(survey: &Survey, run: &Run, span: Span) -> Option<Notch> {
    let off = stands_off(survey, run, span);
    let stays = survey.stays.iter().filter(|t| !t.overhead);
    let behind = stays.filter(|t| t.is_on(run.wall) && t.thick > off);
    let each = behind.filter_map(|t| Some((t.thick - off, t.high? - span.bottom)));
    largest(each.collect())
}

/// What is cut out of the top back corners of boxes round crown that stays.
pub fn crown_notch(survey: &Survey, run: &Run, span: Span) -> Option<Notch> {
    let off = stands_off(survey, run, span);
    let stays = survey.stays.iter().filter(|t| t.overhead);
    let behind = stays.filter(|t| t.is_on(run.wall) && t.thick > off);
    let each = behind.filter_map(|t| Some((t.thick - off, reaches(survey, t, span)?)));
    largest(each.collect())
}

fn largest(all: Vec<(Length, Length)>) -> Option<Notch> {
    let thick = all.iter().map(|n| n.0).max()?;
    Some(Notch::round(thick, all.iter().map(|n| n.1).max()?))
}

/// The walls at the left and the right end of a row, facing it; `None` = the open front.
pub(super) fn end_walls(wall: WallSide) -> [Option<WallSide>; 2] {
    match wall {
        WallSide::Back => [Some(WallSide::Left), Some(WallSide::Right)],
        WallSide::Left => [None, Some(WallSide::Back)],
        WallSide::Right => [Some(WallSide::Back), None],
    }
}

/// How much shorter than its row a base frame is at each end, for base that stays there and that the boxes stand clear above; nothing
/// where the row ends far enough from its wall.
pub fn base_ends(survey: &Survey, run: &Run, row: &Row) -> [Length; 2] {
    let gaps = row.gaps_at_ends(survey, run.wall);
    let base = |wall: WallSide| {
        let on = survey.stays.iter().filter(|t| !t.overhead && t.is_on(wall));
        let clear = on.filter(|t| reaches(survey, t, row.span()).is_none());
        clear.map(|t| t.thick + NOTCH_PLAY).max()
    };
    let walls = end_walls(run.wall);
    [0, 1].map(|n: usize| {
        let takes = walls[n].and_then(base);
        let less = takes.and_then(|t| Some(t - gaps[n]?));
        less.unwrap_or_default().at_least_zero()
    })
}
