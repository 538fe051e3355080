//! A file's bytes, and the text in them whatever program saved it. Owns encodings and the size limit; must not know what
//! the text means.
//!
//! Encodings: UTF-8 with or without a byte-order mark, UTF-16 with one (what a spreadsheet saves as "Unicode text"), and
//! Windows-1252 for a file that is not valid UTF-8 (what an older spreadsheet saves as "CSV"); table: WHATWG Encoding
//! Standard, index windows-1252.

use super::report::{Report, Wrong};
use crate::model::Spot;
use std::io::Read;
use std::path::{Path, PathBuf};

/// Largest file that is read, and largest workbook when unzipped: 50 MB.
pub(crate) const MOST_BYTES: u64 = 50_000_000;

/// A file that could not be read at all: no mistake in it, and nothing to do with its content.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// There is no such folder, or it holds no project.toml.
    #[error("{} holds no project.toml, so it is not a job folder. Fix: name the folder with --in, or make one with start.", .0.display())]
    NotAJob(PathBuf),
    /// The file is not there.
    #[error("{} is not there. Fix: check the name; names of files count capitals on some computers.", .0.display())]
    Missing(PathBuf),
    /// A folder stands where a file should.
    #[error("{} is a folder, not a file. Fix: name a file; a job folder is named with --in.", .0.display())]
    Folder(PathBuf),
    /// Something that is no folder was named as the job.
    #[error("{} is not a folder. Fix: name the folder that holds project.toml.", .0.display())]
    NotAFolder(PathBuf),
    /// The computer would not hand it over.
    #[error("{} could not be read: {why}. Fix: close it in the spreadsheet, and check that you may read it.", .path.display())]
    Io {
        /// Which file.
        path: PathBuf,
        /// What the computer said.
        why: std::io::Error,
    },
}

/// How the text was stored.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Encoding {
    /// Plain UTF-8.
    #[default]
    Utf8,
    /// UTF-8 behind a byte-order mark.
    Utf8Mark,
    /// UTF-16, low byte first.
    Utf16Low,
    /// UTF-16, high byte first.
    Utf16High,
    /// Windows-1252.
    Windows1252,
}

/// Reads a whole file. `Ok(None)` = over the limit, which is a mistake and is said.
pub(crate) fn read_bytes(
    path: &Path,
    shown: &str,
    report: &mut Report,
) -> Result<Option<Vec<u8>>, ReadError> {
    let io = |why: std::io::Error| match why.kind() {
        std::io::ErrorKind::NotFound => ReadError::Missing(path.to_owned()),
        _ if path.is_dir() => ReadError::Folder(path.to_owned()),
        _ => ReadError::Io {
            path: path.to_owned(),
            why,
        },
    };
    let file = std::fs::File::open(path).map_err(io)?;
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(io)?;
    if bytes.len() as u64 > MOST_BYTES {
        report.mistake(
            Spot {
                file: shown.to_owned(),
                ..Spot::default()
            },
            "more than 50 MB",
            Wrong::new(
                "The file is larger than anything a job needs.",
                "a file of 50 MB at most",
                "check that it is the right file; take out pictures and empty rows.",
            ),
        );
        return Ok(None);
    }
    Ok(Some(bytes))
}

/// The text of a file.
pub(crate) fn decode(bytes: Vec<u8>, shown: &str, report: &mut Report) -> (String, Encoding) {
    match bytes.as_slice() {
        [0xEF, 0xBB, 0xBF, rest @ ..] => {
            let (text, encoding) = decode_plain(rest.to_vec(), shown, report);
            let marked = if encoding == Encoding::Utf8 {
                Encoding::Utf8Mark
            } else {
                encoding
            };
            (text, marked)
        }
        [0xFF, 0xFE, rest @ ..] => (
            utf16(rest, u16::from_le_bytes, shown, report),
            Encoding::Utf16Low,
        ),
        [0xFE, 0xFF, rest @ ..] => (
            utf16(rest, u16::from_be_bytes, shown, report),
            Encoding::Utf16High,
        ),
        _ => decode_plain(bytes, shown, report),
    }
}

fn decode_plain(bytes: Vec<u8>, shown: &str, report: &mut Report) -> (String, Encoding) {
    match String::from_utf8(bytes) {
        Ok(text) => (text, Encoding::Utf8),
        Err(e) => {
            let at = e.utf8_error().valid_up_to();
            let bytes = e.into_bytes();
            let row = bytes[..at].split(|b| *b == b'\n').count();
            let text: String = bytes.iter().map(|b| windows_1252(*b)).collect();
            report.caution(
                Spot { file: shown.to_owned(), row: Some(row), ..Spot::default() },
                "letters that are not UTF-8",
                Wrong::new(
                    "The file was saved in an older way (Windows-1252), so marks and accents were read that way.",
                    "a file saved as UTF-8",
                    "look at the names; if one is wrong, save the file as \"CSV UTF-8\".",
                ),
            );
            (text, Encoding::Windows1252)
        }
    }
}

fn utf16(bytes: &[u8], join: fn([u8; 2]) -> u16, shown: &str, report: &mut Report) -> String {
    let units = bytes.chunks_exact(2).map(|b| join([b[0], b[1]]));
    let mut broken = !bytes.len().is_multiple_of(2);
    let text: String = char::decode_utf16(units)
        .map(|c| {
            c.unwrap_or_else(|_| {
                broken = true;
                char::REPLACEMENT_CHARACTER
            })
        })
        .collect();
    if broken {
        report.mistake(
            Spot {
                file: shown.to_owned(),
                ..Spot::default()
            },
            "broken letters",
            Wrong::new(
                "The file says it is Unicode text, but some of its letters are cut in half.",
                "a file saved as \"CSV UTF-8\"",
                "save it again from the spreadsheet.",
            ),
        );
    }
    text
}

/// One byte of Windows-1252. The five bytes without a letter become control marks, as the standard has it.
fn windows_1252(byte: u8) -> char {
    const HIGH: [char; 32] = [
        '\u{20AC}', '\u{81}', '\u{201A}', '\u{192}', '\u{201E}', '\u{2026}', '\u{2020}',
        '\u{2021}', '\u{2C6}', '\u{2030}', '\u{160}', '\u{2039}', '\u{152}', '\u{8D}', '\u{17D}',
        '\u{8F}', '\u{90}', '\u{2018}', '\u{2019}', '\u{201C}', '\u{201D}', '\u{2022}', '\u{2013}',
        '\u{2014}', '\u{2DC}', '\u{2122}', '\u{161}', '\u{203A}', '\u{153}', '\u{9D}', '\u{17E}',
        '\u{178}',
    ];
    match byte {
        0x80..=0x9F => HIGH[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}
