//! Trim of a whole job: the worked back-hall alcove, and from outside.

use nookwright::files::read::{Reads, read_folder};
use nookwright::model::Job;
use nookwright::plan::{TrimPlan, trim_job};
use nookwright::units::Length;
use std::path::Path;

fn back_hall() -> Job {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/back-hall");
    let read = read_folder(&folder, &Reads::COMPARE).expect("a folder that can be read");
    read.job.expect("a job")
}

fn trimmed(route: &str) -> TrimPlan {
    let options = nookwright::model::task::SolveOptions::default();
    trim_job(&back_hall(), route, &options).expect("a plan that passes its check")
}

/// Thirty-seconds of an inch.
fn in_32(n: i64) -> Length {
    Length::in_64(2 * n)
}

/// By hand from the readings: 69 of boxes in the middle of the tightest place leave 15/16 on each side there; every gap is the
/// wall's own gap plus what the plumb lines stand off the boxes, and side strips lap the box side of 23/32.
#[test]
fn scribe_ordinates_of_the_worked_job() {
    let plan = trimmed("custom");
    let of = |name: &str| {
        let strip = plan.scribes.iter().find(|s| s.strip == name);
        let strip = strip.expect("the strip");
        let widths: Vec<Length> = strip.ordinates.iter().map(|o| o.width).collect();
        (widths, strip.blank)
    };
    let (left, blank) = of("left");
    assert_eq!(left, [69, 65, 53, 57, 61].map(in_32));
    // Her own rows: side blanks 2 7/8 x 91 3/4.
    assert_eq!(blank, [in_32(92), in_32(91 * 32 + 24)]);
    assert_eq!(of("right").0, [77, 69, 67, 63, 53].map(in_32));
    assert_eq!(of("right").1, blank);
    assert_eq!(of("head").0, [112, 106, 96].map(in_32));
    assert!(
        plan.notes.iter().any(|n| n.contains("S1, S2")),
        "{:?}",
        plan.notes
    );
}

/// Corners by hand: left wall 1/8 in 23 in (95 less 72), ceiling 1/2 in 71 in or so: 90 - 0.31 - 0.40 = 89.29 and
/// 90 + 0.78 + 0.40 = 91.18. Half of each to the nearest quarter degree: 44 3/4 and 45 1/2.
#[test]
fn corners_are_halved_to_the_saw() {
    let plan = trimmed("custom");
    let head = plan.pieces.iter().find(|p| p.what.contains("head"));
    let head = head.expect("a head piece");
    let (left, right) = (&head.left, &head.right);
    assert!((left.corner.unwrap() - 89.29).abs() < 0.01, "{left:?}");
    assert!((right.corner.unwrap() - 91.18).abs() < 0.01, "{right:?}");
    assert_eq!((left.saw, right.saw), (44.75, 45.5));
    // At the highest reading, 95, wall to wall is 70 + 3/4 + 3/8 = 71.125; above it both walls are taken plumb.
    let near = |a: Length, inches: f64| (a.as_inches() - inches).abs() < 0.0005;
    assert_eq!(head.long_point, in_32(71 * 32 + 4));
    let upright = plan.pieces.iter().find(|p| p.what.contains("left"));
    // Floor to ceiling at the left wall, 36 1/8 + 59 1/8, less the base of 3 1/2.
    let upright = upright.expect("a left upright").long_point;
    assert!(near(upright, 91.75), "{upright:?}");
}

/// A wall is plumb above its last reading and below its first, for the boxes and for the trim, and both say so. By hand: read from
/// 24 to 72 only, the head is 70 + 5/8 + 11/16 wide; the left gap grew by 1/8 from 48 to 72, 23 1/4 further up it would be 0.1211 off,
/// the right one shrank by 1/8.
#[test]
fn walls_stand_plumb_beyond_their_readings() {
    let mut job = back_hall();
    let lines = &mut job.opening.as_mut().expect("an opening").plumb_lines;
    for list in [&mut lines.left_gap, &mut lines.right_gap] {
        (list[0], list[4]) = (None, None);
    }
    let options = nookwright::model::task::SolveOptions::default();
    let plan = trim_job(&job, "custom", &options).expect("a plan that passes its check");
    let head = plan.pieces.iter().find(|p| p.what.contains("head"));
    assert_eq!(head.expect("a head piece").long_point, in_32(71 * 32 + 10));
    let left = plan.scribes.iter().find(|s| s.strip == "left");
    let left = left.expect("the strip");
    // At the floor as at 24, at its top as at 72.
    let (foot, top) = (left.ends[0].width, left.ends[2].width);
    assert_eq!(foot, left.ordinates[0].width);
    assert_eq!(top, left.ordinates[2].width);
    let said = |words: &str| plan.notes.iter().any(|n| n.contains(words));
    assert!(
        said(
            "The left wall is read up to 72 and the trim reaches 95 1/4: above the last reading a wall is taken to stand plumb"
        ),
        "{:?}",
        plan.notes
    );
    assert!(
        said("Going on at its slope it would be 1/8 off that"),
        "{:?}",
        plan.notes
    );
    assert!(
        said("The right wall is read down to 24 and the trim reaches 0: below the first"),
        "{:?}",
        plan.notes
    );
    let fit = nookwright::plan::fit_job(&job, job.project.tape).expect("a fit");
    let custom = fit.route("custom").expect("the route");
    for words in [
        "and the boxes reach 91 3/4: above the last",
        "and the boxes reach 3 3/4: below the first",
    ] {
        assert!(
            custom.sits.cautions.iter().any(|c| c.contains(words)),
            "{:?}",
            custom.sits.cautions
        );
    }
}

/// A mark of her list is not used again.
#[test]
fn marks_of_her_list_stay_hers() {
    let mut job = back_hall();
    job.parts[0].mark = "T1".into();
    job.parts[1].mark = "TR2".into();
    let options = nookwright::model::task::SolveOptions::default();
    let plan = trim_job(&job, "custom", &options).expect("a plan that passes its check");
    assert!(!plan.pieces.is_empty());
    for piece in &plan.pieces {
        assert!(piece.mark.starts_with("TRIM"), "{}", piece.mark);
    }
}

/// What is cut comes from sticks that hold it, and the number of sticks is proved. Marks are not those of her list.
#[test]
fn every_piece_comes_from_a_stick() {
    for route in ["custom", "flat-pack"] {
        let job = back_hall();
        let plan = trimmed(route);
        assert!(plan.unplaced.is_empty());
        assert!(plan.items.iter().all(|i| i.proved), "{:?}", plan.items);
        for piece in &plan.pieces {
            let cut: u32 = plan
                .sticks
                .iter()
                .map(|s| s.count * s.pieces.iter().filter(|p| p.mark == piece.mark).count() as u32)
                .sum();
            assert_eq!(cut, piece.how_many, "{route} {}", piece.mark);
            assert!(
                job.parts.iter().all(|p| p.mark != piece.mark),
                "{}",
                piece.mark
            );
        }
    }
}
