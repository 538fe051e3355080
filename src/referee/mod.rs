//! The referee: replays a plan against the facts of the job and refuses it unless every line is true.
//!
//! It trusts nothing the plan says of itself. It knows data types only ([`crate::model`], [`crate::units`]), shares no code
//! with the planners, and works everything out its own way: which parts belong to a route, what size they are cut to, what
//! a cut frees, what a sheet can hold. What it cannot work out again it does not believe.

mod bounds;
mod complete;
mod copies;
mod cover;
mod facts;
mod fault;
mod guillotine;
mod layout;
mod midway;
mod plan;
mod sets;
mod settings;
mod sheets;
mod sticks;
mod store;

pub use fault::Fault;
pub use midway::{check_rest, check_rest_of_sheets};
pub use plan::check_plan;
pub use sheets::check_sheets;
pub use sticks::check_sticks;
#[cfg(test)]
mod tests;
