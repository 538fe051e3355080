//! The sizes a box is built from: outside, inside, depth of what stands in it. Everything else in this room is reckoned from
//! these, so that no part measures anything twice.

use super::crowded::spaces;
use super::drawers::face;
use super::ladder::Ladder;
use crate::model::{BoxPlan, BoxWidth, DoorLay, Job, Notch, Problem, Run, Severity, Spot, Want};
use crate::units::Length;

/// Depth of a dado and of the groove of a drawer's bottom. Common practice, no source.
pub(crate) const DADO: Length = Length::in_64(16);
/// Least depth of the rabbet the back lies in.
pub(crate) const RABBET_DEEP: Length = Length::in_64(16);
/// A loose shelf is shorter than its bay by this, and shallower than a fixed one by [`LOOSE_SHALLOW`].
pub(crate) const LOOSE_SHORT: Length = Length::in_64(8);
/// See [`LOOSE_SHORT`].
pub(crate) const LOOSE_SHALLOW: Length = Length::in_64(16);

/// Width of the rabbet in a side so thick: 3/8 in, less where under 3/16 in of the side would stay.
pub(crate) fn rabbet_wide(thick: Length) -> Length {
    let most = thick - Length::in_64(12);
    Length::in_64(24)
        .min(most - most % Length::INCH_64)
        .at_least_zero()
}

/// What is known of the opening, from its survey; `None` = not known.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Room {
    /// Of the largest level and plumb box.
    pub width: Option<Length>,
    /// Likewise.
    pub height: Option<Length>,
    /// Likewise.
    pub depth: Option<Length>,
    /// Strips that close the gaps.
    pub strips: Vec<Strip>,
    /// How far the backs stand off their wall for base or crown that stays.
    pub off_wall: Length,
    /// What is cut out of the bottom back corners round base that stays; its depth is what the base frame keeps off the wall.
    pub base: Option<Notch>,
    /// How much shorter the base frame is at the left and right end, for base that stays there.
    pub base_ends: [Length; 2],
    /// What is cut out of the top back corners round crown that stays.
    pub crown: Option<Notch>,
    /// Why the boxes do not go in, and what would mend it; `None` = they go in, or that is not known.
    pub too_large: Option<[String; 2]>,
}

/// A gap to be closed with a strip.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Strip {
    /// left, right, head; "head, right row" of a row on a side wall.
    pub place: String,
    /// Of the blank, with what is left on for the compass.
    pub width: Length,
    /// Of the blank.
    pub length: Length,
}

/// What base and strips around a row of bought frames are drawn from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FramesRow {
    /// `None` = no base, or there is one in the list.
    pub base: Option<Ladder>,
}

/// Outside sizes of a box.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Outside {
    /// Left to right.
    pub width: Length,
    /// Bottom to top, without the base.
    pub height: Length,
    /// Front to back.
    pub depth: Length,
}

/// How boards meet.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Joint {
    /// Boards between the sides butted, the back in rabbets.
    Rabbet,
    /// Top, bottom and fixed shelves let 1/4 in into the sides, the back in rabbets.
    Dado,
    /// Everything butted, the back laid on from behind.
    Butt,
}

impl Joint {
    /// By the word in the file.
    pub(crate) fn of(run: &Run) -> Self {
        match run.joint.as_str() {
            "dado" => Self::Dado,
            "butt" => Self::Butt,
            _ => Self::Rabbet,
        }
    }
    /// How far a board is let into what holds it, at one end.
    pub(crate) const fn let_in(self) -> Length {
        match self {
            Self::Dado => DADO,
            Self::Rabbet | Self::Butt => Length::ZERO,
        }
    }
}

/// Everything a box is drawn from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Inside {
    /// Outside sizes.
    pub outside: Outside,
    /// Thickness of sides, top, bottom and shelves, as measured.
    pub thick: Length,
    /// Thickness of the back; `None` = no back.
    pub back: Option<Length>,
    /// How boards meet.
    pub joint: Joint,
    /// Clear width between the sides.
    pub width: Length,
    /// Clear height between bottom and top.
    pub height: Length,
    /// Depth of the sides.
    pub side_deep: Length,
    /// Depth of top, bottom and partitions: as far as the back.
    pub deep: Length,
    /// Depth of fixed shelves: less than `deep` behind inset doors.
    pub fixed_deep: Length,
    /// Depth of loose shelves.
    pub loose_deep: Length,
    /// Clear width of each bay; bays and partitions together are exactly `width`.
    pub bays: Vec<Length>,
    /// Heights of the drawer fronts' places, lowest first; gaps are taken off later.
    pub drawers: Vec<Length>,
    /// True where they run behind the doors.
    pub drawers_inside: bool,
    /// At which sides of each bay a door is hinged before them; false where none is, or where they have fronts of their own.
    pub packed: Vec<[bool; 2]>,
    /// What a slide is packed out by at such a side, so that the drawer clears hinge and open door.
    pub packing: Length,
    /// Clear height above the drawers.
    pub above_drawers: Length,
    /// The finest mark of her tape: shelves we place stand on one.
    pub mark: Length,
    /// The tallest thing she hangs, where she said it.
    pub hung: Option<Length>,
}

/// Outside sizes of every box of a run, or everything that stands in the way.
pub fn outsides(job: &Job, run: &Run, room: &Room) -> Result<Vec<Outside>, Vec<Problem>> {
    let mut wrong = Vec::new();
    let mut need = |given: Option<Length>, from: Option<Length>, key: &str| {
        let found = given.or(from);
        if found.is_none_or(|l| !l.is_positive()) {
            wrong.push(problem(
                &format!("[[run]] {key}"),
                "nothing",
                format!(
                    "The readings of the opening do not give the {key} of route {}.",
                    run.route
                ),
                "a size such as 23 1/4",
                format!("add {key} = ... to the [[run]], or take the readings that are missing."),
            ));
        }
        found.unwrap_or_default()
    };
    let under = room.height.map(|h| h - run.base_height - Length::inches(2));
    let height = need(run.box_height, under, "box_height");
    let depth = need(
        run.box_depth,
        room.depth.map(|d| d - Length::INCH),
        "box_depth",
    );
    let (mut given, mut shares) = (Length::ZERO, 0);
    for b in &run.boxes {
        match b.width {
            BoxWidth::Width(w) => given += w,
            BoxWidth::Share(n) => shares += i64::from(n),
        }
    }
    let left = room.width.map(|w| w - run.side_gap_least * 2 - given);
    if shares > 0 && left.is_none_or(|l| !l.is_positive()) {
        let known = left.is_some();
        wrong.push(problem(
            "[[run.box]] share",
            if known { "no room" } else { "nothing to share" },
            if known {
                "The boxes with a width leave nothing for the boxes with a share.".into()
            } else {
                "Boxes share what is left of the opening, and its width is not known yet."
                    .to_owned()
            },
            "room for every box",
            "give each box a width, or take the readings that are missing.".into(),
        ));
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let mark = job.mark();
    let to_mark = |l: Length| if mark.is_positive() { l - l % mark } else { l };
    let width = |b: &BoxPlan| match b.width {
        BoxWidth::Width(w) => w,
        BoxWidth::Share(n) => to_mark(left.unwrap_or_default() * i64::from(n) / shares.max(1)),
    };
    Ok(run
        .boxes
        .iter()
        .map(|b| Outside {
            width: width(b),
            height,
            depth,
        })
        .collect())
}

impl Inside {
    /// Reckons a box, or says everything about it that cannot be built.
    pub fn of(
        job: &Job,
        run: &Run,
        plan: &BoxPlan,
        outside: Outside,
    ) -> Result<Self, Vec<Problem>> {
        let mut wrong = Vec::new();
        let thick = thickness(job, run.material.as_deref(), "material", &mut wrong);
        let back = run
            .back
            .as_deref()
            .map(|b| thickness(job, Some(b), "back", &mut wrong));
        let joint = Joint::of(run);
        let (side_deep, deep) = match (back, joint) {
            (None, _) => (outside.depth, outside.depth),
            (Some(b), Joint::Butt) => (outside.depth - b, outside.depth - b),
            (Some(b), _) => (outside.depth, outside.depth - b.max(RABBET_DEEP)),
        };
        let width = outside.width - thick * 2;
        let height = outside.height - thick * 2;
        let mut fixed_deep = deep;
        if plan.doors + plan.drawers > 0 && run.build.door_lay == DoorLay::Inset {
            let item = run.build.door_item.as_deref().or(run.material.as_deref());
            fixed_deep -= thickness(job, item, "door_item", &mut wrong) + run.build.door_gap;
        }
        let bays = plan.inside.bays(job.project.tape.unit, width, thick);
        let inner = plan.inside.drawers_inside && plan.drawers > 0;
        // Set in, an open door stands before the bay by its thickness and its gap; overlaid, its hinge and its edge take about as
        // much as a board is thick. Packed in whole boards of the box. Common practice, no source.
        let packing = match run.build.door_lay {
            DoorLay::Overlay => thick,
            DoorLay::Inset => deep - fixed_deep,
        };
        let boards = (packing.units() + thick.units() - 1).checked_div(thick.units());
        let packing = thick * boards.unwrap_or(0);
        let drawers = plan.drawer_places();
        let used: Length = drawers.iter().copied().sum();
        let inside = Self {
            outside,
            thick,
            back,
            joint,
            width,
            height,
            side_deep,
            deep,
            fixed_deep,
            loose_deep: fixed_deep - LOOSE_SHALLOW,
            bays,
            drawers_inside: inner,
            packed: if inner {
                hinged(plan)
            } else {
                vec![[false; 2]; plan.inside.partitions as usize + 1]
            },
            packing,
            above_drawers: height - used,
            mark: job.mark(),
            hung: job.want.as_ref().and_then(Want::longest_hung),
            drawers,
        };
        inside.judge(run, plan, &mut wrong);
        if wrong.is_empty() {
            inside.judge_shelves(run, plan, &mut wrong);
        }
        if wrong.is_empty() {
            Ok(inside)
        } else {
            Err(wrong)
        }
    }

    /// Boards that would stand in each other, wherever they come to stand.
    fn judge_shelves(&self, run: &Run, plan: &BoxPlan, wrong: &mut Vec<Problem>) {
        let clear = spaces(run, plan, self);
        let meet = clear.iter().filter(|c| !c.is_positive()).count();
        if meet > 0 {
            wrong.push(problem(
                &format!("[[run.box]] {}", plan.name),
                &format!(
                    "{} fixed and {} loose shelves",
                    plan.fixed_shelves, plan.loose_shelves
                ),
                format!("Where they come to stand {meet} of them would leave no room at all over the board below."),
                "shelves that go between the fixed ones, the drawers and the top",
                "take some out, or give shelf_heights.".into(),
            ));
        }
    }

    fn judge(&self, run: &Run, plan: &BoxPlan, wrong: &mut Vec<Problem>) {
        let place = format!("[[run.box]] {}", plan.name);
        let mut say = |found: String, why: &str, expected: &str, fix: &str| {
            wrong.push(problem(
                &place,
                &found,
                why.to_owned(),
                expected,
                fix.to_owned(),
            ));
        };
        let bay = self.bays.iter().copied().min().unwrap_or_default();
        if bay <= LOOSE_SHORT {
            say(
                format!("{} partitions", plan.inside.partitions),
                "Its sides and partitions leave no room between them.",
                "a box wider than its sides and partitions",
                "make the box wider, or take partitions out.",
            );
        }
        if self.loose_deep <= Length::ZERO {
            say(
                "box_depth".into(),
                "Back, doors and clearances leave no depth for shelves.",
                "a box deeper than its back",
                "make the boxes of the run deeper.",
            );
        }
        let boards = i64::from(plan.fixed_shelves) + i64::from(plan.loose_shelves);
        // Drawers alone may fill the whole face.
        let too_high = if boards == 0 && plan.drawers > 0 {
            let room = if self.drawers_inside {
                self.height
            } else {
                face(run, self)[1]
            };
            self.drawers.iter().copied().sum::<Length>() > room
        } else {
            self.above_drawers <= self.thick * boards
        };
        if too_high {
            say(
                format!("{boards} shelves, {} drawers", plan.drawers),
                "Its shelves and drawers are higher together than the box inside.",
                "shelves and drawers that go into the box",
                "take some out, lower the drawer fronts, or make the boxes higher.",
            );
        }
        if self.drawers_inside && plan.doors == 0 {
            say(
                "drawers_inside = true".into(),
                "Drawers inside run behind doors, and this box has none.",
                "doors before drawers that have no fronts",
                "add doors, or take drawers_inside out: each drawer then has a front.",
            );
        }
        if !plan.inside.drawer_heights.is_empty()
            && plan.inside.drawer_heights.len() != plan.drawers as usize
        {
            say(
                format!("{} heights", plan.inside.drawer_heights.len()),
                "drawer_heights does not name one height for each drawer.",
                "one height for each drawer, lowest first",
                "add or take out heights, or change drawers.",
            );
        }
        for height in &plan.shelf_heights {
            if *height < self.thick * 2 || *height > self.outside.height - self.thick {
                say(
                    "shelf_heights".into(),
                    "A shelf's top stands under the bottom or over the top of the box.",
                    "heights between the bottom and the top, from the bottom edge of the box",
                    "check the heights.",
                );
                break;
            }
        }
        if run.build.pins.pitch * 2 > self.outside.height && plan.loose_shelves > 0 {
            say(
                "pin_pitch".into(),
                "The box is too low for a row of two holes of this pitch.",
                "a smaller pitch, or a higher box",
                "check pin_pitch, such as 32 mm.",
            );
        }
    }
}

/// At which sides of each bay a door is hinged: both where doors stand side by side, the left one under a single door. Doors that go
/// evenly into the bays have their own bays, others close the whole face.
fn hinged(plan: &BoxPlan) -> Vec<[bool; 2]> {
    let bays = plan.inside.partitions as usize + 1;
    let doors = plan.doors as usize;
    if doors.is_multiple_of(bays) {
        return vec![[true, (doors / bays).is_multiple_of(2)]; bays];
    }
    let mut list = vec![[false; 2]; bays];
    list[0][0] = true;
    list[bays - 1][1] = doors.is_multiple_of(2);
    list
}

/// The thickness of a stock row; a problem where there is no row or it has none.
pub(crate) fn thickness(
    job: &Job,
    item: Option<&str>,
    key: &str,
    wrong: &mut Vec<Problem>,
) -> Length {
    let found = item
        .and_then(|i| job.stock_row(i))
        .and_then(crate::model::StockRow::thickness);
    if let Some(thick) = found {
        return thick;
    }
    let (found, why) = match item {
        Some(item) => (
            item,
            "The thickness of this material is not in stock.csv, and every part depends on it.",
        ),
        None => (
            "nothing",
            "The run does not say what its boxes are made of.",
        ),
    };
    let line = problem(
        &format!("[[run]] {key}"),
        found,
        why.to_owned(),
        "an item of stock.csv with a thickness",
        format!(
            "add {key} = ... to the [[run]], or type the thickness under measured in stock.csv."
        ),
    );
    if !wrong.contains(&line) {
        wrong.push(line);
    }
    Length::ZERO
}

pub(crate) fn problem(
    place: &str,
    found: &str,
    why: String,
    expected: &str,
    fix: String,
) -> Problem {
    Problem {
        severity: Severity::Mistake,
        spot: Spot {
            file: "project.toml".into(),
            column: Some(place.to_owned()),
            ..Spot::default()
        },
        found: found.to_owned(),
        why,
        expected: expected.to_owned(),
        fix,
    }
}
