//! What it costs: whole packs, the shopping list of a route, routes side by side, what flips the answer, and the verdict.
//!
//! Owns every sum of money and every hour priced. It is told the plan and the derived amounts of other rooms and imports
//! none of them; it prints nothing.

mod amount;
mod dates;
mod demand;
mod packs;
mod rack;
mod shopping;

pub use dates::{TaskTime, done_on};
pub use demand::DerivedNeed;
pub use rack::rack_worth;
pub use shopping::{shopping_list, shopping_list_with};
