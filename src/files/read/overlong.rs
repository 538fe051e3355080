//! Rows with more cells than headings. Owns the guess at what split them.

use super::report::{Report, Wrong};
use super::rescue::blank_trim;
use super::table::{RawRow, RawTable};
use super::values;

/// Rows with something in cells that have no heading: usually a comma inside a number split it in two. The row is then out
/// of step with the headings, so nothing more is read from it. `numbers` names the columns that hold numbers, prices
/// first. True = it was reported.
pub(crate) fn overlong_row(
    table: &RawTable,
    row: &RawRow,
    numbers: &[&str],
    report: &mut Report,
) -> bool {
    let width = table.headings.cells.len();
    let extra = row
        .cells
        .iter()
        .enumerate()
        .skip(width)
        .find(|(_, c)| !blank_trim(&c.text).is_empty());
    let text = |i: usize| row.cells.get(i).map_or("", |c| blank_trim(&c.text));
    let figures = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let second_half = |t: &str| match t.split_once('.') {
        Some((whole, cents)) => whole.len() == 3 && figures(whole) && figures(cents),
        None => figures(t) && t.len() <= 3,
    };
    // A row that is too long by blanks alone counts only where it is also out of step: an item that is a number beside
    // one that is not, or a date one cell too late.
    let late = |column: &str, is_it: &dyn Fn(&str) -> bool| {
        let at = table.columns.place(column);
        at.is_some_and(|i| !is_it(text(i)) && is_it(text(i + 1)))
    };
    let item = table.columns.place("item").map_or("", text);
    let out_of_step = row.cells.len() > width
        && (late("item", &|t| !t.is_empty() && !figures(t)) && figures(item)
            || late("priced_on", &|t| values::date(t).is_ok()));
    if extra.is_none() && !out_of_step {
        return false;
    }
    let places = numbers.iter().filter_map(|n| table.columns.place(n));
    let mut halves: Vec<usize> = places
        .filter(|i| figures(text(*i)) && second_half(text(*i + 1)))
        .collect();
    // A price that was cut in two is surer than a size: its second half has two figures.
    let price = |i: &usize| {
        numbers
            .iter()
            .any(|n| n.starts_with("price") && table.columns.place(n) == Some(*i))
    };
    if let Some(sure) = halves
        .iter()
        .copied()
        .find(|i| price(i) && text(*i + 1).len() == 2)
    {
        halves = vec![sure];
    }
    if table.separator == ',' && !halves.is_empty() {
        halves.sort_unstable();
        let (from, to) = (halves[0], halves[halves.len() - 1] + 1);
        let mut spot = table.spot(row, Some(from));
        if let (Some(caret), Some(first), Some(last)) =
            (&mut spot.caret, row.cells.get(from), row.cells.get(to))
        {
            caret.1 = (last.at.0 + last.at.1 - first.at.0).min(60);
        }
        let found = (from..=to).map(text).collect::<Vec<_>>().join(",");
        let (a, b) = (text(from), text(from + 1));
        let mended = match (halves.len(), b.len()) {
            (1, 1 | 2) => format!("{a}.{b}"),
            (1, _) => format!("{a}{b}"),
            _ => "each number with a point, not a comma".into(),
        };
        let wrong = Wrong::new(
            "Comma in a number; this file separates columns with commas, so the number was split in two.",
            mended.clone(),
            format!("type {mended}, or save the file with semicolons."),
        );
        report.mistake(spot, found, wrong);
        return true;
    }
    let Some((at, _)) = extra else {
        return false;
    };
    let wrong = Wrong::new(
        format!("The row has a cell beyond the last of the {width} headings."),
        format!("{width} cells, one for each heading"),
        "put quote marks around a cell with a comma in it, or give the extra column a heading.",
    );
    report.mistake(table.spot(row, Some(at)), text(at), wrong);
    true
}
