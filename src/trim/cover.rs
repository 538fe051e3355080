//! Widths that cover a gap: the least reaches over it, the greatest keeps the reveal. Common practice, no source, for both figures.

use super::roles::{Role, role};
use crate::model::{Cover, SidesAt, StockKind, StockRow, TrimFacts};
use crate::units::Length;

const COVERS_NONE: &str = "no strip with parallel edges covers it";

/// A strip lies at least so far on what it is fastened to.
const LAP: Length = Length::in_64(16);
/// Left showing beside a strip.
const REVEAL: Length = Length::in_64(8);
/// A strip over a seam may stand out so far into each box.
const OVER: Length = Length::in_64(4);

/// Every gap, seam, head and foot of a row.
pub fn covers(facts: &TrimFacts, stock: &[StockRow]) -> Vec<Cover> {
    let mut list = Vec::new();
    let names = ["left gap", "right gap"];
    let ends = facts.side_gaps.iter().zip(facts.beside_fronts);
    for ((gaps, fronts), what) in ends.zip(names) {
        // Beside the box a strip may not lie over its front.
        if facts.sides_at == SidesAt::Lap {
            list.extend(gap(what, gaps, (facts.side_thick, fronts), stock));
        }
    }
    let head = (facts.side_thick, facts.over_doors);
    list.extend(gap("head gap", &facts.head_gaps, head, stock));
    if facts.seams > 0 {
        list.push(seam((facts.side_thick, facts.seam_fronts), stock));
    }
    for corner in facts.corners.iter().filter(|c| c.gap.is_positive()) {
        let what = format!("{} corner", corner.name);
        list.push(between_boxes(&what, corner.gap, facts, stock));
    }
    if !facts.foot_gaps.is_empty() && facts.base_height.is_positive() {
        let [least, most] = foot(facts);
        list.push(cover("foot", least, most, stock));
    }
    list
}

/// The strip over the two sides that meet; beside fronts it stands no further into a box than leaves them free.
fn seam((side_thick, fronts): (Length, Option<Length>), stock: &[StockRow]) -> Cover {
    let sides = side_thick * 2;
    let over = fronts.map_or(OVER, |free| free.min(OVER));
    cover("seam", sides - REVEAL * 2, sides + over * 2, stock)
}

/// The row a strip over a seam is cut from: the one she names, else the first flat moulding of a width that covers it.
/// `sides`: thickness of a box side, and how far it may stand into a box beside fronts.
pub fn seam_strip<'a>(
    named: Option<&str>,
    sides: (Length, Option<Length>),
    stock: &'a [StockRow],
) -> Option<&'a StockRow> {
    match named {
        Some(named) => stock.iter().find(|r| r.item == named),
        None => {
            let covers = seam(sides, stock).items;
            let plain = |r: &&StockRow| role(r) == Role::Flat && covers.contains(&r.item);
            stock.iter().find(plain)
        }
    }
}

/// Widths of a moulding along the floor: from the widest gap under the base to what leaves the reveal on the bottoms.
pub(super) fn foot(facts: &TrimFacts) -> [Length; 2] {
    let widest = facts.foot_gaps.iter().copied().max().unwrap_or_default();
    // A base that stands back is under the boxes, its moulding too.
    let most = if facts.base_setback.is_positive() {
        facts.base_height
    } else {
        facts.base_height + facts.side_thick - REVEAL
    };
    [widest + LAP, most]
}

/// The strip from the end of one row to the front of another: it lies on both, and keeps to the edge of the one it laps.
pub(super) fn between_boxes(
    what: &str,
    gap: Length,
    facts: &TrimFacts,
    stock: &[StockRow],
) -> Cover {
    cover(what, gap + LAP, gap + facts.side_thick, stock)
}

/// A strip with two parallel edges: it laps the box at the widest place and keeps to its edge, or to what fronts leave of it, at the
/// narrowest.
fn gap(
    what: &str,
    gaps: &[Length],
    (thick, fronts): (Length, Option<Length>),
    stock: &[StockRow],
) -> Option<Cover> {
    let (narrow, wide) = (*gaps.iter().min()?, *gaps.iter().max()?);
    let free = fronts.map_or(thick, |f| f.min(thick));
    let mut made = cover(what, wide + LAP, narrow + free, stock);
    if free < thick && made.least > made.most {
        made.look_for = Some(format!(
            "{COVERS_NONE}: doors or drawer fronts stand there, and one that wide would hold them shut; scribe a blank"
        ));
    }
    Some(made)
}

/// The widest strip that leaves the fronts at an end free where it is laid from the wall over the gap; `None` = no fronts there.
pub(super) fn most_at_end(facts: &TrimFacts, n: usize) -> Option<Length> {
    let narrow = facts.side_gaps[n].iter().min()?;
    Some(*narrow + facts.beside_fronts[n]?)
}

fn cover(what: &str, least: Length, most: Length, stock: &[StockRow]) -> Cover {
    let fits = |r: &&StockRow| {
        // A rod is round, and covers nothing.
        matches!(r.kind, StockKind::Moulding | StockKind::Board)
            && !r.is_rail()
            && r.width.is_some_and(|w| least <= w && w <= most)
    };
    let items: Vec<String> = stock.iter().filter(fits).map(|r| r.item.clone()).collect();
    let look_for = if least > most {
        Some(format!("{COVERS_NONE}: scribe a blank"))
    } else {
        items
            .is_empty()
            .then(|| "look for a width between the two".to_owned())
    };
    Cover {
        what: what.into(),
        least,
        most,
        items,
        look_for,
    }
}
