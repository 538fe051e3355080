//! A cut list that is not what the runs draw: said wherever it is planned on, for the pages of the boxes are drawn from the runs.

use super::rooms::rooms;
use crate::boxes::{Difference, Fate, compare, drawn};
use crate::model::{Job, Part};

/// Most rows that are named.
const NAMED: usize = 6;

/// The caution, where rows that are not her own differ from what the runs draw, or are missing; nothing where no run draws boxes.
pub fn out_of_step(job: &Job) -> Option<String> {
    let fresh = drawn(job, &rooms(job)).ok().filter(|f| !f.is_empty())?;
    // A list that holds nothing of the runs has not been drawn yet, or is hers from end to end.
    if !job.parts.iter().any(|p| !p.by_hand) {
        return None;
    }
    let hers = |p: &Part| p.by_hand || p.keep;
    let differs = |d: &&Difference| d.fate != Fate::Same && !d.before.as_ref().is_some_and(hers);
    let changes = compare(&job.parts, &fresh, None, job.parts_route());
    let differ: Vec<String> = changes
        .iter()
        .filter(differs)
        .map(|d| match (&d.before, &d.after) {
            (Some(row), _) => format!("{} {}", row.mark, row.what),
            (None, Some(row)) => format!("{} is missing", row.what),
            (None, None) => String::new(),
        })
        .collect();
    if differ.is_empty() {
        return None;
    }
    let more = match differ.len().saturating_sub(NAMED) {
        0 => String::new(),
        n => format!(" and {n} more"),
    };
    Some(format!(
        "parts.csv is not what the runs draw: {}{more}. `nookwright parts` shows how; `parts --redraw` draws them anew, and a row with keep = yes stays yours.",
        differ[..differ.len().min(NAMED)].join(", ")
    ))
}
