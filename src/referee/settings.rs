//! The settings page: every cut on it once, at a size that is one of its sides, in an order that can be followed.

use super::facts::{Goods, Material};
use super::fault::Fault;
use super::layout::{Rect, kerf_of, sane};
use crate::model::{Cut, Job, Place, Plan, SawAt, Setting, SettingKind, SheetPlan};
use crate::units::Length;
use std::collections::BTreeMap;

/// One physical sheet, or all copies of a layout cut together.
struct Bench {
    free: Vec<Rect>,
    made: Vec<u32>,
    cleaned: Vec<Length>,
}

/// Follows the page line by line.
pub(super) fn check(job: &Job, plan: &Plan, materials: &[Material], faults: &mut Vec<Fault>) {
    if plan.sheets.iter().any(|s| !sane(s)) {
        return; // said already
    }
    let store = job.saw.store.as_ref().map(|s| s.kerf);
    let mut benches: BTreeMap<(usize, u32), Bench> = BTreeMap::new();
    let mut seen: Vec<(&str, SettingKind, Length, bool)> = Vec::new();
    for (n, setting) in (1..).zip(&plan.settings) {
        let wrong = |why: String| Fault::Setting { n: setting.n, why };
        if setting.n != n {
            faults.push(wrong(format!("it is line {n}")));
        }
        if setting.pieces.is_empty() {
            faults.push(wrong("it makes no cut".into()));
        }
        let mut at_store = false;
        for p in &setting.pieces {
            let owner = plan.sheets.get(p.sheet).and_then(|s| {
                let of = |m: &&Material| {
                    matches!(m.goods, Goods::Sheets(_)) && m.codes.contains(&s.item)
                };
                materials.iter().find(of)
            });
            if owner.is_none_or(|m| m.item != setting.item) {
                faults.push(wrong(format!(
                    "sheet {} is not of {}",
                    p.sheet, setting.item
                )));
                continue;
            }
            if p.copy > plan.sheets[p.sheet].count {
                faults.push(wrong(format!("sheet {} has no copy {}", p.sheet, p.copy)));
                continue;
            }
            let cut = plan.sheets[p.sheet].cuts.iter().find(|c| c.n == p.cut);
            at_store |= cut.is_some_and(|c| c.saw == Some(SawAt::Store));
            let bench = benches
                .entry((p.sheet, p.copy))
                .or_insert_with(|| bench(plan, p.sheet));
            match step(plan, setting, p.sheet, p.cut, bench, (plan.kerf, store)) {
                Err(why) => faults.push(wrong(why)),
                Ok(freed) if !names(&plan.sheets[p.sheet], &freed, &p.gives) => {
                    let why = format!(
                        "cut {} of sheet {} does not give {:?}",
                        p.cut, p.sheet, p.gives
                    );
                    faults.push(wrong(why));
                }
                Ok(_) => {}
            }
        }
        let mark = (setting.item.as_str(), setting.kind, setting.size, at_store);
        if setting.again != seen.contains(&mark) {
            let said = if setting.again { "" } else { "not " };
            faults.push(wrong(format!("it is {said}marked as used again")));
        }
        seen.push(mark);
    }
    complete(plan, &benches, faults);
}

fn bench(plan: &Plan, sheet: usize) -> Bench {
    let s = &plan.sheets[sheet];
    let c = s.clean_edge;
    Bench {
        free: vec![[c[0], c[2], s.size[0] - c[1], s.size[1] - c[3]]],
        made: Vec::new(),
        cleaned: Vec::new(),
    }
}

/// True if the words name the parts among the pieces that a cut frees, and beside them nothing but a strip or what is
/// left over. A clean-up cut frees nothing, and needs some words only.
fn names(sheet: &SheetPlan, freed: &[Rect], gives: &str) -> bool {
    let part = |r: &Rect| {
        let is = |p: &&Place| [p.at[0], p.at[1], p.at[0] + p.size[0], p.at[1] + p.size[1]] == *r;
        sheet.places.iter().find(is).map(|p| p.mark.as_str())
    };
    let parts: Vec<&str> = freed.iter().filter_map(part).collect();
    match (freed, &parts[..]) {
        ([], _) => !gives.trim().is_empty(),
        (_, []) => ["strip", "strip, strip", "leftover"].contains(&gives),
        (_, [one]) => {
            gives == *one || gives == format!("{one}, strip") || gives == format!("strip, {one}")
        }
        (_, more) => {
            let back: Vec<&str> = more.iter().rev().copied().collect();
            gives == more.join(", ") || gives == back.join(", ")
        }
    }
}

/// Makes one cut at a setting and tells what it frees, or says why it cannot be made.
fn step(
    plan: &Plan,
    setting: &Setting,
    sheet: usize,
    n: u32,
    bench: &mut Bench,
    (home, store): (Length, Option<Length>),
) -> Result<Vec<Rect>, String> {
    let s = &plan.sheets[sheet];
    if setting.kind == SettingKind::Clean {
        if n != 0 || !s.clean_edge.contains(&setting.size) || !setting.size.is_positive() {
            return Err(format!("sheet {sheet} has no such edge to clean"));
        }
        // The store's cuts come before anything is cleaned, those at home after.
        let home = |c: &&Cut| bench.made.contains(&c.n) && c.saw != Some(SawAt::Store);
        if bench.cleaned.contains(&setting.size) || s.cuts.iter().any(|c| home(&c)) {
            return Err(format!("sheet {sheet} is cleaned already, or cut"));
        }
        bench.cleaned.push(setting.size);
        return Ok(Vec::new());
    }
    let Some(cut) = s.cuts.iter().find(|c| c.n == n) else {
        return Err(format!("sheet {sheet} has no cut {n}"));
    };
    if cut.across != (setting.kind == SettingKind::Stop) {
        return Err(format!("cut {n} of sheet {sheet} goes the other way"));
    }
    if bench.made.contains(&n) {
        return Err(format!("cut {n} of sheet {sheet} is made already"));
    }
    let Some(at) = bench.free.iter().position(|r| *r == cut.of) else {
        return Err(format!(
            "the piece for cut {n} of sheet {sheet} is not free yet"
        ));
    };
    let kerf = kerf_of(cut, home, store).unwrap_or(home);
    let axis = usize::from(!cut.across);
    let near = cut.at - cut.of[axis];
    let far = cut.of[axis + 2] - cut.at - kerf;
    if setting.size != near && setting.size != far {
        return Err(format!(
            "cut {n} of sheet {sheet} leaves neither side of that size"
        ));
    }
    let piece = bench.free.swap_remove(at);
    let mut low = piece;
    low[axis + 2] = cut.at;
    bench.free.push(low);
    let mut freed = vec![low];
    if far.is_positive() {
        let mut high = piece;
        high[axis] = cut.at + kerf;
        bench.free.push(high);
        freed.push(high);
    }
    bench.made.push(n);
    Ok(freed)
}

/// Every cut of every copy is on the page, and every edge that is cleaned.
fn complete(plan: &Plan, benches: &BTreeMap<(usize, u32), Bench>, faults: &mut Vec<Fault>) {
    for (i, s) in plan.sheets.iter().enumerate() {
        let by_copy = benches.range((i, 1)..=(i, u32::MAX)).count();
        let whole = benches.get(&(i, 0));
        // A layout is cut together, or each of its copies by itself; never some of both.
        let complete = |b: &Bench| {
            let edges = s
                .clean_edge
                .iter()
                .all(|c| !c.is_positive() || b.cleaned.contains(c));
            (s.cuts.iter())
                .find(|c| !b.made.contains(&c.n))
                .map(|c| c.n)
                .or((!edges).then_some(0))
        };
        let missing = match (whole, by_copy) {
            (Some(b), 0) => complete(b),
            (None, n) if n == s.count as usize && n > 0 => benches
                .range((i, 1)..=(i, u32::MAX))
                .find_map(|(_, b)| complete(b)),
            (None, 0) if s.cuts.is_empty() && s.clean_edge.iter().all(|c| !c.is_positive()) => None,
            _ => Some(s.cuts.first().map_or(0, |c| c.n)),
        };
        if let Some(n) = missing {
            faults.push(Fault::CutWithoutSetting { sheet: i, n });
        }
    }
}
