//! The fit held against the worked alcove, reckoned by hand, and against published figures (S numbers: DEVELOPERS.md, Sources).

use super::samples::{alcove, inch, inches, read, run, stations};
use super::*;
use crate::model::*;
use crate::units::{Length, Tape};

pub(crate) fn plan(name: &str, width: &str, fixed: u32, loose: u32, rail: bool) -> BoxPlan {
    BoxPlan {
        name: name.into(),
        width: BoxWidth::Width(inch(width)),
        fixed_shelves: fixed,
        loose_shelves: loose,
        shelf_heights: Vec::new(),
        rail,
        doors: 0,
        drawers: 0,
        swap: false,
        inside: BoxInside::default(),
    }
}

pub(super) fn unit(code: &str, kind: PrefabKind, width: &str) -> PrefabUnit {
    PrefabUnit {
        unit: code.into(),
        kind,
        what: code.into(),
        width: Some(inch(width)),
        height: None,
        depth: None,
        inside_width: None,
        inside_height: None,
        inside_depth: None,
        price: None,
        priced_on: None,
        shelf_each: None,
        shelves_in_box: 0,
        hanging_each: None,
        fits: None,
        stands_on: StandsOn::Base,
        wall_fixing: true,
        filler: String::new(),
        carton: None,
        drawer_fronts: 0,
        foot_adjust: None,
        shelf_thick: None,
        shelf_core: String::new(),
        finish: String::new(),
        delivery_group: String::new(),
        store: String::new(),
        lead_days: 0,
        taxed: true,
        row: 0,
    }
}

fn frame(code: &str, width: &str, inside: &str, carton: &str) -> PrefabUnit {
    PrefabUnit {
        height: Some(inch("83 1/8")),
        depth: Some(inch("22 3/4")),
        inside_width: Some(inch(inside)),
        inside_height: Some(inch("80 1/2")),
        inside_depth: Some(inch("22")),
        shelf_each: Some(inch(inside)),
        shelves_in_box: 1,
        carton: Some(Carton {
            size: [inch("84"), inch(carton), inch("4")],
            grams: None,
        }),
        ..unit(code, PrefabKind::Frame, width)
    }
}

fn sheet(item: &str, thick: &str) -> StockRow {
    StockRow {
        item: item.into(),
        kind: StockKind::Sheet,
        what: item.into(),
        length: Some(inch("96")),
        width: Some(inch("48")),
        thick: None,
        measured: Some(inch(thick)),
        grain_along_width: false,
        sold_by: "each".into(),
        holds: NeedUnit::Count(1000),
        price: None,
        priced_on: None,
        have: NeedUnit::Count(0),
        waste: None,
        store: String::new(),
        aisle: String::new(),
        lead_days: 0,
        taxed: true,
        at_most: None,
        weight_grams: None,
        covers_mm2: None,
        one_face: false,
        returns: None,
        note: String::new(),
        row: 0,
        file: String::new(),
    }
}

/// Boxes of ply against bought frames, in the leaning alcove.
pub(crate) fn two_ways() -> Job {
    let mut built = run("built");
    built.box_height = Some(inch("88"));
    built.box_depth = Some(inch("23 1/4"));
    built.material = Some("BOARD".into());
    built.back = Some("THIN".into());
    built.boxes = vec![
        plan("left", "22 1/4", 1, 5, false),
        plan("middle", "24 1/2", 1, 1, true),
        plan("right", "22 1/4", 1, 4, false),
    ];
    let mut bought = run("bought");
    bought.units = RunUnits::Listed(vec!["W24".into(), "W24".into(), "W18".into()]);
    bought.extras = vec![("S24".into(), 6), ("S18".into(), 4), ("H24".into(), 1)];
    let loose = |code: &str, kind, length: &str, fits: &str| PrefabUnit {
        fits: Some(fits.into()),
        hanging_each: (kind == PrefabKind::Rail).then(|| inch(length)),
        ..unit(code, kind, length)
    };
    let mut opening = alcove();
    opening.keep_clear.push(KeepClear {
        what: "outlet".into(),
        wall: WallSide::Back,
        from_left: Some(inch("31 1/2")),
        up: Some(inch("14")),
        width: Some(inch("2 3/4")),
        height: Some(inch("4 1/2")),
        reach: Length::ZERO,
    });
    Job {
        project: Project {
            name: "two ways".into(),
            house: String::new(),
            drawn_by: String::new(),
            date: None,
            tape: Tape::default(),
            money: "USD".into(),
            sales_tax: None,
            paper: Paper::Letter,
        },
        want: Some(Want {
            shelf: Some(inch("312")),
            hanging: Some(inch("22 1/2")),
            tallest_hung: Some(inch("50")),
            ..Want::default()
        }),
        opening: Some(opening),
        runs: vec![built, bought],
        trim: TrimRules::default(),
        saw: Saw::default(),
        car: Car::default(),
        finish: Finish::default(),
        labour: Labour::default(),
        tools: Tools::default(),
        needs: Vec::new(),
        parts: Vec::new(),
        stock: vec![sheet("BOARD", "23/32"), sheet("THIN", "7/32")],
        prefab: vec![
            frame("W18", "18", "16 3/4", "23"),
            frame("W24", "24", "22 3/4", "25"),
            loose("S18", PrefabKind::Shelf, "16 3/4", "W18"),
            loose("S24", PrefabKind::Shelf, "22 3/4", "W24"),
            loose("H24", PrefabKind::Rail, "22 3/4", "W24"),
        ],
        rack: Vec::new(),
        defaults: Vec::new(),
        bare_list: false,
    }
}

pub(crate) fn fitted(job: &Job) -> Fit {
    fit(job, &survey(job.opening.as_ref().unwrap()))
}

/// A length to the nearest 1/32 in, as a count of them.
fn to_32(l: Length) -> i64 {
    (l.as_inches() * 32.0).round() as i64
}

#[test]
fn boxes_in_the_leaning_alcove_by_hand() {
    let f = fitted(&two_ways());
    let r = &f.routes[0];
    assert!(r.fits, "{:?}", r.why_not);
    assert_eq!(r.total_width, inch("69"));
    let gaps = ["1 7/16", "1 5/16", "15/16", "1 1/16", "1 3/16"];
    assert_eq!(r.left_gap, inches(&gaps));
    let gaps = ["1 11/16", "1 7/16", "1 3/8", "1 1/4", "15/16"];
    assert_eq!(r.right_gap, inches(&gaps));
    assert_eq!(r.head_gap, inches(&["3 1/2", "3 5/16", "3"]));
    assert_eq!(r.shims, inches(&["0", "1/4", "7/16"]));
    assert_eq!(r.base_below_line, Some(inch("32 3/8")));
    assert_eq!(r.shelf_length, inch("339 3/4"), "28 ft 3 3/4 in");
    assert_eq!(r.hanging_length, inch("23 1/16"));
    assert!(r.wants.iter().all(|w| w.met));
    let at = |name: &str| r.stand_up.iter().find(|s| s.place == name).unwrap();
    let hall = at("passage ceiling");
    assert!(hall.goes);
    // The square root of 88 x 88 + 23 1/4 x 23 1/4 is 91.0196: 91 1/32 on the tape; 94.7696 on the base under 94 3/4.
    assert!((hall.diagonal.as_inches() - 91.0196).abs() < 1e-4);
    let base = at("on top of the base");
    assert!(!base.goes && base.ceiling == inch("94 3/4"));
    assert_eq!(to_32(base.diagonal), 94 * 32 + 25);
    assert!(r.cautions.iter().any(|c| c.contains("lift it on")));
    assert!(at("lifted upright on to the base").goes);
    let door = r.way_in.iter().find(|p| p.what == "box left").unwrap();
    assert_eq!((door.goes, door.how.as_str()), (true, "on its side"));
    let hole = &r.cut_outs[0];
    assert_eq!(hole.in_box, "middle");
    // 31 1/2 from a wall 15/16 left of the plumb line (interpolated at 14 in up), the box's edge at 7/16 + 22 1/4.
    assert!((hole.from_left_edge.as_inches() - (31.5 - 0.927 - 22.6875)).abs() < 0.01);
    assert!(!hole.at_a_side);
}

#[test]
fn bought_frames_in_the_leaning_alcove_by_hand() {
    let f = fitted(&two_ways());
    let r = &f.routes[1];
    assert!(r.fits, "{:?}", r.why_not);
    assert_eq!(r.total_width, inch("66"));
    let all: Vec<Length> = r.left_gap.iter().chain(&r.right_gap).copied().collect();
    assert_eq!(all.iter().min(), Some(&inch("2 7/16")));
    assert_eq!(all.iter().max(), Some(&inch("3 3/16")));
    assert_eq!(r.head_gap.iter().min(), Some(&inch("7 7/8")));
    assert_eq!(r.head_gap.iter().max(), Some(&inch("8 3/8")));
    assert_eq!(r.shims, inches(&["0", "1/4", "7/16"]));
    assert_eq!(r.shelf_length, inch("328"), "27 ft 4 in");
    assert_eq!(r.hanging_length, inch("22 3/4"));
    let diagonal = r.stand_up[0].diagonal;
    assert_eq!(to_32(diagonal), 86 * 32 + 6);
    assert!(r.stand_up.iter().all(|s| s.goes));
    assert!(r.way_in.iter().any(|p| p.what == "carton of W24" && p.goes));
}

#[test]
fn what_will_not_work_is_named_with_what_would_mend_it() {
    let mut job = two_ways();
    job.runs[0].boxes[1].width = BoxWidth::Width(inch("26"));
    job.runs[0].box_height = Some(inch("90"));
    let r = &fitted(&job).routes[0];
    // 70 1/2 + 1 in of least gaps against 70 7/8: 5/8 too wide. 94 3/4 - 93 3/4 is 1, of 1 1/2: 1/2 too tall.
    let why = r.why_not.as_ref().unwrap();
    assert!(
        !r.fits && why.contains("5/8") && why.contains("1/2 too tall"),
        "{why}"
    );
    assert!(
        r.mends.len() >= 2 && r.mends[0].contains("5/8"),
        "{:?}",
        r.mends
    );
    // What the mend says is enough, and a mark less is not.
    for (width, fits) in [("25 3/8", true), ("25 7/16", false)] {
        let mut mended = two_ways();
        mended.runs[0].boxes[1].width = BoxWidth::Width(inch(width));
        assert_eq!(fitted(&mended).routes[0].fits, fits, "{width}");
    }
    let mut job = two_ways();
    job.opening.as_mut().unwrap().way_in[0].width = Some(inch("20"));
    let r = &fitted(&job).routes[0];
    assert!(r.why_not.as_ref().unwrap().contains("garden door"));
    let mut job = two_ways();
    for w in &mut job.opening.as_mut().unwrap().way_in {
        if w.width.is_none() {
            w.height = Some(inch("90"));
        }
    }
    job.opening.as_mut().unwrap().level_line.up_to_ceiling =
        stations("up_to_ceiling", ["55 1/2", "55 1/2", "55 1/2"]);
    job.runs[0].head_gap_least = Length::ZERO;
    job.runs[0].box_height = Some(inch("87"));
    job.runs[0].box_depth = Some(inch("24"));
    let r = &fitted(&job).routes[0];
    assert!(
        r.why_not.as_ref().unwrap().contains("nowhere be stood up"),
        "{:?}",
        r.why_not
    );
}

#[test]
fn width_budget_holds_at_every_height() {
    // Trade note 5a: left filler + run + right filler = opening, at each height.
    let job = two_ways();
    let opening = job.opening.as_ref().unwrap();
    let s = survey(opening);
    for r in &fitted(&job).routes {
        for (i, h) in opening.plumb_lines.height.iter().enumerate() {
            let width = s.shape.front.width_at(*h).unwrap();
            assert_eq!(r.left_gap[i] + r.total_width + r.right_gap[i], width);
        }
    }
}

#[test]
fn scribes_of_the_alcove_and_of_the_trade_note() {
    let job = two_ways();
    let s = survey(job.opening.as_ref().unwrap());
    let row = row(&job, &s, &job.runs[0], &[]).unwrap();
    let strips = scribes(&s.shape, &row, inch("23/32"), inch("3 1/2"));
    let widths = |i: usize| {
        strips[i]
            .ordinates
            .iter()
            .map(|o| o.width)
            .collect::<Vec<_>>()
    };
    let left = ["2 5/32", "2 1/32", "1 21/32", "1 25/32", "1 29/32"];
    assert_eq!(widths(0), inches(&left));
    let right = ["2 13/32", "2 5/32", "2 3/32", "1 31/32", "1 21/32"];
    assert_eq!(widths(1), inches(&right));
    assert_eq!(widths(2), inches(&["3 1/2", "3 5/16", "3"]));
    assert_eq!(strips[0].blank[1], inch("91 3/4"));
    // Trade note 5a: widest 1 7/16, blank 1 11/16.
    let gaps = inches(&[
        "1 1/4", "1 5/16", "1 7/16", "1 3/8", "1 1/4", "1 1/8", "1 1/16",
    ]);
    let ordinates: Vec<Ordinate> = gaps
        .iter()
        .enumerate()
        .map(|(i, w)| Ordinate {
            at: Length::inches(16 * i as i64),
            width: *w,
        })
        .collect();
    assert_eq!(blank_width(&ordinates), inch("1 11/16"));
}

#[test]
fn shims_from_the_high_point_and_the_step_without_them() {
    // Trade note 5b: laser to floor 42, 42 1/8, 42 5/16, 42 1/4, 42 1/16 gives shims 0, 1/8, 5/16, 1/4, 1/16.
    let mut o = Opening::default();
    let down = read(&["42", "42 1/8", "42 5/16", "42 1/4", "42 1/16"]);
    o.level_line.down_to_floor = down
        .into_iter()
        .enumerate()
        .map(|(i, front)| Station {
            path: String::new(),
            from_left: Some(Length::inches(18 * i as i64)),
            name: String::new(),
            front,
            back: None,
        })
        .collect();
    let s = survey(&o);
    let want = inches(&["0", "1/8", "5/16", "1/4", "1/16"]);
    assert_eq!(shims(&s.shape, Face::Front), want);
    // Trade note 5d: a floor that falls 1/4 in over 96; boxes 24 wide need 1/16 more shim each, or their tops step by it.
    o.level_line.down_to_floor.truncate(2);
    o.level_line.down_to_floor[1].from_left = Some(inch("96"));
    o.level_line.down_to_floor[1].front = Some(inch("42 1/4"));
    let s = survey(&o);
    let a_box = |x: &str| Standing {
        name: String::new(),
        x: inch(x),
        width: inch("24"),
        height: inch("34 1/2"),
        depth: inch("24"),
    };
    for (i, x) in ["0", "24", "48", "72"].iter().enumerate() {
        let [left, right] = box_shims(&s.shape, &a_box(x), Face::Front).unwrap();
        assert_eq!(right - left, inch("1/16"));
        assert_eq!(left, inch("1/16") * i as i64);
    }
}

/// Two straightedges on a wall with a belly, 56 apart. Low: 25 and 25 1/8 at the ends, 1/8 behind the straightedge, which touches
/// in the middle: (25 - 1/8 + 25 1/8 - 1/8) / 2 = 24 15/16 there. High: 25 - 1/4 and 25 1/4 - 1/16 make 24 31/32. The corners alone
/// would say 25.
#[test]
fn a_belly_between_the_corners_takes_depth() {
    let edge = |height: &str, gap: [&str; 3]| BackWall {
        from_left: inches(&["0", "28", "56"]),
        height: Some(inch(height)),
        gap: read(&gap),
    };
    let mut o = alcove();
    o.plumb_lines = PlumbLines {
        apart: Some(inch("56")),
        height: inches(&["0", "90"]),
        left_gap: read(&["0", "0"]),
        right_gap: read(&["0", "0"]),
        ..PlumbLines::default()
    };
    o.tape.depth = [
        ("low left", "25"),
        ("low right", "25 1/8"),
        ("high left", "25"),
        ("high right", "25 1/4"),
    ]
    .map(|(name, d)| (name.to_owned(), Some(inch(d))))
    .to_vec();
    o.back_wall = Vec::new();
    assert_eq!(survey(&o).largest_box.depth, Some(inch("25")));
    o.back_wall = vec![
        edge("12", ["1/8", "0", "1/8"]),
        edge("80", ["1/4", "0", "1/16"]),
    ];
    assert_eq!(survey(&o).largest_box.depth, Some(inch("24 15/16")));
    o.back_wall.remove(0);
    o.tape.depth.drain(..2);
    assert_eq!(survey(&o).largest_box.depth, Some(inch("24 31/32")));
}

#[test]
fn a_wall_one_degree_out_of_square_opens_a_gap_at_the_front() {
    // Trade note 4e: 24 tan 1 degree = 0.419 in. The side wall runs out 0.419 from back to front: front gap less back gap.
    let mut o = alcove();
    let out = Length::from_units((24.0 * 1.0_f64.to_radians().tan() * 2_032_000.0) as i64);
    o.plumb_lines.left_gap = vec![Some(inch("1") + out); 5];
    o.plumb_lines.left_gap_back = vec![Some(inch("1")); 5];
    let s = survey(&o);
    let job = two_ways();
    let row = row(&job, &s, &job.runs[0], &[]).unwrap();
    let front = side_gaps(&s.shape, &row, Side::Left, Face::Front)[2];
    let back = side_gaps(&s.shape, &row, Side::Left, Face::Back)[2];
    assert!(((front - back).as_inches() - 0.419).abs() < 0.001);
    // The largest box counts the back, where the wall stands closest.
    assert_eq!(s.largest_box.width, Some(inch("71 3/8")));
}

#[test]
fn the_keys_of_the_written_fit() {
    let json = serde_json::to_value(fitted(&two_ways())).unwrap();
    let route = &json["routes"][0];
    for key in [
        "route",
        "fits",
        "why_not",
        "left_gap",
        "right_gap",
        "head_gap",
        "shims",
        "stand_up",
        "way_in",
        "shelf_length",
        "hanging_length",
        "wants",
    ] {
        assert!(route.get(key).is_some(), "{key}");
    }
    assert!(route["stand_up"][0].get("where").is_some());
    assert_eq!(route["why_not"], serde_json::Value::Null);
}

#[test]
fn a_soffit_lowers_the_whole_box_and_leaves_one_beside_it() {
    let mut o = alcove();
    o.soffits.push(Soffit {
        from_left: Some(Length::ZERO),
        width: Some(inch("20")),
        down: Some(inch("12")),
        depth: None,
    });
    let s = survey(&o);
    // Lowest ceiling over the soffit's 20 in: straight from 59 1/8 to 58 15/16 over 36, 20 in along; 12 in below that.
    let under = s.largest_box.height.unwrap().as_inches();
    let ceiling = 59.125 - 0.1875 * 20.0 / 35.94;
    assert!((under - (36.125 + ceiling - 12.0)).abs() < 0.01, "{under}");
    let beside = &s.other_boxes[0];
    // Beside it the next readings beyond its ends count in full: 36 1/8 at the left, 58 5/8 at the right.
    assert_eq!(beside.size.height, Some(inch("94 3/4")));
    assert!((beside.size.width.unwrap().as_inches() - (70.375 - 19.0)).abs() < 0.3);
}

#[test]
fn a_door_that_swings_in_and_a_floor_too_short_to_lay_a_box_down() {
    let door = |swing, width: &str| Doorway {
        width: Some(inch(width)),
        height: Some(inch("90")),
        casing: Length::ZERO,
        swing,
        from_left: None,
        wall: "front".into(),
    };
    // 24 1/8 deep, boxes 23 1/4: any door that swings in hits them, by 23 1/4 + 30 - 24 1/8 = 29 1/8.
    let mut job = two_ways();
    job.opening.as_mut().unwrap().doorway = Some(door(Swing::In, "30"));
    let r = &fitted(&job).routes[0];
    assert!(
        r.why_not.as_ref().is_some_and(|w| w.contains("29 1/8")),
        "{:?}",
        r.why_not
    );
    let mut job = two_ways();
    job.opening.as_mut().unwrap().doorway = Some(door(Swing::Out, "30"));
    let r = &fitted(&job).routes[0];
    assert!(r.fits);
    // Behind a doorway narrower than the row the box in front of the door is set last.
    assert_eq!(r.setting_order, ["left", "right", "middle"]);
    // The diagonal is 91 1/32: 91 in of floor in the passage are too few, 92 are enough.
    for (floor, fits) in [("91", false), ("92", true)] {
        let mut job = two_ways();
        job.opening.as_mut().unwrap().way_in[1].turn = Some(inch(floor));
        assert_eq!(fitted(&job).routes[0].fits, fits, "{floor}");
    }
}

/// The left wall leans out by 1 3/4 more at the back, and the floor there lies 1/2 lower: things on the back wall move with them.
#[test]
fn a_cut_out_is_measured_where_the_thing_is() {
    let mut job = two_ways();
    let front = fitted(&job).routes[0].cut_outs[0].clone();
    let o = job.opening.as_mut().unwrap();
    o.plumb_lines.left_gap_back = o
        .plumb_lines
        .left_gap
        .iter()
        .map(|g| g.map(|g| g + inch("1 3/4")))
        .collect();
    o.plumb_lines.right_gap_back = o.plumb_lines.right_gap.clone();
    for s in &mut o.level_line.down_to_floor {
        s.back = s.front.map(|f| f + inch("1/2"));
    }
    let f = fitted(&job);
    let hole = &f.routes[0].cut_outs[0];
    assert_eq!(hole.from_left_edge, front.from_left_edge - inch("1 3/4"));
    // A little more than 1/2 or less, for the floor slopes.
    let lower = (front.from_bottom_edge - hole.from_bottom_edge).as_inches();
    assert!((lower - 0.5).abs() < 0.02, "{lower}");
}

/// 20 of depth for boxes of 23 1/4 and frames of 22 3/4: boxes are built shallower, frames come in the depth they have.
#[test]
fn mends_are_those_of_the_route() {
    let mut job = two_ways();
    for (_, depth) in &mut job.opening.as_mut().unwrap().tape.depth {
        *depth = Some(inch("20"));
    }
    let f = fitted(&job);
    let mends = |i: usize| f.routes[i].mends.join(" ");
    assert!(
        mends(0).contains("Make the boxes 3 1/4 shallower"),
        "{}",
        mends(0)
    );
    assert!(
        mends(1).contains("Choose frames 2 3/4 shallower"),
        "{}",
        mends(1)
    );
    assert!(!mends(1).contains("Make the boxes"), "{}", mends(1));
}

/// Through a door 30 1/2 x 79 a box 40 wide and 32 deep goes on its side once it is 30 1/2 deep, lying on its back; no other size does
/// it for less.
#[test]
fn a_box_too_deep_for_a_door_on_the_way_is_told_by_how_much() {
    let mut job = two_ways();
    job.runs.truncate(1);
    job.runs[0].boxes = vec![plan("wide", "40", 0, 1, false)];
    job.runs[0].box_depth = Some(inch("32"));
    for (_, depth) in &mut job.opening.as_mut().unwrap().tape.depth {
        *depth = Some(inch("40"));
    }
    let r = fitted(&job).routes.remove(0);
    let told = "Make box wide 1 1/2 shallower: then it goes through the garden door.";
    assert!(r.mends.iter().any(|m| m == told), "{:?}", r.mends);
    job.runs[0].box_depth = Some(inch("30 1/2"));
    let r = fitted(&job).routes.remove(0);
    let way = r.way_in.iter().find(|p| p.what == "box wide").unwrap();
    assert!(way.goes, "{way:?}");
}
