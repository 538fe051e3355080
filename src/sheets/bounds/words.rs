//! Numbers in words.

/// Small numbers in words, others in figures.
pub(super) fn words(n: i64) -> String {
    const WORDS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    let word = usize::try_from(n - 1).ok().and_then(|i| WORDS.get(i));
    word.map_or_else(|| n.to_string(), |w| (*w).to_owned())
}

/// With a capital letter.
pub(super) fn capital(word: String) -> String {
    let mut letters = word.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => word,
    }
}
