//! Fill, prime and paint: which faces show and how large they are, coats, and the goods that rules ask for.
//!
//! Owns the rules of painting and fixing: faces by kind of part ([`surfaces`]), coverage ([`coats`]), beads, holes and screws
//! ([`goods`]), how a rule finds its row of stock.csv. Knows no prices and no dates; what the opening leaves around the boxes
//! is told in [`Around`].

mod coats;
mod counted;
mod faces;
mod frames;
mod goods;
mod hinges;
mod lights;
mod rows;
mod slides;
mod surfaces;
#[cfg(test)]
mod tests;
mod volumes;

pub use coats::coats;
pub use goods::{Asked, BASE_SHEETS, goods};
pub use lights::lights;
pub use rows::Amount;
pub use surfaces::{Around, RailNeed, Rails, Stick, Strip, surfaces};
