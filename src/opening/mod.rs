//! The opening: survey of its readings, and how boxes and frames fit into it.
//!
//! [`survey()`] finds the largest level and plumb box and names the reading that slipped. Everything here is reckoned from the
//! readings alone, in whole numbers; floating point serves angles and the weighing of suspects only.

mod depth;
mod likeness;
mod overlap;
mod reading;
mod shape;
mod slip;
mod soffit;
mod survey;
mod suspects;
mod trace;

#[cfg(test)]
mod samples;
#[cfg(test)]
mod survey_tests;

pub use overlap::{Overlap, overlaps};
pub use reading::{ReadingAt, all as all_readings, get as reading, path as reading_path};
pub use shape::{Face, Plane, Shape, Side};
pub use slip::SlipKind;
pub use survey::{
    BoxSize, Check, CornerDegrees, OtherBox, Survey, TakeAgain, corner_angle, survey, survey_by,
    width_over,
};
pub use suspects::{Suspect, suspects};
pub use trace::Trace;
