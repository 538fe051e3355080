//! Places of stick-on lights: one under the top of each box or frame in turn, then under its fixed shelves, in the middle
//! behind the front edge, away from where things are stacked.

use crate::model::{Job, LightPlace};

/// As many as she asked for.
pub fn lights(job: &Job, route: &str) -> Vec<LightPlace> {
    let mut boxes: Vec<(String, u32)> = Vec::new();
    for run in job.runs.iter().filter(|r| r.route == route) {
        boxes.extend(run.boxes.iter().map(|b| (b.name.clone(), b.fixed_shelves)));
        boxes.extend(
            job.listed_frames(run)
                .iter()
                .map(|f| (f.unit.clone(), f.shelves_in_box)),
        );
    }
    let deepest = boxes.iter().map(|(_, shelves)| *shelves).max().unwrap_or(0);
    let places = (0..=deepest).flat_map(|level| {
        boxes
            .iter()
            .filter(move |(_, shelves)| level <= *shelves)
            .map(move |(name, _)| LightPlace {
                in_box: name.clone(),
                place: match level {
                    0 => "under the top, behind the front edge, in the middle".into(),
                    n => format!("under fixed shelf {n}, behind the front edge, in the middle"),
                },
            })
    });
    places.take(job.finish.lights as usize).collect()
}
