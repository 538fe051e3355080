//! The order of setting held against closets worked by hand, from the same rules: strip of floor, door, ceiling.

use super::fit_tests::{plan, two_ways};
use super::samples::{inch, read, run, stations};
use super::*;
use crate::model::*;
use crate::units::Length;

/// A square closet of that width, depth and height behind a door, in sizes that need no rounding.
fn closet(width: &str, depth: &str, door: Option<[&str; 2]>, hall: &str) -> Job {
    let mut job = two_ways();
    let middle = inch(width) - inch("2");
    job.want = None;
    job.runs = Vec::new();
    job.opening = Some(Opening {
        level_line: LevelLine {
            down_to_floor: stations("down_to_floor", ["48", "48", "48"]),
            up_to_ceiling: stations("up_to_ceiling", ["48", "48", "48"]),
        },
        plumb_lines: PlumbLines {
            apart: Some(middle),
            height: vec![Length::ZERO, inch("96")],
            left_gap: read(&["1", "1"]),
            right_gap: read(&["1", "1"]),
            ..PlumbLines::default()
        },
        tape: TapeReadings {
            depth: vec![("middle".into(), Some(inch(depth)))],
            ..TapeReadings::default()
        },
        way_in: vec![WayIn {
            what: "hall ceiling".into(),
            width: None,
            height: Some(inch(hall)),
            turn: None,
            not_taken: Vec::new(),
        }],
        doorway: door.map(|[w, h]| Doorway {
            width: Some(inch(w)),
            height: Some(inch(h)),
            casing: Length::ZERO,
            swing: Swing::None,
            from_left: None,
            wall: "front".into(),
        }),
        ..Opening::default()
    });
    job
}

/// A row of boxes from the left end of its wall, 24 deep, without a base.
fn row_of(wall: WallSide, height: &str, widths: &[(&str, &str)]) -> Run {
    let mut r = run("built");
    r.wall = wall;
    r.base_height = Length::ZERO;
    r.box_height = Some(inch(height));
    r.box_depth = Some(inch("24"));
    r.side_gap_least = Length::ZERO;
    r.from_left = Some(Length::ZERO);
    r.boxes = widths
        .iter()
        .map(|(n, w)| plan(n, w, 0, 1, false))
        .collect();
    r
}

fn fitted(job: &Job) -> RouteFit {
    let f = fit(job, &survey(job.opening.as_ref().unwrap()));
    f.routes.into_iter().next().unwrap()
}

const THREE: [(&str, &str); 3] = [("a", "24"), ("b", "24"), ("c", "24")];

#[test]
fn the_third_box_finds_too_little_floor_by_hand() {
    // Closet 120 x 36, door 80 x 80. Boxes 84 x 24 x 24: diagonal 87.36, along the back with room to turn, 33.94 of 36. After one
    // box 96 are left, after two 72. Raised through the door: cos t = 36/84, 24 x 0.43 + 84 x 0.90 = 86 of 80 high.
    let mut job = closet("120", "36", Some(["80", "80"]), "96");
    job.runs = vec![row_of(WallSide::Back, "84", &THREE[..2])];
    let r = fitted(&job);
    assert!(r.fits, "{:?}", r.why_not);
    assert_eq!(r.setting[1].floor, Some(inch("96")));
    job.runs = vec![row_of(WallSide::Back, "84", &THREE)];
    let r = fitted(&job);
    let goes: Vec<bool> = r.setting.iter().map(|s| s.goes).collect();
    assert_eq!(goes, [true, true, false]);
    assert_eq!(r.setting[2].floor, Some(inch("72")));
    let why = r.why_not.unwrap();
    assert!(
        why.contains("c on the back wall cannot be set after a, b") && why.contains("72 is free"),
        "{why}"
    );
    // The hall is high enough, so 4 in lower they come upright under the door head of 80.
    assert_eq!(r.mends[0], "Make the boxes 4 lower.");
    // Two of 16 5/16 beside the third leave 87 3/8; and a head of 84 lets them in as they are.
    assert_eq!(
        r.mends[1],
        "Make the boxes on the back wall 7 11/16 narrower each."
    );
    assert!(
        r.mends[2].starts_with("A doorway 4 higher"),
        "{:?}",
        r.mends
    );
    for (height, fits) in [("80", true), ("80 1/16", false)] {
        job.runs = vec![row_of(WallSide::Back, height, &THREE)];
        assert_eq!(fitted(&job).fits, fits, "{height}");
    }
}

#[test]
fn a_low_hall_asks_for_more_by_hand() {
    // Hall 80: a box stands up there if its diagonal is 80, so 76.32 high; on the 72 of floor, 67.88. But raised through the door
    // 77 11/16 goes: cos t = 36 / 77.69, 24 x 0.4634 + 77.69 x 0.8861 = 79.96 under 80, and 77 3/4 does not: 80.03.
    let mut job = closet("120", "36", Some(["80", "80"]), "80");
    job.runs = vec![row_of(WallSide::Back, "84", &THREE)];
    let r = fitted(&job);
    assert_eq!(r.mends[0], "Make the boxes 6 5/16 lower.");
}

/// Closet 76 x 25 behind a door 72 wide, from 2 to 74, boxes 24 deep and 84 high: nothing is tilted or turned on 25 of floor, so each
/// comes upright straight to its place, or as near as the door reaches, and slides: 32 wide at 0 enters at 2, 21 wide at 53 at 53.
/// A door of 60, from 8 to 68, takes the last one at 47 and lets it slide by 6 as long as nothing stands between. One of 30
/// takes no box of 32.
#[test]
fn boxes_come_in_wherever_the_door_is_wide_enough_by_hand() {
    let rows: [&[(&str, &str)]; 3] = [
        &[("a", "32"), ("b", "21"), ("c", "21")],
        &[("a", "21"), ("b", "32"), ("c", "21")],
        &[("a", "32"), ("b", "32")],
    ];
    for (door, goes) in [("72", true), ("60", true), ("30", false)] {
        for (n, row) in rows.into_iter().enumerate() {
            let mut job = closet("76", "25", Some([door, "90"]), "96");
            job.runs = vec![row_of(WallSide::Back, "84", row)];
            let r = fitted(&job);
            assert_eq!(r.fits, goes, "{door} {row:?} {:?}", r.why_not);
            // The middle one of 32 has to enter at its own place, 21 to 53, with its neighbours standing.
            let wider = [Some("A doorway 2 wider"), Some("A doorway 4 wider"), None];
            if let (false, Some(told)) = (goes, wider[n]) {
                assert!(
                    r.mends.iter().any(|m| m.starts_with(told)),
                    "{row:?} {:?}",
                    r.mends
                );
            }
        }
    }
}

/// The same closet turned: the door in a side wall, the row on the wall opposite.
#[test]
fn boxes_are_raised_in_line_with_a_door_in_a_side_wall() {
    for (door, wall) in [("left", WallSide::Right), ("right", WallSide::Left)] {
        let mut job = closet("36", "120", Some(["80", "80"]), "80");
        let doorway = job.opening.as_mut().unwrap().doorway.as_mut().unwrap();
        doorway.wall = door.into();
        job.runs = vec![row_of(wall, "84", &THREE)];
        assert_eq!(fitted(&job).mends[0], "Make the boxes 6 5/16 lower.");
        job.runs = vec![row_of(wall, "77 11/16", &THREE)];
        let r = fitted(&job);
        assert!(r.fits, "{:?}", r.why_not);
        let raised = "raised with its top out of the doorway";
        assert!(r.setting.iter().any(|s| s.how == raised), "{:?}", r.setting);
    }
}

#[test]
fn the_order_is_worked_out_from_its_end() {
    // Floor highest at the right, so the broad box would come first; then 70 of 130 are left and the narrow one needs 87.36.
    let mut job = closet("130", "48", Some(["70", "80"]), "80");
    let o = job.opening.as_mut().unwrap();
    o.level_line.down_to_floor = stations("down_to_floor", ["48 1/2", "48 1/4", "48"]);
    job.runs = vec![row_of(
        WallSide::Back,
        "84",
        &[("narrow", "20"), ("broad", "40")],
    )];
    let r = fitted(&job);
    assert!(r.fits, "{:?}", r.why_not);
    assert_eq!(r.setting_order, ["narrow", "broad"]);
    assert_eq!(r.setting[1].floor, Some(inch("110")));
    // With floor for either order the high end comes first.
    job.opening.as_mut().unwrap().doorway = None;
    assert_eq!(fitted(&job).setting_order, ["broad", "narrow"]);
}

#[test]
fn a_u_of_rows_in_a_deep_closet_by_hand() {
    // 96 x 84, door 36 x 80 in the middle of the front, hall 80. Back row of four 24 wide; 48 of each side wall in front of it.
    let mut job = closet("96", "84", Some(["36", "80"]), "80");
    let names = [("a", "24"), ("b", "24"), ("c", "24"), ("d", "24")];
    let mut back = row_of(WallSide::Back, "84", &names);
    back.through = Some(true);
    let mut left = row_of(WallSide::Left, "84", &[("l1", "24"), ("l2", "24")]);
    let mut right = row_of(WallSide::Right, "84", &[("r1", "24"), ("r2", "24")]);
    left.from_left = Some(inch("12"));
    right.from_left = Some(inch("24"));
    job.runs = vec![back, left, right];
    let r = fitted(&job);
    // 36 in front of l2 and r1 along the back row at the end: 48 between the side rows. Raised in the door's lane, 60 deep:
    // cos t = 60/84, 24 x 0.71 + 84 x 0.70 = 75.9 under 80. A side box turns on 33.94 in a lane of 48.
    assert!(r.fits, "{:?}", r.why_not);
    assert_eq!(r.setting.len(), 8);
    assert_eq!(
        r.setting.last().unwrap().how,
        "raised with its top out of the doorway"
    );
    // Under a door head of 75 the last ones will not go.
    job.opening
        .as_mut()
        .unwrap()
        .doorway
        .as_mut()
        .unwrap()
        .height = Some(inch("75"));
    assert!(!fitted(&job).fits);
}

#[test]
fn rows_that_would_stand_on_one_floor_are_named() {
    let mut job = closet("96", "72", None, "96");
    let mut back = row_of(WallSide::Back, "84", &[("a", "24")]);
    back.through = Some(true);
    let mut left = row_of(WallSide::Left, "84", &[("l", "24")]);
    // From 44 to 68 of 72: the back row takes the last 24.
    left.from_left = Some(inch("44"));
    job.runs = vec![back.clone(), left.clone()];
    let r = fitted(&job);
    assert!(r.why_not.unwrap().contains("same floor"));
    left.from_left = Some(inch("24"));
    job.runs = vec![back, left];
    assert!(fitted(&job).fits);
}
