//! The verb `parts` on copies of a worked job: what it says, what it writes, and what it never touches.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A copy of the worked job.
struct Folder(TempDir);

impl Folder {
    fn new(with_parts: bool) -> Self {
        let dir = tempfile::tempdir().expect("folder");
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/back-hall");
        for name in ["project.toml", "parts.csv", "stock.csv", "prefab.csv"] {
            if with_parts || name != "parts.csv" {
                fs::copy(from.join(name), dir.path().join(name)).expect("copied");
            }
        }
        Self(dir)
    }
    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }
    fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect("readable")
    }
    fn put(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).expect("written");
    }
    /// Replaces words that must be there.
    fn edit(&self, name: &str, from: &str, to: &str) {
        let text = self.text(name);
        assert!(text.contains(from), "{from} is not in {name}");
        self.put(name, &text.replacen(from, to, 1));
    }
    fn run(&self, args: &[&str]) -> (i32, String) {
        let done = Command::new(env!("CARGO_BIN_EXE_nookwright"))
            .args(args)
            .arg("--in")
            .arg(self.0.path())
            .output()
            .expect("ran");
        let text = String::from_utf8(done.stdout).expect("text");
        (done.status.code().expect("a code"), text)
    }
    fn json(&self, args: &[&str]) -> serde_json::Value {
        let (code, text) = self.run(&[args, &["--json"]].concat());
        assert_eq!(code, 0, "{text}");
        serde_json::from_str(&text).expect("one document")
    }
    fn kept(&self) -> Vec<PathBuf> {
        let mut all: Vec<PathBuf> = fs::read_dir(self.path("kept"))
            .map(|d| d.map(|e| e.expect("entry").path()).collect())
            .unwrap_or_default();
        all.retain(|p| p.extension().is_some_and(|e| e == "csv"));
        all.sort();
        all
    }
}

/// mark, change, and why, of every change.
fn changes(doc: &serde_json::Value) -> Vec<(String, String, String)> {
    let text = |v: &serde_json::Value| v.as_str().expect("text").to_owned();
    let list = doc["changes"].as_array().expect("a list");
    let mut all: Vec<_> = list
        .iter()
        .map(|c| (text(&c["mark"]), text(&c["change"]), text(&c["why"])))
        .collect();
    all.sort();
    all
}

fn marks(doc: &serde_json::Value, change: &str) -> Vec<String> {
    changes(doc)
        .into_iter()
        .filter(|c| c.1 == change)
        .map(|c| c.0)
        .collect()
}

/// Sizes of a row, in units of 1/80 000 mm.
fn size(doc: &serde_json::Value, mark: &str) -> (i64, Option<i64>) {
    let rows = doc["rows"].as_array().expect("rows");
    let row = rows
        .iter()
        .find(|r| r["mark"] == mark)
        .unwrap_or_else(|| panic!("no {mark}"));
    (
        row["length"].as_i64().expect("a length"),
        row["width"].as_i64(),
    )
}

const INCH: i64 = 2_032_000;

#[test]
fn a_list_is_begun_and_says_what_the_worked_one_says() {
    let job = Folder::new(false);
    let first = job.json(&["parts"]);
    assert_eq!(marks(&first, "added").len(), 20);
    assert!(
        !job.path("parts.csv").exists() && !job.path("made").exists(),
        "nothing is written unasked"
    );
    job.json(&["parts", "--write"]);
    let second = job.json(&["parts"]);
    assert_eq!(changes(&second), Vec::new());
    // Each row, against the list worked on paper.
    let worked = Folder::new(true).json(&["parts"]);
    assert_eq!(changes(&worked), Vec::new());
    for row in worked["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .filter(|r| r["from"] == "run")
    {
        let mark = row["mark"].as_str().expect("a mark");
        let new = second["rows"]
            .as_array()
            .expect("rows")
            .iter()
            .find(|r| r["mark"] == mark)
            .expect("the row");
        for key in [
            "box", "how_many", "length", "width", "item", "grain", "band", "from",
        ] {
            assert_eq!(new[key], row[key], "{mark} {key}");
        }
    }
    // P1 of the worked list: 69 x 3 3/4.
    assert_eq!(size(&second, "P1"), (69 * INCH, Some(15 * INCH / 4)));
    assert_eq!(job.run(&["check"]).0, 0);
    assert_eq!(job.kept(), Vec::<PathBuf>::new());
}

/// Her columns in her order, her separator and line ends, a column of her own.
fn hers(job: &Folder) {
    let text = job.text("parts.csv");
    let lines: Vec<String> = text
        .lines()
        .enumerate()
        .map(|(i, l)| {
            let mut cells: Vec<&str> = l.split(',').collect();
            cells.swap(1, 2);
            let own = if i == 0 {
                "shelf in the shop".to_owned()
            } else {
                format!("\"bay; {i}\"")
            };
            cells.join(";") + ";" + &own
        })
        .collect();
    job.put("parts.csv", &(lines.join("\r\n") + "\r\n"));
}

#[test]
fn only_rows_the_run_drew_are_redrawn_and_her_table_keeps_its_shape() {
    let job = Folder::new(true);
    hers(&job);
    let before = job.text("parts.csv");
    job.json(&["parts", "--write"]);
    assert_eq!(
        job.text("parts.csv"),
        before,
        "nothing new, so not a byte changes"
    );
    // She changes a row, takes one out, keeps one; then the run changes.
    job.edit(
        "parts.csv",
        "L4;left;left loose shelf;5;20 11/16;22 3/4;",
        "L4;left;left loose shelf;5;20 11/16;22 1/2;",
    );
    job.edit(
        "parts.csv",
        "M1;middle;middle side;2;88;23 1/4;PLY-18;length;;;run;",
        "M1;middle;middle side;2;88;23 1/4;PLY-18;length;;yes;run;",
    );
    let text = job.text("parts.csv");
    let r5 = text
        .lines()
        .find(|l| l.starts_with("R5"))
        .expect("R5")
        .to_owned();
    job.edit("parts.csv", &format!("{r5}\r\n"), "");
    job.edit("project.toml", "box_height = \"88\"", "box_height = \"86\"");
    job.edit("project.toml", "loose_shelves = 4", "loose_shelves = 0");
    let hers = job.text("parts.csv");
    let shown = job.json(&["parts"]);
    assert_eq!(job.text("parts.csv"), hers, "shown only");
    assert_eq!(marks(&shown, "changed"), ["L1", "L6", "M6", "R1", "R6"]);
    assert_eq!(marks(&shown, "gone"), ["R4"]);
    let left: Vec<(String, String)> = changes(&shown)
        .into_iter()
        .filter(|c| c.1 == "left")
        .map(|c| (c.0, c.2))
        .collect();
    assert_eq!(left.len(), 3, "{left:?}");
    assert_eq!((left[0].0.as_str(), left[1].0.as_str()), ("L4", "M1"));
    assert!(
        left[0].1.contains("changed since")
            && left[1].1.contains("keep")
            && left[2].1.contains("took it out")
    );
    // --write adds only: nothing to add.
    job.json(&["parts", "--write"]);
    assert_eq!(job.text("parts.csv"), hers);
    let doc = job.json(&["parts", "--redraw"]);
    assert_eq!(doc["written"], true);
    let now = job.text("parts.csv");
    let expected: String = hers
        .split_inclusive("\r\n")
        .filter(|l| !l.starts_with("R4"))
        .map(|l| {
            let changes = ["L1", "L6", "M6", "R1", "R6"]
                .iter()
                .any(|m| l.starts_with(m));
            if changes {
                l.replacen(";88;", ";86;", 1)
            } else {
                l.to_owned()
            }
        })
        .collect();
    assert_eq!(now, expected);
    let kept = job.kept();
    assert_eq!(kept.len(), 1);
    assert_eq!(fs::read_to_string(&kept[0]).expect("kept"), hers);
    // Again: nothing more to do, and her rows are still hers.
    job.json(&["parts", "--redraw"]);
    assert_eq!(job.text("parts.csv"), now);
    assert_eq!(job.kept().len(), 1);
    assert_eq!(marks(&job.json(&["parts"]), "left").len(), 3);
}

/// Without a record of what was drawn: rows that differ by one step together were drawn by an older run, a row that differs
/// alone is hers.
#[test]
fn without_a_record_a_row_that_differs_alone_is_hers() {
    let job = Folder::new(true);
    job.edit("parts.csv", "22 15/16,22 3/4", "22 15/16,20");
    job.edit("project.toml", "box_height = \"88\"", "box_height = \"80\"");
    let doc = job.json(&["parts", "--redraw"]);
    assert_eq!(marks(&doc, "changed"), ["L1", "L6", "M1", "M6", "R1", "R6"]);
    assert_eq!(marks(&doc, "left"), ["M4"]);
    let text = job.text("parts.csv");
    assert!(
        text.contains("22 15/16,20,") && text.contains("M1,middle side,middle,2,80,23 1/4"),
        "{text}"
    );
    assert!(
        text.contains("S1,side scribe blank,face,2,91 3/4,2 7/8"),
        "{text}"
    );
}

/// The middle box made 1 narrower, no record: its boards along the width are shorter by it, its back is narrower by it, and all are
/// redrawn; shelves counted otherwise are said to be left, for she may have counted them.
#[test]
fn without_a_record_a_changed_run_is_redrawn_as_far_as_it_can_be_told() {
    let job = Folder::new(true);
    job.edit("project.toml", "width = \"24 1/2\"", "width = \"23 1/2\"");
    let doc = job.json(&["parts", "--redraw"]);
    assert_eq!(marks(&doc, "changed"), ["M2", "M3", "M4", "M5", "M6", "P1"]);
    assert_eq!(marks(&doc, "left"), Vec::<String>::new());
    assert!(
        job.text("parts.csv")
            .contains("M6,middle back,middle,1,88,22 3/4")
    );
    assert_eq!(changes(&job.json(&["parts"])), Vec::new());
    let counted = Folder::new(true);
    counted.edit(
        "parts.csv",
        "left loose shelf,left,5",
        "left loose shelf,left,4",
    );
    let done = Command::new(env!("CARGO_BIN_EXE_nookwright"))
        .args(["parts", "--redraw", "--in"])
        .arg(counted.0.path())
        .output()
        .expect("ran");
    let said = String::from_utf8_lossy(&done.stderr);
    let said: Vec<&str> = said.split_whitespace().collect();
    let said = said.join(" ");
    assert!(
        said.contains("Rows L4 differ from what the runs draw"),
        "{said}"
    );
}

/// A new box gets its rows, marks that are free, and no heading is invented.
#[test]
fn new_rows_go_below_with_marks_that_are_free() {
    let job = Folder::new(true);
    job.edit(
        "project.toml",
        "name = \"right\"",
        "name = \"right\"\ndoors = 2",
    );
    let doc = job.json(&["parts", "--write"]);
    assert_eq!(marks(&doc, "added"), ["R7"]);
    let text = job.text("parts.csv");
    assert!(
        text.ends_with("R7,right door,right,2,87 7/8,11,PLY-18,length,all,,run,5 hinges each\n"),
        "{text}"
    );
    assert_eq!(job.run(&["check"]).0, 0);
}

#[test]
fn what_cannot_be_built_is_said_at_once_and_nothing_is_written() {
    let job = Folder::new(true);
    job.edit("project.toml", "width = \"24 1/2\"", "width = \"1\"");
    job.edit(
        "project.toml",
        "fixed_shelves = 1",
        "fixed_shelves = 1\ndrawers = 20",
    );
    let before = job.text("parts.csv");
    let (code, text) = job.run(&["parts", "--redraw", "--json"]);
    let doc: serde_json::Value = serde_json::from_str(&text).expect("one document");
    assert_eq!(
        (code, doc["mistakes"].as_array().map(Vec::len)),
        (3, Some(2)),
        "{text}"
    );
    assert_eq!(job.text("parts.csv"), before);
    assert!(!job.path("made").exists());
}

/// Without parts.csv the other verbs work on what the runs draw.
#[test]
fn a_job_without_a_list_is_cut_as_its_runs_draw_it() {
    let (with, without) = (Folder::new(true), Folder::new(false));
    without.json(&["parts", "--write"]);
    let written = without.json(&["cut"]);
    fs::remove_file(without.path("parts.csv")).expect("taken away");
    let drawn = without.json(&["cut"]);
    assert_eq!(drawn, written);
    // The worked list has two blanks by hand beside what the runs draw, and needs the same six sheets.
    let sheets = |doc: &serde_json::Value| doc["items"][0]["sheets"].as_i64().expect("a count");
    assert!(sheets(&drawn) <= sheets(&with.json(&["cut"])));
}
