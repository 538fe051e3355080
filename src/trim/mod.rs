//! Trim: the mouldings and strips that close a row of boxes. Angles at the saw, pieces with both ends, widths that cover a gap.
//! Pure: facts of the opening, the row and the stock come in, pieces go out. Angles are floating point; a length leaves
//! trigonometry once, rounded to the nearest unit.

mod angles;
mod base;
mod closing;
mod cover;
mod crown;
mod ends;
mod frame;
mod pieces;
mod roles;

pub use base::foot_cover;
pub use closing::closing_name;
pub use cover::{covers, seam_strip};
pub use pieces::{Trimmed, trim};
