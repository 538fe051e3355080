//! The sentence that says why fewer sheets cannot do, made from the certificate alone, with this job's own sizes.

use super::big_parts::big_parts;
use super::strips::strips;
use crate::model::certificate::{Certificate, PieceWeight, WeightRule, WeightsProof};
use crate::model::task::{PieceKind, SheetTask};
use crate::units::{Cents, Tape, Unit};

/// Why at least `sheets` must be bought.
pub(crate) fn why(task: &SheetTask, certificate: &Certificate, sheets: u32, tape: &Tape) -> String {
    match certificate {
        Certificate::None => "No proof that fewer would not do.".into(),
        Certificate::NothingToBuy => "Nothing has to be bought.".into(),
        Certificate::Exhaustive {
            pieces,
            not_on,
            costs,
            ..
        } => tried(task, pieces, *not_on, *costs),
        Certificate::Weights(proof) => weights(task, proof, sheets, tape),
    }
}

/// What was tried, and that it does not work.
fn tried(task: &SheetTask, pieces: &[PieceWeight], not_on: u32, costs: i64) -> String {
    let of = |counts: &mut dyn Iterator<Item = u32>| counts.map(u64::from).sum::<u64>();
    let count = of(&mut pieces.iter().map(|p| p.count));
    let parts = if count == of(&mut task.pieces.iter().map(|p| p.count)) {
        format!("all {count} parts")
    } else {
        format!("{count} of the parts")
    };
    let in_hand = task.kinds.iter().any(|k| k.have > 0);
    let sizes = task.kinds.iter().filter(|k| k.at_most != Some(0)).count();
    let priced = (task.kinds.iter()).all(|k| k.cost.is_some() || k.at_most == Some(0));
    let on = match (sizes, not_on) {
        (0 | 1, 0) => "what is in hand".to_owned(),
        (0 | 1, n) if in_hand => format!("what is in hand and {} more", sheets_of(n)),
        (0 | 1, n) => sheets_of(n),
        _ if priced => format!("stock for less than {}", Cents(costs).print()),
        _ => "less stock".to_owned(),
    };
    format!("Every way of laying {parts} on {on} was tried; none works.")
}

fn sheets_of(n: u32) -> String {
    match n {
        1 => "one sheet".into(),
        n => format!("{n} sheets"),
    }
}

fn weights(task: &SheetTask, proof: &WeightsProof, sheets: u32, tape: &Tape) -> String {
    let one_kind = task.kinds.len() == 1;
    let fewer = sheets.saturating_sub(1);
    if sheets == 1 && task.kinds.iter().all(|k| k.have == 0) {
        return "There is something to cut, so one sheet is needed.".into();
    }
    match &proof.rule {
        WeightRule::Area => {
            let parts = area(
                task.pieces.iter().map(|p| (u64::from(p.count), area_of(p))),
                tape,
            );
            let have = task.kinds[0].have;
            if one_kind && fewer + have > 0 {
                let k = &task.kinds[0];
                let edge = k.clean_edge;
                let x = (k.size[0] - edge[0] - edge[1]).units();
                let usable = x as f64 * (k.size[1] - edge[2] - edge[3]).units() as f64;
                let give = area(std::iter::once((u64::from(fewer + have), usable)), tape);
                let on = match (have, fewer) {
                    (0, n) => sheets_of(n),
                    (_, 0) => "what is in hand".into(),
                    (_, n) => format!("what is in hand and {} more", sheets_of(n)),
                };
                return format!(
                    "The parts alone are {parts} and the cuts between them take more; {on} {} no more than {give}.",
                    if fewer + have == 1 || fewer == 0 {
                        "gives"
                    } else {
                        "give"
                    }
                );
            }
            format!("The parts alone are {parts}, more than less stock would give.")
        }
        WeightRule::Product {
            along,
            across,
            symmetric: false,
        } => big_parts(task, proof, sheets, tape)
            .or_else(|| strips(task, proof, (along, across), sheets, tape))
            .unwrap_or_else(|| share(task, proof, sheets)),
        _ => big_parts(task, proof, sheets, tape).unwrap_or_else(|| share(task, proof, sheets)),
    }
}

fn area_of(p: &PieceKind) -> f64 {
    p.size[0].units() as f64 * p.size[1].units() as f64
}

/// Square feet or square metres, for reading only.
fn area(each: impl Iterator<Item = (u64, f64)>, tape: &Tape) -> String {
    let units: f64 = each.map(|(n, a)| n as f64 * a).sum();
    match tape.unit {
        Unit::Inch => format!("{:.1} sq ft", units / (12.0 * 2_032_000.0f64).powi(2)),
        Unit::Mm => format!("{:.2} m2", units / (1_000.0 * 80_000.0f64).powi(2)),
    }
}

const fn fewer_than(sheets: u32) -> u32 {
    sheets.saturating_sub(1)
}

/// What the weights say without a shorter story: how many best possible sheets the parts are worth.
fn share(task: &SheetTask, proof: &WeightsProof, sheets: u32) -> String {
    let total: f64 = proof
        .weights
        .iter()
        .map(|p| f64::from(p.count) * p.weight as f64)
        .sum();
    let how = match proof.rule {
        WeightRule::Pattern { .. } => "weighed by how well they can be cut together",
        _ => "weighed by how many fit side by side and one behind the other",
    };
    let whole = proof.holds.iter().map(|h| h.most).max().unwrap_or(0);
    if task.kinds.len() == 1 && whole > 0 && task.kinds[0].have == 0 {
        // Down to the hundredth, so that the words never claim more than the weights do.
        let worth = (total / whole as f64 * 100.0).floor() / 100.0;
        let exact = if worth > f64::from(sheets.saturating_sub(1)) {
            format!("{worth:.2} of the best sheet there could be")
        } else {
            format!(
                "a little more than {} of the best sheet there could be",
                sheets.saturating_sub(1)
            )
        };
        return format!("The parts, {how}, come to {exact}; so {sheets} are needed.");
    }
    // Beside one size that is bought there is only what is in hand, each piece with its own most.
    let bought: Vec<usize> = (0..task.kinds.len())
        .filter(|i| task.kinds[*i].at_most != Some(0))
        .collect();
    if let [b] = bought[..]
        && task.kinds.len() == proof.holds.len()
        && proof.holds[b].most > 0
    {
        let in_hand = task.kinds.iter().zip(&proof.holds);
        let in_hand: f64 = in_hand
            .map(|(k, h)| f64::from(k.have) * h.most as f64)
            .sum();
        let whole = proof.holds[b].most as f64;
        let (all, hand) = (total / whole, in_hand / whole);
        // Rounded so that the words never claim more than the weights do.
        let left = ((all - hand) * 100.0).floor() / 100.0;
        if left > f64::from(fewer_than(sheets)) {
            if in_hand <= 0.0 {
                return format!(
                    "The parts, {how}, come to {left:.2} of the best sheet there could be; so {sheets} are needed."
                );
            }
            return format!(
                "The parts, {how}, come to {:.2} of the best sheet there could be; what is in hand takes {:.2} at most, so {left:.2} are left and {sheets} are needed.",
                (all * 100.0).floor() / 100.0,
                (hand * 100.0).ceil() / 100.0
            );
        }
    }
    format!("The parts, {how}, are more than any cheaper choice of sheets can hold.")
}
