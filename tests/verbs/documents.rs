//! `--json`: exactly one document on standard output and nothing else there, with its own keys and values of the
//! right kind, also where a run ends badly.

use crate::job::{Job, Ran};
use serde_json::Value;

/// What stands under a key.
#[derive(Clone, Copy, Debug)]
enum Is {
    Text,
    Whole,
    Number,
    YesNo,
    List,
    Object,
    /// That, or null.
    Maybe(&'static Is),
}

fn is(value: &Value, what: Is) -> bool {
    match what {
        Is::Text => value.is_string(),
        Is::Whole => value.is_i64() || value.is_u64(),
        Is::Number => value.is_number(),
        Is::YesNo => value.is_boolean(),
        Is::List => value.is_array(),
        Is::Object => value.is_object(),
        Is::Maybe(inner) => value.is_null() || is(value, *inner),
    }
}

#[track_caller]
fn holds(value: &Value, keys: &[(&str, Is)]) {
    for (key, what) in keys {
        let found = value.get(*key);
        assert!(
            found.is_some_and(|v| is(v, *what)),
            "{key} should be {what:?}, but is {found:?} in {value:#}"
        );
    }
}

/// Every entry of a list that must not be empty.
#[track_caller]
fn each(value: &Value, keys: &[(&str, Is)]) {
    let list = value.as_array().expect("a list");
    assert!(!list.is_empty(), "an empty list shows nothing");
    for entry in list {
        holds(entry, keys);
    }
}

/// Lengths: whole numbers, so many of them.
#[track_caller]
fn lengths(list: &Value, key: &str, many: usize) {
    for entry in list.as_array().expect("a list") {
        let found = entry[key].as_array().expect("a list of lengths");
        assert!(
            found.len() == many && found.iter().all(|n| is(n, Is::Whole)),
            "{entry:#}"
        );
    }
}

fn json(job: &Job, words: &[&str]) -> Ran {
    let mut words = words.to_vec();
    words.extend(["--in", "job", "--json"]);
    job.run(&words)
}

#[test]
fn cut_prints_the_plan_it_writes() {
    for sample in ["alcove", "studio-mm"] {
        let job = Job::sample(sample);
        let ran = json(&job, &["cut"]).ends(0);
        let plan = ran.json();
        assert_eq!(
            ran.out,
            job.read("made/plan.json"),
            "one document, both places"
        );
        holds(
            &plan,
            &[
                ("plan_number", Is::Text),
                ("kerf", Is::Whole),
                ("sheets", Is::List),
                ("sticks", Is::List),
                ("unplaced", Is::List),
                ("items", Is::List),
            ],
        );
        assert_eq!(plan["format"], "nookwright plan 1");
        assert_eq!(plan["length_unit"], "1/80000 mm");
        let number = plan["plan_number"].as_str().expect("text");
        let figures = number.bytes().filter(u8::is_ascii_hexdigit).count();
        assert_eq!((number.len(), figures), (9, 8), "{number}");
        each(
            &plan["sheets"],
            &[
                ("item", Is::Text),
                ("rack", Is::Maybe(&Is::Text)),
                ("count", Is::Whole),
                ("places", Is::List),
                ("left", Is::List),
                ("cuts", Is::List),
            ],
        );
        lengths(&plan["sheets"], "size", 2);
        lengths(&plan["sheets"], "clean_edge", 4);
        for sheet in plan["sheets"].as_array().expect("a list") {
            each(
                &sheet["places"],
                &[("mark", Is::Text), ("turned", Is::YesNo)],
            );
            lengths(&sheet["places"], "at", 2);
            lengths(&sheet["places"], "size", 2);
            lengths(&sheet["left"], "at", 2);
            lengths(&sheet["left"], "size", 2);
            each(
                &sheet["cuts"],
                &[("n", Is::Whole), ("across", Is::YesNo), ("at", Is::Whole)],
            );
            lengths(&sheet["cuts"], "of", 4);
        }
        each(
            &plan["sticks"],
            &[
                ("item", Is::Text),
                ("length", Is::Whole),
                ("count", Is::Whole),
                ("left", Is::Whole),
            ],
        );
        for stick in plan["sticks"].as_array().expect("a list") {
            each(
                &stick["pieces"],
                &[("mark", Is::Text), ("length", Is::Whole)],
            );
        }
        each(
            &plan["items"],
            &[
                ("item", Is::Text),
                ("sheets", Is::Whole),
                ("at_least", Is::Whole),
                ("proved", Is::YesNo),
                ("why", Is::Text),
                ("cost_cents", Is::Maybe(&Is::Whole)),
                ("proof", Is::Object),
            ],
        );
        assert!(
            plan["items"]
                .as_array()
                .expect("a list")
                .iter()
                .all(|i| is(&i["proof"]["kind"], Is::Text))
        );
    }
}

/// The sizes of a sheet worked by hand: 1 in = 2 032 000 units, 1/8 in = 254 000, 3/32 in = 190 500.
#[test]
fn lengths_are_in_units_of_the_standard() {
    let plan = json(&Job::sample("alcove"), &["cut"]).ends(0).json();
    assert_eq!(plan["kerf"], 190_500);
    let whole = &plan["sheets"][0];
    assert_eq!(
        whole["size"],
        serde_json::json!([96 * 2_032_000, 48 * 2_032_000])
    );
    assert_eq!(
        whole["clean_edge"],
        serde_json::json!([254_000, 254_000, 254_000, 254_000])
    );
    let flat = &plan["sticks"][0];
    assert_eq!(
        (&flat["item"], &flat["length"]),
        (&"FLAT-2".into(), &(96 * 2_032_000).into())
    );
    assert_eq!(flat["pieces"][0]["length"], 86 * 2_032_000);
    // What is left of the stick: all of it less the piece and one kerf behind it.
    assert_eq!(flat["left"], 10 * 2_032_000 - 190_500);
}

#[test]
fn check_lists_mistakes_and_cautions_with_their_place() {
    let job = Job::sample("alcove")
        .change("stock.csv", "96,48,3/4,23/32", "96,48,4-Mar,23/32")
        .change("parts.csv", "86,27 3/4,BIR-6", "186,27 3/4,BIR-6")
        .change(
            "project.toml",
            "clean_edge = \"1/8\"",
            "clean_edge = \"2 7/8\"",
        );
    let doc = json(&job, &["check"]).ends(3).json();
    let keys = [
        ("file", Is::Text),
        ("row", Is::Whole),
        ("column", Is::Text),
        ("found", Is::Text),
        ("expected", Is::Text),
        ("fix", Is::Text),
        ("line", Is::Text),
    ];
    each(&doc["mistakes"], &keys);
    each(&doc["cautions"], &keys);
    let first = &doc["mistakes"][0];
    assert_eq!(
        (&first["file"], &first["row"]),
        (&"stock.csv".into(), &2.into())
    );
    assert_eq!(
        (&first["column"], &first["found"]),
        (&"thick".into(), &"4-Mar".into())
    );
    let toml = &doc["cautions"]
        .as_array()
        .expect("a list")
        .iter()
        .find(|c| c["file"] == "project.toml");
    let line = job
        .read("project.toml")
        .lines()
        .position(|l| l == "clean_edge = \"2 7/8\"")
        .expect("a line")
        + 1;
    assert_eq!(toml.expect("the clean edge")["row"], line, "TOML: the line");
    let doc = json(&Job::sample("alcove"), &["check", "--defaults"])
        .ends(0)
        .json();
    each(
        &doc["defaults"],
        &[("place", Is::Text), ("value", Is::Text), ("why", Is::Text)],
    );
}

#[test]
fn buy_and_compare_have_their_keys() {
    let job = Job::sample("alcove");
    let buy = json(&job, &["buy"]).ends(0).json();
    each(
        &buy["lines"],
        &[
            ("item", Is::Text),
            ("need", Is::Text),
            ("have", Is::Text),
            ("packs", Is::List),
            ("cents", Is::Maybe(&Is::Whole)),
            ("near_miss", Is::Text),
        ],
    );
    let compare = json(&job, &["compare"]).ends(0).json();
    assert_eq!(
        compare,
        serde_json::from_str::<Value>(&job.read("made/compare.json")).expect("JSON")
    );
    each(
        &compare["routes"],
        &[
            ("route", Is::Text),
            ("lines", Is::List),
            ("tax_cents", Is::Whole),
            ("money_cents", Is::Whole),
            ("hours", Is::Number),
            ("hours_cents", Is::Whole),
            ("total_cents", Is::Whole),
            ("done", Is::Text),
        ],
    );
    for route in compare["routes"].as_array().expect("a list") {
        each(&route["lines"], &[("what", Is::Text), ("cents", Is::Whole)]);
        let sum: i64 = route["lines"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|l| l["cents"].as_i64().expect("cents"))
            .sum();
        let whole = |key: &str| route[key].as_i64().expect("cents");
        assert_eq!(sum + whole("tax_cents"), whole("money_cents"), "{route:#}");
        assert_eq!(
            whole("money_cents") + whole("hours_cents"),
            whole("total_cents")
        );
    }
    each(
        &compare["flips"],
        &[
            ("what", Is::Text),
            ("at", Is::Maybe(&Is::Number)),
            ("unit", Is::Text),
        ],
    );
    assert_eq!(
        compare["flips"][0]["unit"], "cents an hour",
        "the hourly rate first"
    );
    holds(
        &compare["verdict"],
        &[("word", Is::Text), ("sentence", Is::Text)],
    );
    let sentence = compare["verdict"]["sentence"].as_str().expect("text");
    assert!(
        sentence.contains(", unless ") || sentence.contains("no verdict"),
        "{sentence}"
    );
    assert_eq!(compare["missing"], serde_json::json!([]));
    // Sums by hand for the flat-pack route: two frames at 158.00, six shelves and a rail from prefab.csv.
    let frames = &compare["routes"][1]["lines"];
    let frames = frames
        .as_array()
        .expect("a list")
        .iter()
        .find(|l| l["what"] == "Frames");
    assert_eq!(frames.expect("a line")["cents"], 31_600);
}

#[test]
fn the_other_verbs_print_one_document_too() {
    let job = Job::sample("alcove");
    let book = json(&job, &["book"]).ends(0).json();
    holds(
        &book,
        &[
            ("pdf", Is::Text),
            ("plan_number", Is::Text),
            ("files", Is::List),
            ("pages", Is::List),
        ],
    );
    for file in book["files"].as_array().expect("a list") {
        assert!(
            job.path("made")
                .join(file.as_str().expect("a name"))
                .is_file(),
            "{file}"
        );
    }
    let rack = json(&job, &["rack"]).ends(0).json();
    each(
        &rack["pieces"],
        &[
            ("mark", Is::Text),
            ("length", Is::Whole),
            ("state", Is::Text),
        ],
    );
    let put = json(&job, &["rack", "put", "BIR-18", "30 x 20"])
        .ends(0)
        .json();
    assert_eq!(put["put"], serde_json::json!(["R-04"]));
    let take = json(&job, &["rack", "take", "R-04"]).ends(0).json();
    holds(
        &take,
        &[("mark", Is::Text), ("state", Is::Text), ("kept", Is::Text)],
    );
    json(&job, &["completions", "fish"]).ends(0).json();
    json(&job, &["man"]).ends(0).json();
}

#[test]
fn a_run_that_ends_badly_still_prints_one_document() {
    let broken = Job::sample("alcove").change("stock.csv", "96,48,3/4,23/32", "96,48,4-Mar,23/32");
    for verb in ["check", "cut", "buy", "compare", "book", "rack"] {
        let doc = json(&broken, &[verb]).ends(3).json();
        assert_eq!(doc["mistakes"][0]["found"], "4-Mar", "{verb}");
    }
    let job = Job::sample("alcove");
    for (words, code) in [
        (&["cut", "--route", "custm"][..], 2),
        (&["cut", "--effort", "fast"], 2),
        (&["cutt"], 2),
        (&["rack", "take", "R-99"], 2),
        (&["start", "job"], 0),
    ] {
        let ran = json(&job, words).ends(code);
        let doc = ran.json();
        if code != 0 {
            assert_eq!(doc["error"]["code"], code, "{words:?}");
            assert!(is(&doc["error"]["says"], Is::Text));
        }
    }
    let ran = job.run(&["cut", "--json", "--in", "nowhere"]).ends(6);
    assert_eq!(ran.json()["error"]["code"], 6);
}

#[test]
fn finish_gives_areas_coats_and_cans() {
    for (sample, route) in [
        ("alcove", "custom"),
        ("alcove", "flat-pack"),
        ("studio-mm", "custom"),
    ] {
        let job = Job::sample(sample);
        let ran = json(&job, &["finish", "--route", route]).ends(0);
        assert_eq!(
            ran.out,
            job.read("made/finish.json"),
            "one document, both places"
        );
        let doc = ran.json();
        each(
            &doc["areas"],
            &[
                ("what", Is::Text),
                ("sq_ft", Is::Number),
                ("rule", Is::Text),
            ],
        );
        each(
            &doc["coats"],
            &[
                ("what", Is::Text),
                ("coats", Is::Whole),
                ("gallons", Is::Number),
            ],
        );
        each(
            &doc["steps"],
            &[
                ("what", Is::Text),
                ("hours", Is::Number),
                ("dry_hours", Is::Whole),
            ],
        );
        holds(
            &doc,
            &[
                ("cans", Is::List),
                ("hours", Is::Number),
                ("load_from", Is::Maybe(&Is::Text)),
            ],
        );
        // The studio lists no paint: nothing to buy, and that is said.
        let none = doc["cans"].as_array().expect("a list").is_empty();
        assert_eq!(none, sample == "studio-mm");
        assert_eq!(none, doc["unpriced"].to_string().contains("primer"));
        let sum: f64 = doc["areas"]
            .as_array()
            .expect("a list")
            .iter()
            .filter_map(|a| a["sq_ft"].as_f64())
            .sum();
        assert!((sum - doc["sq_ft"].as_f64().expect("a number")).abs() < 1e-6);
    }
}

#[test]
fn trim_gives_pieces_and_scribes() {
    let job = Job::sample("alcove");
    let ran = json(&job, &["trim"]).ends(0);
    assert_eq!(
        ran.out,
        job.read("made/trim.json"),
        "one document, both places"
    );
    let doc = ran.json();
    each(
        &doc["pieces"],
        &[
            ("mark", Is::Text),
            ("item", Is::Text),
            ("long_point", Is::Whole),
            ("short_point", Is::Whole),
        ],
    );
    for piece in doc["pieces"].as_array().expect("a list") {
        for end in ["left", "right"] {
            let keys = [("corner", Is::Maybe(&Is::Number)), ("saw", Is::Number)];
            holds(&piece[end], &keys);
        }
    }
    each(
        &doc["scribes"],
        &[("strip", Is::Text), ("ordinates", Is::List)],
    );
    lengths(&doc["scribes"], "blank", 2);
    for strip in doc["scribes"].as_array().expect("a list") {
        each(
            &strip["ordinates"],
            &[("at", Is::Whole), ("width", Is::Whole)],
        );
    }
}

/// The base that `trim` plans is bought with her row and without it; without, the list says where it comes from.
#[test]
fn sticks_of_the_schedule_are_bought_without_a_row_of_hers() {
    let hers = "[[need]]\nroute = \"custom\"\nitem = \"BASE-3\"\namount = 1\n";
    let of = |job: &Job| {
        let doc = json(job, &["buy"]).ends(0).json();
        let lines = doc["lines"].as_array().expect("a list").clone();
        let base = lines.into_iter().find(|l| l["item"] == "BASE-3");
        (base.expect("the base"), doc["total"].clone())
    };
    let (with, paid) = of(&Job::sample("alcove"));
    let (without, paid_too) = of(&Job::sample("alcove").change("project.toml", hers, ""));
    assert_eq!(with["note"], "");
    let note = without["note"].as_str().expect("a note");
    assert!(note.starts_with("worked out by trim: T1 base"), "{note}");
    assert_eq!(with["packs"], without["packs"]);
    assert_eq!(paid, paid_too);
}

/// A rod listed as a moulding is round: it stands among no widths that cover a gap, as a flat strip of the same width does.
#[test]
fn a_rod_covers_no_gap() {
    let offered = |what: &str| {
        let row = format!(
            "X-1,moulding,{what},96,1 1/4,1 1/4,,,each,1,9.00,,,2026-05-12,0,,the timber yard,,0,,\nSCM-1,moulding"
        );
        let job = Job::sample("alcove").change("stock.csv", "SCM-1,moulding", &row);
        let doc = job.run(&["trim", "--in", "job", "--json"]).json();
        let covers = doc["covers"].as_array().expect("covers").clone();
        let has = |c: &serde_json::Value| {
            c["items"]
                .as_array()
                .is_some_and(|i| i.contains(&"X-1".into()))
        };
        covers.iter().filter(|c| has(c)).count()
    };
    assert_eq!(offered("flat strip"), 2);
    assert_eq!(offered("steel rod"), 0);
}
