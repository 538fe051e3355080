//! Scribe moulding up both walls and under the ceiling.
//!
//! Uprights stand on the base, on old base that stays where that is higher, and meet the head on the half of the true corner, all
//! three flat in the front plane: their long points lie at wall and ceiling. Under crown, old or new, they end square.

use super::angles::{mitre_adds, quarter};
use super::cover::most_at_end;
use super::pieces::{Trimmed, end, square};
use super::roles::{Role, role};
use crate::model::{EndCut, Meeting, StockKind, StockRow, TrimFacts};
use crate::units::Length;

/// The first scribe moulding whose uprights leave doors and drawer fronts free; one of her cut list is hers.
pub(super) fn scribe_row<'a>(
    facts: &TrimFacts,
    stock: &'a [StockRow],
    out: &mut Trimmed,
) -> Option<&'a StockRow> {
    let rows = || {
        let mouldings = stock.iter().filter(|r| r.kind == StockKind::Moulding);
        mouldings.filter(|r| role(r) == Role::Scribe)
    };
    let most = [0, 1].map(|n| most_at_end(facts, n));
    let most = most.into_iter().flatten().min();
    let wide = |r: &StockRow| r.width.unwrap_or_default();
    let fits = |r: &&StockRow| facts.listed.contains(&r.item) || most.is_none_or(|m| wide(r) <= m);
    let found = rows().find(fits);
    let (None, Some(row), Some(most)) = (found, rows().next(), most) else {
        return found;
    };
    let tape = facts.tape.for_scribing();
    let instead = match most.is_positive() {
        true => format!(
            "List one at most {} wide, or leave a wider gap at the walls.",
            tape.print(most)
        ),
        false => {
            "Leave a wider gap at the walls, or do without it: scribe the strips close.".into()
        }
    };
    out.cautions.push(format!(
        "{}, {} wide, is not planned: at the ends of the row it would stand in the way of doors or drawer fronts. {instead}",
        row.item,
        tape.print(wide(row))
    ));
    None
}

/// Left upright, head, right upright. Crown, so far down from the ceiling, covers the joint there: the uprights then end under it,
/// and no head goes between them.
pub(super) fn frame(
    facts: &TrimFacts,
    row: &StockRow,
    (foot, crown): (Length, Option<Length>),
    out: &mut Trimmed,
) {
    let wide = row.width.unwrap_or_default();
    let butted = facts.meeting == Meeting::Butt || crown.is_some();
    let old_crown = |n: usize| facts.crown_stays[n].filter(|_| !facts.open[n]);
    let free = |n: usize| !butted && !facts.open[n] && old_crown(n).is_none();
    let corner_end = |n: usize, note: &str| match facts.head_corners[n] {
        _ if facts.open[n] => square("end of the row"),
        _ if old_crown(n).is_some() => square("under the old crown"),
        _ if crown.is_some() => square("under the crown"),
        Some(c) if !butted => end(EndCut::Mitre, Some(c), note),
        c => end(EndCut::Butt, c, note),
    };
    let adds = |n: usize| match facts.head_corners[n] {
        Some(c) if free(n) => mitre_adds(wide, c),
        _ => Length::ZERO,
    };
    let names = ["scribe mould, left", "scribe mould, right"];
    let upright = |n: usize, out: &mut Trimmed| {
        if let Some(high) = facts.heights[n].filter(|_| !facts.open[n]) {
            let old = facts.base_stays[n].and_then(|o| o.high);
            let old = old.filter(|high| *high > foot);
            let foot_note = match (old, foot.is_positive()) {
                (Some(_), _) => "foot, on the old base",
                (None, true) => "foot, on the base",
                (None, false) => "foot, on the floor",
            };
            let foot = old.unwrap_or(foot);
            let under_old = old_crown(n).map(|c| c.high.unwrap_or_default());
            let head = match (crown, under_old) {
                (None, None) if butted => wide,
                (new, old) => new.unwrap_or_default().max(old.unwrap_or_default()),
            };
            let long = high - foot - head;
            let ends = [square(foot_note), corner_end(n, "head")];
            out.add(row, names[n], 1, [long, long - adds(n), long], ends);
        }
    };
    let head_end = |n: usize, note: &str| match old_crown(n) {
        Some(_) => {
            let note = format!(
                "old crown on the {}, trace its shape, long point at the wall",
                facts.ends_at[n]
            );
            end(EndCut::Cope, None, &note)
        }
        // Over a row on a side wall there are no uprights.
        None if facts.heights[n].is_none() && !facts.open[n] => {
            end(EndCut::Butt, None, &facts.ends_at[n])
        }
        None => corner_end(n, note),
    };
    upright(0, out);
    if let Some(width) = facts.head_width.filter(|_| crown.is_none()) {
        let ends = [head_end(0, "left upright"), head_end(1, "right upright")];
        let crowns = [0, 1].map(|n| old_crown(n).and_then(|c| c.thick).unwrap_or_default());
        let short = width - adds(0) - adds(1) - crowns[0] - crowns[1];
        out.add(row, "scribe mould, head", 1, [width, short, width], ends);
    }
    upright(1, out);
    for (n, name) in ["left", "right"].iter().enumerate() {
        if let Some(c) = facts.head_corners[n].filter(|_| free(n)) {
            let set = quarter(c / 2.0);
            out.notes.push(format!(
                "High {name} corner {c:.1}: half is {:.2}, set {set}; two pieces cut so make {}. Cut test pieces first.",
                c / 2.0,
                set * 2.0
            ));
        }
    }
}
