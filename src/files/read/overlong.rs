//! Rows with more cells than headings. Owns the guess at what split them, and what of such a row can still be read.

use super::apart;
use super::report::{Report, Wrong};
use super::rescue::blank_trim;
use super::table::{RawRow, RawTable};
use super::values;
use std::borrow::Cow;

/// A row as the headings count it.
pub(crate) enum Step<'a> {
    /// It can be read. `unread` are the places of columns that were reported already, so that nothing more is said of
    /// them; with any of them the row has a mistake in it.
    Read {
        row: Cow<'a, RawRow>,
        unread: Vec<usize>,
    },
    /// Nobody can tell which cell stands under which heading; that was reported.
    Lost,
}

/// Brings a row with something in cells that have no heading into step with the headings: usually a comma inside a number
/// split it in two. `numbers` names the columns that hold numbers.
pub(crate) fn in_step<'a>(
    table: &RawTable,
    row: &'a RawRow,
    numbers: &[&str],
    report: &mut Report,
) -> Step<'a> {
    let as_it_is = Step::Read {
        row: Cow::Borrowed(row),
        unread: Vec::new(),
    };
    let width = table.headings.cells.len();
    let surplus = row.cells.len().saturating_sub(width);
    let extra = (width..row.cells.len()).find(|i| !text(row, *i).is_empty());
    let late = || is_late(table, row, surplus) || has_lone_cents(table, row, surplus, numbers);
    if surplus == 0 || (extra.is_none() && !late()) {
        return as_it_is;
    }
    if table.separator == ','
        && !is_text_apart(table, row, surplus, numbers)
        && let Some((row, unread)) = rejoined(table, row, surplus, numbers, report)
    {
        let row = Cow::Owned(row);
        return Step::Read { row, unread };
    }
    if table.separator == ','
        && !table.workbook
        && (extra.is_some() || is_text_apart(table, row, surplus, numbers))
        && let Some((row, unread)) = apart::put_together(table, row, surplus, numbers, report)
    {
        let row = Cow::Owned(row);
        return Step::Read { row, unread };
    }
    let Some(at) = extra else {
        return as_it_is;
    };
    let wrong = Wrong::new(
        format!("The row has a cell beyond the last of the {width} headings."),
        format!("{width} cells, one for each heading"),
        "put quote marks around a cell with a comma in it, or give the extra column a heading.",
    );
    report.mistake(table.spot(row, Some(at)), text(row, at), wrong);
    Step::Lost
}

/// True where a text in pieces explains the row better than any number in pieces.
fn is_text_apart(table: &RawTable, row: &RawRow, surplus: usize, numbers: &[&str]) -> bool {
    let as_number = halves(table, row, surplus, numbers).into_iter();
    let as_number = as_number.map(|h| apart::in_place(table, row, (h.at, surplus), numbers));
    as_number.max()
        < apart::texts(table, row, surplus, numbers)
            .map(|t| t.0)
            .max()
}

pub(super) fn text(row: &RawRow, at: usize) -> &str {
    row.cells.get(at).map_or("", |c| blank_trim(&c.text))
}

fn figures(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

/// A row that is too long by blanks alone counts only where it is also out of step: an item that is a number beside one
/// that is not, or a date up to `surplus` cells too late.
fn is_late(table: &RawTable, row: &RawRow, surplus: usize) -> bool {
    let late = |column: &str, by: usize, is_it: &dyn Fn(&str) -> bool| {
        let at = table.columns.place(column);
        at.is_some_and(|i| !is_it(text(row, i)) && is_it(text(row, i + by)))
    };
    let item = table.columns.place("item").map_or("", |i| text(row, i));
    (figures(item) && late("item", 1, &|t| !t.is_empty() && !figures(t)))
        || (1..=surplus).any(|by| late("priced_on", by, &|t| values::date(t).is_ok()))
}

/// A price in whole units with two figures behind it that no price begins with: `71,00`.
fn has_lone_cents(table: &RawTable, row: &RawRow, surplus: usize, numbers: &[&str]) -> bool {
    halves(table, row, surplus, numbers)
        .iter()
        .any(|h| h.price && text(row, h.at + 1).starts_with('0'))
}

/// Where the first half of a number stands that a comma may have split, the second half in the next cell.
struct Halves {
    at: usize,
    /// A price whose second half has two figures, or ends in cents: surer than a size.
    price: bool,
}

fn halves(table: &RawTable, row: &RawRow, surplus: usize, numbers: &[&str]) -> Vec<Halves> {
    let second = |t: &str| match t.split_once('.') {
        Some((whole, cents)) => whole.len() == 3 && figures(whole) && figures(cents),
        None => figures(t) && t.len() <= 3,
    };
    let mut found = std::collections::BTreeMap::new();
    for name in numbers {
        let Some(place) = table.columns.place(name) else {
            continue;
        };
        // A number behind a split one stands as many cells late as there were splits before it.
        for at in place..place + surplus {
            let next = text(row, at + 1);
            if figures(text(row, at)) && second(next) {
                let cents = next.len() == 2 || next.contains('.');
                *found.entry(at).or_insert(false) |= name.starts_with("price") && cents;
            }
        }
    }
    found
        .into_iter()
        .map(|(at, price)| Halves { at, price })
        .collect()
}

/// The row with split numbers put together again, each reported, and the columns of which no more is to be said.
fn rejoined(
    table: &RawTable,
    row: &RawRow,
    surplus: usize,
    numbers: &[&str],
    report: &mut Report,
) -> Option<(RawRow, Vec<usize>)> {
    let all = halves(table, row, surplus, numbers);
    let sure = all.iter().any(|h| h.price);
    let maybe: Vec<usize> = all
        .iter()
        .filter(|h| h.price || !sure)
        .map(|h| h.at)
        .collect();
    let (first, last) = (*maybe.first()?, *maybe.last()?);
    // Of two that share a cell only one can be split.
    let mut joins: Vec<usize> = Vec::new();
    for at in &maybe {
        if joins.last().is_none_or(|j| j + 1 < *at) {
            joins.push(*at);
        }
    }
    let width = table.headings.cells.len();
    if joins.len() > surplus && !sure {
        // Any of them may be it: what stands between the first and the last is not read, what follows is in step.
        report_split(table, row, (first, last), first, report);
        let mut whole = row.clone();
        let behind = last + 2;
        let from = behind.saturating_sub(surplus).max(first + 1);
        drop(
            whole
                .cells
                .drain(from..(from + surplus).min(row.cells.len())),
        );
        return Some((whole, (first..from).collect()));
    }
    joins.truncate(surplus);
    let mut whole = row.clone();
    for (n, at) in joins.iter().enumerate() {
        report_split(table, row, (*at, *at), at - n, report);
        drop(whole.cells.remove(at + 1 - n));
    }
    let left = surplus - joins.len();
    let beyond = (width..whole.cells.len()).any(|i| !text(&whole, i).is_empty());
    let unread = if beyond || is_late(table, &whole, left) {
        (joins[0]..width).collect() // more was split than can be told
    } else {
        let doubtful = maybe.len() > joins.len();
        let prices = numbers
            .iter()
            .filter(|n| n.starts_with("price") && doubtful);
        let joined = joins.iter().enumerate().map(|(n, at)| at - n);
        joined
            .chain(prices.filter_map(|n| table.columns.place(n)))
            .collect()
    };
    Some((whole, unread))
}

/// Says that the cells from `first` to the one after `last` are numbers in pieces, the first of them of a column.
fn report_split(
    table: &RawTable,
    row: &RawRow,
    (first, last): (usize, usize),
    column: usize,
    report: &mut Report,
) {
    let mut spot = table.spot(row, Some(first));
    spot.column = table.spot(row, Some(column)).column;
    if let (Some(caret), Some(from), Some(to)) = (
        &mut spot.caret,
        row.cells.get(first),
        row.cells.get(last + 1),
    ) {
        caret.1 = (to.at.0 + to.at.1 - from.at.0).min(60);
    }
    let found = (first..=last + 1)
        .map(|i| text(row, i))
        .collect::<Vec<_>>()
        .join(",");
    let (a, b) = (text(row, first), text(row, first + 1));
    let mended = match (last - first, b.len()) {
        (0, 1 | 2) => format!("{a}.{b}"),
        (0, _) => format!("{a}{b}"),
        _ => "each number with a point, not a comma".into(),
    };
    let wrong = Wrong::new(
        "Comma in a number; this file separates columns with commas, so the number was split in two.",
        mended.clone(),
        format!("type {mended}, or save the file with semicolons."),
    );
    report.mistake(spot, found, wrong);
}
