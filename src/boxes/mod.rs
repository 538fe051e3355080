//! Boxes: from a run to its parts, from a box to its assembly, from a shelf to how far it sags.
//!
//! [`outsides()`] and [`Inside`] settle the sizes of every box from the run, the thickness as measured and what the opening
//! leaves; everything else is reckoned from these two. Knows no files: what is wrong comes back as problems.

mod assembly;
mod boards;
mod compare;
mod crowded;
mod doors;
mod draw;
mod drawers;
mod drawn_row;
mod facts;
mod hinges;
mod ladder;
mod pins;
mod rails;
mod sag;
mod shelves;
mod steps;

pub use assembly::{Assembly, Cuts, Door, Piece, RailCut, assemblies, diagonal};
pub use boards::{Back, Board};
pub use compare::{Difference, Fate, NO_RECORD, compare, record_after, rows_after};
pub use crowded::crowded;
pub use doors::DoorFront;
pub use draw::{door_gap, drawn, drawn_around, run_base};
pub use drawers::{DrawerAt, DrawerWide, Drawers, drawers_of};
pub use drawn_row::{DrawnRow, Record};
pub use facts::{FramesRow, Inside, Joint, Outside, Room, Strip, outsides};
pub use ladder::{Ladder, crosspieces};
pub use pins::{PinHoles, pin_holes, pin_size};
pub use rails::{BayRail, rails_of};
pub use sag::{
    Beam, Held, RailStuff, Rule, Sag, Shelf, Stiffness, Verdict, board_moment, boxes_sag,
    frames_sag, lipped_moment, needs_middle_support, rail_sag, round_moment, shelf_sag,
    stiffness_of,
};
pub use shelves::{ShelfAt, shelves_at};
