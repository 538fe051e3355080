//! Whether two routes may be held against each other: goods without a price that matter, and routes of unlike use.
//!
//! Owns three fixed rules, printed with the verdict's words. Goods that are in no row of stock.csv matter where the cheaper route
//! needs more of them than the other: leaving them out has then made it look cheaper than it is. Where no `[want]` holds both
//! routes to the same use, the cheaper one must give at least half of the other's use for any verdict, and four fifths for the
//! word clear; use is room inside, and shelf and rail together, whichever stands worse. Halves and fifths are a judgement, no
//! source.

use super::pair::Pair;
use super::route::Priced;
use super::verdict::capital;

/// Per cent of the other route's use below which there is no verdict. [default: 50] [range: 1-100]
const ANY_FROM: i64 = 50;
/// And below which the word is not clear. [default: 80] [range: 1-100]
const CLEAR_FROM: i64 = 80;

/// Goods that come to a few coins, whatever the route: named, and without weight.
const NOT_WEIGHED: [&str; 2] = ["strip nails", "back nails"];

/// What the rules of this file say, for the pages.
pub const HELD_RULES: [&str; 2] = [
    "Goods in no row of stock.csv have no price and are in no total. They matter, and there is no verdict, where the cheaper route \
     needs more of them than the other. Nails come to a few coins: they are named and not weighed.",
    "Where no [want] is given, the routes are not held to the same use. There is then no verdict where the cheaper route gives less \
     than half of the other's use, and the word is not clear where it gives less than four fifths. Use is the room inside, and the \
     length of shelf and rail together, whichever stands worse.",
];

/// Goods without a price that the cheaper route needs more of than the other, each with its rule.
pub(crate) fn lacks_that_matter(pair: &Pair) -> Vec<String> {
    let (a, b) = (&pair.winner.bought.lacks, &pair.other.bought.lacks);
    let need = |of: &[super::demand::Lack], what: &str| -> f64 {
        of.iter()
            .filter(|l| l.what == what)
            .map(|l| l.quantity)
            .sum()
    };
    let more = |l: &&super::demand::Lack| {
        !NOT_WEIGHED.contains(&l.what.as_str()) && need(a, &l.what) > need(b, &l.what)
    };
    a.iter()
        .filter(more)
        .map(|l| {
            format!(
                "stock.csv: no row for what route {} needs: {}",
                pair.winner.name, l.why
            )
        })
        .collect()
}

/// How the use of the cheaper route stands beside the other's.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Held {
    /// A want holds both to the same use, or they give much the same.
    Alike,
    /// Under four fifths.
    Less(i64),
    /// Under half.
    FarLess(i64),
}

/// True where no want of hers holds both to the same use.
pub(crate) fn unheld(pair: &Pair) -> bool {
    pair.winner.met.is_none() || pair.other.met.is_none()
}

pub(crate) fn held(pair: &Pair) -> Held {
    if !unheld(pair) {
        return Held::Alike;
    }
    match share(pair.winner, pair.other) {
        Some(s) if s < ANY_FROM => Held::FarLess(s),
        Some(s) if s < CLEAR_FROM => Held::Less(s),
        _ => Held::Alike,
    }
}

/// Per cent of the other's use that a route gives, by the measure in which it stands worse, rounded down.
fn share(a: &Priced, b: &Priced) -> Option<i64> {
    let of = |x: i64, y: i64| {
        let percent = i128::from(x) * 100 / i128::from(y.max(1));
        (y > 0).then_some(i64::try_from(percent).unwrap_or(i64::MAX))
    };
    let room = a
        .space
        .zip(b.space)
        .and_then(|(x, y)| of(x.inside, y.inside));
    let length = |r: &Priced| Some((r.shelf? + r.hanging?).units());
    let length = length(a).zip(length(b)).and_then(|(x, y)| of(x, y));
    room.into_iter().chain(length).min()
}

/// How much of the opening each route uses, where no want holds them to the same; it belongs to the verdict.
pub(crate) fn use_said(pair: &Pair) -> Option<String> {
    if !unheld(pair) {
        return None;
    }
    let each = |r: &Priced| {
        r.space
            .map(|s| format!("{} uses {}% of the opening", r.name, s.percent()))
    };
    let why = "no [want] is given, so the routes are not held to the same use";
    let used = match (each(pair.winner), each(pair.other)) {
        (Some(a), Some(b)) => format!("{a}, {b}"),
        _ => "how much of the opening each uses is not known".into(),
    };
    let far = match held(pair) {
        Held::Alike => String::new(),
        Held::Less(s) | Held::FarLess(s) => format!(
            "; by room or by shelf and rail {} gives {s}% of what {} gives",
            pair.winner.name, pair.other.name
        ),
    };
    Some(format!("{}: {used}{far}.", capital(why)))
}
