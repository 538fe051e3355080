//! Random job folders: sizes in both units, several sizes and prices, limits, stock in hand, a rack, groups, spares, parts
//! that fit nothing. Sound files only; what they ask may be impossible.

use super::files::{Dice, Folder};
use std::fmt::Write;

const SHEETS: [(&str, &str); 9] = [
    ("96", "48"),
    ("8 ft", "4 ft"),
    ("97", "49"),
    ("60", "60"),
    ("48", "48"),
    ("48", "24"),
    ("2440 mm", "1220 mm"),
    ("2500 mm", "1250 mm"),
    ("120", "60"),
];
const STICKS: [&str; 7] = ["8 ft", "10 ft", "12 ft", "14 ft", "16 ft", "2400 mm", "3 m"];

/// A size between two whole inches, as a tape or a metric tape reads it.
fn size(d: &mut Dice, low: i64, high: i64) -> String {
    match d.roll(8) {
        0 => format!("{} mm", d.within(low * 25 + 1, high * 25)),
        1 => format!("{}.{} mm", d.within(low * 25 + 1, high * 25), d.roll(10)),
        2 => format!("{}", d.within(low, high)),
        3 => format!("{} {}/64", d.within(low, high - 1), d.within(1, 63)),
        _ => format!("{} {}/8", d.within(low, high - 1), d.within(1, 7)),
    }
}

fn maybe(d: &mut Dice, one_in: u64, low: i64, high: i64) -> String {
    if d.one_in(one_in) {
        d.within(low, high).to_string()
    } else {
        String::new()
    }
}

fn edges(d: &mut Dice) -> Vec<&'static str> {
    ["x0", "x1", "y0", "y1"]
        .into_iter()
        .filter(|_| d.one_in(2))
        .collect()
}

/// The job of a number.
pub(super) fn random_job(number: u64) -> Folder {
    let d = &mut Dice::new(number);
    let mut folder = Folder::default();
    let mm = d.one_in(5);
    let _ = write!(
        folder.project,
        "[project]\nname = \"Job {number}\"\nunits = \"{}\"\nsales_tax = \"8.25%\"\n[saw]\nkerf = \"{}\"\nclean_edge = \"{}\"\n",
        if mm { "mm" } else { "inch" },
        d.pick(&["1/8 in", "3/32 in", "2.2 mm", "3 mm", "0 in"]),
        d.pick(&["1/8 in", "0 in", "1/4 in", "5 mm"]),
    );
    if d.one_in(3) {
        let _ = writeln!(folder.project, "clean_edges = {:?}", edges(d));
    }
    match d.roll(6) {
        0 => folder.project += "turns = 2\n",
        1 => folder.project += "turns = 3\n",
        _ => {}
    }
    match d.roll(8) {
        0 => folder.project += "first = \"rip\"\n",
        1 => folder.project += "first = \"crosscut\"\n",
        _ => {}
    }
    folder.stock =
        "item,kind,what,length,width,thick,measured,grain,sold_by,price,have,at_most\n".into();
    folder.parts =
        "mark,what,how_many,length,width,item,grain,band,band_in_size,band_item,match,spare\n"
            .into();
    folder.offcuts = "mark,item,length,width,thick,grain,good_edges,state\n".into();
    let bandings = d.roll(3);
    for b in 0..bandings {
        let thick = d.pick(&["1 mm", "1/32 in", "0.5 mm"]);
        let _ = writeln!(
            folder.stock,
            "BND{b},banding,banding {b},50 ft,7/8 in,{thick},,,roll,14,,"
        );
    }
    let none = d.one_in(6);
    let sheets = d.within(i64::from(!none), 2);
    for m in 0..sheets {
        sheet_material(d, &mut folder, m, bandings);
    }
    for m in 0..d.within(i64::from(sheets == 0), 2) {
        stick_material(d, &mut folder, m);
    }
    // The metric job reads a bare number in mm, so its inches are named.
    if mm {
        folder.parts = with_inches(&folder.parts, &[3, 4]);
        folder.stock = with_inches(&folder.stock, &[3, 4, 5]);
        folder.offcuts = with_inches(&folder.offcuts, &[2, 3, 4]);
    }
    folder
}

fn with_inches(table: &str, columns: &[usize]) -> String {
    let mut lines = table.lines();
    let mut out = lines.next().unwrap_or_default().to_owned() + "\n";
    for line in lines {
        let cells: Vec<String> = (line.split(',').enumerate())
            .map(|(i, c)| {
                let bare = c.ends_with(|e: char| e.is_ascii_digit());
                if bare && columns.contains(&i) {
                    format!("{c} in")
                } else {
                    c.to_owned()
                }
            })
            .collect();
        out += &(cells.join(",") + "\n");
    }
    out
}

/// Prices of a material's sizes: all, none, or all but one.
fn price(d: &mut Dice, priced: u64, low: i64, high: i64) -> String {
    if priced == 0 || priced == 1 && d.one_in(2) {
        return String::new();
    }
    format!("{}.{:02}", d.within(low, high), d.roll(100))
}

fn sheet_material(d: &mut Dice, folder: &mut Folder, m: i64, bandings: u64) {
    let rows = d.within(1, 3);
    let thick = d.pick(&["3/4", "1/2", "18 mm"]).to_owned();
    let priced = d.roll(12);
    for r in 0..rows {
        let (length, width) = d.pick(&SHEETS);
        let (grain, each) = (
            if d.one_in(6) { "width" } else { "length" },
            price(d, priced, 15, 120),
        );
        let measured = d.pick(&["", "", "23/32", "0.705"]);
        let (have, most) = (maybe(d, 4, 0, 3), maybe(d, 5, 0, 4));
        let _ = writeln!(
            folder.stock,
            "P{m}{r},sheet,panel {m},{length},{width},{thick},{measured},{grain},each,{each},{have},{most}"
        );
    }
    if d.one_in(2) {
        for r in 0..d.within(1, 4) {
            let state = d.pick(&["ready", "ready", "ready", "doubtful", "promised", "spent"]);
            let thick = if d.one_in(6) { "1/4" } else { thick };
            let grain = if d.one_in(5) { "width" } else { "length" };
            let of = d.roll(rows as u64);
            let good = edges(d).join("+");
            let (length, width) = (size(d, 10, 70), size(d, 6, 45));
            let _ = writeln!(
                folder.offcuts,
                "R-{m}{r},P{m}{of},{length},{width},{thick},{grain},{good},{state}"
            );
        }
    }
    let small = d.one_in(3);
    for i in 0..d.within(1, 9) {
        let (mut length, mut width) = match (d.roll(12), small) {
            (0, _) => (size(d, 100, 140), size(d, 4, 30)),
            (1, _) => (size(d, 40, 70), size(d, 30, 48)),
            (2, _) => ("48".into(), size(d, 4, 20)),
            (_, true) => (size(d, 5, 30), size(d, 3, 14)),
            _ => (size(d, 8, 90), size(d, 4, 30)),
        };
        if d.one_in(8) {
            std::mem::swap(&mut length, &mut width);
        }
        let of = d.roll(rows as u64);
        let grain = d.pick(&["", "length", "width", "any"]);
        let band = d.pick(&["", "", "front", "left", "all", "front+left"]);
        let in_size = if bandings > 0 && d.one_in(3) {
            "yes"
        } else {
            ""
        };
        let band_item = if bandings > 0 && d.one_in(3) {
            "BND0"
        } else {
            ""
        };
        let group = d.pick(&["", "", "", "stop", "tall"]);
        let (many, spare) = (d.within(1, 5), maybe(d, 6, 0, 2));
        let _ = writeln!(
            folder.parts,
            "M{m}{i},part,{many},{length},{width},P{m}{of},{grain},{band},{in_size},{band_item},{group},{spare}"
        );
    }
}

fn stick_material(d: &mut Dice, folder: &mut Folder, m: i64) {
    let rows = d.within(1, 4);
    let priced = d.roll(12);
    for r in 0..rows {
        let length = d.pick(&STICKS);
        let kind = if m == 0 { "moulding" } else { "board" };
        let each = price(d, priced, 4, 30);
        let (have, most) = (maybe(d, 4, 0, 4), maybe(d, 4, 0, 5));
        if d.one_in(8) {
            let longest = if d.one_in(2) { "" } else { length };
            let _ = writeln!(
                folder.stock,
                "S{m}{r},{kind},strip {m},{longest},,3/4,,,foot,{each},,"
            );
        } else {
            let _ = writeln!(
                folder.stock,
                "S{m}{r},{kind},strip {m},{length},,3/4,,,each,{each},{have},{most}"
            );
        }
    }
    if d.one_in(2) {
        for r in 0..d.within(1, 3) {
            let state = d.pick(&["ready", "ready", "doubtful", "promised"]);
            let width = if d.one_in(4) { "3" } else { "" };
            let (of, length) = (d.roll(rows as u64), size(d, 12, 90));
            let _ = writeln!(
                folder.offcuts,
                "Q-{m}{r},S{m}{of},{length},{width},3/4,,,{state}"
            );
        }
    }
    let groups = d.one_in(3);
    for i in 0..d.within(1, 7) {
        let length = if d.one_in(14) {
            size(d, 200, 230)
        } else {
            size(d, 6, 110)
        };
        let group = if groups {
            *d.pick(&["", "", "head", "base"])
        } else {
            ""
        };
        let (of, many, spare) = (d.roll(rows as u64), d.within(1, 5), maybe(d, 6, 0, 2));
        let _ = writeln!(
            folder.parts,
            "T{m}{i},trim,{many},{length},,S{m}{of},,,,,{group},{spare}"
        );
    }
}
