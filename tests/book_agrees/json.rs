//! `plan.json` against the sections of the twin: where parts lie and how large they are, settings, counts, sticks.

use crate::Made;
use crate::figures::{MM, Shown, shown};
use crate::twin::{Section, cells};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key]
        .as_array()
        .unwrap_or_else(|| panic!("{key} is a list"))
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key]
        .as_str()
        .unwrap_or_else(|| panic!("{key} is text"))
}

fn whole(value: &Value) -> i64 {
    value.as_i64().expect("a whole number")
}

fn pair(value: &Value, key: &str) -> [i64; 2] {
    [whole(&value[key][0]), whole(&value[key][1])]
}

fn inch(made: &Made) -> bool {
    made.sample != "studio-mm"
}

fn titled<'a>(made: &'a Made, title: &str) -> Option<&'a Section> {
    let at = made
        .list
        .iter()
        .position(|(t, _, _)| t.starts_with(title))?;
    made.twin.get(at)
}

/// Sections that show one layout each, in the order of the plan.
fn sheet_sections(made: &Made) -> Vec<usize> {
    let title = |i: &usize| {
        let t = &made.list[*i].0;
        t.starts_with("Sheet ") || t.starts_with("Sheets ")
    };
    (0..made.list.len()).filter(title).collect()
}

/// Numbers of the cuts on a section's sheet, as they stand in the rings of its drawing.
pub(crate) fn cut_numbers(made: &Made, section: usize) -> BTreeSet<String> {
    let Some(at) = sheet_sections(made).iter().position(|s| *s == section) else {
        return BTreeSet::new();
    };
    list(&list(&made.plan, "sheets")[at], "cuts")
        .iter()
        .map(|c| c["n"].to_string())
        .collect()
}

/// `  A2 27 1/16 x 20 at 1/8 right, 1/8 up`: name, the two sizes, the place; all still text.
pub(crate) fn placed(line: &str) -> Option<(&str, [&str; 2], [&str; 2])> {
    let line = line.strip_prefix("  ")?;
    let (left, right) = line.split_once(" at ")?;
    let (x, rest) = right.split_once(" right, ")?;
    let (y, _) = rest.split_once(" up")?;
    let (name, sizes) = match left.strip_prefix("left over ") {
        Some(sizes) => ("left over", sizes),
        None => left.split_once(' ')?,
    };
    let (a, b) = sizes.split_once(" x ")?;
    Some((name, [a, b], [x, y]))
}

/// Every part and every leftover of every sheet lies in the twin where the plan has it, as large, once.
pub(crate) fn sheets(made: &Made) {
    let sections = sheet_sections(made);
    let sheets = list(&made.plan, "sheets");
    assert_eq!(sections.len(), sheets.len(), "a page for each layout");
    for (section, sheet) in sections.iter().zip(sheets) {
        let at = format!("{}, {}", made.sample, made.list[*section].0);
        let read =
            |t: &str| shown(t, inch(made)).unwrap_or_else(|| panic!("{at}: {t:?} is no length"));
        let mut told: Vec<(&str, [Shown; 2], [Shown; 2])> = made.twin[*section]
            .lines
            .iter()
            .filter_map(|l| placed(l))
            .map(|(name, size, place)| (name, size.map(read), place.map(read)))
            .collect();
        let places = list(sheet, "places").iter().map(|p| (text(p, "mark"), p));
        let left = list(sheet, "left").iter().map(|p| ("left over", p));
        for (name, place) in places.chain(left) {
            let (mut size, spot) = (pair(place, "size"), pair(place, "at"));
            if place["turned"] == true {
                // Told as in the cut list, length first.
                size.reverse();
            }
            let fits = |t: &(&str, [Shown; 2], [Shown; 2])| {
                t.0 == name && (0..2).all(|k| t.1[k].is(size[k]) && t.2[k].is(spot[k]))
            };
            let Some(found) = told.iter().position(fits) else {
                panic!("{at}: {name} {size:?} at {spot:?} is not told so: {told:?}");
            };
            told.remove(found);
        }
        assert!(told.is_empty(), "{at}: told, but not in the plan: {told:?}");
        assert!(
            made.list[*section].0.contains(text(sheet, "item")),
            "{at}: its material"
        );
    }
}

/// Every setting of the plan is a line of the settings page: its size, and how many cuts are made with it.
pub(crate) fn settings(made: &Made) {
    let Some(section) = titled(made, "Settings") else {
        panic!("no page of settings");
    };
    let mut lines: BTreeMap<i64, Vec<&str>> = BTreeMap::new();
    for row in section.rows().filter(|r| r.len() >= 4) {
        if let (Ok(n), Some(&"[ ]")) = (row[0].parse(), row.last()) {
            lines.insert(n, row);
        }
    }
    let counts: Vec<i64> = list(&made.plan, "sheets")
        .iter()
        .map(|s| whole(&s["count"]))
        .collect();
    for setting in list(&made.plan, "settings") {
        let n = whole(&setting["n"]);
        let row = lines
            .remove(&n)
            .unwrap_or_else(|| panic!("setting {n} has no line"));
        let at = format!("{}, setting {n}: {row:?}", made.sample);
        let said = row[1];
        if !said.contains("AT THE STORE") {
            let size = said
                .trim_start_matches(|c: char| !c.is_ascii_digit())
                .trim_end_matches(" off")
                .trim_end_matches(" again")
                .trim_end_matches(',');
            let size = shown(size, inch(made)).unwrap_or_else(|| panic!("{at}: no size"));
            assert!(size.is(whole(&setting["size"])), "{at}: {setting}");
            assert!(said.starts_with(text(setting, "kind")), "{at}: {setting}");
        }
        // Cleaning: as many cuts as edges are named. A layout that is made several times is one line with copy 0.
        let cuts: i64 = list(setting, "pieces")
            .iter()
            .map(|p| {
                let edges = if setting["kind"] == "clean" {
                    text(p, "gives").split(", ").count() as i64
                } else {
                    1
                };
                let times = if whole(&p["copy"]) == 0 {
                    counts[whole(&p["sheet"]) as usize]
                } else {
                    1
                };
                edges * times
            })
            .sum();
        let made_of: i64 = row[row.len() - 2]
            .parse()
            .unwrap_or_else(|_| panic!("{at}: cuts"));
        assert_eq!(made_of, cuts, "{at}");
    }
    assert!(lines.is_empty(), "lines of no setting: {lines:?}");
}

/// Each mark's pieces and size, from the layouts and sticks.
fn planned(made: &Made) -> BTreeMap<&str, (i64, Vec<i64>)> {
    let mut all: BTreeMap<&str, (i64, Vec<i64>)> = BTreeMap::new();
    for sheet in list(&made.plan, "sheets") {
        for place in list(sheet, "places") {
            let size = pair(place, "size");
            let own = if place["turned"] == true {
                vec![size[1], size[0]]
            } else {
                size.to_vec()
            };
            let entry = all.entry(text(place, "mark")).or_insert((0, own.clone()));
            assert_eq!(entry.1, own, "one size for all of a mark");
            entry.0 += whole(&sheet["count"]);
        }
    }
    for stick in list(&made.plan, "sticks") {
        for piece in list(stick, "pieces") {
            let entry = all
                .entry(text(piece, "mark"))
                .or_insert((0, vec![whole(&piece["length"])]));
            entry.0 += whole(&stick["count"]);
        }
    }
    all
}

/// The cut list has each mark with its count and size; there is a label for each piece, with its size.
pub(crate) fn parts(made: &Made) {
    let cut_list = titled(made, "Cut list").expect("a cut list");
    let labels = titled(made, "Labels").expect("labels");
    for (mark, (count, size)) in planned(made) {
        let at = format!("{}, {mark}", made.sample);
        let holds = |row: &Vec<&str>| {
            // A size that counts the banding in is larger than what is cut, by the banding: 3 mm at most.
            let more = if row.last().is_some_and(|l| l.ends_with("in the size")) {
                3
            } else {
                0
            };
            let is = |t: &str, exact: i64| {
                (0..=more).any(|mm| shown(t, inch(made)).is_some_and(|t| t.is(exact + mm * MM)))
            };
            row[0] == mark
                && row.windows(1 + size.len()).any(|w| {
                    w[0].parse() == Ok(count) && size.iter().zip(&w[1..]).all(|(s, t)| is(t, *s))
                })
        };
        let rows = cut_list
            .rows()
            .filter(|r| !r.is_empty())
            .filter(holds)
            .count();
        assert_eq!(rows, 1, "{at}: {count} of {size:?} in the cut list");
        let lead = format!("{mark} | ");
        let own: Vec<&String> = labels
            .lines
            .iter()
            .filter(|l| l.starts_with(&lead))
            .collect();
        assert_eq!(own.len() as i64, count, "{at}: a label for each piece");
        for line in own {
            let fields: Vec<&str> = line.split(" | ").collect();
            let sizes = fields[1..].iter().find_map(|f| {
                let first = f.split(", ").next().expect("a field");
                let parts: Option<Vec<Shown>> =
                    first.split(" x ").map(|t| shown(t, inch(made))).collect();
                parts.filter(|p| p.len() == size.len())
            });
            let sizes = sizes.unwrap_or_else(|| panic!("{at}: no size on {line:?}"));
            assert!(
                sizes.iter().zip(&size).all(|(t, s)| t.is(*s)),
                "{at}: {line:?}, {size:?}"
            );
        }
    }
}

/// Each kind of stick: how many, how long, its pieces in order, what is left.
pub(crate) fn sticks(made: &Made) {
    let sticks = list(&made.plan, "sticks");
    let Some(section) = titled(made, "Stick plan") else {
        assert!(sticks.is_empty(), "sticks, but no page of them");
        return;
    };
    for stick in sticks {
        let rows = section.lines.iter().map(|l| cells(l));
        let found = rows.into_iter().any(|row| {
            let is =
                |t: &str, exact: &Value| shown(t, inch(made)).is_some_and(|s| s.is(whole(exact)));
            row.len() == 6
                && row[1].parse() == Ok(whole(&stick["count"]))
                && is(row[2], &stick["length"])
                && list(stick, "pieces")
                    .iter()
                    .all(|p| row[3].contains(text(p, "mark")))
                && is(row[4].trim_end_matches([' ', 'K', 'R']), &stick["left"])
        });
        assert!(found, "{}: {stick}", made.sample);
    }
}
