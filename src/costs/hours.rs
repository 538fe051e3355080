//! Hours of a route by task: how many times each task is done, and how long one takes.
//!
//! The hours are ours: a judgement for someone who does this at weekends, no source, except where a line names one. Hers, from
//! `[labour.takes]` under the task's key, take their place. `[labour.hours]` overrides the sum of a route.

use crate::model::compare::TaskHours;
use crate::model::{Hours, Job};

/// A task of the table: its key, what it is, hours of one in hundredths, what one is.
struct Task(&'static str, &'static str, i64, &'static str);

/// In the order of the work.
const TASKS: &[Task] = &[
    Task("survey", "measuring and checking", 200, "opening"),
    Task("drawing", "cut list", 50, "route built"),
    Task("fetching", "to the store and back", 150, "trip"),
    Task("loading", "loading and carrying", 6, "sheet or carton"),
    Task("sheets", "breaking down sheets", 30, "sheet"),
    Task("parts", "cutting to size", 5, "part"),
    Task("banding", "banding", 12, "banded edge"),
    Task("pin_holes", "holes for pins", 25, "side"),
    Task("boxes", "putting boxes together", 225, "box"),
    Task("doors", "hanging doors", 100, "door"),
    Task("drawers", "drawers", 150, "drawer"),
    Task("frames", "putting frames together", 115, "frame"),
    Task(
        "fittings",
        "shelves, rails and the like into frames",
        15,
        "piece",
    ),
    Task("base", "base and levelling", 150, "run"),
    Task("setting", "setting and fixing", 80, "box or frame"),
    Task("scribes", "scribing strips", 90, "strip"),
    Task("trim", "mouldings", 80, "10 ft"),
    Task("filling", "filling and sanding", 90, "100 sq ft"),
    Task("coats", "setting out and cleaning brushes", 50, "coat"),
    Task("painting", "priming and painting", 83, "100 sq ft and coat"),
    Task("lights", "stick-on lights", 20, "light"),
];

/// How often each task is done, by its key; a key that is not in the table counts for nothing.
pub type TaskCounts = Vec<(&'static str, f64)>;

/// Hours by task, in the order of the work; what is not done is left out.
pub fn task_hours(job: &Job, counts: &TaskCounts) -> Vec<TaskHours> {
    let line = |Task(key, what, ours, one): &Task| {
        let count: f64 = counts.iter().filter(|c| c.0 == *key).map(|c| c.1).sum();
        let hers = job.labour.takes.iter().find(|(k, _)| k == key);
        let each = hers.map_or(*ours, |(_, h)| h.0);
        let all = (count * each as f64).round() as i64;
        (all > 0).then(|| TaskHours {
            task: (*key).into(),
            what: (*what).into(),
            count: (count * 100.0).round() / 100.0,
            one: (*one).into(),
            each: each as f64 / 100.0,
            hours: all as f64 / 100.0,
            yours: hers.is_some(),
        })
    };
    TASKS.iter().filter_map(line).collect()
}

/// Their sum.
pub(crate) fn sum_of(tasks: &[TaskHours]) -> Option<Hours> {
    let sum = tasks.iter().map(|t| (t.hours * 100.0).round() as i64).sum();
    (!tasks.is_empty()).then_some(Hours(sum))
}

/// Keys under `[labour.takes]` that name no task.
pub(crate) fn unknown_takes(job: &Job) -> Vec<&str> {
    let known = |key: &str| TASKS.iter().any(|t| t.0 == key);
    let keys = job.labour.takes.iter().map(|(k, _)| k.as_str());
    keys.filter(|k| !known(k)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costs::tests::job;

    fn hours(job: &Job, counts: &TaskCounts) -> Vec<f64> {
        task_hours(job, counts).iter().map(|t| t.hours).collect()
    }

    /// A cost book for the trade has 0.060 h a foot of crown 2 1/4 to 3 1/2 and 0.66 h for each end scribed to a wall (S86):
    /// 1.20 h for 20 ft, 1.32 h for two ends. Someone at weekends takes longer, up to twice as long (common practice, no
    /// source); her own figures take the place of ours.
    #[test]
    fn crown_and_scribes_against_a_cost_book() {
        let counts: TaskCounts = vec![("scribes", 2.0), ("trim", 20.0 / 10.0)];
        let book = [1.32, 1.20];
        let mut job = job();
        job.labour.takes.clear();
        for (ours, trade) in hours(&job, &counts).iter().zip(book) {
            assert!(trade <= *ours && *ours <= 2.0 * trade, "{ours} {trade}");
        }
        job.labour.takes = vec![("trim".into(), Hours(60)), ("scribes".into(), Hours(66))];
        assert_eq!(hours(&job, &counts), book);
    }
}
