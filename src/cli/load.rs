//! From the switches to a checked job: a folder, or just a cut list. Says cautions, stops at mistakes.

use super::ctx::Ctx;
use super::exit::Stop;
use super::problems;
use crate::boxes::drawn;
use crate::files::read::{BareOptions, RawTable, ReadJob, Reads, Tables, read_bare, read_folder};
use crate::files::write::Extras;
use crate::model::mix::Mixes;
use crate::model::{Job, Severity};
use crate::opening::{
    all_readings, find_reading, reading, reading_path, reading_words, survey_by, unmeasured,
    unmeasured_ways,
};
use crate::plan::{Fitted, add_frame_parts, choose_mixes, fit_job, rooms};
use crate::units::Tape;
use std::cell::OnceCell;
use std::path::Path;

/// A job that may be worked on.
pub(crate) struct Loaded {
    /// As her files say.
    pub(crate) job: Job,
    /// The mixes its frames were chosen from.
    pub(crate) mixes: Vec<Mixes>,
    /// Her tables, for writing back.
    pub(crate) tables: Tables,
    /// The job in its opening, in the sizes that are shown; empty until it is asked for.
    fitted: OnceCell<Option<Fitted>>,
}

impl Loaded {
    /// True if the route leaves its frames open and no mix of those there are fits.
    pub(crate) fn no_mix(&self, route: &str) -> bool {
        self.mixes.iter().any(|m| m.route == route && m.none_fits())
    }

    /// How every route sits, fitted once for everything that says something of it; `None` without an opening.
    pub(crate) fn fitted(&self, ctx: &Ctx) -> Option<&Fitted> {
        let fit = || {
            let fitted = fit_job(&self.job, self.shown(ctx).project.tape)?;
            Some(fitted.with_mixes(self.mixes.clone()))
        };
        self.fitted.get_or_init(fit).as_ref()
    }

    /// The job with sizes shown in the unit that was asked for; everything else, and every plan, stays the same.
    pub(crate) fn shown(&self, ctx: &Ctx) -> Job {
        let mut job = self.job.clone();
        if let Some(unit) = ctx.common.unit().filter(|u| *u != job.project.tape.unit) {
            job.project.tape = Tape::usual(unit);
        }
        job
    }
}

/// Reads the job folder. Where the verb works on parts and there is no parts.csv, they are what the runs draw.
pub(crate) fn folder(ctx: &mut Ctx, what: &Reads) -> Result<Loaded, Stop> {
    let read = read_folder(&ctx.folder(), what)?;
    let mut loaded = accept(ctx, read, true)?;
    loaded.mixes = choose_mixes(&mut loaded.job);
    if what.parts && loaded.tables.parts.is_none() {
        loaded.job.parts = drawn(&loaded.job, &rooms(&loaded.job)).map_err(Stop::Problems)?;
        ctx.note("There is no parts.csv, so the parts are those the runs draw; parts --write begins one.");
    }
    // The verb that draws and writes her list looks at that list alone.
    if what.parts && !what.rows_may_lack {
        add_frame_parts(&mut loaded.job);
    }
    Ok(loaded)
}

/// Reads project.toml with its readings; what they say of each other is left to the caller.
pub(crate) fn opening(ctx: &mut Ctx) -> Result<Loaded, Stop> {
    let read = read_folder(&ctx.folder(), &Reads::SURVEY)?;
    accept(ctx, read, false)
}

/// Reads just a cut list.
pub(crate) fn bare(
    ctx: &mut Ctx,
    parts: &Path,
    stock: Option<&Path>,
    options: &BareOptions,
) -> Result<Loaded, Stop> {
    let read = read_bare(parts, stock, options)?;
    accept(ctx, read, true)
}

fn accept(ctx: &mut Ctx, read: ReadJob, judge: bool) -> Result<Loaded, Stop> {
    let mistakes = read
        .problems
        .iter()
        .any(|p| p.severity == Severity::Mistake);
    let cautions = !read.problems.is_empty();
    match read.job {
        Some(job) if !mistakes => {
            if judge {
                readings(ctx, &job)?;
            }
            if cautions && ctx.common.strict {
                return Err(Stop::Problems(read.problems));
            }
            if cautions && !ctx.screen.quiet {
                let text = problems::text(&read.problems);
                ctx.screen.err(&text);
            }
            Ok(Loaded {
                job,
                mixes: Vec::new(),
                tables: read.tables,
                fitted: OnceCell::new(),
            })
        }
        _ => Err(Stop::Problems(read.problems)),
    }
}

/// Readings that disagree stop a strict run; otherwise they are said, and the job goes on, as are those not taken yet.
/// `survey` itself says more, and ends with its own code.
fn readings(ctx: &mut Ctx, job: &Job) -> Result<(), Stop> {
    let open = not_taken(job);
    if !open.is_empty() {
        ctx.note(&format!(
            "Not measured yet: {}. What follows is PROVISIONAL until it is.",
            open.join(", ")
        ));
    }
    let list = disagreeing(job);
    if list.is_empty() {
        return Ok(());
    }
    if ctx.common.strict {
        return Err(Stop::Disagree(list));
    }
    ctx.caution(&format!(
        "Survey readings disagree: take again {}. What follows is PROVISIONAL; `nookwright survey` says why.",
        list.join(", ")
    ));
    Ok(())
}

/// The readings written as `?`, by path.
fn not_taken(job: &Job) -> Vec<String> {
    let Some(opening) = &job.opening else {
        return Vec::new();
    };
    let open = all_readings(opening).into_iter();
    open.filter(|at| reading(opening, *at).is_none())
        .map(|at| reading_path(opening, at))
        .chain(unmeasured(opening))
        .chain(unmeasured_ways(opening))
        .collect()
}

/// The readings to take again, path and words; none where the survey hangs together or there is no opening.
pub(crate) fn disagreeing(job: &Job) -> Vec<String> {
    let Some(opening) = &job.opening else {
        return Vec::new();
    };
    let tape = job.project.tape;
    let named = |path: String| match find_reading(opening, &path) {
        Some(at) => format!("{path} ({})", reading_words(opening, at, tape)),
        None => path,
    };
    let survey = survey_by(opening, tape);
    survey
        .take_again
        .into_iter()
        .map(|t| named(t.reading))
        .collect()
}

/// The columns of her list that the tool does not know.
pub(crate) fn extras(table: Option<&RawTable>) -> Extras {
    let Some(table) = table else {
        return Extras::default();
    };
    let columns = table.unknown_columns();
    Extras {
        headings: columns
            .iter()
            .map(|i| table.headings.cells[*i].text.trim().to_owned())
            .collect(),
        rows: table
            .rows
            .iter()
            .map(|row| {
                let cell = |i: &usize| {
                    row.cells
                        .get(*i)
                        .map(|c| c.text.clone())
                        .unwrap_or_default()
                };
                (row.number, columns.iter().map(cell).collect())
            })
            .collect(),
    }
}
