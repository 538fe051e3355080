//! Rows on the side walls of a room worked by hand: 60 wide at the floor, 72 deep, floor and ceiling twisted.

use super::fit_tests::{plan, two_ways};
use super::samples::{both_planes, inch, inches, read, run};
use super::*;
use crate::model::*;
use crate::units::Length;

/// Floor: 1/4 lower every 30 in to the right, 1/2 lower at the back. Ceiling: level, 1/2 lower at the back. The left wall stands
/// 1, 2 and 1 1/2 off its plumb line in front, 1, 1 3/4 and 1 1/2 at the back; the right one 1 everywhere.
pub(super) fn room(depth_left: &str, depth_right: &str) -> Job {
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
pub(super) fn row_on(wall: WallSide, from_left: &str) -> Run {
    let mut r = run("built");
    r.wall = wall;
    r.base_height = inch("4");
    r.box_height = Some(inch("80"));
    r.box_depth = Some(inch("15"));
    r.from_left = Some(inch(from_left));
    r.boxes = vec![plan("a", "36", 0, 1, false), plan("b", "18", 0, 1, false)];
    r
}

pub(super) fn outlet(wall: WallSide, from_left: &str) -> KeepClear {
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

pub(super) fn fitted(job: &Job) -> RouteFit {
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
