//! What to do with the parts of a box, in order, in words.

use super::assembly::{Assembly, diagonal};
use super::drawers::Drawers;
use super::facts::{DADO, Inside, Joint, Room};
use super::pins::pin_size;
use crate::model::{BoxPlan, DoorLay, Job, Notch, Run};
use crate::units::{Length, Tape};

/// Lower edge of a drawer's sides to its groove. Common practice, no source.
const GROOVE_UP: Length = Length::in_64(16);

/// The steps for one box.
pub(super) fn steps(
    (job, room): (&Job, &Room),
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
    notches((job, room), inside, &mut list);
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
    if run.build.nailer.is_positive() {
        list.push(match room.crown {
            None => "Set the nailer inside the back, up against the top.".into(),
            Some(crown) => format!(
                "Set the nailer inside the back, its upper edge {} below the top edge of the box.",
                say(crown.high)
            ),
        });
    }
    if room.off_wall.is_positive() {
        list.push(format!(
            "Base or crown that stays holds the box {0} off the wall: spacers {0} thick over the studs, before it is screwed.",
            say(room.off_wall)
        ));
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
    // Doors are tried before slides are screwed behind them.
    for d in &a.doors {
        let heights: Vec<String> = d.hinges_at.iter().map(|at| say(*at)).collect();
        let sizes = if a.doors.len() > 1 {
            format!(" {} x {}", say(d.size[0]), say(d.size[1]))
        } else {
            String::new()
        };
        let clear = if d.hinges_moved {
            ", clear of slides and shelves"
        } else {
            ""
        };
        let meets: String = d
            .hinges_meet
            .iter()
            .map(|(at, what)| {
                let mend = match *what {
                    "loose shelf" => "put its pins a hole or two up or down",
                    "slide" => "set the drawer or the hinge elsewhere",
                    _ => "move the shelf, or ask for a hinge that goes there",
                };
                format!(" The one at {} would meet the {what}: {mend}.", say(*at))
            })
            .collect();
        list.push(format!(
            "Bore the hinges of a door{sizes} and try it: middles {} up from its lower edge{clear}.{meets} The hinge's own sheet goes first.",
            heights.join(", ")
        ));
    }
    if let Some(d) = &a.drawers {
        drawers(tape, run, d, &mut list);
    }
    list
}

/// What is put in once the box stands and the last coat is hard, in the order of the work: the doors last.
pub(super) fn later(job: &Job, plan: &BoxPlan, a: &Assembly) -> Vec<String> {
    let tape = job.project.tape;
    let mut list = Vec::new();
    if plan.rail {
        list.push("Hang the rail in its sockets.".into());
    }
    if plan.loose_shelves > 0 {
        list.push("Lay the loose shelves on their pins.".into());
    }
    if a.drawers.is_some() {
        list.push("Put the drawers in.".into());
    }
    if let Some(d) = a.doors.iter().max_by_key(|d| d.hinges) {
        let last = if list.is_empty() { "" } else { " last" };
        list.push(format!(
            "Hang the doors{last}, on {} hinges each, {} apart.",
            d.hinges,
            tape.print_with_unit(d.gap)
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
        DoorLay::Overlay if d.inside => "flush with the front edge of the side",
        DoorLay::Inset if d.inside => "set back by the thickness of the door and its gap",
        DoorLay::Overlay => "flush with the front edge of the side, or as their sheet says",
        DoorLay::Inset => "set back by the thickness of the drawer front",
    };
    list.push(format!(
        "Slides: {} pair{} {} long, {} of room at each side, their front ends {back}. Set them level so that the lower edges of the drawer boxes stand at {}, from the bottom edge of the side, lowest first.",
        d.count(), if d.count() == 1 { "" } else { "s" }, say(d.long), say(d.beside), each(&|one| one.low)
    ));
    if d.inside {
        let single = d.packed.iter().any(|p| p[0] && !p[1]);
        list.push(format!(
            "The drawers run behind the doors: pack the slides out by {} where a door is hinged beside them{}, so that they clear hinge and door. Packers are {} high, their lower edges level with those of the drawer boxes, and the slides go on them. Try a door on its hinges before the slides are screwed for good: one that does not open flat against its side needs more.",
            say(d.packing),
            if single { " (a single door at the left; hinge it there, or move the packers)" } else { "" },
            say(super::draw::packer_wide(tape.unit))
        ));
        return;
    }
    list.push(format!(
        "Screw the fronts on from inside the drawers: lower edges at {} from the bottom edge, a gap of {} between two.",
        each(&|one| one.front), say(run.build.door_gap)
    ));
}

/// What is cut off for base and crown that stay, before the boards go together.
fn notches((job, room): (&Job, &Room), inside: &Inside, list: &mut Vec<String>) {
    let say = |l: Length| job.project.tape.print_with_unit(l);
    let has_back = inside.back.is_some();
    // The boards between the sides stand in from the back edge by the back already.
    let each = |notch: &Notch, board: &str, way: &str, end: &str| {
        let less = notch.deep - (inside.outside.depth - inside.deep);
        let side = notch.deep - (inside.outside.depth - inside.side_deep);
        let partitions = if inside.bays.len() > 1 && less.is_positive() {
            format!(" (each partition to the same lines, {} deep)", say(less))
        } else {
            String::new()
        };
        let off = if less.is_positive() {
            format!("take {} off the back edge of the {board}", say(less))
        } else {
            format!("the back edge of the {board} keeps clear of it")
        };
        let mut text = format!(
            "{} deep and {} high{partitions}; {off}",
            say(side.at_least_zero()),
            say(notch.high)
        );
        if has_back {
            text.push_str(&format!(
                " and {} off the {end} end of the back, its holes measured and cut before",
                say(notch.high)
            ));
        }
        text.push('.');
        let slot = notch.high - inside.thick;
        if has_back && slot.is_positive() {
            text.push_str(&format!(
                " A slot {} high stays open along the wall {way} the {board}: close it with a strip where it shows.",
                say(slot)
            ));
        }
        text
    };
    if let Some(notch) = room.base {
        list.push(if notch.high.is_positive() {
            format!(
                "Base stays on the wall behind: notch the bottom back corner of each side, {} The base frame under the box stands {} off the wall.",
                each(&notch, "bottom", "over", "lower"),
                say(notch.deep)
            )
        } else {
            format!(
                "Base stays on the wall behind, and the box stands clear above it: the base frame under it stands {} off the wall.",
                say(notch.deep)
            )
        });
    }
    if let Some(crown) = &room.crown {
        list.push(format!(
            "Crown stays on the wall behind: notch the top back corner of each side, {}",
            each(crown, "top", "under", "upper")
        ));
    }
}
