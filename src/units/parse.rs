//! Reading a size as she writes it. One grammar everywhere; see the table in the README.
//! Owns the grammar; must not know which field a size is for.

use super::{Length, Unit};

/// How a bare number and a comma are to be read.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct ReadAs {
    /// What a number without a unit is in.
    pub unit: Unit,
    /// True where the file separates columns with something else than a comma and the job is in mm: then `590,5` is 590.5.
    pub decimal_comma: bool,
    /// True where `full`/`shy` are allowed (survey readings).
    pub full_shy: bool,
    /// True where a negative size has a meaning (a wall leaning in).
    pub negative: bool,
}

/// What she wrote, read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Size {
    /// A size. `rounded` says that a decimal off the grid went to the nearest unit.
    Exact {
        /// The size.
        length: Length,
        /// True if a decimal off the grid was rounded to the nearest 1/80 000 mm.
        rounded: bool,
    },
    /// `3/4 nominal`: a name to be looked up, not a size.
    Nominal(Length),
    /// `?`: not measured yet.
    NotMeasured,
}

/// Why a text is no size: what was found wrong, what was expected, how to mend it. Carries no place.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
#[error("{why} Expected {expected}. Fix: {fix}")]
pub struct SizeError {
    /// One sentence.
    pub why: String,
    /// What would be right.
    pub expected: String,
    /// What to type instead.
    pub fix: String,
}

/// Reads any size the grammar allows.
pub fn parse_size(text: &str, how: ReadAs) -> Result<Size, SizeError> {
    let _ = (text, how);
    Err(SizeError {
        why: "not built yet".into(),
        expected: String::new(),
        fix: String::new(),
    })
}

/// Reads a size that must be a plain length: no `?`, no `nominal`.
pub fn parse_length(text: &str, how: ReadAs) -> Result<Length, SizeError> {
    match parse_size(text, how)? {
        Size::Exact { length, .. } => Ok(length),
        Size::Nominal(_) | Size::NotMeasured => Err(SizeError {
            why: format!("{text:?} is not a size."),
            expected: "a size".into(),
            fix: "type the size itself".into(),
        }),
    }
}
