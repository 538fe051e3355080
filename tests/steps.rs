//! Steps worth knowing against plans made anew at every size, by the whole program from outside.

use serde_json::Value;
use std::fs;
use std::path::Path;
use std::process::Command;

/// Units of a length in a quarter inch.
const MARK: i64 = 16 * 31_750;

const PROJECT: &str = r#"
[project]
name = "a bench for shelves"
units = "inch"
tape = "1/4"
[[run]]
route = "custom"
base_height = "0"
box_height = "HEIGHT"
box_depth = "DEPTH"
material = "PLY"
[[run.box]]
name = "a"
width = "WIDTH"
loose_shelves = 4
[saw]
kerf = "1/8"
clean_edge = "1/8"
"#;

const STOCK: &str = "item,kind,what,length,width,thick,measured,grain,sold_by,holds,price
PLY,sheet,plywood,96,48,3/4,3/4,length,each,1,60.00
";

fn run(folder: &Path, args: &[&str]) -> Value {
    let done = Command::new(env!("CARGO_BIN_EXE_nookwright"))
        .args(args)
        .args(["--json", "--in"])
        .arg(folder)
        .output()
        .expect("ran");
    let said = String::from_utf8_lossy(&done.stderr);
    serde_json::from_slice(&done.stdout).unwrap_or_else(|e| panic!("{args:?}: {e}: {said}"))
}

fn inches(units: i64) -> String {
    format!("{} {}/4", units / (4 * MARK), units / MARK % 4)
}

/// Writes the job with these sizes (width, height, depth in units).
fn put(folder: &Path, size: [i64; 3]) {
    let text = PROJECT
        .replace("WIDTH", &inches(size[0]))
        .replace("HEIGHT", &inches(size[1]))
        .replace("DEPTH", &inches(size[2]));
    fs::write(folder.join("project.toml"), text).expect("written");
    fs::write(folder.join("stock.csv"), STOCK).expect("written");
}

/// Sheets bought, and no fewer than.
fn sheets(folder: &Path, size: [i64; 3]) -> (i64, i64) {
    put(folder, size);
    let plan = run(folder, &["cut"]);
    assert_eq!(plan["unplaced"].as_array().map(Vec::len), Some(0));
    let item = &plan["items"][0];
    let number = |key: &str| item[key].as_i64().expect("a number");
    (number("sheets"), number("at_least"))
}

/// Every step of a box, held against the plan of every size on the tape within reach.
#[test]
fn steps_are_those_of_every_size_planned_anew() {
    let dir = tempfile::tempdir().expect("folder");
    let folder = dir.path();
    let mut seen = [0, 0];
    // The last is nearly as tall as a sheet is long: past 95 3/4 there is nothing to look for.
    for size in [
        [30, 47, 12],
        [36, 60, 15],
        [26, 78, 20],
        [38, 62, 15],
        [40, 90, 18],
    ] {
        let size = size.map(|inches| inches * 4 * MARK);
        put(folder, size);
        let list = run(folder, &["parts", "--steps"]);
        let steps = list["steps"].as_array().expect("a list").clone();
        assert!(steps.len() >= 5, "{steps:?}");
        for step in &steps {
            let length = |key: &str| step[key].as_i64();
            let axis = match step["side"].as_str() {
                Some("width") => 0,
                Some("height") => 1,
                _ => 2,
            };
            let (now, then) = (
                length("sheets_now").unwrap(),
                length("sheets_then").unwrap(),
            );
            let more = then > now;
            let (still, looked) = (length("still").unwrap(), length("looked_to").unwrap());
            let proved = step["proved"].as_bool().unwrap();
            assert_eq!(length("now"), Some(size[axis]));
            let at = length("at");
            seen[usize::from(more)] += usize::from(at.is_some());
            // Every fourth mark, and those beside the step.
            let marks = (looked - size[axis]) / MARK;
            for n in 0..=marks.abs() {
                let here = size[axis] + n * marks.signum() * MARK;
                if n % 4 != 0 && here != still && Some(here) != at {
                    continue;
                }
                let mut other = size;
                other[axis] = here;
                let (bought, least) = sheets(folder, other);
                let beyond = at.is_some_and(|at| (here - at) * marks.signum() >= 0);
                let what = format!("{step}\nat {here}: {bought} bought, at least {least}");
                match (more, beyond) {
                    // A plan was found: then no proof may speak against it.
                    (true, false) => assert!(least <= now, "{what}"),
                    (true, true) if proved => assert!(bought >= then, "{what}"),
                    (false, false) if proved => assert!(bought >= now, "{what}"),
                    (false, true) => assert!(least <= then, "{what}"),
                    _ => {}
                }
                // The usual effort finds what the short one found, on lists as short as these.
                if beyond != more {
                    assert!(bought <= now.min(if more { now } else { then }), "{what}");
                }
            }
        }
    }
    assert!(
        seen[0] >= 3 && seen[1] >= 3,
        "too few steps were seen: {seen:?}"
    );
}

/// Two boxes that share what is left: a wider one is a narrower other, and the plan of such widths given outright buys as many
/// sheets as the step says.
#[test]
fn a_box_that_shares_is_stepped_at_its_neighbours_cost() {
    let dir = tempfile::tempdir().expect("folder");
    let folder = dir.path();
    let opening = r#"
[opening]
name = "square"
walls = "drywall"
[opening.level_line]
down_to_floor = { left = "40", middle = "40", right = "40" }
up_to_ceiling = { left = "56", middle = "56", right = "56" }
[opening.plumb_lines]
apart = "60"
height = ["0", "48", "94"]
left_gap = ["1", "1", "1"]
right_gap = ["1", "1", "1"]
[opening.tape]
depth = { left = "30", middle = "30", right = "30" }
"#;
    let write = |widths: [String; 2]| {
        let second = format!(
            "[[run.box]]\nname = \"b\"\n{}\nloose_shelves = 1\n[saw]",
            widths[1]
        );
        let text = PROJECT
            .replace("HEIGHT", "60")
            .replace("DEPTH", "15")
            .replace("width = \"WIDTH\"", &widths[0])
            .replace("[saw]", &second);
        fs::write(folder.join("project.toml"), text + opening).expect("written");
        fs::write(folder.join("stock.csv"), STOCK).expect("written");
    };
    write(["share = 1".into(), "share = 1".into()]);
    let list = run(folder, &["parts", "--steps"]);
    let steps = list["steps"].as_array().expect("a list").clone();
    let own: Vec<&Value> = steps.iter().filter(|s| s["side"] == "width").collect();
    assert!(
        own.iter().any(|s| s["box"] == "a") && own.iter().any(|s| s["box"] == "b"),
        "{steps:?}"
    );
    // 62 wide, half an inch free at each side.
    let total = 61 * 4 * MARK;
    for step in own {
        assert_eq!(step["others_give_way"], true);
        let units = |key: &str| step[key].as_i64();
        let first = step["box"] == "a";
        let bought = |here: i64| {
            let given = |l: i64| format!("width = \"{}\"", inches(l));
            let (own, other) = (given(here), given(total - here));
            write(if first { [own, other] } else { [other, own] });
            let plan = run(folder, &["cut"]);
            plan["items"][0]["sheets"].as_i64().expect("a number")
        };
        let (now, then) = (units("sheets_now").unwrap(), units("sheets_then").unwrap());
        if then > now {
            assert!(bought(units("still").unwrap()) <= now, "{step}");
        }
        if let Some(at) = units("at").filter(|_| step["proved"] == true) {
            assert_eq!(bought(at), then, "{step}");
        }
    }
}

/// A row of hers does not follow the box: with `keep`, the sides stay as long as they are.
#[test]
fn rows_of_hers_stay_as_they_are() {
    let dir = tempfile::tempdir().expect("folder");
    let folder = dir.path();
    put(folder, [30, 47, 12].map(|inches| inches * 4 * MARK));
    let all = run(folder, &["parts", "--write", "--steps"]);
    let height = |list: &Value| {
        let steps = list["steps"].as_array().expect("a list").clone();
        steps.iter().filter(|s| s["side"] == "height").count()
    };
    assert!(height(&all) > 0);
    let text = fs::read_to_string(folder.join("parts.csv")).expect("parts");
    let mut lines = text.lines();
    let head: Vec<&str> = lines.next().expect("headings").split(',').collect();
    let keep = head.iter().position(|h| *h == "keep").expect("keep");
    let kept: Vec<String> = lines
        .map(|line| {
            let mut cells: Vec<&str> = line.split(',').collect();
            cells[keep] = "yes";
            cells.join(",")
        })
        .collect();
    let text = format!("{}\n{}\n", head.join(","), kept.join("\n"));
    fs::write(folder.join("parts.csv"), text).expect("written");
    let none = run(folder, &["parts", "--steps"]);
    assert_eq!(none["steps"].as_array().map(Vec::len), Some(0));
    assert!(run(folder, &["parts"]).get("steps").is_none());
}

/// The worked alcove: one thread or two, the same words.
#[test]
fn steps_are_the_same_on_two_threads() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/alcove");
    let one = run(&folder, &["parts", "--steps", "--threads", "1"]);
    let two = run(&folder, &["parts", "--steps", "--threads", "2"]);
    assert_eq!(one["steps"], two["steps"]);
    assert!(one["steps"].as_array().is_some_and(|s| !s.is_empty()));
}
