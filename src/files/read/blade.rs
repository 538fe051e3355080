//! The width of a saw blade's cut: what no blade takes is refused, with what was likely meant.
//!
//! Owns the most that is believed. Common practice, no source: blades for wood take 1/16 to 3/16 in, and no more than 1/4.

use super::report::Wrong;
use crate::units::{Length, ReadAs, Size, Tape, Unit, parse_size};

/// What a kerf is, for messages.
pub(crate) const EXPECTED: &str = "the width of wood the blade takes, such as 1/8";

/// The widest kerf that is believed.
fn most(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::in_64(24),
        Unit::Mm => Length::mm(10),
    }
}

/// What is wrong with a kerf typed so, if it is one that no blade takes; a comma counts as a point here.
pub(crate) fn no_blade(text: &str, how: ReadAs) -> Option<Wrong> {
    let text = text.trim();
    let pointed = text.replace(',', ".");
    let Ok(Size::Exact { length, .. }) = parse_size(&pointed, how) else {
        return None;
    };
    let most = most(how.unit);
    if length <= most {
        return None;
    }
    let mut meant = Vec::new();
    let believed = |typed: &str, how: ReadAs| match parse_size(typed, how) {
        Ok(Size::Exact { length, .. }) => length.is_positive() && length <= most,
        _ => false,
    };
    let stroked = text.replacen([',', '.'], "/", 1);
    if how.unit == Unit::Inch && stroked != text && believed(&stroked, how) {
        meant.push(stroked);
    }
    let bare = pointed.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let mm = format!("{pointed} mm");
    if how.unit == Unit::Inch && bare && believed(&mm, how) {
        meant.push(mm);
    }
    let usual = match how.unit {
        Unit::Inch => "1/8",
        Unit::Mm => "3.2",
    };
    let fix = if meant.is_empty() {
        format!("type the width of the blade's cut, such as {usual}.")
    } else {
        format!("did you mean {}?", meant.join(" or "))
    };
    Some(Wrong::new(
        format!(
            "No saw blade takes so much; {} is the most that is believed.",
            Tape::usual(how.unit).print_exact(most)
        ),
        EXPECTED,
        fix,
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
        no_blade(text, how).map(|w| w.fix)
    }

    #[test]
    fn what_was_meant_by_an_absurd_kerf() {
        for (text, meant) in [
            ("1,8", Some("did you mean 1/8 or 1.8 mm?")),
            ("1.8", Some("did you mean 1/8 or 1.8 mm?")),
            ("3", Some("did you mean 3 mm?")),
            ("3,2", Some("did you mean 3.2 mm?")),
            (
                "1/2",
                Some("type the width of the blade's cut, such as 1/8."),
            ),
            (
                "40",
                Some("type the width of the blade's cut, such as 1/8."),
            ),
            ("3/8", None),
            ("3/32", None),
            ("0,125", None),
            ("3.2 mm", None),
            ("?", None),
        ] {
            assert_eq!(fix(text, Unit::Inch).as_deref(), meant, "{text}");
        }
        assert_eq!(fix("3.2", Unit::Mm), None);
        assert_eq!(fix("1/8 in", Unit::Mm), None);
        assert!(fix("32", Unit::Mm).is_some());
    }
}
