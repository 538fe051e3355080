//! Doors and drawers: fronts with their gaps, drawer boxes with room for the slides.
//!
//! Fronts lie in places that fill the face of the box: an overlay front is a gap smaller than its place, half on each side,
//! so that neighbours stand a gap apart; an inset one stands a gap from the box and from its neighbours.

use super::row::{ALL, Rows, counted};
use crate::boxes::facts::{DADO, Inside, on_grid, problem, thickness};
use crate::model::{BoxPlan, DoorLay, Grain, Problem, Run};
use crate::units::{Length, Unit};

/// Room beside a drawer where no slide is named. Common practice, no source: 1/2 in for side-mounted slides.
const SLIDE: Length = Length::in_64(32);
/// A drawer's sides are lower than its front by this: 1/4 in below, 1/2 in above. Common practice, no source.
const LOWER: Length = Length::in_64(48);
/// Behind a drawer, to the back. Common practice, no source.
const BEHIND: Length = Length::INCH;
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

/// Width and height of the face that fronts fill.
fn face(run: &Run, inside: &Inside) -> [Length; 2] {
    match run.build.door_lay {
        DoorLay::Overlay => [inside.outside.width, inside.outside.height],
        DoorLay::Inset => [
            inside.width - run.build.door_gap,
            inside.height - run.build.door_gap,
        ],
    }
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
        drawers(rows, run, plan, inside, &item);
    }
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

fn drawers(rows: &mut Rows<'_>, run: &Run, plan: &BoxPlan, inside: &Inside, front_item: &str) {
    let name = &plan.name;
    if plan.inside.partitions > 0 {
        rows.wrong.push(no_drawers(
            plan,
            "Drawers run from side to side, and partitions stand in their way.",
            "make it two boxes.",
        ));
        return;
    }
    let slide = run
        .build
        .slide
        .as_deref()
        .and_then(|s| rows_slide(rows.job, s));
    let beside = match (&run.build.slide, slide) {
        (Some(_), Some((_, None))) => {
            rows.wrong.push(no_drawers(
                plan,
                "The slide's row in stock.csv does not say how much room it takes at each side.",
                "type that room under thick in the slide's row, such as 1/2.",
            ));
            return;
        }
        (_, Some((_, Some(thick)))) => thick,
        _ => SLIDE,
    };
    let room = inside.fixed_deep - BEHIND;
    let long = slide.and_then(|s| s.0).unwrap_or_else(|| {
        let step = match rows.unit() {
            Unit::Inch => Length::inches(2),
            Unit::Mm => Length::mm(50),
        };
        room - room % step
    });
    let wide = inside.width - beside * 2;
    let mut wrong = Vec::new();
    let side_item = run
        .build
        .drawer_item
        .clone()
        .or(run.material.clone())
        .unwrap_or_default();
    let thick = thickness(rows.job, Some(&side_item), "drawer_item", &mut wrong);
    rows.wrong.extend(wrong);
    let between = wide - thick * 2;
    let lowest =
        inside.drawers.iter().copied().min().unwrap_or_default() - run.build.door_gap - LOWER;
    if !between.is_positive() || long <= thick * 2 || long > inside.fixed_deep {
        rows.wrong.push(no_drawers(plan,
            "Slides and sides leave no drawer between them, or the slide is longer than the box is deep.",
            "make the box wider or deeper, or name another slide.",
));
        return;
    }
    if lowest <= DADO * 2 {
        rows.wrong.push(no_drawers(
            plan,
            "A drawer front is too low for a drawer behind it.",
            "make drawer_heights larger.",
        ));
        return;
    }
    let gap = run.build.door_gap;
    let front = on_grid(rows.unit(), face(run, inside)[0] - gap);
    let bottom_item = run.back.clone().unwrap_or_else(|| side_item.clone());
    let match_fronts = (inside.drawers.len() > 1).then(|| format!("{name} drawer fronts"));
    for (i, (place, n)) in counted(inside.drawers.iter().copied())
        .into_iter()
        .enumerate()
    {
        let which = if i == 0 {
            String::new()
        } else {
            format!(", height {}", i + 1)
        };
        let high = on_grid(rows.unit(), place - gap - LOWER);
        if let Some(p) = rows.panel(
            &format!("{name} drawer front{which}"),
            n,
            [front, place - gap],
            front_item,
        ) {
            p.band = ALL;
            p.match_group.clone_from(&match_fronts);
        }
        rows.panel(
            &format!("{name} drawer side{which}"),
            2 * n,
            [long, high],
            &side_item,
        );
        rows.panel(
            &format!("{name} drawer front and back of the box{which}"),
            2 * n,
            [between, high],
            &side_item,
        );
    }
    let groove = DADO * 2 - BOTTOM_EASE;
    let bottom = [long - thick * 2 + groove, between + groove];
    let n = inside.drawers.len();
    if let Some(p) = rows.panel(&format!("{name} drawer bottom"), n, bottom, &bottom_item) {
        p.grain = Grain::Any;
    }
}

/// Length of a slide and the room it takes at each side.
fn rows_slide(job: &crate::model::Job, item: &str) -> Option<(Option<Length>, Option<Length>)> {
    job.stock_row(item).map(|row| (row.length, row.thickness()))
}
