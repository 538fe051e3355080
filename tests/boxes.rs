//! Runs of boxes to parts: a worked job row by row, examples reckoned on paper, and random boxes put together again from
//! nothing but their parts.

use nookwright::boxes::{
    DrawerAt, Inside, Room, Strip, assemblies, compare, diagonal, drawers_of, drawn, outsides,
    pin_holes, shelves_at,
};
use nookwright::files::read::{Reads, read_folder};
use nookwright::model::{
    Band, BoxInside, BoxPlan, BoxWidth, BuildRules, DoorLay, Grain, Job, Part, PartSize, Run,
    StockRow,
};
use nookwright::plan::{crowded_boxes, rooms};
use nookwright::units::{Length, ReadAs, parse_length};
use std::path::Path;

fn inch(text: &str) -> Length {
    parse_length(text, ReadAs::default()).expect("a size")
}

fn read(folder: &str) -> Job {
    let reads = Reads {
        offcuts: false,
        prefab: false,
        ..Reads::EVERYTHING
    };
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let read = read_folder(&dir, &reads).expect("readable");
    read.job.unwrap_or_else(|| panic!("{:?}", read.problems))
}

fn worked() -> Job {
    read("tests/data/back-hall")
}

fn size(p: &Part) -> (Length, Option<Length>) {
    match p.size {
        PartSize::Panel { length, width } => (length, Some(width)),
        PartSize::Piece { length } => (length, None),
    }
}

fn same_list(job: &Job, marks_too: bool) -> usize {
    let fresh = drawn(job, &rooms(job)).expect("drawn");
    let by_run: Vec<&Part> = job.parts.iter().filter(|p| !p.by_hand).collect();
    assert_eq!(by_run.len(), fresh.len());
    for (row, new) in by_run.iter().zip(&fresh) {
        let key = |p: &Part| {
            (
                p.in_box.clone(),
                p.how_many,
                size(p),
                p.item.clone(),
                p.grain,
                p.band,
            )
        };
        assert_eq!(key(row), key(new), "{}", row.mark);
        if marks_too {
            assert_eq!(row.mark, new.mark);
        } else {
            assert_eq!(
                (&row.what, &row.match_group),
                (&new.what, &new.match_group),
                "{}",
                row.mark
            );
        }
    }
    by_run.len()
}

/// A job whose sizes were worked on paper before there was a program: 20 rows, each with its size, count, material, grain and
/// banding.
#[test]
fn the_worked_job_comes_out_row_by_row() {
    assert_eq!(same_list(&worked(), true), 20);
}

/// The sample's list is what its run draws, words and groups too.
#[test]
fn the_sample_is_what_its_run_draws() {
    assert!(same_list(&read("samples/alcove"), false) >= 14);
}

/// Worked on paper: 88 x 22 1/4 reads 90 3/4 to the nearest 1/16; 3, 4, 5 and its multiples are whole.
#[test]
fn diagonals() {
    assert_eq!(
        diagonal(Length::inches(36), Length::inches(48)),
        Length::inches(60)
    );
    let tape = worked().project.tape;
    assert_eq!(
        tape.print(diagonal(inch("22 1/4"), inch("88"))),
        "90 3/4 full"
    );
    let job = worked();
    let list = assemblies(&job, "custom", &rooms(&job), &job.parts).expect("built");
    assert_eq!(list.len(), 3);
    assert_eq!(list[0].pieces.iter().map(|p| p.how_many).sum::<u32>(), 12);
    assert!(
        list[0].steps.iter().any(|s| s.contains("90 3/4 in full")),
        "{:?}",
        list[0].steps
    );
    // Rail of the middle box: its inside less two sockets of 1/16 (common practice, no source).
    assert_eq!(list[1].rail.expect("a rail").length, inch("22 15/16"));
    assert!(!list[1].rail.expect("a rail").middle_support);
    assert_eq!(
        list.iter()
            .filter_map(|b| b.pins)
            .map(|p| p.pins)
            .sum::<i64>(),
        40
    );
}

fn plan(width: Length) -> BoxPlan {
    BoxPlan {
        name: "left".into(),
        width: BoxWidth::Width(width),
        fixed_shelves: 0,
        loose_shelves: 1,
        shelf_heights: Vec::new(),
        rail: false,
        doors: 0,
        drawers: 0,
        swap: false,
        inside: BoxInside::default(),
    }
}

fn one_box(job: &mut Job, plan: BoxPlan, change: impl FnOnce(&mut Run)) -> Inside {
    job.runs.truncate(1);
    job.runs[0].boxes = vec![plan];
    change(&mut job.runs[0]);
    let run = &job.runs[0];
    let sizes = outsides(job, run, &Room::default()).expect("sizes");
    Inside::of(job, run, &run.boxes[0], sizes[0]).expect("a box")
}

/// The 32 mm system: a side of 720 with 64 at each end has 19 holes a row, 76 in the box; 2010 with 9.5 has 63; 1056 is
/// balanced (S64 to S66: DEVELOPERS.md, Sources; counts worked on paper).
#[test]
fn pin_rows_by_the_32_mm_system() {
    for (high, first, in_row, at) in [
        (720, Some("64 mm"), 19, "64 mm"),
        (2010, Some("9.5 mm"), 63, "9.5 mm"),
        (1056, None, 30, "64 mm"),
    ] {
        let mut job = worked();
        let inside = one_box(&mut job, plan(inch("24")), |r| {
            r.box_height = Some(Length::mm(high));
            r.build.pins.first = first.map(inch);
        });
        let holes = pin_holes(&job.runs[0], &job.runs[0].boxes[0], &inside).expect("holes");
        assert_eq!(
            (holes.in_row, holes.rows, holes.holes, holes.first),
            (in_row, 4, in_row * 4, inch(at)),
            "{high}"
        );
        assert_eq!((holes.pins, holes.to_fill), (4, in_row * 4 - 4));
    }
    // A jig with holes every 1 1/4 from 2 in up, 30 in high: 2, 3 1/4 ... 27: 21 holes, counted one by one.
    let mut job = worked();
    let inside = one_box(&mut job, plan(inch("24")), |r| {
        r.box_height = Some(inch("30"));
        r.build.pins.first = Some(inch("2"));
        r.build.pins.pitch = inch("1 1/4");
    });
    let holes = pin_holes(&job.runs[0], &job.runs[0].boxes[0], &inside).expect("holes");
    let one_by_one = (0..)
        .take_while(|i| inch("2") + inch("1 1/4") * *i <= inch("28"))
        .count();
    assert_eq!(holes.in_row, one_by_one as i64);
}

/// By the packing rule (8 in clear over each shelf, the rail 2 in under the one above it) the clothes have room, so the drawing
/// has to leave it; and no shelf stands in it.
#[test]
fn shelves_leave_room_for_what_hangs() {
    let mut dice = Dice(1);
    let (mut roomy, mut tight) = (0, 0);
    for _ in 0..2_000 {
        let mut job = worked();
        let drop = dice.size(30_000, 60_000, 125);
        job.want.get_or_insert_default().tallest_hung = Some(drop);
        let (fixed, loose) = (dice.below(2) as u32, dice.below(4) as u32);
        let high = dice.size(70_000, 95_000, 125);
        let with_rail = BoxPlan {
            fixed_shelves: fixed,
            loose_shelves: loose,
            rail: true,
            ..plan(inch("30"))
        };
        let inside = one_box(&mut job, with_rail, |run| run.box_height = Some(high));
        let run = &job.runs[0];
        let shelves = shelves_at(run, &run.boxes[0], &inside);
        let (t, eight) = (inside.thick, inch("8"));
        let shelf = (eight + t) * i64::from(fixed + loose);
        let fits = shelf + inch("2") + drop <= inside.height;
        let mut below = t;
        let mut tallest = Length::ZERO;
        for s in &shelves {
            tallest = tallest.max(s.top - t - below);
            below = s.top;
        }
        tallest = tallest.max(high - t - below);
        if fits {
            roomy += 1;
            assert!(
                tallest >= drop + inch("2"),
                "{tallest:?} for {drop:?}: {shelves:?}"
            );
        } else {
            tight += 1;
        }
    }
    assert!(roomy > 500 && tight > 50, "{roomy} {tight}");
}

fn find<'a>(list: &'a [Part], what: &str) -> &'a Part {
    list.iter()
        .find(|p| p.what == what)
        .unwrap_or_else(|| panic!("no {what} in {list:#?}"))
}

/// Two doors and two drawers before a box of 30 x 40 outside, worked on paper with gaps of 1/8 and slides of 1/2:
/// drawers' places 8 each, so doors (30/2 - 1/8) x (40 - 16 - 1/8); fronts 29 7/8 x 7 7/8; drawer box 28 9/16 - 1 wide outside.
/// The upper drawer's box from 1/4 over its front's lower edge to 1/2 under its upper one: 8 5/16 to 15 7/16. The lowest stands
/// 1/4 over the bottom, 23/32 thick: 31/32 to 7 7/16, down to a mark of the tape.
#[test]
fn doors_and_drawers_by_hand() {
    let mut job = worked();
    let slide = StockRow {
        item: "SLIDE".into(),
        length: Some(inch("20")),
        thick: Some(inch("1/2")),
        ..job.stock[6].clone()
    };
    job.stock.push(slide);
    let mut p = plan(inch("30"));
    (p.doors, p.drawers) = (2, 2);
    one_box(&mut job, p, |r| {
        r.box_height = Some(inch("40"));
        r.build.slide = Some("SLIDE".into());
    });
    let list = drawn(&job, &[]).expect("drawn");
    let is = |what: &str, n: u32, length: &str, width: &str| {
        let p = find(&list, what);
        assert_eq!(
            (p.how_many, size(p)),
            (n, (inch(length), Some(inch(width)))),
            "{what}"
        );
    };
    is("left door", 2, "23 7/8", "14 7/8");
    is("left drawer front", 2, "29 7/8", "7 7/8");
    is("left drawer side", 2, "20", "6 7/16");
    is("left drawer side, height 2", 2, "20", "7 1/8");
    // 30 - 2 x 23/32 - 2 x 1/2 - 2 x 23/32 = 26 1/8.
    is("left drawer box front and back", 2, "26 1/8", "6 7/16");
    is(
        "left drawer box front and back, height 2",
        2,
        "26 1/8",
        "7 1/8",
    );
    let made = assemblies(&job, "custom", &[], &list).expect("a page");
    let drawers = made[0].drawers.as_ref().expect("drawers");
    let at = |d: &DrawerAt| [d.front, d.front_high, d.low, d.high].map(|l| l.as_inches());
    assert_eq!(at(&drawers.each[0]), [0.0625, 7.875, 0.96875, 6.4375]);
    assert_eq!(at(&drawers.each[1]), [8.0625, 7.875, 8.3125, 7.125]);
    let said = made[0].steps.join(" ");
    for word in [
        "3/8 in into its thickness and 1/4 in from the edge",
        "Slides: 2 pairs 20 in long, 1/2 in of room",
        "stand at 1 shy, 8 5/16,",
        "lower edges at 1/16, 8 1/16 from the bottom edge",
    ] {
        assert!(said.contains(word), "{word}: {said}");
    }
    // 20 - 2 x 23/32 + 2 x 1/4 - 1/16 by 26 1/8 + 7/16.
    is("left drawer bottom", 2, "19", "26 9/16");
    // Wider than long: it is not held to the sheet's grain.
    assert_eq!(find(&list, "left drawer bottom").grain, Grain::Any);
    assert_eq!(
        find(&list, "left door").band,
        Band {
            front: true,
            back: true,
            left: true,
            right: true
        }
    );
    assert_eq!(find(&list, "left door").note, "2 hinges each");
    // Inset: from side to side 28 9/16 with three gaps, from bottom to top 38 9/16 with two and the drawers.
    job.runs[0].build.door_lay = DoorLay::Inset;
    let list = drawn(&job, &[]).expect("drawn");
    let door = size(find(&list, "left door"));
    assert_eq!(door, (inch("22 5/16"), Some(inch("14 3/32"))));
    // Behind inset doors shelves are shallower by door and gap: 23 - 23/32 - 1/8 - 1/4.
    assert_eq!(
        size(find(&list, "left loose shelf")).1,
        Some(inch("21 29/32"))
    );
}

/// The same box with its drawers behind the doors, on paper: the doors close the whole face, 30/2 - 1/8 by 40 - 1/8, and no front is
/// cut. Both doors are hinged at the sides, so each slide is packed out by a board of 23/32: 28 9/16 - 1 - 2 x 23/32 = 26 1/8 outside,
/// 24 11/16 between its sides. Rooms of 8 begin on the bottom: boxes from 31/32, 8 - 3/4 = 7 1/4 high, 4 packers of 20 x 2.
#[test]
fn drawers_inside_clear_hinges_and_doors() {
    let mut job = worked();
    let slide = StockRow {
        item: "SLIDE".into(),
        length: Some(inch("20")),
        thick: Some(inch("1/2")),
        ..job.stock[6].clone()
    };
    job.stock.push(slide);
    let mut p = plan(inch("30"));
    (p.doors, p.drawers) = (2, 2);
    p.inside.drawers_inside = true;
    one_box(&mut job, p, |r| {
        r.box_height = Some(inch("40"));
        r.build.slide = Some("SLIDE".into());
    });
    let list = drawn(&job, &[]).expect("drawn");
    let is = |list: &[Part], what: &str, n: u32, length: &str, width: &str| {
        let p = find(list, what);
        assert_eq!(
            (p.how_many, size(p)),
            (n, (inch(length), Some(inch(width)))),
            "{what}"
        );
    };
    is(&list, "left door", 2, "39 7/8", "14 7/8");
    assert!(!list.iter().any(|p| p.what.contains("drawer front")));
    is(&list, "left drawer side", 4, "20", "7 1/4");
    is(
        &list,
        "left drawer box front and back",
        4,
        "24 11/16",
        "7 1/4",
    );
    is(&list, "left drawer packer", 4, "20", "2");
    let made = assemblies(&job, "custom", &[], &list).expect("a page");
    let drawers = made[0].drawers.as_ref().expect("drawers");
    assert_eq!(drawers.bays[0].wide, inch("26 1/8"));
    let low: Vec<Length> = drawers.each.iter().map(|d| d.low).collect();
    assert_eq!(low, ["31/32", "8 31/32"].map(inch));
    let said = made[0].steps.join(" ");
    assert!(
        said.contains("pack the slides out by 3/4 in shy where a door is hinged"),
        "{said}"
    );
    assert!(!said.contains("Screw the fronts on"), "{said}");
    // One door is hinged at one side: a board's width more for the drawers, half the packers.
    job.runs[0].boxes[0].doors = 1;
    let list = drawn(&job, &[]).expect("drawn");
    is(&list, "left drawer packer", 2, "20", "2");
    let made = assemblies(&job, "custom", &[], &list).expect("a page");
    assert_eq!(
        made[0].drawers.as_ref().expect("drawers").bays[0].wide,
        inch("26 27/32")
    );
    // Set in, the open door stands in by 23/32 and its gap of 1/8: two boards.
    job.runs[0].build.door_lay = DoorLay::Inset;
    let list = drawn(&job, &[]).expect("drawn");
    is(&list, "left drawer packer", 4, "20", "2");
    job.runs[0].boxes[0].doors = 0;
    let wrong = drawn(&job, &[]).expect_err("no doors");
    assert!(
        wrong[0].why.contains("behind doors, and this box has none"),
        "{wrong:?}"
    );
}

/// A box 30 wide with one partition: bays of (28 9/16 - 23/32) / 2 = 13 59/64, the last a 64th wider. Two doors stand one before
/// each bay and meet over the middle of the partition; three close the whole face one over the other. A hinge whose row says 3/16
/// makes the gap 3/16.
#[test]
fn doors_stand_before_the_bays_they_go_into() {
    let mut job = worked();
    let mut p = plan(inch("30"));
    p.doors = 2;
    p.inside.partitions = 1;
    one_box(&mut job, p, |r| r.box_height = Some(inch("40")));
    let doors = |job: &Job| {
        let list = drawn(job, &[]).expect("drawn");
        let doors = list.into_iter().filter(|p| p.what.starts_with("left door"));
        doors.map(|p| (p.how_many, size(&p))).collect::<Vec<_>>()
    };
    let sum = |list: &[(u32, (Length, Option<Length>))]| -> Length {
        list.iter().map(|(n, s)| s.1.unwrap() * i64::from(*n)).sum()
    };
    let found = doors(&job);
    // Both together with a gap each make the whole face, but for what no stop can be set to.
    let over = inch("30") - inch("1/4") - sum(&found);
    assert!(over >= Length::ZERO && over < inch("1/32"), "{found:?}");
    let inside = drawn(&job, &[]).expect("drawn");
    assert_eq!(found.iter().map(|d| d.0).sum::<u32>(), 2, "{inside:?}");
    job.runs[0].boxes[0].doors = 4;
    assert_eq!(doors(&job).iter().map(|d| d.0).sum::<u32>(), 4);
    assert!(
        doors(&job)
            .iter()
            .all(|d| d.1.0 == inch("39 7/8") && d.1.1.unwrap() < inch("7 1/2"))
    );
    job.runs[0].boxes[0].doors = 3;
    assert_eq!(doors(&job), [(3, (inch("13 13/64"), Some(inch("29 7/8"))))]);
    job.runs[0].boxes[0].doors = 2;
    let hinge = StockRow {
        item: "HINGE".into(),
        thick: Some(inch("3/16")),
        ..job.stock[6].clone()
    };
    job.stock.push(hinge);
    job.runs[0].build.hinge = Some("HINGE".into());
    assert_eq!(doors(&job)[0].1.0, inch("39 13/16"));
}

/// Strips from the gaps: both sides as wide as the wider wants, up to 1/8; a stick has no width.
#[test]
fn strips_and_cover_strips() {
    let mut job = worked();
    job.runs[0].build = BuildRules {
        strips: Some("PLY-18".into()),
        cover: Some("STRIP-15".into()),
        ..BuildRules::default()
    };
    let strip = |place: &str, width: &str, length: &str| Strip {
        place: place.into(),
        width: inch(width),
        length: inch(length),
    };
    let room = Room {
        strips: vec![
            strip("left", "2 13/32", "91 3/4"),
            strip("right", "2 21/32", "91 3/4"),
            strip("head", "3 3/4", "71 5/8"),
        ],
        ..Room::default()
    };
    let list = drawn(&job, &[room]).expect("drawn");
    let side = find(&list, "side scribe blank");
    assert_eq!(
        (side.how_many, size(side)),
        (2, (inch("91 3/4"), Some(inch("2 3/4"))))
    );
    assert_eq!(
        size(find(&list, "head scribe blank")),
        (inch("71 5/8"), Some(inch("3 3/4")))
    );
    let cover = find(&list, "cover strip");
    assert_eq!((cover.how_many, size(cover)), (2, (inch("88"), None)));
    // Rows of hers of that name are hers: none of hers is drawn over, none comes twice.
    let changes = compare(&job.parts, &list, None, "custom");
    let blanks = changes
        .iter()
        .filter(|c| c.part().is_some_and(|p| p.what.contains("blank")))
        .count();
    assert_eq!(blanks, 2);
    // Without gaps there is nothing to draw them from.
    assert!(drawn(&job, &[]).is_err());
}

/// Everything wrong with a run is said at once, each thing once.
#[test]
fn all_problems_at_once() {
    let mut job = worked();
    let run = &mut job.runs[0];
    run.boxes[0].width = BoxWidth::Width(inch("1"));
    run.boxes[1].fixed_shelves = 90;
    run.boxes[1].loose_shelves = 90;
    run.boxes[2].drawers = 3;
    run.boxes[2].inside.drawer_heights = vec![inch("6")];
    run.back = Some("NOT-THERE".into());
    let found: Vec<String> = drawn(&job, &[])
        .expect_err("problems")
        .into_iter()
        .map(|p| p.why)
        .collect();
    for word in [
        "no room between",
        "higher together",
        "one height for each",
        "thickness of this material",
    ] {
        assert_eq!(
            found.iter().filter(|w| w.contains(word)).count(),
            1,
            "{word}: {found:#?}"
        );
    }
    job.runs[0].material = None;
    assert!(
        drawn(&job, &[])
            .expect_err("problems")
            .iter()
            .any(|p| p.why.contains("what its boxes are made of"))
    );
}

/// Random numbers of the test's own.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % n) as i64
    }
    /// Between two sizes in thousandths of an inch, in steps of `step` thousandths or of 1/64.
    fn size(&mut self, from: i64, to: i64, step: i64) -> Length {
        let n = from + self.below((to - from) as u64);
        Length::from_units(n / step * step * 2_032)
    }
}

fn random_job(base: &Job, dice: &mut Dice) -> Job {
    let mut job = base.clone();
    for row in &mut job.stock {
        if row.item == "PLY-18" {
            row.measured = Some(dice.size(450, 1000, 1));
        } else if row.item == "PLY-6" {
            row.measured = Some(dice.size(120, 400, 1));
        }
    }
    job.runs.truncate(1);
    let run = &mut job.runs[0];
    run.joint = ["rabbet", "dado", "butt"][dice.below(3) as usize].into();
    run.back = (dice.below(5) > 0).then(|| "PLY-6".into());
    run.box_height = Some(dice.size(24_000, 95_000, 1));
    run.box_depth = Some(dice.size(8_000, 26_000, 1));
    run.base_height = dice.size(0, 6_000, 1);
    run.base_setback = dice.size(0, 4_000, 1);
    run.build.nailer = dice.size(0, 6_000, 125);
    run.build.door_gap = dice.size(30, 250, 1);
    run.build.door_lay = if dice.below(2) == 0 {
        DoorLay::Overlay
    } else {
        DoorLay::Inset
    };
    run.boxes = (0..=dice.below(4))
        .map(|i| {
            let drawers = if dice.below(3) == 0 {
                dice.below(3) as u32
            } else {
                0
            };
            BoxPlan {
                name: format!("box {i}"),
                width: BoxWidth::Width(dice.size(12_000, 60_000, 1)),
                fixed_shelves: dice.below(3) as u32,
                loose_shelves: dice.below(4) as u32,
                doors: dice.below(5) as u32,
                drawers,
                rail: dice.below(3) == 0,
                inside: BoxInside {
                    partitions: dice.below(3) as u32,
                    drawer_heights: (0..drawers).map(|_| dice.size(4_000, 8_000, 1)).collect(),
                    ..BoxInside::default()
                },
                ..plan(Length::ZERO)
            }
        })
        .collect();
    job
}

/// Rows of one box or place, by what follows its name.
struct Built<'a>(Vec<&'a Part>);

impl Built<'_> {
    fn rows(&self, kind: &str) -> Vec<(u32, Length, Length)> {
        let named = |p: &&&Part| {
            let rest = p.what.strip_prefix(p.in_box.as_str());
            rest.is_some_and(|r| r.trim_start().starts_with(kind))
        };
        let sizes = |p: &&Part| {
            let (length, width) = size(p);
            (p.how_many, length, width.expect("a panel"))
        };
        self.0.iter().filter(named).map(sizes).collect()
    }
    fn one(&self, kind: &str) -> (u32, Length, Length) {
        let rows = self.rows(kind);
        assert_eq!(rows.len(), 1, "{kind}");
        rows[0]
    }
    /// Each length as often as it is cut.
    fn each(&self, kind: &str) -> Vec<Length> {
        self.rows(kind)
            .into_iter()
            .flat_map(|(n, l, _)| vec![l; n as usize])
            .collect()
    }
}

/// Two thousand random runs, put together again from their parts alone: what the parts make outside, inside, from front to back
/// and over the base is what was asked for, to the last unit of 1/80 000 mm.
#[test]
fn random_boxes_go_together_again() {
    let base = worked();
    let mut dice = Dice(7);
    let (mut built, mut tried) = (0, 0);
    while built < 2000 {
        tried += 1;
        assert!(
            tried < 12_000,
            "too few of the random runs can be built: {built}"
        );
        let job = random_job(&base, &mut dice);
        let Ok(list) = drawn(&job, &[]) else { continue };
        put_together(&job, &list);
        built += 1;
    }
}

fn put_together(job: &Job, list: &[Part]) {
    let run = &job.runs[0];
    let of = |item: &str| {
        job.stock_row(item)
            .and_then(StockRow::thickness)
            .expect("a thickness")
    };
    let (t, back) = (of("PLY-18"), run.back.as_deref().map(of));
    let (high, deep) = (
        run.box_height.expect("given"),
        run.box_depth.expect("given"),
    );
    let into = if run.joint == "dado" {
        inch("1/4")
    } else {
        Length::ZERO
    };
    let eighth = inch("1/8");
    let grid = inch("1/64");
    for plan in &run.boxes {
        let BoxWidth::Width(wide) = plan.width else {
            unreachable!()
        };
        let b = Built(list.iter().filter(|p| p.in_box == plan.name).collect());
        let (sides, side_high, side_deep) = b.one("side");
        let sides_of_box = b.rows("side").len();
        assert_eq!((sides, sides_of_box), (2, 1));
        let (ends, across, end_deep) = b.one("top and bottom");
        assert_eq!((ends, side_high), (2, high));
        // Left to right: side, what is between the dadoes, side.
        let between = across - into * 2;
        assert_eq!(between + t * 2, wide);
        // Front to back.
        match (back, run.joint.as_str()) {
            (None, _) => assert_eq!((side_deep, end_deep), (deep, deep)),
            (Some(back), "butt") => assert_eq!((side_deep + back, end_deep), (deep, side_deep)),
            (Some(back), _) => {
                assert_eq!(side_deep, deep);
                assert!(end_deep + back <= deep && end_deep + back.max(inch("1/4")) == deep);
            }
        }
        back_holds(&b, run, back, [wide, high], between, t);
        // Bays and partitions fill the inside; without shelves in them the nailers tell the bays.
        let partitions = plan.inside.partitions;
        if partitions > 0 {
            let (n, tall, _) = b.one("partition");
            assert_eq!((n, tall - into * 2 + t * 2), (partitions, high));
        }
        let bays = partitions as usize + 1;
        for (kind, each, extra) in [
            ("fixed shelf", plan.fixed_shelves as usize, into * 2),
            ("back nailer", 1, Length::ZERO),
        ] {
            let lengths = b.each(kind);
            if lengths.is_empty() {
                continue;
            }
            assert_eq!(lengths.len(), bays * each, "{kind}");
            let sum: Length = lengths.iter().map(|l| *l - extra).sum();
            assert_eq!(
                sum,
                (between - t * i64::from(partitions)) * each as i64,
                "{kind}"
            );
            let (least, most) = (
                *lengths.iter().min().expect("one"),
                *lengths.iter().max().expect("one"),
            );
            assert!(most - least < grid * bays as i64, "{kind}");
            for loose in b.each("loose shelf") {
                let play = least - extra - loose;
                assert!(play == eighth, "{play:?}");
                assert!(most - extra - loose < eighth + grid * bays as i64);
            }
        }
        if plan.loose_shelves > 0 {
            let (n, _, loose_deep) = b.one("loose shelf");
            assert_eq!(n as usize, plan.loose_shelves as usize * bays);
            let fixed = b.rows("fixed shelf");
            assert!(fixed.iter().all(|f| f.2 - loose_deep == inch("1/4")));
            assert!(loose_deep.is_positive() && loose_deep < end_deep);
        }
        fronts_fill(&b, job, run, plan, [wide, high], t);
        heights_are_clear(job, run, plan, t);
        // Both diagonals, from the corners of what the parts make.
        let corner = |x: Length, y: Length| (x.as_inches(), y.as_inches());
        let made = (between + t * 2, side_high);
        let (a, c) = (corner(Length::ZERO, Length::ZERO), corner(made.0, made.1));
        let (e, f) = (corner(made.0, Length::ZERO), corner(Length::ZERO, made.1));
        let far = |p: (f64, f64), q: (f64, f64)| (p.0 - q.0).hypot(p.1 - q.1);
        let read = diagonal(wide, high).as_inches();
        assert!((far(a, c) - read).abs() < 1e-6 && (far(e, f) - read).abs() < 1e-6);
    }
    let total: Length = run
        .boxes
        .iter()
        .map(|b| {
            if let BoxWidth::Width(w) = b.width {
                w
            } else {
                Length::ZERO
            }
        })
        .sum();
    let base = Built(list.iter().filter(|p| p.in_box == "base").collect());
    if run.base_height.is_positive() {
        let long: Length = base.each("front and back").into_iter().sum();
        assert_eq!(long, total * 2);
        let (n, cross, up) = base.one("crosspiece");
        assert_eq!(
            (cross + t * 2 + run.base_setback, up),
            (deep, run.base_height)
        );
        let apart = (total - t).as_inches() / f64::from(n - 1);
        assert!(apart <= 18.0 + 1e-9 && n >= 2, "{apart}");
        assert!(n == 2 || (total - t).as_inches() / f64::from(n - 2) > 18.0 - 1e-9);
    } else {
        assert!(base.0.is_empty());
    }
}

/// The back covers the opening behind it, lies in its rabbets with play, and no rabbet goes through a side.
fn back_holds(
    b: &Built<'_>,
    run: &Run,
    back: Option<Length>,
    [wide, high]: [Length; 2],
    between: Length,
    t: Length,
) {
    let is_back = |p: &&&Part| p.item == "PLY-6" && p.what.ends_with("back");
    let rows: Vec<_> = b.0.iter().filter(is_back).collect();
    assert_eq!(rows.len(), usize::from(back.is_some()));
    if rows.is_empty() {
        return;
    }
    let (tall, across) = size(rows[0]);
    let across = across.expect("a panel");
    assert_eq!(tall, high);
    if run.joint == "butt" {
        assert_eq!(across, wide);
    } else {
        // Hidden on each side; what is left of a side behind it is 3/16 at least.
        let hidden = across - between;
        assert!(
            hidden >= inch("1/4") && across <= wide - inch("3/16") * 2 - inch("1/16"),
            "{hidden:?} {t:?}"
        );
    }
}

/// Fronts and their gaps fill the face to less than a 64th for each front.
fn fronts_fill(
    b: &Built<'_>,
    job: &Job,
    run: &Run,
    plan: &BoxPlan,
    [wide, high]: [Length; 2],
    t: Length,
) {
    let gap = run.build.door_gap;
    let inset = run.build.door_lay == DoorLay::Inset;
    // A gap beside the last front: half of one at each end of an overlay face, one more inside an inset one.
    let (face_wide, face_high) = if inset {
        (wide - t * 2 - gap, high - t * 2 - gap)
    } else {
        (wide, high)
    };
    let grid = inch("1/64");
    let places: Length = plan.inside.drawer_heights.iter().copied().sum();
    if plan.doors > 0 {
        let doors = b.rows("door");
        let n: u32 = doors.iter().map(|d| d.0).sum();
        assert_eq!(n, plan.doors);
        let bays = plan.inside.partitions + 1;
        // Before each bay its own, where they go evenly into them; else before the whole face.
        let (each, groups) = if n.is_multiple_of(bays) {
            (n / bays, bays)
        } else {
            (n, 1)
        };
        let columns = i64::from(if each.is_multiple_of(2) { 2 } else { 1 } * groups);
        let rows = i64::from(n) / columns;
        let face = if inset && groups > 1 {
            wide - t * i64::from(bays + 1) - gap * i64::from(bays)
        } else {
            face_wide
        };
        let across: Length = doors
            .iter()
            .map(|(n, _, w)| (*w + gap) * i64::from(*n))
            .sum();
        let rest = face * rows - across;
        assert!(
            rest >= Length::ZERO && rest < grid * i64::from(n),
            "{rest:?}"
        );
        for (_, tall, _) in &doors {
            let rest = face_high - places - (*tall + gap) * rows;
            assert!(rest >= Length::ZERO && rest < grid * rows);
        }
    }
    if plan.drawers > 0 {
        drawers_fill(b, job, run, plan, wide, t);
    }
}

/// Drawers: fronts and gaps fill the bays and the height of their places, slides and drawer boxes fill each bay, and no drawer
/// box meets the board under it or stands over its front.
fn drawers_fill(b: &Built<'_>, job: &Job, run: &Run, plan: &BoxPlan, wide: Length, t: Length) {
    let gap = run.build.door_gap;
    let inset = run.build.door_lay == DoorLay::Inset;
    let places: Length = plan.inside.drawer_heights.iter().copied().sum();
    let bays = i64::from(plan.inside.partitions) + 1;
    let fronts = b.rows("drawer front");
    let count: u32 = fronts.iter().map(|f| f.0).sum();
    assert_eq!(i64::from(count), i64::from(plan.drawers) * bays);
    let sum: Length = fronts
        .iter()
        .map(|(n, _, h)| (*h + gap) * i64::from(*n))
        .sum();
    assert_eq!(sum, places * bays);
    // Across: in one row of drawers, fronts and gaps fill the face, or each bay, to less than a 64th for each.
    let across: Length = fronts
        .iter()
        .map(|(n, w, _)| (*w + gap) * i64::from(*n))
        .sum();
    let face = if inset {
        wide - t * (bays + 1) - gap * bays
    } else {
        wide
    };
    let rest = face * i64::from(plan.drawers) - across;
    assert!(
        rest >= Length::ZERO && rest < inch("1/64") * i64::from(count),
        "{rest:?}"
    );
    let td = job
        .stock_row("PLY-18")
        .and_then(StockRow::thickness)
        .expect("thick");
    // Side, then slide, drawer side, front, drawer side, slide and upright for each bay; slides are 1/2.
    let boxes: Length = b
        .rows("drawer box front and back")
        .iter()
        .map(|(n, w, _)| (*w + td * 2 + inch("1/2") * 2) * i64::from(*n))
        .sum();
    let each = i64::from(plan.drawers) * 2;
    assert_eq!(boxes + t * ((bays + 1) * each), wide * each);
    let sizes = outsides(job, run, &Room::default()).expect("sizes");
    let at = run.boxes.iter().position(|p| p.name == plan.name);
    let inside = Inside::of(job, run, plan, sizes[at.expect("there")]).expect("a box");
    let drawers = drawers_of(job, run, plan, &inside)
        .expect("drawers")
        .expect("some");
    let mut below = t;
    for d in &drawers.each {
        assert!(d.low >= below + inch("1/4"), "{d:?}");
        assert!(d.low + d.high <= d.front + d.front_high - inch("1/2"));
        below = d.low + d.high;
    }
    assert!(below <= sizes[at.expect("there")].height - t);
}

/// Shelves stand over the drawers and under the top; fixed ones do not touch.
fn heights_are_clear(job: &Job, run: &Run, plan: &BoxPlan, t: Length) {
    let sizes = outsides(job, run, &Room::default()).expect("sizes");
    let at = run
        .boxes
        .iter()
        .position(|b| b.name == plan.name)
        .expect("there");
    let inside = Inside::of(job, run, plan, sizes[at]).expect("a box");
    let shelves = shelves_at(run, plan, &inside);
    assert_eq!(
        shelves.len() as u32,
        plan.fixed_shelves + plan.loose_shelves
    );
    assert_eq!(
        shelves.iter().filter(|s| s.fixed).count() as u32,
        plan.fixed_shelves
    );
    let fixed: Vec<Length> = shelves.iter().filter(|s| s.fixed).map(|s| s.top).collect();
    assert!(fixed.windows(2).all(|w| w[1] - w[0] >= t));
    let floor = t + plan.inside.drawer_heights.iter().copied().sum::<Length>();
    assert!(
        fixed
            .iter()
            .all(|f| *f - t >= floor && *f <= sizes[at].height - t)
    );
    if let Some(h) = pin_holes(run, plan, &inside) {
        let above = sizes[at].height - (h.first + h.pitch * (h.in_row - 1));
        assert!(
            (above - h.first).abs() <= Length::from_units(1),
            "the rows are balanced"
        );
        for s in shelves.iter().filter(|s| !s.fixed) {
            let n = s.hole.expect("on pins") - 1;
            assert_eq!(s.top - t, h.first + h.pitch * n);
        }
    }
}

/// 86 high of boards 23/32: 84 9/16 inside. Thirty shelves more than the fixed one share it: under two inches each, which can be built
/// and is said; sixty do not go.
#[test]
fn shelves_without_a_hands_room_are_said() {
    let mut job = read("samples/alcove");
    let said = |job: &Job| crowded_boxes(job, "custom");
    assert!(said(&job).is_empty());
    job.runs[0].boxes[0].loose_shelves = 30;
    let words = said(&job);
    assert!(
        words.len() == 1 && words[0].contains("less than a hand's room (4 in)"),
        "{words:?}"
    );
    assert!(drawn(&job, &rooms(&job)).is_ok());
    job.runs[0].boxes[0].loose_shelves = 60;
    assert!(drawn(&job, &rooms(&job)).is_err());
}
