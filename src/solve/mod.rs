//! What every optimiser needs: seeded random numbers, work-step budgets, and the one place where threads start.
//!
//! Nothing here knows of sheets or sticks. Nothing here reads a clock: a budget counts work, so that the same job gives
//! the same bytes on any machine.

pub mod budget;
pub(crate) mod master;
pub mod rng;
pub mod threads;
