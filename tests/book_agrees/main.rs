//! Every number of the book is computed once: for every sample the pages of the PDF, the text twin and the JSON of the
//! verbs are held against each other, section by section. The PDF is read back by a reader of its own, the JSON is worked
//! out here in whole units; nothing of the program but its binary is used.

mod closet;
mod figures;
mod json;
mod money;
mod pdf;
mod twin;

use figures::{numbers, words};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;

/// A sample's book and the documents of the verbs.
#[derive(Clone)]
pub(crate) struct Made {
    pub(crate) sample: &'static str,
    /// Sections of the twin, in the order of the book.
    pub(crate) twin: Vec<twin::Section>,
    /// Lines of text on each page, as the PDF holds them.
    pages: Vec<Vec<String>>,
    /// `book --json`: title, first page from 1, number of pages.
    list: Vec<(String, usize, usize)>,
    pub(crate) plan: Value,
    pub(crate) buy: Value,
    pub(crate) buy_csv: String,
    pub(crate) compare: Value,
    pub(crate) trim: Value,
    pub(crate) finish: Value,
}

/// `route`: `None` = the one the job takes by itself.
fn document(folder: &Path, verb: &str, route: Option<&str>) -> Value {
    let route = route.filter(|_| verb != "compare");
    let output = Command::new(env!("CARGO_BIN_EXE_nookwright"))
        .args([verb, "--in", "job", "--json"])
        .args(route.map(|r| ["--route", r]).into_iter().flatten())
        .current_dir(folder)
        .env_remove("NO_COLOR")
        .output()
        .expect("the program starts");
    let code = output.status.code();
    // 5: something has no price; the document is whole all the same.
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(matches!(code, Some(0 | 5)), "{verb}: {code:?}\n{said}");
    serde_json::from_slice(&output.stdout).unwrap_or_else(|e| panic!("{verb}: {e}"))
}

fn make(sample: &'static str) -> Made {
    make_route(sample, None)
}

fn make_route(sample: &'static str, route: Option<&str>) -> Made {
    let folder = tempfile::tempdir().expect("a folder");
    let job = folder.path().join("job");
    std::fs::create_dir(&job).expect("a folder");
    let from = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("samples")
        .join(sample);
    for entry in std::fs::read_dir(from).expect("the sample") {
        let path = entry.expect("an entry").path();
        if path.is_file() {
            std::fs::copy(&path, job.join(path.file_name().expect("a name"))).expect("copied");
        }
    }
    if sample == "bare-list" {
        // The list alone makes no book: the least of a folder is put around it.
        let project = "[project]\nname = \"bare\"\nunits = \"inch\"\n\n[saw]\nkerf = \"1/8\"\nclean_edge = \"1/8\"\n";
        let stock = "item,kind,what,length,width,thick,price\nPLY,sheet,plywood,96,48,3/4,71.00\nTHIN,sheet,plywood,96,48,1/4,36.00\n";
        std::fs::write(job.join("project.toml"), project).expect("written");
        std::fs::write(job.join("stock.csv"), stock).expect("written");
    }
    if sample == "alcove" && route.is_some() {
        // A car that takes everything, so that there is something to load.
        let project = std::fs::read_to_string(job.join("project.toml")).expect("read");
        let large = project.replace(
            "length = \"70\"\nwidth = \"38\"",
            "length = \"100\"\nwidth = \"50\"",
        );
        assert_ne!(project, large);
        std::fs::write(job.join("project.toml"), large).expect("written");
    }
    if sample == "alcove" {
        // Paint that is not in the store, so that there is something to order.
        let stock = std::fs::read_to_string(job.join("stock.csv")).expect("read");
        let late = stock.replace(",paint,0,,375 sq ft", ",paint,12,,375 sq ft");
        assert_ne!(stock, late);
        std::fs::write(job.join("stock.csv"), late).expect("written");
    }
    let document = |verb: &str| document(folder.path(), verb, route);
    let book = document("book");
    let read = |name: &str| std::fs::read(job.join("made").join(name)).expect(name);
    let pages = pdf::pages(&read("build-book.pdf"));
    let text = String::from_utf8(read("build-book.txt")).expect("text");
    let list: Vec<(String, usize, usize)> = book["pages"]
        .as_array()
        .expect("a list of pages")
        .iter()
        .map(|p| {
            let whole = |key: &str| p[key].as_u64().expect("a number") as usize;
            (
                p["title"].as_str().expect("a title").into(),
                whole("page"),
                whole("pages"),
            )
        })
        .collect();
    let twin = twin::sections(&text, &list);
    let plan = document("cut");
    assert_eq!(plan["plan_number"], book["plan_number"], "one plan");
    let (buy, compare) = (document("buy"), document("compare"));
    let (trim, finish) = (document("trim"), document("finish"));
    Made {
        sample,
        twin,
        pages,
        list,
        plan,
        buy,
        buy_csv: std::fs::read_to_string(job.join("made/buy.csv")).expect("buy.csv"),
        compare,
        trim,
        finish,
    }
}

/// What is on a section's pages, without the foot and what a further page repeats.
fn printed(made: &Made, index: usize) -> Vec<&str> {
    let (_, first, many) = &made.list[index];
    let total = made.pages.len();
    let mut lines = Vec::new();
    for n in *first..first + many {
        let foot = format!("page {n} of {total}");
        let page = &made.pages[n - 1];
        // The foot is painted last: number, then the name of the job.
        let end = page.iter().position(|l| l.ends_with(&foot));
        let end = end.unwrap_or_else(|| panic!("page {n} has no foot {foot:?}"));
        lines.extend(
            page[..end]
                .iter()
                .map(String::as_str)
                .filter(|l| !of_the_drawing(l)),
        );
    }
    lines
}

/// Sections that are words and tables: everything on paper is in the twin, as often, and nothing else is.
const PLAIN: [&str; 8] = [
    "Settings",
    "Cut list",
    "Scribe strips",
    "Trim schedule",
    "Fill, prime, paint",
    "Shopping list",
    "Cost of each route",
    "Assumptions and cautions",
];

fn tally<'a>(all: impl Iterator<Item = &'a str>) -> BTreeMap<&'a str, usize> {
    let mut counts = BTreeMap::new();
    for one in all {
        *counts.entry(one).or_default() += 1;
    }
    counts
}

/// What belongs to the drawing alone: its scale bar with its scale, and how much a sketch exaggerates.
fn of_the_drawing(line: &str) -> bool {
    line.contains(" each, scale 1:") || line.starts_with("NOT TO SCALE")
}

fn paper_against_twin(made: &Made) {
    assert_eq!(
        made.list.len(),
        made.twin.len(),
        "{}: sections",
        made.sample
    );
    let mut plain = 0;
    for (i, (title, _, _)) in made.list.iter().enumerate() {
        let at = format!("{}, {title}", made.sample);
        let paper = printed(made, i);
        let (on_paper, in_twin) = (numbers(&paper), numbers(&made.twin[i].lines));
        let strs = |v: &[String]| v.iter().cloned().collect::<BTreeSet<String>>();
        let (paper_set, twin_set) = (strs(&on_paper), strs(&in_twin));
        if PLAIN.contains(&title.as_str()) {
            plain += 1;
            assert_eq!(
                tally(on_paper.iter().map(String::as_str)),
                tally(in_twin.iter().map(String::as_str)),
                "{at}: every number as often on paper as in the twin"
            );
            let (a, b) = (words(&paper), words(&made.twin[i].lines));
            let only: Vec<_> = a
                .symmetric_difference(&b)
                .filter(|w| *w != "continued")
                .collect();
            assert!(only.is_empty(), "{at}: words of one only: {only:?}");
            continue;
        }
        let cuts = json::cut_numbers(made, i);
        let only: Vec<_> = paper_set
            .difference(&twin_set)
            .filter(|n| !cuts.contains(*n))
            .collect();
        assert!(only.is_empty(), "{at}: on paper only: {only:?}");
        // Where parts lie and how thick a pile is are told in the twin and seen on paper; the first is held against the plan.
        let told = |line: &&str| {
            line.starts_with("  pile ")
                || json::placed(line).is_some()
                || line.starts_with("LABELS FOR")
        };
        let lines: Vec<&str> = made.twin[i]
            .lines
            .iter()
            .map(String::as_str)
            .filter(|l| !told(l))
            .collect();
        let rest = strs(&numbers(&lines));
        let only: Vec<_> = rest.difference(&paper_set).collect();
        assert!(only.is_empty(), "{at}: in the twin only: {only:?}");
    }
    assert!(plain >= 4, "{}: {plain} plain sections", made.sample);
}

fn all_agree(made: &Made) {
    paper_against_twin(made);
    json::sheets(made);
    json::settings(made);
    json::parts(made);
    json::sticks(made);
    money::answer(made);
    money::shopping(made);
    money::comparison(made);
    closet::strips(made);
    closet::schedule(made);
    closet::paint(made);
    closet::car(made);
}

#[test]
fn alcove() {
    all_agree(&make("alcove"));
}

/// The other route: base and strips from a sheet, frames in cartons, all of it in the car.
#[test]
fn alcove_of_frames() {
    let made = make_route("alcove", Some("flat-pack"));
    assert!(!made.plan["sheets"].as_array().expect("a list").is_empty());
    assert!(
        !made.buy["car"]["trips"]
            .as_array()
            .expect("a list")
            .is_empty()
    );
    all_agree(&made);
}

/// Figures of the closet's pages: each of these changed alone is found.
#[test]
fn one_wrong_figure_of_the_closet_is_found() {
    type Change = fn(&mut Made);
    let changes: [(&str, Change); 7] = [
        ("a width of a strip", |m| {
            m.trim["scribes"][0]["ordinates"][1]["width"] = 2_032_000.into()
        }),
        ("a blank", |m| {
            m.trim["scribes"][1]["blank"][1] = 2_032_000.into()
        }),
        ("a point of a piece", |m| {
            m.trim["pieces"][0]["short_point"] = 2_032_000.into()
        }),
        ("an area", |m| m.finish["areas"][0]["sq_ft"] = 77.7.into()),
        ("hours of a step", |m| {
            m.finish["steps"][0]["hours"] = 77.7.into()
        }),
        ("a day of a step", |m| {
            m.finish["steps"][1]["from"] = "2001-01-01".into()
        }),
        ("a weight in the car", |m| {
            m.buy["car"]["trips"][0]["grams"] = 77_777_777.into()
        }),
    ];
    let made = make_route("alcove", Some("flat-pack"));
    for (what, change) in changes {
        let mut wrong = made.clone();
        change(&mut wrong);
        let found = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| all_agree(&wrong)));
        assert!(found.is_err(), "{what}: not found");
    }
}

#[test]
fn bare_list() {
    all_agree(&make("bare-list"));
}

#[test]
fn studio_mm() {
    all_agree(&make("studio-mm"));
}

#[test]
fn whole_house() {
    all_agree(&make("whole-house"));
}

/// One figure changed in one of the three is found, wherever it stands.
#[test]
fn one_wrong_figure_is_found() {
    type Change = fn(&mut Made);
    let changes: [(&str, Change); 7] = [
        ("a figure of the first table on paper", |m| {
            let line = m.pages[1]
                .iter_mut()
                .find(|l| l.starts_with("stop "))
                .expect("a stop");
            line.push('1');
        }),
        ("a figure in a drawing", |m| {
            let page = m
                .list
                .iter()
                .find(|l| l.0.starts_with("Sheet"))
                .expect("a sheet")
                .1;
            m.pages[page - 1].insert(0, "71 3/16".into());
        }),
        ("a place in the twin", |m| {
            let told = m.twin.iter_mut().flat_map(|s| &mut s.lines);
            let line = told
                .filter(|l| json::placed(l).is_some())
                .last()
                .expect("a place");
            *line = line.replace(" right", "1 right");
        }),
        ("a size in the plan", |m| {
            m.plan["sheets"][0]["places"][0]["size"][0] = 123_456_789.into()
        }),
        ("a setting in the plan", |m| {
            m.plan["settings"][1]["size"] = 123_456_789.into()
        }),
        ("a number of sheets", |m| {
            m.plan["items"][0]["sheets"] = 77.into()
        }),
        ("a price", |m| m.buy["lines"][0]["cents"] = 12_345.into()),
    ];
    let made = make("bare-list");
    all_agree(&made);
    for (what, change) in changes {
        let mut wrong = made.clone();
        change(&mut wrong);
        let found = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| all_agree(&wrong)));
        assert!(found.is_err(), "{what}: not found");
    }
}
