//! The readings of `[opening]`: level line, plumb lines, back wall, tape. Each keeps its path and its `?`, and lists that
//! belong together are held against each other.

use super::doc::Sort;
use super::table::Table;
use super::value::Value;
use crate::files::read::report::Wrong;
use crate::model::{BackWall, LevelLine, PlumbLines, Reading, Station, TapeReadings};
use crate::units::Length;

const DOWN: Sort = Sort::reading("a reading such as 36 1/8");
const GAP: Sort = Sort::gap("a gap such as 7/8, or \"?\"");
const HEIGHT: Sort = Sort::from_zero("a height such as 48");
/// A place along a wall.
pub(super) const PLACE: Sort = Sort::from_zero("a distance from the left such as 31 1/2");
const WIDTH: Sort = Sort::reading("a width such as 71 5/16").large();
/// Fewest heights at which the gaps to the side walls are read.
const FEWEST_HEIGHTS: usize = 3;

/// The path of a reading without `[opening]`, as results name it: `level_line.down_to_floor.left`.
fn path(value: &Value<'_>) -> String {
    let joined = value.name.replacen("] ", ".", 1).replace("] ", ".");
    joined
        .trim_start_matches('[')
        .trim_start_matches("opening.")
        .replace(' ', ".")
}

pub(super) fn read_level_line(opening: &Table<'_>, needed: bool) -> LevelLine {
    let table = opening.table("level_line");
    if table.is_absent() {
        if needed {
            table.missing("down_to_floor", "readings off one level line");
        }
        return LevelLine::default();
    }
    let from_left = table
        .get("from_left")
        .and_then(|v| v.list("a list of distances"))
        .map(|list| {
            list.iter()
                .filter_map(|v| v.size(PLACE))
                .collect::<Vec<_>>()
        });
    rising(&table, "from_left", from_left.as_deref());
    let mut line = LevelLine::default();
    let both = [
        (
            "down_to_floor",
            "down_to_floor_back",
            &mut line.down_to_floor,
        ),
        (
            "up_to_ceiling",
            "up_to_ceiling_back",
            &mut line.up_to_ceiling,
        ),
    ];
    for (front, back, stations) in both {
        match table.get(front) {
            Some(value) => *stations = read_stations(&value, from_left.as_deref(), &table),
            None => table.missing(
                front,
                "readings such as { left = \"36 1/8\", middle = \"36 3/8\", right = \"36 9/16\" }",
            ),
        }
        if let Some(value) = table.get(back) {
            let behind = read_stations(&value, from_left.as_deref(), &table);
            join_back(stations, behind, &value);
        }
    }
    table.done();
    line
}

/// Stations by name or by number; each one reading, or one at the front and one at the back.
fn read_stations(
    value: &Value<'_>,
    from_left: Option<&[Length]>,
    table: &Table<'_>,
) -> Vec<Station> {
    if value.is_list() {
        let list = value.list("a list of readings").unwrap_or_default();
        if let Some(places) = from_left {
            equal_length(value, list.len(), places.len(), "from_left", "place", None);
        } else {
            table.missing(
                "from_left",
                "where each reading was taken, such as [\"0\", \"24\", \"48\"]",
            );
        }
        return list
            .iter()
            .enumerate()
            .map(|(i, v)| {
                let (front, back) = front_and_back(v, DOWN);
                let from_left = from_left.and_then(|p| p.get(i)).copied();
                Station {
                    path: path(v),
                    from_left,
                    name: String::new(),
                    front,
                    back,
                }
            })
            .collect();
    }
    let Some(named) = value.table() else {
        return Vec::new();
    };
    if named.has("front") || named.has("back") {
        let mut stations = named
            .get("front")
            .map(|v| read_stations(&v, from_left, table))
            .unwrap_or_default();
        if let Some(back) = named.get("back") {
            let behind = read_stations(&back, from_left, table);
            join_back(&mut stations, behind, &back);
        }
        named.done();
        return stations;
    }
    let mut stations = Vec::new();
    for key in ["left", "middle", "right"] {
        match named.get(key) {
            Some(v) => {
                let (front, back) = front_and_back(&v, DOWN);
                let named_path = format!("{}.{key}", path(value));
                stations.push(Station {
                    path: named_path,
                    from_left: None,
                    name: key.to_owned(),
                    front,
                    back,
                });
            }
            None => named.missing(
                key,
                "a reading such as 36 1/8, or \"?\" if you have not taken it yet",
            ),
        }
    }
    named.done();
    stations
}

/// One reading, `["front", "back"]`, or `{ front = .., back = .. }`.
fn front_and_back(value: &Value<'_>, sort: Sort) -> (Reading, Reading) {
    if value.is_list() {
        let list = value
            .list("two readings, front and back")
            .unwrap_or_default();
        if list.len() != 2 {
            let why = format!(
                "There are {} readings here; a pair has one at the front and one at the back.",
                list.len()
            );
            value.wrong(
                &value.found(),
                Wrong::new(why, "[\"front\", \"back\"]", "give two readings."),
            );
            return (None, None);
        }
        return (
            list[0].reading(sort).flatten(),
            list[1].reading(sort).flatten(),
        );
    }
    if value.is_table() {
        let Some(table) = value.table() else {
            return (None, None);
        };
        let pair = (
            table.needed_reading("front", sort),
            table.reading("back", sort),
        );
        table.done();
        return pair;
    }
    (value.reading(sort).flatten(), None)
}

fn join_back(stations: &mut [Station], behind: Vec<Station>, value: &Value<'_>) {
    if !behind.is_empty() && behind.len() != stations.len() {
        let why = format!(
            "{} readings at the back, but {} at the front.",
            behind.len(),
            stations.len()
        );
        value.wrong(
            &value.found(),
            Wrong::new(
                why,
                "as many at the back as at the front",
                "add the missing reading, or \"?\".",
            ),
        );
    }
    for (front, back) in stations.iter_mut().zip(behind) {
        front.back = back.front;
    }
}

pub(super) fn read_plumb_lines(opening: &Table<'_>, needed: bool) -> PlumbLines {
    let table = opening.table("plumb_lines");
    if table.is_absent() {
        if needed {
            table.missing("apart", "readings off two plumb lines");
        }
        return PlumbLines::default();
    }
    let apart = table.needed_reading(
        "apart",
        Sort::reading("the distance between the two lines, such as 70"),
    );
    let heights = table
        .get("height")
        .and_then(|v| v.list("a list of heights"));
    let height: Vec<Length> = heights
        .iter()
        .flatten()
        .filter_map(|v| v.size(HEIGHT))
        .collect();
    match &heights {
        None if !table.has("height") => table.missing(
            "height",
            "the heights of the readings, such as [\"0\", \"48\", \"95\"]",
        ),
        Some(list) if list.len() < FEWEST_HEIGHTS => {
            if let Some(value) = table.get("height") {
                let why = format!(
                    "{} heights; a wall that bows cannot be seen in fewer than {FEWEST_HEIGHTS}.",
                    list.len()
                );
                let fix = "take more readings, one near the floor and one near the ceiling.";
                value.wrong(
                    &shown(list),
                    Wrong::new(why, format!("at least {FEWEST_HEIGHTS} heights"), fix),
                );
            }
        }
        _ => {}
    }
    rising(&table, "height", Some(&height));
    let many = heights.as_ref().map(Vec::len);
    let shown = heights.as_deref().map(shown).unwrap_or_default();
    let gaps = |front: &'static str, back: &'static str| {
        let Some(value) = table.get(front) else {
            table.missing(front, "one gap for each height");
            table.get(back);
            return (Vec::new(), Vec::new());
        };
        let read = |v: &Value<'_>| {
            let list = v.list("a list of gaps").unwrap_or_default();
            if let Some(many) = many {
                equal_length(v, list.len(), many, "height", "gap", Some(&shown));
            }
            list.iter()
                .map(|v| v.reading(GAP).flatten())
                .collect::<Vec<_>>()
        };
        if value.is_table() {
            let Some(inside) = value.table() else {
                return (Vec::new(), Vec::new());
            };
            let pair =
                ["front", "back"].map(|k| inside.get(k).map(|v| read(&v)).unwrap_or_default());
            inside.done();
            table.get(back);
            let [front, behind] = pair;
            return (front, behind);
        }
        (
            read(&value),
            table.get(back).map(|v| read(&v)).unwrap_or_default(),
        )
    };
    let (left_gap, left_gap_back) = gaps("left_gap", "left_gap_back");
    let (right_gap, right_gap_back) = gaps("right_gap", "right_gap_back");
    table.done();
    PlumbLines {
        apart,
        height,
        left_gap,
        right_gap,
        left_gap_back,
        right_gap_back,
    }
}

fn shown(list: &[Value<'_>]) -> String {
    list.iter().map(Value::found).collect::<Vec<_>>().join(", ")
}

/// Two lists that belong together have one length.
fn equal_length(
    value: &Value<'_>,
    have: usize,
    want: usize,
    of: &str,
    one: &str,
    shown: Option<&str>,
) {
    if have == want {
        return;
    }
    let key = value.name.rsplit(' ').next().unwrap_or_default();
    let why = format!("{key} has {have} readings, but {of} has {want}.");
    let expected = match shown {
        Some(shown) => format!("one {one} for each {of}: {shown}"),
        None => format!("one reading for each {of}"),
    };
    let fix = if have < want {
        "add the missing reading, or \"?\" if you have not taken it yet."
    } else {
        "take out what is too much, or add the missing entry to the other list."
    };
    value.wrong(&format!("{have} readings"), Wrong::new(why, expected, fix));
}

/// Heights and stations go up; two alike or one out of order is a slip.
pub(super) fn rising(table: &Table<'_>, key: &'static str, list: Option<&[Length]>) {
    let Some(list) = list else { return };
    if list.windows(2).any(|w| w[1] <= w[0])
        && let Some(value) = table.get(key)
    {
        let found = value.list("a list").map(|l| shown(&l)).unwrap_or_default();
        let wrong = Wrong::new(
            "These do not go up one after the other.",
            "rising figures, no two alike",
            "put them in order, and the readings that belong to them too.",
        );
        value.wrong(&found, wrong);
    }
}

pub(super) fn read_back_wall(opening: &Table<'_>) -> Vec<BackWall> {
    let tables = opening.tables("back_wall");
    if tables.is_empty() {
        opening.default("back_wall", "flat", "no reading of the back wall is given");
    }
    let mut walls = Vec::new();
    for table in tables {
        let from_left = table.sizes("from_left", PLACE).unwrap_or_default();
        if !table.has("from_left") {
            table.missing(
                "from_left",
                "where each gap was read, such as [\"0\", \"36\", \"70\"]",
            );
        }
        rising(&table, "from_left", Some(&from_left));
        let heights = match table.get("height") {
            Some(v) if v.is_list() => v
                .list("heights")
                .unwrap_or_default()
                .iter()
                .map(|h| h.size(HEIGHT))
                .collect(),
            Some(v) => vec![v.size(HEIGHT)],
            None => vec![None],
        };
        let Some(gap) = table.get("gap") else {
            table.missing("gap", "the gap behind a straightedge at each place");
            table.done();
            continue;
        };
        let rows = gap.list("a list of gaps").unwrap_or_default();
        let nested = rows.first().is_some_and(Value::is_list);
        let lists: Vec<Value<'_>> = if nested { rows } else { vec![gap.clone()] };
        if lists.len() != heights.len() {
            equal_length(
                &gap,
                lists.len(),
                heights.len(),
                "height",
                "list of gaps",
                None,
            );
        }
        for (i, list) in lists.iter().enumerate() {
            let values = list.list("a list of gaps").unwrap_or_default();
            equal_length(
                list,
                values.len(),
                from_left.len(),
                "from_left",
                "gap",
                None,
            );
            walls.push(BackWall {
                height: heights.get(i).copied().flatten(),
                from_left: from_left.clone(),
                gap: values.iter().map(|v| v.reading(GAP).flatten()).collect(),
            });
        }
        table.done();
    }
    walls
}

pub(super) fn read_tape(opening: &Table<'_>) -> TapeReadings {
    let table = opening.table("tape");
    let width_at = table.sizes("width_at", HEIGHT).unwrap_or_default();
    rising(&table, "width_at", Some(&width_at));
    let width = table.get("width").map(|v| {
        let list = v.list("a list of widths").unwrap_or_default();
        if table.has("width_at") {
            equal_length(&v, list.len(), width_at.len(), "width_at", "width", None);
        } else {
            table.missing("width_at", "the height at which each width was taken");
        }
        list.iter().map(|v| v.reading(WIDTH).flatten()).collect()
    });
    let diagonal = table.get("diagonal").and_then(|v| v.table());
    let (mut up_right, mut up_left) = (None, None);
    if let Some(diagonal) = diagonal {
        let sort = Sort::reading("a diagonal such as 118 5/8");
        up_right = diagonal
            .get("low_left_to_high_right")
            .and_then(|v| v.reading(sort));
        up_left = diagonal
            .get("low_right_to_high_left")
            .and_then(|v| v.reading(sort));
        diagonal.done();
    }
    let tape = TapeReadings {
        width_at,
        width: width.unwrap_or_default(),
        diagonal_up_right: up_right,
        diagonal_up_left: up_left,
        depth: named_readings(&table, "depth", Sort::reading("a depth such as 24 1/4")),
        height: named_readings(&table, "height", Sort::reading("a height such as 95 3/16")),
    };
    table.done();
    tape
}

/// `{ left = "24 1/2", middle = [..], right = { low = .., high = .. } }`, one reading alone, or a list.
fn named_readings(table: &Table<'_>, key: &'static str, sort: Sort) -> Vec<(String, Reading)> {
    let Some(value) = table.get(key) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    gather(&value, String::new(), sort, &mut out);
    out
}

fn gather(value: &Value<'_>, name: String, sort: Sort, out: &mut Vec<(String, Reading)>) {
    if value.is_list() {
        for (i, v) in value
            .list("readings")
            .unwrap_or_default()
            .iter()
            .enumerate()
        {
            gather(v, format!("{name}[{i}]"), sort, out);
        }
    } else if value.is_table() {
        for (key, v) in value.table().map(|t| t.entries()).unwrap_or_default() {
            let inner = if name.is_empty() {
                key
            } else {
                format!("{name}.{key}")
            };
            gather(&v, inner, sort, out);
        }
    } else if let Some(reading) = value.reading(sort) {
        out.push((name, reading));
    }
}
