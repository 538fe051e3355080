//! The work of filling and painting, step by step, in amounts of the table of hours, and where it stands among the rest of the
//! route's work. Owns the order; hours are the table's, so that steps and routes are reckoned alike.

use super::finishing::Rules;
use crate::costs::{TaskCounts, TaskTime, task_hours};
use crate::model::compare::TaskHours;
use crate::model::{FinishStep, Ground, Hours, Job, PaintedAt, Surface};

/// One step.
pub(super) struct Work {
    what: String,
    at: PaintedAt,
    /// Filled and sanded, in square feet.
    filling: f64,
    /// 1 where holes are filled and joints caulked.
    holes: f64,
    /// Painted, in square feet.
    painting: f64,
    /// What is painted with, as the coats are named.
    with: &'static [&'static str],
    dry_hours: u32,
}

impl Work {
    /// What goods for it are looked up by.
    fn keys(&self) -> Vec<&'static str> {
        let some = |n: f64, key: &'static str| (n > 0.0).then_some(key);
        let own = [some(self.filling, "filling"), some(self.holes, "holes")];
        let coats = self.with.iter().copied().filter(|_| self.painting > 0.0);
        own.into_iter().flatten().chain(coats).collect()
    }
    fn counts(&self) -> TaskCounts {
        let coats = if self.painting > 0.0 { 1.0 } else { 0.0 };
        vec![
            ("filling", self.filling / 100.0),
            ("holes", self.holes),
            ("coats", coats),
            ("painting", self.painting / 100.0),
        ]
    }
    fn hundredths(&self, job: &Job) -> i64 {
        sum(task_hours(job, &self.counts()).iter())
    }
    /// For its day.
    pub(super) fn time(&self, job: &Job) -> TaskTime {
        TaskTime {
            hours: Hours(self.hundredths(job)),
            lead_days: 0,
            dry_hours: self.dry_hours,
        }
    }
    /// As it is shown, without a day.
    pub(super) fn step(&self, job: &Job) -> FinishStep {
        FinishStep {
            what: self.what.clone(),
            at: self.at,
            hours: self.hundredths(job) as f64 / 100.0,
            dry_hours: self.dry_hours,
            from: None,
            to: None,
        }
    }
}

fn sum<'a>(tasks: impl Iterator<Item = &'a TaskHours>) -> i64 {
    tasks.map(|t| (t.hours * 100.0).round() as i64).sum()
}

/// All steps together, for the table of hours.
pub(super) fn counts(work: &[Work]) -> TaskCounts {
    work.iter().flat_map(Work::counts).collect()
}

/// The steps in order; those with nothing to do are left out.
pub(super) fn work(job: &Job, rules: &Rules) -> Vec<Work> {
    let finish = &job.finish;
    let area = |pick: &dyn Fn(&Surface) -> bool| -> f64 {
        let picked = rules.areas.iter().filter(|a| pick(a));
        picked.map(|a| a.sq_ft).sum()
    };
    let wall = |a: &Surface| a.ground == Ground::Wall;
    let all = area(&|a| !wall(a));
    let flat = area(&|a| a.ground == Ground::Raw && a.at != PaintedAt::InPlace);
    let factory = area(&|a| a.ground == Ground::Factory);
    let prime_later =
        area(&|a| a.at == PaintedAt::InPlace && matches!(a.ground, Ground::Raw | Ground::Factory))
            + area(&|a| a.at != PaintedAt::InPlace && a.ground == Ground::Factory);
    let painted = finish.look == "painted";
    let (bench, place) = (PaintedAt::Bench, PaintedAt::InPlace);
    let mut steps: Vec<Work> = Vec::new();
    let mut step = |what: String, at, with, [filling, holes, painting]: [f64; 3]| {
        if filling + holes + painting > 0.0 {
            let coat = painting > 0.0;
            steps.push(Work {
                what,
                at,
                filling,
                holes,
                painting,
                with,
                dry_hours: if coat { finish.hours_between_coats } else { 0 },
            });
        }
    };
    for n in 1..=finish.top_coats {
        let what = format!("walls and ceiling before anything is set, coat {n}");
        step(what, place, &["wall paint"], [0.0, 0.0, area(&wall)]);
    }
    let what = "sand the boards flat; keep glue faces bare";
    step(what.into(), bench, &[], [flat, 0.0, 0.0]);
    if painted {
        for n in 1..=finish.primer_coats {
            let what = format!("prime boards, shelves and doors flat, coat {n}");
            step(what, bench, &["primer"], [0.0, 0.0, flat]);
        }
    }
    let what = "fill holes, sand, caulk, once everything is fixed and trimmed";
    let holes = if all > 0.0 { 1.0 } else { 0.0 };
    step(what.into(), place, &[], [all - flat, holes, 0.0]);
    if painted && (finish.primer_coats > 0 || factory > 0.0) {
        let what = if factory > 0.0 {
            "scuff factory gloss dull, wipe, bonding primer on it; prime bare strips"
        } else {
            "prime bare strips and filled holes"
        };
        let with = &["primer", "bonding primer"];
        step(what.into(), place, with, [0.0, 0.0, prime_later]);
    }
    for n in 1..=finish.top_coats {
        let sand = if n > 1 && finish.sand_between {
            "sand lightly, then "
        } else {
            ""
        };
        let what = format!(
            "{sand}coat {n}: boxes and trim in place; loose shelves, doors and rails apart, clips off"
        );
        let with = &["paint", "oil", "clear finish"];
        step(what, place, with, [0.0, 0.0, all]);
    }
    steps
}

/// What a task is, for the goods that it needs.
pub(super) struct Stage {
    /// In words.
    pub(super) what: String,
    /// Its key in the table of hours, or what is painted with.
    pub(super) keys: Vec<String>,
}

/// A route's work in order, and which of it are the steps of [`work`].
#[derive(Default)]
pub(super) struct Schedule {
    pub(super) times: Vec<TaskTime>,
    /// One for each of the times.
    pub(super) stages: Vec<Stage>,
    pub(super) painted: Vec<usize>,
}

impl Schedule {
    fn put(&mut self, hours: Hours, what: &str, key: &str) {
        self.times.push(TaskTime {
            hours,
            ..TaskTime::default()
        });
        self.stages.push(Stage {
            what: what.to_owned(),
            keys: vec![key.to_owned()],
        });
    }
    fn paint(&mut self, step: &Work, time: TaskTime) {
        self.painted.push(self.times.len());
        self.times.push(time);
        self.stages.push(Stage {
            what: step.what.clone(),
            keys: step.keys().into_iter().map(str::to_owned).collect(),
        });
    }
}

/// Tasks before any board is sanded.
const FIRST: [&str; 10] = [
    "survey",
    "taking_off",
    "patching",
    "drawing",
    "fetching",
    "loading",
    "sheets",
    "parts",
    "banding",
    "pin_holes",
];
/// Tasks whose hours are those of the steps of [`work`].
#[cfg(test)]
const PAINT: [&str; 4] = ["filling", "holes", "coats", "painting"];

/// A part of a task that is done at another time than the rest: the task, the share of its hours in hundredths, what it is then, and
/// the key that goods for it are looked up by. How the hours divide is a guess; common practice, no source.
struct Share(&'static str, i64, &'static str, &'static str);

/// Once the boards are primed flat: doors and drawers are fitted before the boxes are set, and taken out again. A door is tried on its
/// hinges before slides are screwed for good behind it.
const AT_THE_BENCH: &[Share] = &[
    Share("boxes", 100, "putting boxes together", "boxes"),
    Share("doors", 50, "doors: hinges bored, each tried", "doors"),
    Share("drawers", 65, "drawers: boxes, slides, fronts", "drawers"),
    Share("frames", 100, "putting frames together", "frames"),
];
/// On the day the row is set, and after it. Boxes are set without drawers in.
const IN_PLACE: &[Share] = &[
    Share("base", 100, "base and levelling", "base"),
    Share("setting", 100, "setting and fixing", "setting"),
    Share("scribes", 100, "scribing strips", "scribes"),
    Share("trim", 100, "mouldings", "trim"),
];
/// After the last coat: what is inside first, the doors last.
const LAST: &[Share] = &[
    Share(
        "fittings",
        100,
        "shelves, rails and the like into frames",
        "fittings",
    ),
    Share("drawers", 35, "drawers in", "drawers_in"),
    Share("lights", 100, "stick-on lights", "lights"),
    Share("doors", 50, "hanging doors", "doors_hung"),
];

/// The work of a route: boards are cut, sanded and primed flat, put together, set on the levelled base and trimmed, then filled and
/// painted; then come the things inside, and the doors last. Her own hours of the route stretch every task alike. It waits for no goods yet. `None` where
/// no hours are known.
pub(super) fn schedule(
    job: &Job,
    route: &str,
    (by_task, work): (&[TaskHours], &[Work]),
) -> Option<Schedule> {
    let table = sum(by_task.iter());
    let hers = job.labour.hours.iter().find(|(r, _)| r == route);
    let whole = hers.map_or(table, |(_, h)| h.0);
    if table <= 0 || whole <= 0 {
        return None;
    }
    let stretched = |n: i64| Hours(n * whole / table);
    let mut all = Schedule::default();
    let of = |key: &str| by_task.iter().find(|t| t.task == key);
    let some = |t: &TaskHours| sum(std::iter::once(t));
    for t in FIRST.iter().filter_map(|key| of(key)) {
        all.put(stretched(some(t)), &t.what, &t.task);
    }
    let shares = |all: &mut Schedule, list: &[Share]| {
        for Share(task, percent, what, key) in list {
            let Some(t) = of(task) else { continue };
            all.put(stretched(some(t) * percent / 100), what, key);
        }
    };
    let paint = |all: &mut Schedule, steps: &[Work]| {
        for step in steps {
            let time = step.time(job);
            let hours = stretched(time.hours.0);
            all.paint(step, TaskTime { hours, ..time });
        }
    };
    let fill = work.iter().position(|w| w.holes > 0.0);
    let (before, after) = work.split_at(fill.unwrap_or(work.len()));
    paint(&mut all, before);
    shares(&mut all, AT_THE_BENCH);
    shares(&mut all, IN_PLACE);
    paint(&mut all, after);
    shares(&mut all, LAST);
    // What was rounded off, so that the whole is as long as it is said to be.
    let sum: i64 = all.times.iter().map(|t| t.hours.0).sum();
    let first = all.times.first_mut()?;
    first.hours.0 = (first.hours.0 + whole - sum).max(0);
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costs::task_keys;

    /// No task of the table of hours is left out of the days, and none is counted twice.
    #[test]
    fn every_task_has_its_place_once() {
        let shares = || [AT_THE_BENCH, IN_PLACE, LAST].into_iter().flatten();
        for key in task_keys() {
            let once = FIRST.iter().chain(&PAINT).filter(|k| **k == key).count() as i64;
            let shared: i64 = shares().filter(|s| s.0 == key).map(|s| s.1).sum();
            assert_eq!(100 * once + shared, 100, "{key}");
        }
    }
}
