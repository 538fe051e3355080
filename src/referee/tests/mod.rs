//! The referee against wrong plans, and its own arithmetic against trying everything.

mod arithmetic;
mod gaps;
mod made;
mod proofs;
mod wrong_plans;
