//! A route that cannot be placed in the opening: what is missing for it. Owns the wording.

use crate::book::block::Block;
use crate::book::pages::context::Context;
use crate::opening::{RouteFit, find_reading, reading_words};
use crate::plan::Fitted;

/// Why there is no drawing, and what would give one.
pub(super) fn what_is_missing(ctx: &Context, fitted: &Fitted, sits: &RouteFit) -> Vec<Block> {
    let lead = if sits.not_known {
        "IT CANNOT BE PLACED YET."
    } else if sits.fits {
        "IT CANNOT BE DRAWN."
    } else {
        "IT DOES NOT FIT."
    };
    let why = sits.why_not.as_deref().unwrap_or_default();
    let mut blocks = vec![Block::strong(format!("{lead} {why}").trim_end(), 3.5)];
    let mends = sits.mends.iter();
    blocks.extend(mends.map(|m| Block::point("Would mend it:", m.clone())));
    let missing = [sizes(fitted), readings(ctx, fitted), frames(ctx, sits)].concat();
    if !missing.is_empty() {
        blocks.push(Block::Heading("What is missing".into()));
        blocks.extend(missing.into_iter().map(|m| Block::point("[ ]", m)));
    }
    blocks.extend(sits.cautions.iter().map(|c| Block::point("!", c.clone())));
    blocks
}

/// What the readings do not give of the largest plumb box.
fn sizes(fitted: &Fitted) -> Vec<String> {
    let largest = &fitted.survey.largest_box;
    let all = [
        ("width", largest.width),
        ("height", largest.height),
        ("depth", largest.depth),
    ];
    let unknown = all.into_iter().filter(|(_, size)| size.is_none());
    unknown
        .map(|(what, _)| format!("The {what} of the opening: the readings do not give it."))
        .collect()
}

/// As they are named on the page of the survey.
fn readings(ctx: &Context, fitted: &Fitted) -> Vec<String> {
    let Some(opening) = &ctx.input.job.opening else {
        return Vec::new();
    };
    let words = |path: &String| {
        find_reading(opening, path)
            .map_or_else(|| path.clone(), |at| reading_words(opening, at, ctx.tape))
    };
    let said = |p: &String| format!("Reading not taken: {}.", words(p));
    fitted.survey.provisional.iter().map(said).collect()
}

/// Frames that are listed without a size.
fn frames(ctx: &Context, sits: &RouteFit) -> Vec<String> {
    let job = ctx.input.job;
    let mut list = Vec::new();
    for run in job
        .runs
        .iter()
        .filter(|r| r.route == sits.route && !r.has_boxes())
    {
        let all = job.listed_frames(run);
        if all.is_empty() {
            list.push("Frames: the run lists none.".to_owned());
        }
        for f in all {
            let sizes = [("width", f.width), ("height", f.height)];
            for (what, _) in sizes.iter().filter(|(_, size)| size.is_none()) {
                let text = format!("The {what} of {} in prefab.csv.", f.unit);
                if !list.contains(&text) {
                    list.push(text);
                }
            }
        }
    }
    list
}
