//! Steps worth knowing: how much wider, taller or deeper a box can get before the plan needs a sheet more, and how much
//! smaller it must be before one is saved. By the sheets alone: whether the box still goes in, carries or holds what is wanted
//! is for other rooms.
//!
//! Sizes are tried on the marks of her tape, up to what the opening leaves and no further than [`REACH`]. At each the run is
//! drawn anew; rows of her list that follow the run take the new sizes, rows of hers stay. Where every part only grows from
//! mark to mark (checked, not supposed), sheets can only get more, and the marks are halved in; elsewhere they are gone
//! through one by one.

mod marks;
mod search;

use crate::boxes::outsides;
use crate::model::task::{SheetAnswer, SheetTask, SolveOptions};
use crate::model::{BoxPlan, BoxWidth, Job, Plan};
use crate::opening::survey_by;
use crate::plan::tasks::{Ask, tasks};
use crate::sheets::what_if::Known;
use crate::solve::threads;
use crate::units::{Length, Tape};
use marks::{Marks, Side};
use search::Found;
use serde::Serialize;

/// How far from the size a box has now. Six inches: a change of plan, not of purpose.
const REACH: Length = Length::inches(6);
/// Work steps for all questions of a plan together, about a second of one core at most. Default 40,000,000.
const STEPS: u64 = 40_000_000;
/// Sizes drawn for all boxes of a plan together: the marks are thinned where there would be more. Default 6,000.
const DRAWN: usize = 6_000;

/// Where one size of a box changes the number of sheets, or that it does not.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Step {
    /// The box; empty for a size that all boxes of the run share.
    #[serde(rename = "box")]
    pub of: String,
    /// `width`, `height` or `depth`, outside.
    pub side: &'static str,
    /// The material, by the code its parts name first.
    pub item: String,
    /// The size as it is.
    pub now: Length,
    /// The last size tried, the larger or the smaller end.
    pub looked_to: Length,
    /// Sheets bought as it is.
    pub sheets_now: u32,
    /// Sheets bought beyond the step: one more, or one fewer.
    pub sheets_then: u32,
    /// The nearest size at which the number is another; none where it is the same as far as was looked.
    pub at: Option<Length>,
    /// The farthest size at which it is still as now: `at` is the mark after it, unless steps ran out.
    pub still: Length,
    /// True if it is shown that the number changes no sooner and does change there; else it is so in the plans that were found.
    pub proved: bool,
    /// True if it stays so for every size beyond `at` that was looked at.
    pub onward: bool,
    /// True where the boxes with a share give way, so that the row stays as wide as it is.
    pub others_give_way: bool,
    /// The same in a sentence.
    pub words: String,
}

/// One material as planned.
struct Material {
    item: String,
    task: SheetTask,
    answer: SheetAnswer,
    bought: u32,
}

/// One question: a material, a size, a direction.
struct Question<'a> {
    marks: &'a Marks,
    material: &'a Material,
    more: bool,
}

/// All steps of a plan, in the order of the runs and their boxes; `shown` is how sizes are written in the sentences.
pub fn steps(job: &Job, plan: &Plan, options: &SolveOptions, shown: Tape) -> Vec<Step> {
    let materials = materials(job, plan);
    let all = marks_of(job, plan, &materials);
    let questions: Vec<Question> = all
        .iter()
        .flat_map(|m| materials.iter().map(move |of| (m, of)))
        .flat_map(|(marks, material)| {
            let moves = marks.touches(&material.item);
            [true, false].into_iter().filter_map(move |more| {
                let asked = moves && marks.any(more) && (more || material.bought > 0);
                asked.then_some(Question {
                    marks,
                    material,
                    more,
                })
            })
        })
        .collect();
    let each = STEPS / questions.len().max(1) as u64;
    threads::map(options.threads, questions, |q| {
        let known = Known {
            task: &q.material.task,
            answer: &q.material.answer,
        };
        let tasks = q.marks.tasks(&q.material.item, q.more);
        let found = search::search(known, q.material.bought, &tasks, q.more, each);
        found.map(|found| step(&q, &found, shown))
    })
    .into_iter()
    .flatten()
    .collect()
}

fn step(q: &Question, found: &Found, shown: Tape) -> Step {
    let size = |n: usize| q.marks.size(n, q.more);
    let bought = q.material.bought;
    let mut step = Step {
        of: q.marks.of.clone(),
        side: q.marks.side.word(),
        item: q.material.item.clone(),
        now: q.marks.now,
        looked_to: size(found.looked_to),
        sheets_now: bought,
        sheets_then: if q.more { bought + 1 } else { bought - 1 },
        at: found.at.map(size),
        still: size(found.still),
        proved: found.proved,
        onward: found.onward,
        others_give_way: q.marks.give_way,
        words: String::new(),
    };
    step.words = words(&step, shown);
    step
}

/// `Box left wider than 29 1/8: a 7th sheet of PLY-18 is needed (proved).`
fn words(step: &Step, tape: Tape) -> String {
    let size = |l: Length| tape.print(l);
    let (more, less) = match step.side {
        "width" => ("wider", "wide"),
        "height" => ("taller", "tall"),
        _ => ("deeper", "deep"),
    };
    let of = if step.of.is_empty() {
        "All boxes".to_owned()
    } else {
        let others = if step.others_give_way {
            " (the boxes with a share give way)"
        } else {
            ""
        };
        format!("Box {}{others}", step.of)
    };
    let sheets = |n: u32| format!("{n} {}", if n == 1 { "sheet" } else { "sheets" });
    let (item, now, then) = (&step.item, step.sheets_now, sheets(step.sheets_then));
    match step.at {
        None if step.sheets_then > now => format!(
            "{of} up to {} {less}: {} of {item} still do.",
            size(step.looked_to),
            sheets(now)
        ),
        None => format!(
            "{of} down to {} {less}: no plan on {then} of {item}{}.",
            size(step.looked_to),
            if step.proved {
                " (proved)"
            } else {
                " was found (not proved)"
            }
        ),
        Some(at) if step.sheets_then > now => {
            let from = if step.onward {
                format!("{more} than {}", size(step.still))
            } else {
                format!("{} {less}", size(at))
            };
            if step.proved {
                format!("{of} {from}: {then} of {item} instead of {now} (proved).")
            } else {
                format!(
                    "{of} {from}: no plan on {} of {item} was found (not proved).",
                    sheets(now)
                )
            }
        }
        Some(at) => {
            let or_less = if step.onward { " or less" } else { "" };
            let else_ = if step.proved {
                format!("{more}, as many as now are needed (proved)")
            } else {
                format!("{more}, no such plan was found (not proved)")
            };
            format!(
                "{of} {} {less}{or_less}: {then} of {item} instead of {now}; {else_}.",
                size(at)
            )
        }
    }
}

/// The sheet materials of a plan that are wholly placed.
fn materials(job: &Job, plan: &Plan) -> Vec<Material> {
    let (asked, _) = tasks(job, &plan.route);
    let mut all = Vec::new();
    for asked in asked {
        let Ask::Sheets(task) = asked.ask else {
            continue;
        };
        let Some(result) = plan.items.iter().find(|i| i.item == asked.item) else {
            continue;
        };
        let placed = |mark: &str| !plan.unplaced.iter().any(|u| u.mark == mark);
        if !task.pieces.iter().all(|p| placed(&p.mark)) {
            continue;
        }
        let ours = |item: &str| task.kinds.iter().any(|k| k.item == item);
        let sheets = plan.sheets.iter().filter(|s| ours(&s.item));
        all.push(Material {
            bought: result.sheets,
            answer: SheetAnswer {
                sheets: sheets.cloned().collect(),
                unplaced: Vec::new(),
                at_least: result.at_least,
                cost_at_least: result.cost_at_least_cents,
                proved: result.proved,
                certificate: result.proof.clone(),
                searched: result.searched,
            },
            item: asked.item,
            task,
        });
    }
    all
}

/// Every size of every box of the route.
fn marks_of(job: &Job, plan: &Plan, materials: &[Material]) -> Vec<Marks> {
    let survey = job.opening.as_ref().map(|o| survey_by(o, job.project.tape));
    let mut sides = Vec::new();
    let mut shared = vec![Vec::new(); job.runs.len()];
    for (i, run) in job.runs.iter().enumerate() {
        if run.route != plan.route || !run.has_boxes() {
            continue;
        }
        let room = survey
            .as_ref()
            .map_or_else(Default::default, |s| super::rooms::room(job, s, run));
        let Ok(sizes) = outsides(job, run, &room) else {
            continue;
        };
        let Some(first) = sizes.first() else {
            continue;
        };
        let wide: Length = sizes.iter().map(|s| s.width).sum();
        let share = |b: &BoxPlan| matches!(b.width, BoxWidth::Share(_));
        let sharing = (run.boxes.iter().zip(&sizes).enumerate()).filter(|(_, (b, _))| share(b));
        let sharing: Vec<(usize, Length)> = sharing.map(|(n, (_, s))| (n, s.width)).collect();
        for (n, (plan, size)) in run.boxes.iter().zip(&sizes).enumerate() {
            // Boxes that share take up what another leaves; without one the row itself gets wider.
            let left = room.width.map(|w| w - run.side_gap_least * 2 - wide);
            let others = sharing.iter().any(|s| s.0 != n);
            let left = if others { None } else { left };
            sides.push((i, Side::Width(n), plan.name.clone(), size.width, left));
        }
        shared[i] = sharing;
        let left = room
            .height
            .map(|h| h - run.base_height - run.head_gap_least - first.height);
        sides.push((i, Side::Height, String::new(), first.height, left));
        let left = room.depth.map(|d| d - first.depth);
        sides.push((i, Side::Depth, String::new(), first.depth, left));
    }
    let most = DRAWN / (2 * sides.len().max(1));
    let items: Vec<&str> = materials.iter().map(|m| m.item.as_str()).collect();
    sides
        .into_iter()
        .filter_map(|(run, side, of, now, left)| {
            let reach = [REACH.min(left.unwrap_or(REACH)).at_least_zero(), REACH];
            let sketch = marks::Sketch::new(job, survey.as_ref(), run, &items, &shared[run])?;
            let mut marks = Marks::new(&sketch, side, of, now, reach, most);
            marks.give_way = match side {
                Side::Width(n) => shared[run].iter().any(|s| s.0 != n),
                Side::Height | Side::Depth => false,
            };
            Some(marks)
        })
        .collect()
}
