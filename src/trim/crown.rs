//! Which crown goes under the ceiling: one whose lower edge stays clear of the doors, and what it takes the place of.

use super::angles::crown_stands;
use super::pieces::Trimmed;
use super::roles::{Role, role, spring_said};
use crate::model::{StockKind, StockRow, TrimFacts};
use crate::units::Length;

/// Degrees between the back of a crown and the wall: by its row in words, else by `[trim]`.
pub(super) fn spring_of(facts: &TrimFacts, row: &StockRow) -> (u32, bool) {
    let said = spring_said(&format!("{} {}", row.what, row.note));
    (said.unwrap_or(facts.crown_spring), said.is_some())
}

/// How far it comes down from the ceiling; `None` where its row has no width.
pub(super) fn crown_down(facts: &TrimFacts, row: &StockRow) -> Option<Length> {
    let spring = f64::from(spring_of(facts, row).0);
    Some(crown_stands(row.width?, spring)[1])
}

/// The first crown that leaves the doors free to open; one of her cut list is hers. Nothing where there is no wall to end at.
pub(super) fn crown_row<'a>(
    facts: &TrimFacts,
    stock: &'a [StockRow],
    out: &mut Trimmed,
) -> Option<&'a StockRow> {
    facts.head_width?;
    let rows = || {
        let mouldings = stock.iter().filter(|r| r.kind == StockKind::Moulding);
        mouldings.filter(|r| role(r) == Role::Crown)
    };
    let head = facts.head_gaps.iter().copied().min();
    let room = facts.over_doors.zip(head).map(|(over, head)| head + over);
    let short = |r: &StockRow| {
        let by = crown_down(facts, r)? - room?;
        by.is_positive().then_some(by)
    };
    let fits = |r: &&StockRow| facts.listed.contains(&r.item) || short(r).is_none();
    let found = rows().find(fits);
    let (None, Some(row)) = (found, rows().next()) else {
        return found;
    };
    if let (Some(by), Some(down), Some(room)) = (short(row), crown_down(facts, row), room) {
        out.cautions.push(format!(
            "{} does not fit and is not planned: it comes {} down from the ceiling, and the doors leave it {}, so they would not open. List a crown that comes down no more than that, or make the boxes or their base {} lower.",
            row.item,
            facts.tape.print_up(down),
            facts.tape.for_scribing().print(room.at_least_zero()),
            facts.tape.print_up(by)
        ));
    }
    None
}
