//! A plan for the rest of a job against what is done of the plan before it: every started piece is really what the cuts
//! left, no part is counted that was not freed, and nothing is cut from twice.

use super::facts::{Goods, materials};
use super::fault::Fault;
use super::layout::{Asked, Rect, kerf_of, sane};
use super::{plan, sheets};
use crate::model::midway::{Done, Midway, StartedPiece};
use crate::model::task::{SheetAnswer, SheetKind, SheetTask};
use crate::model::{FirstCut, Job, Plan, SheetPlan};
use crate::units::Length;
use std::collections::{BTreeMap, BTreeSet};

/// Checks a plan for the rest of a route: `before` is the plan that was begun, `done` what was cut of it, `midway` what the
/// new plan takes for made and left.
pub fn check_rest(
    job: &Job,
    route: &str,
    before: &Plan,
    (done, midway): (&Done, &Midway),
    rest: &Plan,
) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    let mut materials = materials(job, route);
    let store = job.saw.store.as_ref().map(|s| s.kerf);
    conserved(
        &before.sheets,
        (job.saw.kerf, store),
        done,
        midway,
        &mut faults,
    );
    for m in &mut materials {
        if let Goods::Sheets(task) = &mut m.goods {
            *task = rest_of(task, midway);
        }
    }
    let started: Vec<&str> = midway.pieces.iter().map(|p| p.mark.as_str()).collect();
    plan::against(job, route, rest, &materials, &started, &mut faults);
    verdict(faults)
}

/// The same for the sheets of one material, by task and answer.
pub fn check_rest_of_sheets(
    task: &SheetTask,
    before: &[SheetPlan],
    (done, midway): (&Done, &Midway),
    answer: &SheetAnswer,
) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    conserved(before, (task.kerf, None), done, midway, &mut faults);
    let rest = rest_of(task, midway);
    let numbers: Vec<usize> = (0..answer.sheets.len()).collect();
    let item = task.kinds.first().map_or("", |k| &k.item);
    sheets::check(item, &rest, answer, &numbers, None, &mut faults);
    verdict(faults)
}

fn verdict(faults: Vec<Fault>) -> Result<(), Vec<Fault>> {
    if faults.is_empty() {
        Ok(())
    } else {
        Err(faults)
    }
}

/// Replays what is done and holds `midway` against it, piece by piece.
fn conserved(
    before: &[SheetPlan],
    (home, store): (Length, Option<Length>),
    done: &Done,
    midway: &Midway,
    faults: &mut Vec<Fault>,
) {
    let mut wrong = |what: String, why: &str| {
        let why = why.into();
        faults.push(Fault::Midway { what, why });
    };
    let said = done.cuts.iter().map(|c| (c.sheet, c.copy));
    let touched: BTreeSet<(usize, u32)> = said
        .chain(done.spoiled.iter().map(|s| (s.sheet, s.copy)))
        .collect();
    let mut made: BTreeMap<&str, u32> = BTreeMap::new();
    let mut opened: BTreeMap<(&str, Option<&str>), u32> = BTreeMap::new();
    // What each listed piece may be: found and struck off.
    let mut listed: Vec<&StartedPiece> = midway.pieces.iter().collect();
    for (sheet, copy) in touched {
        let name = format!("sheet {sheet}, copy {copy}");
        let Some(plan) = before
            .get(sheet)
            .filter(|s| (1..=s.count).contains(&copy) && sane(s))
        else {
            wrong(name, "the plan has no such sheet");
            continue;
        };
        *opened
            .entry((&plan.item, plan.rack.as_deref()))
            .or_default() += 1;
        let e = plan.clean_edge;
        let mut free: Vec<Rect> = vec![[e[0], e[2], plan.size[0] - e[1], plan.size[1] - e[3]]];
        for n in (done.cuts.iter()).filter(|c| (c.sheet, c.copy) == (sheet, copy)) {
            if let Err(why) = divide(plan, n.cut, (home, store), &mut free) {
                wrong(format!("{name}, cut {}", n.cut), why);
            }
        }
        let mut strike = |at: [Length; 2], size: [Length; 2]| {
            let is = |p: &&StartedPiece| {
                (p.sheet, p.copy, p.at, p.size) == (sheet, copy, at, size) && p.item == plan.item
            };
            let i = listed.iter().position(is);
            i.map(|i| listed.swap_remove(i)).is_some()
        };
        for s in (done.spoiled.iter()).filter(|s| (s.sheet, s.copy) == (sheet, copy)) {
            let Some(i) = free.iter().position(|r| [r[0], r[1]] == s.at) else {
                wrong(name.clone(), "what is said to be spoiled was not free");
                continue;
            };
            let r = free.swap_remove(i);
            let Some(left) = s.left else { continue };
            let within = left[0] <= r[2] - r[0] && left[1] <= r[3] - r[1];
            if !within || !strike(s.at, left) {
                wrong(
                    name.clone(),
                    "what is left of a spoiled piece is not what is planned on",
                );
            }
        }
        for r in free {
            let size = [r[2] - r[0], r[3] - r[1]];
            let part = (plan.places.iter()).find(|p| p.at == [r[0], r[1]] && p.size == size);
            if let Some(p) = part {
                *made.entry(&p.mark).or_default() += 1;
            } else if !strike([r[0], r[1]], size) && size[0].min(size[1]) >= home {
                wrong(
                    name.clone(),
                    "a piece that is left is not among the started pieces",
                );
            }
        }
    }
    for p in listed {
        wrong(format!("piece {}", p.mark), "the cuts made do not leave it");
    }
    let marks: BTreeSet<&str> = midway.pieces.iter().map(|p| p.mark.as_str()).collect();
    if marks.len() < midway.pieces.len() {
        wrong("the started pieces".into(), "two have one mark");
    }
    if midway
        .pieces
        .iter()
        .flat_map(|p| p.clean_edge)
        .any(|e| e < Length::ZERO)
    {
        wrong(
            "the started pieces".into(),
            "an edge grows when it is cleaned",
        );
    }
    let claimed = midway.made.iter().map(|m| (m.mark.as_str(), m.count));
    if !same(claimed, &made) {
        wrong("the parts made".into(), "they are not those the cuts freed");
    }
    let claimed = midway
        .opened
        .iter()
        .map(|o| ((o.item.as_str(), o.rack.as_deref()), o.count));
    if !same(claimed, &opened) {
        wrong(
            "the sheets started".into(),
            "they are not those the cuts are on",
        );
    }
}

/// True if a list names exactly what was counted, each once.
fn same<K: Ord + Copy>(
    claimed: impl Iterator<Item = (K, u32)>,
    counted: &BTreeMap<K, u32>,
) -> bool {
    let mut seen: BTreeMap<K, u32> = BTreeMap::new();
    for (k, n) in claimed {
        if seen.insert(k, n).is_some() {
            return false;
        }
    }
    seen == *counted
}

/// Makes one cut, or says why it cannot be made.
fn divide(
    plan: &SheetPlan,
    n: u32,
    (home, store): (Length, Option<Length>),
    free: &mut Vec<Rect>,
) -> Result<(), &'static str> {
    let cut = plan
        .cuts
        .iter()
        .find(|c| c.n == n)
        .ok_or("the plan has no such cut")?;
    let kerf = kerf_of(cut, home, store).ok_or("its kerf is not the saw's")?;
    let i = (free.iter().position(|r| *r == cut.of)).ok_or("its piece is not free then")?;
    let r = free.swap_remove(i);
    let [low, high] = if cut.across {
        [r[0], r[2]]
    } else {
        [r[1], r[3]]
    };
    if cut.at <= low || cut.at >= high {
        return Err("it does not lie inside its piece");
    }
    let beyond = cut.at + kerf;
    if cut.across {
        free.push([r[0], r[1], cut.at, r[3]]);
        free.extend((beyond < r[2]).then_some([beyond, r[1], r[2], r[3]]));
    } else {
        free.push([r[0], r[1], r[2], cut.at]);
        free.extend((beyond < r[3]).then_some([r[0], beyond, r[2], r[3]]));
    }
    Ok(())
}

/// What is still wanted and what stock there still is, from the facts and what is done. A piece that no part comes out of
/// decides nothing and is left out.
fn rest_of(task: &SheetTask, midway: &Midway) -> SheetTask {
    let mut rest = task.clone();
    // The rules of the job that was begun hold for its rest: where a part, made by now, let the first cuts go either way,
    // they may.
    let free = |k: &SheetKind| k.rack.is_none() && sheets::first_cut(task, k) == FirstCut::Either;
    if task.kinds.iter().any(free) {
        rest.first = FirstCut::Either;
    }
    for p in &mut rest.pieces {
        for m in midway.made.iter().filter(|m| m.mark == p.mark) {
            p.count = p.count.saturating_sub(m.count);
        }
    }
    for k in &mut rest.kinds {
        for o in &midway.opened {
            if (&o.item, &o.rack) != (&k.item, &k.rack) {
                continue;
            }
            // What is in hand goes first; the rest was bought.
            let bought = o.count.saturating_sub(k.have);
            k.have = k.have.saturating_sub(o.count);
            k.at_most = k.at_most.map(|m| m.saturating_sub(bought));
        }
    }
    for p in &midway.pieces {
        let rows = task.kinds.iter().filter(|k| k.item == p.item);
        let Some(row) = rows
            .clone()
            .find(|k| k.rack.is_none())
            .or(rows.clone().next())
        else {
            continue;
        };
        let e = p.clean_edge;
        let room = [p.size[0] - e[0] - e[1], p.size[1] - e[2] - e[3]];
        let fits = rest.pieces.iter().filter(|q| q.count > 0).any(|q| {
            let asked = Asked {
                size: q.size,
                grain: q.grain,
            };
            let (straight, turned) = asked.may(row.grain_along_y);
            straight && q.size[0] <= room[0] && q.size[1] <= room[1]
                || turned && q.size[1] <= room[0] && q.size[0] <= room[1]
        });
        if fits {
            rest.kinds.push(SheetKind {
                rack: Some(p.mark.clone()),
                size: p.size,
                clean_edge: e,
                cost: None,
                have: 1,
                at_most: Some(0),
                ..row.clone()
            });
        }
    }
    rest
}
