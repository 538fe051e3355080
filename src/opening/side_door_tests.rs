//! Doorways, and the clothes and hands before rows on the side walls, in the room of [`super::side_tests`].

use super::fit_tests::plan;
use super::samples::{inch, run};
use super::side_tests::{fitted, room, row_on};
use crate::model::*;
use crate::units::Length;

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
