//! Strips in words: the wide parts, end to end, need more strips of a sheet's length than the sheets give.
//!
//! Said where one scale of a proof only counts the sides from some size on and the other is the length itself.

use super::words::{capital, words};
use crate::model::Grain;
use crate::model::certificate::{SizeWeight, WeightsProof};
use crate::model::task::{PieceKind, SheetKind, SheetTask};
use crate::units::{Length, Tape};

/// The words, if the scales are of that kind; `sheets` must be bought, of one size.
pub(super) fn strips(
    task: &SheetTask,
    proof: &WeightsProof,
    (along, across): (&[SizeWeight], &[SizeWeight]),
    sheets: u32,
    tape: &Tape,
) -> Option<String> {
    let mut buyable = task.kinds.iter().filter(|k| k.at_most != Some(0));
    let (Some(sheet), None) = (buyable.next(), buyable.next()) else {
        return None;
    };
    if sheet.grain_along_y {
        return None;
    }
    let kerf = task.kerf;
    // Rips along the sheet, or else crosscuts.
    let (run, step, axis) = match (unit(along, kerf), flat(across)) {
        (Some(unit), Some(least)) => (unit, least, 0),
        _ => (unit(across, kerf)?, flat(along)?, 1),
    };
    let edge = sheet.clean_edge;
    let room = sheet.size[axis] - edge[2 * axis] - edge[2 * axis + 1] + kerf;
    let (strip, count) = (i128::from(room.units() / run), step.1);
    let strip = strip.checked_mul(i128::from(count)).filter(|s| *s > 0)?;
    let holds = |k: &SheetKind| {
        let of = proof
            .holds
            .iter()
            .filter(|h| h.item == k.item && h.rack == k.rack);
        of.map(|h| i128::from(h.most)).max().unwrap_or(0)
    };
    let gives = holds(sheet) / strip;
    let total: i128 = proof
        .weights
        .iter()
        .map(|w| i128::from(w.weight) * i128::from(w.count))
        .sum();
    let in_hand: i128 = task
        .kinds
        .iter()
        .map(|k| holds(k) * i128::from(k.have))
        .sum();
    let needed = (total - in_hand + strip - 1).div_euclid(strip);
    if gives < 1 || needed <= gives * i128::from(sheets.saturating_sub(1)) {
        return None;
    }
    let weighed = |p: &PieceKind| proof.weights.iter().any(|w| w.mark == p.mark);
    let own = |p: &PieceKind| p.size[1 - axis] >= step.0;
    let along_own = |p: &PieceKind| p.grain == Grain::Length;
    let there = || task.pieces.iter().filter(|p| p.count > 0);
    let how = if axis == 0 { "wide" } else { "long" };
    let size = tape.print(step.0);
    let parts = if there().all(|p| weighed(p) == own(p))
        && there().filter(|p| weighed(p)).all(along_own)
    {
        format!("The parts at least {size} {how}")
    } else {
        let across = if axis == 0 { "across" } else { "along" };
        format!("The parts that lie at least {size} {across} the sheet, however they are turned")
    };
    let (laid, strips) = if axis == 0 {
        ("end to end", "of a sheet's length")
    } else {
        ("side by side", "across a sheet")
    };
    let beside = if in_hand > 0 {
        " beside what is in hand"
    } else {
        ""
    };
    let n = i64::try_from(needed).ok()?;
    let gives = words(i64::try_from(gives).ok()?);
    let one = if n == 1 { "strip" } else { "strips" };
    Some(capital(format!(
        "{parts}, {laid}, need {} {one} {strips}{beside}; a sheet gives no more than {gives}.",
        words(n)
    )))
}

/// Units of length to a unit of weight, where a scale is the side with its kerf.
fn unit(scale: &[SizeWeight], kerf: Length) -> Option<i64> {
    let first = scale.first().filter(|s| s.weight > 0)?;
    let side = |s: &SizeWeight| (s.size + kerf).units();
    let unit = side(first) / first.weight;
    let all = scale
        .iter()
        .all(|s| s.weight.checked_mul(unit) == Some(side(s)));
    (unit > 0 && all).then_some(unit)
}

/// The least side counted and its weight, where a scale weighs all it lists alike.
fn flat(scale: &[SizeWeight]) -> Option<(Length, i64)> {
    let least = scale.iter().min_by_key(|s| s.size)?;
    scale
        .iter()
        .all(|s| s.weight == least.weight)
        .then_some((least.size, least.weight))
}
