//! What one page of the book says of a thing and another page says of the same thing.

use super::job::Job;
use std::collections::BTreeSet;

/// Store cuts: the sheet pages call each by the letter and number of the counter's page, set it to the same size, and both they
/// and the settings page put the store before the cleaning.
#[test]
fn store_cuts_are_the_same_on_every_page() {
    let job = Job::sample("alcove").change(
        "project.toml",
        "free_cuts_per_sheet = 2",
        "free_cuts_per_sheet = 2\ncut_delivered = true",
    );
    job.run(&["book", "--in", "job", "--effort", "quick"])
        .ends(0);
    let text = job.read("made/build-book.txt");
    // The counter's page is a file by itself, too.
    assert!(job.bytes("made/store-cuts.pdf").starts_with(b"%PDF"));
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
            asked.insert((format!("{letter}, cut {n}"), sizes[0].to_owned()));
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
        if let (Some(store), Some(clean)) =
            (sheet.find("store A, cut 1: "), sheet.find(" clean 1/8 off"))
        {
            assert!(store < clean, "{sheet}");
        }
    }
    assert_eq!(named, asked, "sheet pages against the counter's page");
    let settings = page("AT THE SAW: ALL CUTS BY SETTING", "\nSHEET");
    let first = |what: &str| settings.lines().position(|l| l.contains(what));
    let (store, clean) = (first(", AT THE STORE"), first("clean, 1/8 off"));
    assert!(store.is_some() && store < clean, "{settings}");
    assert!(settings.contains("there A, cut 1"), "{settings}");
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

/// What a rule asks for and no row of stock.csv is stands on the book's list as `buy` says it; what is short of a want stands in the
/// sizes of `fit` on the page that shows how the route stands, and among the cautions.
#[test]
fn the_book_says_what_buy_and_fit_say() {
    let job = Job::sample("alcove")
        .change(
            "stock.csv",
            "SHIMS,consumable,cedar shims",
            "SHIMS,consumable,cedar slips",
        )
        .change(
            "project.toml",
            "item = \"SHIMS\"\namount = 16\n[[need]]\nroute = \"custom\"\nitem = \"WGLUE\"",
            "item = \"WGLUE\"",
        )
        .change("project.toml", "shelf = \"20 ft\"", "shelf = \"31 ft\"");
    let buy = job
        .run(&["buy", "--in", "job", "--effort", "quick", "--json"])
        .ends(0);
    let also: Vec<String> = buy.json()["also"]
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(|a| a.as_str().map(str::to_owned))
        .collect();
    assert!(also.iter().any(|a| a.contains("shims")), "{also:?}");
    assert!(job.read("made/buy.csv").contains(&also[0]));
    let fit = job.run(&["fit", "--in", "job"]);
    let said = fit.said();
    let short = said.split_once("custom: SHORT of shelf: ").map(|s| s.1);
    let short = short.and_then(|s| s.split_once(" given.")).map(|s| s.0);
    let short = short.expect("fit says it is short").to_owned();
    job.run(&["book", "--in", "job", "--effort", "quick"])
        .ends(0);
    let text = job.read("made/build-book.txt");
    let plain: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for a in &also {
        let a = a.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain.contains(&a), "{a}");
    }
    assert_eq!(short, "31 ft 0 in wanted, 25 ft 2 11/16 in");
    let told = format!("SHORT of shelf: {short} given.");
    assert!(plain.contains(&told), "{told}");
    let table = plain.split_once("what is wanted wanted given");
    let rows = table.map_or("", |t| t.1);
    let rows = rows.trim_start_matches(|c: char| !c.is_ascii_lowercase());
    assert!(
        rows.starts_with("shelf 31 ft 0 in 25 ft 2 11/16 in SHORT"),
        "{}",
        &rows[..80]
    );
}

/// A cover whose last lines are the rule alone is set closer instead of taking a page for it; so are the last pages of the alcove.
#[test]
fn no_page_holds_a_few_lines_alone() {
    let job = Job::sample("alcove");
    let doc = job
        .run(&["book", "--in", "job", "--effort", "quick", "--json"])
        .ends(0)
        .json();
    let pages = |title: &str| {
        let all = doc["pages"].as_array().expect("a list");
        let page = all.iter().find(|p| p["title"].as_str() == Some(title));
        page.and_then(|p| p["pages"].as_u64())
    };
    assert_eq!(pages("The answer"), Some(1));
    assert_eq!(pages("Assumptions and cautions"), Some(2));
    let rule_after_contents = |job: &Job| {
        let text = job.read("made/build-book.txt");
        text.find("Measure this rule") > text.find("In this book")
    };
    assert!(rule_after_contents(&job));
    // Many materials make a cover of two pages: the rule then stands before the list of pages, never by itself.
    let (mut stock, mut parts) = (job.read("stock.csv"), job.read("parts.csv"));
    for n in 1..=24 {
        stock += &format!("MDF-{n},sheet,board {n},96,48,1/2,,none,each,1,20.00,,,,0,,,,0,,\n");
        parts += &format!("M{n},panel {n},face,1,{n},4,MDF-{n},any,,,,,hand,\n");
    }
    job.write("stock.csv", stock);
    job.write("parts.csv", parts);
    let doc = job
        .run(&["book", "--in", "job", "--effort", "quick", "--json"])
        .ends(0)
        .json();
    let page = |n: usize| doc["pages"][n]["page"].as_u64();
    assert!(page(1) > Some(2), "a cover of several pages: {:?}", page(1));
    assert!(!rule_after_contents(&job));
}

/// An empty project.toml is said to be empty, once, with the way to begin.
#[test]
fn an_empty_project_says_how_to_begin() {
    let job = Job::sample("alcove");
    for text in ["", "\n  \n", "# nothing yet\n"] {
        job.write("project.toml", text);
        let said = job.run(&["check", "--in", "job"]).ends(3).said();
        assert!(said.contains("The file is empty"), "{said}");
        assert!(said.contains("nookwright start"), "{said}");
        assert!(!said.contains("name is missing"), "{said}");
    }
}

/// An inch job has the holes for pins in both units.
#[test]
fn pin_holes_are_in_both_units() {
    let job = Job::sample("alcove");
    let said = job.run(&["parts", "--in", "job"]).ends(0).said();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    // 68.2 / 25.4 = 2.685, 2 and 43.84/64; 32 / 25.4 = 1.2598, 1 and 16.63/64.
    assert!(said.contains("68.2 mm (2 11/16 in)"), "{said}");
    assert!(said.contains("32 mm (1 17/64 in shy)"), "{said}");
}

/// What is cut out of a back stands wherever the back does: on the box's page, on its sheet's page and on its label; a board that
/// stands before it is named.
#[test]
fn a_hole_in_a_back_stands_with_the_back() {
    let job = Job::sample("alcove");
    job.run(&["book", "--in", "job", "--effort", "quick"])
        .ends(0);
    let text = job.read("made/build-book.txt");
    let flat = |t: &str| t.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = "cut out of the back B6 ";
    let page = |title: &str| {
        let from = text.find(title).unwrap_or_else(|| panic!("no {title}"));
        let rest = &text[from + title.len()..];
        flat(
            &rest[..rest.find("\n====").map_or(rest.len(), |n| {
                n + rest[n + 5..].find("\n====").unwrap_or(rest.len() - n - 5)
            })],
        )
    };
    let right = page("BOX RIGHT");
    assert!(
        right.contains(said) && right.contains("dashed: cut-out for outlet"),
        "{right}"
    );
    assert!(!page("BOX LEFT").contains("cut out of the back"));
    let (at, _) = right
        .split_once(said)
        .map(|r| r.1)
        .and_then(|r| r.split_once(" from its left edge"))
        .expect("where");
    // On the panel the edge of the box is hidden: less than from the box's own edge.
    let fit = job.run(&["fit", "--in", "job", "--route", "custom", "--json"]);
    let doc = if fit.out.is_empty() {
        job.run(&["fit", "--in", "job", "--json"]).json()
    } else {
        fit.json()
    };
    let (cut, hole) = (
        &doc["routes"][0]["cut_outs"][0],
        &doc["routes"][0]["holes"][0],
    );
    let inch = |v: &serde_json::Value| v.as_i64().expect("a length") as f64 / 2_032_000.0;
    // The box is 29 3/4 wide, its back 29: 3/8 at each side.
    assert!(
        (inch(&cut["from_left_edge"]) - inch(&hole["from_left_edge"]) - 0.375).abs() < 0.02,
        "{hole}"
    );
    assert_eq!(hole["in_back"], true);
    let sheets: Vec<String> = text
        .split("\nSHEET")
        .skip(1)
        .map(flat)
        .filter(|s| s.contains(said))
        .collect();
    assert!(
        !sheets.is_empty()
            && sheets
                .iter()
                .any(|s| s.contains("Once free") && s.contains(at)),
        "{at}"
    );
    let label = text.split("HOLE at ").nth(1).expect("a label");
    let label = flat(label.split("sheet").next().unwrap_or_default());
    assert!(label.starts_with(at) && label.contains("up |"), "{label}");
    // The size of the outlet stands on the label too, over the place.
    let row = text.lines().find(|l| l.contains("HOLE at "));
    assert!(
        row.is_some_and(|l| l.contains("hole 2 3/4 x 4 1/2 |")),
        "{row:?}"
    );
    // The fixed shelf of the right box: its top is read off its page, and the outlet put behind it.
    let moved = Job::sample("alcove").change("project.toml", "up = \"12\"", "up = \"76\"");
    let doc = moved.run(&["fit", "--in", "job", "--json"]).json();
    let holes = &doc["routes"][0]["holes"][0];
    assert_eq!(
        holes["crosses"],
        serde_json::json!(["fixed shelf"]),
        "{holes}"
    );
    let said = moved.run(&["fit", "--in", "job"]);
    assert!(
        flat(&said.err).contains("falls behind the fixed shelf of box right"),
        "{}",
        said.err
    );
}

/// A reading that is missing makes the book of every route provisional, on its first page and not at its foot alone.
#[test]
fn every_route_says_provisional_on_its_first_page() {
    let job = Job::sample("alcove").change("project.toml", "right = \"38 5/8\"", "right = \"?\"");
    for route in ["custom", "flat-pack"] {
        job.run(&["book", "--in", "job", "--route", route, "--effort", "quick"])
            .ends(0);
        let text = job.read("made/build-book.txt");
        let first = text.split("In this book").next().expect("the first page");
        assert!(
            first.contains("PROVISIONAL: reading missing: level_line.down_to_floor.right"),
            "{route}: {first}"
        );
    }
}

/// Doors and drawer fronts are on the box's page and in the elevation; hinges have their heights. By hand: two overlay doors side by
/// side on a box 29 3/4 x 86 with a gap of 1/8 are 14 3/4 x 85 7/8, their lower edge half a gap up, at 1/16.
#[test]
fn doors_are_drawn_where_they_hang() {
    let job = Job::sample("alcove").change("project.toml", "rail = true", "rail = true\ndoors = 2");
    std::fs::remove_file(job.path("parts.csv")).expect("drawn anew");
    job.run(&["book", "--in", "job", "--effort", "quick"])
        .ends(0);
    let text = job.read("made/build-book.txt");
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("door 14 3/4 x 85 7/8 from 1/16 up"),
        "the elevation"
    );
    assert!(
        flat.contains(
            "dashed: a door 14 3/4 x 85 7/8, its lower edge at 1/16, 1/16 from the left edge"
        ),
        "the page of the box"
    );
    assert!(flat.contains("middles 4 in, "), "heights of hinges");
    assert!(flat.contains("handles or knobs"), "handles on the list");
}
