//! What one page of the book says of a thing and another page says of the same thing.

use super::job::Job;
use std::collections::BTreeSet;

/// Store cuts: the sheet pages call each by the letter and number of the counter's page, set it to the same size, and both they
/// and the settings page put the store before the cleaning.
#[test]
fn store_cuts_are_the_same_on_every_page() {
    let job = Job::sample("alcove");
    job.run(&["book", "--in", "job", "--effort", "quick"])
        .ends(0);
    let text = job.read("made/build-book.txt");
    let page = |title: &str, next: &str| {
        let from = text.find(title).unwrap_or_else(|| panic!("no {title}"));
        let rest = &text[from..];
        rest[..rest.find(next).unwrap_or(rest.len())].to_owned()
    };
    // `1  crosscut  the whole sheet  37 7/8  58  [ ]` under `A 2 sheets`.
    let counter = page("FOR THE SAW COUNTER", "It matters that");
    let (mut letter, mut asked) = (' ', BTreeSet::new());
    for line in counter.lines() {
        let words: Vec<&str> = line
            .split("  ")
            .map(str::trim)
            .filter(|w| !w.is_empty())
            .collect();
        let head = line
            .split(' ')
            .nth(2)
            .is_some_and(|w| w.starts_with("sheet"));
        if head && line.starts_with(|c: char| c.is_ascii_uppercase()) {
            letter = line.chars().next().unwrap_or(' ');
        }
        if let [n, "crosscut" | "rip", _, sizes @ ..] = &words[..] {
            asked.insert((format!("{letter}{n}"), sizes[0].to_owned()));
        }
    }
    assert!(!asked.is_empty(), "{counter}");
    let mut named = BTreeSet::new();
    for sheet in text.split("\nSHEET").skip(1) {
        let sheet = sheet.split("\n====").nth(1).unwrap_or_default();
        for line in sheet
            .lines()
            .filter(|l| l.contains("store ") && l.contains(": "))
        {
            let rest = line.split_once("store ").map_or("", |r| r.1);
            let Some((name, cut)) = rest.split_once(": ") else {
                continue;
            };
            let size = cut.split_once(' ').map_or("", |c| c.1);
            let size = size.split("  ").next().unwrap_or_default().trim();
            named.insert((name.to_owned(), size.to_owned()));
        }
        if let (Some(store), Some(clean)) = (sheet.find("store A1: "), sheet.find(" clean 1/8 off"))
        {
            assert!(store < clean, "{sheet}");
        }
    }
    assert_eq!(named, asked, "sheet pages against the counter's page");
    let settings = page("AT THE SAW: ALL CUTS BY SETTING", "\nSHEET");
    let first = |what: &str| settings.lines().position(|l| l.contains(what));
    let (store, clean) = (first(", AT THE STORE"), first("clean, 1/8 off"));
    assert!(store.is_some() && store < clean, "{settings}");
    assert!(settings.contains("there A1"), "{settings}");
}

/// A verb that is none gets the list of those there are.
#[test]
fn a_verb_typed_wrongly_lists_the_verbs() {
    let job = Job::sample("alcove");
    let ran = job.run(&["mesure", "--in", "job"]).ends(2);
    assert!(
        ran.err.contains("The verbs:") && ran.err.contains("survey"),
        "{}",
        ran.err
    );
}

/// Frames that stand on their own feet have no base unless she gives its height: bottoms stand at the highest floor, 38 1/4 in
/// below the level line.
#[test]
fn own_feet_need_no_base() {
    let base = |job: &Job| {
        let doc = job.run(&["fit", "--in", "job", "--json"]).json();
        let routes = doc["routes"].as_array().expect("routes").clone();
        let flat = routes.into_iter().find(|r| r["route"] == "flat-pack");
        flat.expect("the route")["base_below_line"]
            .as_i64()
            .expect("a size")
    };
    let job = Job::sample("alcove").change("prefab.csv", ",base,yes,sides", ",own feet,yes,sides");
    let inch = 2_032_000;
    assert_eq!(
        base(&Job::sample("alcove")),
        38 * inch + inch / 4 - 3 * inch - inch / 2
    );
    // Hers stands.
    assert_eq!(base(&job), 38 * inch + inch / 4 - 3 * inch - inch / 2);
    let text = job.read("project.toml");
    let at = text
        .rfind("base_height = \"3 1/2\"\n")
        .expect("the second route's");
    job.write("project.toml", text[..at].to_owned() + &text[at + 22..]);
    assert_eq!(base(&job), 38 * inch + inch / 4);
    // Two frames 28 wide: what the second stands lower by at its left than the first is what rows of holes would step by. Sixteenths
    // are her marks; a step is rounded up to half of one.
    let doc = job.run(&["fit", "--in", "job", "--json"]).json();
    let routes = doc["routes"].as_array().expect("routes").clone();
    let flat = routes
        .iter()
        .find(|r| r["route"] == "flat-pack")
        .expect("the route");
    let left = |i: usize| flat["box_shims"][i][0].as_i64().expect("a size");
    let halves = (left(1) - left(0) + inch / 32 - 1) / (inch / 32);
    let (mut over, mut under) = (halves, 32);
    while over % 2 == 0 && under > 1 {
        (over, under) = (over / 2, under / 2);
    }
    job.run(&[
        "book",
        "--in",
        "job",
        "--route",
        "flat-pack",
        "--effort",
        "quick",
    ])
    .ends(0);
    let book = job.read("made/build-book.txt");
    let words = book.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("No base: what stands on the floor stands 38 1/4 below"),
        "{book}"
    );
    let said = format!("would step by up to {over}/{under}.");
    assert!(words.contains(&said), "{said}");
}

/// A day that the calendar does not have, a day written short, and a row parted by another mark: each said once, with what to type.
#[test]
fn slips_in_dates_and_separators_are_named_once() {
    let said = |job: Job| {
        let ran = job.run(&["check", "--in", "job"]).ends(3);
        let text = ran.out + &ran.err;
        assert!(text.contains("1 mistake in 1 file"), "{text}");
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let date = |to: &str| Job::sample("alcove").change("project.toml", "2026-05-16", to);
    let text = said(date("2026-13-45"));
    assert!(text.contains("no such day"), "{text}");
    let text = said(date("\"2026-5-6\""));
    assert!(text.contains("Fix: type 2026-05-06."), "{text}");
    let job = Job::sample("alcove");
    let rows = job.read("parts.csv");
    let line = rows.lines().nth(4).expect("a row");
    job.write("parts.csv", rows.replace(line, &line.replace(',', ";")));
    let text = said(job);
    assert!(
        text.contains("parts.csv, row 5") && text.contains("parted by semicolons"),
        "{text}"
    );
    let job = Job::sample("alcove");
    job.write("stock.csv", "");
    assert!(!said(job).contains("take the file away"));
}
