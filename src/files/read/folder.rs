//! A job folder: reads its files in the order in which they lean on each other, and hands back one checked job or every
//! mistake there is.

use super::bytes::{ReadError, decode, read_bytes};
use super::cross::{check_names, check_needs, check_parts_fit};
use super::defaults::told_once;
use super::find::{Folder, NO_ROWS, all_needed, table_read};
use super::offcuts::read_offcuts;
use super::parts::{Against, read_parts, sticks_only};
use super::prefab::{PrefabRead, list_bases, read_prefab};
use super::report::Report;
use super::stock::{StockRead, read_stock};
use super::table::RawTable;
use super::toml::{ReadProject, read_project};
use super::{offcuts, parts, prefab, reuse, stock};
use crate::model::{Job, Offcut, Problem};
use std::path::Path;

/// Which files a verb needs. project.toml is always read.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Reads {
    /// The readings of `[opening]` must be there.
    pub opening: bool,
    /// parts.csv must be there, unless the runs have boxes to draw parts from.
    pub parts: bool,
    /// With `parts`: it may hold no row yet, for the verb draws them.
    pub rows_may_lack: bool,
    /// stock.csv must be there.
    pub stock: bool,
    /// With `stock`: it may be missing, and then nothing is known of thicknesses.
    pub stock_may_lack: bool,
    /// offcuts.csv is read if it is there.
    pub offcuts: bool,
    /// prefab.csv is read if it is there.
    pub prefab: bool,
}

impl Reads {
    /// For `survey`: project.toml alone.
    pub const SURVEY: Self = Self {
        opening: true,
        parts: false,
        rows_may_lack: false,
        stock: false,
        stock_may_lack: false,
        offcuts: false,
        prefab: false,
    };
    /// For `fit`: readings, and what is built and bought; stock.csv and prefab.csv where they are there.
    pub const FIT: Self = Self {
        stock: true,
        stock_may_lack: true,
        prefab: true,
        ..Self::SURVEY
    };
    /// For `cut`: parts, stock and the rack.
    pub const CUT: Self = Self {
        opening: false,
        parts: true,
        rows_may_lack: false,
        stock: true,
        stock_may_lack: false,
        offcuts: true,
        prefab: false,
    };
    /// For `compare`, `buy` and `book`: the flat-pack units too.
    pub const COMPARE: Self = Self {
        prefab: true,
        ..Self::CUT
    };
    /// For `check`: everything that is there.
    pub const EVERYTHING: Self = Self::COMPARE;
    /// For `rack`: stock and the rack.
    pub const RACK: Self = Self {
        opening: false,
        parts: false,
        rows_may_lack: false,
        stock: true,
        stock_may_lack: false,
        offcuts: true,
        prefab: false,
    };
}

/// The tables as they stand in her files, for writing back.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Tables {
    /// parts.csv
    pub parts: Option<RawTable>,
    /// The job's own stock.csv.
    pub stock: Option<RawTable>,
    /// The one named in `[files]`.
    pub shared_stock: Option<RawTable>,
    /// The job's own prefab.csv.
    pub prefab: Option<RawTable>,
    /// The one named in `[files]`.
    pub shared_prefab: Option<RawTable>,
    /// The job's own offcuts.csv.
    pub offcuts: Option<RawTable>,
    /// The one named in `[files]`.
    pub shared_offcuts: Option<RawTable>,
}

/// What came of reading.
#[derive(Clone, PartialEq, Debug)]
pub struct ReadJob {
    /// The job; `None` where a mistake stands in its way.
    pub job: Option<Job>,
    /// Mistakes first, then cautions, each in the order of the files.
    pub problems: Vec<Problem>,
    /// The raw tables.
    pub tables: Tables,
}

/// Reads a job folder.
pub fn read_folder(dir: &Path, what: &Reads) -> Result<ReadJob, ReadError> {
    let mut report = Report::default();
    if dir.is_file() {
        return Err(ReadError::NotAFolder(dir.to_owned()));
    }
    let path = dir.join("project.toml");
    let bytes = match read_bytes(&path, "project.toml", &mut report) {
        Err(ReadError::Missing(_)) => return Err(ReadError::NotAJob(dir.to_owned())),
        other => other?,
    };
    let text = bytes
        .map(|b| decode(b, "project.toml", &mut report).0)
        .unwrap_or_default();
    let mut project = read_project(&text, "project.toml", what.opening, &mut report);
    let mut tables = Tables::default();
    let unit = project.project.tape.unit;
    let files = project.files.clone();
    let mut folder = Folder::open(dir, &mut report)?;

    let mut stock = None;
    if what.stock {
        tables.stock = folder.own("stock", stock::COLUMNS, &all_needed)?;
        tables.shared_stock =
            folder.named(files.stock.as_ref(), "stock", stock::COLUMNS, &all_needed)?;
        stock = both(
            tables.stock.as_ref(),
            tables.shared_stock.as_ref(),
            folder.report,
            |t, report| read_stock(t, table_read(t, unit), &mut project.defaults, report),
        )
        .map(join_stock);
        let may_lack = what.stock_may_lack && files.stock.is_none();
        if stock.is_none() && !may_lack && folder.found_none("stock", files.stock.is_some()) {
            folder.missing("stock", "everything that can be bought");
        }
    }
    let mut prefab = None;
    if what.prefab {
        tables.prefab = folder.own("prefab", prefab::COLUMNS, &all_needed)?;
        tables.shared_prefab = folder.named(
            files.prefab.as_ref(),
            "prefab",
            prefab::COLUMNS,
            &all_needed,
        )?;
        prefab = both(
            tables.prefab.as_ref(),
            tables.shared_prefab.as_ref(),
            folder.report,
            |t, report| read_prefab(t, table_read(t, unit), report),
        )
        .map(join_prefab);
        list_bases(
            &mut project,
            prefab.as_ref().map_or(&[], |p: &PrefabRead| &p.units),
        );
        if prefab.is_none() && folder.found_none("prefab", files.prefab.is_some()) {
            prefab = Some(PrefabRead::default());
        }
    }
    let routes = route_names(&project);
    let mut list = Vec::new();
    if what.parts {
        let rows = stock.as_ref().map(|s| s.rows.as_slice());
        let optional = |t: &RawTable| {
            if sticks_only(t, rows) {
                vec!["width"]
            } else {
                Vec::new()
            }
        };
        tables.parts = match &files.parts {
            Some(_) => folder.named(files.parts.as_ref(), "parts", parts::COLUMNS, &optional)?,
            // The verb that writes the list begins an empty one anew.
            None if what.rows_may_lack && folder.is_blank("parts") => None,
            None => folder.own("parts", parts::COLUMNS, &optional)?,
        };
        let built = project.runs.iter().any(crate::model::Run::has_boxes);
        if tables.parts.is_none() && !built && folder.found_none("parts", files.parts.is_some()) {
            folder.missing("parts", "the cut list");
        }
        if let Some(table) = &tables.parts {
            let rows = stock.as_ref().map_or(&[][..], |s: &StockRead| &s.rows);
            let against = Against {
                stock: Some(rows),
                broken: stock.as_ref().map(|s| &s.broken),
                routes: &routes,
            };
            list = read_parts(table, &against, table_read(table, unit), folder.report);
        }
    }
    let mut rack = Vec::new();
    if what.offcuts {
        tables.offcuts = folder.own("offcuts", offcuts::COLUMNS, &all_needed)?;
        tables.shared_offcuts = folder.named(
            files.offcuts.as_ref(),
            "offcuts",
            offcuts::COLUMNS,
            &all_needed,
        )?;
        let nothing = StockRead::default();
        let known = stock.as_ref().unwrap_or(&nothing);
        for (table, shared) in [
            (&tables.offcuts, stock.is_none()),
            (&tables.shared_offcuts, true),
        ] {
            let Some(table) = table else { continue };
            let found = read_offcuts(table, known, shared, table_read(table, unit), folder.report);
            let more: Vec<Offcut> = found
                .into_iter()
                .filter(|o| !rack.iter().any(|r: &Offcut| r.mark == o.mark))
                .collect();
            rack.extend(more);
        }
    }
    if let Some(opening) = project.opening.as_ref().filter(|_| what.offcuts) {
        let rows = stock.as_ref().map(|s| s.rows.as_slice());
        let joins = reuse::joined(&opening.now.old_stock, rows, &rack, folder.report);
        rack.extend(joins);
    }
    check_names(
        &project,
        stock.as_ref(),
        prefab.as_ref(),
        &routes,
        &mut report,
    );
    let rows = stock.map(|s| s.rows).unwrap_or_default();
    check_needs(&project, &rows, "project.toml", &mut report);
    if let Some(table) = &tables.parts {
        check_parts_fit(
            &list,
            table,
            &rows,
            &rack,
            &project.saw,
            project.project.tape,
            &mut report,
        );
    }
    let ReadProject {
        project,
        want,
        opening,
        runs,
        trim,
        saw,
        car,
        finish,
        labour,
        tools,
        needs,
        defaults,
        ..
    } = project;
    let defaults = told_once(defaults, &routes);
    let job = Job {
        project,
        want,
        opening,
        runs,
        trim,
        saw,
        car,
        finish,
        labour,
        tools,
        needs,
        parts: list,
        stock: rows,
        prefab: prefab.map(|p| p.units).unwrap_or_default(),
        rack,
        defaults,
        bare_list: false,
    };
    let mut read = hand_over(job, report, tables);
    if what.rows_may_lack {
        let list = |p: &Problem| p.found == NO_ROWS && p.spot.file.starts_with("parts.");
        read.problems.retain(|p| !list(p));
    }
    Ok(read)
}

pub(crate) fn hand_over(job: Job, report: Report, tables: Tables) -> ReadJob {
    let job = (report.mistakes() == 0).then_some(job);
    ReadJob {
        job,
        problems: report.finish(),
        tables,
    }
}

/// The names a route may have: those of the runs, or the one that a job without runs has.
fn route_names(project: &ReadProject) -> Vec<String> {
    let mut names: Vec<String> = project
        .runs
        .iter()
        .map(|r| r.route.clone())
        .filter(|r| !r.is_empty())
        .collect();
    if names.is_empty() {
        names.push("custom".into());
    }
    names
}

/// The job's own rows first, then the shared ones; `None` where neither could be read.
fn both<T>(
    own: Option<&RawTable>,
    shared: Option<&RawTable>,
    report: &mut Report,
    mut read: impl FnMut(&RawTable, &mut Report) -> T,
) -> Option<Vec<T>> {
    let tables: Vec<&RawTable> = own.into_iter().chain(shared).collect();
    let readable = !tables.is_empty() && tables.iter().all(|t| t.columns.complete);
    let found: Vec<T> = tables.into_iter().map(|t| read(t, report)).collect();
    readable.then_some(found)
}

fn join_stock(found: Vec<StockRead>) -> StockRead {
    let mut all = StockRead::default();
    for read in found {
        let taken: Vec<String> = all.rows.iter().map(|r| r.item.clone()).collect();
        all.rows.extend(
            read.rows
                .into_iter()
                .filter(|r| !taken.contains(&r.item) && !all.broken.contains(&r.item)),
        );
        all.broken
            .extend(read.broken.into_iter().filter(|b| !taken.contains(b)));
    }
    all
}

fn join_prefab(found: Vec<PrefabRead>) -> PrefabRead {
    let mut all = PrefabRead::default();
    for read in found {
        let taken: Vec<String> = all.units.iter().map(|r| r.unit.clone()).collect();
        all.units.extend(
            read.units
                .into_iter()
                .filter(|r| !taken.contains(&r.unit) && !all.broken.contains(&r.unit)),
        );
        all.broken
            .extend(read.broken.into_iter().filter(|b| !taken.contains(b)));
    }
    all
}
