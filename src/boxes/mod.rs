//! Boxes: from a run to its parts, from a box to its assembly, from a shelf to how far it sags.
//!
//! [`outsides()`] and [`Inside`] settle the sizes of every box from the run, the thickness as measured and what the opening
//! leaves; everything else is reckoned from these two. Knows no files: what is wrong comes back as problems.

mod facts;
mod sag;

pub use facts::{Inside, Joint, Outside, Room, Strip, outsides};
pub use sag::{
    Beam, Held, Rule, Sag, Shelf, Stiffness, Verdict, board_moment, boxes_sag, frames_sag,
    lipped_moment, needs_middle_support, rail_sag, round_moment, shelf_sag, stiffness_of,
};
