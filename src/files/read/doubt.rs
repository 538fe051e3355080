//! Sizes that make sense in the other unit only: 2400 typed in an inch job was meant in millimetres.
//!
//! Owns the doubt and its words; the bounds come from where the size stands. A size typed with its unit is never doubted.

use super::report::Wrong;
use crate::units::{Length, ReadAs, Size, Tape, Unit, parse_size};

/// Longer than any wall of a closet, shorter than what is longest there in millimetres: 40 ft. Common practice, no source.
pub(crate) const LONGEST: Length = Length::inches(480);
/// Longer than any part that goes through a house: 20 ft. Common practice, no source.
pub(crate) const LONGEST_PART: Length = Length::inches(240);
/// Farther than a plumb line is hung from its wall. Common practice, no source.
pub(crate) const WIDEST_GAP: Length = Length::inches(24);
/// Thicker than anything that is bought by its thickness. Common practice, no source.
pub(crate) const THICKEST: Length = Length::inches(6);
/// Narrower than any box or opening: 100 mm. Common practice, no source.
pub(crate) const NARROWEST: Length = Length::mm(100);

/// What is to be thought of a bare number that is out of bounds as read, and within them in the other unit.
pub(crate) fn other_unit(
    text: &str,
    length: Length,
    [least, most]: [Length; 2],
    how: ReadAs,
) -> Option<Wrong> {
    let within = |l: Length| least <= l && l <= most;
    if within(length.abs()) {
        return None;
    }
    let unit = match how.unit {
        Unit::Inch => Unit::Mm,
        Unit::Mm => Unit::Inch,
    };
    let Ok(Size::Exact { length: other, .. }) = parse_size(text, ReadAs { unit, ..how }) else {
        return None;
    };
    // One with its unit reads alike both ways.
    if other == length || !within(other.abs()) || other == Length::ZERO {
        return None;
    }
    let (read, word, sign) = match how.unit {
        Unit::Inch => ("inches", "mm", "mm"),
        Unit::Mm => ("millimetres", "in", "inch"),
    };
    let way = if length.abs() > most { "more" } else { "less" };
    let bound = if length.abs() > most { most } else { least };
    let typed = text.trim();
    Some(Wrong::new(
        format!(
            "A bare number is in {read} here, and {typed} {read} is {way} than such a size has ({}).",
            Tape::usual(how.unit).print_exact(bound)
        ),
        format!("a size in {read}, or one with its unit"),
        format!(
            "did you mean {typed} {word}? Then type it so, or units = \"{sign}\" under [project] (--units {sign} for just a cut list) if the whole job is."
        ),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fix(text: &str, unit: Unit) -> Option<String> {
        let how = ReadAs {
            unit,
            ..ReadAs::default()
        };
        let Ok(Size::Exact { length, .. }) = parse_size(text, how) else {
            panic!("{text}");
        };
        other_unit(text, length, [NARROWEST, LONGEST], how).map(|w| w.fix)
    }

    #[test]
    fn only_a_bare_number_that_fits_the_other_unit_is_doubted() {
        assert!(
            fix("2400", Unit::Inch)
                .unwrap()
                .starts_with("did you mean 2400 mm?")
        );
        assert!(
            fix("60", Unit::Mm)
                .unwrap()
                .starts_with("did you mean 60 in?")
        );
        for (text, unit) in [
            ("94 1/2", Unit::Inch),
            ("2400 mm", Unit::Inch),
            ("41 ft", Unit::Inch),
            ("2", Unit::Inch),
            ("2400", Unit::Mm),
            ("2 in", Unit::Mm),
        ] {
            assert_eq!(fix(text, unit), None, "{text}");
        }
    }
}
