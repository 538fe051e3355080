//! A comma inside a text without quote marks: it makes one cell two. Owns the guess at which cell it was, told by where the
//! numbers of the row come to stand.

use super::overlong::text;
use super::report::{Report, Wrong};
use super::table::{RawRow, RawTable};
use super::values;

/// A row with `surplus` cells too many, brought into step behind the text that was split; the columns it can be are reported,
/// and come back as places that are not to be read. `None` = nobody can tell. `numbers`: columns that hold numbers.
pub(super) fn put_together(
    table: &RawTable,
    row: &RawRow,
    surplus: usize,
    numbers: &[&str],
    report: &mut Report,
) -> Option<(RawRow, Vec<usize>)> {
    let width = table.headings.cells.len();
    let each: Vec<(usize, usize)> = texts(table, row, surplus, numbers).collect();
    let most = each.iter().map(|e| e.0).max()?;
    let mut maybe: Vec<usize> = (each.iter()).filter(|e| e.0 == most).map(|e| e.1).collect();
    // In a text a blank follows the comma, between cells seldom.
    let blank_after = |c: &usize| {
        (c + 1..=c + surplus).all(|i| {
            let cell = row.cells.get(i);
            cell.is_some_and(|c| c.text.len() > 1 && c.text.starts_with(' '))
        })
    };
    if maybe.iter().any(blank_after) {
        maybe.retain(blank_after);
    }
    let (first, last) = (*maybe.first()?, *maybe.last()?);
    if last - first + 1 >= width {
        return None;
    }
    report_apart(table, row, (first, last, surplus), report);
    let mut whole = row.clone();
    drop(whole.cells.drain(last + 1..=last + surplus));
    Some((whole, (first..=last).collect()))
}

/// The columns that hold no numbers, each with how well the row stands if its text is in pieces.
pub(super) fn texts<'a>(
    table: &'a RawTable,
    row: &'a RawRow,
    surplus: usize,
    numbers: &'a [&str],
) -> impl Iterator<Item = (usize, usize)> + 'a {
    let places = numbers.iter().filter_map(|n| table.columns.place(n));
    let places: Vec<usize> = places.collect();
    let texts = (0..table.headings.cells.len()).filter(move |c| !places.contains(c));
    texts.map(move |c| (in_place(table, row, (c, surplus), numbers), c))
}

/// How well numbers and dates stand in their columns if the cell of column `c` is in pieces.
pub(super) fn in_place(
    table: &RawTable,
    row: &RawRow,
    (c, surplus): (usize, usize),
    numbers: &[&str],
) -> usize {
    let at = |place: usize| text(row, if place > c { place + surplus } else { place });
    let number = |t: &str| t.starts_with(|c: char| c.is_ascii_digit() || "?-.$".contains(c));
    let score = |t: &str, is_it: bool| match (t.is_empty(), is_it) {
        (true, _) => 1,
        (false, true) => 2,
        (false, false) => 0,
    };
    let places = numbers.iter().filter_map(|n| table.columns.place(n));
    let counted = places.map(|p| score(at(p), number(at(p))));
    let dates = table.columns.place("priced_on").into_iter();
    let dated = dates.map(|p| score(at(p), values::date(at(p)).is_ok()));
    counted.chain(dated).sum()
}

fn report_apart(
    table: &RawTable,
    row: &RawRow,
    (first, last, surplus): (usize, usize, usize),
    report: &mut Report,
) {
    let cells = first..=(last + surplus).min(row.cells.len() - 1);
    let found = cells
        .clone()
        .map(|i| row.cells[i].text.as_str())
        .collect::<Vec<_>>()
        .join(",");
    let mut spot = table.spot(row, Some(first));
    if let (Some(caret), Some(from), Some(to)) = (
        &mut spot.caret,
        row.cells.get(first),
        row.cells.get(*cells.end()),
    ) {
        caret.1 = (to.at.0 + to.at.1 - from.at.0).clamp(1, 60);
    }
    let wrong = if first == last {
        Wrong::new(
            "Comma in a text; this file separates columns with commas, so the text was split.",
            "the text in quote marks",
            format!("type \"{found}\", quote marks and all."),
        )
    } else {
        let heading = |c: usize| text(&table.headings, c);
        let between = format!("between {} and {}", heading(first), heading(last));
        Wrong::new(
            format!("The row has {surplus} cells too many, from a comma in a text {between}."),
            "quote marks around the text",
            "put quote marks around the text with the comma in it.",
        )
    };
    report.mistake(spot, found, wrong);
}
