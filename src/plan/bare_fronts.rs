//! Fronts of boxes that are not banded and that no strip lies over: raw edges in the finished piece, which are said.
//!
//! Side strips lap the sides at the walls. The head strip stands on the tops, so nothing covers tops and bottoms; a seam is covered
//! where a strip over it is listed, named or found in the stock.

use super::trimming::{listed, side_thick};
use crate::model::{Job, Part, Run, WallSide};
use crate::opening::{Face, Side, Survey, row, side_gaps, stands_open};
use crate::trim::seam_strip;

/// What stays raw on a route whose boxes have `face = "banded"`, with the mend; `parts` are its cut list. The words hold no sizes.
pub fn bare_fronts(
    job: &Job,
    route: &str,
    parts: &[&Part],
    survey: Option<&Survey>,
) -> Vec<String> {
    let runs = job.runs.iter().filter(|r| r.route == route);
    runs.filter(|r| r.has_boxes() && r.face == "banded")
        .filter_map(|run| of_run(job, run, parts, survey))
        .collect()
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
    let seam = run.boxes.len() > 1 && !sides.is_empty() && !seam_covered(job, run, parts);
    if seam {
        bare.push("the two sides of every seam, for no strip covers it".into());
    }
    for (end, name) in [
        (Side::Left, run.boxes.first()),
        (Side::Right, run.boxes.last()),
    ] {
        if let Some(b) = name.filter(|b| sides.contains(&b.name.as_str()))
            && open_end(job, run, survey, end)
        {
            bare.push(format!(
                "the end side of {}, for its end stands open",
                b.name
            ));
        }
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

/// A strip over the seams stands in the cut list, is drawn with the run, or is taken by `trim`.
fn seam_covered(job: &Job, run: &Run, parts: &[&Part]) -> bool {
    let named = |p: &&&Part| {
        let what = p.what.to_lowercase();
        p.in_box == "face" && (what.contains("cover") || what.contains("seam"))
    };
    if run.build.cover.is_some() || parts.iter().any(|p| named(&p)) {
        return true;
    }
    let taken = seam_strip(None, side_thick(job, run), &job.stock);
    taken.is_some_and(|row| !listed(job, &run.route).contains(&row.item))
}

fn open_end(job: &Job, run: &Run, survey: Option<&Survey>, end: Side) -> bool {
    let Some(survey) = survey.filter(|_| run.wall == WallSide::Back) else {
        return false;
    };
    row(job, survey, run, &[])
        .is_some_and(|row| stands_open(&side_gaps(&survey.shape, &row, end, Face::Front)))
}
