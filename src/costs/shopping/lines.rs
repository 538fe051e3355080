//! What stands on a line of the shopping list: what is in hand, packs, near misses, places and old prices in words.

use super::{Group, NEAR, OLD_AFTER_DAYS};
use crate::costs::amount::{alike, bare, content, say_packs};
use crate::costs::demand::Demand;
use crate::costs::packs::Answer;
use crate::model::StockRow;
use crate::model::compare::{BuyLine, PackCount};
use crate::units::Cents;
use jiff::civil::Date;

pub(super) fn blank_line(item: &str, what: &str, group: Group) -> (Group, BuyLine) {
    let line = BuyLine {
        item: item.into(),
        what: what.into(),
        store: String::new(),
        aisle: String::new(),
        need: String::new(),
        need_with_waste: String::new(),
        have: String::new(),
        packs: Vec::new(),
        spare: String::new(),
        cents: None,
        cents_low: None,
        cents_high: None,
        taxed: true,
        old_price: String::new(),
        runner_up: None,
        near_miss: String::new(),
        group: group.word().into(),
        lead_days: 0,
        order_by: None,
        note: String::new(),
    };
    (group, line)
}

/// What is in hand of a row, in the dimension of the need; of sheets and sticks whole pieces only.
pub(super) fn in_hand(row: &StockRow, demand: &Demand) -> Option<i64> {
    use crate::model::NeedUnit::{Count, Run};
    Some(match (row.have, demand.amount) {
        (Count(n), Count(_)) if row.is_cut_up() => n.max(0) / 1_000 * 1_000,
        (Count(n), Run(_)) => (n.max(0) / 1_000).saturating_mul(content(row, demand.amount)?),
        (have, need) if alike(have, need) => bare(have).max(0),
        _ => return None,
    })
}

pub(super) fn counts(rows: &[&StockRow], packs: &[u32]) -> Vec<PackCount> {
    rows.iter()
        .zip(packs)
        .filter(|(_, n)| **n > 0)
        .map(|(r, &packs)| PackCount {
            item: r.item.clone(),
            packs,
        })
        .collect()
}

/// The cheaper mix that nearly covers the need, in words; `short` = what is wanting [without waste, with waste].
pub(super) fn near_miss(
    rows: &[&StockRow],
    found: &Answer,
    [net, gross]: [i64; 2],
    unit: crate::units::Unit,
    words: &dyn Fn(i64) -> String,
) -> String {
    let Some(mix) = found.nearly.as_ref() else {
        return String::new();
    };
    if i128::from(mix.content) * 100 < i128::from(net) * i128::from(NEAR) {
        return String::new();
    }
    let packs: Vec<String> = rows
        .iter()
        .zip(&mix.packs)
        .filter(|(_, n)| **n > 0)
        .map(|(r, &n)| say_packs(n, r, unit))
        .collect();
    let (packs, cost) = (packs.join(" + "), Cents(mix.cents).print());
    let more = Cents(found.best.cents - mix.cents).print();
    if mix.content < net {
        format!(
            "{packs}, {cost}, is {} SHORT, with nothing for waste; {more} buys the rest",
            words(net - mix.content)
        )
    } else {
        format!(
            "{packs}, {cost}, is enough, with {} for waste instead of {}; {more} buys the allowance",
            words(mix.content - net),
            words(gross - net)
        )
    }
}

pub(super) fn push_note(note: &mut String, more: &str) {
    if !note.is_empty() {
        note.push_str("; ");
    }
    note.push_str(more);
}

/// Where a row's cell stands.
pub(super) fn place(row: &StockRow, column: &str) -> String {
    let file = if row.file.is_empty() {
        "stock.csv"
    } else {
        &row.file
    };
    match row.row {
        0 => format!("{file}, {}, column {column}", row.item),
        n => format!("{file}, row {n}, column {column}"),
    }
}

/// The date of a price, where it is too old to trust.
pub(super) fn old(priced_on: Option<Date>, project: Option<Date>) -> String {
    let (Some(then), Some(now)) = (priced_on, project) else {
        return String::new();
    };
    match then.until(now) {
        Ok(span) if span.get_days() > OLD_AFTER_DAYS => then.to_string(),
        _ => String::new(),
    }
}
