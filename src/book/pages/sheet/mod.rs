//! The page of one sheet: what its cuts divide, the sum that proves the sizes, the drawing, and the page itself.

mod cuts;
mod draw;
mod numbers;
mod page;
mod room;
mod sums;

pub(in crate::book) use cuts::setting_of;
pub(in crate::book) use draw::scales;
pub(in crate::book) use numbers::Map;
pub(in crate::book) use page::{sheet_svg, sheets};
