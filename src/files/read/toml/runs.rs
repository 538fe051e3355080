//! `[[run]]`, `[[run.box]]` and `[trim]`.

use super::build::{FACES, read_build, read_inside};
use super::doc::Sort;
use super::table::Table;
use crate::files::read::report::Wrong;
use crate::files::read::values;
use crate::model::{
    BoxPlan, BoxWidth, DefaultUsed, HeadFollows, Meeting, Run, RunUnits, SidesAt, SidesFollow,
    TrimRules, WallSide,
};
use crate::units::Length;

/// The walls by the word in the file.
pub(super) const WALLS: &[(&str, WallSide)] = &[
    ("back", WallSide::Back),
    ("left", WallSide::Left),
    ("right", WallSide::Right),
];

/// The runs, and for each what is taken of its base if its frames turn out to have one.
pub(super) fn read_runs(root: &Table<'_>) -> (Vec<Run>, Vec<Vec<DefaultUsed>>) {
    root.tables("run").into_iter().map(read_run).unzip()
}

fn read_run(table: Table<'_>) -> (Run, Vec<DefaultUsed>) {
    let route = table.needed_text("route", "a name for the route, such as custom");
    table.doc.route.replace(Some(route.clone()));
    let mut boxes: Vec<BoxPlan> = Vec::new();
    for inside in table.tables("box") {
        let spot = inside.get("name").map(|v| v.spot());
        let plan = read_box(inside);
        if let Some(spot) = spot.filter(|_| boxes.iter().any(|b| b.name == plan.name)) {
            let wrong = Wrong::new(
                "Two boxes of this run have one name, and the name says where a part belongs.",
                "a name that no other box of the run has",
                "give one of them another name.",
            );
            table.doc.report().mistake(spot, plan.name.clone(), wrong);
        }
        boxes.push(plan);
    }
    let units = read_units(&table, boxes.is_empty());
    let height = table.size("box_height", Sort::size("a height such as 88").large());
    let depth = table.size("box_depth", Sort::size("a depth such as 23 1/4").large());
    if !boxes.is_empty() {
        for (key, given, shown, why) in [
            (
                "box_height",
                table.has("box_height"),
                "the opening's height less 2",
                "room to stand it up",
            ),
            (
                "box_depth",
                table.has("box_depth"),
                "the opening's depth less 1",
                "room for a wall that is not flat",
            ),
        ] {
            if !given {
                table.default(key, shown, why);
            }
        }
    }
    let (base, frames_base) = read_base(&table, !boxes.is_empty());
    let run = Run {
        route,
        wall: table.word_or(
            "wall",
            WALLS,
            WallSide::Back,
            "back",
            "most built-ins stand there",
        ),
        from_left: table.size(
            "from_left",
            Sort::from_zero("a distance from the left end of the wall, such as 12"),
        ),
        through: table.get("through").and_then(|v| v.yes_no()),
        chosen: table
            .get("chosen")
            .and_then(|v| v.yes_no())
            .unwrap_or(false),
        base_height: base[0],
        base_given: table.has("base_height"),
        base_setback: base[1],
        box_height: height,
        box_depth: depth,
        side_gap_least: table.size_or(
            "side_gap_least",
            Sort::from_zero("the least gap at each side, such as 1/2"),
            Length::in_64(32),
            "room to set the boxes",
        ),
        head_gap_least: table.size_or(
            "head_gap_least",
            Sort::from_zero("the least gap at the head, such as 1 1/2"),
            Length::in_64(96),
            "room to set the boxes",
        ),
        material: table.text("material"),
        back: table.text("back"),
        joint: table
            .word_or(
                "joint",
                &[("rabbet", "rabbet"), ("dado", "dado"), ("butt", "butt")],
                "rabbet",
                "rabbet",
                "a back in a rabbet squares the box",
            )
            .to_owned(),
        face: table
            .word_or(
                "face",
                FACES,
                "banded",
                "banded",
                "banding on the fronts of shelves and partitions; strips lie over the sides at the walls, and what stays raw is said",
            )
            .to_owned(),
        build: read_build(&table, !boxes.is_empty()),
        boxes,
        units,
        extras: table.get("extras").map(|v| counts(&v)).unwrap_or_default(),
    };
    table.doc.route.replace(None);
    table.done();
    (run, frames_base)
}

/// Height and setback of the base, and what was taken for want of either: for frames, who may have no base, it is only kept.
fn read_base(table: &Table<'_>, boxes: bool) -> ([Length; 2], Vec<DefaultUsed>) {
    let mut kept = Vec::new();
    let mut one = |key: &'static str, sort: Sort, usual: Length, why: &str| {
        if boxes || table.has(key) {
            return table.size_or(key, sort, usual, why);
        }
        table.get(key);
        kept.push(table.default_of(key, &table.doc.tape.borrow().print_exact(usual), why));
        usual
    };
    let high = Sort::from_zero("the height of the base, such as 3 3/4");
    let back = Sort::from_zero("how far the base stands back, such as 3");
    let usual = [Length::inches(4), Length::inches(3)];
    let toes = "room for toes; common practice, no source";
    let sizes = [
        one("base_height", high, usual[0], "common practice, no source"),
        one("base_setback", back, usual[1], toes),
    ];
    (sizes, kept)
}

fn read_units(table: &Table<'_>, no_boxes: bool) -> RunUnits {
    let Some(value) = table.get("units") else {
        if no_boxes {
            table.default("units", "best", "every mix of frames that fits is tried");
        }
        return RunUnits::Best;
    };
    if value.is_list() {
        let list = value.list("a list of frames").unwrap_or_default();
        return RunUnits::Listed(list.iter().filter_map(super::value::Value::text).collect());
    }
    let _ = value.word(&[("best", ())]);
    RunUnits::Best
}

/// A table of names and how many of each.
pub(super) fn counts(value: &super::value::Value<'_>) -> Vec<(String, u32)> {
    let Some(table) = value.table() else {
        return Vec::new();
    };
    table
        .entries()
        .into_iter()
        .filter_map(|(key, v)| {
            v.with("how many", |t| values::count(t, 0))
                .map(|n| (key, n))
        })
        .collect()
}

fn read_box(table: Table<'_>) -> BoxPlan {
    let name = table.needed_text("name", "a name for the box, such as left");
    let share = table.count("share", 1);
    let width = table.size(
        "width",
        Sort::size("the outside width of the box, such as 24 1/2").large(),
    );
    if let (Some(_), Some(value)) = (share, table.get("width")) {
        let wrong = Wrong::new(
            "A box has either a width or a share of what is left, not both.",
            "width or share",
            "take one of the two out.",
        );
        value.wrong(&value.found(), wrong);
    }
    let width = match (width, share) {
        (Some(width), _) => BoxWidth::Width(width),
        (None, Some(share)) => BoxWidth::Share(share),
        (None, None) => {
            if !table.has("width") {
                table.default(
                    "share",
                    "1",
                    "boxes without a width share what is left alike",
                );
            }
            BoxWidth::Share(1)
        }
    };
    let shelf_heights = table
        .sizes(
            "shelf_heights",
            Sort::from_zero("the height of a shelf, such as 40"),
        )
        .unwrap_or_default();
    let plan = BoxPlan {
        name,
        width,
        fixed_shelves: table.count("fixed_shelves", 0).unwrap_or(0),
        loose_shelves: table.count("loose_shelves", 0).unwrap_or(0),
        shelf_heights,
        rail: table.get("rail").and_then(|v| v.yes_no()).unwrap_or(false),
        doors: table.count("doors", 0).unwrap_or(0),
        drawers: table.count("drawers", 0).unwrap_or(0),
        swap: table.get("swap").and_then(|v| v.yes_no()).unwrap_or(false),
        inside: read_inside(&table),
    };
    for (key, n) in [
        ("fixed_shelves", plan.fixed_shelves),
        ("loose_shelves", plan.loose_shelves),
        ("doors", plan.doors),
        ("drawers", plan.drawers),
        ("partitions", plan.inside.partitions),
    ] {
        if n > 100
            && let Some(value) = table.get(key)
        {
            let wrong = Wrong::new(
                "No box holds more than 100 of these.",
                "100 at most",
                "check the figure.",
            );
            value.wrong(&value.found(), wrong);
        }
    }
    table.done();
    plan
}

pub(super) fn read_trim(root: &Table<'_>) -> TrimRules {
    let table = root.table("trim");
    let usual = TrimRules::default();
    let trim = TrimRules {
        head_follows: table.word_or(
            "head_follows",
            &[
                ("ceiling", HeadFollows::Ceiling),
                ("level", HeadFollows::Level),
            ],
            usual.head_follows,
            "ceiling",
            "the eye follows the ceiling",
        ),
        sides_follow: table.word_or(
            "sides_follow",
            &[("wall", SidesFollow::Wall), ("plumb", SidesFollow::Plumb)],
            usual.sides_follow,
            "wall",
            "the strip is scribed to the wall",
        ),
        sides_at: table.word_or(
            "sides_at",
            &[("lap", SidesAt::Lap), ("beside", SidesAt::Beside)],
            usual.sides_at,
            "lap",
            "the strip covers the joint with the box",
        ),
        spring: table.size_or(
            "spring",
            Sort::from_zero("how much too long a piece is cut, such as 1/16"),
            usual.spring,
            "sprung in, the joints close; common practice, no source",
        ),
        meeting: table.word_or(
            "meeting",
            &[
                ("mitre", Meeting::Mitre),
                ("miter", Meeting::Mitre),
                ("cope", Meeting::Cope),
                ("butt", Meeting::Butt),
            ],
            usual.meeting,
            "cope",
            "a coped corner stays closed",
        ),
        joints_allowed: table.yes_no_or(
            "joints_allowed",
            usual.joints_allowed,
            "long walls need them",
        ),
        crown_spring: table.word_or(
            "crown_spring",
            &[("52/38", 38), ("45/45", 45)],
            usual.crown_spring,
            "52/38",
            "the usual crown, where its row does not say; common practice, no source: hold a piece in a square and look",
        ),
    };
    table.done();
    trim
}
