//! Pieces that few rows need: closing pieces where no part and no sheet gives a strip, corner strips between two rows, returns at
//! open ends, and the cleats and backing that strips and crown are nailed to.

use super::angles::{crown_flat, crown_stands, mitre_adds, quarter};
use super::cover::between_boxes;
use super::pieces::{Trimmed, end, square};
use super::roles::{Role, role};
use crate::model::{EndCut, StockKind, StockRow, TrimEnd, TrimFacts};
use crate::units::Length;

/// A strip that stands further off its box than this has nothing to be nailed to at the wall. Common practice, no source.
const NEEDS_CLEAT: Length = Length::in_64(96);

fn stick(row: &&StockRow) -> bool {
    matches!(row.kind, StockKind::Moulding | StockKind::Board)
}

/// What a board that closes a gap is called.
pub fn closing_name(strip: &str) -> String {
    format!("{strip} closing piece")
}

/// Closing pieces, corner strips and backing, after the mouldings.
pub(super) fn close(facts: &TrimFacts, stock: &[StockRow], out: &mut Trimmed) {
    for strip in &facts.closings {
        let wide =
            |r: &&StockRow| role(r) == Role::Flat && r.width.is_some_and(|w| w >= strip.width);
        let long = |r: &&StockRow| r.length.is_none_or(|l| l >= strip.length);
        let row = stock
            .iter()
            .filter(stick)
            .filter(long)
            .filter(wide)
            .min_by_key(|r| r.width);
        match row {
            Some(row) if out.wanted(facts, row) => {
                let what = closing_name(&strip.name);
                let ends = [square("scribe to fit"), square("scribe to fit")];
                out.add(row, &what, 1, [strip.length; 3], ends);
            }
            Some(_) => {}
            None => {
                out.unclosed.push(strip.clone());
                out.notes.push(format!(
                "No strip of stock.csv closes the {} gap: list a board at least {} wide and {} long, or a part cut from sheet.",
                strip.name,
                facts.tape.print(strip.width),
                facts.tape.print(strip.length)
            ));
            }
        }
    }
    for corner in facts.corners.iter().filter(|c| c.gap.is_positive()) {
        let cover = between_boxes(&format!("{} corner", corner.name), corner.gap, facts, stock);
        let flat = |r: &&StockRow| role(r) == Role::Flat && cover.items.contains(&r.item);
        match stock.iter().find(flat) {
            Some(row) if out.wanted(facts, row) => {
                let what = format!("{} corner strip", corner.name);
                out.add(row, &what, 1, [corner.height; 3], [square("foot"), square("head")]);
            }
            Some(_) => {}
            None => out.notes.push(format!(
                "The corner strip between the two rows at the {} has to be {} to {} wide and {} long, and stock.csv has none so wide.",
                corner.name,
                facts.tape.print(cover.least),
                facts.tape.print(cover.most),
                facts.tape.print(corner.height)
            )),
        }
    }
    backing(facts, stock, out);
}

/// What has to be there before strips and crown can be nailed; from a row of stock.csv for it, else named.
fn backing(facts: &TrimFacts, stock: &[StockRow], out: &mut Trimmed) {
    let mut wanted: Vec<(String, Length)> = Vec::new();
    if !facts.head_gaps.is_empty() {
        wanted.push((
            "cleat on the box tops, for the head strip".into(),
            facts.row_width,
        ));
    }
    for (gaps, side) in facts.side_gaps.iter().zip(["left", "right"]) {
        if gaps.iter().max().is_some_and(|w| *w > NEEDS_CLEAT) {
            let what = format!("cleat on the {side} wall, for the side strip");
            wanted.push((what, facts.box_height));
        }
    }
    let crowns = out.pieces.iter().filter(|p| p.what == "crown");
    let crown: Length = crowns.map(|p| p.between).sum();
    if crown.is_positive() {
        wanted.push(("backing behind the crown".into(), crown));
    }
    let row = stock.iter().filter(stick).find(|r| role(r) == Role::Cleat);
    match row {
        Some(row) if !wanted.is_empty() && out.wanted(facts, row) => {
            for (what, long) in wanted {
                let longest = stock
                    .iter()
                    .filter(|r| r.same_material(row))
                    .filter_map(|r| r.length)
                    .max();
                // Backing may be made of as many pieces as it takes.
                let n = longest
                    .filter(|l| l.is_positive())
                    .map_or(1, |l| (long.units() + l.units() - 1) / l.units());
                let each = long / n.max(1);
                let count = u32::try_from(n).unwrap_or(1);
                out.add(row, &what, count, [each; 3], [square("end"), square("end")]);
                if let Some(p) = out.pieces.last_mut() {
                    p.hidden = true;
                }
            }
        }
        None if !wanted.is_empty() => {
            let list: Vec<String> = wanted
                .iter()
                .map(|(what, long)| format!("{what}, {}", facts.tape.print(*long)))
                .collect();
            out.notes.push(format!(
                "To nail to, from offcuts 3/4 in (18 mm) thick (a row of stock.csv named cleat or backing would be planned): {}.",
                list.join("; ")
            ));
        }
        _ => {}
    }
}

/// How a moulding ends where the row stands open: round the corner, and back to the wall with a piece of its own.
pub(super) struct Returned {
    pub(super) end: TrimEnd,
    /// Added to the long point by the outside mitre.
    pub(super) adds: Length,
}

/// Outside corner of 90 degrees; crown is cut flat, and its upper edge stands out by its projection.
pub(super) fn returned(row: &StockRow, crown: Option<f64>) -> Returned {
    let mut cut = end(EndCut::Mitre, Some(90.0), "outside corner, returned");
    let mut adds = mitre_adds(row.thickness().unwrap_or_default(), 90.0);
    if let Some(spring) = crown {
        let set = crown_flat(90.0, spring);
        (cut.saw, cut.bevel) = (quarter(set.mitre), quarter(set.bevel));
        if let Some(face) = row.width {
            adds = crown_stands(face, spring)[0];
        }
    }
    Returned { end: cut, adds }
}

/// The piece from the outside corner to the wall behind the row, or to old moulding that stays there. Base and shoe begin where the
/// base stands, not at the fronts above it.
pub(super) fn return_piece(
    facts: &TrimFacts,
    (row, what, side): (&StockRow, &str, &str),
    back: &Returned,
    out: &mut Trimmed,
) {
    let crown = what == "crown";
    let setback = if crown {
        Length::ZERO
    } else {
        facts.base_setback
    };
    let deep = facts.row_depth + facts.off_wall - setback;
    let old = facts.behind_stays[usize::from(crown)];
    let thick = old.and_then(|o| o.thick).unwrap_or_default();
    // Nothing butts against the slope of a crown: it is coped, its long point at the wall.
    let (wall, long) = match old {
        None => (end(EndCut::Butt, None, "wall behind the row"), deep),
        Some(_) if crown => {
            let note = "old crown on the wall behind the row, long point at the back";
            (end(EndCut::Cope, None, note), deep)
        }
        Some(_) => {
            let note = format!("old {what} on the wall behind the row");
            (end(EndCut::Butt, None, &note), deep - thick)
        }
    };
    let mitre = back.end.clone();
    let ends = if side == "left" {
        [wall, mitre]
    } else {
        [mitre, wall]
    };
    let name = format!("{what}, return at the {side} end");
    let sizes = [long + back.adds, deep - thick, long];
    out.add(row, &name, 1, sizes, ends);
}
