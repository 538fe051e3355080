//! Whether a piece goes in a space of the car: flat, or standing on an edge.
//!
//! Only lying square to the space is counted. A piece that would go in at a slant may well go; it is not promised.

use crate::model::Car;
use crate::units::Length;

/// The car's spaces as far as one piece is concerned.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Spaces {
    /// Length, width and height of each.
    pub sizes: Vec<[Length; 3]>,
    /// Load limit in grams.
    pub carries: Option<i64>,
}

/// Which two of a space's three sides a piece's own two lie along; the third takes its thickness.
pub(crate) const POSES: [[usize; 3]; 3] = [[0, 1, 2], [0, 2, 1], [1, 2, 0]];

impl Spaces {
    /// The spaces of a car; `None` where none is given, and nothing is checked.
    pub fn of(car: &Car) -> Option<Self> {
        let sizes: Vec<[Length; 3]> = car.spaces.iter().map(|s| car.room(s)).collect();
        (!sizes.is_empty()).then_some(Self {
            sizes,
            carries: car.carries_grams,
        })
    }

    /// True if a piece of this size and thickness goes in one of them.
    pub fn takes(&self, size: [Length; 2], thick: Length) -> bool {
        self.longest(size[1], thick) >= size[0]
    }

    /// How long a piece of a certain width and thickness may be at most, in any space; below zero where none takes it.
    pub(crate) fn longest(&self, width: Length, thick: Length) -> Length {
        let mut most = Length::from_units(-1);
        for space in &self.sizes {
            for [a, b, c] in POSES {
                if thick > space[c] {
                    continue;
                }
                if width <= space[b] {
                    most = most.max(space[a]);
                }
                if width <= space[a] {
                    most = most.max(space[b]);
                }
            }
        }
        most
    }
}
