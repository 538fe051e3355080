//! What a row of stock.csv is for, by its words.

use crate::model::StockRow;

/// What a moulding or board is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Role {
    /// Nailed to, not seen.
    Cleat,
    /// Along the floor, over the base.
    Shoe,
    /// Under the ceiling.
    Crown,
    /// Thin, bent to wall and ceiling.
    Scribe,
    /// Along the floor.
    Base,
    /// What clothes hang on: it covers nothing.
    Rail,
    /// Anything else.
    Flat,
}

pub(super) fn role(row: &StockRow) -> Role {
    let what = row.what.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|w| what.contains(w));
    if row.is_rail() {
        Role::Rail
    } else if has(&["cleat", "backing", "furring", "batten"]) {
        Role::Cleat
    } else if has(&["shoe", "quarter round"]) {
        Role::Shoe
    } else if has(&["crown"]) {
        Role::Crown
    } else if has(&["scribe"]) {
        Role::Scribe
    } else if has(&["base", "skirting"]) {
        Role::Base
    } else {
        Role::Flat
    }
}

/// Spring angle as a crown's row gives it in words: `52/38`, `38/52`, `45/45`.
pub(super) fn spring_said(words: &str) -> Option<u32> {
    words
        .split(|c: char| !c.is_ascii_digit() && c != '/')
        .find_map(|pair| match pair {
            "52/38" | "38/52" => Some(38),
            "45/45" => Some(45),
            _ => None,
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spring_is_read_from_the_row_of_the_crown() {
        assert_eq!(spring_said("crown 3 5/8, 52/38 spring"), Some(38));
        assert_eq!(spring_said("cornice 45/45"), Some(45));
        // Sizes and codes with these figures are no angle.
        assert_eq!(spring_said("crown 45 mm, 3/8 thick, C45"), None);
    }
}
