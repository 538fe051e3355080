//! The opening in the book: what was read, how the route stands in it, how the base is levelled. Nothing is computed here
//! that the survey and the fit have not said.

mod front;
mod ground;
mod level;
mod missing;
mod plan;
mod readings;
mod section;
mod side_view;
mod sides;
mod stands;
mod survey;
mod tenfold;

pub(super) use level::{level, shim};
pub(super) use stands::{stands, stands_title};
pub(super) use survey::survey;
