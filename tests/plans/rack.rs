//! The rack: what is promised or doubtful is never planned on, and nothing is taken from it without buying less.

use super::files::{Folder, cut, only, plan};
use nookwright::model::Job;
use std::fs;
use std::path::Path;
use std::process::Command;

fn project(name: &str) -> String {
    format!(
        "[project]\nname = \"{name}\"\nunits = \"inch\"\nsales_tax = \"0%\"\n[saw]\nkerf = \"1/8\"\nclean_edge = \"1/8\"\n\
         [files]\noffcuts = \"../rack.csv\"\n"
    )
}

const STOCK: &str =
    "item,kind,what,length,width,thick,measured,price\nPLY,sheet,ply,96,48,3/4,23/32,60\n";
const SMALL: &str = "mark,what,how_many,length,width,item\nS,shelf,1,28,10,PLY\n";
const HEADINGS: &str = "mark,item,length,width,thick,good_edges,state\n";

fn folder(parts: &str, rack: &str) -> Folder {
    let offcuts = format!("{HEADINGS}{rack}");
    Folder {
        project: project("Hall").replace("[files]\noffcuts = \"../rack.csv\"\n", ""),
        parts: parts.into(),
        stock: STOCK.into(),
        offcuts,
    }
}

fn racks(job: &Job) -> (Vec<String>, u32) {
    let plan = plan(job);
    let used = plan.sheets.iter().filter_map(|s| s.rack.clone()).collect();
    (used, only(&plan).sheets)
}

fn run(dir: &Path, words: &[&str]) -> serde_json::Value {
    let out = Command::new(env!("CARGO_BIN_EXE_nookwright"))
        .args(words)
        .args(["--json", "--in"])
        .arg(dir)
        .output()
        .expect("the program runs");
    let said = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(out.status.success(), "{words:?}: {said}");
    serde_json::from_str(&said).expect("a document")
}

/// Two jobs share one rack. What one promises itself the other does not plan on; its own plan keeps it.
#[test]
fn a_promised_piece_is_planned_once() {
    let home = tempfile::tempdir().expect("a folder");
    let rack = format!("{HEADINGS}R-1,PLY,30,12,23/32,,ready\n");
    fs::write(home.path().join("rack.csv"), rack).expect("a file");
    let jobs = ["Hall", "Attic"].map(|name| {
        let dir = home.path().join(name);
        fs::create_dir(&dir).expect("a folder");
        fs::write(dir.join("project.toml"), project(name)).expect("a file");
        fs::write(dir.join("parts.csv"), SMALL).expect("a file");
        fs::write(dir.join("stock.csv"), STOCK).expect("a file");
        dir
    });
    let planned = |dir: &Path| {
        let plan = run(dir, &["cut"]);
        let rack = plan["sheets"][0]["rack"].as_str().map(String::from);
        (rack, plan["items"][0]["sheets"].as_u64())
    };
    let [hall, attic] = &jobs;
    let on_rack = (Some("R-1".to_owned()), Some(0));
    assert_eq!(planned(hall), on_rack);
    assert_eq!(planned(attic), on_rack, "nobody has promised it yet");
    run(hall, &["rack", "take", "R-1", "--for", "Hall"]);
    assert_eq!(planned(hall), on_rack);
    assert_eq!(planned(attic), (None, Some(1)));
    run(hall, &["rack", "take", "R-1"]);
    assert_eq!(planned(hall), (None, Some(1)), "spent is spent");
}

/// Only what is ready, of the right thickness and large enough between its edges.
#[test]
fn what_is_not_sound_is_not_used() {
    let used = |row: &str| racks(&folder(SMALL, &format!("{row}\n")).read());
    let bought = (vec![], 1);
    assert_eq!(used("R-1,PLY,30,12,23/32,,ready"), (vec!["R-1".into()], 0));
    assert_eq!(used("R-1,PLY,30,12,23/32,,doubtful"), bought);
    assert_eq!(used("R-1,PLY,30,12,23/32,,spent"), bought);
    assert_eq!(used("R-1,PLY,30,12,23/32,,promised"), bought);
    assert_eq!(used("R-1,PLY,30,12,5/8,,ready"), bought);
    // 28 x 10 with 1/8 off each edge that is not good.
    assert_eq!(used("R-1,PLY,28 1/8,10 1/8,23/32,,ready"), bought);
    let good = used("R-1,PLY,28 1/8,10 1/8,23/32,x0+y1,ready");
    assert_eq!(good, (vec!["R-1".into()], 0));
    let good = used("R-1,PLY,28,10,23/32,x0+x1+y0+y1,ready");
    assert_eq!(good, (vec!["R-1".into()], 0));
    assert_eq!(used("R-1,PLY,28,10,23/32,x0+y1,ready"), bought);
}

/// A sheet that is bought anyway and has room takes the small part; the rack stays as it is. Where the room is not there,
/// the rack saves a sheet; two parts and one piece of rack use it once.
#[test]
fn the_rack_is_used_where_it_buys_less() {
    let parts = |large: u32, small: u32| {
        format!(
            "mark,what,how_many,length,width,item\nL,side,{large},88,23 1/4,PLY\nS,shelf,{small},28,10,PLY\n"
        )
    };
    let rack = "R-1,PLY,30,12,23/32,,ready\nR-2,PLY,30,12,23/32,,ready\n";
    let used = |large, small| racks(&folder(&parts(large, small), rack).read());
    assert_eq!(used(1, 1), (vec![], 1));
    assert_eq!(used(3, 2), (vec![], 2));
    // Two sides fill a sheet but for strips of 7 1/2.
    let (marks, sheets) = used(2, 1);
    assert_eq!((marks.len(), sheets), (1, 1));
    let (marks, sheets) = used(2, 2);
    assert_eq!((marks.len(), sheets), (2, 1));
    assert_ne!(marks[0], marks[1]);
    assert_eq!(
        used(2, 3),
        (vec![], 2),
        "a sheet more has room for all three"
    );
}

/// The same for boards, where a rack piece may have its width written beside it.
#[test]
fn sticks_on_the_rack() {
    let stock = "item,kind,what,length,width,thick,price\nB-5,board,board,8 ft,5 1/2,3/4,9\n";
    let used = |row: &str| {
        let folder = Folder {
            parts: "mark,what,how_many,length,width,item\nT,rail,2,40,,B-5\n".into(),
            stock: stock.into(),
            ..folder("", &format!("{row}\n"))
        };
        let plan = plan(&folder.read());
        assert_eq!(cut(&plan, "T"), 2);
        let rack: Vec<_> = plan.sticks.iter().filter_map(|s| s.rack.clone()).collect();
        (rack, only(&plan).sheets)
    };
    let on_rack = (vec!["R-1".to_owned()], 0);
    let bought = (vec![], 1);
    assert_eq!(used("R-1,B-5,84,,3/4,,ready"), on_rack);
    assert_eq!(
        used("R-1,B-5,80 1/8,,3/4,,ready"),
        on_rack,
        "two and a kerf"
    );
    assert_eq!(used("R-1,B-5,80,,3/4,,ready"), bought);
    assert_eq!(used("R-1,B-5,84,5 1/2,3/4,,ready"), on_rack);
    assert_eq!(
        used("R-1,B-5,84,3,3/4,,ready"),
        bought,
        "ripped narrower, it is another board"
    );
    assert_eq!(
        used("R-1,B-5,44,,3/4,,ready"),
        bought,
        "one of two saves no stick"
    );
    assert_eq!(used("R-1,B-5,84,,3/4,,doubtful"), bought);
}
