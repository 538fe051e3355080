//! Trim where the row meets, or does not meet, its walls: base and crown that stay, ends that stand open.

use nookwright::boxes::drawn;
use nookwright::files::read::{Reads, read_folder};
use nookwright::model::task::SolveOptions;
use nookwright::model::{
    BoxWidth, DoorLay, EndCut, ExistingTrim, Job, Meeting, Part, PartSize, PrefabKind, RunUnits,
    SidesAt, SidesFollow, StockKind, TrimPiece, WallSide,
};
use nookwright::opening::Scribe;
use nookwright::plan::{TrimPlan, add_frame_parts, rooms, trim_job};
use nookwright::units::Length;
use std::path::Path;

fn back_hall() -> Job {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/back-hall");
    let read = read_folder(&folder, &Reads::COMPARE).expect("a folder that can be read");
    read.job.expect("a job")
}

fn planned(job: &Job, route: &str) -> TrimPlan {
    trim_job(job, route, &SolveOptions::default()).expect("a plan that passes its check")
}

fn piece<'a>(plan: &'a TrimPlan, what: &str) -> &'a TrimPiece {
    let found = plan.pieces.iter().find(|p| p.what == what);
    found.unwrap_or_else(|| panic!("{what}: {:?}", plan.pieces))
}

fn strip<'a>(plan: &'a TrimPlan, name: &str) -> &'a Scribe {
    let found = plan.scribes.iter().find(|s| s.strip == name);
    found.expect("the strip")
}

fn in_32(n: i64) -> Length {
    Length::in_64(2 * n)
}

fn near(a: Length, inches: f64) -> bool {
    (a.as_inches() - inches).abs() < 0.001
}

/// On all walls.
fn stays(what: &str, height: Length, thick: Length) -> ExistingTrim {
    ExistingTrim {
        what: what.into(),
        wall: None,
        height: Some(height),
        thick: Some(thick),
        stay: true,
        notch: false,
    }
}

fn with_base(high: i64) -> Job {
    let mut job = back_hall();
    let opening = job.opening.as_mut().expect("an opening");
    let base = stays("base", Length::inches(high), in_32(20));
    opening.existing_trim = vec![base];
    job
}

/// Base 5 x 5/8 that stays, by hand: the row stands where it stood, in the middle; below 5 the left strip is 5/8 narrower than the
/// 2 5/32 at the floor and than what is there at 5, five 24ths of an eighth less. The moulding ends on the old base: 95 1/4 less 5.
#[test]
fn a_side_strip_is_cut_round_base_that_stays() {
    let plan = planned(&with_base(5), "custom");
    let left = strip(&plan, "left");
    assert_eq!(left.ordinates[0].width, in_32(69 - 20));
    assert_eq!(left.ordinates[1].width, in_32(65));
    let at: Vec<f64> = left.ends.iter().map(|o| o.at.as_inches()).collect();
    assert_eq!(at.iter().filter(|a| **a == 5.0).count(), 2, "{at:?}");
    let over = 69.0 / 32.0 - 0.125 * 5.0 / 24.0;
    let step: Vec<Length> = left
        .ends
        .iter()
        .filter(|o| o.at == Length::inches(5))
        .map(|o| o.width)
        .collect();
    assert!(
        near(step[0], over - 0.625) && near(step[1], over),
        "{left:?}"
    );
    // Its blank is her own row, as long as without the base.
    assert_eq!(left.blank[1], in_32(91 * 32 + 24));
    assert_eq!(left.cut_round.len(), 1);
    let upright = piece(&plan, "scribe mould, left");
    assert_eq!(upright.left.note, "foot, on the old base");
    assert!(near(upright.long_point, 90.25), "{upright:?}");
    // Without it: nothing of this.
    let plain = planned(&back_hall(), "custom");
    assert!(plain.scribes.iter().all(|s| s.cut_round.is_empty()));
    assert!(
        strip(&plain, "left")
            .ends
            .iter()
            .all(|o| o.at != Length::inches(5))
    );
}

/// Boxes on a base of 5 1/2 stand clear above old base; strips beside them leave 15/16 less 5/8 at the tightest of the left wall and
/// 1 less 5/8 at the floor. 7/8 thick, nothing to keep is left there: the strip ends on top, 5 shorter.
#[test]
fn a_strip_with_too_little_left_beside_the_base_ends_on_top_of_it() {
    let job = |thick: Length| {
        let mut job = with_base(5);
        let old = &mut job.opening.as_mut().expect("an opening").existing_trim[0];
        old.thick = Some(thick);
        job.parts.retain(|p| p.in_box != "face");
        job.trim.sides_at = SidesAt::Beside;
        for run in &mut job.runs {
            (run.base_height, run.box_height) = (in_32(176), Some(Length::inches(86)));
        }
        job
    };
    let round = planned(&job(in_32(20)), "custom");
    let on_top = planned(&job(in_32(40)), "custom");
    let [a, b] = [strip(&round, "left"), strip(&on_top, "left")];
    assert!(!a.cut_round[0].ends_on_it && b.cut_round[0].ends_on_it);
    let foot = a.ends[0].at;
    assert_eq!(a.blank[1] - b.blank[1], Length::inches(5) - foot);
    assert_eq!(b.ends[0].at, Length::inches(5));
    assert_eq!(b.foot, "on top of the base that stays on the wall");
    assert!(b.ordinates.iter().all(|o| o.at >= Length::inches(5)));
}

/// A strip kept plumb stands off the wall: it is cut round the base only as far as the base reaches into it. At the left the wall is
/// 16/32 nearer at its tightest than at the floor: of 5/8 there, 20 - 16 are in its way.
#[test]
fn a_plumb_strip_is_cut_by_what_reaches_into_it() {
    let mut job = with_base(5);
    job.trim.sides_follow = SidesFollow::Plumb;
    let plan = planned(&job, "custom");
    let left = strip(&plan, "left");
    assert_eq!(left.ordinates[2].width, in_32(53));
    assert_eq!(left.ordinates[0].width, in_32(53 - 4));
}

/// Coped, butted and mitred to base that stays, and cut round one lower than itself. Wall to wall at the floor are 72 1/8; the old base
/// is 5/8 thick, the new one 9/16 and 3 1/2 high. A cope's long point is at the back, in the corner of the wall (common practice, no
/// source).
#[test]
fn base_meets_base_that_stays() {
    for (meeting, high, cut, [long, short, between]) in [
        (Meeting::Cope, 5, EndCut::Cope, [72.125, 70.875, 72.125]),
        (Meeting::Butt, 5, EndCut::Butt, [70.875, 70.875, 70.875]),
        (Meeting::Mitre, 5, EndCut::Mitre, [72.125, 71.0, 72.125]),
        (Meeting::Cope, 3, EndCut::Butt, [72.125, 70.875, 72.125]),
    ] {
        let mut job = with_base(high);
        job.trim.meeting = meeting;
        let spring = job.trim.spring.as_inches();
        let plan = planned(&job, "custom");
        let base = piece(&plan, "base");
        assert_eq!([base.left.cut, base.right.cut], [cut; 2], "{base:?}");
        assert!(near(base.long_point, long + spring), "{base:?}");
        assert!(near(base.short_point, short + spring), "{base:?}");
        assert!(near(base.between, between), "{base:?}");
        let said = plan.notes.iter().any(|n| n.starts_with("Coped ends"));
        assert_eq!(said, cut == EndCut::Cope, "{:?}", plan.notes);
        if high == 3 {
            assert!(base.left.note.contains("5/8 deep, 3 high"), "{base:?}");
        }
    }
}

/// Crown that stays on the side walls: uprights end under it, the head is traced to it, and the strips say so.
#[test]
fn strips_and_uprights_meet_crown_that_stays() {
    let mut job = back_hall();
    let crown = stays("crown", Length::inches(3), Length::inches(2));
    job.opening.as_mut().expect("an opening").existing_trim = vec![crown];
    let plan = planned(&job, "custom");
    let upright = piece(&plan, "scribe mould, left");
    // 95 1/4 from floor to ceiling, on a base of 3 1/2.
    assert!(near(upright.long_point, 95.25 - 3.5 - 3.0), "{upright:?}");
    let head = piece(&plan, "scribe mould, head");
    assert_eq!(head.left.cut, EndCut::Cope);
    assert_eq!(head.long_point - head.short_point, Length::inches(4));
    assert_eq!(strip(&plan, "head").cut_round.len(), 2);
}

/// Two frames of 24 in an opening of 72: both ends stand open. Strip, its blank, moulding and cleat are as long as the row.
#[test]
fn what_closes_the_head_is_as_long_as_the_row() {
    let mut job = back_hall();
    let run = job.runs.iter_mut().find(|r| r.route == "flat-pack");
    let RunUnits::Listed(units) = &mut run.expect("the run").units else {
        panic!("frames by name");
    };
    units.pop();
    add_frame_parts(&mut job);
    let plan = planned(&job, "flat-pack");
    let long = Length::inches(48);
    let head = strip(&plan, "head");
    assert_eq!(head.blank[1], long);
    assert_eq!(head.ends.last().map(|o| o.at), Some(long));
    assert_eq!(piece(&plan, "scribe mould, head").long_point, long);
    let mut rows = job.route_parts("flat-pack");
    let blank = rows.find(|p| p.what == "head scribe blank");
    let PartSize::Panel { length, .. } = blank.expect("its blank").size else {
        panic!("a panel");
    };
    assert_eq!(length, long);
    // The only reading over it is the middle one; its ends lie on the straight line to those beside it.
    assert_eq!(head.ordinates.len(), 1);
}

/// A base that stands 3 back from fronts of 22 3/4 is returned over 19 3/4 and the thickness of its mitre, 9/16; with base 5/8 thick
/// that stays behind the row, which stands off it by as much, it ends at its face: as long as without it.
#[test]
fn a_return_begins_where_the_base_stands() {
    let mut job = back_hall();
    for run in job.runs.iter_mut().filter(|r| r.route == "flat-pack") {
        run.base_setback = Length::inches(3);
        let RunUnits::Listed(units) = &mut run.units else {
            panic!("frames by name");
        };
        units.pop();
    }
    let check = |job: &Job, end: &str| {
        let plan = planned(job, "flat-pack");
        for side in ["left", "right"] {
            let back = piece(&plan, &format!("base, return at the {side} end"));
            assert_eq!(
                [back.long_point, back.short_point],
                [in_32(650), in_32(632)]
            );
            let wall = [&back.left, &back.right][usize::from(side == "right")];
            assert_eq!(wall.note, end);
        }
    };
    check(&job, "wall behind the row");
    let opening = job.opening.as_mut().expect("an opening");
    opening.existing_trim = vec![stays("base", Length::inches(5), in_32(20))];
    check(&job, "old base on the wall behind the row");
}

/// A row of 47 1/4, 16 deep, on the left wall of a closet 72 1/8 deep, beside boxes 23 1/4 deep, as in the corner strip's test.
fn two_rows() -> Job {
    let mut job = back_hall();
    for (_, depth) in &mut job.opening.as_mut().expect("an opening").tape.depth {
        *depth = depth.map(|d| d + Length::inches(48));
    }
    let custom = job.runs.iter().find(|r| r.route == "custom");
    let mut left = custom.expect("the run").clone();
    left.wall = WallSide::Left;
    left.box_depth = Some(Length::inches(16));
    left.boxes.truncate(1);
    left.boxes[0].width = BoxWidth::Width(in_32(47 * 32 + 8));
    job.runs.push(left);
    job
}

fn add_stick(job: &mut Job, item: &str, what: &str, width: Length) {
    let row = job.stock.iter().find(|r| r.item == "SKIRT-35");
    let mut row = row.expect("the row").clone();
    (row.item, row.what, row.width) = (item.into(), what.into(), Some(width));
    job.stock.push(row);
}

/// The head over a row on a side wall hangs on the ceiling at the front and at the back. Read at the front only, its pieces are not
/// made, and the readings are named. Read 1/2 higher at the back, by hand: its fronts stand 16 from the tightest of the left wall, 15 1/2
/// right of the plumb line, where the ceiling is 59 1/8 less 3/16 x 16 1/4 / 35 9/16 up, and the boxes 88 - 32 3/8: 3.4143. From the
/// front of the closet that grows by 1/2 in 72 1/8; the row goes from 13/16 to 48 1/16, its strip 13/16 further, to the back row.
#[test]
fn the_head_of_a_row_on_a_side_wall_is_made_where_it_was_read() {
    let mut job = two_rows();
    add_stick(&mut job, "CROWN", "crown 52/38, primed", in_32(3 * 32 + 20));
    let plan = planned(&job, "custom");
    let said = |plan: &TrimPlan| -> Vec<String> {
        let made = plan.notes.iter().filter(|n| n.contains("are not made"));
        made.cloned().collect()
    };
    assert_eq!(said(&plan).len(), 1, "{:?}", plan.notes);
    for words in [
        "of the row on the left wall",
        "up to ceiling, left, at the back",
        "up to ceiling, middle, at the back",
    ] {
        assert!(said(&plan)[0].contains(words), "{:?}", said(&plan));
    }
    assert!(plan.scribes.iter().all(|s| s.strip != "head, left row"));
    assert!(plan.pieces.iter().all(|p| p.what != "crown, left row"));
    let line = &mut job.opening.as_mut().expect("an opening").level_line;
    for station in &mut line.up_to_ceiling {
        station.back = station.front.map(|up| up + in_32(16));
    }
    let plan = planned(&job, "custom");
    assert!(said(&plan).is_empty(), "{:?}", plan.notes);
    let head = strip(&plan, "head, left row");
    assert_eq!(head.blank[1], in_32(1538));
    let narrow = |w: &String| w.contains("narrower than 1/4");
    assert!(!head.warnings.iter().any(narrow), "{:?}", head.warnings);
    let gap = |along: f64| 3.4143 + 0.5 * along / 72.125;
    let [from, to] = [head.ends[0].width, head.ends[1].width];
    assert!(near(from, gap(0.8125)) && near(to, gap(48.875)), "{head:?}");
    assert!(near(head.blank[0], gap(48.875) + 0.25), "{head:?}");
    assert!(
        head.warnings
            .concat()
            .contains("has no blank in the cut list"),
        "{:?}",
        head.warnings
    );
    let crown = piece(&plan, "crown, left row");
    assert_eq!(crown.between, in_32(1538));
    assert_eq!(
        [crown.left.cut, crown.right.cut],
        [EndCut::Mitre, EndCut::Cope]
    );
    assert!(
        crown.right.note.contains("row on the back wall"),
        "{crown:?}"
    );
    assert!(plan.covers.iter().any(|c| c.what == "head, left row gap"));
    // Without crown a moulding lies at the ceiling there.
    job.stock.retain(|r| r.item != "CROWN");
    let plan = planned(&job, "custom");
    let mould = piece(&plan, "scribe mould, head, left row");
    assert_eq!(mould.long_point, in_32(1538));
    assert_eq!(mould.right.note, "row on the back wall");
}

/// `strips` of a run on a side wall draws the blank of its head strip, which trim then knows; where the ceiling is not read at the back
/// nothing is drawn, and that is no mistake. Sizes as in the test above.
#[test]
fn strips_of_a_run_on_a_side_wall_draw_its_head_strip() {
    let mut job = two_rows();
    let left = job.runs.last_mut().expect("the left run");
    left.build.strips.clone_from(&left.material);
    let only_left = |job: &Job| {
        let mut job = job.clone();
        job.runs.drain(..job.runs.len() - 1);
        job
    };
    let blanks = |job: &Job| -> Vec<Part> {
        let rooms = rooms(job);
        let all = drawn(&only_left(job), &rooms[rooms.len() - 1..]);
        let all = all.expect("parts").into_iter();
        all.filter(|p| p.in_box == "face").collect()
    };
    assert!(blanks(&job).is_empty());
    let line = &mut job.opening.as_mut().expect("an opening").level_line;
    for station in &mut line.up_to_ceiling {
        station.back = station.front.map(|up| up + in_32(16));
    }
    let found = blanks(&job);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].what, "head scribe blank, left row");
    let PartSize::Panel { length, width } = found[0].size else {
        panic!("{found:?}");
    };
    // Up to the next eighth.
    assert_eq!(length, in_32(1540), "{found:?}");
    job.parts.extend(found);
    let plan = planned(&job, "custom");
    let head = strip(&plan, "head, left row");
    assert_eq!(head.blank, [width, length]);
    assert!(!head.warnings.concat().contains("no blank"), "{head:?}");
    // The back row's own blank is still the back row's.
    assert_eq!(
        strip(&plan, "head").blank,
        strip(&planned(&two_rows(), "custom"), "head").blank
    );
}

/// A width that covers leaves doors free. By hand: 15/16 at the tightest of the left wall and a side of 23/32, all of it free beside
/// inset doors; overlay doors end a sixteenth inside the box and want an eighth, so nothing of the side and a sixteenth of the gap less.
/// Over a seam a strip may stand 1/16 into each box, but before fronts set in no further than their hinges leave.
#[test]
fn no_width_that_covers_stands_before_fronts() {
    let plan_with = |doors: u32, lay: DoorLay, hinge: bool| {
        let mut job = back_hall();
        add_stick(&mut job, "HINGE", "hinge", Length::INCH);
        let row = job.stock.last_mut().expect("the row");
        (row.kind, row.thick, row.measured) = (StockKind::Hardware, Some(in_32(4)), None);
        for run in job.runs.iter_mut().filter(|r| r.has_boxes()) {
            run.build.door_lay = lay;
            run.build.hinge = hinge.then(|| "HINGE".into());
            run.boxes.iter_mut().for_each(|b| b.doors = doors);
        }
        planned(&job, "custom")
    };
    let plan = |doors, lay| plan_with(doors, lay, false);
    let hinged = plan_with(1, DoorLay::Inset, true);
    let cover = |plan: &TrimPlan, what: &str| {
        let found = plan.covers.iter().find(|c| c.what == what);
        found.expect("the gap").clone()
    };
    let open = plan(0, DoorLay::Inset);
    let inset = plan(1, DoorLay::Inset);
    let overlay = plan(1, DoorLay::Overlay);
    assert_eq!(cover(&open, "left gap").most, in_32(53));
    assert_eq!(cover(&inset, "left gap").most, in_32(53));
    assert_eq!(cover(&overlay, "left gap").most, in_32(28));
    let look = cover(&overlay, "left gap").look_for.unwrap_or_default();
    assert!(look.contains("hold them shut"), "{look}");
    assert_eq!(cover(&open, "seam").most, in_32(50));
    // A gap of an eighth, half of it free; all of it is wanted by hinges whose row says 1/8.
    assert_eq!(cover(&inset, "seam").most, in_32(50));
    assert_eq!(cover(&hinged, "seam").most, in_32(46));
    // The head strip's cover keeps off overlay doors, which come up to the tops: 3 at the tightest.
    assert_eq!(cover(&overlay, "head gap").most, Length::inches(3));
    // A moulding 1 1/2 wide goes beside inset doors and not beside overlay ones.
    let planned = |plan: &TrimPlan| plan.pieces.iter().any(|p| p.what == "scribe mould, left");
    assert!(planned(&open) && planned(&inset) && !planned(&overlay));
    let said = |plan: &TrimPlan| {
        plan.cautions
            .iter()
            .any(|c| c.contains("in the way of doors"))
    };
    assert!(said(&overlay) && !said(&inset));
}

/// Which frame a bought door hangs on is not written: strips that lap the frames at both ends are said to be in its way.
#[test]
fn strips_that_lap_frames_with_doors_are_said() {
    let mut job = back_hall();
    let mut door = job.prefab[0].clone();
    (door.unit, door.kind) = ("DOOR-24".into(), PrefabKind::Door);
    job.prefab.push(door);
    let said = |job: &Job| {
        let plan = planned(job, "flat-pack");
        plan.cautions
            .iter()
            .any(|c| c.starts_with("Doors are bought for the frames"))
    };
    assert!(!said(&job));
    let run = job.runs.iter_mut().find(|r| r.route == "flat-pack");
    run.expect("the run").extras.push(("DOOR-24".into(), 2));
    assert!(said(&job));
    job.trim.sides_at = SidesAt::Beside;
    assert!(!said(&job));
}
