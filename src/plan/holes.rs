//! Holes in the backs of boxes for what is on the wall behind them: on which panel, where on it, and which boards they meet.

use super::rooms::rooms;
use crate::boxes::{Assembly, Board, assemblies};
use crate::model::{Job, WallSide};
use crate::opening::CutOut;
use crate::units::{Length, Tape};
use serde::Serialize;

/// One hole.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Hole {
    /// What it is for.
    pub what: String,
    /// The box.
    #[serde(rename = "box")]
    pub in_box: String,
    /// True where the box has a back.
    pub in_back: bool,
    /// The mark of the back, where the cut list was read.
    pub mark: Option<String>,
    /// From the left edge of the back (of the box, where it has none), seen from the front.
    pub from_left_edge: Length,
    /// Up from its lower edge.
    pub from_bottom_edge: Length,
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// The boards fastened before it.
    pub crosses: Vec<String>,
    /// Loose shelves that stand before it.
    pub loose: Vec<LooseBefore>,
    /// Drawers that run before it, counted from 1 at the bottom.
    pub drawers: Vec<usize>,
    /// True where the lower end of the back is cut off round base that stays.
    #[serde(skip)]
    pub cut_short: bool,
    /// The same from the box's own edges.
    #[serde(skip)]
    pub cut_out: CutOut,
}

/// A loose shelf before a hole, as the box is drawn.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct LooseBefore {
    /// Its top, from the bottom edge of the box.
    pub top: Length,
    /// The hole its pins stand in, counted from 1 at the bottom.
    pub pins: Option<i64>,
    /// The nearest holes for its pins, down and up, in which it leaves the thing free.
    pub clear: Vec<i64>,
}

impl Hole {
    /// Where to cut on the panel.
    pub fn in_words(&self, tape: Tape) -> String {
        let from = match &self.mark {
            Some(mark) => format!("cut out of the back {mark}"),
            None if self.in_back => "cut out of the back".to_owned(),
            None => "keep clear; the box has no back".to_owned(),
        };
        let whole = if self.cut_short && self.in_back {
            " while it is whole"
        } else {
            ""
        };
        format!(
            "{}: {from} {} from its left edge, {} up from its lower edge{whole}, {} wide, {} high, seen from the front.",
            self.what,
            tape.print(self.from_left_edge),
            tape.print(self.from_bottom_edge),
            tape.print(self.width),
            tape.print(self.height)
        )
    }
    /// The same on a label.
    pub fn on_label(&self, tape: Tape) -> [String; 2] {
        let at = format!(
            "HOLE at {}, {} up",
            tape.print(self.from_left_edge),
            tape.print(self.from_bottom_edge)
        );
        let size = format!("{} x {}", tape.print(self.width), tape.print(self.height));
        [at, size]
    }
    /// Loose shelves in its way, and in which holes they leave it free.
    pub fn behind_loose(&self, tape: Tape) -> Vec<String> {
        let one = |s: &LooseBefore| {
            let now = s.pins.map_or(String::new(), |n| format!(", hole {n}"));
            let holes: Vec<String> = s.clear.iter().map(|n| format!("hole {n}")).collect();
            let mend = match (s.pins, holes.is_empty()) {
                (Some(_), false) => format!("put its pins in {}", holes.join(" or ")),
                (None, _) => "set it higher or lower".to_owned(),
                (Some(_), true) => {
                    "no hole between its neighbours leaves it free, so leave the shelf out or move its neighbours".to_owned()
                }
            };
            format!(
                "{} falls behind the loose shelf of box {} whose top is at {}{now}: {mend}.",
                self.what,
                self.in_box,
                tape.print(s.top)
            )
        };
        self.loose.iter().map(one).collect()
    }
    /// Drawers that run before it.
    pub fn behind_drawers(&self) -> Option<String> {
        let each: Vec<String> = self.drawers.iter().map(|n| format!("drawer {n}")).collect();
        (!each.is_empty()).then(|| {
            format!(
                "{} falls behind {} of box {}, counted from the bottom: it is reached only with the drawer out, and a plug or a handle there can keep it from closing. Move it or the drawers.",
                self.what,
                each.join(" and "),
                self.in_box
            )
        })
    }
    /// Everything that stands before it, one sentence for each kind.
    pub fn before(&self, tape: Tape) -> Vec<String> {
        let fixed = self.crossing().into_iter().chain(self.behind_drawers());
        fixed.chain(self.behind_loose(tape)).collect()
    }
    /// What stands in its way, if anything does.
    pub fn crossing(&self) -> Option<String> {
        (!self.crosses.is_empty()).then(|| {
            format!(
                "{} falls behind the {} of box {}: move what stands before it, or the box; it cannot be reached there.",
                self.what,
                self.crosses.join(" and the "),
                self.in_box
            )
        })
    }
}

/// The holes of a route's boxes, in the order of the cut-outs; frames have none of hers.
pub(super) fn holes(job: &Job, route: &str, cut_outs: &[CutOut]) -> Vec<Hole> {
    let built = job.runs.iter().any(|r| r.route == route && r.has_boxes());
    if cut_outs.is_empty() || !built {
        return Vec::new();
    }
    let rooms = rooms(job);
    // What cannot be built was said when the parts were drawn.
    let boxes = assemblies(job, route, &rooms, &job.parts).unwrap_or_default();
    let mut rest = boxes.iter();
    let mut placed: Vec<(WallSide, usize, &Assembly)> = Vec::new();
    for run in job
        .runs
        .iter()
        .filter(|r| r.route == route && r.has_boxes())
    {
        for n in 1..=run.boxes.len() {
            placed.extend(rest.next().map(|b| (run.wall, n, b)));
        }
    }
    cut_outs
        .iter()
        .filter_map(|c| {
            let (_, _, b) = placed.iter().find(|(wall, n, b)| {
                wall.word() == c.wall && *n == c.box_number && b.in_box == c.in_box
            })?;
            // A shelf that is moved keeps clear of everything behind that box.
            let here = |o: &&CutOut| o.wall == c.wall && o.box_number == c.box_number;
            let all: Vec<[Length; 2]> = cut_outs.iter().filter(here).map(upright).collect();
            let cut_short = rooms.iter().zip(&job.runs).any(|(room, r)| {
                let cut = room.base.is_some_and(|n| n.high.is_positive());
                r.route == route && r.wall.word() == c.wall && cut
            });
            Some(Hole {
                cut_short,
                ..hole(c, b, &all)
            })
        })
        .collect()
}

/// Its lower and upper edge.
fn upright(c: &CutOut) -> [Length; 2] {
    [c.from_bottom_edge, c.from_bottom_edge + c.height]
}

fn meets(a: [Length; 2], b: [Length; 2]) -> bool {
    a[0] < b[1] && b[0] < a[1]
}

/// The loose shelves of a box before something so high; a shelf is moved between its neighbours, from hole to hole.
fn loose_before(b: &Assembly, y: [Length; 2], all: &[[Length; 2]]) -> Vec<LooseBefore> {
    let thick = b.boards.iter().find(|k| k.what == "bottom");
    let Some(thick) = thick.map(|k| k.y[1] - k.y[0]) else {
        return Vec::new();
    };
    let drawers = b.drawers.iter().flat_map(|d| &d.each);
    let floor = drawers
        .map(|d| d.low + d.high)
        .max()
        .unwrap_or(thick)
        .max(thick);
    let mut found = Vec::new();
    for (i, shelf) in b.shelves.iter().enumerate() {
        if shelf.fixed || !meets([shelf.top - thick, shelf.top], y) {
            continue;
        }
        let over = b.shelves.get(i + 1).map(|s| s.top - thick);
        let over = over.unwrap_or(b.outside[1] - thick);
        let under = i.checked_sub(1).map_or(floor, |n| b.shelves[n].top);
        let free = |n: &i64| {
            b.pins.as_ref().is_some_and(|h| {
                let top = h.first + h.pitch * (*n - 1) + thick;
                let at = [top - thick, top];
                under < at[0] && top < over && !all.iter().any(|k| meets(*k, at))
            })
        };
        let holes = b.pins.as_ref().map_or(0, |h| h.in_row);
        let clear = shelf.hole.map_or_else(Vec::new, |now| {
            let down = (1..now).rev().find(free);
            down.into_iter()
                .chain((now + 1..=holes).find(free))
                .collect()
        });
        found.push(LooseBefore {
            top: shelf.top,
            pins: shelf.hole,
            clear,
        });
    }
    found
}

/// The drawers that run before something so wide and high.
fn drawers_before(b: &Assembly, x: [Length; 2], y: [Length; 2]) -> Vec<usize> {
    let bottom = b.boards.iter().find(|k| k.what == "bottom");
    let (Some(drawers), Some(bottom)) = (&b.drawers, bottom) else {
        return Vec::new();
    };
    let thick = bottom.y[1] - bottom.y[0];
    let mut left = thick;
    let mut in_a_bay = false;
    for bay in &b.bays {
        in_a_bay |= meets([left, left + *bay], x);
        left += *bay + thick;
    }
    let each = drawers.each.iter().enumerate();
    let before = each.filter(|(_, d)| in_a_bay && meets([d.low, d.low + d.high], y));
    before.map(|(i, _)| i + 1).collect()
}

fn hole(c: &CutOut, b: &Assembly, all: &[[Length; 2]]) -> Hole {
    let x = [c.from_left_edge, c.from_left_edge + c.width];
    let y = upright(c);
    // A hole that runs past the back's own edge stops there.
    let edges = b
        .back
        .as_ref()
        .map_or([Length::ZERO, b.outside[0]], |k| k.x);
    let [left, right] = x.map(|l| l.max(edges[0]).min(edges[1]) - edges[0]);
    let mut crosses: Vec<String> = Vec::new();
    for board in b
        .boards
        .iter()
        .filter(|k: &&Board| meets(k.x, x) && meets(k.y, y))
    {
        if !crosses.iter().any(|w| w == board.what) {
            crosses.push(board.what.to_owned());
        }
    }
    Hole {
        drawers: drawers_before(b, x, y),
        what: c.what.clone(),
        in_box: c.in_box.clone(),
        in_back: b.back.is_some(),
        mark: b.back.as_ref().and_then(|k| k.mark.clone()),
        from_left_edge: left,
        from_bottom_edge: c.from_bottom_edge,
        width: right - left,
        height: c.height,
        crosses,
        loose: loose_before(b, y, all),
        cut_short: false,
        cut_out: c.clone(),
    }
}
