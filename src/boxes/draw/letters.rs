//! The letter of each box: its name's first where that is free, else the next one of the alphabet.

use std::collections::BTreeSet;

/// Letters of base, strips and strips over joints.
const TAKEN: [&str; 3] = ["P", "S", "T"];
/// Letters no box is given: they look like figures.
const LIKE_FIGURES: [char; 2] = ['I', 'O'];

/// Letters given so far.
#[derive(Default)]
pub(super) struct Letters {
    given: BTreeSet<String>,
}

impl Letters {
    /// A letter for a box of that name, or letters where the alphabet is used up.
    pub(super) fn take(&mut self, name: &str) -> String {
        let first = name.chars().find(char::is_ascii_alphabetic);
        let first = first
            .map(|c| c.to_ascii_uppercase())
            .filter(|c| !LIKE_FIGURES.contains(c));
        let single = || {
            ('A'..='Z')
                .filter(|c| !LIKE_FIGURES.contains(c))
                .map(String::from)
        };
        let double = single().flat_map(|a| single().map(move |b| format!("{a}{b}")));
        let letter = first
            .map(String::from)
            .into_iter()
            .chain(single())
            .chain(double)
            .find(|l| !TAKEN.contains(&l.as_str()) && !self.given.contains(l))
            .unwrap_or_else(|| format!("Z{}Z", self.given.len()));
        self.given.insert(letter.clone());
        letter
    }
}
