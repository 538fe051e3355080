//! From her folder to a checked job, with all mistakes of all files at once.
//!
//! A reader never stops at the first mistake: it says what is wrong in five parts (where, found, expected, fix, the row
//! itself) and reads on. Files that cannot be opened at all are a [`ReadError`], not a mistake in them.

mod apart;
mod bare;
mod blade;
mod bytes;
mod columns;
mod cross;
mod defaults;
mod doubt;
mod find;
mod folder;
mod near;
mod offcuts;
mod overlong;
mod packs;
mod parts;
mod prefab;
mod report;
mod rescue;
mod reuse;
mod row;
mod scan;
mod stock;
mod table;
mod toml;
mod values;
mod workbook;

#[cfg(test)]
mod tests;

pub use bare::{BareOptions, read_bare};
pub(crate) use blade::no_blade;
pub use bytes::{Encoding, ReadError};
pub use folder::{ReadJob, Reads, Tables, read_folder};
pub use table::{LineEnd, RawCell, RawRow, RawTable};
