//! The switches that every verb has.

use crate::job::Job;

#[test]
fn quiet_says_results_and_nothing_beside_them() {
    let job = Job::sample("alcove");
    let loud = job.run(&["cut", "--in", "job"]).ends(0);
    assert!(
        loud.err.contains("Caution"),
        "there is something to be quiet about"
    );
    for verb in ["check", "cut", "buy", "compare", "book", "rack"] {
        let ran = job.run(&[verb, "--in", "job", "--quiet"]).ends(0);
        assert_eq!(ran.err, "", "{verb}");
        assert!(!ran.out.is_empty(), "{verb}");
    }
    let quiet = job.run(&["cut", "--in", "job", "-q"]).ends(0);
    assert_eq!(quiet.out, loud.out);
    let bare = Job::sample("bare-list")
        .run(&["cut", "job/parts.csv", "--quiet"])
        .ends(0);
    assert_eq!(bare.err, "", "cautions of the file too");
    // Mistakes are no cautions.
    let broken = Job::sample("alcove").change("stock.csv", "96,48,3/4,23/32", "96,48,4-Mar,23/32");
    let ran = broken.run(&["cut", "--in", "job", "--quiet"]).ends(3);
    assert!(ran.err.contains("4-Mar"));
}

#[test]
fn strict_counts_cautions_as_failures() {
    let job = Job::sample("alcove");
    job.run(&["check", "--in", "job", "--strict"]).ends(0);
    let ran = job.run(&["cut", "--in", "job", "--strict"]).ends(1);
    assert!(ran.err.contains("Caution"), "{}", ran.err);
    let job = Job::sample("alcove").change("parts.csv", "left,2,86,20 1/4", "left,2,186,20 1/4");
    job.run(&["check", "--in", "job"]).ends(0);
    for verb in ["check", "cut", "book"] {
        job.run(&[verb, "--in", "job", "--strict"]).ends(3);
    }
    assert!(!job.path("made").exists());
}

#[test]
fn plain_is_plain_letters() {
    for sample in ["alcove", "studio-mm"] {
        let job = Job::sample(sample);
        for verb in ["check", "cut", "buy", "compare", "book", "rack"] {
            let ran = job
                .run(&[verb, "--in", "job", "--effort", "quick", "--plain"])
                .ends(0);
            assert!(
                ran.out.is_ascii() && ran.err.is_ascii(),
                "{verb}:\n{}\n{}",
                ran.out,
                ran.err
            );
            let usual = job.run(&[verb, "--in", "job", "--effort", "quick"]).ends(0);
            assert_eq!(
                usual.out.replace('\u{2500}', "-"),
                ran.out,
                "the same words"
            );
            assert!(
                !usual.out.contains('\u{1b}'),
                "no bold where there is no terminal"
            );
            assert!(!usual.err.contains(['\r', '\u{1b}']), "no progress either");
        }
    }
}

#[test]
fn no_line_is_wider_than_96_columns() {
    for (sample, units) in [
        ("alcove", "inch"),
        ("alcove", "mm"),
        ("studio-mm", "inch"),
        ("bare-list", "inch"),
    ] {
        let job = Job::sample(sample);
        let verbs: &[&[&str]] = if sample == "bare-list" {
            &[&["cut", "job/parts.csv"]]
        } else {
            &[
                &["check", "--defaults", "--in", "job"],
                &["cut", "--in", "job"],
                &["buy", "--in", "job"],
                &["compare", "--in", "job"],
                &["book", "--in", "job"],
                &["rack", "--in", "job"],
            ]
        };
        for verb in verbs {
            let mut words = verb.to_vec();
            words.extend(["--units", units, "--effort", "quick"]);
            let ran = job.run(&words).ends(0);
            for line in ran.out.lines().chain(ran.err.lines()) {
                assert!(line.chars().count() <= 96, "{words:?}: {line:?}");
            }
        }
    }
}

#[test]
fn units_change_what_is_shown_and_nothing_else() {
    let job = Job::sample("alcove");
    let inch = job.run(&["cut", "--in", "job"]).ends(0);
    let plan = job.read("made/plan.json");
    let mm = job.run(&["cut", "--in", "job", "--units", "mm"]).ends(0);
    assert_eq!(job.read("made/plan.json"), plan);
    assert!(
        inch.out.contains("96 x 48") && inch.out.contains("sizes in inches"),
        "{}",
        inch.out
    );
    assert!(
        mm.out.contains("2438") && mm.out.contains("sizes in millimetres"),
        "{}",
        mm.out
    );
    let number = |text: &str| text.split("plan ").nth(1).map(|t| t[..9].to_owned());
    assert_eq!(number(&inch.out), number(&mm.out));
    let rack = job.run(&["rack", "--in", "job", "--units", "mm"]).ends(0);
    assert!(
        rack.out.contains("762 x 318"),
        "30 x 12 1/2 in:\n{}",
        rack.out
    );
}

#[test]
fn in_names_the_folder_and_inside_it_no_name_is_needed() {
    let job = Job::sample("alcove");
    let named = job.run(&["cut", "--in", "job", "--json"]).ends(0);
    let before = job.run(&["--in", "job", "cut", "--json"]).ends(0);
    let inside = job
        .command(&["cut", "--json"])
        .current_dir(job.path(""))
        .output()
        .expect("it runs");
    let inside = crate::job::Ran::of(&inside).ends(0);
    assert_eq!(named.out, before.out);
    assert_eq!(named.out, inside.out);
}

#[test]
fn route_names_what_is_planned() {
    let job = Job::sample("alcove");
    let of = |words: &[&str]| job.run(words).ends(0).json();
    assert_eq!(
        of(&["cut", "--in", "job", "--json"])["route"],
        "custom",
        "the chosen one"
    );
    let other = of(&["cut", "--in", "job", "--json", "--route", "flat-pack"]);
    assert_eq!(other["route"], "flat-pack");
    assert_eq!(
        of(&["buy", "--in", "job", "--json", "--route", "flat-pack"])["route"],
        "flat-pack"
    );
    job.run(&["book", "--in", "job", "--route", "flat-pack"])
        .ends(0);
    assert!(
        job.read("made/build-book.txt").contains("FR-28"),
        "its frames are on the list"
    );
    let unchosen = Job::sample("alcove").change("project.toml", "chosen = true", "");
    let first = unchosen
        .run(&["cut", "--in", "job", "--json"])
        .ends(0)
        .json();
    assert_eq!(first["route"], "custom", "the first");
}

#[test]
fn out_is_a_folder_of_the_tools_own() {
    let job = Job::sample("alcove");
    job.run(&["book", "--in", "job", "--out", "elsewhere"])
        .ends(0);
    assert!(!job.path("made").exists());
    let pdf = job.around().join("elsewhere/build-book.pdf");
    assert!(std::fs::read(&pdf).expect("the book").starts_with(b"%PDF-"));
    job.run(&["book", "--in", "job", "--out", "elsewhere", "--paper", "a4"])
        .ends(0);
    // A file there that someone else wrote is never replaced.
    std::fs::create_dir(job.around().join("taken")).expect("a folder");
    std::fs::write(job.around().join("taken/plan.json"), "hers").expect("written");
    let ran = job.run(&["cut", "--in", "job", "--out", "taken"]).ends(6);
    assert!(
        ran.said().contains("was not made by this tool"),
        "{}",
        ran.err
    );
    let taken = std::fs::read_to_string(job.around().join("taken/plan.json")).expect("there");
    assert_eq!(taken, "hers");
    assert!(!job.around().join("taken/cut-list.csv").exists());
}

#[test]
fn paper_labels_and_pages_can_be_picked() {
    let job = Job::sample("alcove");
    let pages = |words: &[&str]| -> Vec<String> {
        let mut all = vec!["book", "--in", "job", "--json"];
        all.extend(words);
        let doc = job.run(&all).ends(0).json();
        let pages = doc["pages"].as_array().expect("a list");
        pages
            .iter()
            .map(|p| p["title"].as_str().expect("a title").to_owned())
            .collect()
    };
    // Width and height of the first page in whole points.
    let paper = || -> Vec<i64> {
        let pdf = job.bytes("made/build-book.pdf");
        let text = String::from_utf8_lossy(&pdf).into_owned();
        let (_, after) = text.split_once("/MediaBox[").expect("a page");
        let corners = after.split(']').next().expect("an end").split_whitespace();
        corners
            .skip(2)
            .map(|n| n.parse::<f64>().expect("a number").round() as i64)
            .collect()
    };
    let all = pages(&[]);
    assert_eq!(paper(), [612, 792], "Letter, 8 1/2 x 11 in");
    pages(&["--paper", "a4"]);
    assert_eq!(paper(), [595, 842], "A4, 210 x 297 mm (ISO 216)");
    // Templates only where asked for: one section for each scribe strip, at one size on both papers.
    let template = |list: &[String]| {
        list.iter()
            .filter(|t| t.starts_with("Full-size template"))
            .count()
    };
    assert_eq!(template(&all), 0);
    for paper in ["letter", "a4"] {
        let with = pages(&["--templates", "--for", "closet", "--paper", paper]);
        assert_eq!(template(&with), 3, "{with:?}");
        let twin = job.read("made/build-book.txt");
        assert!(twin.contains("left strip, tile 1 of "), "{twin}");
        assert!(twin.contains("Test rule of 4 in on the page."));
    }
    let saw = pages(&["--for", "saw"]);
    assert!(
        saw.len() < all.len() && saw.iter().any(|t| t.starts_with("Sheet 1")),
        "{saw:?}"
    );
    assert!(!saw.iter().any(|t| t.starts_with("Shopping")), "{saw:?}");
    let store = pages(&["--for", "store"]);
    assert!(store.iter().any(|t| t.starts_with("Shopping")), "{store:?}");
}
