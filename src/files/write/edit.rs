//! Changing a table of hers: cells of a row, a row taken out, or one added at the end. Every other byte stays: column order, separator,
//! quotes, unknown columns, blank rows, line ends, the mark at the start of the file.

use super::cell::{quoted, safe_cell};
use super::error::WriteError;
use super::kept::{keep_copy, replace_file};
use std::path::{Path, PathBuf};

/// One change. Columns are counted from 0 in the order of her file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum CsvEdit {
    /// New text for cells of a row (rows as a spreadsheet counts, the heading is usually row 1).
    Set {
        /// The row.
        row: usize,
        /// Column and new text.
        cells: Vec<(usize, String)>,
    },
    /// A row taken out, its line end with it.
    Remove {
        /// The row.
        row: usize,
    },
    /// A new row below the last one that holds something.
    Add {
        /// Its cells.
        cells: Vec<String>,
    },
}

/// Changes a table on disk and keeps the old one. Returns where the old one is kept.
pub fn change_csv(
    path: &Path,
    kept: &Path,
    separator: char,
    edits: &[CsvEdit],
) -> Result<PathBuf, WriteError> {
    let workbook = path.extension().is_some_and(|e| {
        ["xlsx", "xlsm", "ods", "xls"].contains(&e.to_string_lossy().to_ascii_lowercase().as_str())
    });
    if workbook {
        return Err(WriteError::Workbook(path.to_owned()));
    }
    let old = std::fs::read(path).map_err(WriteError::io(path, "read"))?;
    let text = std::str::from_utf8(&old).map_err(|_| WriteError::Encoding(path.to_owned()))?;
    let new = changed(text, separator, edits).map_err(|row| WriteError::NoRow {
        path: path.to_owned(),
        row,
    })?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let copy = keep_copy(kept, &name, &old)?;
    replace_file(path, new.as_bytes())?;
    Ok(copy)
}

/// A new table of hers with a heading row, for a file that is not there yet.
pub fn new_csv(path: &Path, headings: &[&str], rows: &[Vec<String>]) -> Result<(), WriteError> {
    let mut text = headings.join(",") + "\n";
    for row in rows {
        text.push_str(&line_of(row, ',', 0));
        text.push('\n');
    }
    replace_file(path, text.as_bytes())
}

/// One record: where it starts, where its cells stand, where its line ends.
struct Record {
    row: usize,
    cells: Vec<(usize, usize)>,
    end: usize,
}

/// The text after the changes; `Err` names a row that is not there.
fn changed(text: &str, separator: char, edits: &[CsvEdit]) -> Result<String, usize> {
    let records = records(text, separator);
    let ends_with = match text.find(['\r', '\n']) {
        Some(at) if text[at..].starts_with("\r\n") => "\r\n",
        Some(at) if text[at..].starts_with('\r') => "\r",
        _ => "\n",
    };
    let width = records.first().map_or(0, |r| r.cells.len());
    // (from, to, new text), applied from the back so that places stay right.
    let mut swaps: Vec<(usize, usize, String)> = Vec::new();
    let stays = |r: &&Record| !edits.contains(&CsvEdit::Remove { row: r.row });
    let last = records
        .iter()
        .filter(stays)
        .rfind(|r| r.cells.iter().any(|(a, b)| !text[*a..*b].trim().is_empty()))
        .map_or(text.len(), |r| r.end);
    let mut added = String::new();
    for edit in edits {
        match edit {
            CsvEdit::Set { row, cells } => {
                let record = records.iter().find(|r| r.row == *row).ok_or(*row)?;
                let mut cells = cells.clone();
                cells.sort();
                let mut short = String::new();
                let mut reach = record.cells.len();
                for (column, new) in cells {
                    let new = quoted(&safe_cell(&new), separator).into_owned();
                    if let Some((a, b)) = record.cells.get(column) {
                        swaps.push((*a, *b, new));
                        continue;
                    }
                    // The row is shorter than the heading: fill up to the column.
                    short.extend(std::iter::repeat_n(separator, column + 1 - reach));
                    short.push_str(&new);
                    reach = column + 1;
                }
                if !short.is_empty() {
                    swaps.push((record.end, record.end, short));
                }
            }
            CsvEdit::Remove { row } => {
                let record = records.iter().find(|r| r.row == *row).ok_or(*row)?;
                let start = record.cells.first().map_or(record.end, |c| c.0);
                let end = record.end + line_end(text.as_bytes(), record.end);
                swaps.push((start, end, String::new()));
            }
            CsvEdit::Add { cells } => {
                added.push_str(ends_with);
                added.push_str(&line_of(cells, separator, width));
            }
        }
    }
    if !added.is_empty() {
        swaps.push((last, last, added));
    }
    // Of two changes at one place the one pushed later goes behind, so it is put in first.
    let mut order: Vec<usize> = (0..swaps.len()).collect();
    order.sort_by_key(|i| (swaps[*i].0, *i));
    let mut out = text.to_owned();
    for i in order.into_iter().rev() {
        let (from, to, new) = &swaps[i];
        out.replace_range(*from..*to, new);
    }
    Ok(out)
}

/// A row of hers; filled up with blanks to the width of the heading.
fn line_of(cells: &[String], separator: char, width: usize) -> String {
    let mut line = String::new();
    for i in 0..cells.len().max(width) {
        if i > 0 {
            line.push(separator);
        }
        if let Some(cell) = cells.get(i) {
            line.push_str(&quoted(&safe_cell(cell), separator));
        }
    }
    line
}

/// Records by RFC 4180: a quote counts at the start of a cell, two inside are one. Rows count as a spreadsheet counts
/// them: blank lines count, a line break inside quotes does not.
fn records(text: &str, separator: char) -> Vec<Record> {
    let mut out = Vec::new();
    let bytes = text.as_bytes();
    let mut at = if text.starts_with('\u{FEFF}') { 3 } else { 0 };
    let mut row = 1;
    // A `sep=;` line at the top is the spreadsheet's own and no row.
    if text[at..].starts_with("sep=") {
        while at < bytes.len() && line_end(bytes, at) == 0 {
            at += 1;
        }
        at += line_end(bytes, at);
    }
    let mut mark = [0; 4];
    let separator = separator.encode_utf8(&mut mark).as_bytes()[0];
    while at < bytes.len() {
        let mut cells = Vec::new();
        loop {
            let from = at;
            if bytes.get(at) == Some(&b'"') {
                at += 1;
                while at < bytes.len() {
                    if bytes[at] == b'"' {
                        at += 1;
                        if bytes.get(at) != Some(&b'"') {
                            break;
                        }
                    }
                    at += 1;
                }
            }
            while at < bytes.len() && bytes[at] != separator && line_end(bytes, at) == 0 {
                at += 1;
            }
            cells.push((from, at));
            if bytes.get(at) == Some(&separator) {
                at += 1;
            } else {
                break;
            }
        }
        out.push(Record {
            row,
            cells,
            end: at,
        });
        row += 1;
        at += line_end(bytes, at);
    }
    out
}

/// Length of the line end that stands here; 0 = none.
fn line_end(bytes: &[u8], at: usize) -> usize {
    match (bytes.get(at), bytes.get(at + 1)) {
        (Some(b'\r'), Some(b'\n')) => 2,
        (Some(b'\r' | b'\n'), _) => 1,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(row: usize, column: usize, text: &str) -> CsvEdit {
        CsvEdit::Set {
            row,
            cells: vec![(column, text.into())],
        }
    }

    #[test]
    fn only_the_cell_changes() {
        let old = "\u{FEFF}mark;\"what; is\";state;hers\r\nR-01;\"a\r\nb\";ready;x\r\n;;;\r\nR-02;c;ready;=1+1\r\n\r\n";
        let new = changed(old, ';', &[set(2, 2, "spent")]).expect("row 2");
        assert_eq!(new, old.replacen("ready", "spent", 1));
        let new = changed(old, ';', &[set(4, 2, "spent; all")]).expect("row 4");
        assert_eq!(new, old.replace("c;ready", "c;\"spent; all\""));
        assert_eq!(changed(old, ';', &[set(9, 0, "x")]), Err(9));
    }

    #[test]
    fn a_row_goes_below_the_last_full_one() {
        let add = CsvEdit::Add {
            cells: vec!["R-03".into(), "=x".into()],
        };
        assert_eq!(
            changed(
                "mark,what,hers\nR-01,a,\n,,\n",
                ',',
                std::slice::from_ref(&add)
            ),
            Ok("mark,what,hers\nR-01,a,\nR-03,'=x,\n,,\n".into())
        );
        assert_eq!(
            changed("mark,what", ',', &[add]),
            Ok("mark,what\nR-03,'=x".into())
        );
    }

    #[test]
    fn a_row_taken_out_leaves_no_blank_line() {
        let remove = |row| CsvEdit::Remove { row };
        let add = CsvEdit::Add {
            cells: vec!["R-03".into()],
        };
        let old = "mark,what\r\nR-01,\"a\r\nb\"\r\nR-02,c";
        assert_eq!(
            changed(old, ',', &[remove(2)]),
            Ok("mark,what\r\nR-02,c".into())
        );
        // The last one goes and another comes: the new one stands below the one that stays.
        assert_eq!(
            changed(old, ',', &[remove(3), add]),
            Ok("mark,what\r\nR-01,\"a\r\nb\"\r\nR-03,\r\n".into())
        );
        assert_eq!(changed(old, ',', &[remove(4)]), Err(4));
    }

    #[test]
    fn a_short_row_is_filled_up() {
        assert_eq!(
            changed("a,b,c,d\n1\n", ',', &[set(2, 2, "x")]),
            Ok("a,b,c,d\n1,,x\n".into())
        );
    }

    #[test]
    fn the_old_file_is_kept_and_a_workbook_never_touched() {
        let dir = tempfile::tempdir().expect("folder");
        let path = dir.path().join("offcuts.csv");
        std::fs::write(&path, "mark\nR-01\n").expect("written");
        let kept = dir.path().join("kept");
        let copy = change_csv(&path, &kept, ',', &[set(2, 0, "R-02")]).expect("changed");
        assert_eq!(std::fs::read_to_string(copy).expect("kept"), "mark\nR-01\n");
        assert_eq!(
            std::fs::read_to_string(&path).expect("there"),
            "mark\nR-02\n"
        );
        let book = dir.path().join("offcuts.xlsx");
        std::fs::write(&book, "x").expect("written");
        assert!(matches!(
            change_csv(&book, &kept, ',', &[]),
            Err(WriteError::Workbook(_))
        ));
    }
}
