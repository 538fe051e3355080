//! The same fence setting for as many sheets as can share one, so that the clerk sets the saw once.

use super::breakdown::{Asked, Broken, StoreRules, Stuck, laid, round};
use crate::model::{SheetPlan, StockRow};
use crate::units::{Length, Unit};

/// Settings tried on all sheets that need one cut.
const TRIED: usize = 24;

/// A layout and its stock row.
pub(crate) type Sheet<'a> = (&'a SheetPlan, Option<&'a StockRow>);

type Found = Result<(SheetPlan, Broken), Stuck>;

/// Breaks every sheet down, each with its fewest cuts, and of those ways the ones that ask for few different settings.
pub fn one_setting(sheets: &[Sheet], rules: &StoreRules) -> Vec<Result<SheetPlan, Stuck>> {
    let mut best: Vec<Found> = sheets
        .iter()
        .map(|(s, r)| laid(s, *r, rules, &[]))
        .collect();
    let mut prefer: Vec<Asked> = Vec::new();
    loop {
        // What one more setting would be worth, over those chosen already.
        let mut least = settings(&best);
        if least.len() <= prefer.len().max(1) {
            break;
        }
        let mut chosen: Option<(Asked, Vec<Found>)> = None;
        for asked in candidates(&best, &prefer, rules.unit) {
            let mut with = prefer.clone();
            with.push(asked);
            let found: Vec<Found> = (sheets.iter().zip(&best))
                .map(|((sheet, row), now)| match now {
                    Ok((_, b)) if b.cuts.len() == 1 => laid(sheet, *row, rules, &with),
                    other => other.clone(),
                })
                .collect();
            let now = settings(&found);
            if now.len() < least.len() {
                least = now;
                chosen = Some((asked, found));
            }
        }
        let Some((asked, found)) = chosen else { break };
        prefer.push(asked);
        best = found;
    }
    // Sheets that need several cuts follow what the others ask for.
    let prefer = settings(&best);
    for ((sheet, row), now) in sheets.iter().zip(&mut best) {
        if now.as_ref().is_ok_and(|(_, b)| b.cuts.len() > 1) {
            let again = laid(sheet, *row, rules, &prefer);
            if again.is_ok() {
                *now = again;
            }
        }
    }
    best.into_iter().map(|f| f.map(|(plan, _)| plan)).collect()
}

/// The different settings asked for, the most used first.
fn settings(found: &[Found]) -> Vec<Asked> {
    let mut all: Vec<(Asked, usize)> = Vec::new();
    for asked in found.iter().flatten().flat_map(|(_, b)| &b.asked) {
        match all.iter_mut().find(|a| a.0 == *asked) {
            Some(a) => a.1 += 1,
            None => all.push((*asked, 1)),
        }
    }
    all.sort_by_key(|a| std::cmp::Reverse(a.1));
    all.into_iter().map(|a| a.0).collect()
}

/// Settings that suit most of the sheets with one cut, as far as their present layout tells.
fn candidates(found: &[Found], taken: &[Asked], unit: Unit) -> Vec<Asked> {
    let rooms: Vec<(usize, Length, Length)> =
        found.iter().flatten().filter_map(|(_, b)| b.room).collect();
    let mut all: Vec<Asked> = Vec::new();
    // Where two rooms overlap, a size in both; and each by itself.
    for (i, a) in rooms.iter().enumerate() {
        for b in &rooms[i..] {
            let (low, high) = (a.1.max(b.1), a.2.min(b.2));
            if a.0 == b.0 && low <= high {
                all.push((a.0, round(low, high, unit)));
            }
        }
    }
    all.extend(settings(found));
    let suits = |asked: &Asked| {
        let in_it =
            |r: &&(usize, Length, Length)| r.0 == asked.0 && r.1 <= asked.1 && asked.1 <= r.2;
        rooms.iter().filter(in_it).count()
    };
    all.retain(|a| !taken.contains(a));
    all.sort_by_key(|a| (std::cmp::Reverse(suits(a)), *a));
    all.dedup();
    all.truncate(TRIED);
    all
}
