//! The nearest known name to one she typed. Owns the measure of nearness; must not know what the names stand for.
//!
//! Nearness is the optimal-string-alignment distance: the fewest letters put in, left out, changed, or swapped with a
//! neighbour (Damerau 1964, "A technique for computer detection and correction of spelling errors").

/// Names longer than this are never compared: the table is quadratic in the length.
const LONGEST: usize = 64;

/// Fewest single-letter slips between two words, letter case left out.
pub(crate) fn slips(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().flat_map(char::to_lowercase).collect();
    let b: Vec<char> = b.chars().flat_map(char::to_lowercase).collect();
    if a.len() > LONGEST || b.len() > LONGEST {
        return usize::MAX;
    }
    // Three rows are enough: a swap looks two rows back.
    let mut before: Vec<usize> = vec![0; b.len() + 1];
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut now = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let change = usize::from(a[i - 1] != b[j - 1]);
            now[j] = (last[j] + 1).min(now[j - 1] + 1).min(last[j - 1] + change);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                now[j] = now[j].min(before[j - 2] + 1);
            }
        }
        before = std::mem::replace(&mut last, now);
    }
    last[b.len()]
}

/// The known name that is near enough to be meant; the first of equals.
pub(crate) fn nearest<'a>(
    typed: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let length = typed.chars().count();
    known
        .into_iter()
        .map(|name| (slips(typed, name), name))
        .filter(|(d, name)| {
            let longest = length.max(name.chars().count());
            // A third of the letters may be wrong, but never all of a short word.
            *d <= (longest / 3).max(1) && *d < longest
        })
        .min_by_key(|(d, _)| *d)
        .map(|(_, name)| name)
}

/// "Did you mean X?" or a list of what there is, for the `fix` of a mistake.
pub(crate) fn did_you_mean<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    let known: Vec<&str> = known.into_iter().collect();
    match nearest(typed, known.iter().copied()) {
        Some(name) => format!("did you mean {name}?"),
        None if known.is_empty() => "take it out.".into(),
        None => format!("use one of: {}.", known.join(", ")),
    }
}

/// The first few of a list, and how many more there are.
pub(crate) fn some_of(names: &[&str]) -> String {
    const SHOWN: usize = 10;
    let mut text = names
        .iter()
        .take(SHOWN)
        .copied()
        .collect::<Vec<_>>()
        .join(", ");
    if names.len() > SHOWN {
        text.push_str(" and ");
        text.push_str(&(names.len() - SHOWN).to_string());
        text.push_str(" more");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: one letter left out, one swapped pair, three changes.
    #[test]
    fn slips_are_counted() {
        assert_eq!(slips("lenght", "length"), 1);
        assert_eq!(slips("widt", "width"), 1);
        assert_eq!(slips("kerb", "saws"), 4);
        assert_eq!(slips("PLY-18", "ply-18"), 0);
    }

    #[test]
    fn far_words_are_not_offered() {
        assert_eq!(nearest("lenght", ["width", "length"]), Some("length"));
        assert_eq!(nearest("colour", ["width", "length"]), None);
        assert_eq!(nearest("x", ["y"]), None);
    }
}
