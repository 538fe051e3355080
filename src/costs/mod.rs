//! What it costs: whole packs, the shopping list of a route, routes side by side, what flips the answer, and the verdict.
//!
//! Owns every sum of money and every hour priced. It is told the plan and the derived amounts of other rooms and imports
//! none of them; it prints nothing.

mod amount;
mod comparing;
mod dates;
mod demand;
mod flips;
mod held;
mod hours;
mod packs;
mod pair;
mod rack;
mod route;
mod shopping;
#[cfg(test)]
mod tests;
mod verdict;

pub use amount::pack_word;
pub use comparing::{compare, compare_with};
pub use dates::{TaskTime, days_of, done_on};
pub use demand::DerivedNeed;
pub use held::HELD_RULES;
pub use hours::{TaskCounts, task_hours, task_keys};
pub use rack::rack_worth;
pub use route::RouteFacts;
pub use shopping::{shopping_list, shopping_list_with};
pub use verdict::{word_means, word_shown};
