//! What each cut of a sheet divides and what comes of it. Owns the cut table; replays rectangles only and judges nothing
//! (the referee does).

use crate::model::{Cut, SawAt, SheetPlan};
use crate::units::Length;
use std::collections::BTreeMap;

/// What becomes of a piece.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Fate {
    /// It is a part: index into `places`.
    Part(usize),
    /// It is left over: index into `left`.
    Left(usize),
    /// It is divided by a later cut, by its number.
    Cut(u32),
    /// It is dust, or less than a kerf.
    Gone,
}

/// Which piece a cut is made in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Source {
    /// The whole sheet.
    Sheet,
    /// The measured side of an earlier cut.
    Kept(u32),
    /// The other side of it.
    Rest(u32),
}

/// A cut and what it does.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct CutFacts {
    /// Its number.
    pub(crate) n: u32,
    /// True where the blade runs across x.
    pub(crate) across: bool,
    /// What fence or stop is set to.
    pub(crate) setting: Length,
    /// The piece it is made in.
    pub(crate) source: Source,
    /// The side that the setting measures.
    pub(crate) kept: Fate,
    /// The other side.
    pub(crate) rest: Fate,
    /// True for the store's saw.
    pub(crate) at_store: bool,
}

/// What fence or stop is set to for a cut: from the low edge of the piece to the kept side's end.
pub(in crate::book) fn setting_of(cut: &Cut) -> Length {
    cut.at - cut.of[usize::from(!cut.across)]
}

type Corners = [Length; 4];

fn corners(at: [Length; 2], size: [Length; 2]) -> Corners {
    [at[0], at[1], at[0] + size[0], at[1] + size[1]]
}

/// Follows the cuts of a sheet. `set` tells what the settings page sets a cut to: a strip may be measured from either end of
/// its piece, and the side that the setting measures counts as kept.
pub(crate) fn follow(
    sheet: &SheetPlan,
    kerf: Length,
    set: &BTreeMap<u32, Length>,
) -> Vec<CutFacts> {
    let mut fates: BTreeMap<Corners, Fate> = BTreeMap::new();
    for (i, left) in sheet.left.iter().enumerate() {
        fates.insert(corners(left.at, left.size), Fate::Left(i));
    }
    for (i, place) in sheet.places.iter().enumerate() {
        fates.insert(corners(place.at, place.size), Fate::Part(i));
    }
    for cut in &sheet.cuts {
        fates.insert(cut.of, Fate::Cut(cut.n));
    }
    let mut sources: BTreeMap<Corners, Source> = BTreeMap::new();
    let mut all = Vec::new();
    for cut in &sheet.cuts {
        let (mut kept, mut rest) = (cut.of, cut.of);
        let axis = usize::from(!cut.across);
        kept[axis + 2] = cut.at;
        rest[axis] = cut.at + cut.kerf.unwrap_or(kerf);
        let gone = rest[axis] >= rest[axis + 2];
        let near = setting_of(cut);
        let setting = set.get(&cut.n).copied().unwrap_or(near);
        let from_far_end = !gone && setting != near && setting == rest[axis + 2] - rest[axis];
        let (measured, other) = if from_far_end {
            (rest, kept)
        } else {
            (kept, rest)
        };
        sources.insert(measured, Source::Kept(cut.n));
        if !gone {
            sources.insert(other, Source::Rest(cut.n));
        }
        let fate = |c: &Corners| fates.get(c).copied().unwrap_or(Fate::Gone);
        all.push(CutFacts {
            n: cut.n,
            across: cut.across,
            setting,
            source: sources.get(&cut.of).copied().unwrap_or(Source::Sheet),
            kept: fate(&measured),
            rest: if gone { Fate::Gone } else { fate(&other) },
            at_store: cut.saw == Some(SawAt::Store),
        });
    }
    all
}

/// Cuts made one after the other at one setting, each in what the last one left.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct CutRow {
    /// First number.
    pub(crate) first: u32,
    /// Last number.
    pub(crate) last: u32,
    /// As in [`CutFacts`].
    pub(crate) across: bool,
    /// As in [`CutFacts`].
    pub(crate) setting: Length,
    /// Where the first is made.
    pub(crate) source: Source,
    /// The kept sides, in order.
    pub(crate) kept: Vec<Fate>,
    /// What the last one leaves.
    pub(crate) rest: Fate,
    /// True for the store's saw.
    pub(crate) at_store: bool,
}

/// Gathers cuts into rows of the cut table.
pub(crate) fn rows(cuts: &[CutFacts]) -> Vec<CutRow> {
    let mut rows: Vec<CutRow> = Vec::new();
    for cut in cuts {
        if let Some(row) = rows.last_mut() {
            let goes_on = row.across == cut.across
                && row.setting == cut.setting
                && !row.at_store
                && !cut.at_store
                && row.rest == Fate::Cut(cut.n)
                && cut.source == Source::Rest(row.last);
            if goes_on {
                row.last = cut.n;
                row.kept.push(cut.kept);
                row.rest = cut.rest;
                continue;
            }
        }
        rows.push(CutRow {
            first: cut.n,
            last: cut.n,
            across: cut.across,
            setting: cut.setting,
            source: cut.source,
            kept: vec![cut.kept],
            rest: cut.rest,
            at_store: cut.at_store,
        });
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::tests::fixtures;

    /// The worked sheet of the plan format: two rips, then a crosscut in each strip.
    #[test]
    fn pieces_are_followed_from_the_sheet_to_the_part() {
        let plan = fixtures::two_strips();
        let cuts = follow(&plan.sheets[0], plan.kerf, &BTreeMap::new());
        let seen: Vec<_> = cuts.iter().map(|c| (c.source, c.kept, c.rest)).collect();
        assert_eq!(
            seen,
            vec![
                (Source::Sheet, Fate::Cut(3), Fate::Cut(2)),
                (Source::Rest(1), Fate::Cut(4), Fate::Left(2)),
                (Source::Kept(1), Fate::Part(0), Fate::Left(0)),
                (Source::Kept(2), Fate::Part(1), Fate::Left(1)),
            ]
        );
        let rows = rows(&cuts);
        assert_eq!((rows[0].first, rows[0].last), (1, 2));
        assert_eq!(rows.len(), 3);
    }
}
