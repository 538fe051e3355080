//! The blanks of scribe strips: hers where her cut list has them, what a plumb or level strip leaves open, and the strips that
//! nothing gives yet.

use crate::model::{Closing, Job, Part, PartSize, Run, StockKind};
use crate::opening::Scribe;
use crate::units::Length;

/// Where her cut list has a blank for a strip, that is its blank; says which, and warns where it is too small.
pub(super) fn own_blanks(strips: &mut [Scribe], listed: &[&Part]) -> Option<String> {
    let mut marks: Vec<&str> = Vec::new();
    for strip in strips {
        let head = strip.strip == "head";
        let own = listed.iter().find_map(|p| {
            let what = p.what.to_lowercase();
            let fits = what.contains("scribe") && what.contains("head") == head;
            match p.size {
                PartSize::Panel { length, width } if fits => Some((p, width, length)),
                _ => None,
            }
        });
        let Some((part, width, length)) = own else {
            continue;
        };
        let widest = strip.ordinates.iter().map(|o| o.width).max();
        // As much as the pages say to leave outside the line.
        let rough = Length::in_64(8);
        if widest.is_some_and(|w| w <= width && w + rough > width) {
            strip.warnings.push(format!(
                "{} leaves no wood for the rough cut of the {} strip at its widest: list it an eighth of an inch (3 mm) wider.",
                part.mark, strip.strip
            ));
        }
        if widest.is_some_and(|w| w > width) {
            strip.warnings.push(format!(
                "{} is narrower than the {} strip at its widest: list a wider one.",
                part.mark, strip.strip
            ));
        }
        if length < strip.blank[1] {
            strip.warnings.push(format!(
                "{} is shorter than the {} strip: list a longer one.",
                part.mark, strip.strip
            ));
        }
        strip.blank = [width, length];
        if !marks.contains(&part.mark.as_str()) {
            marks.push(&part.mark);
        }
    }
    (!marks.is_empty()).then(|| format!("Scribe blanks by the cut list: {}.", marks.join(", ")))
}

/// What plumb and level strips leave open.
pub(super) fn left_open(job: &Job, strips: &[Scribe]) -> Vec<String> {
    let open = strips.iter().filter(|s| s.leaves.is_positive());
    let tape = job.project.tape.for_scribing();
    let said = open.map(|s| {
        format!(
            "The {} strip is kept {} ([trim]): rip it parallel, {} wide. It leaves up to {} open, for a moulding to cover.",
            s.strip,
            s.follows,
            s.ordinates.first().map_or_else(String::new, |o| tape.print(o.width)),
            tape.print(s.leaves)
        )
    });
    said.collect()
}

/// Strips that are in no cut list; those of frames are cut from the run's sheet, where it names one.
pub(super) fn closings(job: &Job, run: &Run, listed: &[&Part], strips: &[Scribe]) -> Vec<Closing> {
    let panel = |p: &&&Part| matches!(p.size, PartSize::Panel { .. }) && p.in_box == "face";
    let sheet = || {
        let row = job.stock_row(run.material.as_deref()?)?;
        (row.kind == StockKind::Sheet).then_some(())
    };
    if listed.iter().any(|p| panel(&p)) || !run.has_boxes() && sheet().is_some() {
        return Vec::new();
    }
    let closing = |s: &Scribe| Closing {
        name: s.strip.clone(),
        width: s.blank[0],
        length: s.blank[1],
    };
    strips.iter().map(closing).collect()
}
