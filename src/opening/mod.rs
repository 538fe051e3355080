//! The opening: survey of its readings, and how boxes and frames fit into it.
//!
//! [`survey()`] finds the largest level and plumb box and names the reading that slipped; [`fit()`] stands each route in it;
//! [`scribes()`] gives the closing strips. Everything here is reckoned from the
//! readings alone, in whole numbers; floating point serves angles and the weighing of suspects only.

mod angle;
#[cfg(test)]
mod bends_tests;
mod clear;
mod closed;
mod corner;
mod depth;
mod door;
mod doorway;
mod fit;
mod fixing;
mod floor;
mod fronts;
mod gaps;
mod gate;
mod hanging;
mod head_strip;
mod hung;
mod inch_out;
mod judge;
mod judge_way;
mod jumps;
#[cfg(test)]
mod jumps_tests;
mod likeness;
mod order;
mod overlap;
mod places;
mod reach;
mod reading;
mod scribes;
mod setting;
mod shape;
mod side;
#[cfg(test)]
mod side_door_tests;
mod side_head;
#[cfg(test)]
mod side_stays_tests;
#[cfg(test)]
mod side_tests;
mod sit;
mod slip;
mod soffit;
mod square;
mod stand;
mod stays;
mod stays_said;
mod strip_round;
mod studs;
mod survey;
mod suspects;
mod too_large;
mod trace;
mod unmeasured;
mod unread;
mod wants;
mod ways;

#[cfg(test)]
mod fit_tests;
#[cfg(test)]
mod samples;
#[cfg(test)]
mod setting_tests;
#[cfg(test)]
mod stays_tests;
#[cfg(test)]
mod survey_tests;

pub use angle::{corner_angle, corner_by};
pub use clear::{CutOut, cut_outs};
pub use closed::{closing_width, door_width};
pub use corner::{CornerUse, Walls, walls};
pub use fit::{Fit, RouteFit, fit, fit_shown};
pub use fixing::{Fixing, HiddenStud};
pub use gaps::{open_gaps, stands_open};
pub use head_strip::{gaps_over, reach};
pub use order::Step;
pub use overlap::{Overlap, overlaps};
pub use places::Above;
pub use reading::{
    ReadingAt, all as all_readings, find as find_reading, get as reading, path as reading_path,
    words as reading_words,
};
pub use scribes::{Ordinate, Scribe, blank_width, scribes};
pub use shape::{Face, Plane, Shape, Side};
pub use side::{Corners, GapAt, SideBox, SideRow};
pub use side_head::{NoHead, side_head};
pub use sit::{
    Row, Standing, box_shims, free_along, head_gaps, kept, row, shim_at, shims, side_gaps,
};
pub use slip::SlipKind;
pub use square::{
    corner_by_triangle, lean_by_diagonals, opposed_wedges, second_diagonal, shim_stack,
};
pub use stand::{Passage, StandUp, can_be_stood, passage, stand_up, way_in};
pub use stays::{Span, base_ends, base_notch, crown_notch, keeps_off, stands_off};
pub use strip_round::{CutRound, cut_round};
pub use studs::{Stud, studs_on};
pub use survey::{
    BoxSize, Check, CornerDegrees, OtherBox, Survey, TakeAgain, survey, survey_by, survey_shown,
    width_over,
};
pub use suspects::{Suspect, suspects};
pub use too_large::too_large;
pub use trace::Trace;
pub use unmeasured::{beyond_wall, unmeasured, unmeasured_ways};
pub use unread::trim_beyond;
pub use wants::{HANGER, Holds, WantMet, boxes_hold, clear_height, frames_hold, met, rail_for};
pub use ways::StandingWay;
