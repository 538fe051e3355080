//! Base that stays round rows on the side walls, in the room of [`super::side_tests`].

use super::fit_tests::plan;
use super::samples::{inch, inches, run};
use super::side_tests::{fitted, room, row_on};
use super::*;
use crate::model::*;
use crate::units::Length;

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
