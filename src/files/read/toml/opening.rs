//! `[opening]` and what stands around it: things to keep clear, old trim, studs, the way in, the door, the ceiling.

use super::doc::Sort;
use super::readings::{
    PLACE, read_back_wall, read_level_line, read_plumb_lines, read_tape, rising,
};
use super::runs::WALLS;
use super::table::Table;
use crate::files::read::near::did_you_mean;
use crate::files::read::report::Wrong;
use crate::model::{
    Doorway, ExistingTrim, KeepClear, OldPiece, Opening, OpeningNow, Soffit, Studs, Swing,
    WallSide, WayIn,
};
use crate::opening::{all_readings, beyond_wall, reading_path, survey_by};
use crate::units::{Length, Tape};

pub(super) fn read_opening(root: &Table<'_>, needed: bool) -> Option<Opening> {
    let table = root.table("opening");
    if table.is_absent() {
        if needed {
            root.missing_table("opening", "your readings");
        }
        return None;
    }
    let mut opening = Opening {
        name: table.needed_text("name", "a name for the opening"),
        // Only the book's cautions read it, so that nothing stops for want of it.
        walls: table.text("walls").unwrap_or_default(),
        level_line: read_level_line(&table, needed),
        plumb_lines: read_plumb_lines(&table, needed),
        back_wall: read_back_wall(&table),
        tape: read_tape(&table),
        keep_clear: table
            .tables("keep_clear")
            .into_iter()
            .map(read_keep_clear)
            .collect(),
        existing_trim: table
            .tables("existing_trim")
            .into_iter()
            .map(read_existing_trim)
            .collect(),
        studs: table.tables("studs").into_iter().map(read_studs).collect(),
        way_in: table
            .tables("way_in")
            .into_iter()
            .map(read_way_in)
            .collect(),
        doorway: read_doorway(&table),
        soffits: table
            .tables("soffit")
            .into_iter()
            .map(read_soffit)
            .collect(),
        read_twice: Vec::new(),
        now: read_now(&table),
    };
    opening.read_twice = read_twice(&table, &opening);
    if opening.walls.is_empty() {
        table.default(
            "walls",
            "not known",
            "old plaster is not ruled out, so the book warns of lead paint",
        );
    }
    if opening.studs.is_empty() {
        table.default(
            "studs",
            "not known",
            "no stud is given, so fixing marks are left open",
        );
    }
    outside(&table, &opening);
    table.done();
    Some(opening)
}

/// Things and studs that would stand outside the opening: they would be left out of every drawing without a word.
fn outside(table: &Table<'_>, opening: &Opening) {
    let tape = Tape::usual(table.doc.read_as(PLACE).unit);
    let survey = survey_by(opening, tape);
    for (t, k) in table.tables("keep_clear").iter().zip(&opening.keep_clear) {
        let Some((key, most)) = beyond_wall(&survey, opening, k) else {
            continue;
        };
        let Some(value) = t.get(key) else { continue };
        let most = tape.print_with_unit(most);
        let why = match key {
            "up" => format!(
                "The ceiling is no higher than {most}: {} would be outside the opening.",
                k.what
            ),
            _ => format!(
                "The {} wall is no longer than {most}: {} would be outside the opening.",
                k.wall.word(),
                k.what
            ),
        };
        let expected = format!("a place within {most}");
        let fix = "measure it again, from the left end of its wall and up from the floor; or take it out.";
        value.wrong(&value.found(), Wrong::new(why, expected, fix));
    }
    for (t, s) in table.tables("studs").iter().zip(&opening.studs) {
        let beyond = |at: &&Length| {
            let stud = KeepClear {
                what: String::new(),
                wall: s.wall,
                from_left: Some(**at),
                up: None,
                width: None,
                height: None,
                reach: Length::ZERO,
            };
            beyond_wall(&survey, opening, &stud).is_some()
        };
        let far: Vec<String> = s
            .from_left
            .iter()
            .filter(beyond)
            .map(|l| tape.print(*l))
            .collect();
        if far.is_empty() {
            continue;
        }
        let why = format!(
            "The {} wall ends before it: no box there is screwed to it.",
            s.wall.word()
        );
        let wrong = Wrong::new(
            why,
            "studs within the wall",
            "measure again from the left end of its wall, or take it out.",
        );
        if let Some(value) = t.get("from_left") {
            table
                .doc
                .report()
                .caution(value.spot(), far.join(", "), wrong);
        }
    }
}

fn wall(table: &Table<'_>) -> WallSide {
    table
        .get("wall")
        .and_then(|v| v.word(WALLS))
        .unwrap_or_default()
}

fn read_keep_clear(table: Table<'_>) -> KeepClear {
    let side = Sort::reading("a size such as 4 1/2");
    let clear = KeepClear {
        what: table.needed_text("what", "what it is, such as outlet"),
        wall: wall(&table),
        from_left: table.needed_reading(
            "from_left",
            Sort::reading("a distance from the left such as 31 1/2"),
        ),
        up: table.needed_reading("up", Sort::reading("a height above the floor such as 14")),
        width: table.needed_reading("width", side),
        height: table.needed_reading("height", side),
        reach: table
            .size("reach", Sort::from_zero("how far it sticks out, such as 1"))
            .unwrap_or_default(),
    };
    table.done();
    clear
}

fn read_existing_trim(table: Table<'_>) -> ExistingTrim {
    let trim = ExistingTrim {
        what: table.needed_text("what", "what it is, such as base or crown"),
        wall: table.get("wall").and_then(|v| v.word(WALLS)),
        height: table.reading("height", Sort::reading("a height such as 5 1/4")),
        thick: table.reading("thick", Sort::reading("a thickness such as 3/4")),
        stay: table.yes_no_or("stay", true, "nothing is taken off unless it is said"),
        notch: table.yes_no_or("notch", false, "boxes stand off what stays"),
    };
    table.done();
    trim
}

fn read_studs(table: Table<'_>) -> Studs {
    let from_left = table.sizes("from_left", PLACE).unwrap_or_default();
    if !table.has("from_left") {
        table.missing(
            "from_left",
            "the middle of each stud from the left, such as [\"7 1/2\", \"23 1/2\"]",
        );
    }
    rising(&table, "from_left", Some(&from_left));
    let studs = Studs {
        wall: wall(&table),
        from_left,
        height: table.reading(
            "height",
            Sort::reading("a height above the floor such as 48"),
        ),
        found_by: table.text("found_by").unwrap_or_default(),
    };
    table.done();
    studs
}

fn read_way_in(table: Table<'_>) -> WayIn {
    let side = Sort::reading("a size such as 30 1/2");
    let what = table.needed_text("what", "what it is, such as back door");
    let sizes = ["width", "height", "turn"].map(|key| (key, table.reading(key, side)));
    let open = sizes
        .iter()
        .filter(|(key, size)| size.is_none() && table.has(key));
    let way = WayIn {
        what,
        width: sizes[0].1,
        height: sizes[1].1,
        turn: sizes[2].1,
        not_taken: open.map(|(key, _)| *key).collect(),
    };
    if !table.has("width") && !table.has("height") && !table.has("turn") {
        table.missing("width", "its width, its height or the room to turn");
    }
    table.done();
    way
}

fn read_doorway(opening: &Table<'_>) -> Option<Doorway> {
    let table = opening.table("doorway");
    if table.is_absent() {
        return None;
    }
    let side = Sort::reading("a clear size such as 30 1/2");
    let doorway = Doorway {
        width: table.needed_reading("width", side),
        height: table.needed_reading("height", side),
        casing: table
            .size(
                "casing",
                Sort::from_zero("the width of its casing, such as 3 1/2"),
            )
            .unwrap_or_default(),
        swing: table.word_or(
            "swing",
            &[
                ("in", Swing::In),
                ("out", Swing::Out),
                ("none", Swing::None),
            ],
            Swing::None,
            "none",
            "not said",
        ),
        from_left: table.size(
            "from_left",
            Sort::from_zero("from the left end of its wall to its nearer jamb, such as 12"),
        ),
        wall: table
            .word_or(
                "wall",
                &[
                    ("front", "front"),
                    ("left", "left"),
                    ("right", "right"),
                    ("left wall", "left"),
                    ("right wall", "right"),
                ],
                "front",
                "front",
                "doors face the back wall",
            )
            .to_owned(),
    };
    table.done();
    Some(doorway)
}

fn read_soffit(table: Table<'_>) -> Soffit {
    let side = Sort::reading("a size such as 12");
    let soffit = Soffit {
        from_left: table.needed_reading("from_left", side),
        width: table.needed_reading("width", side),
        down: table.needed_reading("down", Sort::reading("how far it comes down, such as 8")),
        depth: table.size(
            "depth",
            Sort::size("how deep it is from the back wall, such as 10"),
        ),
    };
    table.done();
    soffit
}

/// Readings named as `survey` names them.
fn read_twice(table: &Table<'_>, opening: &Opening) -> Vec<String> {
    let Some(value) = table.get("read_twice") else {
        return Vec::new();
    };
    let known: Vec<String> = all_readings(opening)
        .into_iter()
        .map(|at| reading_path(opening, at))
        .collect();
    let named = value.list("a list of readings as survey names them");
    let mut found = Vec::new();
    for name in named.unwrap_or_default() {
        let Some(text) = name.text() else { continue };
        let bare = text.trim_start_matches("opening.");
        if known.iter().any(|k| k == bare) {
            found.push(bare.to_owned());
        } else {
            let fix = did_you_mean(bare, known.iter().map(String::as_str));
            let expected = "a reading that is there, such as level_line.down_to_floor.left";
            name.wrong(
                &text,
                Wrong::new("No reading has this name.", expected, fix),
            );
        }
    }
    found
}

/// What is used again: a word for it, or a piece of a stock row that is to be cut down.
fn read_reuse(now: &Table<'_>) -> (Vec<String>, Vec<OldPiece>) {
    const EXPECTED: &str = "a list such as [\"the light\", { what = \"old rod\", item = \"ROD-48\", length = \"47 1/2\" }]";
    let (mut words, mut pieces) = (Vec::new(), Vec::new());
    let Some(value) = now.get("reuse") else {
        return (words, pieces);
    };
    if value.is_text() {
        return (value.text().into_iter().collect(), pieces);
    }
    for one in value.list(EXPECTED).unwrap_or_default() {
        if !one.is_table() {
            words.extend(one.text());
            continue;
        }
        let Some(table) = one.table() else { continue };
        let what = table.needed_text("what", "what it is, such as \"old rod\"");
        let item = table.needed_text("item", "the item of stock.csv it is like");
        let length = table.size("length", Sort::size("a length such as 47 1/2"));
        if !table.has("length") {
            table.missing("length", "how long it is, such as \"47 1/2\"");
        }
        let width = table.size("width", Sort::size("a width such as 11 7/8"));
        let line = table.line();
        table.done();
        words.push(what.clone());
        if let (false, Some(length)) = (item.is_empty(), length) {
            pieces.push(OldPiece {
                what,
                item,
                length,
                width,
                line,
            });
        }
    }
    (words, pieces)
}

fn read_now(opening: &Table<'_>) -> OpeningNow {
    let table = opening.table("now");
    let (reuse, old_stock) = read_reuse(&table);
    let now = OpeningNow {
        comes_off: table.texts("comes_off"),
        stays: table.texts("stays"),
        reuse,
        old_stock,
        patch: table.text("patch").unwrap_or_default(),
    };
    table.done();
    now
}
