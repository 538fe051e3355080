//! The two embedded faces: which letters they have and how wide each is. Owns measuring and what is shown in place of a
//! letter that is missing or of a mark that would steer the text around it. Must not know where text is put.
//!
//! Sizes are heights of capitals, as in ISO 3098: what a reader with a ruler measures on the page.

use crate::model::is_hidden;
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::OnceLock;

/// How heavy letters are.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Weight {
    /// Usual text.
    #[default]
    Regular,
    /// Headings, marks, totals.
    Bold,
}

impl Weight {
    /// The embedded font file.
    pub(super) fn file(self) -> &'static [u8] {
        match self {
            Self::Regular => {
                include_bytes!("../../../assets/fonts/DejaVuSansCondensed.subset.ttf")
            }
            Self::Bold => {
                include_bytes!("../../../assets/fonts/DejaVuSansCondensed-Bold.subset.ttf")
            }
        }
    }
}

/// Height of a capital as a share of the em: 1493 of 2048 in both faces (OS/2 table, sCapHeight).
pub(super) const CAP_SHARE: f64 = 1493.0 / 2048.0;

/// Printed where the font has no such letter.
const MISSING: char = '\u{FFFD}';

/// Advance widths in thousandths of an em, rounded down as the PDF's own width table rounds them.
fn widths(weight: Weight) -> &'static BTreeMap<char, u16> {
    static FACES: OnceLock<[BTreeMap<char, u16>; 2]> = OnceLock::new();
    let faces = FACES.get_or_init(|| {
        [Weight::Regular, Weight::Bold].map(|weight| {
            let font = FontRef::new(weight.file()).expect("the embedded font is sound");
            let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
            let em = f32::from(
                font.metrics(Size::unscaled(), LocationRef::default())
                    .units_per_em,
            );
            font.charmap()
                .mappings()
                .filter_map(|(code, glyph)| {
                    let advance = metrics.advance_width(glyph)?;
                    Some((char::from_u32(code)?, (advance * 1000.0 / em) as u16))
                })
                .collect()
        })
    });
    match weight {
        Weight::Regular => &faces[0],
        Weight::Bold => &faces[1],
    }
}

/// How far a letter moves the pen, in millimetres, at a capital height of `size`.
pub(super) fn advance(letter: char, size: f64, weight: Weight) -> f64 {
    let table = widths(weight);
    let thousandths = table
        .get(&letter)
        .or_else(|| table.get(&MISSING))
        .copied()
        .unwrap_or(600);
    f64::from(thousandths) / 1000.0 * size / CAP_SHARE
}

/// The text with hidden marks written out as `‹U+202E›` and every sort of space as a plain one.
pub fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{00A0}' | '\u{2000}'..='\u{200A}' | '\u{202F}' | '\u{205F}' | '\u{3000}' => {
                shown.push(' ');
            }
            _ if is_hidden(letter) => {
                let _ = write!(shown, "\u{2039}U+{:04X}\u{203A}", letter as u32);
            }
            _ => shown.push(letter),
        }
    }
    shown
}

/// Fractions that have a letter of their own: it would be printed too small to read, so it is taken apart.
const VULGAR: &[(char, &str)] = &[
    ('\u{00BC}', "1/4"),
    ('\u{00BD}', "1/2"),
    ('\u{00BE}', "3/4"),
    ('\u{215B}', "1/8"),
    ('\u{215C}', "3/8"),
    ('\u{215D}', "5/8"),
    ('\u{215E}', "7/8"),
];

/// The text with nothing hidden in it and its fractions taken apart; letters that the font lacks are still there.
pub(super) fn readable(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for letter in visible(text).chars() {
        if let Some((_, apart)) = VULGAR.iter().find(|(v, _)| *v == letter) {
            if shown.ends_with(|c: char| c.is_ascii_digit()) {
                shown.push(' ');
            }
            shown.push_str(apart);
        } else {
            shown.push(letter);
        }
    }
    shown
}

/// The text as it can be printed, and the letters that the font lacks (each prints as a mark).
pub fn clean(text: &str) -> (String, Vec<char>) {
    let (mut shown, mut missing) = (String::with_capacity(text.len()), Vec::new());
    for letter in readable(text).chars() {
        if widths(Weight::Regular).contains_key(&letter)
            && widths(Weight::Bold).contains_key(&letter)
        {
            shown.push(letter);
        } else {
            shown.push(MISSING);
            if !missing.contains(&letter) {
                missing.push(letter);
            }
        }
    }
    (shown, missing)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Figures of one face share a width, so columns of numbers stand straight.
    #[test]
    fn figures_are_of_one_width() {
        for weight in [Weight::Regular, Weight::Bold] {
            let zero = advance('0', 2.5, weight);
            assert!(zero > 1.0 && zero < 2.5, "{zero}");
            for figure in '1'..='9' {
                assert_eq!(advance(figure, 2.5, weight), zero, "{figure}");
            }
        }
    }

    /// Unicode Standard Annex 9, table 4: the explicit direction marks; none may reach the page as itself.
    #[test]
    fn direction_marks_are_shown_and_not_obeyed() {
        for mark in [
            '\u{202A}', '\u{202B}', '\u{202C}', '\u{202D}', '\u{202E}', '\u{2066}', '\u{2067}',
            '\u{2068}', '\u{2069}', '\u{200E}', '\u{200F}', '\u{061C}', '\u{200B}', '\u{0007}',
            '\u{001B}', '\n',
        ] {
            let (shown, missing) = clean(&format!("a{mark}b"));
            assert_eq!(
                shown,
                format!("a\u{2039}U+{:04X}\u{203A}b", mark as u32),
                "{mark:?}"
            );
            assert!(missing.is_empty());
        }
    }

    #[test]
    fn a_letter_the_font_lacks_prints_as_a_mark_and_is_named() {
        let (shown, missing) = clean("shelf \u{68DA}\u{68DA}");
        assert_eq!(shown, "shelf \u{FFFD}\u{FFFD}");
        assert_eq!(missing, vec!['\u{68DA}']);
        assert_eq!(
            clean("ply 5\u{00BE} na\u{00EF}ve").0,
            "ply 5 3/4 na\u{00EF}ve"
        );
    }
}
