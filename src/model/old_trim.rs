//! Old base and crown, and what is cut out of boxes round what of it stays.

use super::opening::{Reading, WallSide};
use crate::units::Length;

/// `[[opening.existing_trim]]`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ExistingTrim {
    /// Base, crown, casing.
    pub what: String,
    /// On which wall; `None` = on all of them.
    pub wall: Option<WallSide>,
    /// Its height.
    pub height: Reading,
    /// Its thickness.
    pub thick: Reading,
    /// True: it stays; boxes stand off or are notched.
    pub stay: bool,
    /// True: the backs of boxes are notched round it and stand at the wall.
    pub notch: bool,
}

impl ExistingTrim {
    /// Crown and the like: at the ceiling.
    pub fn is_overhead(&self) -> bool {
        let what = self.what.to_lowercase();
        ["crown", "cornice", "coving", "cove"]
            .iter()
            .any(|w| what.contains(w))
    }
    /// True where it runs along that wall.
    pub fn is_on(&self, wall: WallSide) -> bool {
        self.wall.is_none_or(|w| w == wall)
    }
}

/// What is cut out of the back corners of a box for base or crown that stays.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Notch {
    /// From the back edge.
    pub deep: Length,
    /// From the bottom or top edge; nothing where the box stands clear of it.
    pub high: Length,
}

/// Play of a notch, each way: 1/8 in, common practice, no source.
pub const NOTCH_PLAY: Length = Length::in_64(8);

impl Notch {
    /// Round trim so thick, which the box stands over or into by so much.
    pub fn round(thick: Length, over: Length) -> Self {
        Self {
            deep: thick + NOTCH_PLAY,
            high: if over.is_positive() {
                over + NOTCH_PLAY
            } else {
                Length::ZERO
            },
        }
    }
}
