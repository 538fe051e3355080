//! Weights that come down to counting large parts, in an installer's words.
//!
//! A part that weighs at least t comes off a sheet that holds M at most M / t times, rounded down, together with its likes.
//! If so many parts weigh t that the sheets at hand and one sheet fewer do not give them, that is the whole proof, and it
//! can be said of any of those parts: of all that are so wide, or so long, or of a few by name.

use super::words::{capital, words};
use crate::model::certificate::WeightsProof;
use crate::model::task::{PieceKind, SheetTask};
use crate::units::{Length, Tape};

/// Parts described by both sides only where there are at most so many kinds of them.
const BOTH_SIDES: usize = 80;
/// Marks named one by one.
const NAMED: usize = 3;

/// Why at least `sheets` must be bought, where counting large parts shows it; one size can be bought.
pub(super) fn big_parts(
    task: &SheetTask,
    proof: &WeightsProof,
    sheets: u32,
    tape: &Tape,
) -> Option<String> {
    let there = |item: &str, rack: &Option<String>| {
        let holds = proof
            .holds
            .iter()
            .filter(|h| h.item == item && h.rack == *rack);
        holds.map(|h| h.most).max().unwrap_or(0)
    };
    let mut buyable = task.kinds.iter().filter(|k| k.at_most != Some(0));
    let (Some(sheet), None) = (buyable.next(), buyable.next()) else {
        return None;
    };
    let most = there(&sheet.item, &sheet.rack);
    let weight = |p: &PieceKind| {
        let listed = proof
            .weights
            .iter()
            .filter(|w| w.mark == p.mark && w.count == p.count);
        listed.map(|w| w.weight).min().unwrap_or(0)
    };
    let parts: Vec<(&PieceKind, i64)> = (task.pieces.iter())
        .filter(|p| p.count > 0)
        .map(|p| (p, weight(p)))
        .collect();
    let mut weights: Vec<i64> = parts.iter().map(|p| p.1).filter(|w| *w > 0).collect();
    weights.sort_unstable();
    weights.dedup();
    let mut best: Option<(u8, i64, String)> = None;
    for t in weights.into_iter().rev() {
        let gives = most / t;
        let in_hand: i64 = (task.kinds.iter())
            .map(|k| i64::from(k.have) * (there(&k.item, &k.rack) / t))
            .sum();
        if gives == 0 {
            continue;
        }
        let enough = in_hand + gives * i64::from(sheets.saturating_sub(1));
        let Some((plainness, count, what)) = describe(&parts, t, enough, tape) else {
            continue;
        };
        if best
            .as_ref()
            .is_some_and(|b| (b.0, b.1) <= (plainness, gives))
        {
            continue;
        }
        let free = task.kinds.iter().any(|k| k.have > 0);
        let from_hand = if free {
            let n = if in_hand == 0 {
                "none".into()
            } else {
                format!("no more than {}", words(in_hand))
            };
            format!("what is in hand gives {n} of them, and ")
        } else {
            String::new()
        };
        let count = capital(words(count));
        let text = format!(
            "{count} parts {what}; {from_hand}a sheet gives no more than {} of them.",
            words(gives)
        );
        best = Some((plainness, gives, text));
    }
    best.map(|b| b.2)
}

/// Words for more than `enough` parts that weigh at least `t`, true of no other part: how plain they are (least is plainest),
/// how many parts, the words.
fn describe(
    parts: &[(&PieceKind, i64)],
    t: i64,
    enough: i64,
    tape: &Tape,
) -> Option<(u8, i64, String)> {
    // Of all parts at least so long and so wide: how many, if all of them weigh enough.
    let all = |long: Length, wide: Length| {
        let these = || (parts.iter()).filter(|(p, _)| p.size[0] >= long && p.size[1] >= wide);
        let count: i64 = these().map(|(p, _)| i64::from(p.count)).sum();
        (count > enough && these().all(|(_, w)| *w >= t)).then_some(count)
    };
    let heavy = || parts.iter().filter(|(_, w)| *w >= t).map(|(p, _)| p);
    let sides = |axis: usize| heavy().map(move |p| p.size[axis]);
    let most = |found: &mut dyn Iterator<Item = (i64, Length, Length)>| {
        found.max_by_key(|f| (f.0, f.1, f.2))
    };
    let wide = most(&mut sides(1).filter_map(|w| Some((all(Length::ZERO, w)?, Length::ZERO, w))));
    if let Some((n, _, w)) = wide {
        return Some((0, n, format!("are at least {} wide", tape.print(w))));
    }
    let long = most(&mut sides(0).filter_map(|l| Some((all(l, Length::ZERO)?, l, Length::ZERO))));
    if let Some((n, l, _)) = long {
        return Some((0, n, format!("are at least {} long", tape.print(l))));
    }
    if heavy().count() <= BOTH_SIDES {
        let pairs = sides(0).flat_map(|l| sides(1).map(move |w| (l, w)));
        let both = most(&mut pairs.filter_map(|(l, w)| Some((all(l, w)?, l, w))));
        if let Some((n, l, w)) = both {
            let text = format!("are at least {} x {}", tape.print(l), tape.print(w));
            return Some((1, n, text));
        }
    }
    let marks: Vec<&str> = heavy().map(|p| p.mark.as_str()).collect();
    let n: i64 = heavy().map(|p| i64::from(p.count)).sum();
    let (last, others) = marks.split_last()?;
    (n > enough && marks.len() <= NAMED).then(|| {
        let names = if others.is_empty() {
            (*last).to_owned()
        } else {
            format!("{} and {last}", others.join(", "))
        };
        (2, n, format!("are {names}"))
    })
}
