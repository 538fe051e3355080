//! What buying and comparing come to: lists and sums, ready to be shown or written.

use super::space::SpaceUse;
use crate::units::{Cents, Length};
use serde::Serialize;

/// A number of packs of one stock row.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct PackCount {
    /// Stock row.
    pub item: String,
    /// Packs to buy.
    pub packs: u32,
}

/// Another way of covering a need, for her to weigh.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct OtherWay {
    /// Packs of it.
    pub packs: Vec<PackCount>,
    /// What it costs.
    pub cents: Cents,
    /// Empty if it covers the need, else by how much it falls short, in words.
    pub short_by: String,
}

/// One line of the shopping list.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct BuyLine {
    /// The stock row she named (or the unit of prefab.csv).
    pub item: String,
    /// Plain name.
    pub what: String,
    /// Store.
    pub store: String,
    /// Aisle.
    pub aisle: String,
    /// What is needed, in words with its unit, before waste.
    pub need: String,
    /// With waste, where that differs; empty if not.
    pub need_with_waste: String,
    /// In hand, in words; `0` if none.
    pub have: String,
    /// What is bought: packs of each row.
    pub packs: Vec<PackCount>,
    /// What is left over, in words; empty if nothing.
    pub spare: String,
    /// Cost; `None` where a price is missing.
    pub cents: Option<Cents>,
    /// On a cheap day.
    pub cents_low: Option<Cents>,
    /// On a dear day.
    pub cents_high: Option<Cents>,
    /// True if tax is paid on it.
    pub taxed: bool,
    /// `2026-07-08` where the price is older than 30 days before the project date; empty if not.
    pub old_price: String,
    /// The runner-up.
    pub runner_up: Option<OtherWay>,
    /// A way that nearly does, or a warning that the last pack is barely started: in words; empty if none.
    pub near_miss: String,
    /// Group of the comparison it belongs to: sheets, frames, frame extras, banding and mouldings, hardware,
    /// consumables, paint, tools, services.
    pub group: String,
    /// Days from order to delivery, the longest of the rows bought.
    pub lead_days: u32,
    /// When to order it; `None` where it is in the store, or the job has no date.
    pub order_by: Option<OrderBy>,
    /// What else must be said: a derived amount overridden, a tool owned; empty if nothing.
    pub note: String,
}

impl BuyLine {
    /// When to order it, in words; `None` where it is in the store.
    pub fn order_words(&self) -> Option<String> {
        let n = self.lead_days;
        let days = if n == 1 { "day" } else { "days" };
        if n == 0 {
            return None;
        }
        let Some(order) = &self.order_by else {
            return Some(format!("order {n} {days} ahead"));
        };
        let OrderBy {
            date, task, begins, ..
        } = order;
        let way = format!("order by {date}: {n} {days} on the way");
        Some(match begins {
            None => format!("{way}; the day of the work that needs it is not known"),
            Some(begins) if order.past => format!(
                "{way}. That is before the job's date: order at once; the work waits for it until {begins} ({task})"
            ),
            Some(begins) => format!("{way}, for work that begins on {begins} ({task})"),
        })
    }
}

/// When goods are ordered that are not in the store.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct OrderBy {
    /// The last day to order it, ISO 8601.
    pub date: String,
    /// The first task that needs it.
    pub task: String,
    /// The day that task begins, with all waiting; `None` where the days of the work are not known.
    pub begins: Option<String>,
    /// True where the date is before the job's own, so that the work waits.
    pub past: bool,
}

/// The shopping list of one route.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct BuyList {
    /// The route.
    pub route: String,
    /// What is needed, in the order of the groups: what is bought and what is in hand.
    pub lines: Vec<BuyLine>,
    /// Sales tax, rounded once on the taxed lines; `None` where the rate or a price is missing.
    pub tax: Option<Cents>,
    /// What is paid, tax and tools in full included; `None` where anything is missing.
    pub total: Option<Cents>,
    /// What is missing, each with its place.
    pub missing: Vec<String>,
    /// Needed by a rule, but in no row of stock.csv: without a price, and in no total.
    pub also: Vec<String>,
}

impl BuyList {
    /// Stands over what a rule asks for and no row of stock.csv is.
    pub const ALSO: &str =
        "Also needed, in no row of stock.csv, so without a price and in no total";
}

/// One line of a route's sum.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct CostLine {
    /// What.
    pub what: String,
    /// How much; `None` where a price is missing.
    pub cents: Option<Cents>,
    /// On a cheap day.
    pub low: Option<Cents>,
    /// On a dear day.
    pub high: Option<Cents>,
}

/// Hours of one task of a route.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct TaskHours {
    /// Key under `[labour.takes]`.
    pub task: String,
    /// In words.
    pub what: String,
    /// How often.
    pub count: f64,
    /// What one is: `sheet`.
    pub one: String,
    /// Hours of one.
    pub each: f64,
    /// Hours of all.
    pub hours: f64,
    /// True where the hours of one are hers, false where they are ours.
    pub yours: bool,
}

/// A route carried to the finish line.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct RouteCost {
    /// Its name.
    pub route: String,
    /// The lines, the same groups in the same order for every route.
    pub lines: Vec<CostLine>,
    /// Sales tax, rounded once; `None` where the rate or a price is missing.
    pub tax_cents: Option<Cents>,
    /// Money out; `None` where anything of it is missing.
    pub money_cents: Option<Cents>,
    /// Money out with every price at its low end.
    pub money_low_cents: Option<Cents>,
    /// Money out with every price at its high end.
    pub money_high_cents: Option<Cents>,
    /// Hours of work; `None` where not known.
    pub hours: Option<f64>,
    /// Hours by task, as the table makes them; `[labour.hours]` overrides their sum.
    pub tasks: Vec<TaskHours>,
    /// Hours at her rate; `None` where she gave none.
    pub hours_cents: Option<Cents>,
    /// Money and time; `None` where any of it is missing.
    pub total_cents: Option<Cents>,
    /// Date done, ISO 8601; `None` where it cannot be told.
    pub done: Option<String>,
    /// True if it gives what she wants; `None` where not known.
    pub met: Option<bool>,
    /// True if its boxes go in, stand up and can be set; `None` where not known.
    pub fits: Option<bool>,
    /// Shelf length it gives; `None` where the opening is not known.
    pub shelf: Option<Length>,
    /// Hanging length, likewise.
    pub hanging: Option<Length>,
    /// Where the opening goes; `None` where that cannot be told.
    pub space: Option<SpaceUse>,
    /// What it needs, but no row of stock.csv is: in none of its sums.
    pub also: Vec<String>,
}

/// A value at which the answer changes.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Flip {
    /// What is varied: `an hour of yours`, `PLY-18`.
    pub what: String,
    /// Where it flips, in `unit`; `None` = never.
    pub at: Option<f64>,
    /// `cents an hour`, `cents`.
    pub unit: String,
    /// The sentence.
    pub says: String,
}

/// How far one uncertain input moves the difference between the two routes that are held against each other.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Move {
    /// What is varied: `sheets`, `hours of custom`.
    pub what: String,
    /// The end of its range that is best for the cheaper route, in words.
    pub from: String,
    /// The end that is worst for it, in words.
    pub to: String,
    /// How far the cheaper route stays ahead at `from` (money and time).
    pub ahead_from: Cents,
    /// How far at `to`; below zero = the other route is then the cheaper.
    pub ahead_to: Cents,
    /// True for a switch (a tool already owned, a borrowed van): listed, but not weighed in the verdict.
    pub switch: bool,
}

/// Pieces worth keeping of one material: below the line, never in a total.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct RackWorth {
    /// Stock row they are cut from.
    pub item: String,
    /// How many pieces.
    pub pieces: u32,
    /// Their area in square feet, or their length in feet for sticks.
    pub amount: f64,
    /// `sq ft` or `ft`.
    pub unit: String,
    /// Their share of the price; `None` where that is missing.
    pub cents: Option<Cents>,
}

/// Verdict words, each with a fixed meaning.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Serialize)]
pub enum VerdictWord {
    /// Nothing flips it, alone or together.
    #[serde(rename = "clear")]
    Clear,
    /// Nothing flips it alone.
    #[serde(rename = "likely")]
    Likely,
    /// Something flips it alone.
    #[serde(rename = "too close to call")]
    TooClose,
    /// A price or reading that matters is missing, or a route falls short.
    #[serde(rename = "no verdict")]
    None,
}

/// The verdict.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Verdict {
    /// Its word.
    pub word: VerdictWord,
    /// `[route], [word], unless [what flips it]`.
    pub sentence: String,
}

/// Routes side by side.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Comparison {
    /// In the order of her runs.
    pub routes: Vec<RouteCost>,
    /// The hourly rate first.
    pub flips: Vec<Flip>,
    /// What moves the answer, the largest first.
    pub moves: Vec<Move>,
    /// The verdict.
    pub verdict: Verdict,
    /// What else is worth saying, one sentence each.
    pub says: Vec<String>,
    /// What is missing.
    pub missing: Vec<String>,
}
