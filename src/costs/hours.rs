//! Hours of a route by task: how many times each task is done, and how long one takes.
//!
//! The hours are ours: a judgement for someone who does this at weekends, no source, except where a line names one. Hers, from
//! `[labour.takes]` under the task's key, take their place. `[labour.hours]` overrides the sum of a route.

use crate::model::compare::TaskHours;
use crate::model::{Hours, Job};

/// A task of the table: its key, what it is, hours of one in hundredths, what one is.
struct Task(&'static str, &'static str, i64, &'static str);

/// In the order of the work; a task that is done in two stretches stands where the last of it is done.
const TASKS: &[Task] = &[
    Task("survey", "measuring and checking", 200, "opening"),
    Task("taking_off", "taking off what is there", 50, "thing"),
    Task("patching", "patching the wall", 100, "opening"),
    Task("drawing", "cut list", 50, "route built"),
    Task("fetching", "to the store and back", 150, "trip"),
    Task("loading", "loading and carrying", 6, "sheet or carton"),
    Task("sheets", "breaking down sheets", 30, "sheet"),
    Task("parts", "cutting to size", 5, "part"),
    Task("banding", "banding", 12, "banded edge"),
    Task("pin_holes", "holes for pins", 25, "side"),
    Task("boxes", "putting boxes together", 225, "box"),
    Task("frames", "putting frames together", 115, "frame"),
    Task("base", "base and levelling", 150, "run"),
    Task("setting", "setting and fixing", 80, "box or frame"),
    Task("scribes", "scribing strips", 90, "strip"),
    Task("trim", "mouldings", 80, "10 ft"),
    Task("filling", "filling and sanding", 90, "100 sq ft"),
    // A guess for a route with two or three boxes; common practice, no source.
    Task("holes", "filling holes and caulking", 100, "route"),
    Task("coats", "setting out and cleaning brushes", 50, "coat"),
    Task("painting", "priming and painting", 83, "100 sq ft and coat"),
    Task("doors", "hanging doors", 100, "door"),
    Task("drawers", "drawers", 150, "drawer"),
    Task(
        "fittings",
        "shelves, rails and the like into frames",
        15,
        "piece",
    ),
    Task("lights", "stick-on lights", 20, "light"),
];

/// How often each task is done, by its key; a key that is not in the table counts for nothing.
pub type TaskCounts = Vec<(&'static str, f64)>;

/// Keys of all tasks, in the order of the work.
pub fn task_keys() -> impl Iterator<Item = &'static str> {
    TASKS.iter().map(|t| t.0)
}

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

    /// Painting by length: 0.488 h to prime 100 ft of trim, 0.625 the first coat of enamel, 0.667 the second (S76, p. 479): 0.356 h
    /// for 20 ft. Ours goes by area, face and both edges: 8.33 sq ft, three coats at 0.83 h a hundred, 0.21 h, with setting out
    /// and cleaning counted apart. The two ways lie within a factor of two; at 1.42 h a hundred they agree.
    #[test]
    fn painting_by_length_against_a_cost_book() {
        let book = 20.0 / 100.0 * (0.488 + 0.625 + 0.667);
        assert!((book - 0.356_f64).abs() < 0.0005);
        // Face 3 1/2 and both edges 3/4, as mouldings are reckoned.
        let sq_ft = 20.0 * (3.5 + 2.0 * 0.75) / 12.0;
        let counts: TaskCounts = vec![("painting", 3.0 * sq_ft / 100.0)];
        let mut job = job();
        job.labour.takes.clear();
        let ours = hours(&job, &counts)[0];
        assert!(book / 2.0 <= ours && ours <= 2.0 * book, "{ours} {book}");
        job.labour.takes = vec![("painting".into(), Hours(142))];
        assert!((hours(&job, &counts)[0] - book).abs() < 0.005);
    }
}
