//! The drawers of a box: where their fronts and boxes stand, how wide they are in each bay, how long they run. Parts, heights on
//! the page and steps are all taken from here.

use super::facts::{DADO, Inside, problem, thickness};
use crate::model::{BoxPlan, DoorLay, Job, Problem, Run};
use crate::units::{Length, Unit};
use serde::Serialize;

/// Room beside a drawer where no slide is named. Common practice, no source: 1/2 in for side-mounted slides.
const SLIDE: Length = Length::in_64(32);
/// A drawer's box begins so far over its front's lower edge, and over what lies below. Common practice, no source.
const OVER: Length = Length::in_64(16);
/// And ends so far under its front's upper edge, and under what lies above. Common practice, no source.
const UNDER: Length = Length::in_64(32);
/// Behind a drawer, to the back. Common practice, no source.
const BEHIND: Length = Length::INCH;

/// One drawer of each bay: heights from the bottom edge of the box.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct DrawerAt {
    /// Lower edge of its front.
    pub front: Length,
    /// Height of its front.
    pub front_high: Length,
    /// Lower edge of its box, where its slide is set from.
    pub low: Length,
    /// Height of its box's sides.
    pub high: Length,
}

/// The drawers of one bay.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct DrawerWide {
    /// Left edge of the fronts, from the left edge of the box.
    pub left: Length,
    /// Width of the fronts.
    pub front: Length,
    /// Width of the drawers' boxes, outside.
    pub wide: Length,
    /// Between the sides of a drawer's box.
    pub between: Length,
}

/// All drawers of a box: every bay has the same.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Drawers {
    /// Lowest first.
    pub each: Vec<DrawerAt>,
    /// From the left.
    pub bays: Vec<DrawerWide>,
    /// Front to back of a drawer's box: as long as its slides.
    pub long: Length,
    /// Room at each side for a slide.
    pub beside: Length,
    /// The slides' row of stock.csv, where one is named.
    pub slide: Option<String>,
    /// What the drawers' boxes are cut from.
    pub item: String,
    /// How thick that is.
    pub thick: Length,
    /// True where they run behind the doors and have no fronts.
    pub inside: bool,
    /// What a slide is packed out by where a door is hinged beside it; nothing where none is.
    pub packing: Length,
    /// At which sides of each bay, from the left.
    pub packed: Vec<[bool; 2]>,
}

impl Drawers {
    /// Boards that pack out slides, all of one size, of the sheet of the box so thick.
    pub fn packers(&self, board: Length) -> usize {
        let sides = self.packed.iter().flatten().filter(|p| **p).count();
        let boards = self.packing.units().checked_div(board.units());
        sides * self.each.len() * usize::try_from(boards.unwrap_or(0)).unwrap_or(0)
    }
    /// How many drawers, and pairs of slides.
    pub fn count(&self) -> usize {
        self.each.len() * self.bays.len()
    }
}

/// Width and height of the face that fronts fill.
pub(super) fn face(run: &Run, inside: &Inside) -> [Length; 2] {
    match run.build.door_lay {
        DoorLay::Overlay => [inside.outside.width, inside.outside.height],
        DoorLay::Inset => [
            inside.width - run.build.door_gap,
            inside.height - run.build.door_gap,
        ],
    }
}

/// The drawers of a box, `None` where it has none, or why they cannot be.
pub fn drawers_of(
    job: &Job,
    run: &Run,
    plan: &BoxPlan,
    inside: &Inside,
) -> Result<Option<Drawers>, Vec<Problem>> {
    if plan.drawers == 0 {
        return Ok(None);
    }
    let mut wrong = Vec::new();
    let named = run.build.slide.as_deref();
    let row = named.and_then(|item| job.stock_row(item));
    if row.is_some_and(|r| r.thickness().is_none()) {
        wrong.push(no_drawers(
            plan,
            "The slide's row in stock.csv does not say how much room it takes at each side.",
            "type that room under thick in the slide's row, such as 1/2.",
        ));
    }
    let beside = row.and_then(|r| r.thickness()).unwrap_or(SLIDE);
    let room = inside.fixed_deep - BEHIND;
    let long = row.and_then(|r| r.length).unwrap_or_else(|| {
        let step = match job.project.tape.unit {
            Unit::Inch => Length::inches(2),
            Unit::Mm => Length::mm(50),
        };
        room - room % step
    });
    let item = run
        .build
        .drawer_item
        .clone()
        .or(run.material.clone())
        .unwrap_or_default();
    let thick = thickness(job, Some(&item), "drawer_item", &mut wrong);
    let bays = wide(job, run, inside, beside, thick);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    if bays.iter().any(|b| !b.between.is_positive())
        || long <= thick * 2
        || long > inside.fixed_deep
    {
        return Err(vec![no_drawers(
            plan,
            "Slides and sides leave no drawer between them, or the slide is longer than the box is deep.",
            "make the box wider or deeper, take partitions out, or name another slide.",
        )]);
    }
    let each = heights(run, inside);
    if each.iter().any(|d| d.high <= DADO * 2) {
        return Err(vec![no_drawers(
            plan,
            "A drawer front is too low for a drawer behind it.",
            "make drawer_heights larger.",
        )]);
    }
    Ok(Some(Drawers {
        each,
        bays,
        long,
        beside,
        slide: named.map(str::to_owned),
        item,
        thick,
        inside: inside.drawers_inside,
        packing: if inside.drawers_inside {
            inside.packing
        } else {
            Length::ZERO
        },
        packed: inside.packed.clone(),
    }))
}

/// Heights of fronts and boxes. An overlay front at the very bottom or top also hides the board behind it: its drawer is lower.
fn heights(run: &Run, inside: &Inside) -> Vec<DrawerAt> {
    let gap = run.build.door_gap;
    if inside.drawers_inside {
        return heights_inside(inside);
    }
    let (mut at, floor) = match run.build.door_lay {
        DoorLay::Overlay => (Length::ZERO, inside.thick),
        DoorLay::Inset => (inside.thick + gap / 2, inside.thick),
    };
    let under = inside.outside.height - inside.thick;
    let on_mark = |l: Length| {
        if inside.mark.is_positive() {
            l - l % inside.mark
        } else {
            l
        }
    };
    let mut list = Vec::new();
    for place in &inside.drawers {
        let front = at + gap / 2;
        let front_high = *place - gap;
        let low = front.max(floor) + OVER;
        let top = (front + front_high).min(under) - UNDER;
        list.push(DrawerAt {
            front,
            front_high,
            low,
            high: on_mark(top - low),
        });
        at += *place;
    }
    list
}

/// Behind doors a drawer's place is the room between what lies below and above; its box is all that is seen of it.
fn heights_inside(inside: &Inside) -> Vec<DrawerAt> {
    let mut at = inside.thick;
    let mut list = Vec::new();
    for place in &inside.drawers {
        let low = at + OVER;
        let high = *place - OVER - UNDER;
        let high = if inside.mark.is_positive() {
            high - high % inside.mark
        } else {
            high
        };
        list.push(DrawerAt {
            front: low,
            front_high: high,
            low,
            high,
        });
        at += *place;
    }
    list
}

/// From where to where the front of each bay has its place: overlay fronts meet over the middle of a partition, inset ones stand
/// half a gap from it, or from the side.
pub(super) fn places(run: &Run, inside: &Inside) -> Vec<[Length; 2]> {
    let gap = run.build.door_gap;
    let last = inside.bays.len().saturating_sub(1);
    let half = inside.thick / 2;
    let mut from = inside.thick;
    let mut list = Vec::new();
    for (i, bay) in inside.bays.iter().enumerate() {
        let to = from + *bay;
        list.push(match run.build.door_lay {
            DoorLay::Inset => [from + gap / 2, to - gap / 2],
            DoorLay::Overlay => {
                let first = if i == 0 { Length::ZERO } else { from - half };
                let end = if i == last {
                    inside.outside.width
                } else {
                    to + inside.thick - half
                };
                [first, end]
            }
        });
        from = to + inside.thick;
    }
    list
}

/// Widths of the places of fronts, bay by bay.
pub(super) fn bay_fronts(run: &Run, inside: &Inside) -> Vec<Length> {
    places(run, inside)
        .into_iter()
        .map(|[a, b]| b - a)
        .collect()
}

/// Widths in each bay.
fn wide(job: &Job, run: &Run, inside: &Inside, beside: Length, thick: Length) -> Vec<DrawerWide> {
    let (gap, unit) = (run.build.door_gap, job.project.tape.unit);
    let mut from = inside.thick;
    let bays = inside.bays.iter().zip(places(run, inside));
    bays.zip(&inside.packed)
        .map(|((bay, [left, right]), packed)| {
            let pack = |at: usize| {
                if packed[at] {
                    inside.packing
                } else {
                    Length::ZERO
                }
            };
            let outside = *bay - beside * 2 - pack(0) - pack(1);
            let own = from + beside + pack(0);
            from += *bay + inside.thick;
            if inside.drawers_inside {
                return DrawerWide {
                    left: own,
                    front: outside,
                    wide: outside,
                    between: outside - thick * 2,
                };
            }
            DrawerWide {
                left: left + gap / 2,
                front: unit.on_grid(right - left - gap),
                wide: outside,
                between: outside - thick * 2,
            }
        })
        .collect()
}

/// Why a box's drawers cannot be.
fn no_drawers(plan: &BoxPlan, why: &str, fix: &str) -> Problem {
    problem(
        &format!("[[run.box]] {}", plan.name),
        &format!("{} drawers", plan.drawers),
        why.to_owned(),
        "drawers that run in the box",
        fix.to_owned(),
    )
}
