//! The blanks of scribe strips: hers where her cut list has them, what a plumb or level strip leaves open, and the strips that
//! nothing gives yet.

use crate::model::{Closing, Job, Part, PartSize, Run, StockKind};
use crate::opening::Scribe;
use crate::units::{Length, Tape};

/// Where her cut list has a blank for a strip, that is its blank; says which, and warns where it is too small. `of_row`: of strips of a
/// row on a side wall, the words with which a blank names it.
pub(super) fn own_blanks(
    strips: &mut [Scribe],
    listed: &[&Part],
    of_row: Option<&str>,
    tape: Tape,
) -> Option<String> {
    let mut marks: Vec<&str> = Vec::new();
    let blanks = |head: bool| {
        listed.iter().filter_map(move |p| {
            let what = p.what.to_lowercase();
            // A strip kept plumb or level is called a filler: it is ripped, not scribed.
            let blank = ["scribe", "filler"].iter().any(|w| what.contains(w));
            let this_row = match of_row {
                Some(row) => what.contains(row),
                None => !what.contains("left row") && !what.contains("right row"),
            };
            let fits = blank && this_row && what.contains("head") == head;
            match p.size {
                PartSize::Panel { length, width } if fits => Some((p, width, length)),
                _ => None,
            }
        })
    };
    let wanted = [false, true].map(|head| -> Length {
        let strips = strips.iter().filter(|s| s.is_head() == head);
        strips.map(|s| s.blank[1]).sum()
    });
    for strip in strips {
        let head = strip.is_head();
        let own = blanks(head).next();
        let Some((part, width, length)) = own else {
            continue;
        };
        let widest = strip.widest();
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
        // Several pieces make a strip longer than a sheet. What no tape shows is no reason to list it again.
        let all: Length = blanks(head).map(|b| b.2 * i64::from(b.0.how_many)).sum();
        let joined = length < strip.blank[1] && all >= wanted[usize::from(head)];
        if !joined && length + Length::in_64(2) < strip.blank[1] {
            strip.warnings.push(format!(
                "{} is shorter than the {} strip: list one {} long.",
                part.mark,
                strip.strip,
                tape.print_up(strip.blank[1])
            ));
        }
        strip.blank = [width, if joined { strip.blank[1] } else { length }];
        if !marks.contains(&part.mark.as_str()) {
            marks.push(&part.mark);
        }
    }
    (!marks.is_empty()).then(|| format!("Blanks of strips by the cut list: {}.", marks.join(", ")))
}

/// Warns of a strip that is ripped to less than her saw rips safely; one that is scribed is planed to its line.
pub(super) fn narrow_rips(job: &Job, strips: &mut [Scribe]) {
    let tape = job.project.tape.for_scribing();
    let least = job.saw.narrowest_safe_rip;
    for s in strips.iter_mut().filter(|s| s.back_bevel == 0) {
        // Parallel but for what is cut round.
        let Some(wide) = s.widest() else {
            continue;
        };
        if wide < least {
            s.warnings.push(format!(
                "The {} strip is ripped to {}, under the narrowest safe rip of {}: push stick or a clamped track, or leave a wider gap.",
                s.strip,
                tape.print(wide),
                tape.print(least)
            ));
        }
    }
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
            s.widest().map_or_else(String::new, |w| tape.print(w)),
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
