//! parts.csv: the cut list. Owns its columns and what one row alone can get wrong; whether a part comes out of a sheet is
//! for the cross checks.

use super::columns::{Column, maybe, needed};
use super::doubt;
use super::near::did_you_mean;
use super::overlong::{Step, in_step};
use super::report::{Report, Wrong};
use super::row::{Row, TableRead};
use super::table::RawTable;
use super::values::MOST_PIECES;
use crate::model::{Band, Grain, Part, PartSize, StockKind, StockRow};
use crate::units::Length;
use std::collections::{BTreeMap, BTreeSet};

/// The columns of parts.csv, with other headings that can mean nothing else.
pub(crate) const COLUMNS: &[Column] = &[
    needed(
        "mark",
        &["part", "id", "label", "ref", "part_mark", "part_no", "no"],
    ),
    needed("what", &["name", "description", "part_name"]),
    needed(
        "how_many",
        &["qty", "quantity", "count", "pcs", "pieces", "number"],
    ),
    needed("length", &["len", "l", "long"]),
    needed("width", &["w", "wide"]),
    needed("item", &["material", "stock", "sheet", "stock_item"]),
    maybe("box", &["cabinet", "unit"]),
    maybe("route", &[]),
    maybe("grain", &["grain_direction"]),
    maybe("band", &["banding", "edge_banding", "banded_edges"]),
    maybe("band_item", &["banding_item"]),
    maybe("band_in_size", &["banding_in_size"]),
    maybe("match", &["match_group"]),
    maybe("spare", &["spares", "extra"]),
    maybe("keep", &[]),
    maybe("from", &[]),
    maybe(
        "note",
        &["notes", "remark", "remarks", "comment", "comments"],
    ),
];

const NUMBERS: &[&str] = &["length", "width", "how_many", "spare"];

/// What the rows of the list are read against.
pub(crate) struct Against<'a> {
    /// The stock; `None` = only a cut list was given, and every item is a sheet.
    pub(crate) stock: Option<&'a [StockRow]>,
    /// Items that stand in stock.csv with a mistake in their row; `None` = the whole file could not be read.
    pub(crate) broken: Option<&'a BTreeSet<String>>,
    /// Names of the routes; empty = not known.
    pub(crate) routes: &'a [String],
}

impl Against<'_> {
    fn row(&self, item: &str) -> Option<&StockRow> {
        self.stock?.iter().find(|s| s.item == item)
    }
    /// True where nothing can be said of an item because its own row is not in order.
    fn is_unsure(&self, item: &str) -> bool {
        self.stock.is_some() && self.broken.is_none_or(|b| b.contains(item))
    }
}

/// True where the rows are cut from sticks only, so that a column `width` is not needed.
pub(crate) fn sticks_only(table: &RawTable, stock: Option<&[StockRow]>) -> bool {
    use super::columns::is_known;
    use super::rescue::blank_trim;
    let Some(stock) = stock else { return false };
    let item = table
        .headings
        .cells
        .iter()
        .position(|h| is_known(&[needed("item", &["material", "stock"])], &h.text));
    let Some(item) = item else { return false };
    let mut items = table
        .rows
        .iter()
        .filter(|r| !r.is_blank())
        .filter_map(|r| r.cells.get(item))
        .peekable();
    items.peek().is_some()
        && items.all(|c| {
            let found = stock.iter().find(|s| s.item == blank_trim(&c.text));
            found.is_some_and(|s| matches!(s.kind, StockKind::Moulding | StockKind::Board))
        })
}

/// Reads every row that can be read.
pub(crate) fn read_parts(
    table: &RawTable,
    against: &Against<'_>,
    read: TableRead,
    report: &mut Report,
) -> Vec<Part> {
    let mut parts = Vec::new();
    if !table.columns.complete {
        return parts;
    }
    let mut marks: BTreeMap<String, usize> = BTreeMap::new();
    let mut pieces: u64 = 0;
    let mut over = false;
    for raw in table.rows.iter().filter(|r| !r.is_blank()) {
        let Step::Read { row: raw, unread } = in_step(table, raw, NUMBERS, report) else {
            continue;
        };
        let mut row = Row::new(table, &raw, read, report).without(unread);
        row.most = doubt::LONGEST_PART;
        let part = read_part(&mut row, against);
        let mark = row.text("mark");
        if !mark.is_empty()
            && let Some(first) = marks.insert(mark.clone(), raw.number)
        {
            let wrong = Wrong::new(
                format!("Row {first} has the same mark, and a mark names one kind of part."),
                "a mark that no other row has",
                "give this row another mark, or add its count to the other row.",
            );
            row.wrong("mark", &mark, wrong);
        }
        if let Some(part) = &part {
            pieces += u64::from(part.how_many) + u64::from(part.spare);
            if pieces > u64::from(MOST_PIECES) && !over {
                over = true;
                let wrong = Wrong::new(
                    format!("With this row the list has more than {MOST_PIECES} pieces."),
                    format!("{MOST_PIECES} pieces at most"),
                    "split the list into several jobs.",
                );
                row.wrong("how_many", &part.how_many.to_string(), wrong);
            }
        }
        if row.good {
            parts.extend(part);
        }
    }
    parts
}

fn read_part(row: &mut Row<'_>, against: &Against<'_>) -> Option<Part> {
    let mark = row.needed_text("mark", "a mark such as L1");
    let what = row.text("what");
    let what = if what.is_empty() {
        mark.clone().unwrap_or_default()
    } else {
        what
    };
    if row.is_blank("how_many") {
        row.blank("how_many", "a whole number such as 1");
    }
    let how_many = row.count("how_many", 1);
    let spare = row.count("spare", 0).unwrap_or(0);
    let item = row.needed_text("item", "an item of stock.csv such as PLY-18");
    let length = row.needed_size("length", "a length along the grain such as 88");
    let stock = item.as_deref().and_then(|i| against.row(i));
    let is_stick = stock.is_some_and(|s| matches!(s.kind, StockKind::Moulding | StockKind::Board));
    let unsure = item.as_deref().is_some_and(|i| against.is_unsure(i)) && row.is_blank("width");
    let size = if is_stick || unsure {
        stick_width(row, stock);
        length.map(|length| PartSize::Piece { length })
    } else {
        let width = row.needed_size("width", "a width across the grain such as 23 1/4");
        length
            .zip(width)
            .map(|(length, width)| PartSize::Panel { length, width })
    };
    if let Some(item) = &item {
        check_item(row, item, against);
    }
    let grain = row.word(
        "grain",
        &[
            ("length", Grain::Length),
            ("width", Grain::Width),
            ("any", Grain::Any),
        ],
    );
    let band = read_band(row);
    let band_item = row.text("band_item");
    if !band_item.is_empty()
        && let Some(all) = against.stock
    {
        let bandings = || {
            all.iter()
                .filter(|s| s.kind == StockKind::Banding)
                .map(|s| s.item.as_str())
        };
        if !bandings().any(|b| b == band_item) && !against.is_unsure(&band_item) {
            let wrong = Wrong::new(
                "No banding in stock.csv has this code.",
                "the item of a banding row in stock.csv",
                did_you_mean(&band_item, bandings()),
            );
            row.wrong("band_item", &band_item, wrong);
        }
    }
    let route = row.text("route");
    if !route.is_empty() && !against.routes.is_empty() && !against.routes.contains(&route) {
        let wrong = Wrong::new(
            "No [[run]] in project.toml has this route.",
            "the route of a [[run]]",
            did_you_mean(&route, against.routes.iter().map(String::as_str)),
        );
        row.wrong("route", &route, wrong);
    }
    let match_group = row.text("match");
    let part = Part {
        mark: mark.unwrap_or_default(),
        what,
        in_box: row.text("box"),
        route: (!route.is_empty()).then_some(route),
        how_many: how_many.unwrap_or(0),
        spare,
        size: size?,
        item: item.unwrap_or_default(),
        grain: grain.unwrap_or_default(),
        band,
        band_item: (!band_item.is_empty()).then_some(band_item),
        band_in_size: row.yes_no("band_in_size").unwrap_or(false),
        match_group: (!match_group.is_empty()).then_some(match_group),
        keep: row.yes_no("keep").unwrap_or(false),
        by_hand: row
            .word("from", &[("run", false), ("hand", true)])
            .unwrap_or(true),
        note: row.text("note"),
        row: row.raw.number,
    };
    if row.good {
        look_twice(row, &part, stock);
    }
    Some(part)
}

/// A row cut from a stick has no width of its own; one that is not the stick's is a slip.
fn stick_width(row: &mut Row<'_>, stock: Option<&StockRow>) {
    let Some(width) = row.size(
        "width",
        "nothing: a piece of moulding or board has a length only",
    ) else {
        return;
    };
    if stock.and_then(|s| s.width) != Some(width) {
        let text = row.text("width");
        let wrong = Wrong::new(
            "This item is sold by the stick, so only the length is cut; the width was not used.",
            "nothing in this cell, or the width of the stick",
            "leave the cell empty, or name a sheet as the item.",
        );
        row.caution("width", &text, wrong);
    }
}

fn check_item(row: &mut Row<'_>, item: &str, against: &Against<'_>) {
    let Some(all) = against.stock.filter(|_| !against.is_unsure(item)) else {
        return;
    };
    let cut_up = || {
        all.iter()
            .filter(|s| s.is_cut_up())
            .map(|s| s.item.as_str())
    };
    match against.row(item) {
        Some(found) if !found.is_cut_up() => {
            let wrong = Wrong::new(
                "Parts are cut from sheets, mouldings and boards, and this item is none of them.",
                "the item of a sheet, moulding or board",
                format!(
                    "use one of: {}.",
                    super::near::some_of(&cut_up().collect::<Vec<_>>())
                ),
            );
            row.wrong("item", item, wrong);
        }
        Some(_) => {}
        None => {
            let wrong = Wrong::new(
                "No row of stock.csv has this item.",
                "an item that stands in stock.csv",
                did_you_mean(item, cut_up()),
            );
            row.wrong("item", item, wrong);
        }
    }
}

fn read_band(row: &mut Row<'_>) -> Band {
    const EDGES: [&str; 5] = ["front", "back", "left", "right", "all"];
    let text = row.text("band");
    let mut band = Band::default();
    for word in text
        .split(['+', ',', ';', ' ', '/'])
        .filter(|w| !w.is_empty())
    {
        match word.to_lowercase().as_str() {
            "front" => band.front = true,
            "back" => band.back = true,
            "left" => band.left = true,
            "right" => band.right = true,
            "all" => {
                band = Band {
                    front: true,
                    back: true,
                    left: true,
                    right: true,
                }
            }
            "none" | "no" => {}
            other => {
                let wrong = Wrong::new(
                    format!("{other:?} is no edge of a part."),
                    "front, back, left, right or all, joined by +",
                    did_you_mean(other, EDGES),
                );
                row.wrong("band", &text, wrong);
                break;
            }
        }
    }
    band
}

/// Things that can be right but rarely are.
fn look_twice(row: &mut Row<'_>, part: &Part, stock: Option<&StockRow>) {
    let PartSize::Panel { length, width } = part.size else {
        return;
    };
    // What a run draws is meant.
    let doubted = part.by_hand && !(part.band.front || part.band.back);
    if doubted && width > length && part.grain == Grain::Length {
        let text = row.text("width");
        let wrong = Wrong::new(
            format!(
                "{} is wider than it is long with the grain running the short way. Meant?",
                part.mark
            ),
            "the length along the grain",
            "swap length and width, or write width or any under grain; nothing, if it is meant.",
        );
        row.caution("width", &text, wrong);
    }
    for (column, size) in [("width", width), ("length", length)] {
        let thick = stock.is_some_and(|s| s.thick == Some(size) || s.measured == Some(size));
        if thick && size <= Length::inches(2) {
            let text = row.text(column);
            let wrong = Wrong::new(
                format!(
                    "This is the thickness of {}, not a {column} that is often cut.",
                    part.item
                ),
                format!("the {column} of the part"),
                format!("type the {column}; nothing, if a strip as wide as it is thick is meant."),
            );
            row.caution(column, &text, wrong);
        }
    }
}
