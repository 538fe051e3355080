//! Routes held against each other: how many there may be, what they must have alike, and what every route is charged for.

use crate::job::Job;
use serde_json::Value;

fn routes(compared: &Value) -> &Vec<Value> {
    compared["routes"].as_array().expect("routes")
}

fn route<'a>(compared: &'a Value, name: &str) -> &'a Value {
    let found = routes(compared).iter().find(|r| r["route"] == name);
    found.unwrap_or_else(|| panic!("no route {name}"))
}

fn verdict(compared: &Value) -> (String, String) {
    let text = |key: &str| compared["verdict"][key].as_str().expect("text").to_owned();
    (text("word"), text("sentence"))
}

fn without_wants(job: Job) -> Job {
    let text = job.read("project.toml");
    let from = text.find("[want]").expect("wants");
    let to = text.find("# ---------- route 1").expect("the runs");
    let left = format!("{}{}", &text[..from], &text[to..]);
    job.write("project.toml", left);
    job
}

/// Two ideas of boxes and one of frames through `compare`, its document, and the book.
#[test]
fn three_routes_are_compared_and_printed() {
    let job = Job::sample("alcove").change(
        "project.toml",
        "# ---------- route 2",
        "[[run]]\nroute = \"one wide\"\nbase_height = \"3 1/2\"\nbox_height = \"86\"\nbox_depth = \"20 1/4\"\nmaterial = \"BIR-18\"\nback = \"BIR-6\"\n[[run.box]]\nname = \"wide\"\nwidth = \"44\"\nfixed_shelves = 1\nloose_shelves = 4\nrail = true\n\n# ---------- route 2",
    );
    std::fs::remove_file(job.path("parts.csv")).expect("her list taken away");
    let compared = job.run(&["compare", "--in", "job", "--json"]);
    let said = job.run(&["compare", "--in", "job"]).said();
    let compared = compared.json();
    let names: Vec<&str> = routes(&compared)
        .iter()
        .map(|r| r["route"].as_str().expect("a name"))
        .collect();
    assert_eq!(names, ["custom", "one wide", "flat-pack"]);
    for r in routes(&compared) {
        assert!(r["money_cents"].as_i64().is_some_and(|m| m > 0), "{r}");
        assert!(r["done"].is_string(), "{r}");
    }
    let cheapest = routes(&compared)
        .iter()
        .min_by_key(|r| r["total_cents"].as_i64())
        .expect("three");
    let name = cheapest["route"].as_str().expect("a name");
    assert!(
        said.contains(&format!(
            "Of 3 routes the cheapest, {name}, is held against"
        )),
        "{said}"
    );
    let book = job.run(&["book", "--in", "job", "--route", "one wide"]);
    assert_eq!(book.code, 0, "{}{}", book.out, book.err);
    let text = job.read("made/build-book.txt");
    let flat: Vec<&str> = text.split_whitespace().collect();
    let flat = flat.join(" ");
    assert!(
        flat.contains("The pages of this book are of one wide: it was asked for with --route.")
    );
    assert!(flat.contains("[ ] custom [ ] one wide [ ] flat-pack"));
}

/// The parts of the opening add up to it, to the cubic millimetre and as they are printed.
#[test]
fn where_the_opening_goes_adds_up() {
    let job = Job::sample("alcove");
    let compared = job.run(&["compare", "--in", "job", "--json"]).json();
    for r in routes(&compared) {
        let space = &r["space"];
        let of = |key: &str| space[key].as_i64().expect("a volume");
        let parts = ["inside", "above", "under", "beside", "behind", "boards"];
        assert_eq!(
            parts.iter().map(|p| of(p)).sum::<i64>(),
            of("opening"),
            "{r}"
        );
        assert!(parts.iter().all(|p| of(p) >= 0), "{r}");
    }
    // By hand: two frames 26 3/4 x 79 3/4 x 19 1/4 inside are 82 131.5 cubic inches, 1 345.90 litres.
    let inside = route(&compared, "flat-pack")["space"]["inside"].as_i64();
    let cubic_in = 2.0 * 26.75 * 79.75 * 19.25 * 16_387.064;
    assert!((inside.expect("a volume") as f64 - cubic_in).abs() < 2.0);
}

/// A row of frames that fills a third of the opening is the cheaper; without a want it gets no verdict, and both uses are said.
#[test]
fn a_route_that_gives_little_gets_no_clear_verdict() {
    let job = without_wants(Job::sample("alcove"));
    let (word, sentence) = verdict(&job.run(&["compare", "--in", "job", "--json"]).json());
    assert_eq!(word, "clear");
    assert!(sentence.contains("No [want] is given"), "{sentence}");
    assert!(sentence.contains("uses 76% of the opening"), "{sentence}");
    let job = job.change("project.toml", "[\"FR-28\", \"FR-28\"]", "[\"FR-28\"]");
    let compared = job.run(&["compare", "--in", "job", "--json"]).json();
    let (word, sentence) = verdict(&compared);
    assert_eq!(word, "no verdict", "{sentence}");
    assert!(sentence.contains("under half of the use"), "{sentence}");
    assert!(sentence.contains("uses 33% of the opening"), "{sentence}");
}

/// Goods that only the cheaper route needs and that no row is: no verdict, the row named, and the code of a missing price.
#[test]
fn goods_without_a_row_that_matter_leave_no_verdict() {
    let job = Job::sample("alcove");
    let stock = job.read("stock.csv");
    let left: Vec<&str> = stock
        .lines()
        .filter(|l| !l.starts_with("CARTONS,"))
        .collect();
    job.write("stock.csv", left.join("\n") + "\n");
    let job = job.change(
        "project.toml",
        "[[need]]\nroute = \"flat-pack\"\nitem = \"CARTONS\"\namount = 1",
        "",
    );
    let ran = job.run(&["compare", "--in", "job", "--json"]).ends(5);
    let (word, sentence) = verdict(&ran.json());
    assert_eq!(word, "no verdict");
    assert!(
        sentence.contains("no row for what route flat-pack needs: delivery from the frame shop"),
        "{sentence}"
    );
}

/// What the car does not take is delivered on every route, and the trips that the load page counts are in the hours.
#[test]
fn every_route_pays_for_what_its_car_does_not_take() {
    let job = Job::sample("alcove").change("stock.csv", "each,1,60.00", "each,1,40.00");
    let compared = job.run(&["compare", "--in", "job", "--json"]).json();
    for (name, cents) in [("custom", 4_000), ("flat-pack", 4_000 + 7_500)] {
        let lines = route(&compared, name)["lines"].as_array().expect("lines");
        let services = lines
            .iter()
            .find(|l| l["what"] == "Delivery and other services");
        assert_eq!(services.expect("a line")["cents"], cents, "{name}");
        let buy = job
            .run(&["buy", "--in", "job", "--route", name, "--json"])
            .json();
        let trips = buy["car"]["trips"].as_array().map_or(0, Vec::len).max(1);
        let tasks = route(&compared, name)["tasks"].as_array().expect("tasks");
        let fetching = tasks.iter().find(|t| t["task"] == "fetching");
        assert_eq!(fetching.expect("a task")["count"], trips as f64, "{name}");
    }
}

/// Frames whose run names no sheet: their strips are asked for, in no total, and not scribed out of nothing.
#[test]
fn strips_of_frames_without_a_sheet_are_asked_for() {
    let job = Job::sample("alcove").change("project.toml", "material = \"BIR-18\"\nunits", "units");
    let compared = job.run(&["compare", "--in", "job", "--json"]).json();
    let also = route(&compared, "flat-pack")["also"].to_string();
    assert!(also.contains("of base and strips"), "{also}");
}

/// A cut list with a heading alone is no matter where the verb draws its rows.
#[test]
fn an_empty_list_is_not_cautioned_by_the_verb_that_fills_it() {
    let job = Job::sample("alcove");
    let heading = job
        .read("parts.csv")
        .lines()
        .next()
        .expect("a heading")
        .to_owned();
    job.write("parts.csv", heading + "\n");
    let drawn = job.run(&["parts", "--in", "job", "--write"]).ends(0);
    assert!(!drawn.said().contains("nothing below it"), "{}", drawn.err);
}

/// What the walls are only the book asks; nothing stops for want of it.
#[test]
fn walls_that_are_not_named_stop_nothing() {
    let job = Job::sample("alcove").change("project.toml", "walls = \"plaster on lath\"\n", "");
    for verb in ["survey", "cut", "book"] {
        job.run(&[verb, "--in", "job"]).ends(0);
    }
}

/// Boxes that no door lets in are no bargain: the table and the verdict say so, the wants being what they are.
#[test]
fn a_route_that_does_not_go_in_wins_nothing() {
    let job = Job::sample("alcove").change(
        "project.toml",
        "width = \"29 3/4\"\nheight = \"78\"",
        "width = \"15\"\nheight = \"40\"",
    );
    let doc = job
        .run(&["compare", "--in", "job", "--json"])
        .ends(0)
        .json();
    let custom = &doc["routes"][0];
    assert_eq!(
        (&custom["fits"], &custom["met"]),
        (&false.into(), &true.into())
    );
    assert_eq!(doc["verdict"]["word"], "no verdict");
    let sentence = doc["verdict"]["sentence"].as_str().expect("text");
    assert!(
        sentence.contains("custom does not go in: box left does not go through the kitchen door"),
        "{sentence}"
    );
    let said = job.run(&["compare", "--in", "job"]).ends(0).out;
    let row = said.lines().find(|l| l.contains("goes into the opening"));
    assert!(row.expect("a row").contains("NO"), "{said}");
}
