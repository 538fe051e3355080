//! What is done in the closet and on the way there: `trim --json`, `finish --json` and the car of `buy --json` against the twin.

use crate::Made;
use crate::figures::shown;
use crate::twin::Section;
use serde_json::Value;

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key]
        .as_str()
        .unwrap_or_else(|| panic!("{key} is text in {value}"))
}

fn whole(value: &Value) -> i64 {
    value.as_i64().expect("a whole number")
}

fn inch(made: &Made) -> bool {
    made.sample != "studio-mm"
}

fn titled<'a>(made: &'a Made, title: &str) -> Option<&'a Section> {
    let at = made.list.iter().position(|(t, _, _)| t == title)?;
    made.twin.get(at)
}

/// The section where the document has something for it, and none where it has not.
fn section<'a>(made: &'a Made, title: &str, wanted: bool) -> Option<&'a Section> {
    let found = titled(made, title);
    assert_eq!(found.is_some(), wanted, "{}: {title}", made.sample);
    found
}

#[track_caller]
fn says(made: &Made, section: &Section, what: &str) {
    let what = what.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        section.flat().contains(&what),
        "{}: {what:?} is not in\n{}",
        made.sample,
        section.lines.join("\n")
    );
}

/// True if a cell is that length as it is printed.
fn is(made: &Made, cell: &str, exact: &Value) -> bool {
    shown(cell, inch(made)).is_some_and(|s| s.is(whole(exact)))
}

/// Every strip with its blank, and every width at its height, in order; nothing more.
pub(crate) fn strips(made: &Made) {
    let strips = list(&made.trim, "scribes");
    let Some(page) = section(made, "Scribe strips", !strips.is_empty()) else {
        return;
    };
    let mut wanted: Vec<&Value> = Vec::new();
    for strip in strips {
        wanted.extend(list(strip, "ordinates"));
        wanted.extend(list(strip, "ends"));
    }
    let rows: Vec<Vec<&str>> = page
        .rows()
        .filter(|r| r.len() == 3 && ["reading", "the strip's own"].contains(&r[2]))
        .collect();
    assert_eq!(rows.len(), wanted.len(), "{}: widths", made.sample);
    for (row, o) in rows.iter().zip(wanted) {
        assert!(
            is(made, row[0], &o["at"]) && is(made, row[1], &o["width"]),
            "{}: {row:?} is not {o}",
            made.sample
        );
    }
    let flat = page.flat();
    let blanks: Vec<&str> = flat
        .split(" Blank ")
        .skip(1)
        .map(|b| b.split(". ").next().expect("a sentence"))
        .collect();
    assert_eq!(blanks.len(), strips.len(), "{}: {flat}", made.sample);
    for (said, strip) in blanks.iter().zip(strips) {
        let (a, b) = said.split_once(" x ").expect("two sizes");
        assert!(
            is(made, a, &strip["blank"][0]) && is(made, b, &strip["blank"][1]),
            "{}: blank {said:?} is not {}",
            made.sample,
            strip["blank"]
        );
        if !text(strip, "foot").is_empty() {
            says(made, page, text(strip, "foot"));
        }
    }
}

/// Every piece with both its points, and which stick it comes from.
pub(crate) fn schedule(made: &Made) {
    let pieces = list(&made.trim, "pieces");
    let Some(page) = section(made, "Trim schedule", !pieces.is_empty()) else {
        return;
    };
    for piece in pieces {
        let mark = text(piece, "mark");
        let row = page.rows().find(|r| r.first() == Some(&mark));
        let row = row.unwrap_or_else(|| panic!("{}: no row for {mark}", made.sample));
        let points = ["long_point", "short_point"].map(|k| &piece[k]);
        assert!(
            row.windows(2)
                .any(|w| is(made, w[0], points[0]) && is(made, w[1], points[1])),
            "{}: {row:?} is not {piece}",
            made.sample
        );
    }
    for stick in list(&made.trim, "sticks") {
        let marks: Vec<&str> = list(stick, "pieces")
            .iter()
            .map(|p| text(p, "mark"))
            .collect();
        let head = format!("{} of {}, ", stick["count"], text(stick, "item"));
        let tail = format!(" long: {}; ", marks.join(", "));
        let flat = page.flat();
        let found = flat.match_indices(&head).any(|(at, _)| {
            let rest = &flat[at + head.len()..];
            let Some((long, rest)) = rest.split_once(&tail) else {
                return false;
            };
            let left = rest.split(" left.").next().unwrap_or_default();
            is(made, long, &stick["length"]) && is(made, left, &stick["left"])
        });
        assert!(found, "{}: {stick} is not in\n{flat}", made.sample);
    }
}

/// Areas, coats, goods by rule and the steps with their days.
pub(crate) fn paint(made: &Made) {
    let doc = &made.finish;
    let any = ["areas", "goods"].iter().any(|k| !list(doc, k).is_empty());
    let Some(page) = section(made, "Fill, prime, paint", any) else {
        return;
    };
    let area = |v: &Value| {
        let sq_ft = v.as_f64().expect("an area");
        if inch(made) {
            format!("{sq_ft:.1}")
        } else {
            // A square foot is 0.09290304 m2 by definition.
            format!("{:.2}", sq_ft * 0.092_903_04)
        }
    };
    let rows: Vec<Vec<&str>> = page.rows().collect();
    // The first words of a cell that may go on over several lines.
    let begins = |cell: &str, what: &str| !cell.is_empty() && what.starts_with(cell);
    for a in list(doc, "areas") {
        let last: Vec<String> = ["face_sq_ft", "edge_sq_ft", "sq_ft"]
            .map(|k| area(&a[k]))
            .into();
        let found = rows.iter().any(|r| {
            r.len() >= 4 && begins(r[0], text(a, "what")) && r[r.len() - 3..].iter().eq(last.iter())
        });
        assert!(found, "{}: {a} with {last:?}", made.sample);
    }
    for c in list(doc, "coats") {
        let (n, each) = (c["coats"].to_string(), area(&c["sq_ft"]));
        let found = rows
            .iter()
            .any(|r| r.len() == 5 && begins(r[0], text(c, "what")) && r[2] == n && r[3] == each);
        assert!(found, "{}: {c}", made.sample);
    }
    for g in list(doc, "goods") {
        let (what, amount) = (text(g, "what"), text(g, "amount"));
        let found = rows
            .iter()
            .any(|r| r.len() >= 4 && begins(r[0], what) && begins(r[1], amount));
        assert!(found, "{}: {g}", made.sample);
    }
    let mut told = rows
        .iter()
        .filter(|r| r[..].first() == Some(&"[ ]") && r.len() >= 5);
    for s in list(doc, "steps") {
        let hours = format!("{:.2}", s["hours"].as_f64().expect("hours"));
        let row = told
            .next()
            .unwrap_or_else(|| panic!("{}: no step {s}", made.sample));
        assert!(
            begins(row[1], text(s, "what")) && row[2] == hours,
            "{}: {row:?} is not {s}",
            made.sample
        );
        if let Some(from) = s["from"].as_str() {
            assert!(
                row[4].starts_with(from),
                "{}: {row:?} is not {s}",
                made.sample
            );
        }
    }
    if let Some(from) = doc["load_from"].as_str() {
        says(made, page, &format!("after the last coat: from {from}"));
    }
}

/// Every trip of the car: what is in which pile, and the weight.
pub(crate) fn car(made: &Made) {
    let car = &made.buy["car"];
    let Some(page) = section(made, "Load", !car.is_null()) else {
        return;
    };
    let flat = page.flat();
    let words: Vec<&str> = flat.split(' ').collect();
    for trip in list(car, "trips") {
        for name in list(trip, "piles").iter().flat_map(|p| list(p, "pieces")) {
            let name = name.as_str().expect("a name");
            // More than sixteen alike are counted.
            let named = words.contains(&name) || name.contains(' ') && flat.contains(name);
            assert!(
                named || flat.contains(" more "),
                "{}: {name} is not on the load page",
                made.sample
            );
        }
        // 453.592 g are a pound.
        let grams = whole(&trip["grams"]);
        let weight = if inch(made) {
            format!("{} lb", (grams * 1000 + 226_796) / 453_592)
        } else {
            format!("{} kg", (grams + 500) / 1000)
        };
        says(made, page, &weight);
    }
}
