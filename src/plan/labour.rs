//! How often each task of a route is done: counted from its plan, its parts, its runs and what is painted.

use super::clearing::patches;
use crate::costs::TaskCounts;
use crate::model::{Band, Job, PartSize, Plan, Surface};

/// What other plans of the route count.
pub(super) struct Counted<'a> {
    pub(super) areas: &'a [Surface],
    /// Filling and painting.
    pub(super) finish: TaskCounts,
    /// Sheets that the plan does not hold.
    pub(super) more_sheets: i64,
    /// Strips that are scribed; none where the opening is not known.
    pub(super) strips: usize,
    /// Of the mouldings that are painted, what is scribed as a strip.
    pub(super) strip_feet: f64,
    pub(super) trips: usize,
}

/// For the table of hours.
pub(super) fn task_counts(
    job: &Job,
    route: &str,
    plan: &Plan,
    counted: &Counted<'_>,
) -> TaskCounts {
    let &Counted {
        areas, more_sheets, ..
    } = counted;
    let runs = || job.runs.iter().filter(|r| r.route == route);
    let boxes = || runs().flat_map(|r| &r.boxes);
    let frames: usize = runs().map(|r| job.listed_frames(r).len()).sum();
    let fittings: u32 = runs()
        .filter(|r| !r.has_boxes())
        .flat_map(|r| &r.extras)
        .map(|e| e.1)
        .sum();
    let planned: f64 = plan.sheets.iter().map(|s| f64::from(s.count)).sum();
    let sheets = planned + more_sheets as f64;
    let (mut parts, mut edges, mut strips) = (0.0, 0.0, 0.0);
    for part in job.route_parts(route) {
        let n = f64::from(part.count());
        if let PartSize::Panel { .. } = part.size {
            let Band {
                front,
                back,
                left,
                right,
            } = part.band;
            parts += n;
            edges += n * [front, back, left, right].iter().filter(|b| **b).count() as f64;
        }
    }
    let mut feet = 0.0;
    for area in areas {
        // What is along a wall: strips one by one, mouldings by their length.
        match area.what.as_str() {
            "strips and fillers" => strips += area.pieces,
            "mouldings" => feet += area.run_ft,
            _ => {}
        }
    }
    if counted.strips > 0 {
        strips = counted.strips as f64;
        feet = (feet - counted.strip_feet).max(0.0);
    }
    let loose = boxes().filter(|b| b.loose_shelves > 0).count() as f64;
    let bases = runs()
        .filter(|r| job.base_under(r, &job.listed_frames(r)).is_positive())
        .count() as f64;
    let stand = (boxes().count() + frames) as f64;
    let comes_off = job.opening.as_ref().map_or(0, |o| o.comes_off().len());
    let mut all = vec![
        ("survey", 1.0),
        ("taking_off", comes_off as f64),
        ("patching", if patches(job) { 1.0 } else { 0.0 }),
        ("drawing", if boxes().next().is_some() { 1.0 } else { 0.0 }),
        ("fetching", counted.trips as f64),
        ("loading", sheets + frames as f64),
        ("sheets", sheets),
        ("parts", parts),
        ("banding", edges),
        ("pin_holes", 2.0 * loose),
        ("boxes", boxes().count() as f64),
        ("doors", boxes().map(|b| f64::from(b.doors)).sum()),
        ("drawers", boxes().map(|b| f64::from(b.all_drawers())).sum()),
        ("frames", frames as f64),
        ("fittings", f64::from(fittings)),
        ("base", bases),
        ("setting", stand),
        ("scribes", strips),
        ("trim", feet / 10.0),
        ("lights", f64::from(job.finish.lights)),
    ];
    all.extend(counted.finish.iter().copied());
    all
}
