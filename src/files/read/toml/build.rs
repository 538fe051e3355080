//! How boxes are built: the names of `[[run]]` and `[[run.box]]` that sizes of parts come from, beside the outside sizes.

use super::doc::Sort;
use super::table::Table;
use crate::model::{BoxInside, BuildRules, DoorLay, PinRules, ShelfLoad};

/// What is done to front edges.
pub(super) const FACES: &[(&str, &str)] = &[
    ("banded", "banded"),
    ("all banded", "all banded"),
    ("lipped", "lipped"),
    ("frame", "frame"),
    ("plain", "plain"),
];

const LOADS: &[(&str, ShelfLoad)] = &[
    ("usual", ShelfLoad::Usual),
    ("clothes", ShelfLoad::Clothes),
    ("shoes", ShelfLoad::Shoes),
    ("linens", ShelfLoad::Linens),
    ("books", ShelfLoad::Books),
    ("files", ShelfLoad::Files),
];

const LAYS: &[(&str, DoorLay)] = &[("overlay", DoorLay::Overlay), ("inset", DoorLay::Inset)];

/// The rules of a run. A run without boxes has no use for them, so none is listed as a default.
pub(super) fn read_build(table: &Table<'_>, built: bool) -> BuildRules {
    let usual = BuildRules::default();
    let size = |key, sort, default, why| {
        if built {
            table.size_or(key, sort, default, why)
        } else {
            table.size(key, sort).unwrap_or(default)
        }
    };
    let pitch = Sort::size("the distance from hole to hole, such as 32 mm or 1 1/4");
    let inset = Sort::size("from the front edge to the row of holes, such as 37 mm");
    BuildRules {
        nailer: size(
            "nailer",
            Sort::from_zero("the height of the nailer such as 3 3/4, or 0 for none"),
            usual.nailer,
            "room for two screws into a stud; common practice, no source",
        ),
        load: table
            .get("load")
            .and_then(|v| v.word(LOADS))
            .unwrap_or_default(),
        pins: PinRules {
            pitch: size("pin_pitch", pitch, usual.pins.pitch, "the 32 mm system"),
            first: table.size(
                "pin_first",
                Sort::size("from the bottom edge to the first hole, such as 2 1/2"),
            ),
            inset: size("pin_inset", inset, usual.pins.inset, "the 32 mm system"),
        },
        strips: table.text("strips"),
        cover: table.text("cover"),
        rail: table.text("rail_item"),
        door_lay: table
            .get("door_lay")
            .and_then(|v| v.word(LAYS))
            .unwrap_or_default(),
        door_gap: size(
            "door_gap",
            Sort::from_zero("the gap beside a door or drawer front, such as 1/8"),
            usual.door_gap,
            "room to open; common practice, no source",
        ),
        door_item: table.text("door_item"),
        hinge: table.text("hinge"),
        slide: table.text("slide"),
        drawer_item: table.text("drawer_item"),
        notch: table.get("notch").and_then(|v| v.yes_no()),
    }
}

/// What is inside one box.
pub(super) fn read_inside(table: &Table<'_>) -> BoxInside {
    BoxInside {
        partitions: table.count("partitions", 0).unwrap_or(0),
        load: table.get("load").and_then(|v| v.word(LOADS)),
        drawer_heights: table
            .sizes(
                "drawer_heights",
                Sort::size("the height of a drawer front, such as 8"),
            )
            .unwrap_or_default(),
        drawers_inside: table
            .get("drawers_inside")
            .and_then(|v| v.yes_no())
            .unwrap_or(false),
    }
}
