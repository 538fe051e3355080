//! The pieces: scribe moulding up both walls and under the ceiling, strips over seams, base, shoe, crown.
//!
//! Base, shoe and crown run from wall to wall and are sprung in, or are coped or mitred to old moulding that stays.

use super::angles::{crown_stands, quarter, scarf_overlap};
use super::base::base_row;
use super::closing::{Returned, close, return_piece, returned};
use super::cover::seam_strip;
use super::crown::{crown_down, crown_row, spring_of};
use super::ends::Along;
use super::frame::{frame, scribe_row};
use super::roles::{Role, role};
use crate::model::{
    Closing, EndCut, OldMoulding, StockKind, StockRow, TrimEnd, TrimFacts, TrimPiece,
};
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
    if let Some(row) = scribe_row(facts, stock, &mut out).filter(|r| out.wanted(facts, r)) {
        let under = crown.map(|r| crown_down(facts, r).unwrap_or_default());
        frame(facts, row, (foot, under), &mut out);
    }
    if facts.seams > 0 {
        let row = seam_strip(
            facts.cover.as_deref(),
            (facts.side_thick, facts.seam_fronts),
            stock,
        );
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

/// From wall to wall.
fn across(
    facts: &TrimFacts,
    (row, what, stays): (&StockRow, &str, [Option<OldMoulding>; 2]),
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
    let along = Along {
        facts,
        row,
        what,
        spring: f64::from(spring),
        stays,
        back: &back,
    };
    out.notes.extend(along.notes());
    let [left, right] = [along.fit(0), along.fit(1)];
    // Sprung in between two walls only.
    let sprung = match facts.open {
        [false, false] => facts.spring,
        _ => Length::ZERO,
    };
    let whole = between + left.long + right.long + sprung;
    for (side, open) in ["left", "right"].iter().zip(facts.open) {
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
    // What it closes: less where it ends before a wall.
    let closes = between - (-left.long).at_least_zero() - (-right.long).at_least_zero();
    let Some(longest) = longest.filter(|_| facts.joints_allowed) else {
        let short = between + sprung - left.short - right.short;
        out.add(row, what, 1, [whole, short, closes], [left.end, right.end]);
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
    let first = at + left.long;
    let sizes = [
        first + over,
        at - left.short,
        at - (-left.long).at_least_zero(),
    ];
    out.add(row, what, 1, sizes, [left.end, slant()]);
    let rest = whole - first;
    let sizes = [
        rest,
        between - at + sprung - over - right.short,
        closes - sizes[2],
    ];
    out.add(row, what, 1, sizes, [slant(), right.end]);
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
