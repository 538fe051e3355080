//! What is there today and gives way: taken off, carried away, the wall made good, before the first box is set.
//!
//! Owns the steps and their words; how long they take is in the table of hours. The order and the care are common practice, no
//! source; lead paint in houses built before 1978: 40 CFR 745.

use crate::model::Job;

/// True where a wall has to be made good: she says so, or something comes off it.
pub(super) fn patches(job: &Job) -> bool {
    let opening = job.opening.as_ref();
    opening.is_some_and(|o| !o.now.patch.is_empty() || !o.comes_off().is_empty())
}

/// What comes off and is not used again.
pub(super) fn taken_away(job: &Job) -> Vec<String> {
    let Some(opening) = &job.opening else {
        return Vec::new();
    };
    let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
    let again = |what: &str| opening.now.reuse.iter().any(|r| same(r, what));
    let off = opening.comes_off().into_iter();
    off.filter(|what| !again(what)).collect()
}

/// The steps before the first box, in order; none where nothing is there today.
pub fn clearing(job: &Job) -> Vec<String> {
    let Some(opening) = &job.opening else {
        return Vec::new();
    };
    let (now, off) = (&opening.now, opening.comes_off());
    let mut steps = Vec::new();
    if !off.is_empty() {
        steps.push(format!(
            "Take off: {}. Score paint and caulk along the edges first, pull nails through from behind, gloves and goggles on. Cut and pry clear of wiring and pipes.",
            off.join(", ")
        ));
        steps.push("In a house built before 1978 old paint may hold lead: test it first, keep it damp, sand nothing dry.".into());
    }
    if !now.stays.is_empty() {
        steps.push(format!("Stays, so cover it up: {}.", now.stays.join(", ")));
    }
    if !now.reuse.is_empty() {
        steps.push(format!(
            "Set aside, to be used again: {}.",
            now.reuse.join(", ")
        ));
    }
    if patches(job) {
        let what = if now.patch.is_empty() {
            "holes and torn paint where things came off"
        } else {
            now.patch.as_str()
        };
        steps.push(format!(
            "Patch the wall: {what}. Fill, let it dry, sand, prime, before anything is set."
        ));
    }
    let away = taken_away(job);
    if !away.is_empty() {
        steps.push(format!(
            "To take away: {}. Ask locally where it goes; a paid collection is a [[need]] row.",
            away.join(", ")
        ));
    }
    if !off.is_empty() {
        steps.push(
            "Read again what stood behind it: depth, gaps and floor may be others there.".into(),
        );
    }
    steps
}
