//! Finds a table by its stem, whatever it was saved as, reads it and matches its headings. Owns which files count; must not
//! know what the columns mean.

use super::bytes::{ReadError, read_bytes};
use super::columns::{Column, is_known, match_columns};
use super::report::{Report, Wrong};
use super::row::TableRead;
use super::table::{RawTable, read_text_table};
use super::workbook::read_workbook;
use crate::model::Spot;
use crate::units::{ReadAs, Unit};
use std::path::{Path, PathBuf};

/// Endings a table may have, the usual one first.
const ENDINGS: [&str; 4] = ["csv", "xlsx", "ods", "tsv"];

/// Needed columns that a table may do without, seen from the table.
pub(crate) type Optional<'a> = &'a dyn Fn(&RawTable) -> Vec<&'static str>;

/// Every needed column is needed.
pub(crate) fn all_needed(_: &RawTable) -> Vec<&'static str> {
    Vec::new()
}

/// The folder being read.
pub(crate) struct Folder<'a> {
    dir: &'a Path,
    names: Vec<String>,
    pub(crate) report: &'a mut Report,
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

impl<'a> Folder<'a> {
    /// Looks at what is in the folder.
    pub(crate) fn open(dir: &'a Path, report: &'a mut Report) -> Result<Self, ReadError> {
        Ok(Self {
            dir,
            names: names_in(dir)?,
            report,
        })
    }

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
    pub(crate) fn own(
        &mut self,
        stem: &str,
        columns: &'static [Column],
        optional: Optional<'_>,
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
            Some(name) => read_table(&self.dir.join(name), name, columns, optional, self.report),
            None => Ok(None),
        }
    }

    /// True where the job's own table is there with nothing in it: one that she emptied to have it begun anew.
    pub(crate) fn is_blank(&self, stem: &str) -> bool {
        let csv = |n: &str| {
            Path::new(n)
                .extension()
                .is_some_and(|e| e.eq_ignore_ascii_case("csv"))
        };
        let found = self.candidates(stem);
        let [name] = found.as_slice() else {
            return false;
        };
        let path = self.dir.join(name);
        let small = std::fs::metadata(&path).is_ok_and(|m| m.len() < 1024);
        let text = std::fs::read_to_string(path).unwrap_or_else(|_| "?".into());
        csv(name) && small && text.trim_start_matches('\u{FEFF}').trim().is_empty()
    }

    /// The table that `[files]` names, unless that is the job's own.
    pub(crate) fn named(
        &mut self,
        path: Option<&(String, Spot)>,
        stem: &str,
        columns: &'static [Column],
        optional: Optional<'_>,
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
        read_table(&full, text, columns, optional, self.report)
    }

    /// True where there is no file at all, so that its absence is the mistake.
    pub(crate) fn found_none(&self, stem: &str, named: bool) -> bool {
        !named && self.candidates(stem).is_empty()
    }

    pub(crate) fn missing(&mut self, stem: &str, what: &str) {
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
pub(crate) fn read_table(
    path: &Path,
    shown: &str,
    columns: &'static [Column],
    optional: Optional<'_>,
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
        report.caution(spot, NO_ROWS, wrong);
    }
    Ok(Some(table))
}

/// What is found in a table without rows.
pub(crate) const NO_ROWS: &str = "no rows";

pub(crate) fn table_read(table: &RawTable, unit: Unit) -> TableRead {
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
