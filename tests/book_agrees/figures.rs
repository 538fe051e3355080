//! Words and numbers of a line of text, and lengths in the unit of `plan.json`.

use std::collections::BTreeSet;

/// 1/80000 mm, as `plan.json` has it.
pub(crate) const MM: i64 = 80_000;
pub(crate) const INCH: i64 = 2_032_000;

fn bare(word: &str) -> &str {
    word.trim_matches(|c: char| "()[]|,;:.!\"'".contains(c))
}

/// Words without the signs around them, in small letters; ticks and blanks to fill in are no words.
pub(crate) fn words(lines: &[impl AsRef<str>]) -> BTreeSet<String> {
    let all = lines.iter().flat_map(|l| l.as_ref().split_whitespace());
    all.map(|w| bare(w).to_lowercase())
        .filter(|w| w.chars().any(char::is_alphanumeric))
        .collect()
}

fn is_fraction(word: &str) -> bool {
    let figures = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    word.split_once('/')
        .is_some_and(|(a, b)| figures(a) && figures(b))
}

/// Every word with a figure in it; a whole number and its fraction are one.
pub(crate) fn numbers(lines: &[impl AsRef<str>]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for line in lines {
        // A whole number that the next word may be the fraction of.
        let mut open = false;
        for word in line.as_ref().split(' ') {
            let clean = bare(word);
            if open && is_fraction(clean) {
                let whole = all.last_mut().expect("a whole number");
                whole.push(' ');
                whole.push_str(clean);
                open = false;
                continue;
            }
            open = !word.is_empty()
                && word
                    .trim_start_matches(['(', '|'])
                    .bytes()
                    .all(|b| b.is_ascii_digit());
            if clean.bytes().any(|b| b.is_ascii_digit()) {
                all.push(clean.to_lowercase());
            }
        }
    }
    all
}

/// A printed length: its value in units and whether it says *shy* (-1) or *full* (1).
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Shown {
    value: i64,
    hair: i64,
    inch: bool,
}

/// Reads a length as it is printed, e.g. `27 1/16 shy` or, in millimetres, `2100`.
pub(crate) fn shown(text: &str, inch: bool) -> Option<Shown> {
    let (text, hair) = match text.trim() {
        t if t.ends_with(" shy") => (&t[..t.len() - 4], -1),
        t if t.ends_with(" full") => (&t[..t.len() - 5], 1),
        t => (t, 0),
    };
    let mut value = 0;
    for (i, word) in text.split(' ').enumerate() {
        if let Some((a, b)) = word.split_once('/') {
            let (a, b): (i64, i64) = (a.parse().ok()?, b.parse().ok()?);
            value += a * INCH / b;
        } else if i > 0 {
            return None;
        } else if inch {
            value += word.parse::<i64>().ok()? * INCH;
        } else {
            value += (word.parse::<f64>().ok()? * MM as f64).round() as i64;
        }
    }
    Some(Shown { value, hair, inch })
}

impl Shown {
    /// True if that is how `exact` is printed on a tape of 1/16 in or 1 mm: to the nearest mark, with *full* or *shy* where
    /// it lies more than a quarter mark away. A finer figure, exact by itself, is right too.
    pub(crate) fn is(self, exact: i64) -> bool {
        let mark = if self.inch { INCH / 16 } else { MM };
        let over = exact - self.value;
        if self.hair == 0 {
            over.abs() <= mark / 4 + 1
        } else {
            over.signum() == self.hair && over.abs() <= mark / 2 + 1
        }
    }
}

/// `12,345.60` of whole cents.
pub(crate) fn money(cents: i64) -> String {
    let whole = (cents.abs() / 100).to_string();
    let mut grouped = String::new();
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(c);
    }
    let sign = if cents < 0 { "-" } else { "" };
    format!("{sign}{grouped}.{:02}", cents.abs() % 100)
}
