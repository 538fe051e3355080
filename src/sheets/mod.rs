//! Guillotine layouts of sheets: search, bounds, proofs, and the order of cuts.

mod instance;
