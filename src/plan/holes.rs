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
    /// The same from the box's own edges.
    #[serde(skip)]
    pub cut_out: CutOut,
}

impl Hole {
    /// Where to cut on the panel.
    pub fn in_words(&self, tape: Tape) -> String {
        let from = match &self.mark {
            Some(mark) => format!("cut out of the back {mark}"),
            None if self.in_back => "cut out of the back".to_owned(),
            None => "keep clear; the box has no back".to_owned(),
        };
        format!(
            "{}: {from} {} from its left edge, {} up from its lower edge, {} wide, {} high, seen from the front.",
            self.what,
            tape.print(self.from_left_edge),
            tape.print(self.from_bottom_edge),
            tape.print(self.width),
            tape.print(self.height)
        )
    }
    /// The same on a label.
    pub fn on_label(&self, tape: Tape) -> String {
        format!(
            "HOLE at {}, {} up",
            tape.print(self.from_left_edge),
            tape.print(self.from_bottom_edge)
        )
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
    // What cannot be built was said when the parts were drawn.
    let boxes = assemblies(job, route, &rooms(job), &job.parts).unwrap_or_default();
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
    let word = |wall| match wall {
        WallSide::Back => "back",
        WallSide::Left => "left",
        WallSide::Right => "right",
    };
    cut_outs
        .iter()
        .filter_map(|c| {
            let (_, _, b) = placed.iter().find(|(wall, n, b)| {
                word(*wall) == c.wall && *n == c.box_number && b.in_box == c.in_box
            })?;
            Some(hole(c, b))
        })
        .collect()
}

fn hole(c: &CutOut, b: &Assembly) -> Hole {
    let x = [c.from_left_edge, c.from_left_edge + c.width];
    let y = [c.from_bottom_edge, c.from_bottom_edge + c.height];
    // A hole that runs past the back's own edge stops there.
    let edges = b
        .back
        .as_ref()
        .map_or([Length::ZERO, b.outside[0]], |k| k.x);
    let [left, right] = x.map(|l| l.max(edges[0]).min(edges[1]) - edges[0]);
    let meets = |a: [Length; 2], b: [Length; 2]| a[0] < b[1] && b[0] < a[1];
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
        what: c.what.clone(),
        in_box: c.in_box.clone(),
        in_back: b.back.is_some(),
        mark: b.back.as_ref().and_then(|k| k.mark.clone()),
        from_left_edge: left,
        from_bottom_edge: c.from_bottom_edge,
        width: right - left,
        height: c.height,
        crosses,
        cut_out: c.clone(),
    }
}
