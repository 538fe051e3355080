//! Fronts of boxes that are not banded and that no strip lies over: raw edges in the finished piece, which are said.
//!
//! Side strips lap the sides at the walls. The head strip stands on the tops, so nothing covers tops and bottoms; a seam is covered
//! where a strip over it is listed, named or found in the stock, unless overlay fronts lie over it.

use super::trim_fronts::seam_fronts;
use super::trimming::{listed, side_thick};
use crate::model::{BoxPlan, Job, Part, Run, SidesAt, WallSide};
use crate::opening::{Face, Side, Survey, row, side_gaps, stands_open};
use crate::trim::seam_strip;

/// What stays raw on a route whose boxes have `face = "banded"`, with the mend, and seams that take no strip; `parts` are its cut
/// list. The words hold no sizes.
pub fn bare_fronts(
    job: &Job,
    route: &str,
    parts: &[&Part],
    survey: Option<&Survey>,
) -> Vec<String> {
    let runs = || (job.runs.iter()).filter(|r| r.route == route && r.has_boxes());
    let banded = runs().filter(|r| r.face == "banded");
    let mut said: Vec<String> = banded
        .filter_map(|run| of_run(job, run, parts, survey))
        .collect();
    said.extend(runs().filter_map(|run| strips_under_fronts(job, run, parts)));
    said
}

fn of_run(job: &Job, run: &Run, parts: &[&Part], survey: Option<&Survey>) -> Option<String> {
    let raw = |what: &str| -> Vec<&str> {
        let boxes = run.boxes.iter().map(|b| b.name.as_str());
        let raw = |name: &&str| {
            parts
                .iter()
                .any(|p| p.in_box == **name && p.what == format!("{name} {what}") && !p.band.front)
        };
        boxes.filter(raw).collect()
    };
    let (tops, sides) = (raw("top and bottom"), raw("side"));
    let mut bare = Vec::new();
    if !tops.is_empty() {
        bare.push(format!(
            "tops and bottoms of {}, for the head strip stands on the tops and nothing lies over them",
            tops.join(", ")
        ));
    }
    let raw_side = |b: &BoxPlan| sides.contains(&b.name.as_str());
    let seam =
        run.open_seams().iter().flatten().any(|b| raw_side(b)) && !seam_covered(job, run, parts);
    if seam {
        let which = if run.seams_under_fronts().is_empty() {
            ""
        } else {
            " that is free of fronts"
        };
        bare.push(format!(
            "the two sides of every seam{which}, for no strip covers it"
        ));
    }
    for [a, b] in run.seams_under_fronts() {
        if raw_side(a) || raw_side(b) {
            bare.push(format!(
                "the two sides at the seam of {} and {}, for fronts lie over it and no strip goes there",
                a.name, b.name
            ));
        }
    }
    // A row on a side wall has no strips at its ends.
    let beside = run.wall != WallSide::Back || job.trim.sides_at == SidesAt::Beside;
    let mut outer: Vec<&str> = Vec::new();
    for (end, name) in [
        (Side::Left, run.boxes.first()),
        (Side::Right, run.boxes.last()),
    ] {
        let Some(b) = name.filter(|b| raw_side(b)) else {
            continue;
        };
        if open_end(job, run, survey, end) {
            bare.push(format!(
                "the end side of {}, for its end stands open",
                b.name
            ));
        } else if beside {
            outer.push(&b.name);
        }
    }
    let why = if run.wall == WallSide::Back {
        "for the strip at the wall stops beside it (sides_at = \"beside\")"
    } else {
        "for no strip is made at the ends of a row on a side wall"
    };
    match outer[..] {
        [a, b] if a == b => bare.push(format!("both outer sides of {a}, {why}")),
        _ => bare.extend(
            outer
                .iter()
                .map(|b| format!("the outer side of {b}, {why}")),
        ),
    }
    if bare.is_empty() {
        return None;
    }
    let or = if seam {
        " A strip over the seam alone: cover = \"...\" in the [[run]], an item of stock.csv as wide as both sides."
    } else {
        ""
    };
    Some(format!(
        "Fronts stay raw: {}. To band them: face = \"all banded\" in the [[run]], then parts --redraw.{or}",
        bare.join("; ")
    ))
}

/// Seams over which she wants a strip and where overlay fronts lie: none is planned there, and what her list has too many is named.
fn strips_under_fronts(job: &Job, run: &Run, parts: &[&Part]) -> Option<String> {
    let under = run.seams_under_fronts();
    let listed: u32 = parts
        .iter()
        .filter(|p| over_seam(p))
        .map(|p| p.how_many)
        .sum();
    let of_route = job.runs.iter().filter(|r| r.route == run.route);
    let open: usize = of_route.map(|r| r.open_seams().len()).sum();
    let found = seam_strip(
        run.build.cover.as_deref(),
        (side_thick(job, run), seam_fronts(job, run)),
        &job.stock,
    );
    if under.is_empty() || (listed == 0 && found.is_none()) {
        return None;
    }
    let seams: Vec<String> = under
        .iter()
        .map(|[a, b]| format!("{} and {}", a.name, b.name))
        .collect();
    let mut said = format!(
        "No strip goes over the seam of {}: the fronts lie over it.",
        seams.join(", of ")
    );
    if listed as usize > open {
        said += &format!(
            " The cut list has {listed} for {}: take the rest out, or set the fronts in (door_lay = \"inset\" in the [[run]]).",
            if open == 1 {
                "1 seam".to_owned()
            } else {
                format!("{open} seams")
            }
        );
    }
    Some(said)
}

fn over_seam(p: &Part) -> bool {
    let what = p.what.to_lowercase();
    p.in_box == "face" && (what.contains("cover") || what.contains("seam"))
}

/// A strip over the seams stands in the cut list, is drawn with the run, or is taken by `trim`.
fn seam_covered(job: &Job, run: &Run, parts: &[&Part]) -> bool {
    if run.build.cover.is_some() || parts.iter().any(|p| over_seam(p)) {
        return true;
    }
    let taken = seam_strip(
        None,
        (side_thick(job, run), seam_fronts(job, run)),
        &job.stock,
    );
    taken.is_some_and(|row| !listed(job, &run.route).contains(&row.item))
}

fn open_end(job: &Job, run: &Run, survey: Option<&Survey>, end: Side) -> bool {
    let Some(survey) = survey.filter(|_| run.wall == WallSide::Back) else {
        return false;
    };
    row(job, survey, run, &[])
        .is_some_and(|row| stands_open(&side_gaps(&survey.shape, &row, end, Face::Front)))
}
