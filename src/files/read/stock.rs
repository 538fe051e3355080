//! stock.csv: everything that can be bought. Owns its columns and what one row alone can get wrong.

use super::columns::{Column, maybe, needed, wished};
use super::overlong::{Step, in_step};
use super::packs::{in_hand, pack, read_price};
use super::report::{Report, Wrong};
use super::row::{Row, TableRead};
use super::table::RawTable;
use crate::model::{DefaultUsed, StockKind, StockRow};
use crate::units::{Length, Unit};
use std::collections::{BTreeMap, BTreeSet};

/// The columns of stock.csv.
pub(crate) const COLUMNS: &[Column] = &[
    needed("item", &["code", "stock_item", "id"]),
    needed("kind", &["type", "category"]),
    maybe("what", &["name", "description"]),
    maybe("length", &["len", "l"]),
    maybe("width", &["w"]),
    maybe("thick", &["thickness", "t", "nominal"]),
    maybe("measured", &["measured_thickness", "caliper"]),
    maybe("grain", &["grain_direction"]),
    maybe("sold_by", &["sold", "sold_as"]),
    maybe("holds", &["pack_size", "per_pack"]),
    wished(
        "price",
        &["cost", "unit_price", "price_each"],
        "Without it nothing here has a price, and no total is whole.",
    ),
    maybe("price_low", &["low_price", "lowest_price"]),
    maybe("price_high", &["high_price", "highest_price"]),
    maybe("priced_on", &["price_date"]),
    maybe("have", &["in_hand", "on_hand"]),
    maybe("waste", &[]),
    maybe("store", &["shop", "supplier"]),
    maybe("aisle", &[]),
    maybe("lead_days", &["lead_time"]),
    maybe("tax", &["taxed", "taxable"]),
    maybe("at_most", &["max", "limit", "available"]),
    maybe("weight", &[]),
    maybe("covers", &["coverage"]),
    maybe("one_face", &[]),
    maybe("oversize", &[]),
    maybe("returns", &["returnable"]),
    maybe(
        "note",
        &["notes", "remark", "remarks", "comment", "comments"],
    ),
];

const NUMBERS: &[&str] = &[
    "price",
    "price_low",
    "price_high",
    "length",
    "width",
    "holds",
    "have",
];

/// The kinds of goods by the word in the file.
pub(crate) const KINDS: &[(&str, StockKind)] = &[
    ("sheet", StockKind::Sheet),
    ("moulding", StockKind::Moulding),
    ("molding", StockKind::Moulding),
    ("board", StockKind::Board),
    ("banding", StockKind::Banding),
    ("hardware", StockKind::Hardware),
    ("consumable", StockKind::Consumable),
    ("paint", StockKind::Paint),
    ("tool", StockKind::Tool),
    ("service", StockKind::Service),
];

/// What a stock file says.
#[derive(Clone, PartialEq, Debug, Default)]
pub(crate) struct StockRead {
    /// Rows without a mistake.
    pub(crate) rows: Vec<StockRow>,
    /// Items whose row has a mistake in it: they are there, but nothing is known of them.
    pub(crate) broken: BTreeSet<String>,
}

/// Reads every row that can be read.
pub(crate) fn read_stock(
    table: &RawTable,
    read: TableRead,
    defaults: &mut Vec<DefaultUsed>,
    report: &mut Report,
) -> StockRead {
    let mut read_rows = StockRead::default();
    if !table.columns.complete {
        return read_rows;
    }
    let mut items: BTreeMap<String, usize> = BTreeMap::new();
    for raw in table.rows.iter().filter(|r| !r.is_blank()) {
        let Step::Read { row: raw, unread } = in_step(table, raw, NUMBERS, report) else {
            let item = table
                .cell(raw, "item")
                .map(|c| super::rescue::blank_trim(&c.text).to_owned());
            read_rows.broken.extend(item);
            continue;
        };
        let mut row = Row::new(table, &raw, read, report).without(unread);
        let found = read_row(&mut row, read, defaults);
        let item = row.text("item");
        if !item.is_empty()
            && let Some(first) = items.insert(item.clone(), raw.number)
        {
            let wrong = Wrong::new(
                format!("Row {first} has the same item, and an item names one thing to buy."),
                "an item that no other row has",
                "give this row another item, or take one of the two out.",
            );
            row.wrong("item", &item, wrong);
        }
        if row.good {
            read_rows.rows.extend(found);
        } else {
            read_rows.broken.insert(item);
        }
    }
    read_rows
}

fn read_row(
    row: &mut Row<'_>,
    read: TableRead,
    defaults: &mut Vec<DefaultUsed>,
) -> Option<StockRow> {
    let item = row.needed_text("item", "a code such as PLY-18");
    if row.is_blank("kind") {
        row.blank(
            "kind",
            "a kind such as sheet, moulding, banding or hardware",
        );
    }
    let kind = row.word("kind", KINDS);
    let what = row.text("what");
    let mut length = row.size("length", "a length such as 96 or 8 ft");
    let mut width = row.size("width", "a width such as 48");
    let thick = row
        .thickness("thick", "a thickness such as 3/4, 23/32 or 18 mm")
        .map(|(t, _)| t);
    let measured = row.size(
        "measured",
        "a thickness by caliper such as 23/32 or 18.2 mm",
    );
    let grain = row.word(
        "grain",
        &[
            ("length", false),
            ("width", true),
            ("none", false),
            ("any", false),
        ],
    );
    let sold_by = row.text("sold_by");
    let sold_by = if sold_by.is_empty() {
        "each".to_owned()
    } else {
        sold_by
    };
    let price = read_price(row);
    let priced_on = row.date("priced_on");
    let holds_given = row.amount("holds");
    let have_given = row.amount("have");
    let oversize = row.sizes("oversize", 2);
    let at_most = row.count("at_most", 0);
    let waste = row.per_cent("waste", 10_000);
    let lead_days = row.count("lead_days", 0).unwrap_or(0);
    let taxed = row.yes_no("tax").unwrap_or(true);
    let weight_grams = row.weight("weight");
    let covers_mm2 = row.area("covers");
    let one_face = row.yes_no("one_face").unwrap_or(false);
    let returns = row.yes_no("returns");
    let kind = kind?;
    // An oversize sheet is as large as it is; the trimming is the clean edge that comes off it anyway.
    if let (StockKind::Sheet, Some([a, b])) = (kind, oversize.as_deref()) {
        let (long, short) = (*a.max(b), *a.min(b));
        let lying = length.zip(width).is_some_and(|(l, w)| l < w);
        (length, width) = if lying {
            (Some(short), Some(long))
        } else {
            (Some(long), Some(short))
        };
    }
    let by_the_foot =
        sold_by.to_lowercase().contains("foot") || sold_by.to_lowercase().contains("metre");
    need_sizes(row, kind, by_the_foot, length, width);
    let holds = pack(row, kind, &sold_by, holds_given, length);
    let have = holds.map(|holds| in_hand(row, kind, &sold_by, have_given, holds));
    let found = StockRow {
        what: if what.is_empty() {
            item.clone().unwrap_or_default()
        } else {
            what
        },
        item: item?,
        kind,
        length,
        width,
        thick,
        measured,
        grain_along_width: grain.unwrap_or(false),
        sold_by,
        holds: holds?,
        price,
        priced_on,
        have: have?,
        waste,
        store: row.text("store"),
        aisle: row.text("aisle"),
        lead_days,
        taxed,
        at_most,
        weight_grams,
        covers_mm2,
        one_face,
        returns,
        note: row.text("note"),
        row: row.raw.number,
        file: row.table.file.clone(),
    };
    if row.good {
        look_twice(row, &found, read, defaults);
    }
    Some(found)
}

/// What must be known of goods that are cut up.
fn need_sizes(
    row: &mut Row<'_>,
    kind: StockKind,
    by_the_foot: bool,
    length: Option<Length>,
    width: Option<Length>,
) {
    match kind {
        StockKind::Sheet => {
            if length.is_none() && row.is_blank("length") {
                row.blank("length", "the length of the sheet such as 96");
            }
            if width.is_none() && row.is_blank("width") {
                row.blank("width", "the width of the sheet such as 48");
            }
        }
        StockKind::Moulding | StockKind::Board
            if !by_the_foot && length.is_none() && row.is_blank("length") =>
        {
            row.blank("length", "the length of a stick such as 8 ft");
        }
        _ => {}
    }
}

/// Things that can be right but rarely are, and defaults.
fn look_twice(
    row: &mut Row<'_>,
    found: &StockRow,
    read: TableRead,
    defaults: &mut Vec<DefaultUsed>,
) {
    let stick = matches!(found.kind, StockKind::Moulding | StockKind::Board);
    if let Some(length) = found
        .length
        .filter(|_| stick || found.kind == StockKind::Sheet)
    {
        let (short, larger) = match read.size.unit {
            Unit::Inch => (Length::inches(16), "ft"),
            Unit::Mm => (Length::mm(20), "m"),
        };
        let text = row.text("length");
        let bare = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.');
        if bare && length <= short {
            let unit = if larger == "ft" { "in" } else { "mm" };
            let kind = row.text("kind");
            let wrong = Wrong::new(
                format!("{text} {unit} long {kind}. Meant {text} {larger}?"),
                format!(
                    "the length of one {kind}, such as {}",
                    if larger == "ft" {
                        "96 or 8 ft"
                    } else {
                        "2440 or 2.44 m"
                    }
                ),
                format!("type {text} {larger} if that is what it is."),
            );
            row.caution("length", &text, wrong);
        }
    }
    if found.kind != StockKind::Sheet {
        return;
    }
    if let Some(width) = found.width
        && (width <= Length::inches(2) || Some(width) == found.thick)
    {
        let text = row.text("width");
        let wrong = Wrong::new(
            "A sheet this narrow is not sold; it looks like its thickness.",
            "the width of the sheet such as 48",
            "type the width here and the thickness under thick.",
        );
        row.caution("width", &text, wrong);
    }
    match (found.thick, found.measured) {
        (None, None) => {
            let wrong = Wrong::new(
                "The thickness of this sheet is not given, so nothing that depends on it can be worked out.",
                "a thickness such as 3/4, and the caliper's reading under measured",
                "measure the sheet and type what you read.",
            );
            row.caution("thick", "nothing", wrong);
        }
        (Some(thick), None) => {
            let text = row.text("thick");
            let wrong = Wrong::new(
                "The thickness is a name until the sheet is measured; sheets are often thinner than they are called.",
                "the caliper's reading, such as 23/32",
                "measure the sheet you bought and type what you read under measured.",
            );
            row.caution("measured", "nothing", wrong);
            defaults.push(DefaultUsed {
                place: format!("{} {} measured", row.table.file, found.item),
                value: text,
                why: "not measured yet, so the thickness it is called by".into(),
                route: None,
            });
            debug_assert!(thick.is_positive());
        }
        (_, Some(_)) => {}
    }
}
