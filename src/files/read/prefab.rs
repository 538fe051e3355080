//! prefab.csv: flat-pack frames and what goes into them. Owns its columns and what its rows can get wrong among themselves.

use super::columns::{Column, maybe, needed, wished};
use super::near::did_you_mean;
use super::overlong::{Step, in_step};
use super::packs::read_price;
use super::report::{Report, Wrong};
use super::row::{Row, TableRead};
use super::table::RawTable;
use super::toml::ReadProject;
use crate::model::{Carton, PrefabKind, PrefabUnit, RunUnits, StandsOn};
use crate::units::Length;
use std::collections::{BTreeMap, BTreeSet};

/// Lists what was taken of the base of each run of frames, where not all of its frames stand without one.
pub(crate) fn list_bases(project: &mut ReadProject, units: &[PrefabUnit]) {
    for (run, taken) in project.runs.iter().zip(&project.bases) {
        let bought = |u: &&PrefabUnit| match &run.units {
            RunUnits::Best => true,
            RunUnits::Listed(codes) => codes.contains(&u.unit),
        };
        let frames = units.iter().filter(|u| u.kind == PrefabKind::Frame);
        if frames.filter(bought).any(|f| f.stands_on == StandsOn::Base) {
            project.defaults.extend(taken.iter().cloned());
        }
    }
}

/// The columns of prefab.csv.
pub(crate) const COLUMNS: &[Column] = &[
    needed("unit", &["code", "item", "id"]),
    needed("kind", &["type"]),
    maybe("what", &["name", "description"]),
    maybe("width", &["w"]),
    maybe("height", &["h"]),
    maybe("depth", &["d"]),
    maybe("inside_width", &["clear_width"]),
    maybe("inside_height", &["clear_height"]),
    maybe("inside_depth", &["clear_depth"]),
    wished(
        "price",
        &["cost", "unit_price", "price_each"],
        "Without it no frame has a price, and no total is whole.",
    ),
    maybe("price_low", &["low_price"]),
    maybe("price_high", &["high_price"]),
    maybe("priced_on", &["price_date"]),
    maybe("shelf_each", &[]),
    maybe("shelves_in_box", &[]),
    maybe("hanging_each", &[]),
    maybe("fits", &["fits_frame"]),
    maybe("stands_on", &[]),
    maybe("wall_fixing", &[]),
    maybe("filler", &["fillers"]),
    maybe("carton", &["carton_size"]),
    maybe("carton_weight", &["weight"]),
    maybe("store", &["shop", "supplier"]),
    maybe("lead_days", &["lead_time"]),
    maybe("tax", &["taxed", "taxable"]),
    maybe("drawer_fronts", &[]),
    maybe("foot_adjust", &[]),
    maybe("shelf_thick", &[]),
    maybe("shelf_core", &[]),
    maybe("finish", &[]),
    maybe("delivery_group", &[]),
    maybe(
        "note",
        &["notes", "remark", "remarks", "comment", "comments"],
    ),
];

const NUMBERS: &[&str] = &[
    "price",
    "price_low",
    "price_high",
    "width",
    "height",
    "depth",
];

const KINDS: &[(&str, PrefabKind)] = &[
    ("frame", PrefabKind::Frame),
    ("shelf", PrefabKind::Shelf),
    ("rail", PrefabKind::Rail),
    ("drawer", PrefabKind::Drawer),
    ("door", PrefabKind::Door),
];

const STANDS_ON: &[(&str, StandsOn)] = &[
    ("own feet", StandsOn::OwnFeet),
    ("feet", StandsOn::OwnFeet),
    ("base", StandsOn::Base),
    ("wall", StandsOn::Wall),
];

const FILLERS: &[(&str, &str)] = &[
    ("sides", "sides"),
    ("head", "head"),
    ("sides and head", "sides and head"),
    ("none", "none"),
];

/// What a prefab file says.
#[derive(Clone, PartialEq, Debug, Default)]
pub(crate) struct PrefabRead {
    /// Rows without a mistake.
    pub(crate) units: Vec<PrefabUnit>,
    /// Units whose row has a mistake in it.
    pub(crate) broken: BTreeSet<String>,
}

/// Reads every row that can be read.
pub(crate) fn read_prefab(table: &RawTable, read: TableRead, report: &mut Report) -> PrefabRead {
    let mut units: Vec<PrefabUnit> = Vec::new();
    let mut broken: BTreeSet<String> = BTreeSet::new();
    if !table.columns.complete {
        return PrefabRead::default();
    }
    let mut codes: BTreeMap<String, usize> = BTreeMap::new();
    let mut frames: Vec<String> = Vec::new();
    for raw in table.rows.iter().filter(|r| !r.is_blank()) {
        let Step::Read { row: raw, unread } = in_step(table, raw, NUMBERS, report) else {
            let code = table
                .cell(raw, "unit")
                .map(|c| super::rescue::blank_trim(&c.text).to_owned());
            broken.extend(code.clone());
            frames.extend(code);
            continue;
        };
        let mut row = Row::new(table, &raw, read, report).without(unread);
        let found = read_unit(&mut row);
        let code = row.text("unit");
        if !code.is_empty()
            && let Some(first) = codes.insert(code.clone(), raw.number)
        {
            let wrong = Wrong::new(
                format!("Row {first} has the same code, and a code names one unit."),
                "a code that no other row has",
                "give this row another code, or take one of the two out.",
            );
            row.wrong("unit", &code, wrong);
        }
        // A frame with a slip in it is still one that other rows may name.
        if found.as_ref().is_none_or(|f| f.kind == PrefabKind::Frame) {
            frames.push(code.clone());
        }
        if row.good {
            units.extend(found);
        } else {
            broken.insert(code);
        }
    }
    for unit in &units {
        let Some(fits) = unit.fits.as_ref().filter(|f| !frames.contains(f)) else {
            continue;
        };
        let wrong = Wrong::new(
            "No frame in this file has that code.",
            "the unit of a frame",
            did_you_mean(fits, frames.iter().map(String::as_str)),
        );
        report.mistake(table.spot_in(unit.row, "fits"), fits.clone(), wrong);
    }
    PrefabRead { units, broken }
}

fn read_unit(row: &mut Row<'_>) -> Option<PrefabUnit> {
    let unit = row.needed_text("unit", "a code such as TF-24");
    if row.is_blank("kind") {
        row.blank("kind", "frame, shelf, rail, drawer or door");
    }
    let kind = row.word("kind", KINDS);
    let what = row.text("what");
    let outside = ["width", "height", "depth"].map(|c| row.size(c, &format!("a {c} such as 24")));
    let inside = ["inside_width", "inside_height", "inside_depth"]
        .map(|c| row.size(c, &format!("the clear {} such as 22 3/4", &c[7..])));
    let price = read_price(row);
    let priced_on = row.date("priced_on");
    let shelf_each = row.size("shelf_each", "the shelf length one adds, such as 22 3/4");
    let shelves_in_box = row.count("shelves_in_box", 0).unwrap_or(0);
    let hanging_each = row.size(
        "hanging_each",
        "the hanging length one adds, such as 22 3/4",
    );
    let fits = row.text("fits");
    let stands_on = row.word("stands_on", STANDS_ON).unwrap_or_default();
    let wall_fixing = row.yes_no("wall_fixing").unwrap_or(false);
    let filler = row.word("filler", FILLERS).unwrap_or("none");
    let carton_size = row.sizes("carton", 3);
    let grams = row.weight("carton_weight");
    let drawer_fronts = row.count("drawer_fronts", 0).unwrap_or(0);
    let foot_adjust = row.size("foot_adjust", "how far the feet screw out, such as 1");
    let shelf_thick = row
        .thickness("shelf_thick", "a thickness such as 5/8")
        .map(|(t, _)| t);
    let lead_days = row.count("lead_days", 0).unwrap_or(0);
    let taxed = row.yes_no("tax").unwrap_or(true);
    let kind = kind?;
    if kind == PrefabKind::Frame {
        for (size, column) in outside.iter().zip(["width", "height", "depth"]) {
            if size.is_none() && row.is_blank(column) {
                row.blank(column, "the outside size of the frame");
            }
        }
    }
    let names = ["inside_width", "inside_height", "inside_depth"];
    for (i, name) in names.into_iter().enumerate() {
        if let (Some(out), Some(within)) = (outside[i], inside[i])
            && within > out
        {
            let side = &name[7..];
            let (found, limit) = (row.text(name), row.text(side));
            let why = format!("{found} is more than the outside {side}, {limit}.");
            let fix = "measure between the sides, or swap the two.";
            row.wrong(
                name,
                &found,
                Wrong::new(why, format!("less than {limit}"), fix),
            );
        }
    }
    let carton = carton_size.map(|mut s| {
        s.sort_unstable_by(|a, b| b.cmp(a));
        Carton {
            size: [s[0], s[1], s[2]],
            grams,
        }
    });
    if carton.is_none() && grams.is_some() {
        let text = row.text("carton_weight");
        let wrong = Wrong::new(
            "A weight without the carton's sizes is not used.",
            "the carton as length x width x height",
            "measure the carton, or take the size from the label.",
        );
        row.caution("carton", &text, wrong);
    }
    Some(PrefabUnit {
        what: if what.is_empty() {
            unit.clone().unwrap_or_default()
        } else {
            what
        },
        unit: unit?,
        kind,
        width: outside[0],
        height: outside[1],
        depth: outside[2],
        inside_width: inside[0],
        inside_height: inside[1],
        inside_depth: inside[2],
        price,
        priced_on,
        shelf_each,
        shelves_in_box,
        hanging_each,
        fits: (!fits.is_empty()).then_some(fits),
        stands_on,
        wall_fixing,
        filler: filler.to_owned(),
        carton,
        drawer_fronts,
        foot_adjust,
        shelf_thick: shelf_thick.filter(|t| *t > Length::ZERO),
        shelf_core: row.text("shelf_core"),
        finish: row.text("finish"),
        delivery_group: row.text("delivery_group"),
        store: row.text("store"),
        lead_days,
        taxed,
        row: row.raw.number,
    })
}
