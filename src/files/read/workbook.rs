//! A workbook (.xlsx, .ods) read as a table.
use super::report::{Report, Wrong};
use super::table::RawTable;
use crate::model::Spot;
use std::path::PathBuf;

pub(crate) fn read_workbook(
    _bytes: Vec<u8>,
    _path: PathBuf,
    shown: &str,
    report: &mut Report,
) -> Option<RawTable> {
    report.mistake(
        Spot {
            file: shown.to_owned(),
            ..Spot::default()
        },
        "a workbook",
        Wrong::new("It cannot be read yet.", "a CSV file", "save it as CSV."),
    );
    None
}
