//! The two ways in: a job folder, or just a cut list. Finds the files, reads them in the order in which they lean on each
//! other, and hands back one checked job or every mistake there is.

use super::bytes::{ReadError, read_bytes};
use super::columns::{Column, is_known, match_columns};
use super::cross::{check_names, check_needs, check_parts_fit};
use super::offcuts::read_offcuts;
use super::parts::{Against, read_parts, sticks_only};
use super::prefab::{PrefabRead, read_prefab};
use super::report::{Report, Wrong};
use super::row::TableRead;
use super::stock::{StockRead, read_stock};
use super::table::{RawTable, read_text_table};
use super::toml::{ReadProject, read_project};
use super::workbook::read_workbook;
use super::{offcuts, parts, prefab, stock};
use crate::model::{
    Car, DefaultUsed, Finish, Job, Labour, NeedUnit, Offcut, Paper, Problem, Project, Saw, Spot,
    StockKind, StockRow, Tools, TrimRules,
};
use crate::units::{Length, ReadAs, Tape, Unit};
use std::path::{Path, PathBuf};

/// Endings a table may have, the usual one first.
const ENDINGS: [&str; 4] = ["csv", "xlsx", "ods", "tsv"];

/// Which files a verb needs. project.toml is always read.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Reads {
    /// The readings of `[opening]` must be there.
    pub opening: bool,
    /// parts.csv must be there, unless the runs have boxes to draw parts from.
    pub parts: bool,
    /// stock.csv must be there.
    pub stock: bool,
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
        stock: false,
        offcuts: false,
        prefab: false,
    };
    /// For `cut`: parts, stock and the rack.
    pub const CUT: Self = Self {
        opening: false,
        parts: true,
        stock: true,
        offcuts: true,
        prefab: false,
    };
    /// For `compare`, `buy` and `book`: the flat-pack units too.
    pub const COMPARE: Self = Self {
        prefab: true,
        ..Self::CUT
    };
    /// For `check`: everything that is there.
    pub const EVERYTHING: Self = Self {
        opening: false,
        parts: true,
        stock: true,
        offcuts: true,
        prefab: true,
    };
    /// For `rack`: stock and the rack.
    pub const RACK: Self = Self {
        opening: false,
        parts: false,
        stock: true,
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

/// How a bare cut list is read.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct BareOptions {
    /// What a bare number is in.
    pub unit: Unit,
    /// Width of wood the blade takes; `None` = 1/8 in.
    pub kerf: Option<Length>,
    /// Taken off each factory edge; `None` = 1/8 in.
    pub clean_edge: Option<Length>,
}

/// Reads a job folder.
pub fn read_folder(dir: &Path, what: &Reads) -> Result<ReadJob, ReadError> {
    let mut report = Report::default();
    let path = dir.join("project.toml");
    let bytes = match read_bytes(&path, "project.toml", &mut report) {
        Err(ReadError::Missing(_)) => return Err(ReadError::NotAJob(dir.to_owned())),
        other => other?,
    };
    let text = bytes
        .map(|b| super::bytes::decode(b, "project.toml", &mut report).0)
        .unwrap_or_default();
    let mut project = read_project(&text, "project.toml", what.opening, &mut report);
    let mut tables = Tables::default();
    let unit = project.project.tape.unit;
    let files = project.files.clone();
    let mut folder = Folder {
        dir,
        names: names_in(dir)?,
        report: &mut report,
    };

    let mut stock = None;
    if what.stock {
        tables.stock = folder.own("stock", stock::COLUMNS)?;
        tables.shared_stock = folder.named(files.stock.as_ref(), "stock", stock::COLUMNS)?;
        stock = both(
            &tables.stock,
            &tables.shared_stock,
            folder.report,
            |t, report| read_stock(t, table_read(t, unit), &mut project.defaults, report),
        )
        .map(join_stock);
        if stock.is_none() && folder.found_none("stock", files.stock.is_some()) {
            folder.missing("stock", "everything that can be bought");
        }
    }
    let mut prefab = None;
    if what.prefab {
        tables.prefab = folder.own("prefab", prefab::COLUMNS)?;
        tables.shared_prefab = folder.named(files.prefab.as_ref(), "prefab", prefab::COLUMNS)?;
        prefab = both(
            &tables.prefab,
            &tables.shared_prefab,
            folder.report,
            |t, report| read_prefab(t, table_read(t, unit), report),
        )
        .map(join_prefab);
        if prefab.is_none() && folder.found_none("prefab", files.prefab.is_some()) {
            prefab = Some(PrefabRead::default());
        }
    }
    let routes = route_names(&project);
    let mut list = Vec::new();
    if what.parts {
        tables.parts = match &files.parts {
            Some(_) => folder.named(files.parts.as_ref(), "parts", parts::COLUMNS)?,
            None => folder.own("parts", parts::COLUMNS)?,
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
        tables.offcuts = folder.own("offcuts", offcuts::COLUMNS)?;
        tables.shared_offcuts =
            folder.named(files.offcuts.as_ref(), "offcuts", offcuts::COLUMNS)?;
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
    Ok(hand_over(job, report, tables))
}

fn hand_over(job: Job, report: Report, tables: Tables) -> ReadJob {
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

fn table_read(table: &RawTable, unit: Unit) -> TableRead {
    // A comma inside a cell is a decimal comma only where it cannot be anything else.
    let comma = table.separator != ',' || table.workbook;
    TableRead {
        size: ReadAs {
            unit,
            decimal_comma: comma && unit == Unit::Mm,
            full_shy: false,
            negative: false,
        },
        money_comma: comma,
    }
}

/// The job's own rows first, then the shared ones; `None` where neither could be read.
fn both<T>(
    own: &Option<RawTable>,
    shared: &Option<RawTable>,
    report: &mut Report,
    mut read: impl FnMut(&RawTable, &mut Report) -> T,
) -> Option<Vec<T>> {
    let tables: Vec<&RawTable> = own.iter().chain(shared).collect();
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

/// The folder being read.
struct Folder<'a> {
    dir: &'a Path,
    names: Vec<String>,
    report: &'a mut Report,
}

fn names_in(dir: &Path) -> Result<Vec<String>, ReadError> {
    let io = |why| ReadError::Io {
        path: dir.to_owned(),
        why,
    };
    let mut names = Vec::new();
    for entry in std::fs::read_dir(dir).map_err(io)? {
        names.push(
            entry
                .map_err(io)?
                .file_name()
                .to_string_lossy()
                .into_owned(),
        );
    }
    names.sort();
    Ok(names)
}

impl Folder<'_> {
    /// The files of that stem in the folder, in the order of [`ENDINGS`].
    fn candidates(&self, stem: &str) -> Vec<&str> {
        ENDINGS
            .iter()
            .flat_map(|ending| {
                let wanted = format!("{stem}.{ending}");
                self.names
                    .iter()
                    .filter(move |n| n.to_lowercase() == wanted)
            })
            .map(String::as_str)
            .collect()
    }

    /// The table of that stem in the folder itself.
    fn own(
        &mut self,
        stem: &str,
        columns: &'static [Column],
    ) -> Result<Option<RawTable>, ReadError> {
        let found: Vec<String> = self
            .candidates(stem)
            .into_iter()
            .map(str::to_owned)
            .collect();
        if let [first, second, ..] = found.as_slice() {
            let wrong = Wrong::new(
                format!(
                    "{first} and {second} are both there, and it is not clear which one counts."
                ),
                "one of them",
                "move one of them to another folder or give it another name.",
            );
            self.report.mistake(
                Spot {
                    file: first.clone(),
                    ..Spot::default()
                },
                found.join(" and "),
                wrong,
            );
            return Ok(None);
        }
        match found.first() {
            Some(name) => read_table(
                &self.dir.join(name),
                name,
                columns,
                &|_| Vec::new(),
                self.report,
            ),
            None => Ok(None),
        }
    }

    /// The table that `[files]` names, unless that is the job's own.
    fn named(
        &mut self,
        path: Option<&(String, Spot)>,
        stem: &str,
        columns: &'static [Column],
    ) -> Result<Option<RawTable>, ReadError> {
        let Some((text, spot)) = path else {
            return Ok(None);
        };
        let full = self.dir.join(text);
        let own = self.candidates(stem).first().map(|n| self.dir.join(n));
        let same = |a: &PathBuf, b: &PathBuf| match (a.canonicalize(), b.canonicalize()) {
            (Ok(a), Ok(b)) => a == b,
            _ => false,
        };
        if stem != "parts" && own.is_some_and(|own| same(&own, &full)) {
            return Ok(None);
        }
        if !full.is_file() {
            let wrong = Wrong::new(
                "There is no such file.",
                "the path of a file, seen from the job's folder",
                "check the path, or take the line out.",
            );
            self.report.mistake(spot.clone(), text.clone(), wrong);
            return Ok(None);
        }
        read_table(&full, text, columns, &|_| Vec::new(), self.report)
    }

    /// True where there is no file at all, so that its absence is the mistake.
    fn found_none(&self, stem: &str, named: bool) -> bool {
        !named && self.candidates(stem).is_empty()
    }

    fn missing(&mut self, stem: &str, what: &str) {
        let file = format!("{stem}.csv");
        let wrong = Wrong::new(
            format!("{file} is not in the folder, and it holds {what}."),
            format!("{file}, {stem}.xlsx, {stem}.ods or {stem}.tsv"),
            format!("put it beside project.toml, or name it under [files] {stem}."),
        );
        self.report.mistake(
            Spot {
                file,
                ..Spot::default()
            },
            "no file",
            wrong,
        );
    }
}

/// Reads one table of any kind and matches its headings. `optional` names needed columns that this table may do without.
fn read_table(
    path: &Path,
    shown: &str,
    columns: &'static [Column],
    optional: &dyn Fn(&RawTable) -> Vec<&'static str>,
    report: &mut Report,
) -> Result<Option<RawTable>, ReadError> {
    let Some(bytes) = read_bytes(path, shown, report)? else {
        return Ok(None);
    };
    let ending = path
        .extension()
        .map(|e| e.to_string_lossy().to_lowercase())
        .unwrap_or_default();
    let zipped = bytes.starts_with(b"PK\x03\x04");
    let table = match ending.as_str() {
        "xlsx" | "ods" => read_workbook(bytes, path.to_owned(), shown, report),
        _ if zipped || bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) => {
            let wrong = Wrong::new(
                "This is a workbook, but its name says it is something else.",
                "a text table, or a workbook called .xlsx or .ods",
                "open it in the spreadsheet and save it as .xlsx or as \"CSV UTF-8\".",
            );
            report.mistake(
                Spot {
                    file: shown.to_owned(),
                    ..Spot::default()
                },
                "a workbook",
                wrong,
            );
            None
        }
        _ => read_text_table(
            bytes,
            path.to_owned(),
            shown,
            &|h| is_known(columns, h),
            report,
        ),
    };
    let Some(mut table) = table else {
        return Ok(None);
    };
    let optional = optional(&table);
    match_columns(&mut table, columns, &optional, report);
    if table.rows.iter().all(super::table::RawRow::is_blank) && table.columns.complete {
        let spot = table.spot(&table.headings, None);
        let wrong = Wrong::new(
            "There is a heading and nothing below it.",
            "a row for each entry",
            "add rows, or leave the file as it is if there is nothing to list yet.",
        );
        report.caution(spot, "no rows", wrong);
    }
    Ok(Some(table))
}

/// Reads just a cut list, with or without a stock file.
pub fn read_bare(
    parts: &Path,
    stock: Option<&Path>,
    options: &BareOptions,
) -> Result<ReadJob, ReadError> {
    let mut report = Report::default();
    let mut tables = Tables::default();
    let mut defaults = Vec::new();
    let shown = |p: &Path| {
        p.file_name().map_or_else(
            || p.display().to_string(),
            |n| n.to_string_lossy().into_owned(),
        )
    };
    let mut known: Option<StockRead> = None;
    if let Some(path) = stock {
        tables.stock = read_table(
            path,
            &shown(path),
            stock::COLUMNS,
            &|_| Vec::new(),
            &mut report,
        )?;
        known = tables
            .stock
            .as_ref()
            .filter(|t| t.columns.complete)
            .map(|t| read_stock(t, table_read(t, options.unit), &mut defaults, &mut report));
    }
    let rows = known.as_ref().map(|k| k.rows.as_slice());
    let stick_list = |t: &RawTable| {
        if sticks_only(t, rows) {
            vec!["width"]
        } else {
            Vec::new()
        }
    };
    tables.parts = read_table(
        parts,
        &shown(parts),
        parts::COLUMNS,
        &stick_list,
        &mut report,
    )?;
    let nothing: [StockRow; 0] = [];
    let against = Against {
        stock: stock.map(|_| rows.unwrap_or(&nothing)),
        broken: known.as_ref().map(|k| &k.broken),
        routes: &[],
    };
    let mut list = Vec::new();
    if let Some(table) = &tables.parts {
        list = read_parts(
            table,
            &against,
            table_read(table, options.unit),
            &mut report,
        );
        let routed = list.iter().position(|p| p.route.is_some());
        if let Some(first) = routed {
            let spot = table.spot_in(list[first].row, "route");
            let found = list[first].route.clone().unwrap_or_default();
            let wrong = Wrong::new(
                "Without a project.toml there are no routes, so all parts are planned together.",
                "no route",
                "nothing, if that is meant; else make a job folder with start.",
            );
            report.caution(spot, found, wrong);
            for part in &mut list {
                part.route = None;
            }
        }
    }
    let tape = Tape::usual(options.unit);
    let usual = Saw::default();
    let mut saw = |given: Option<Length>, usual: Length, name: &str| {
        given.unwrap_or_else(|| {
            let why = "a usual saw".to_owned();
            defaults.push(DefaultUsed {
                place: format!("--{name}"),
                value: tape.print_exact(usual),
                why,
            });
            usual
        })
    };
    let saw = Saw {
        kerf: saw(options.kerf, usual.kerf, "kerf"),
        clean_edge: saw(options.clean_edge, usual.clean_edge, "clean-edge"),
        ..usual
    };
    let stock_rows = match known {
        Some(known) => known.rows,
        None => plain_sheets(&list, &mut defaults),
    };
    if let Some(table) = &tables.parts {
        check_parts_fit(&list, table, &stock_rows, &[], &saw, tape, &mut report);
    }
    let name = parts
        .file_stem()
        .map(|s| s.to_string_lossy().into_owned())
        .unwrap_or_default();
    let job = Job {
        project: Project {
            name,
            house: String::new(),
            drawn_by: String::new(),
            date: None,
            tape,
            money: "USD".into(),
            sales_tax: None,
            paper: if options.unit == Unit::Inch {
                Paper::Letter
            } else {
                Paper::A4
            },
        },
        want: None,
        opening: None,
        runs: Vec::new(),
        trim: TrimRules::default(),
        saw,
        car: Car::default(),
        finish: Finish::default(),
        labour: Labour::default(),
        tools: Tools::default(),
        needs: Vec::new(),
        parts: list,
        stock: stock_rows,
        prefab: Vec::new(),
        rack: Vec::new(),
        defaults,
        bare_list: true,
    };
    Ok(hand_over(job, report, tables))
}

/// Without a stock file every item is a 48 x 96 in sheet without a price.
fn plain_sheets(list: &[crate::model::Part], defaults: &mut Vec<DefaultUsed>) -> Vec<StockRow> {
    let mut rows: Vec<StockRow> = Vec::new();
    let mut seen = std::collections::BTreeSet::new();
    for part in list {
        if !seen.insert(part.item.as_str()) {
            continue;
        }
        defaults.push(DefaultUsed {
            place: format!("stock {}", part.item),
            value: "a 48 x 96 in sheet without a price".into(),
            why: "no stock file was named".into(),
        });
        rows.push(StockRow {
            item: part.item.clone(),
            kind: StockKind::Sheet,
            what: part.item.clone(),
            length: Some(Length::inches(96)),
            width: Some(Length::inches(48)),
            thick: None,
            measured: None,
            grain_along_width: false,
            sold_by: "each".into(),
            holds: NeedUnit::Count(1000),
            price: None,
            priced_on: None,
            have: NeedUnit::Count(0),
            waste: None,
            store: String::new(),
            aisle: String::new(),
            lead_days: 0,
            taxed: true,
            at_most: None,
            weight_grams: None,
            covers_mm2: None,
            one_face: false,
            returns: None,
            note: String::new(),
            row: 0,
            file: String::new(),
        });
    }
    rows
}
