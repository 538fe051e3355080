//! The order of work at the saw: which cuts are made at one setting of the fence or the stop, and in what order.
//!
//! A layout leaves freedom that a saw can use without moving a single part: the strips of one piece may be cut off from
//! either end, and the last of them is never measured at all, it is what remains. [`order_work`] uses that freedom across
//! all sheets of a material for few settings, wide ones first and narrow rips last, and goes back to a setting only where a
//! piece was not free before. What it writes can be followed line by line: every cut is made on a piece that is free.
//! It must not change where a part lies.

mod caution;
mod matched;
mod schedule;
mod strips;
#[cfg(test)]
mod tests;

pub use caution::{CautionKind, SawCaution, cautions, spans};
pub use matched::{Unmatched, unmatched};

use crate::model::{Setting, SheetPlan};
use crate::units::Length;
use std::collections::BTreeMap;

/// What the order of work depends on beside the layouts.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct OrderRules {
    /// The material, by the code of `ItemResult`.
    pub item: String,
    /// Kerf of a cut that does not carry its own.
    pub kerf: Length,
    /// Index in `Plan::sheets` of the first of the sheets given.
    pub first_sheet: usize,
    /// Number of the first setting.
    pub first_setting: u32,
    /// Rips to less than this come last, and are named.
    pub narrowest_safe_rip: Length,
    /// Longer cuts along a sheet are named; `None` = her saw makes any.
    pub longest_rip: Option<Length>,
    /// Larger pieces are named: a second person.
    pub largest_alone: [Length; 2],
    /// Match groups: parts (by mark) with one number come off one setting.
    pub matched: BTreeMap<String, u32>,
}

/// Renumbers the cuts of `sheets` (all of one material) and returns the settings in the order they are used: the store's cuts,
/// then the clean-up cuts, then those at home. Sheets whose cuts cannot be followed are left alone; the referee refuses them.
pub fn order_work(sheets: &mut [SheetPlan], rules: &OrderRules) -> Vec<Setting> {
    let works: Vec<strips::Work> = sheets
        .iter()
        .map(|s| strips::Work::of(s, rules.kerf).unwrap_or_default())
        .collect();
    let order = schedule::order(&works, rules);
    let mut settings = Vec::new();
    let at_store = schedule::write(&works, &order, sheets, rules, &mut settings);
    let clean = schedule::clean_ups(sheets, rules);
    settings.splice(at_store..at_store, clean);
    for (n, s) in (rules.first_setting..).zip(&mut settings) {
        s.n = n;
    }
    settings
}
