//! offcuts.csv: the rack. Owns its columns, and which pieces may be trusted.

use super::columns::{Column, maybe, needed};
use super::near::did_you_mean;
use super::overlong::{Step, in_step};
use super::report::{Report, Wrong};
use super::row::{Row, TableRead};
use super::stock::StockRead;
use super::table::RawTable;
use super::values;
use crate::model::{Edge, Offcut, OffcutState, StockKind, StockRow};
use crate::units::Length;
use std::collections::BTreeMap;

/// The columns of offcuts.csv.
pub(crate) const COLUMNS: &[Column] = &[
    needed("mark", &["id", "label", "ref"]),
    needed("item", &["material", "stock", "stock_item"]),
    needed("length", &["len", "l"]),
    maybe("width", &["w"]),
    maybe("thick", &["thickness", "t"]),
    maybe("grain", &["grain_direction"]),
    maybe("good_edges", &["clean_edges", "factory_edges"]),
    maybe("from_job", &["job"]),
    maybe("put_by", &["date"]),
    maybe("where", &["place", "location"]),
    maybe("state", &["status"]),
    maybe("promised_to", &["reserved_for"]),
    maybe(
        "note",
        &["notes", "remark", "remarks", "comment", "comments"],
    ),
];

const NUMBERS: &[&str] = &["length", "width"];

/// Reads every row that can be read. `shared` = the rack of several jobs: pieces of items this job does not know are
/// then no mistake.
pub(crate) fn read_offcuts(
    table: &RawTable,
    stock: &StockRead,
    shared: bool,
    read: TableRead,
    report: &mut Report,
) -> Vec<Offcut> {
    let mut rack = Vec::new();
    if !table.columns.complete {
        return rack;
    }
    let mut marks: BTreeMap<String, usize> = BTreeMap::new();
    for raw in table.rows.iter().filter(|r| !r.is_blank()) {
        let Step::Read { row: raw, unread } = in_step(table, raw, NUMBERS, report) else {
            continue;
        };
        let mut row = Row::new(table, &raw, read, report).without(unread);
        let found = read_offcut(&mut row, stock, shared);
        let mark = row.text("mark");
        if !mark.is_empty()
            && let Some(first) = marks.insert(mark.clone(), raw.number)
        {
            let wrong = Wrong::new(
                format!("Row {first} has the same mark, and a mark names one piece."),
                "a mark that no other row has",
                "give this row another mark.",
            );
            row.wrong("mark", &mark, wrong);
        }
        if row.good {
            rack.extend(found);
        }
    }
    rack
}

fn read_offcut(row: &mut Row<'_>, all: &StockRead, shared: bool) -> Option<Offcut> {
    let stock = all.rows.as_slice();
    let mark = row.needed_text("mark", "a mark such as R-03");
    let item = row.needed_text("item", "an item of stock.csv such as PLY-18");
    let (state, promised_to) = read_state(row);
    let gone = state == Some(OffcutState::Spent);
    let known = item
        .as_deref()
        .and_then(|i| stock.iter().find(|s| s.item == i));
    if let (Some(item), None, false, false) = (&item, known, shared, gone)
        && !all.broken.contains(item)
    {
        let wrong = Wrong::new(
            "No row of stock.csv has this item.",
            "an item that stands in stock.csv",
            did_you_mean(
                item,
                stock
                    .iter()
                    .filter(|s| s.is_cut_up())
                    .map(|s| s.item.as_str()),
            ),
        );
        row.wrong("item", item, wrong);
    }
    let length = row.needed_size("length", "a length such as 30 1/4");
    let width = row.size("width", "a width such as 11 7/8");
    let is_sheet = known.is_some_and(|s| s.kind == StockKind::Sheet);
    if is_sheet && width.is_none() && row.is_blank("width") {
        row.blank("width", "a width such as 11 7/8");
    }
    let thick = row
        .thickness("thick", "a thickness such as 23/32")
        .map(|(size, nominal)| {
            let measured = known
                .filter(|s| nominal && s.thick == Some(size))
                .and_then(|s| s.measured);
            measured.unwrap_or(size)
        });
    let grain = row.word(
        "grain",
        &[
            ("length", false),
            ("width", true),
            ("any", false),
            ("none", false),
        ],
    );
    let good_edges = read_edges(row, gone);
    // The day is hers to keep; it is only checked for being a day.
    let _ = row.date("put_by");
    let found = Offcut {
        mark: mark?,
        item: item?,
        length: length?,
        width,
        thick,
        grain_along_width: grain.unwrap_or(false),
        good_edges,
        from_job: row.text("from_job"),
        promised_to,
        place: row.text("where"),
        state: state.unwrap_or(OffcutState::Ready),
        note: row.text("note"),
        row: row.raw.number,
    };
    if row.good && !gone {
        check_thickness(row, &found, known);
    }
    Some(found)
}

/// `ready`, `promised`, `promised to attic job`, `spent`, `doubtful`; who it is promised to may stand in a column of its own.
fn read_state(row: &mut Row<'_>) -> (Option<OffcutState>, Option<String>) {
    let text = row.text("state");
    let told = row.text("promised_to");
    let told = (!told.is_empty()).then_some(told);
    let word = text.to_lowercase();
    if word.starts_with("promised") {
        let rest = text
            .get("promised".len()..)
            .unwrap_or_default()
            .trim_start_matches([':', ' ', '-']);
        let rest = rest
            .strip_prefix("to ")
            .or_else(|| rest.strip_prefix("for "))
            .unwrap_or(rest)
            .trim();
        let to = told.or_else(|| (!rest.is_empty()).then(|| rest.to_owned()));
        return (Some(OffcutState::Promised), to);
    }
    let words = [
        ("ready", OffcutState::Ready),
        ("promised", OffcutState::Promised),
        ("spent", OffcutState::Spent),
        ("doubtful", OffcutState::Doubtful),
    ];
    let state = row.word("state", &words);
    // A piece that someone was promised is not free, whatever its state says.
    match (state, &told) {
        (Some(OffcutState::Ready) | None, Some(_)) if row.good => {
            (Some(OffcutState::Promised), told)
        }
        _ => (state, told),
    }
}

fn read_edges(row: &mut Row<'_>, gone: bool) -> Vec<Edge> {
    let text = row.text("good_edges");
    if text.is_empty() {
        return Vec::new();
    }
    if text.chars().all(|c| c.is_ascii_digit()) {
        if !gone && text != "0" {
            let wrong = Wrong::new(
                "A number says how many edges are good, not which, so none is trusted and all four are cleaned.",
                "the edges by name, such as x0+y0 (x0 and x1 are the ends, y0 and y1 the long edges)",
                "look at the piece and name its good edges.",
            );
            row.caution("good_edges", &text, wrong);
        }
        return Vec::new();
    }
    match values::edges(&text) {
        Ok(edges) => edges,
        Err(wrong) => {
            row.wrong("good_edges", &text, wrong);
            Vec::new()
        }
    }
}

fn check_thickness(row: &mut Row<'_>, found: &Offcut, known: Option<&StockRow>) {
    let Some((thick, stock)) = found.thick.zip(known.and_then(StockRow::thickness)) else {
        return;
    };
    // A 64th is what two sheets of one name differ by at most when sanded (PS 1).
    if (thick - stock).abs() > Length::INCH_64 * 2 {
        let text = row.text("thick");
        let wrong = Wrong::new(
            format!(
                "The piece is not as thick as {} is now, so parts from it will not match.",
                found.item
            ),
            "the thickness of the item",
            "measure both; write doubtful under state if they differ.",
        );
        row.caution("thick", &text, wrong);
    }
}
