//! Old base and crown that stay, on one wall or on all, by hand.

use super::fit_tests::{fitted, plan, two_ways};
use super::samples::{alcove, inch, inches, read, run};
use super::*;
use crate::model::*;
use crate::units::Length;

/// Base 5 x 5/8 on all walls.
fn base() -> ExistingTrim {
    ExistingTrim {
        what: "base".into(),
        wall: None,
        height: Some(inch("5")),
        thick: Some(inch("5/8")),
        stay: true,
        notch: false,
    }
}

fn on(wall: WallSide) -> ExistingTrim {
    ExistingTrim {
        wall: Some(wall),
        ..base()
    }
}

/// 72 1/4 wide and 24 deep, walls plumb.
fn plumb(trim: &[ExistingTrim]) -> Opening {
    let mut o = Opening {
        plumb_lines: PlumbLines {
            apart: Some(inch("70 1/4")),
            height: inches(&["6", "48", "90"]),
            left_gap: read(&["1", "1", "1"]),
            right_gap: read(&["1", "1", "1"]),
            ..PlumbLines::default()
        },
        ..alcove()
    };
    o.back_wall.clear();
    o.tape.depth = vec![("left".into(), Some(inch("24")))];
    o.existing_trim.extend_from_slice(trim);
    o
}

fn span(bottom: &str, top: Option<&str>) -> Span {
    Span {
        bottom: inch(bottom),
        top: top.map(inch),
    }
}

/// Trade note 4f: 72 1/4 above the base, base 5/8 both sides left on: 71 at the floor; on one side 71 5/8, on the back alone the
/// whole width.
#[test]
fn old_base_narrows_the_floor_where_it_stands() {
    let between = |trim: &[ExistingTrim]| {
        let s = survey(&plumb(trim));
        assert_eq!(s.largest_box.width, Some(inch("72 1/4")));
        let b = s.between_trim.expect("trim that stays");
        (b.width, b.depth)
    };
    let size = |w: &str, d: &str| (Some(inch(w)), Some(inch(d)));
    assert_eq!(between(&[base()]), size("71", "23 3/8"));
    assert_eq!(between(&[on(WallSide::Right)]), size("71 5/8", "24"));
    assert_eq!(between(&[on(WallSide::Back)]), size("72 1/4", "23 3/8"));
    let two = [on(WallSide::Left), on(WallSide::Back)];
    assert_eq!(between(&two), size("71 5/8", "23 3/8"));
}

/// Base 5 x 5/8 behind boxes on a base of 3 1/2: common practice, no source; play of 1/8 each way. By hand: 5 - 3 1/2 + 1/8 high
/// and 5/8 + 1/8 deep; on a base of 5 1/2 nothing is notched.
#[test]
fn boxes_are_notched_round_base_that_stays_behind_them() {
    let boxes = || {
        let mut r = run("built");
        r.boxes = vec![plan("a", "24", 0, 1, false)];
        r
    };
    let notching = ExistingTrim {
        notch: true,
        ..base()
    };
    let s = survey(&plumb(std::slice::from_ref(&notching)));
    assert_eq!(s.between_trim.and_then(|b| b.depth), Some(inch("24")));
    let low = span("3 1/2", None);
    let notch = |s: &Survey, r: &Run, up| {
        let n = base_notch(s, r, span(up, None));
        n.map(|n| (n.deep, n.high))
    };
    assert_eq!(stands_off(&s, &boxes(), low), Length::ZERO);
    assert_eq!(keeps_off(&s, WallSide::Left, low), inch("5/8"));
    assert_eq!(
        notch(&s, &boxes(), "3 1/2"),
        Some((inch("3/4"), inch("1 5/8")))
    );
    assert_eq!(
        notch(&s, &boxes(), "5 1/2"),
        Some((inch("3/4"), Length::ZERO))
    );
    // Bought frames are cut only where their own run says so; a run of boxes may say no.
    assert_eq!(stands_off(&s, &run("bought"), low), inch("5/8"));
    assert_eq!(notch(&s, &run("bought"), "3 1/2"), None);
    let mut cut = run("bought");
    cut.build.notch = Some(true);
    assert_eq!(notch(&s, &cut, "3 1/2"), Some((inch("3/4"), inch("1 5/8"))));
    let mut whole = boxes();
    whole.build.notch = Some(false);
    assert_eq!(stands_off(&s, &whole, low), inch("5/8"));
    // A run on another wall than the base has nothing behind it.
    let mut aside = boxes();
    aside.wall = WallSide::Left;
    let s = survey(&plumb(&[ExistingTrim {
        wall: Some(WallSide::Back),
        ..notching
    }]));
    assert_eq!(notch(&s, &aside, "3 1/2"), None);
    // Crown is not at the floor: no notch there helps it.
    let crowned = survey(&plumb(&[ExistingTrim {
        what: "crown".into(),
        ..base()
    }]));
    assert_eq!(
        crowned.between_trim.and_then(|b| b.depth),
        Some(inch("23 3/8"))
    );
    assert_eq!(notch(&crowned, &boxes(), "3 1/2"), None);
}

/// Boxes that begin above the base neither stand off it nor keep from it at their ends; their base frame does. Row of 71 1/4 in
/// 72 1/4: 1/2 at each end, base 5/8 and 1/8 of play: the frame is 1/4 shorter there.
#[test]
fn boxes_that_stand_clear_above_base_keep_only_their_base_frame_off_it() {
    let mut job = two_ways();
    job.runs.truncate(1);
    job.opening = Some(plumb(&[base()]));
    job.runs[0].base_height = inch("5 1/2");
    job.runs[0].box_height = Some(inch("80"));
    job.runs[0].box_depth = Some(inch("23"));
    job.runs[0].boxes = vec![plan("a", "71 1/4", 0, 1, false)];
    let s = survey(job.opening.as_ref().unwrap());
    let high = span("5 1/2", None);
    assert_eq!(keeps_off(&s, WallSide::Left, high), Length::ZERO);
    assert_eq!(stands_off(&s, &job.runs[0], high), Length::ZERO);
    let r = row(&job, &s, &job.runs[0], &[]).unwrap();
    assert_eq!(base_ends(&s, &job.runs[0], &r), [inch("1/4"); 2]);
    let said = fitted(&job).routes.remove(0);
    assert!(
        !said.why_not.clone().unwrap_or_default().contains("Base"),
        "{said:?}"
    );
    let cautions = said.cautions.join(" ");
    assert!(
        cautions.contains("only the base frame stands 3/4 off the wall"),
        "{cautions}"
    );
    assert!(
        cautions.contains("1/4 at the left end and 1/4 at the right"),
        "{cautions}"
    );
    // On a base of 4 it reaches 1 up into it: the boxes are 1/4 too wide between it.
    job.runs[0].base_height = inch("4");
    let why = fitted(&job).routes.remove(0).why_not.unwrap_or_default();
    assert!(why.contains("leaves the boxes 1/4 too wide"), "{why}");
    // Raised by the 1 it reaches down they stand clear, under a head gap wide enough; boxes that fill the height cannot be.
    let mends = |job: &Job| fitted(job).routes.remove(0).mends.join(" ");
    let raise = "stand them clear above it (base_height = \"5\")";
    assert!(mends(&job).contains(raise), "{}", mends(&job));
    job.runs[0].base_height = inch("5");
    let raised = fitted(&job).routes.remove(0).why_not.unwrap_or_default();
    assert!(!raised.contains("Base"), "{raised}");
    job.runs[0].base_height = inch("4");
    let least = job.runs[0].head_gap_least;
    job.runs[0].head_gap_least = s.largest_box.height.unwrap() - inch("84 1/2");
    assert!(!mends(&job).contains(raise), "{}", mends(&job));
    job.runs[0].head_gap_least = least;
    // With base on the left wall alone it goes in, further to the right.
    if let Some(o) = &mut job.opening {
        o.existing_trim = vec![on(WallSide::Left)];
    }
    job.runs[0].boxes[0].width = BoxWidth::Width(inch("70 5/8"));
    let f = fitted(&job).routes.remove(0);
    let why = f.why_not.clone().unwrap_or_default();
    assert!(!why.contains("Base"), "{why}");
    assert_eq!(
        (f.left_gap[0], f.right_gap[0]),
        (inch("7/8"), inch("3/4")),
        "72 1/4 less 5/8, 1/2 and 70 5/8 leaves 1/2 to part"
    );
    let cautions = f.cautions.join(" ");
    assert!(
        cautions.contains("keeps 5/8 off the left wall for base"),
        "{cautions}"
    );
    // Told to start where the base is, it is too near.
    job.runs[0].from_left = Some(inch("1/2"));
    let why = fitted(&job).routes.remove(0).why_not.unwrap_or_default();
    assert!(why.contains("stands 1/8 too near"), "{why}");
}

/// Bought frames 23 1/4 deep in 24 less 5/8 of base: they stand off it, and how to cut them is their maker's word.
#[test]
fn frames_stand_off_base_unless_their_run_says_they_may_be_cut() {
    let mut job = two_ways();
    job.runs.remove(0);
    job.opening = Some(plumb(&[ExistingTrim {
        notch: true,
        ..base()
    }]));
    let said = |job: &Job| fitted(job).routes.remove(0).cautions.join(" ");
    let off = said(&job);
    assert!(
        off.contains("holds the frames on the back wall 5/8 off it"),
        "{off}"
    );
    assert!(off.contains("where their maker lets them be cut"), "{off}");
    assert!(!off.contains("every side and partition"), "{off}");
    job.runs[0].build.notch = Some(true);
    let cut = said(&job);
    assert!(cut.contains("is their maker's word: ask first"), "{cut}");
    assert!(!cut.contains("holds the frames"), "{cut}");
}

/// Crown 3 high and 2 deep under the lowest ceiling, 94 3/4 over the highest floor: its foot is 91 3/4 up. Boxes of 88 on a base of
/// 3 3/4 end there and are free of it; of 89 they reach 1 up into it, stand 2 off the wall, or are notched 2 1/8 deep and 1 1/8 high.
#[test]
fn boxes_stand_off_crown_they_reach_up_into_or_are_notched_round_it() {
    let with = |high: &str, notch: bool| {
        let mut job = two_ways();
        job.runs.truncate(1);
        job.runs[0].box_height = Some(inch(high));
        job.runs[0].box_depth = Some(inch("21"));
        job.runs[0].head_gap_least = Length::ZERO;
        if let Some(o) = &mut job.opening {
            o.existing_trim = vec![ExistingTrim {
                what: "crown".into(),
                height: Some(inch("3")),
                thick: Some(inch("2")),
                notch,
                ..base()
            }];
        }
        let s = survey(job.opening.as_ref().unwrap());
        let r = &job.runs[0];
        let span = Span {
            bottom: inch("3 3/4"),
            top: Some(inch(high) + inch("3 3/4")),
        };
        let off = [keeps_off(&s, WallSide::Left, span), stands_off(&s, r, span)];
        let cut = crown_notch(&s, r, span).map(|n| (n.deep, n.high));
        let route = fitted(&job).routes.remove(0);
        let said = [route.cautions, route.notes].concat().join(" ");
        (off, cut, said)
    };
    let (off, cut, said) = with("88", true);
    assert_eq!((off, cut), ([Length::ZERO; 2], None));
    assert!(said.contains("end 0 below it"), "{said}");
    let (off, cut, said) = with("89", false);
    assert_eq!((off, cut), ([inch("2"); 2], None));
    assert!(
        said.contains("holds the boxes on the back wall 2 off it"),
        "{said}"
    );
    let (off, cut, said) = with("89", true);
    assert_eq!(off, [inch("2"), Length::ZERO]);
    assert_eq!(cut, Some((inch("2 1/8"), inch("1 1/8"))));
    assert!(said.contains("2 1/8 deep and 1 1/8 high"), "{said}");
    assert!(said.contains("set the nailer below it"), "{said}");
    assert!(
        said.contains("keeps 2 off the left wall and 2 off the right wall"),
        "{said}"
    );
}
