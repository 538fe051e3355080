//! Where the records and cells of a text table stand, in bytes, by the rules of the csv crate: a quote counts at the start of
//! a cell only, two quotes inside are one, blank lines are no records. Owns places and quotes that nothing closes; must not
//! know what a cell says.

use super::table::{MOST_CELLS, MOST_COLUMNS, MOST_ROWS};

/// Where one record and its fields stand, in bytes.
pub(super) struct Scanned {
    pub(super) number: usize,
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) fields: Vec<(usize, usize)>,
}

/// Which limit a table passed.
pub(crate) enum TooMuch {
    Rows,
    Columns(usize),
    Cells,
}

/// A quote mark that opens a cell and that nothing in its row closes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct OpenQuote {
    /// Its row, as a spreadsheet counts.
    pub(super) row: usize,
    /// Its cell in the row, counted from 0.
    pub(super) field: usize,
    /// Where the row begins and where the mark stands, in bytes.
    pub(super) start: usize,
    pub(super) at: usize,
}

pub(super) struct Scan {
    pub(super) records: Vec<Scanned>,
    /// The first quote mark that was opened and never closed, or closed in a later row by a mark that meant to open.
    pub(super) open_quote: Option<OpenQuote>,
}

/// Finds records and fields; stops at the first quote that nothing closes.
pub(super) fn scan(text: &str, separator: u8) -> Result<Scan, TooMuch> {
    let bytes = text.as_bytes();
    let mut records: Vec<Scanned> = Vec::new();
    let (mut at, mut number, mut cells, mut widest) = (0, 1, 0, 0);
    while at < bytes.len() {
        if let Some(step) = line_end_at(bytes, at) {
            at += step;
            number += 1;
            continue;
        }
        if records.len() > MOST_ROWS {
            return Err(TooMuch::Rows);
        }
        let start = at;
        let mut fields = Vec::new();
        loop {
            let field = at;
            if bytes.get(at) == Some(&b'"') {
                let end = quoted_end(bytes, at);
                let inside = &bytes[at + 1..end.unwrap_or(bytes.len())];
                let follows = end.and_then(|e| bytes.get(e + 1).map(|b| (e + 1, *b)));
                let ends_a_cell =
                    follows.is_none_or(|(e, b)| b == separator || line_end_at(bytes, e).is_some());
                if end.is_none() || swallows(inside, separator, ends_a_cell, widest) {
                    let open_quote = Some(OpenQuote {
                        row: number,
                        field: fields.len(),
                        start,
                        at,
                    });
                    return Ok(Scan {
                        records,
                        open_quote,
                    });
                }
                at = end.map_or(bytes.len(), |e| e + 1);
            }
            while at < bytes.len() && bytes[at] != separator && line_end_at(bytes, at).is_none() {
                at += 1;
            }
            fields.push((field, at));
            if bytes.get(at) == Some(&separator) {
                at += 1;
            } else {
                break;
            }
            if fields.len() > MOST_COLUMNS {
                return Err(TooMuch::Columns(number));
            }
        }
        cells += fields.len();
        if cells > MOST_CELLS {
            return Err(TooMuch::Cells);
        }
        widest = widest.max(fields.len());
        records.push(Scanned {
            number,
            start,
            end: at,
            fields,
        });
        at += line_end_at(bytes, at).unwrap_or(0);
        number += 1;
    }
    Ok(Scan {
        records,
        open_quote: None,
    })
}

/// Where the quote mark stands that closes the one at `at`.
fn quoted_end(bytes: &[u8], at: usize) -> Option<usize> {
    let mut at = at + 1;
    loop {
        match bytes.get(at)? {
            b'"' if bytes.get(at + 1) == Some(&b'"') => at += 2,
            b'"' => return Some(at),
            _ => at += 1,
        }
    }
}

/// True where a cell of several lines is no note of hers but rows that were swallowed: text goes on after its last mark, or
/// one of its lines after the first is parted as a whole row is.
fn swallows(inside: &[u8], separator: u8, ends_a_cell: bool, columns: usize) -> bool {
    /// Fewest parts of a line that are taken for a row: a note may hold a comma or two.
    const ROW: usize = 4;
    let mut lines = inside.split(|b| matches!(b, b'\r' | b'\n')).skip(1);
    if !ends_a_cell {
        return lines.next().is_some();
    }
    let parts = |line: &[u8]| 1 + line.iter().filter(|b| **b == separator).count();
    lines.any(|line| parts(line) >= columns.max(ROW))
}

fn line_end_at(bytes: &[u8], at: usize) -> Option<usize> {
    match (bytes.get(at), bytes.get(at + 1)) {
        (Some(b'\r'), Some(b'\n')) => Some(2),
        (Some(b'\r' | b'\n'), _) => Some(1),
        _ => None,
    }
}
