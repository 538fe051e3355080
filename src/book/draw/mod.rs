//! Drawing: a display list in millimetres with its origin at the top left, and the painters that turn it into PDF and SVG.
//!
//! Pages and sheet drawings are made of [`Item`]s and know no file format; a painter knows nothing of what it paints.
//! Text is measured from the same font files that are embedded, so what fits here fits on paper.

mod dump;
mod font;
mod list;
mod marks;
mod pdf;
mod svg;
mod text;

pub use font::{Weight, clean, visible};
pub(crate) use list::pt;
pub use list::{Area, Dash, Drawing, Fill, Item, Pen, Point};
pub use marks::Side;
pub(crate) use marks::balloon_radius;
pub use pdf::{Leaf, PdfFacts, to_pdf};
pub use svg::to_svg;
pub use text::{Anchor, Run, Text, Turn, line_pitch, text_width, words, wrap};
