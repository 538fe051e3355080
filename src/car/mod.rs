//! Which cuts to ask of the store's saw, so that every piece of a bought sheet goes in the car, and how the car is loaded.
//!
//! A layout is read as a tree of parts; the fewest cuts across it are looked for that leave pieces the car takes, with the
//! store's kerf, its tolerance and her own clean-up cut kept off every part. The parts of one sheet may change places for
//! it, never the sheet they come from. Must not choose which sheet a part comes from, nor print.

mod breakdown;
mod cartons;
mod few;
mod fill;
mod fit;
mod halves;
mod lay;
mod load;
mod long_sticks;
mod patterns;
mod same;
mod tree;
mod way;

pub use crate::model::{Weight, weigh};
pub use breakdown::{StoreRules, Stuck, break_down};
pub use cartons::{Carried, cartons, sticks};
pub use fill::Loose;
pub use fit::Spaces;
pub use load::{
    AskedCut, Load, Outline, Pile, Pose, Sawn, StorePiece, Trip, letters, load, pieces, sawn,
};
pub use long_sticks::{cartons_unknown, longest_stick};
pub use patterns::{Blank, Pattern, assemble, patterns, repack};
pub use same::one_setting;
pub use way::{CutCount, Delivery, Stays, WayHome, cut_count, delivers, way_home};
