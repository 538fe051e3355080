//! The verdict: four words with fixed meanings, and the sentence `[route], [word], unless [what flips it]`.
//!
//! Owns the rule for the word and the wording; must not price anything itself.

use super::flips::{money, rate_flip};
use super::held::{Held, held};
use super::pair::Pair;
use super::shopping::Group;
use crate::model::compare::{Verdict, VerdictWord};

/// What a verdict word means, printed wherever one is used.
pub fn word_means(word: VerdictWord) -> &'static str {
    match word {
        VerdictWord::Clear => {
            "no single uncertain input changes it within its range, nor do all prices at their worst with the hours of the route you build at theirs"
        }
        VerdictWord::Likely => {
            "no single uncertain input changes it within its range; all at their worst together would, or the cheaper route gives under four fifths of the other's use"
        }
        VerdictWord::TooClose => {
            "a single price, or the hours of a route you build, changes it within its own range"
        }
        VerdictWord::None => {
            "a price, a rate, hours or a reading that matter are missing, a route falls short of what you want, or the cheaper route gives under half of the other's use"
        }
    }
}

/// The word as it is shown.
pub fn word_shown(word: VerdictWord) -> &'static str {
    match word {
        VerdictWord::Clear => "clear",
        VerdictWord::Likely => "likely",
        VerdictWord::TooClose => "too close to call",
        VerdictWord::None => "no verdict",
    }
}

/// The verdict on a pair with everything known.
pub(crate) fn verdict(pair: &Pair) -> Verdict {
    let prices = pair.prices_that_flip();
    let pace = pair.pace_that_flips();
    let tie = pair.ahead_now().is_none_or(|a| a <= 0);
    let single = tie || !prices.is_empty() || pace.is_some();
    let word = match (single, pair.ahead_at_worst()) {
        (true, _) => VerdictWord::TooClose,
        (false, Some(ahead)) if ahead > 0 && held(pair) == Held::Alike => VerdictWord::Clear,
        (false, _) => VerdictWord::Likely,
    };
    let mut unless: Vec<String> = Vec::new();
    unless.extend(rate_words(pair));
    for input in &prices {
        unless.extend(price_words(pair, &input.code, input.group));
    }
    if let Some(route) = pace {
        let better = route.name == pair.other.name;
        let pace = if better { "less" } else { "more" };
        unless.push(format!("{} takes you {pace} time than stated", route.name));
    }
    if tie {
        unless.push("you weigh more than money and time: both come to the same".into());
    }
    if unless.is_empty() {
        unless.push("a price leaves the range you gave".into());
    }
    Verdict {
        word,
        sentence: format!(
            "{}, {}, unless {}.",
            capital(&pair.winner.name),
            word_shown(word),
            unless.join(" or ")
        ),
    }
}

/// `an hour of yours is worth less than about 4`.
fn rate_words(pair: &Pair) -> Option<String> {
    let at = rate_flip(pair.winner, pair.other, 0.0)?.at?;
    let less = (pair.rate.0 as f64) >= at;
    let word = if less { "less" } else { "more" };
    Some(format!(
        "an hour of yours is worth {word} than about {}",
        about(at, pair.rate.0 as f64)
    ))
}

/// At which price within its range the answer changes; solved on the sum itself, which is a straight line in one price.
fn price_words(pair: &Pair, code: &str, group: Group) -> Option<String> {
    let this = |e: &super::shopping::Entry| e.code == code && e.group == group;
    let input = pair
        .inputs()
        .into_iter()
        .find(|i| i.code == code && i.group == group)?;
    let now = pair.ahead_now()? as f64;
    for (end, word) in [(input.price.low, "less"), (input.price.high, "more")] {
        let there = pair.ahead_where(&this, &|_| end.0)? as f64;
        if there <= 0.0 && now > there {
            let from = input.price.likely.0 as f64;
            let at = from + (end.0 as f64 - from) * now / (now - there);
            return Some(format!("{code} costs {word} than about {}", money(at)));
        }
    }
    None
}

/// Rounded to whole money, unless that would hide on which side of `near` it lies.
fn about(cents: f64, near: f64) -> String {
    if cents < 200.0 || (cents - near).abs() < 200.0 {
        return money(cents);
    }
    let whole = (cents / 100.0).round() as i64;
    crate::units::Cents(whole * 100)
        .print()
        .trim_end_matches(".00")
        .to_owned()
}

pub(crate) fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters
        .next()
        .map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}
