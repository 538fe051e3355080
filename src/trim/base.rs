//! Which moulding goes along the floor: one that fits the foot of the row.

use super::cover::foot;
use super::pieces::Trimmed;
use super::roles::{Role, role};
use crate::model::{StockKind, StockRow, TrimFacts};
use crate::units::Length;

/// How far up from the floor a moulding along it covers what goes down behind it: nothing where none is planned, or where the base
/// stands back and takes its moulding with it.
pub fn foot_cover(facts: &TrimFacts, stock: &[StockRow]) -> Length {
    if facts.base_setback.is_positive() || facts.floor_width.is_none() {
        return Length::ZERO;
    }
    let row = base_row(facts, stock, &mut Trimmed::default());
    // One that her cut list names is hers, and counted by its piece.
    let row = row.filter(|r| !facts.listed.contains(&r.item));
    row.and_then(|r| r.width).unwrap_or_default()
}

/// The moulding along the floor: one that neither leaves a gap under the base open nor stands over the fronts of the bottoms. Her
/// cut list and its widths are hers.
pub(super) fn base_row<'a>(
    facts: &TrimFacts,
    stock: &'a [StockRow],
    out: &mut Trimmed,
) -> Option<&'a StockRow> {
    let [least, most] = foot(facts);
    let rows = || {
        let of_stock = stock.iter();
        of_stock.filter(|r| r.kind == StockKind::Moulding && role(r) == Role::Base)
    };
    let fits = |r: &&StockRow| {
        facts.listed.contains(&r.item) || r.width.is_none_or(|w| least <= w && w <= most)
    };
    let found = rows().find(fits);
    let (None, Some(row)) = (found, rows().next()) else {
        return found;
    };
    let (item, wide) = (&row.item, row.width.unwrap_or_default());
    let size = |l: Length| facts.tape.for_scribing().print(l);
    out.notes.push(if !facts.base_height.is_positive() {
        format!("{item} is not planned: the row stands on the floor without a base, and it would cover the fronts.")
    } else if wide > most {
        format!(
            "{item}, {} wide, is not planned: it would stand over the fronts of the bottoms. List a base {} to {} wide, or make base_height at least {}.",
            size(wide),
            size(least),
            size(most),
            facts.tape.print_up(facts.base_height + wide - most)
        )
    } else {
        format!(
            "{item}, {} wide, is not planned: it leaves the gap under the base open. List a base {} to {} wide.",
            size(wide),
            size(least),
            size(most)
        )
    });
    None
}
