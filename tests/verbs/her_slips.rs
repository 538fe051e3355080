//! Slips in project.toml that would put a thing out of the drawings unseen, or draw what cannot be cut. What is asked here follows
//! README.md and the exit codes; the sizes are of the alcove, 62 wide and 94 high.

use super::job::{Job, Ran};

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn said(ran: &Ran) -> String {
    flat(&format!("{} {}", ran.out, ran.err))
}

const VERBS_THAT_PLAN: [&str; 6] = ["parts", "cut", "buy", "finish", "compare", "book"];

/// `?` for a place of an outlet or a size of base that stays: survey, fit and book are provisional and name it.
#[test]
fn an_outlet_or_base_not_measured_makes_the_plan_provisional_by_name() {
    let base = "[[opening.existing_trim]]\nwhat = \"old base\"\nheight = \"?\"\nthick = \"5/8\"\nstay = true\nnotch = true\n[[opening.way_in]]";
    let whole = || Job::sample("alcove");
    let outlet = whole().change("project.toml", "from_left = \"44\"", "from_left = \"?\"");
    let trim = whole().change("project.toml", "[[opening.way_in]]", base);
    for (job, path, what) in [
        (&outlet, "keep_clear[0].from_left", "outlet, back wall"),
        (&trim, "existing_trim[0].height", "old base"),
    ] {
        for verb in ["survey", "fit"] {
            let text = said(&job.run(&[verb, "--in", "job"]));
            let named = format!("{path} ({what})");
            assert!(text.contains("PROVISIONAL"), "{verb}: {text}");
            assert!(text.contains(&named), "{verb}: {text}");
        }
        job.run(&["book", "--in", "job", "--effort", "quick"]);
        let book = flat(&job.read("made/build-book.txt"));
        let line = format!("PROVISIONAL: reading missing: {path} ({what})");
        assert!(book.contains(&line), "{book}");
    }
    let text = said(&whole().run(&["fit", "--in", "job"]));
    assert!(!text.contains("PROVISIONAL"), "{text}");
}

/// An outlet past the end of its wall or above the ceiling is a mistake; a stud there is said.
#[test]
fn things_outside_the_opening_are_not_dropped_unseen() {
    for (from, to, limit) in [
        (
            "from_left = \"44\"",
            "from_left = \"80\"",
            "no longer than 62",
        ),
        ("up = \"12\"", "up = \"120\"", "no higher than 94"),
    ] {
        let job = Job::sample("alcove").change("project.toml", from, to);
        let ran = job.run(&["fit", "--in", "job"]);
        let text = said(&ran);
        ran.ends(3);
        assert!(text.contains(limit), "{text}");
        assert!(text.contains("outlet, back wall"), "{text}");
    }
    // As far right and as high as it can stand: nothing is said.
    let edge = Job::sample("alcove")
        .change("project.toml", "from_left = \"44\"", "from_left = \"59\"")
        .change("project.toml", "up = \"12\"", "up = \"89\"");
    let text = said(&edge.run(&["fit", "--in", "job"]));
    assert!(!text.contains("outside the opening"), "{text}");
    let stud =
        "[[opening.studs]]\nwall = \"back\"\nfrom_left = [\"8\", \"84 1/2\"]\n[[opening.way_in]]";
    let job = Job::sample("alcove").change("project.toml", "[[opening.way_in]]", stud);
    let ran = job.run(&["fit", "--in", "job"]);
    let text = said(&ran);
    ran.ends(0);
    assert!(text.contains("84 1/2"), "{text}");
    assert!(text.contains("wall ends before it"), "{text}");
}

/// Boxes so large that no strip could close their gap: every verb that draws says what `fit` says, and nothing is written.
#[test]
fn boxes_too_large_for_their_strips_are_said_as_fit_says_them() {
    for (from, to) in [
        ("box_height = \"86\"", "box_height = \"92\""),
        ("width = \"28 1/2\"", "width = \"36\""),
    ] {
        let job = Job::sample("alcove")
            .change("project.toml", from, to)
            .change(
                "project.toml",
                "material = \"BIR-18\"",
                "material = \"BIR-18\"\nstrips = \"BIR-18\"",
            );
        std::fs::remove_file(job.path("parts.csv")).expect("the list is gone");
        for verb in VERBS_THAT_PLAN {
            let ran = job.run(&[verb, "--in", "job"]);
            let text = said(&ran);
            assert_eq!(ran.code, 3, "{verb}: {text}");
            assert!(text.contains("for their least"), "{verb}: {text}");
        }
        let ran = job.run(&["parts", "--write", "--in", "job"]);
        ran.ends(3);
        assert!(!job.path("parts.csv").exists());
        let fit = said(&job.run(&["fit", "--in", "job"]));
        assert!(fit.contains("for their least"), "{fit}");
    }
}

/// The cover of a route that does not go in says so before anything else that is to be known before money is spent.
#[test]
fn the_cover_says_first_that_the_route_does_not_fit() {
    let job =
        Job::sample("alcove").change("project.toml", "box_height = \"86\"", "box_height = \"92\"");
    job.run(&["book", "--in", "job", "--effort", "quick"]);
    let book = flat(&job.read("made/build-book.txt"));
    let first = "1 THIS ROUTE DOES NOT FIT. The boxes are";
    let at = book.find("Before you spend").expect("the heading");
    let next: String = book[at..].chars().take(120).collect();
    assert!(next.contains(first), "{next}");
    assert!(book.contains("see the page \"How it stands in the opening: custom\""));
    let fits = Job::sample("alcove");
    fits.run(&["book", "--in", "job", "--effort", "quick"]);
    assert!(!fits.read("made/build-book.txt").contains("DOES NOT FIT"));
}

/// A list of no bytes, or of blank lines alone, is begun anew like one that is gone.
#[test]
fn an_empty_cut_list_is_begun_anew() {
    let gone = Job::sample("alcove");
    std::fs::remove_file(gone.path("parts.csv")).expect("the list is gone");
    gone.run(&["parts", "--write", "--in", "job"]).ends(0);
    for nothing in ["", "\n\n"] {
        let job = Job::sample("alcove");
        job.write("parts.csv", nothing);
        job.run(&["parts", "--write", "--in", "job"]).ends(0);
        assert_eq!(job.read("parts.csv"), gone.read("parts.csv"));
    }
}
