//! `[saw]`, `[saw.store]`, `[car]` and `[[car.space]]`.

use super::doc::Sort;
use super::table::Table;
use super::value::Value;
use crate::files::read::blade;
use crate::files::read::report::Wrong;
use crate::files::read::values;
use crate::model::{Car, CarSpace, Edge, FirstCut, KeepRule, Saw, StoreSaw};
use crate::units::{Cents, Length, Size, Unit, parse_size};

const KERF: Sort = Sort::from_zero(blade::EXPECTED);
const CLEAN_EDGE: Sort = Sort::from_zero("what comes off a factory edge, such as 1/8");

pub(super) fn read_saw(root: &Table<'_>) -> Saw {
    let table = root.table("saw");
    let usual = Saw::default();
    let keep = KeepRule::default();
    let saw = Saw {
        what: table.text("what").unwrap_or_default(),
        kerf: kerf(&table, Length::ZERO, usual.kerf, "a usual blade"),
        clean_edge: table.size_or(
            "clean_edge",
            CLEAN_EDGE,
            usual.clean_edge,
            "what a clean-up cut usually takes",
        ),
        clean_edges: clean_edges(&table, usual.clean_edges),
        longest_rip: table
            .size(
                "longest_rip",
                Sort::size("the longest rip your saw makes, such as 98"),
            )
            .or_else(|| {
                if !table.has("longest_rip") {
                    table.default("longest_rip", "no limit", "not said");
                }
                None
            }),
        narrowest_safe_rip: table.size_or(
            "narrowest_safe_rip",
            Sort::from_zero("the narrowest rip you make, such as 1 1/2"),
            usual.narrowest_safe_rip,
            "common practice, no source",
        ),
        largest_alone: pair(
            &table,
            "largest_alone",
            usual.largest_alone,
            "48 x 48",
            "what one person usually handles",
        ),
        turns: turns(&table),
        first: table.word_or(
            "first",
            &[
                ("rip", FirstCut::Rip),
                ("crosscut", FirstCut::Crosscut),
                ("either", FirstCut::Either),
            ],
            FirstCut::Either,
            "either",
            "whichever is better, sheet by sheet",
        ),
        keep: KeepRule {
            panel: pair(
                &table,
                "keep_panel",
                keep.panel,
                "6 x 12",
                "a leftover this size is worth a place on the rack",
            ),
            strip: pair(
                &table,
                "keep_strip",
                keep.strip,
                "3 x 24",
                "a leftover this size is worth a place on the rack",
            ),
            stick: table.size_or(
                "keep_stick",
                Sort::size("the shortest stick worth keeping, such as 24"),
                keep.stick,
                "a leftover this long is worth a place on the rack",
            ),
        },
        store: read_store(&table),
    };
    look_at_clean_edge(&table, saw.clean_edge);
    table.done();
    saw
}

/// A kerf; one that no blade takes is a mistake, nearly always a slip of the unit. Of another's saw less is known: up to
/// `doubted` it is only asked about.
fn kerf(table: &Table<'_>, doubted: Length, usual: Length, why: &str) -> Length {
    if let Some(value) = table.get("kerf") {
        let text = value.found();
        if let Some(wrong) = blade::no_blade(&text, table.doc.read_as(KERF)) {
            let read = parse_size(&text, table.doc.read_as(KERF));
            if !matches!(read, Ok(Size::Exact { length, .. }) if length <= doubted) {
                value.wrong(&text, wrong);
                return usual;
            }
            table.doc.report().caution(value.spot(), &text, wrong);
        }
    }
    table.size_or("kerf", KERF, usual, why)
}

fn look_at_clean_edge(table: &Table<'_>, size: Length) {
    if size > Length::inches(2)
        && let Some(value) = table.get("clean_edge")
    {
        let wrong = Wrong::new(
            "This is a great deal for a clean edge.",
            "a size such as 1/8 or 3.2 mm",
            "check the figure and its unit; nothing, if it is right.",
        );
        table
            .doc
            .report()
            .caution(value.spot(), value.found(), wrong);
    }
}

fn clean_edges(table: &Table<'_>, usual: Vec<Edge>) -> Vec<Edge> {
    let Some(value) = table.get("clean_edges") else {
        table.default("clean_edges", "x0, x1, y0, y1", "every factory edge");
        return usual;
    };
    let words: Vec<Value<'_>> = if value.is_list() {
        value.list("a list of edges").unwrap_or_default()
    } else {
        vec![value]
    };
    // A size here is meant for the name that differs by one letter.
    let is_width = |text: &str| parse_size(text, table.doc.read_as(CLEAN_EDGE)).is_ok();
    let edge = |text: &str| {
        values::edges(text).map_err(|wrong| match is_width(text) {
            true => Wrong::new(
                "A width stands where the edges that are cleaned are named.",
                wrong.expected,
                format!("did you mean clean_edge = \"{}\"?", text.replace('"', "")),
            ),
            false => wrong,
        })
    };
    let mut edges: Vec<Edge> = words
        .iter()
        .filter_map(|v| v.with("edges such as x0, y0", edge))
        .flatten()
        .collect();
    edges.sort_unstable();
    edges.dedup();
    edges
}

/// Two sizes, smaller first: `48 x 96` or a list of two.
fn pair(
    table: &Table<'_>,
    key: &'static str,
    usual: [Length; 2],
    shown: &str,
    why: &str,
) -> [Length; 2] {
    let sort = Sort::size("two sizes such as 48 x 96");
    let Some(value) = table.get(key) else {
        table.default(key, shown, why);
        return usual;
    };
    let read = table.doc.read_as(sort);
    let sizes = if value.is_list() {
        let list = value.list(sort.expected).unwrap_or_default();
        if list.len() != 2 {
            value.wrong(
                &value.found(),
                Wrong::new(
                    "There are not two sizes here.",
                    sort.expected,
                    "type two sizes.",
                ),
            );
        }
        list.iter().filter_map(|v| v.size(sort)).collect()
    } else {
        value
            .with(sort.expected, |t| values::sizes(t, 2, read))
            .unwrap_or_default()
    };
    match sizes.as_slice() {
        [a, b] => [*a.min(b), *a.max(b)],
        _ => usual,
    }
}

fn turns(table: &Table<'_>) -> Option<u8> {
    let Some(value) = table.get("turns") else {
        table.default(
            "turns",
            "any",
            "a piece may be turned as often as the layout needs",
        );
        return None;
    };
    value
        .with("2, 3, or any", |text| {
            match text.trim().to_lowercase().as_str() {
                "any" => Ok(None),
                other => match other.parse::<u8>() {
                    Ok(n @ 1..=9) => Ok(Some(n)),
                    _ => Err(Wrong::new(
                        "This is not how often a piece can be turned.",
                        "2, 3, or any",
                        "type 2, 3 or any.",
                    )),
                },
            }
        })
        .flatten()
}

fn read_store(saw: &Table<'_>) -> Option<StoreSaw> {
    let table = saw.table("store");
    if table.is_absent() {
        return None;
    }
    let free = table.count_or("free_cuts_per_sheet", 0, "the store's terms are not said");
    let price = table.money("price_per_cut");
    if price.is_none() && !table.has("price_per_cut") {
        table.missing(
            "price_per_cut",
            "what a cut costs at the store, such as 1.00; 0 if nothing",
        );
    }
    let store = StoreSaw {
        kerf: kerf(&table, Length::INCH, Length::in_64(8), "a usual panel saw"),
        true_to: table.size_or(
            "true_to",
            Sort::from_zero("how true the store's cuts are, such as 1/8"),
            Length::in_64(8),
            "common practice, no source",
        ),
        free_cuts_per_sheet: free,
        price_per_cut: price.unwrap_or(Cents::ZERO),
        smallest_piece: table.size(
            "smallest_piece",
            Sort::size("the smallest piece the store cuts, such as 6"),
        ),
        mitres: table.yes_no_or("mitres", false, "stores rarely cut them"),
        cut_delivered: table.yes_no_or(
            "cut_delivered",
            false,
            "what a van brings to the door need not go in the car",
        ),
    };
    table.done();
    Some(store)
}

pub(super) fn read_car(root: &Table<'_>) -> Car {
    let table = root.table("car");
    let side = Sort::size("a size such as 72");
    let mut spaces = Vec::new();
    for space in table.tables("space") {
        let what = space.needed_text("what", "the name of the space");
        let mut size = [Length::ZERO; 3];
        for (i, key) in ["length", "width", "height"].into_iter().enumerate() {
            match space.size(key, side) {
                Some(length) => size[i] = length,
                None if !space.has(key) => space.missing(key, side.expected),
                None => {}
            }
        }
        spaces.push(CarSpace { what, size });
        space.done();
    }
    // Common practice, no source: a piece that fills a space to the last does not slide into it.
    let (usual, why) = match table.doc.tape.borrow().unit {
        Unit::Inch => (
            Length::in_64(16),
            "room to slide pieces in; common practice, no source",
        ),
        Unit::Mm => (
            Length::mm(6),
            "room to slide pieces in; common practice, no source",
        ),
    };
    let sort = Sort::from_zero("what is kept clear in each space, such as 1/4");
    let clearance = if spaces.is_empty() && !table.has("clearance") {
        Length::ZERO
    } else {
        table.size_or("clearance", sort, usual, why)
    };
    let carries_grams = table
        .get("carries")
        .and_then(|v| v.with("a weight such as 850 lb", values::weight));
    if spaces.is_empty() {
        table.default("space", "no car check", "no space is given");
    }
    table.done();
    Car {
        spaces,
        clearance,
        carries_grams,
    }
}
