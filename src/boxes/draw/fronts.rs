//! Doors and drawers: fronts with their gaps, drawer boxes with room for the slides.
//!
//! Fronts lie in places that fill the face of the box: an overlay front is a gap smaller than its place, half on each side,
//! so that neighbours stand a gap apart; an inset one stands a gap from the box and from its neighbours.

use super::row::{ALL, Rows, counted};
use crate::boxes::drawers::{drawers_of, face};
use crate::boxes::facts::{DADO, Inside, on_grid, problem};
use crate::model::{BoxPlan, Grain, Run};
use crate::units::{Length, Unit};

/// A bottom is smaller than its grooves by this each way.
const BOTTOM_EASE: Length = Length::in_64(4);

/// How the doors of a box stand: columns and rows.
pub(in crate::boxes) fn door_grid(doors: u32) -> (i64, i64) {
    match doors {
        0 => (0, 0),
        n if n % 2 == 0 => (2, i64::from(n / 2)),
        n => (1, i64::from(n)),
    }
}

/// Hinges of a door so high: 2 up to 40 in, 3 up to 60, 4 up to 80, then 5. Common practice, no source.
pub fn hinges(height: Length) -> u32 {
    [40, 60, 80]
        .iter()
        .filter(|h| height > Length::inches(**h))
        .count() as u32
        + 2
}

/// Size of each door: width, height.
pub(in crate::boxes) fn door_size(
    unit: Unit,
    run: &Run,
    plan: &BoxPlan,
    inside: &Inside,
) -> Option<[Length; 2]> {
    let (columns, rows) = door_grid(plan.doors);
    if columns == 0 {
        return None;
    }
    let [wide, high] = face(run, inside);
    let high = high - inside.drawers.iter().copied().sum::<Length>();
    let gap = run.build.door_gap;
    Some([
        on_grid(unit, wide / columns - gap),
        on_grid(unit, high / rows - gap),
    ])
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
    if let Some([wide, high]) = door_size(rows.unit(), run, plan, inside) {
        if !(wide.is_positive() && high.is_positive()) {
            rows.wrong.push(problem(
                &format!("[[run.box]] {name}"),
                &format!("{} doors", plan.doors),
                "Gaps and drawers leave no room for its doors.".into(),
                "doors that go before the box",
                "take doors or drawers out, or make the gap smaller.".into(),
            ));
        } else if let Some(p) = rows.panel(
            &format!("{name} door"),
            plan.doors as usize,
            [high, wide],
            &item,
        ) {
            p.band = ALL;
            p.note = format!("{} hinges each", hinges(high));
            if plan.doors > 1 {
                p.match_group = Some(format!("{name} doors"));
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
    for (b, (wide, across)) in counted(bays().map(|b| b.front)).into_iter().enumerate() {
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
    let groove = DADO * 2 - BOTTOM_EASE;
    for (b, (between, across)) in betweens.iter().enumerate() {
        let what = format!("{name} drawer bottom{}", which(0, b));
        let size = [long - drawers.thick * 2 + groove, *between + groove];
        if let Some(p) = rows.panel(&what, drawers.each.len() * across, size, &bottom_item) {
            p.grain = Grain::Any;
        }
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
