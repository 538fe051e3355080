//! Plans sticks: mouldings and boards cut piece by piece, a kerf between neighbours, at the least cost of what is bought.
//!
//! Several lengths and prices, sticks in hand and pieces on the rack (free, and opened only where that buys less), limits
//! on what can be bought, and pieces that must come off one stick. The answer carries a lower bound and, where the plan
//! meets it, a certificate that the referee checks by its own arithmetic.
//!
//! How: a quick filling (`fill`), a linear programme over whole stick patterns priced by an exact knapsack (`columns`,
//! `master`, `knapsack`; Gilmore & Gomory 1961), a dive with few discrepancies that turns it into whole sticks (`dive`),
//! and for small mixes a complete search (`complete`). Budgets are counted in work steps, so the answer never depends on
//! the machine.

mod answer;
mod bound;
mod columns;
mod dive;
mod fill;
mod knapsack;
mod master;
mod reduce;
mod tidy;

pub use answer::solve;
#[cfg(test)]
mod tests;
