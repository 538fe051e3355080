//! A table as it stands in the file: every cell with its row as a spreadsheet counts rows, its text, and its place in the
//! line for the caret. Owns separators, quotes and line ends; must not know what a column means.
//!
//! Cells are read by the `csv` crate (RFC 4180, with its usual leniency); a second scan by the same rules finds where each
//! cell stands, because the crate gives only the place of a record.

use super::bytes::{Encoding, decode};
use super::columns::Columns;
use super::report::{Report, Wrong};
use super::rescue::blank_trim;
use super::scan::{OpenQuote, Scan, TooMuch, scan};
use crate::model::Spot;
use std::borrow::Cow;
use std::path::PathBuf;

/// Most rows of one table.
pub(crate) const MOST_ROWS: usize = 100_000;
/// Most cells of one row. The widest table has 25 columns; a thousand is a broken file, not a wide one.
pub(crate) const MOST_COLUMNS: usize = 1_000;
/// Most cells of one table: keeps memory below a gigabyte whatever the file.
pub(crate) const MOST_CELLS: usize = 5_000_000;
/// Most open quote marks that are named; after them no quote mark counts.
const MOST_OPEN_QUOTES: usize = 20;
/// Longest piece of a row that is shown under a mistake.
const SHOWN: usize = 84;

/// How the lines of a file end.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum LineEnd {
    /// Line feed.
    #[default]
    Lf,
    /// Carriage return and line feed.
    CrLf,
    /// Carriage return alone.
    Cr,
}

/// What a cell of a workbook holds beside its text.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(crate) enum CellKind {
    /// Text or a number as it is seen.
    #[default]
    Plain,
    /// A date: year, month, day.
    Date(i16, u8, u8),
    /// A sum, not a value.
    Formula,
    /// A sum that did not work out.
    Failed,
}

/// One cell.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct RawCell {
    /// What it holds, quotes taken off.
    pub text: String,
    /// Where it stands in the row's line, in characters: start and length.
    pub at: (usize, usize),
    pub(crate) kind: CellKind,
}

/// One row.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct RawRow {
    /// As a spreadsheet counts: 1 is the top line, blank lines count, a cell with line breaks in it counts once.
    pub number: usize,
    /// The row as it stands in the file, without its line end. From a workbook: the cells with commas between.
    pub line: String,
    /// Its cells.
    pub cells: Vec<RawCell>,
}

impl RawRow {
    /// True where every cell is blank.
    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(|c| blank_trim(&c.text).is_empty())
    }
}

/// A whole table, kept as it was so that it can be written back without changing what she did not ask to change.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RawTable {
    /// The name she knows it by, e.g. `parts.csv`.
    pub file: String,
    /// Where it is.
    pub path: PathBuf,
    /// Between two cells: comma, semicolon or tab.
    pub separator: char,
    /// How lines end.
    pub line_end: LineEnd,
    /// How the text was stored.
    pub encoding: Encoding,
    /// True for .xlsx and .ods, which are read but never written.
    pub workbook: bool,
    /// True where the file starts with a `sep=` line, as some spreadsheets want.
    pub separator_line: bool,
    /// True where the last line ends with a line end.
    pub ends_with_line_end: bool,
    /// The heading row.
    pub headings: RawRow,
    /// All rows below it, blank ones of a text file left out.
    pub rows: Vec<RawRow>,
    /// Where the known columns stand.
    pub(crate) columns: Columns,
}

impl RawTable {
    /// The cell of a row in a known column; `None` where the table has no such column or the row is too short.
    pub fn cell<'a>(&self, row: &'a RawRow, column: &str) -> Option<&'a RawCell> {
        row.cells.get(self.columns.place(column)?)
    }
    /// Where a known column stands, counted from 0, however its heading is spelt.
    pub fn column(&self, name: &str) -> Option<usize> {
        self.columns.place(name)
    }
    /// Where the columns stand that no reader knows: hers, to be carried through.
    pub fn unknown_columns(&self) -> Vec<usize> {
        let named = |i: &usize| !blank_trim(&self.headings.cells[*i].text).is_empty();
        (0..self.headings.cells.len())
            .filter(|i| !self.columns.knows(*i))
            .filter(named)
            .collect()
    }
    /// The place of a known column in the row of that number.
    pub(crate) fn spot_in(&self, number: usize, column: &str) -> Spot {
        let place = self.columns.place(column);
        let at = self.rows.binary_search_by_key(&number, |r| r.number);
        let mut spot = at.map_or_else(
            |_| Spot {
                file: self.file.clone(),
                row: Some(number),
                ..Spot::default()
            },
            |i| self.spot(&self.rows[i], place),
        );
        if place.is_none() {
            spot.column = Some(column.to_owned());
        }
        spot
    }
    /// The place of a cell, with the row and a caret; without a column, of the row.
    pub(crate) fn spot(&self, row: &RawRow, column: Option<usize>) -> Spot {
        let heading = column.and_then(|c| self.headings.cells.get(c));
        // A cell that a short row does not have would stand at its end.
        let end = row.line.chars().count();
        let at = column.map(|c| row.cells.get(c).map_or((end, 1), |cell| cell.at));
        let (line, caret) = window(&row.line, at);
        Spot {
            file: self.file.clone(),
            row: Some(row.number),
            column: heading.map(|h| blank_trim(&h.text).to_owned()),
            line: Some(line),
            caret,
        }
    }
}

/// The part of a line around a cell, with marks that would break it on the screen made blanks.
pub(crate) fn window(line: &str, at: Option<(usize, usize)>) -> (String, Option<(usize, usize)>) {
    const BEFORE: usize = 40;
    let from = match at {
        Some((start, len)) if start + len > SHOWN => start.saturating_sub(BEFORE),
        _ => 0,
    };
    let mut shown = String::new();
    let lead = if from > 0 { "..." } else { "" };
    shown.push_str(lead);
    let mut rest = line.chars().skip(from);
    shown.extend(
        rest.by_ref()
            .take(SHOWN)
            .map(|c| if c.is_control() { ' ' } else { c }),
    );
    let more = rest.next().is_some();
    let caret = at.map(|(start, len)| {
        let start = start - from;
        (
            start + lead.len(),
            len.clamp(1, SHOWN.saturating_sub(start).max(1)),
        )
    });
    if more {
        shown.push_str("...");
    }
    (shown, caret)
}

/// The separator under which the heading row holds the most known names; of equals the more frequent one.
fn find_separator(first_line: &str, is_known: &dyn Fn(&str) -> bool) -> u8 {
    let score = |separator: u8| {
        let fields = first_line.split(char::from(separator));
        let known = fields
            .filter(|f| is_known(f.trim().trim_matches('"')))
            .count();
        (
            known,
            first_line.bytes().filter(|b| *b == separator).count(),
        )
    };
    // `max_by_key` takes the last of equals, so the comma stands last.
    [b'\t', b';', b',']
        .into_iter()
        .max_by_key(|s| score(*s))
        .unwrap_or(b',')
}

/// Reads a text table. `None` where there is nothing to go on with; why is in the report.
pub(crate) fn read_text_table(
    bytes: Vec<u8>,
    path: PathBuf,
    shown: &str,
    is_known: &dyn Fn(&str) -> bool,
    report: &mut Report,
) -> Option<RawTable> {
    let whole = Spot {
        file: shown.to_owned(),
        ..Spot::default()
    };
    let (text, encoding) = decode(bytes, shown, report);
    let mut body = text.as_str();
    let mut told = None;
    let first = body.lines().next().unwrap_or_default();
    if let Some(mark) = first.trim_end().strip_prefix("sep=")
        && let [mark @ (b',' | b';' | b'\t')] = mark.as_bytes()
    {
        told = Some(*mark);
        body = body[first.len()..].trim_start_matches(['\r', '\n']);
    }
    let heading_line = body
        .lines()
        .flat_map(|l| l.split('\r'))
        .find(|l| !blank_trim(l).is_empty());
    let Some(heading_line) = heading_line else {
        let needed = shown.rsplit(['/', '\\']).next() == Some("stock.csv");
        report.mistake(
            whole,
            "an empty file",
            Wrong::new(
                "There is nothing in it.",
                "a heading row and rows below it",
                if needed {
                    "type the heading and a row for each thing you can buy; `nookwright start NAME` makes a small one to go by."
                } else {
                    "fill it in, or take the file away."
                },
            ),
        );
        return None;
    };
    let separator = told.unwrap_or_else(|| find_separator(heading_line, is_known));
    let mut body = Cow::Borrowed(body);
    let mut open_quotes = 0;
    let scanned = loop {
        let scanned = match scan(&body, separator) {
            Ok(scanned) => scanned,
            Err(too_much) => {
                report_too_much(&too_much, whole, report);
                return None;
            }
        };
        let Some(quote) = scanned.open_quote else {
            break scanned;
        };
        report.mistake(
            open_quote_spot(&body, &scanned, quote, whole.clone()),
            "an open quote mark",
            Wrong::new(
                "A quote mark was opened here and not closed in this row, so rows below it were swallowed.",
                "quote marks in pairs",
                "close it at the end of the cell, or take it out; write an inch mark after the number, not before it.",
            ),
        );
        // Read on as if it were not there: what else is wrong is then said too. Each time takes a look at the whole file.
        open_quotes += 1;
        let blank = if open_quotes < MOST_OPEN_QUOTES {
            " ".to_owned()
        } else {
            body[quote.at..].replace('"', " ")
        };
        body.to_mut()
            .replace_range(quote.at..quote.at + blank.len(), &blank);
    };
    let body = body.as_ref();
    let mut rows = Vec::with_capacity(scanned.records.len());
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(body.as_bytes());
    let mut record = csv::StringRecord::new();
    for place in scanned.records {
        let line = &body[place.start..place.end];
        // The text is valid UTF-8 in memory, so reading fails only where the scan and the crate disagree; the scan then stands.
        if !reader.read_record(&mut record).unwrap_or(false) || record.len() != place.fields.len() {
            record = place.fields.iter().map(|(a, b)| &body[*a..*b]).collect();
        }
        let (mut chars, mut upto) = (0, place.start);
        let mut cells = Vec::with_capacity(record.len());
        for (field, (start, end)) in record.iter().zip(&place.fields) {
            chars += body[upto..*start].chars().count();
            let length = body[*start..*end].chars().count();
            cells.push(RawCell {
                text: field.to_owned(),
                at: (chars, length),
                kind: CellKind::Plain,
            });
            chars += length;
            upto = *end;
        }
        rows.push(RawRow {
            number: place.number,
            line: line.to_owned(),
            cells,
        });
    }
    let columns = rows.first().map_or(0, |r: &RawRow| r.cells.len());
    rows.retain(|r| !other_separator(r, (separator, columns), shown, report));
    let line_end = match body.find(['\r', '\n']) {
        Some(at) if body[at..].starts_with("\r\n") => LineEnd::CrLf,
        Some(at) if body[at..].starts_with('\r') => LineEnd::Cr,
        _ => LineEnd::Lf,
    };
    finish_table(RawTable {
        file: shown.to_owned(),
        path,
        separator: char::from(separator),
        line_end,
        encoding,
        workbook: false,
        separator_line: told.is_some(),
        ends_with_line_end: text.ends_with(['\r', '\n']),
        headings: RawRow::default(),
        rows,
        columns: Columns::default(),
    })
}

/// Says that a row is separated by another mark than the file: as one cell none of its columns could be read.
fn other_separator(
    row: &RawRow,
    (separator, columns): (u8, usize),
    shown: &str,
    report: &mut Report,
) -> bool {
    let [one] = &row.cells[..] else { return false };
    let mark = |c: char| one.text.matches(c).count();
    let other = [(',', "commas"), (';', "semicolons"), ('\t', "tabs")]
        .into_iter()
        .filter(|(c, _)| *c != char::from(separator))
        .max_by_key(|(c, _)| mark(*c));
    let Some((c, name)) = other.filter(|(c, _)| columns > 2 && 2 * mark(*c) >= columns) else {
        return false;
    };
    let spot = Spot {
        file: shown.to_owned(),
        row: Some(row.number),
        line: Some(window(&row.line, None).0),
        ..Spot::default()
    };
    let usual = match separator {
        b';' => "semicolons",
        b'\t' => "tabs",
        _ => "commas",
    };
    report.mistake(
        spot,
        format!("{} {name}", mark(c)),
        Wrong::new(
            format!("The columns of this row are parted by {name}, those of the file by {usual}."),
            format!("{usual} between the columns of every row"),
            format!("type {usual} instead, and put quote marks round a cell that holds one."),
        ),
    );
    true
}

/// Takes the first row that is not blank as the heading. The caller has said what is wrong where there is none.
pub(crate) fn finish_table(mut table: RawTable) -> Option<RawTable> {
    let first = table.rows.iter().position(|r| !r.is_blank())?;
    table.headings = table.rows.drain(..=first).next_back()?;
    Some(table)
}

/// The place of a quote mark that nothing closes: its row, its column, and the rest of its line under a caret.
fn open_quote_spot(body: &str, scanned: &Scan, quote: OpenQuote, whole: Spot) -> Spot {
    let end = body[quote.start..].find(['\r', '\n']);
    let line = &body[quote.start..end.map_or(body.len(), |e| quote.start + e)];
    let before = body[quote.start..quote.at].chars().count();
    let (line, caret) = window(line, Some((before, 1)));
    let column = scanned.records.first().filter(|_| quote.row > 1);
    let heading = column.and_then(|r| r.fields.get(quote.field));
    let heading = heading.map(|(a, b)| blank_trim(body[*a..*b].trim_matches('"')).to_owned());
    Spot {
        row: Some(quote.row),
        column: heading.filter(|h| !h.is_empty()),
        line: Some(line),
        caret,
        ..whole
    }
}

/// Says which limit was passed.
pub(crate) fn report_too_much(what: &TooMuch, mut spot: Spot, report: &mut Report) {
    let (found, expected) = match what {
        TooMuch::Rows => (
            format!("more than {MOST_ROWS} rows"),
            format!("{MOST_ROWS} rows at most"),
        ),
        TooMuch::Columns(row) => {
            spot.row = Some(*row);
            (
                format!("more than {MOST_COLUMNS} cells in one row"),
                format!("{MOST_COLUMNS} cells at most"),
            )
        }
        TooMuch::Cells => (
            format!("more than {MOST_CELLS} cells"),
            format!("{MOST_CELLS} cells at most"),
        ),
    };
    let wrong = Wrong::new(
        "The table is larger than any job needs.",
        expected,
        "check that it is the right file; take out what does not belong to the job.",
    );
    report.mistake(spot, found, wrong);
}
