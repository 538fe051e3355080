//! Writing: what the tool makes goes to `made/` all together or not at all; her own files change only where a verb says
//! so, with the old one kept.
//!
//! Everything is written beside and renamed, so that a full disk, a file held open or a folder that may not be written
//! leaves what was there whole. No clock: numbers, not dates, tell kept files apart.

mod cell;
mod cut_list;
mod dxf;
mod edit;
mod error;
mod json;
mod kept;
mod lock;
mod made;
mod manifest;

pub use cell::{csv_line, safe_cell};
pub use cut_list::{Extras, cut_list_csv};
pub use dxf::sheet_dxf;
pub use edit::{CsvEdit, change_csv, new_csv};
pub use error::WriteError;
pub use json::json_text;
pub use kept::{keep_copy, replace_file};
pub use lock::RunLock;
pub use made::{Foreign, MadeFile, Put, Stamp, book_there, put_made};
