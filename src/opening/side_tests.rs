//! Rows on the side walls of a room worked by hand: 60 wide at the floor, 72 deep, floor and ceiling twisted.

use super::fit_tests::{plan, two_ways};
use super::samples::{both_planes, inch, inches, read, run};
use super::*;
use crate::model::*;
use crate::units::Length;

/// Floor: 1/4 lower every 30 in to the right, 1/2 lower at the back. Ceiling: level, 1/2 lower at the back. The left wall stands
/// 1, 2 and 1 1/2 off its plumb line in front, 1, 1 3/4 and 1 1/2 at the back; the right one 1 everywhere.
fn room(depth_left: &str, depth_right: &str) -> Job {
    let both = |list: &str, front: [&str; 3], back: [&str; 3]| {
        both_planes(
            list,
            front.map(|t| Some(inch(t))),
            back.map(|t| Some(inch(t))),
        )
    };
    let mut job = two_ways();
    job.want = None;
    job.runs = Vec::new();
    job.opening = Some(Opening {
        level_line: LevelLine {
            down_to_floor: both(
                "down_to_floor",
                ["48", "48 1/4", "48 1/2"],
                ["48 1/2", "48 3/4", "49"],
            ),
            up_to_ceiling: both("up_to_ceiling", ["48"; 3], ["47 1/2"; 3]),
        },
        plumb_lines: PlumbLines {
            apart: Some(inch("58")),
            height: inches(&["0", "48", "96"]),
            left_gap: read(&["1", "2", "1 1/2"]),
            right_gap: read(&["1", "1", "1"]),
            left_gap_back: read(&["1", "1 3/4", "1 1/2"]),
            right_gap_back: read(&["1", "1", "1"]),
        },
        tape: TapeReadings {
            depth: vec![
                ("left".into(), Some(inch(depth_left))),
                ("right".into(), Some(inch(depth_right))),
            ],
            ..TapeReadings::default()
        },
        ..Opening::default()
    });
    job
}

/// Boxes 36 and 18 wide, 15 deep, 80 high on a base of 4, that far from the left end of the wall.
fn row_on(wall: WallSide, from_left: &str) -> Run {
    let mut r = run("built");
    r.wall = wall;
    r.base_height = inch("4");
    r.box_height = Some(inch("80"));
    r.box_depth = Some(inch("15"));
    r.from_left = Some(inch(from_left));
    r.boxes = vec![plan("a", "36", 0, 1, false), plan("b", "18", 0, 1, false)];
    r
}

fn outlet(wall: WallSide, from_left: &str) -> KeepClear {
    KeepClear {
        what: "outlet".into(),
        wall,
        from_left: Some(inch(from_left)),
        up: Some(inch("14")),
        width: Some(inch("3")),
        height: Some(inch("4")),
        reach: Length::ZERO,
    }
}

fn fitted(job: &Job) -> RouteFit {
    let f = fit(job, &survey(job.opening.as_ref().unwrap()));
    f.routes.into_iter().next().unwrap()
}

#[test]
fn a_row_on_the_left_wall_by_hand() {
    let mut job = room("72 1/4", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    let r = &fitted(&job).side_rows[0];
    assert_eq!((r.wall.as_str(), r.total_width), ("left", inch("54")));
    // Backs where the wall is tightest, 1 off the plumb line.
    assert_eq!(r.behind_gap, inches(&["0", "1", "1/2"]));
    assert_eq!(r.behind_gap_back, inches(&["0", "3/4", "1/2"]));
    // Facing the left wall the front edge is at the left. 72 less 54 at the right, and 1/4 more at that depth reading.
    assert_eq!(r.left_gap[0].gap, Length::ZERO);
    assert_eq!(r.right_gap[0].gap, inch("18 1/4"));
    assert_eq!(r.right_gap[0].at, "left");
    // Fronts 15 in from the wall: 1/8 lower than the backs. At 36 from the front the floor is 1/4 lower, at 54 another 1/8.
    let [a, b] = [&r.boxes[0], &r.boxes[1]];
    assert_eq!(a.shims.all().to_vec(), inches(&["1/8", "3/8", "0", "1/4"]));
    assert_eq!(
        b.shims.all().to_vec(),
        inches(&["3/8", "1/2", "1/4", "3/8"])
    );
    // Tops are 80 - 44 = 36 above the level line; the ceiling is 48, 47 3/4, 47 5/8 up at those places.
    assert_eq!(
        b.head_gap.all().to_vec(),
        inches(&["11 3/4", "11 5/8", "11 3/4", "11 5/8"])
    );
    assert_eq!(a.head_gap.left_front, inch("12"));
    assert_eq!(r.base_below_line, inch("44"));
}

/// A soffit 12 wide from the left wall, 6 under a ceiling 47 1/2 up at its lowest: 41 1/2. It hangs over the backs, at 1 off the
/// plumb line, and not over the fronts 15 further out. The tops are at 36.
#[test]
fn a_soffit_over_a_side_row_is_its_head_gap_where_it_hangs() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    let soffit = |from: &str, width: &str| Soffit {
        from_left: Some(inch(from)),
        width: Some(inch(width)),
        down: Some(inch("6")),
        depth: None,
    };
    if let Some(o) = &mut job.opening {
        o.soffits = vec![soffit("0", "12")];
    }
    let a = fitted(&job).side_rows[0].boxes[0].head_gap;
    assert_eq!((a.left_back, a.right_back), (inch("5 1/2"), inch("5 1/2")));
    assert_eq!(a.left_front, inch("12"));
    // One that meets no corner, from 4 to 8 off the wall, counts at all four.
    if let Some(o) = &mut job.opening {
        o.soffits = vec![soffit("4", "4")];
    }
    let a = fitted(&job).side_rows[0].boxes[0].head_gap;
    assert!(a.all().iter().all(|g| *g == inch("5 1/2")), "{a:?}");
}

/// The floor is 60 wide, from -1 to 59; a door of 30 in the middle of the front stands between 14 and 44. Boxes 15 deep end at 14:
/// the leaf passes. 20 deep they reach 5 into the doorway at the front, 25 from the far jamb: it hits them hung on either side.
#[test]
fn a_door_that_swings_in_is_held_against_side_rows() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    if let Some(o) = &mut job.opening {
        o.doorway = Some(Doorway {
            width: Some(inch("30")),
            height: Some(inch("80")),
            casing: Length::ZERO,
            swing: Swing::In,
            from_left: None,
            wall: "front".into(),
        });
    }
    let said = |job: &Job| fitted(job).why_not.unwrap_or_default();
    assert!(!said(&job).contains("swings in"), "{}", said(&job));
    job.runs[0].box_depth = Some(inch("20"));
    assert!(
        said(&job).contains("hits a on the left wall"),
        "{}",
        said(&job)
    );
}

/// 72 of boxes on a wall 72 long; base of 3/4 that stays on the back wall takes 3/4 of it, and gives it back where it comes off.
#[test]
fn base_that_stays_is_held_against_a_side_row() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].boxes[0].width = BoxWidth::Width(inch("54"));
    let base = |stay| ExistingTrim {
        what: "base".into(),
        wall: None,
        height: Some(inch("5")),
        thick: Some(inch("3/4")),
        stay,
        notch: false,
    };
    let said = |job: &Job| fitted(job).why_not.unwrap_or_default();
    let with = |job: &mut Job, stay| {
        if let Some(o) = &mut job.opening {
            o.existing_trim = vec![base(stay)];
        }
    };
    with(&mut job, false);
    assert!(!said(&job).contains("Base or crown"), "{}", said(&job));
    with(&mut job, true);
    assert!(
        said(&job).contains("leaves the boxes on the left wall 3/4 too little room"),
        "{}",
        said(&job)
    );
}

/// The back row goes through, 20 deep; the left row, 15 deep, stands at its front: 15 of the back row's first box lie behind it.
#[test]
fn a_corner_says_what_one_row_takes_from_the_other() {
    let mut job = room("72", "72");
    let mut back = run("built");
    back.base_height = inch("4");
    back.box_height = Some(inch("80"));
    back.box_depth = Some(inch("20"));
    back.from_left = Some(Length::ZERO);
    back.boxes = vec![plan("c", "30", 0, 1, true), plan("d", "20", 0, 1, false)];
    back.boxes[0].doors = 2;
    let mut left = row_on(WallSide::Left, "0");
    left.boxes = vec![plan("a", "30", 0, 1, false), plan("b", "22", 0, 1, false)];
    job.runs = vec![back, left];
    let said = fitted(&job).cautions.join(" ");
    assert!(
        said.contains("of the front of c on the back wall lies behind b on the left wall"),
        "{said}"
    );
    assert!(
        said.contains("that much of its rail; its doors do not open there"),
        "{said}"
    );
    assert!(!said.contains("front of d"), "{said}");
    assert!(!said.contains("front of a"), "{said}");
}

/// A rail in a box 15 deep counts for nothing under the usual hanger of 22: the caution says both and where to change it.
#[test]
fn a_rail_that_does_not_count_says_why() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].boxes[0].rail = true;
    let f = fitted(&job);
    let said = f.cautions.join(" ");
    assert_eq!(f.hanging_length, Length::ZERO);
    assert_eq!(f.rails_not_counted.len(), 1);
    for word in [
        "rail of box a",
        "a hanger takes 22",
        "hanger_depth under [want]",
    ] {
        assert!(said.contains(word), "{word}: {said}");
    }
    job.want = Some(Want {
        hanger_depth: Some(inch("12")),
        tallest_hung: Some(inch("90")),
        ..Want::default()
    });
    let said = fitted(&job).cautions.join(" ");
    assert!(said.contains("takes 90"), "{said}");
    job.want.as_mut().unwrap().tallest_hung = None;
    let f = fitted(&job);
    assert!(!f.cautions.join(" ").contains("counts for nothing"));
    assert!(f.hanging_length.is_positive());
}

#[test]
fn a_row_on_the_right_wall_by_hand() {
    let mut job = room("72", "72 1/4");
    job.runs = vec![row_on(WallSide::Right, "0")];
    let r = &fitted(&job).side_rows[0];
    // Facing the right wall the corner is at the left.
    assert_eq!(r.left_gap[0].gap, inch("1/4"));
    assert_eq!(r.right_gap[0].gap, inch("18"));
    assert!(r.behind_gap.iter().all(|g| *g == Length::ZERO));
    // In the corner the floor is 49 down at the wall, 1/8 higher 15 in from it; 1/4 higher 36 in forward.
    let a = r.boxes[0].shims;
    assert_eq!(a.all().to_vec(), inches(&["7/8", "5/8", "1", "3/4"]));
}

#[test]
fn an_outlet_behind_a_side_row_is_cut_out_from_the_boxs_own_edges() {
    let mut job = room("72 1/4", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.opening.as_mut().unwrap().keep_clear = vec![outlet(WallSide::Left, "40")];
    let r = fitted(&job);
    let hole = &r.cut_outs[0];
    assert_eq!((hole.wall.as_str(), hole.box_number), ("left", 2));
    assert_eq!(hole.from_left_edge, inch("4"));
    // The floor there is 48 + 1/2 x 40/72 down: 14 up from it is 9.7222 over the top of the base at 44.
    assert!((hole.from_bottom_edge.as_inches() - 9.7222).abs() < 0.001);
    assert!(!hole.at_a_side);
    assert!(r.cautions.iter().any(|c| c.contains("cut the back out")));
    // On the right wall it is measured from the corner, 1/4 behind where the back wall stands nearest.
    let mut job = room("72", "72 1/4");
    job.runs = vec![row_on(WallSide::Right, "0")];
    job.opening.as_mut().unwrap().keep_clear = vec![outlet(WallSide::Right, "40")];
    assert_eq!(fitted(&job).cut_outs[0].from_left_edge, inch("3 3/4"));
    // On the wall opposite it is in no box's way.
    job.opening.as_mut().unwrap().keep_clear = vec![outlet(WallSide::Left, "40")];
    let r = fitted(&job);
    assert!(r.cut_outs.is_empty() && !r.cautions.iter().any(|c| c.contains("outlet")));
}

#[test]
fn an_outlet_on_the_back_wall_behind_the_end_of_a_side_row() {
    let mut job = room("72", "72");
    job.opening.as_mut().unwrap().keep_clear = vec![outlet(WallSide::Back, "5")];
    let said = |job: &Job| {
        let r = fitted(job);
        r.cautions.into_iter().find(|c| c.contains("outlet on the"))
    };
    job.runs = vec![row_on(WallSide::Left, "18")];
    // 5 from a wall that is 1 + 3/4 x 14/48 off the plumb line at the back; the box's back stands 1 off it: 4.781.
    let words = said(&job).unwrap();
    assert!(
        words.contains("end of box 2 from the left on the left wall, b")
            && words.contains("4 13/16 shy"),
        "{words}"
    );
    // With its end 18 in off the back wall a hand gets at it.
    job.runs = vec![row_on(WallSide::Left, "0")];
    assert_eq!(said(&job), None);
}

#[test]
fn a_stud_on_a_side_wall_counts_for_its_own_row() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    let stud = |wall| Studs {
        wall,
        from_left: vec![inch("20"), inch("40")],
        height: None,
        found_by: String::new(),
    };
    let missing = |job: &Job| {
        let r = fitted(job);
        r.cautions
            .iter()
            .filter(|c| c.contains("No stud behind"))
            .count()
    };
    job.opening.as_mut().unwrap().studs = vec![stud(WallSide::Left)];
    assert_eq!(missing(&job), 0);
    job.opening.as_mut().unwrap().studs = vec![stud(WallSide::Back)];
    assert_eq!(missing(&job), 2);
}

/// The back row goes through, 20 deep without backs: hangers of 22 hang 2 out of it, into b, whose side stands right before the
/// front of c: from the board of c, 23/32 in from the wall, to the front of b at 15, 14 9/32 of its rail. Boxes 36 deep of a left
/// row stand before b: 60 - 15 - 2 are left where clothes hang out of b.
#[test]
fn clothes_deeper_than_their_box_reach_into_the_corner() {
    let mut job = room("72", "72");
    let mut back = run("built");
    back.base_height = inch("4");
    back.box_height = Some(inch("80"));
    back.box_depth = Some(inch("20"));
    back.back = None;
    back.from_left = Some(Length::ZERO);
    back.boxes = vec![plan("c", "30", 0, 1, true), plan("d", "20", 0, 1, true)];
    let mut left = row_on(WallSide::Left, "0");
    left.boxes = vec![plan("a", "30", 0, 1, false), plan("b", "22", 0, 1, false)];
    job.runs = vec![back, left];
    let f = fitted(&job);
    let said: Vec<&String> = f
        .cautions
        .iter()
        .filter(|c| c.starts_with("Clothes"))
        .collect();
    assert_eq!(said.len(), 1, "{said:?}");
    for word in [
        "rail of c on the back wall take 22 and hang 2 out",
        "2 into b on the left wall, over 14 5/16 shy of the rail",
        "Hangers 2 narrower",
    ] {
        assert!(said[0].contains(word), "{word}: {said:?}");
    }
    // Hangers as deep as the box keep within it.
    job.want = Some(Want {
        hanger_depth: Some(inch("20")),
        ..Want::default()
    });
    assert!(
        !fitted(&job)
            .cautions
            .iter()
            .any(|c| c.starts_with("Clothes"))
    );
}

/// The left row is 15 deep in a room 60 wide: 45 to the other wall, 38 where clothes take 22 (its boxes have no backs).
#[test]
fn the_way_to_stand_in_ends_at_the_clothes() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].back = None;
    let way = |job: &Job| fitted(job).standing_ways[0].clone();
    assert_eq!(
        (way(&job).clear, way(&job).to.as_str()),
        (inch("45"), "the right wall")
    );
    job.runs[0].boxes[0].rail = true;
    assert_eq!(way(&job).clear, inch("38"));
    job.want = Some(Want {
        hanger_depth: Some(inch("25")),
        ..Want::default()
    });
    let said = fitted(&job).cautions.join(" ");
    assert!(
        said.contains("Only 35 to stand in between the left wall's boxes"),
        "{said}"
    );
}

fn doorway(wide: &str, casing: &str, swing: Swing) -> Option<Doorway> {
    Some(Doorway {
        width: Some(inch(wide)),
        height: Some(inch("80")),
        casing: inch(casing),
        swing,
        from_left: None,
        wall: "front".into(),
    })
}

/// A doorway of 30 stands between 14 and 44. Boxes 15 deep end at 14 and clear it; 17 deep they take 2 of it at the front, and
/// their clothes of 22 take 7. A casing of 2 1/4 begins at 11 3/4.
#[test]
fn the_doorway_has_to_let_boxes_and_clothes_through() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].back = None;
    job.opening.as_mut().unwrap().doorway = doorway("30", "0", Swing::Out);
    let said = |job: &Job| fitted(job).cautions.join(" ");
    assert!(!said(&job).contains("doorway"), "{}", said(&job));
    job.opening.as_mut().unwrap().doorway = doorway("30", "2 1/4", Swing::Out);
    assert!(
        said(&job).contains("its casing of 2 1/4 meets the end of a on the left wall, 2 1/4 over"),
        "{}",
        said(&job)
    );
    job.runs[0].box_depth = Some(inch("17"));
    assert!(
        said(&job).contains("a on the left wall: 2 into the doorway"),
        "{}",
        said(&job)
    );
    assert!(
        said(&job).contains("28 of its 30 are left for boxes, a hand and you. 2 shallower"),
        "{}",
        said(&job)
    );
    // Its left jamb 12 from the left wall instead of 15: 5 of it, and nothing is taken to be in the middle.
    let mut aside = job.clone();
    if let Some(door) = aside.opening.as_mut().and_then(|o| o.doorway.as_mut()) {
        door.from_left = Some(inch("12"));
    }
    assert!(
        said(&aside).contains("a on the left wall: 5 into the doorway; 25 of its 30"),
        "{}",
        said(&aside)
    );
    job.runs[0].boxes[0].rail = true;
    assert!(
        said(&job).contains("the clothes of a on the left wall: 7 into the doorway"),
        "{}",
        said(&job)
    );
    assert!(
        said(&job).contains("23 of its 30 are left for boxes, a hand and you, and 24 is the least"),
        "{}",
        said(&job)
    );
    // A row that ends 24 behind the front leaves the doorway alone.
    job.runs[0].from_left = Some(inch("24"));
    job.runs[0].boxes.truncate(1);
    assert!(!said(&job).contains("into the doorway"), "{}", said(&job));
}

/// A leaf of 30 hung in a front at 72 sweeps back to 42; boxes 15 deep end at its jamb, their clothes 7 past it.
#[test]
fn a_door_that_swings_into_clothes_is_named() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].back = None;
    job.opening.as_mut().unwrap().doorway = doorway("30", "0", Swing::In);
    let said = |job: &Job| fitted(job).cautions.join(" ");
    assert!(!said(&job).contains("into the clothes"), "{}", said(&job));
    job.runs[0].boxes[0].rail = true;
    assert!(
        said(&job).contains(
            "on either side it swings into the clothes of a on the left wall, which hang 7 out"
        ),
        "{}",
        said(&job)
    );
}

/// The back row stands 52 wide, centred between -1 and 59: from 3 to 55, 69 deep. A doorway of 44 stands from 7 to 51: 4 of each
/// end lie behind the wall beside it, 3 from it.
#[test]
fn what_lies_behind_the_wall_beside_the_door_is_named() {
    let mut job = room("72", "72");
    let mut back = run("built");
    back.base_height = inch("4");
    back.box_height = Some(inch("80"));
    back.box_depth = Some(inch("69"));
    back.boxes = vec![plan("c", "26", 0, 1, false), plan("d", "26", 0, 1, false)];
    back.boxes[1].drawers = 2;
    job.runs = vec![back];
    job.opening.as_mut().unwrap().doorway = doorway("44", "0", Swing::Out);
    let said = fitted(&job).cautions.join(" ");
    assert!(
        said.contains(
            "4 of the front of c on the back wall lies behind the wall left of the doorway"
        ),
        "{said}"
    );
    assert!(
        said.contains("3 from it: a hand does not get in there"),
        "{said}"
    );
    assert!(said.contains("right of the doorway (taking that to stand in the middle), 3 from it: a hand does not get in there, what stands there is reached slantwise from the doorway; its drawers do not come out past the jamb. A box 4 narrower"), "{said}");
}

/// Base of 3/4 that stays: the row on the left wall stands 3/4 off it, so every gap behind it is 3/4 more, and where nothing says
/// where it starts it is centred in 72 less 3/4 at the corner: (71 1/4 - 54) / 2 = 8 5/8 at the front, 9 3/8 at the back wall.
#[test]
fn a_row_stands_off_base_that_stays() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].from_left = None;
    let plain = fitted(&job);
    assert_eq!(plain.side_rows[0].stands_off, Length::ZERO);
    assert_eq!(plain.above[0].x[0], inch("-1"));
    if let Some(o) = &mut job.opening {
        o.existing_trim = vec![ExistingTrim {
            what: "base".into(),
            wall: None,
            height: Some(inch("5")),
            thick: Some(inch("3/4")),
            stay: true,
            notch: false,
        }];
    }
    let f = fitted(&job);
    let r = &f.side_rows[0];
    assert_eq!(r.stands_off, inch("3/4"));
    assert_eq!(r.behind_gap, inches(&["3/4", "1 3/4", "1 1/4"]));
    assert_eq!(
        (r.left_gap[0].gap, r.right_gap[0].gap),
        (inch("8 5/8"), inch("9 3/8"))
    );
    assert_eq!(
        (f.above[0].x[0], f.above[0].x[1]),
        (inch("-1/4"), inch("14 3/4"))
    );
    assert_eq!(f.above[1].z[0], inch("9 3/8"));
    assert!(r.in_words(job.project.tape)[1].contains("stands 3/4 off the left wall"));
    // Boxes that share the wall share what is left of it: the parts are drawn from the same sizes.
    job.runs[0].boxes[0].width = BoxWidth::Share(1);
    let s = survey(job.opening.as_ref().unwrap());
    assert_eq!(
        free_along(&job, &s, &job.runs[0]).width,
        Some(inch("71 1/4"))
    );
    // 71 1/4 less two least gaps of 1/2 less 18.
    assert_eq!(fitted(&job).above[0].standing.width, inch("52 1/4"));
}

/// A box 36 wide without backs and boards of 23/32: 34 9/16 inside, a bottom and a shelf behind a door, and two drawers.
#[test]
fn closed_space_is_what_lies_behind_doors_and_in_drawers() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.want = Some(Want {
        closed: Some("6 ft".into()),
        ..Want::default()
    });
    let given = |job: &Job| {
        let wants = fitted(job).wants;
        let w = wants.iter().find(|w| w.what == "closed").cloned().unwrap();
        (Length::from_units(w.given), w.met)
    };
    assert_eq!(given(&job), (Length::ZERO, false));
    job.runs[0].boxes[0].doors = 2;
    assert_eq!(given(&job), (inch("69 1/8"), false));
    job.runs[0].boxes[0].drawers = 2;
    // Nothing stands on drawers: a shelf over them, and two drawers as wide.
    assert_eq!(given(&job), (inch("103 11/16"), true));
    job.want.as_mut().unwrap().closed = Some("the boots".into());
    let f = fitted(&job);
    assert!(f.wants.is_empty());
    assert!(f.cautions.iter().any(|c| c.contains("says \"the boots\"")));
}

/// A left run 15 deep goes through to the back of a room 60 wide: 45 are left for the back row, 43 1/2 between base of 3/4 on the
/// right wall and the left row, which itself stands 3/4 off its wall.
#[test]
fn base_that_stays_shortens_a_back_row_in_a_corner() {
    let mut job = room("72", "72");
    let mut back = run("built");
    back.base_height = inch("4");
    back.box_height = Some(inch("80"));
    back.box_depth = Some(inch("12"));
    back.boxes = vec![plan("c", "44", 0, 1, false)];
    let mut left = row_on(WallSide::Left, "0");
    left.from_left = None;
    left.through = Some(true);
    job.runs = vec![back, left];
    let said = |job: &Job| fitted(job).why_not.unwrap_or_default();
    assert!(!said(&job).contains("Base or crown"), "{}", said(&job));
    if let Some(o) = &mut job.opening {
        o.existing_trim = vec![ExistingTrim {
            what: "base".into(),
            wall: None,
            height: Some(inch("5")),
            thick: Some(inch("3/4")),
            stay: true,
            notch: false,
        }];
    }
    assert!(
        said(&job).contains("leaves the boxes on the back wall 1/2 too little room"),
        "{}",
        said(&job)
    );
    job.runs[0].boxes[0].width = BoxWidth::Width(inch("43"));
    assert!(!said(&job).contains("Base or crown"), "{}", said(&job));
}

/// Base of 3/4 round a row on the left wall: notched, its backs go to the wall and the base is cut out of them; at the corner it
/// keeps clear of the base on the back wall as before.
#[test]
fn a_side_row_is_notched_round_base_that_stays() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].from_left = None;
    if let Some(o) = &mut job.opening {
        o.existing_trim = vec![ExistingTrim {
            what: "base".into(),
            wall: None,
            height: Some(inch("5")),
            thick: Some(inch("3/4")),
            stay: true,
            notch: true,
        }];
    }
    let f = fitted(&job);
    let r = &f.side_rows[0];
    assert_eq!((r.stands_off, f.above[0].x[0]), (Length::ZERO, inch("-1")));
    assert_eq!(r.behind_gap, inches(&["0", "1", "1/2"]));
    assert_eq!(
        (r.left_gap[0].gap, r.right_gap[0].gap),
        (inch("8 5/8"), inch("9 3/8"))
    );
    let said = f.cautions.join(" ");
    // 5 less the base of 4, and 1/8 of play.
    assert!(
        said.contains("Base stays behind the boxes on the left wall: notch the bottom back corner of every side and partition, 7/8 deep and 1 1/8 high"),
        "{said}"
    );
}

/// A back row of 52 from 3 to 55, 24 deep, and a doorway of 30 in a side wall of a room 72 deep: in its middle it stands from 21 to 51
/// off the back wall, and the end box stands 3 into it; the far box, 30 off, leaves it alone. Read 10 from the wall's left end, it
/// stands in the left wall from 32 to 62 and in the right one from 10 to 40, where the box takes 14.
#[test]
fn a_doorway_in_a_side_wall_has_to_let_boxes_and_hands_through() {
    let mut job = room("72", "72");
    let mut back = run("built");
    back.base_height = inch("4");
    back.box_height = Some(inch("80"));
    back.box_depth = Some(inch("24"));
    back.boxes = vec![plan("c", "26", 0, 1, false), plan("d", "26", 0, 1, false)];
    job.runs = vec![back];
    let with = |job: &Job, wall: &str, from: Option<&str>, swing| {
        let mut job = job.clone();
        let door = doorway("30", "0", swing).map(|d| Doorway {
            wall: wall.into(),
            from_left: from.map(inch),
            ..d
        });
        if let Some(o) = &mut job.opening {
            o.doorway = door;
        }
        fitted(&job)
    };
    let said = with(&job, "left", None, Swing::Out).cautions.join(" ");
    assert!(
        said.contains("c on the back wall: 3 into the doorway, taking it to stand in the middle of the left wall; 27 of its 30 are left"),
        "{said}"
    );
    assert!(!said.contains("d on the back wall"), "{said}");
    let said = with(&job, "right", None, Swing::Out).cautions.join(" ");
    assert!(
        said.contains("d on the back wall: 3 into") && !said.contains("c on the"),
        "{said}"
    );
    let said = with(&job, "left", Some("10"), Swing::Out)
        .cautions
        .join(" ");
    assert!(!said.contains("into the doorway"), "{said}");
    let f = with(&job, "right", Some("10"), Swing::Out);
    let said = f.cautions.join(" ");
    assert!(
        said.contains("d on the back wall: 14 into the doorway; 16 of its 30 are left for boxes, a hand and you, and 24 is the least"),
        "{said}"
    );
    // Before the row she stands between it and the closed front: 72 less 24.
    let way = &f.standing_ways[0];
    assert_eq!((way.clear, way.to.as_str()), (inch("48"), "the front wall"));
    // Its leaf of 30 sweeps into the box on whichever side it is hung; read 10 from the left end, 32 off the back wall, it is free.
    let why = with(&job, "left", None, Swing::In)
        .why_not
        .unwrap_or_default();
    assert!(
        why.contains("it hits c on the back wall, hung on either side"),
        "{why}"
    );
    let why = with(&job, "left", Some("10"), Swing::In)
        .why_not
        .unwrap_or_default();
    assert!(!why.contains("swings in"), "{why}");
    // One of 30 that begins 50 from the end of a wall of 72 reaches 8 past it.
    let said = with(&job, "left", Some("50"), Swing::Out)
        .cautions
        .join(" ");
    assert!(
        said.contains("does not go into the left wall, 72 long: 8 too far"),
        "{said}"
    );
    // A row in the door's own wall stands before all of it.
    job.runs = vec![row_on(WallSide::Left, "0")];
    let mut shut = job.clone();
    if let Some(o) = &mut shut.opening {
        o.doorway = doorway("30", "0", Swing::Out).map(|d| Doorway {
            wall: "left".into(),
            ..d
        });
    }
    let why = fitted(&shut).why_not.unwrap_or_default();
    assert!(
        why.contains("The doorway in the left wall is shut by a on the left wall"),
        "{why}"
    );
}

/// Without tallest_hung the garments say how long the longest is: under a rail in a box of 60 a shirt's 42 is clear, a long dress's 68
/// is not (published rod heights, S60).
#[test]
fn garments_by_kind_say_how_high_a_rail_hangs() {
    let mut job = room("72", "72");
    job.runs = vec![row_on(WallSide::Left, "0")];
    job.runs[0].box_height = Some(inch("60"));
    job.runs[0].box_depth = Some(inch("24"));
    job.runs[0].boxes = vec![plan("a", "36", 0, 0, true)];
    let with = |kind: &str| {
        let mut job = job.clone();
        job.want = Some(Want {
            garments: vec![(kind.into(), 6)],
            ..Want::default()
        });
        let f = fitted(&job);
        (f.hanging_length.is_positive(), f.cautions.join(" "))
    };
    assert!(with("shirts").0);
    let (counts, said) = with("long dresses");
    assert!(!counts);
    assert!(
        said.contains("for long dresses by garments under [want]") && said.contains("takes 68"),
        "{said}"
    );
}
