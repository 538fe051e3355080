//! What to do with the parts of a box, in order, in words.

use super::assembly::{Assembly, diagonal};
use super::drawers::Drawers;
use super::facts::{DADO, Inside, Joint};
use super::pins::pin_size;
use crate::model::{BoxPlan, DoorLay, Job, Notch, Run, WallSide};
use crate::units::{Length, Tape};

/// Lower edge of a drawer's sides to its groove. Common practice, no source.
const GROOVE_UP: Length = Length::in_64(16);

/// The steps for one box.
pub(super) fn steps(
    job: &Job,
    run: &Run,
    plan: &BoxPlan,
    inside: &Inside,
    a: &Assembly,
) -> Vec<String> {
    let tape = job.project.tape;
    let say = |l: Length| tape.print_with_unit(l);
    let mut list = vec![
        "Lay both sides down, fronts together, bottoms level: left and right are mirrored."
            .to_owned(),
    ];
    if let Some(h) = &a.pins {
        list.push(format!(
            "Drill {} holes in each of {} rows, the first {} from the bottom edge, then every {}; rows {} from front and back. {} holes; {} pins.",
            h.in_row, h.rows, pin_size(tape, h.first), pin_size(tape, h.pitch), pin_size(tape, h.inset), h.holes, h.pins
        ));
        if plan.inside.partitions > 0 {
            list.push(
                "A partition is drilled from both faces: less than half its thickness deep.".into(),
            );
        }
    }
    list.push(joints(tape, inside, a));
    if plan.inside.partitions > 0 {
        list.push("Set the partitions before the fixed shelves.".into());
    }
    let fixed: Vec<String> = a
        .shelves
        .iter()
        .filter(|s| s.fixed)
        .map(|s| say(s.top))
        .collect();
    if !fixed.is_empty() {
        list.push(format!(
            "Fasten the fixed shelf: its top at {} from the bottom edge.",
            fixed.join(" and ")
        ));
    }
    if let Some(notch) = notch(job, run) {
        list.push(if notch.high.is_positive() {
            format!(
                "Base stays on the back wall: notch the bottom back corner of each side and partition, {} deep and {} high; take {} off the back edge of the bottom and {} off the lower end of the back.",
                say(notch.deep), say(notch.high), say(notch.deep), say(notch.high)
            )
        } else {
            format!(
                "Base stays on the back wall, and the box stands clear above it: the base frame under it stands {} off the wall.",
                say(notch.deep)
            )
        });
    }
    if run.build.nailer.is_positive() {
        list.push("Set the nailer inside the back, up against the top.".into());
    }
    list.push(format!(
        "Measure both diagonals: both should read {}. Push the long one in until they do.",
        say(a.diagonal)
    ));
    if inside.back.is_some() {
        list.push("Fasten the back while the diagonals are right.".into());
    }
    if let Some(r) = &a.rail {
        let middle = if r.middle_support {
            ", with a support in the middle"
        } else {
            ""
        };
        list.push(format!(
            "Cut the rail to {}; its middle {} under the shelf or top above it, {} over the bottom edge{middle}.",
            say(r.length),
            say(r.under),
            say(r.hangs_from - r.under)
        ));
    }
    if let Some(d) = &a.drawers {
        drawers(tape, run, d, &mut list);
    }
    if let Some(d) = a.doors.iter().max_by_key(|d| d.hinges) {
        list.push(format!(
            "Hang the doors last, on {} hinges each, {} apart.",
            d.hinges,
            say(d.gap)
        ));
    }
    list
}

/// How boards meet, with the size of every rabbet and dado.
fn joints(tape: Tape, inside: &Inside, a: &Assembly) -> String {
    let exact = |l: Length| pin_size(tape, l);
    let [into, from_back] = a.joint.rabbet;
    let [wide, deep] = a.joint.dado;
    let rabbet = into.is_positive().then(|| {
        format!(
            "a rabbet for the back along each side's back edge, {} into its thickness and {} from the edge",
            exact(into),
            exact(from_back)
        )
    });
    match (inside.joint, rabbet) {
        (Joint::Butt, _) | (Joint::Rabbet, None) => {
            "Screw top and bottom between the sides.".into()
        }
        (Joint::Rabbet, Some(rabbet)) => {
            format!("Cut {rabbet}. Then screw top and bottom between the sides.")
        }
        (Joint::Dado, rabbet) => format!(
            "Cut {}dadoes {} deep and as wide as the board that goes in, {} as measured. Then glue top and bottom into them.",
            rabbet.map_or_else(String::new, |r| format!("{r}, and ")),
            exact(deep),
            exact(wide),
        ),
    }
}

/// Drawers: their boxes, slides and fronts.
fn drawers(tape: Tape, run: &Run, d: &Drawers, list: &mut Vec<String>) {
    let say = |l: Length| tape.print_with_unit(l);
    let each = |of: &dyn Fn(&super::drawers::DrawerAt) -> Length| {
        let all: Vec<String> = d.each.iter().map(|one| tape.print(of(one))).collect();
        all.join(", ")
    };
    let mut across: Vec<String> = Vec::new();
    for bay in &d.bays {
        let read = say(diagonal(bay.wide, d.long));
        if !across.contains(&read) {
            across.push(read);
        }
    }
    list.push(format!(
        "Drawer boxes: sides over the ends of front and back, the bottom in a groove {} deep all round, {} up from the lower edge. Both diagonals of a drawer box: {}.",
        say(DADO), say(GROOVE_UP), across.join(" or ")
    ));
    let back = match run.build.door_lay {
        DoorLay::Overlay => "flush with the front edge of the side, or as their sheet says",
        DoorLay::Inset => "set back by the thickness of the drawer front",
    };
    list.push(format!(
        "Slides: {} pair{} {} long, {} of room at each side, their front ends {back}. Set them level so that the lower edges of the drawer boxes stand at {}, from the bottom edge of the side, lowest first.",
        d.count(), if d.count() == 1 { "" } else { "s" }, say(d.long), say(d.beside), each(&|one| one.low)
    ));
    list.push(format!(
        "Screw the fronts on from inside the drawers: lower edges at {} from the bottom edge, a gap of {} between two.",
        each(&|one| one.front), say(run.build.door_gap)
    ));
}

/// What boxes on the back wall give way to base that stays there.
fn notch(job: &Job, run: &Run) -> Option<Notch> {
    let opening = job
        .opening
        .as_ref()
        .filter(|_| run.wall == WallSide::Back)?;
    opening.base_notch(run.base_height)
}
