//! From the switches to a checked job: a folder, or just a cut list. Says cautions, stops at mistakes.

use super::ctx::Ctx;
use super::exit::Stop;
use super::problems;
use crate::files::read::{BareOptions, RawTable, ReadJob, Reads, Tables, read_bare, read_folder};
use crate::files::write::Extras;
use crate::model::{Job, Severity};
use crate::units::Tape;
use std::path::Path;

/// A job that may be worked on.
pub(crate) struct Loaded {
    /// As her files say.
    pub(crate) job: Job,
    /// Her tables, for writing back.
    pub(crate) tables: Tables,
}

impl Loaded {
    /// The job with sizes shown in the unit that was asked for; everything else, and every plan, stays the same.
    pub(crate) fn shown(&self, ctx: &Ctx) -> Job {
        let mut job = self.job.clone();
        if let Some(unit) = ctx.common.unit().filter(|u| *u != job.project.tape.unit) {
            job.project.tape = Tape::usual(unit);
        }
        job
    }
}

/// Reads the job folder.
pub(crate) fn folder(ctx: &mut Ctx, what: &Reads) -> Result<Loaded, Stop> {
    let read = read_folder(&ctx.folder(), what)?;
    accept(ctx, read)
}

/// Reads just a cut list.
pub(crate) fn bare(
    ctx: &mut Ctx,
    parts: &Path,
    stock: Option<&Path>,
    options: &BareOptions,
) -> Result<Loaded, Stop> {
    let read = read_bare(parts, stock, options)?;
    accept(ctx, read)
}

fn accept(ctx: &mut Ctx, read: ReadJob) -> Result<Loaded, Stop> {
    let mistakes = read
        .problems
        .iter()
        .any(|p| p.severity == Severity::Mistake);
    let cautions = !read.problems.is_empty();
    match read.job {
        Some(job) if !(mistakes || cautions && ctx.common.strict) => {
            if cautions && !ctx.screen.quiet {
                let text = problems::text(&read.problems);
                ctx.screen.err(&text);
            }
            Ok(Loaded {
                job,
                tables: read.tables,
            })
        }
        _ => Err(Stop::Problems(read.problems)),
    }
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
