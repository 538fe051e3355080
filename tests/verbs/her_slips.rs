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

/// `?` for a door on the way or for the opening's own: what has to pass there is held against nothing, and that is provisional by
/// name. A door whose width is open is no ceiling to stand boxes up under.
#[test]
fn a_door_not_measured_makes_the_plan_provisional_by_name() {
    let own = "[opening.doorway]\nwidth = \"?\"\nheight = \"80\"\n[[opening.way_in]]";
    let whole = || Job::sample("alcove");
    let way = whole().change(
        "project.toml",
        "width = \"29 3/4\"\nheight",
        "width = \"?\"\nheight",
    );
    let door = whole().change("project.toml", "[[opening.way_in]]", own);
    for (job, named) in [
        (&way, "way_in[0].width (kitchen door)"),
        (&door, "doorway.width"),
    ] {
        for verb in ["survey", "fit", "cut"] {
            let text = said(&job.run(&[verb, "--in", "job"]));
            assert!(text.contains("PROVISIONAL"), "{verb}: {text}");
            assert!(text.contains(named), "{verb}: {text}");
        }
        job.run(&["book", "--in", "job", "--effort", "quick"]);
        let book = flat(&job.read("made/build-book.txt"));
        let line = format!("PROVISIONAL: reading missing: {named}");
        assert!(book.contains(&line), "{book}");
    }
    way.run(&["fit", "--in", "job"]);
    let fit = way.read("made/fit.json");
    assert!(!fit.contains("\"where\": \"kitchen door\""), "{fit}");
}

/// Boxes wider than the opening: her own cut list is planned and bought all the same, and it is said once that they do not go in.
#[test]
fn a_route_that_does_not_fit_is_said_once_by_the_verbs_that_go_on() {
    let job = Job::sample("alcove").change(
        "project.toml",
        "width = \"29 3/4\"\nfixed",
        "width = \"40\"\nfixed",
    );
    for (verb, code) in [
        ("cut", 0),
        ("buy", 0),
        ("trim", 0),
        ("finish", 0),
        ("parts", 0),
    ] {
        let ran = job.run(&[verb, "--in", "job"]);
        let text = said(&ran);
        let times = text
            .matches("Route custom does not go into the opening: ")
            .count();
        assert_eq!(times, 1, "{verb}: {text}");
        assert!(
            text.contains("too wide for their least side gaps"),
            "{verb}: {text}"
        );
        ran.ends(code);
    }
    let text = said(&Job::sample("alcove").run(&["cut", "--in", "job"]));
    assert!(!text.contains("does not go into"), "{text}");
}

/// The outlet stands 12 to 16 1/2 over the floor, behind the second of two drawers 8 high on a base of 3 1/2.
#[test]
fn an_outlet_behind_a_drawer_is_named() {
    let job = Job::sample("alcove").change(
        "project.toml",
        "loose_shelves = 2\nrail = true",
        "drawers = 2\nloose_shelves = 1",
    );
    let text = said(&job.run(&["fit", "--in", "job"]));
    assert!(
        text.contains(
            "outlet, back wall falls behind drawer 2 of box right, counted from the bottom"
        ),
        "{text}"
    );
}

/// A side strip kept plumb: one blank in the cut list and on the page of strips, and what is ripped to less than the saw rips safely.
#[test]
fn a_plumb_strip_has_one_blank_and_a_narrow_rip_is_said() {
    let job = Job::sample("alcove").change(
        "project.toml",
        "cover = \"FLAT-2\"",
        "strips = \"BIR-18\"\ncover = \"FLAT-2\"",
    );
    let text =
        job.read("project.toml") + "\n[trim]\nsides_follow = \"plumb\"\nsides_at = \"beside\"\n";
    job.write("project.toml", &text);
    job.write("parts.csv", "");
    job.run(&["parts", "--in", "job", "--write"]);
    let parts = job.read("parts.csv");
    let blank = parts.lines().find(|l| l.contains("side filler blank"));
    // Ripped to the narrowest place, 1 5/8 and a little, and 1/4 left on: up to the next 1/8.
    assert!(blank.is_some_and(|l| l.contains(",89 1/2,2,")), "{parts}");
    let text = said(&job.run(&["trim", "--in", "job"]));
    assert!(text.contains("follows plumb, blank 2 x 89 1/2"), "{text}");
    assert!(
        text.contains("Blanks of strips by the cut list: S1, S2."),
        "{text}"
    );
    assert!(
        text.contains("under the narrowest safe rip of 2: push stick"),
        "{text}"
    );
}

/// Base on the back wall alone does not narrow the row; on the right wall alone it does, on that side.
#[test]
fn old_base_on_one_wall_counts_there_alone() {
    let base = |wall: &str| {
        format!(
            "[[opening.existing_trim]]\nwhat = \"base\"\n{wall}height = \"5\"\nthick = \"1\"\n[[opening.way_in]]"
        )
    };
    let between = |wall: &str| {
        let job = Job::sample("alcove").change("project.toml", "[[opening.way_in]]", &base(wall));
        let text = said(&job.run(&["survey", "--in", "job"]));
        let at = text
            .find("between base and crown that stay")
            .expect("a row");
        let row = text[at..].split_whitespace().skip(6).take(12);
        row.collect::<Vec<_>>().join(" ")
    };
    let [all, back, right] = ["", "wall = \"back\"\n", "wall = \"right\"\n"].map(between);
    assert!(
        all != back && back != right && all != right,
        "{all} / {back} / {right}"
    );
    let wrong = Job::sample("alcove").change(
        "project.toml",
        "[[opening.way_in]]",
        &base("wall = \"front\"\n"),
    );
    let ran = wrong.run(&["fit", "--in", "job"]);
    assert!(
        said(&ran).contains("one of: back, left, right"),
        "{}",
        said(&ran)
    );
    ran.ends(3);
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

/// What `parts` says of crowded boxes `check` says too, before anything is cut.
#[test]
fn check_says_which_shelves_are_crowded() {
    let job = Job::sample("alcove");
    let sound = job.run(&["check", "--in", "job"]).said();
    assert!(!sound.contains("hand's room"), "{sound}");
    let job = job.change("project.toml", "loose_shelves = 5", "loose_shelves = 30");
    let ran = job.run(&["check", "--in", "job"]);
    let said = ran.said();
    assert!(said.contains("less than a hand's room (4 in)"), "{said}");
}
