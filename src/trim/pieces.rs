//! The pieces: scribe moulding up both walls and under the ceiling, strips over seams, base, shoe, crown.
//!
//! Uprights of scribe moulding stand on the base and meet the head on the half of the true corner, all three flat in the front
//! plane: their long points lie at wall and ceiling. Base, shoe and crown run from wall to wall and are sprung in, or are
//! coped or mitred to old moulding that stays.

use super::angles::{crown_flat, crown_stands, mitre_adds, quarter, scarf_overlap};
use super::base::base_row;
use super::closing::{Returned, close, return_piece, returned};
use super::cover::seam_strip;
use super::crown::{crown_down, crown_row, spring_of};
use super::roles::{Role, role};
use crate::model::{Closing, EndCut, Meeting, StockKind, StockRow, TrimEnd, TrimFacts, TrimPiece};
use crate::units::Length;

/// Slant of a scarf. Common practice, no source.
const SCARF: f64 = 30.0;

/// Pieces and what should be said of them.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Trimmed {
    /// In working order.
    pub pieces: Vec<TrimPiece>,
    /// Short sentences.
    pub notes: Vec<String>,
    /// What she must know before she buys.
    pub cautions: Vec<String>,
    /// Strips that no board of stock.csv gives.
    pub unclosed: Vec<Closing>,
}

/// All pieces of a row.
pub fn trim(facts: &TrimFacts, stock: &[StockRow]) -> Trimmed {
    let mut out = Trimmed::default();
    let first = |want: Role| {
        stock
            .iter()
            .find(|r| r.kind == StockKind::Moulding && role(r) == want)
    };
    let base = base_row(facts, stock, &mut out);
    // Along a base that stands back the moulding is behind the uprights: they come down to the floor.
    let under = base.filter(|_| !facts.base_setback.is_positive());
    let foot = under.and_then(|r| r.width).unwrap_or_default();
    let crown = crown_row(facts, stock, &mut out);
    if let Some(row) = first(Role::Scribe).filter(|r| out.wanted(facts, r)) {
        let under = crown.map(|r| crown_down(facts, r).unwrap_or_default());
        frame(facts, row, (foot, under), &mut out);
    }
    if facts.seams > 0 {
        let row = seam_strip(facts.cover.as_deref(), facts.side_thick, stock);
        if let Some(row) = row.filter(|r| out.wanted(facts, r)) {
            let (l, h) = (facts.seams, facts.box_height);
            out.add(
                row,
                "cover strip",
                l,
                [h, h, h],
                [square("foot"), square("head")],
            );
        }
    }
    for (row, what, between, stays) in [
        (base, "base", facts.floor_width, facts.base_stays),
        (
            first(Role::Shoe),
            "shoe",
            facts.floor_width,
            facts.base_stays,
        ),
        (crown, "crown", facts.head_width, facts.crown_stays),
    ] {
        let (Some(row), Some(between)) = (row, between) else {
            continue;
        };
        if out.wanted(facts, row) {
            across(facts, (row, what, stays), between, stock, &mut out);
        }
    }
    close(facts, stock, &mut out);
    out
}

impl Trimmed {
    pub(super) fn wanted(&mut self, facts: &TrimFacts, row: &StockRow) -> bool {
        let listed = facts.listed.contains(&row.item);
        let note = format!(
            "The cut list names {} already: those rows count, and nothing more of it is reckoned here.",
            row.item
        );
        if listed && !self.notes.contains(&note) {
            self.notes.push(note);
        }
        !listed
    }
    /// `sizes`: long point, short point, between.
    pub(super) fn add(
        &mut self,
        row: &StockRow,
        what: &str,
        count: u32,
        sizes: [Length; 3],
        ends: [TrimEnd; 2],
    ) {
        let n: u32 = self.pieces.iter().map(|p| p.how_many).sum::<u32>() + 1;
        let mark = if count > 1 {
            format!("T{n}-{}", n + count - 1)
        } else {
            format!("T{n}")
        };
        let [left, right] = ends;
        self.pieces.push(TrimPiece {
            mark,
            item: row.item.clone(),
            what: what.into(),
            how_many: count,
            long_point: sizes[0],
            short_point: sizes[1],
            between: sizes[2],
            hidden: false,
            left,
            right,
        });
    }
}

pub(super) fn square(note: &str) -> TrimEnd {
    end(EndCut::Square, None, note)
}

pub(super) fn end(cut: EndCut, corner: Option<f64>, note: &str) -> TrimEnd {
    let mitre = matches!(cut, EndCut::Mitre);
    let saw = corner.filter(|_| mitre).map_or(0.0, |c| quarter(c / 2.0));
    TrimEnd {
        cut,
        corner,
        saw,
        bevel: 0.0,
        note: note.into(),
    }
}

/// Left upright, head, right upright. Crown, so far down from the ceiling, covers the joint there: the uprights then end under it,
/// and no head goes between them.
fn frame(
    facts: &TrimFacts,
    row: &StockRow,
    (foot, crown): (Length, Option<Length>),
    out: &mut Trimmed,
) {
    let wide = row.width.unwrap_or_default();
    let butted = facts.meeting == Meeting::Butt || crown.is_some();
    let corner_end = |n: usize, note: &str| match facts.head_corners[n] {
        _ if facts.open[n] => square("end of the row"),
        _ if crown.is_some() => square("under the crown"),
        Some(c) if !butted => end(EndCut::Mitre, Some(c), note),
        c => end(EndCut::Butt, c, note),
    };
    let adds = |n: usize| match facts.head_corners[n] {
        Some(c) if !butted && !facts.open[n] => mitre_adds(wide, c),
        _ => Length::ZERO,
    };
    let names = ["scribe mould, left", "scribe mould, right"];
    let upright = |n: usize, out: &mut Trimmed| {
        if let Some(high) = facts.heights[n].filter(|_| !facts.open[n]) {
            let foot_note = if foot.is_positive() {
                "foot, on the base"
            } else {
                "foot, on the floor"
            };
            let head = crown.unwrap_or(if butted { wide } else { Length::ZERO });
            let long = high - foot - head;
            let ends = [square(foot_note), corner_end(n, "head")];
            out.add(row, names[n], 1, [long, long - adds(n), long], ends);
        }
    };
    upright(0, out);
    if let Some(width) = facts.head_width.filter(|_| crown.is_none()) {
        let ends = [
            corner_end(0, "left upright"),
            corner_end(1, "right upright"),
        ];
        let short = width - adds(0) - adds(1);
        out.add(row, "scribe mould, head", 1, [width, short, width], ends);
    }
    upright(1, out);
    for (n, name) in ["left", "right"].iter().enumerate() {
        if let Some(c) = facts.head_corners[n].filter(|_| !butted && !facts.open[n]) {
            let set = quarter(c / 2.0);
            out.notes.push(format!(
                "High {name} corner {c:.1}: half is {:.2}, set {set}; two pieces cut so make {}. Cut test pieces first.",
                c / 2.0,
                set * 2.0
            ));
        }
    }
}

/// From wall to wall.
fn across(
    facts: &TrimFacts,
    (row, what, stays): (&StockRow, &str, [bool; 2]),
    between: Length,
    stock: &[StockRow],
    out: &mut Trimmed,
) {
    let (spring, said) = spring_of(facts, row);
    if what == "crown" {
        let whose = if said {
            "by its row"
        } else {
            "by [trim] crown_spring, for its row does not say"
        };
        let mut note = format!(
            "Crown {}: {spring} degrees between its back and the wall, {whose}.",
            row.item
        );
        if let Some(face) = row.width {
            let stands = crown_stands(face, f64::from(spring));
            let [along, down] = stands.map(|l| facts.tape.print(l));
            note.push_str(&format!(
                " It stands {along} out along the ceiling and {down} down the wall, and covers the joint at the ceiling: no other moulding goes there."
            ));
        }
        out.notes.push(note);
    }
    let back: Returned = returned(row, (what == "crown").then_some(f64::from(spring)));
    let names = ["left", "right"];
    let closed = facts.open.iter().filter(|o| !**o).count();
    // No reading of the survey gives the corner between front and side wall: taken as square, and said.
    let meets = |side: &str| {
        if facts.open[usize::from(side == names[1])] {
            return back.end.clone();
        }
        let n = usize::from(side == names[1]);
        let at = &facts.ends_at[n];
        if !stays[n] {
            let spring = if closed == 2 { ", spring in" } else { "" };
            return end(EndCut::Butt, None, &format!("{at}{spring}"));
        }
        let note = format!("old {what} on the {at} runs through");
        match facts.meeting {
            Meeting::Cope => end(EndCut::Cope, None, &note),
            Meeting::Butt => end(EndCut::Butt, None, &note),
            Meeting::Mitre => {
                let mut e = end(
                    EndCut::Mitre,
                    Some(90.0),
                    &format!("old {what} on the {at}"),
                );
                if what == "crown" {
                    let c = crown_flat(90.0, f64::from(spring));
                    (e.saw, e.bevel) = (quarter(c.mitre), quarter(c.bevel));
                }
                e
            }
        }
    };
    if [0, 1].iter().any(|n: &usize| stays[*n] && !facts.open[*n]) {
        out.notes.push(format!(
            "The corners at the old {what} were not read and are taken as 90: check them with a bevel."
        ));
    }
    // Sprung in between two walls only; an outside mitre makes the long point longer.
    let adds = back.adds * (2 - closed as i64);
    let whole = between
        + adds
        + if closed == 2 {
            facts.spring
        } else {
            Length::ZERO
        };
    for (side, open) in names.iter().zip(facts.open) {
        if open {
            out.notes.push(format!(
                "The {side} end of the row stands open: {what} goes round the corner there."
            ));
        }
    }
    let sticks = stock
        .iter()
        .filter(|r| r.same_material(row))
        .filter_map(|r| r.length);
    let longest = sticks.max().filter(|l| *l < whole);
    let Some(longest) = longest.filter(|_| facts.joints_allowed) else {
        out.add(
            row,
            what,
            1,
            [whole, whole - adds, between],
            [meets("left"), meets("right")],
        );
        returns(facts, (row, what), &back, out);
        return;
    };
    let over = scarf_overlap(row.thickness().unwrap_or_default(), SCARF);
    // A stud where both pieces come out of a stick, the nearest to the middle; else the middle, with backing.
    let middle = between / 2;
    let fits = |s: &&Length| **s + over <= longest && whole - **s + over <= longest;
    let stud = facts
        .studs
        .iter()
        .filter(fits)
        .min_by_key(|s| (**s - middle).abs());
    let at = stud.copied().unwrap_or(middle);
    let on = if stud.is_some() {
        "over a stud"
    } else {
        "over backing"
    };
    let slant = || TrimEnd {
        saw: SCARF,
        ..end(EndCut::Scarf, None, on)
    };
    out.add(row, what, 1, [at + over, at, at], [meets("left"), slant()]);
    let rest = whole - at;
    out.add(
        row,
        what,
        1,
        [rest, rest - over, between - at],
        [slant(), meets("right")],
    );
    returns(facts, (row, what), &back, out);
}

/// A piece back to the wall at each open end.
fn returns(facts: &TrimFacts, (row, what): (&StockRow, &str), back: &Returned, out: &mut Trimmed) {
    for (side, open) in ["left", "right"].into_iter().zip(facts.open) {
        if open {
            return_piece(facts, (row, what, side), back, out);
        }
    }
}
