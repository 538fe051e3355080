//! The way home: what the store is asked to cut, and how the car is loaded.

mod load;
mod store_cuts;

pub(super) use load::load;
pub(super) use store_cuts::{AtCounter, at_counter, store_cuts};
