//! What is printed: the build book as PDF, its text twin, the sheets as drawings.
//!
//! Pages say what they say as blocks (`block`); blocks are laid out on paper (`layout`) and as text; drawings are display
//! lists ([`draw`]) that painters turn into files. Nothing here computes a plan or a price.

mod block;
pub mod draw;
mod layout;
mod make;
mod pages;
mod reading_sheet;
mod table;
#[cfg(test)]
pub(crate) mod tests;
mod twin;

pub use make::{Book, BookInput, For, PageEntry, make_book};
pub use pages::stationery::{LabelOptions, Stationery};
pub use reading_sheet::reading_sheet;
