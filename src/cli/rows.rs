//! Rows of the cut list by the headings of parts.csv: as cells and as JSON.

use crate::model::{Band, Grain, Part, PartSize};
use crate::units::{Length, Tape};
use serde::Serialize;

/// Columns of a cut list that is begun here.
pub(crate) const HEADINGS: &[&str] = &[
    "mark", "what", "box", "route", "how_many", "length", "width", "item", "grain", "band",
    "match", "keep", "from", "note",
];

/// A row as JSON.
#[derive(Serialize)]
pub(crate) struct RowDoc<'a> {
    mark: &'a str,
    what: &'a str,
    #[serde(rename = "box")]
    in_box: &'a str,
    how_many: u32,
    length: Length,
    width: Option<Length>,
    item: &'a str,
    grain: &'static str,
    band: String,
    band_item: Option<&'a str>,
    band_in_size: bool,
    #[serde(rename = "match")]
    match_group: Option<&'a str>,
    spare: u32,
    keep: bool,
    from: &'static str,
    route: Option<&'a str>,
    note: &'a str,
}

impl<'a> RowDoc<'a> {
    pub(crate) fn of(p: &'a Part) -> Self {
        let (length, width) = size(p);
        Self {
            mark: &p.mark,
            what: &p.what,
            in_box: &p.in_box,
            how_many: p.how_many,
            length,
            width,
            item: &p.item,
            grain: grain_word(p.grain),
            band: band_word(p.band),
            band_item: p.band_item.as_deref(),
            band_in_size: p.band_in_size,
            match_group: p.match_group.as_deref(),
            spare: p.spare,
            keep: p.keep,
            from: from_word(p),
            route: p.route.as_deref(),
            note: &p.note,
        }
    }
}

fn size(p: &Part) -> (Length, Option<Length>) {
    match p.size {
        PartSize::Panel { length, width } => (length, Some(width)),
        PartSize::Piece { length } => (length, None),
    }
}

/// Length and width as shown; a piece of a stick has no width.
pub(crate) fn size_text(p: &Part, tape: Tape) -> (String, String) {
    let (length, width) = size(p);
    (
        tape.print(length),
        width.map(|w| tape.print(w)).unwrap_or_default(),
    )
}

const fn grain_word(grain: Grain) -> &'static str {
    match grain {
        Grain::Length => "length",
        Grain::Width => "width",
        Grain::Any => "any",
    }
}

const fn from_word(p: &Part) -> &'static str {
    if p.by_hand { "hand" } else { "run" }
}

/// `front+back`; `all`; empty where no edge is banded.
pub(crate) fn band_word(b: Band) -> String {
    if b.front && b.back && b.left && b.right {
        return "all".into();
    }
    let edges = [
        (b.front, "front"),
        (b.back, "back"),
        (b.left, "left"),
        (b.right, "right"),
    ];
    let names: Vec<&str> = edges.iter().filter(|e| e.0).map(|e| e.1).collect();
    names.join("+")
}

/// The cell of a column, exact, as it is written to parts.csv.
pub(crate) fn cell(p: &Part, column: &str, tape: Tape) -> String {
    let (length, width) = size(p);
    match column {
        "mark" => p.mark.clone(),
        "what" => p.what.clone(),
        "box" => p.in_box.clone(),
        "route" => p.route.clone().unwrap_or_default(),
        "how_many" => p.how_many.to_string(),
        "length" => tape.print_exact(length),
        "width" => width.map(|w| tape.print_exact(w)).unwrap_or_default(),
        "item" => p.item.clone(),
        "grain" => grain_word(p.grain).into(),
        "band" => band_word(p.band),
        "match" => p.match_group.clone().unwrap_or_default(),
        "keep" if p.keep => "yes".into(),
        "from" => from_word(p).into(),
        "note" => p.note.clone(),
        _ => String::new(),
    }
}

/// Columns whose cell differs, with the new text. Only what the saw and the banding need: mark, words and note stay hers.
pub(crate) fn changed_cells(
    before: &Part,
    after: &Part,
    tape: Tape,
) -> Vec<(&'static str, String)> {
    ["how_many", "length", "width", "item", "grain", "band"]
        .into_iter()
        .filter_map(|column| {
            let new = cell(after, column, tape);
            (cell(before, column, tape) != new).then_some((column, new))
        })
        .collect()
}
