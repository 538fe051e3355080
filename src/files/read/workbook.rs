//! A workbook (.xlsx, .ods) read as a table: its first sheet that can be seen, each number as it is shown, dates marked as
//! dates so that a fraction the spreadsheet turned into one can be named. Reads only; a workbook is never written.
//!
//! **Bombs.** What the archive says its parts unzip to is added up before anything is unzipped, from every directory
//! record in the file; the zip reader itself stops where a part grows past what it said. Cells of an .xlsx are read one
//! by one, so a single cell far out costs nothing. The text of all cells together is limited, because one shared text may
//! be named by many cells.

use super::bytes::{Encoding, MOST_BYTES};
use super::columns::Columns;
use super::report::{Report, Wrong};
use super::scan::TooMuch;
use super::table::{
    CellKind, LineEnd, MOST_CELLS, MOST_COLUMNS, MOST_ROWS, RawCell, RawRow, RawTable,
    finish_table, report_too_much,
};
use crate::model::Spot;
use calamine::{Data, DataRef, Ods, Reader, SheetType, SheetVisible, Xlsx, XlsxError};
use std::collections::BTreeMap;
use std::io::Cursor;
use std::path::PathBuf;

/// Most letters of all cells together.
const MOST_TEXT: usize = 2 * MOST_BYTES as usize;

/// Cells of a sheet by row and column, counted from 0; blank ones left out.
#[derive(Default)]
struct Sheet {
    rows: BTreeMap<u32, BTreeMap<u32, RawCell>>,
    cells: usize,
    text: usize,
}

/// Why a workbook is no table.
enum NoTable {
    TooMuch(TooMuch),
    TooLarge,
    NoSheet,
    Locked,
    Broken(String),
}

/// Reads the first sheet. `None` where there is nothing to go on with; why is in the report.
pub(crate) fn read_workbook(
    bytes: Vec<u8>,
    path: PathBuf,
    shown: &str,
    report: &mut Report,
) -> Option<RawTable> {
    let is_ods = path
        .extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("ods"));
    let sheet = if bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        Err(NoTable::Locked)
    } else if !bytes.starts_with(b"PK") {
        Err(NoTable::Broken("it is no workbook".into()))
    } else if unzipped_size(&bytes) > MOST_BYTES {
        Err(NoTable::TooLarge)
    } else {
        // The reader of a damaged workbook may give up with a panic; for her that is one more damaged file.
        std::panic::catch_unwind(|| {
            if is_ods {
                read_ods(bytes)
            } else {
                read_xlsx(bytes)
            }
        })
        .unwrap_or_else(|_| Err(NoTable::Broken("its parts do not fit together".into())))
    };
    match sheet {
        Ok(sheet) if sheet.rows.is_empty() => {
            let wrong = Wrong::new(
                "The first sheet of the workbook is empty.",
                "a heading row and rows below it",
                "move the list to the first sheet.",
            );
            report.mistake(
                Spot {
                    file: shown.to_owned(),
                    ..Spot::default()
                },
                "an empty sheet",
                wrong,
            );
            None
        }
        Ok(sheet) if sheet.width_in_all() > MOST_CELLS => {
            say_why(&NoTable::TooMuch(TooMuch::Cells), shown, report);
            None
        }
        Ok(sheet) => finish_table(as_table(sheet, path, shown)),
        Err(why) => {
            say_why(&why, shown, report);
            None
        }
    }
}

fn say_why(why: &NoTable, shown: &str, report: &mut Report) {
    let spot = Spot {
        file: shown.to_owned(),
        ..Spot::default()
    };
    let fix = "open it in the spreadsheet and save it again, or save the sheet as \"CSV UTF-8\".";
    let (found, why, expected) = match why {
        NoTable::TooMuch(what) => return report_too_much(what, spot, report),
        NoTable::TooLarge => (
            "a workbook of more than 50 MB when unzipped",
            "The workbook is larger than anything a job needs.".to_owned(),
            "50 MB at most when unzipped",
        ),
        NoTable::NoSheet => (
            "a workbook without a sheet",
            "No sheet with cells can be seen in it.".to_owned(),
            "a list on the first sheet",
        ),
        NoTable::Locked => (
            "a locked or old workbook",
            "It is locked with a password, or in the format of before 2007.".to_owned(),
            "an open .xlsx or .ods workbook",
        ),
        NoTable::Broken(what) => (
            "a damaged workbook",
            format!("It cannot be read: {what}."),
            "a workbook that the spreadsheet opens",
        ),
    };
    report.mistake(spot, found, Wrong::new(why, expected, fix));
}

/// What all parts of the archive say they unzip to, from every directory record in the file (PKWARE APPNOTE 4.3.12:
/// signature `PK 01 02`, uncompressed size 24 bytes on). A part of 4 GB or more says so by a full field, which is over
/// the limit anyway. A record that no directory names counts too: rather too much than too little.
fn unzipped_size(bytes: &[u8]) -> u64 {
    const RECORD: &[u8] = b"PK\x01\x02";
    let mut total = 0_u64;
    for (at, window) in bytes.windows(RECORD.len()).enumerate() {
        if window == RECORD
            && let Some(&[a, b, c, d]) = bytes.get(at + 24..at + 28)
        {
            total += u64::from(u32::from_le_bytes([a, b, c, d]));
        }
    }
    total
}

impl Sheet {
    /// Cells of the table with the blank ones between: one cell far out in every row would make a wide table.
    fn width_in_all(&self) -> usize {
        let last =
            |row: &BTreeMap<u32, RawCell>| row.keys().next_back().map_or(0, |c| *c as usize + 1);
        self.rows.values().map(last).sum()
    }

    fn put(&mut self, row: u32, column: u32, text: String, kind: CellKind) -> Result<(), NoTable> {
        if text.trim().is_empty() && kind == CellKind::Plain {
            return Ok(());
        }
        self.cells += 1;
        self.text += text.len();
        if column as usize > MOST_COLUMNS {
            return Err(NoTable::TooMuch(TooMuch::Columns(row as usize + 1)));
        }
        if self.cells > MOST_CELLS || self.text > MOST_TEXT {
            return Err(NoTable::TooMuch(TooMuch::Cells));
        }
        let at = (0, 0);
        self.rows
            .entry(row)
            .or_default()
            .insert(column, RawCell { text, at, kind });
        if self.rows.len() > MOST_ROWS + 1 {
            return Err(NoTable::TooMuch(TooMuch::Rows));
        }
        Ok(())
    }
}

fn read_xlsx(bytes: Vec<u8>) -> Result<Sheet, NoTable> {
    let broken = |e: XlsxError| match e {
        XlsxError::Password => NoTable::Locked,
        other => NoTable::Broken(other.to_string()),
    };
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(broken)?;
    let name = first_sheet(book.sheets_metadata()).ok_or(NoTable::NoSheet)?;
    let mut cells = book.worksheet_cells_reader(&name).map_err(broken)?;
    let mut sheet = Sheet::default();
    while let Some(cell) = cells.next_cell_with_formula_metadata().map_err(broken)? {
        let ((row, column), formula) = (cell.pos, cell.formula.is_some());
        let (text, kind) = match cell.value {
            DataRef::Empty if formula => (String::new(), CellKind::Formula),
            DataRef::Empty => continue,
            DataRef::Int(n) => (n.to_string(), CellKind::Plain),
            DataRef::Float(n) => (number_text(n), CellKind::Plain),
            DataRef::String(s) | DataRef::DurationIso(s) => (s, CellKind::Plain),
            DataRef::SharedString(s) => {
                sheet.text += s.len();
                if sheet.text > MOST_TEXT {
                    return Err(NoTable::TooMuch(TooMuch::Cells));
                }
                (s.to_owned(), CellKind::Plain)
            }
            DataRef::Bool(b) => (if b { "yes" } else { "no" }.into(), CellKind::Plain),
            DataRef::DateTime(d) if d.is_datetime() => {
                let (y, m, d, ..) = d.to_ymd_hms_milli();
                date_cell(i16::try_from(y).unwrap_or(0), m, d)
            }
            DataRef::DateTime(d) => (
                format!("a time of {} h", number_text(d.as_f64() * 24.0)),
                CellKind::Plain,
            ),
            DataRef::DateTimeIso(s) => iso_cell(s),
            DataRef::Error(e) => (e.to_string(), CellKind::Failed),
        };
        sheet.put(row, column, text, kind)?;
    }
    Ok(sheet)
}

fn read_ods(bytes: Vec<u8>) -> Result<Sheet, NoTable> {
    let broken = |e: calamine::OdsError| match e {
        calamine::OdsError::Password => NoTable::Locked,
        other => NoTable::Broken(other.to_string()),
    };
    let mut book = Ods::new(Cursor::new(bytes)).map_err(broken)?;
    let name = first_sheet(book.sheets_metadata()).ok_or(NoTable::NoSheet)?;
    let range = book.worksheet_range(&name).map_err(broken)?;
    let formulas = book.worksheet_formula(&name).map_err(broken)?;
    let mut sheet = Sheet::default();
    // A sum without a value would vanish with the blanks, so sums are put first and values over them.
    if let Some((top, left)) = formulas.start() {
        for (row, column, formula) in formulas.used_cells() {
            let at = (top + row as u32, left + column as u32);
            if !formula.is_empty() && range.get_value(at).is_none_or(|v| *v == Data::Empty) {
                sheet.put(at.0, at.1, String::new(), CellKind::Formula)?;
            }
        }
    }
    let (top, left) = range.start().unwrap_or_default();
    for (row, column, value) in range.used_cells() {
        let (text, kind) = match value {
            Data::Empty => continue,
            Data::Int(n) => (n.to_string(), CellKind::Plain),
            Data::Float(n) => (number_text(*n), CellKind::Plain),
            Data::String(s) | Data::DurationIso(s) => (s.clone(), CellKind::Plain),
            Data::Bool(b) => (if *b { "yes" } else { "no" }.into(), CellKind::Plain),
            Data::DateTime(d) => {
                let (y, m, d, ..) = d.to_ymd_hms_milli();
                date_cell(i16::try_from(y).unwrap_or(0), m, d)
            }
            Data::DateTimeIso(s) => iso_cell(s.clone()),
            Data::Error(e) => (e.to_string(), CellKind::Failed),
        };
        sheet.put(top + row as u32, left + column as u32, text, kind)?;
    }
    Ok(sheet)
}

/// The first sheet of cells that is not hidden.
fn first_sheet(sheets: &[calamine::Sheet]) -> Option<String> {
    sheets
        .iter()
        .find(|s| s.typ == SheetType::WorkSheet && s.visible == SheetVisible::Visible)
        .map(|s| s.name.clone())
}

fn date_cell(year: i16, month: u8, day: u8) -> (String, CellKind) {
    (
        format!("{year:04}-{month:02}-{day:02}"),
        CellKind::Date(year, month, day),
    )
}

fn iso_cell(text: String) -> (String, CellKind) {
    let mut parts = text.split(['-', 'T', ' ']);
    let date = (|| {
        let year = parts.next()?.parse().ok()?;
        Some((
            year,
            parts.next()?.parse().ok()?,
            parts.next()?.parse().ok()?,
        ))
    })();
    match date {
        Some((year, month, day)) => date_cell(year, month, day),
        None => (text, CellKind::Plain),
    }
}

/// A number as a spreadsheet shows it in full: 15 figures at most, without an exponent, so that 23.1 stored as the
/// nearest binary fraction is 23.1 again.
fn number_text(number: f64) -> String {
    if !number.is_finite() || number.abs() >= 1e15 {
        return format!("{number:e}");
    }
    let shown: f64 = format!("{number:.14e}").parse().unwrap_or(number);
    // A negative nothing is nothing.
    let shown = if shown == 0.0 { 0.0 } else { shown };
    format!("{shown}")
}

fn as_table(sheet: Sheet, path: PathBuf, shown: &str) -> RawTable {
    let mut rows = Vec::with_capacity(sheet.rows.len());
    for (number, found) in sheet.rows {
        let last = found.keys().next_back().copied().unwrap_or(0);
        let mut cells: Vec<RawCell> = Vec::with_capacity(last as usize + 1);
        let mut line = String::new();
        let mut chars = 0;
        let mut found = found;
        for column in 0..=last {
            if column > 0 {
                line.push(',');
                chars += 1;
            }
            let mut cell = found.remove(&column).unwrap_or_default();
            let quoted = if cell.text.contains([',', '"', '\n']) {
                format!("\"{}\"", cell.text.replace('"', "\"\""))
            } else {
                cell.text.clone()
            };
            let length = quoted.chars().count();
            cell.at = (chars, length);
            chars += length;
            line.push_str(&quoted);
            cells.push(cell);
        }
        rows.push(RawRow {
            number: number as usize + 1,
            line,
            cells,
        });
    }
    RawTable {
        file: shown.to_owned(),
        path,
        separator: ',',
        line_end: LineEnd::Lf,
        encoding: Encoding::Utf8,
        workbook: true,
        separator_line: false,
        ends_with_line_end: true,
        headings: RawRow::default(),
        rows,
        columns: Columns::default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_shown_as_a_spreadsheet_shows_them() {
        for (number, text) in [
            (23.25, "23.25"),
            (96.0, "96"),
            (0.1 + 0.2, "0.3"),
            (20.7188, "20.7188"),
            (-0.0, "0"),
        ] {
            assert_eq!(number_text(number), text);
        }
    }
}
