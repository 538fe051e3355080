//! Doors and drawers: fronts with their gaps, drawer boxes with room for the slides.
//!
//! Fronts lie in places that fill the face of the box: an overlay front is a gap smaller than its place, half on each side,
//! so that neighbours stand a gap apart; an inset one stands a gap from the box and from its neighbours.

use super::row::{ALL, Rows, counted};
use crate::boxes::drawers::{bay_fronts, drawers_of, face};
use crate::boxes::facts::{DADO, Inside, problem};
use crate::model::{BoxPlan, Grain, Job, Run, StockRow, hinges, weigh};
use crate::units::{Length, Unit};

/// A bottom is smaller than its grooves by this each way.
const BOTTOM_EASE: Length = Length::in_64(4);

/// Doors of one size.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(in crate::boxes) struct DoorPlace {
    /// Width and height.
    pub(in crate::boxes) size: [Length; 2],
    /// Side by side, in all the bays of this width.
    pub(in crate::boxes) columns: usize,
    /// One over the other.
    pub(in crate::boxes) rows: usize,
    /// For each.
    pub(in crate::boxes) hinges: u32,
}

/// Two side by side where their number is even, else one.
fn grid(doors: usize) -> [usize; 2] {
    if doors.is_multiple_of(2) {
        [2, doors / 2]
    } else {
        [1, doors]
    }
}

/// Between doors: what she says, or what the hinges need where that is more.
pub fn door_gap(job: &Job, run: &Run) -> Length {
    let hinge = run.build.hinge.as_deref().and_then(|h| job.stock_row(h));
    let needs = hinge.and_then(StockRow::thickness).unwrap_or_default();
    run.build.door_gap.max(needs)
}

/// The doors of a box, by size. Where they go evenly into the bays each bay has its own, which meet over the middle of a
/// partition or stand between two; else they close the whole face.
pub(in crate::boxes) fn doors_of(
    job: &Job,
    run: &Run,
    plan: &BoxPlan,
    inside: &Inside,
) -> Vec<DoorPlace> {
    let doors = plan.doors as usize;
    if doors == 0 {
        return Vec::new();
    }
    let (gap, unit) = (door_gap(job, run), job.project.tape.unit);
    let drawers: Length = inside.drawers.iter().copied().sum();
    // Before drawers inside, doors close the whole face.
    let under = if inside.drawers_inside {
        Length::ZERO
    } else {
        drawers
    };
    let high = face(run, inside)[1] - under;
    let bays = inside.bays.len();
    let (widths, [across, rows]) = if doors.is_multiple_of(bays) {
        (bay_fronts(run, inside), grid(doors / bays))
    } else {
        (vec![face(run, inside)[0]], grid(doors))
    };
    let item = run.build.door_item.as_deref().or(run.material.as_deref());
    let row = item.and_then(|i| job.stock_row(i));
    let place = |(wide, n): (Length, usize)| {
        let size = [
            unit.on_grid(wide / across as i64 - gap),
            unit.on_grid(high / rows as i64 - gap),
        ];
        DoorPlace {
            size,
            columns: n * across,
            rows,
            hinges: hinges(size[1], weigh(row, size).grams),
        }
    };
    counted(widths).into_iter().map(place).collect()
}

/// Draws the doors and drawers of a box.
pub(super) fn fronts(rows: &mut Rows<'_>, run: &Run, plan: &BoxPlan, inside: &Inside) {
    let item = run
        .build
        .door_item
        .clone()
        .or(run.material.clone())
        .unwrap_or_default();
    let name = &plan.name;
    let places = doors_of(rows.job, run, plan, inside);
    let fits = |d: &DoorPlace| d.size.iter().all(|l| l.is_positive());
    if !places.iter().all(fits) {
        rows.wrong.push(problem(
            &format!("[[run.box]] {name}"),
            &format!("{} doors", plan.doors),
            "Gaps and drawers leave no room for its doors.".into(),
            "doors that go before the box",
            "take doors or drawers out, or make the gap smaller.".into(),
        ));
    } else {
        for (i, d) in places.iter().enumerate() {
            let what = format!("{name} door{}", which(0, i));
            let [wide, high] = d.size;
            if let Some(p) = rows.panel(&what, d.columns * d.rows, [high, wide], &item) {
                p.band = ALL;
                p.note = format!("{} hinges each", d.hinges);
                if plan.doors > 1 {
                    p.match_group = Some(format!("{name} doors"));
                }
            }
        }
    }
    if plan.drawers > 0 {
        draw_drawers(rows, run, plan, inside, &item);
    }
}

fn draw_drawers(rows: &mut Rows<'_>, run: &Run, plan: &BoxPlan, inside: &Inside, front_item: &str) {
    let drawers = match drawers_of(rows.job, run, plan, inside) {
        Ok(Some(drawers)) => drawers,
        Ok(None) => return,
        Err(wrong) => {
            rows.wrong.extend(wrong);
            return;
        }
    };
    let name = &plan.name;
    let (item, long) = (&drawers.item, drawers.long);
    let bottom_item = run.back.clone().unwrap_or_else(|| item.clone());
    let matched = (drawers.each.len() > 1).then(|| format!("{name} drawer fronts"));
    let bays = || drawers.bays.iter();
    let heights = || drawers.each.iter();
    let with_fronts = bays().filter(|_| !drawers.inside);
    for (b, (wide, across)) in counted(with_fronts.map(|b| b.front))
        .into_iter()
        .enumerate()
    {
        for (h, (high, n)) in counted(heights().map(|d| d.front_high))
            .into_iter()
            .enumerate()
        {
            let what = format!("{name} drawer front{}", which(h, b));
            if let Some(p) = rows.panel(&what, n * across, [wide, high], front_item) {
                p.band = ALL;
                p.match_group = matched.as_ref().map(|m| format!("{m}{}", which(0, b)));
            }
        }
    }
    let highs = counted(heights().map(|d| d.high));
    let betweens = counted(bays().map(|b| b.between));
    for (h, (high, n)) in highs.iter().enumerate() {
        let what = format!("{name} drawer side{}", which(h, 0));
        rows.panel(&what, 2 * n * drawers.bays.len(), [long, *high], item);
        for (b, (between, across)) in betweens.iter().enumerate() {
            let what = format!("{name} drawer box front and back{}", which(h, b));
            rows.panel(&what, 2 * n * across, [*between, *high], item);
        }
    }
    let carcase = run.material.clone().unwrap_or_default();
    let packer = [long, packer_wide(rows.unit())];
    if let Some(p) = rows.panel(
        &format!("{name} drawer packer"),
        drawers.packers(inside.thick),
        packer,
        &carcase,
    ) {
        p.note = "behind the slides at the hinge sides".into();
    }
    let groove = DADO * 2 - BOTTOM_EASE;
    for (b, (between, across)) in betweens.iter().enumerate() {
        let what = format!("{name} drawer bottom{}", which(0, b));
        let size = [long - drawers.thick * 2 + groove, *between + groove];
        if let Some(p) = rows.panel(&what, drawers.each.len() * across, size, &bottom_item) {
            p.grain = Grain::Any;
        }
    }
}

/// What a slide is screwed to. Common practice, no source.
pub(in crate::boxes) fn packer_wide(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::inches(2),
        Unit::Mm => Length::mm(50),
    }
}

/// Tells rows of drawers apart: by height, and by width where bays are not alike.
fn which(height: usize, bay: usize) -> String {
    let height = match height {
        0 => String::new(),
        h => format!(", height {}", h + 1),
    };
    match bay {
        0 => height,
        b => format!("{height}, width {}", b + 1),
    }
}
