//! Store cuts for a plan: every sheet that is bought is broken down for the car, layouts that cannot be are changed, and
//! sheets in hand take the layouts that the store would have most work with.

use super::tasks::pieces_in_hand;
use crate::car::{
    Loose, Pattern, Spaces, StoreRules, Stuck, assemble, delivers, one_setting, patterns, repack,
};
use crate::model::task::{PieceKind, SheetAnswer, SheetKind, SheetTask, SolveOptions};
use crate::model::{Effort, FirstCut, Grain, Job, SheetPlan};
use crate::sheets;
use crate::units::Length;

/// Ways of cutting that the planner works on, for sheets that cannot be broken down as they are laid out: those on which
/// quick rules leave least without a place.
const PATTERNS: usize = 2;

/// The store's terms and the car; `None` where either is not given, and no cut is asked for.
pub(super) fn rules(job: &Job) -> Option<StoreRules> {
    let kerf = job.saw.kerf;
    Some(StoreRules {
        kerf,
        // Her blade must find wood on both sides of it.
        trim: job.saw.clean_edge.max(kerf + Length::INCH_64),
        store: job.saw.store.clone()?,
        spaces: Spaces::of(&job.car)?,
        turns: job.saw.turns,
        first: job.saw.first,
        keep: job.saw.keep,
        any_way: job
            .parts
            .iter()
            .filter(|p| p.grain == Grain::Any)
            .map(|p| p.mark.clone())
            .collect(),
        unit: job.project.tape.unit,
    })
}

/// One layout of an answer and how many are cut so.
#[derive(Clone)]
struct Laid {
    /// Index of the answer it belongs to.
    answer: usize,
    plan: SheetPlan,
}

/// A layout and what came of breaking it down.
type Tried = (Laid, Result<SheetPlan, Stuck>);

/// Changes the layouts of all answers so that what is bought goes in the car where that can be. Layouts that came to be cut as in
/// `missed` stay whole.
pub(super) fn ask_the_store(
    job: &Job,
    answers: &mut [(&SheetTask, &mut SheetAnswer)],
    options: &SolveOptions,
    missed: &[SheetPlan],
) {
    let Some(rules) = rules(job) else { return };
    let mut all: Vec<Laid> = Vec::new();
    for (answer, (_, found)) in answers.iter().enumerate() {
        let bought = found.sheets.iter().filter(|s| s.rack.is_none());
        all.extend(bought.map(|s| Laid {
            answer,
            plan: s.clone(),
        }));
    }
    let broken = break_all(job, &rules, &all);
    let (at_home, to_fetch) = stay_home(job, all, broken);
    let part = |l: &Tried| matches!(l.1, Err(Stuck::Part(_)));
    let (mut by_van, mut to_fetch) = delivered(job, &rules, to_fetch, &part);
    let mut changed = false;
    for (answer, (task, _)) in answers.iter().enumerate() {
        let mut items: Vec<String> = to_fetch
            .iter()
            .filter(|l| l.0.answer == answer && l.1 == Err(Stuck::NoWay))
            .map(|l| l.0.plan.item.clone())
            .collect();
        items.dedup();
        for item in items {
            let (ours, rest) = to_fetch
                .into_iter()
                .partition(|l| l.0.answer == answer && l.0.plan.item == item);
            to_fetch = rest;
            let (ours, new) = change(job, &rules, task, ours, options);
            changed |= new;
            to_fetch.extend(ours);
        }
    }
    if changed {
        // Layouts that changed share settings with the rest.
        let (fine, stuck): (Vec<Tried>, Vec<Tried>) =
            to_fetch.into_iter().partition(|l| l.1.is_ok());
        let laid: Vec<Laid> = fine.iter().map(|l| l.0.clone()).collect();
        let again = break_all(job, &rules, &laid);
        to_fetch = (fine.into_iter().zip(again))
            .map(|((laid, first), then)| (laid, then.or(first)))
            .chain(stuck)
            .collect();
    }
    for (laid, found) in &mut to_fetch {
        let same = |m: &SheetPlan, f: &SheetPlan| m.item == f.item && m.cuts == f.cuts;
        let gave = found.as_ref().ok();
        let misses = gave.is_some_and(|f| missed.iter().any(|m| same(m, f)));
        // A layout that was made for its store cuts has none without them.
        if misses && laid.plan.cuts.iter().all(|c| c.saw.is_none()) {
            *found = Err(Stuck::NoWay);
        }
    }
    // A sheet for which no way was found in the end brings the van as well.
    let (more, to_fetch) = delivered(job, &rules, to_fetch, &|l| l.1.is_err());
    by_van.extend(more);
    for (answer, (_, found)) in answers.iter_mut().enumerate() {
        let home = at_home.iter().filter(|l| l.answer == answer);
        let vans = by_van.iter().filter(|l| l.answer == answer);
        let fetched = to_fetch.iter().filter(|l| l.0.answer == answer);
        let rack = found.sheets.iter().filter(|s| s.rack.is_some());
        found.sheets = gather(
            home.map(|l| l.plan.clone())
                .chain(vans.map(|l| l.plan.clone()))
                .chain(fetched.map(|(l, b)| b.as_ref().unwrap_or(&l.plan).clone()))
                .chain(rack.cloned()),
        );
    }
}

/// Where a store's van has to come for a sheet that goes in no space (`needs_van`), it brings all of that store's sheets: they stay
/// whole, unless she asks for cuts all the same.
fn delivered(
    job: &Job,
    rules: &StoreRules,
    all: Vec<Tried>,
    needs_van: &dyn Fn(&Tried) -> bool,
) -> (Vec<Laid>, Vec<Tried>) {
    let store = |l: &Laid| {
        let row = job.stock_row(&l.plan.item);
        row.map_or_else(String::new, |r| r.store.clone())
    };
    let vans: Vec<String> = (all.iter().filter(|l| needs_van(l)))
        .map(|l| store(&l.0))
        .filter(|s| !rules.store.cut_delivered && delivers(job, s).is_some())
        .collect();
    let (whole, rest): (Vec<Tried>, Vec<Tried>) =
        all.into_iter().partition(|l| vans.contains(&store(&l.0)));
    (whole.into_iter().map(|l| l.0).collect(), rest)
}

fn break_all(job: &Job, rules: &StoreRules, all: &[Laid]) -> Vec<Result<SheetPlan, Stuck>> {
    let sheets: Vec<_> = all
        .iter()
        .map(|l| (&l.plan, job.stock_row(&l.plan.item)))
        .collect();
    one_setting(&sheets, rules)
}

/// Sheets in hand are at home: they take the layouts that cannot be broken down, then those with most store cuts.
fn stay_home(
    job: &Job,
    all: Vec<Laid>,
    broken: Vec<Result<SheetPlan, Stuck>>,
) -> (Vec<Laid>, Vec<Tried>) {
    let mut order: Vec<usize> = (0..all.len()).collect();
    let store = |i: usize| match &broken[i] {
        Err(_) => usize::MAX,
        Ok(plan) => plan.cuts.iter().filter(|c| c.saw.is_some()).count(),
    };
    order.sort_by_key(|i| (std::cmp::Reverse(store(*i)), *i));
    let mut have: Vec<(&str, u32)> = Vec::new();
    let mut home_count = vec![0; all.len()];
    for i in order {
        let item = all[i].plan.item.as_str();
        let at = have.iter().position(|h| h.0 == item).unwrap_or_else(|| {
            have.push((item, job.stock_row(item).map_or(0, pieces_in_hand)));
            have.len() - 1
        });
        home_count[i] = have[at].1.min(all[i].plan.count);
        have[at].1 -= home_count[i];
    }
    let (mut at_home, mut to_fetch) = (Vec::new(), Vec::new());
    for ((laid, mut found), home) in all.into_iter().zip(broken).zip(home_count) {
        let mut rest = laid.clone();
        rest.plan.count -= home;
        if home > 0 {
            let mut here = laid;
            here.plan.count = home;
            at_home.push(here);
        }
        if rest.plan.count > 0 {
            if let Ok(plan) = &mut found {
                plan.count = rest.plan.count;
            }
            to_fetch.push((rest, found));
        }
    }
    (at_home, to_fetch)
}

/// Equal layouts gathered, in the order they first come.
fn gather(all: impl Iterator<Item = SheetPlan>) -> Vec<SheetPlan> {
    let mut kept: Vec<SheetPlan> = Vec::new();
    for plan in all {
        let same = |k: &&mut SheetPlan| {
            SheetPlan {
                count: plan.count,
                ..(**k).clone()
            } == plan
        };
        match kept.iter_mut().find(same) {
            Some(k) => k.count += plan.count,
            None => kept.push(plan),
        }
    }
    kept
}

/// Plans the parts of layouts that cannot be broken down again, on the pieces the store would leave: first those sheets
/// alone, then all of that size together. Where no way of cutting holds everything, the layouts stand as they are.
/// True where anything changed.
fn change(
    job: &Job,
    rules: &StoreRules,
    task: &SheetTask,
    ours: Vec<Tried>,
    options: &SolveOptions,
) -> (Vec<Tried>, bool) {
    let part = |l: &Tried| matches!(l.1, Err(Stuck::Part(_)));
    let (mut kept, open): (Vec<Tried>, Vec<Tried>) = ours.into_iter().partition(part);
    let (stuck, fine): (Vec<Tried>, Vec<Tried>) = open.into_iter().partition(|l| l.1.is_err());
    let only = |l: &[Tried]| -> Vec<Laid> { l.iter().map(|l| l.0.clone()).collect() };
    if let Some(new) = again(rules, task, job, &only(&stuck), options) {
        kept.extend(fine);
        kept.extend(new);
        return (kept, true);
    }
    let all: Vec<Tried> = stuck.into_iter().chain(fine).collect();
    let new = again(rules, task, job, &only(&all), options);
    let changed = new.is_some();
    kept.extend(new.unwrap_or(all));
    (kept, changed)
}

/// The same parts on no more sheets, each cut by one pattern.
fn again(
    rules: &StoreRules,
    task: &SheetTask,
    job: &Job,
    sheets: &[Laid],
    options: &SolveOptions,
) -> Option<Vec<Tried>> {
    let first = sheets.first()?;
    let kind = task
        .kinds
        .iter()
        .find(|k| k.rack.is_none() && k.item == first.plan.item)?;
    let count: u32 = sheets.iter().map(|l| l.plan.count).sum();
    let on = |mark: &str| -> u32 {
        let each = sheets.iter().map(|l| {
            let here = l.plan.places.iter().filter(|p| p.mark == mark).count();
            u32::try_from(here)
                .unwrap_or(u32::MAX)
                .saturating_mul(l.plan.count)
        });
        each.sum()
    };
    let pieces: Vec<PieceKind> = task
        .pieces
        .iter()
        .map(|p| PieceKind {
            count: on(&p.mark),
            ..p.clone()
        })
        .filter(|p| p.count > 0)
        .collect();
    let tried = |plan: SheetPlan| {
        let laid = Laid {
            answer: first.answer,
            plan: plan.clone(),
        };
        (laid, Ok(plan))
    };
    let parts: Vec<Loose> = pieces.iter().flat_map(|p| loose(kind, p)).collect();
    let mut ways: Vec<(i128, Pattern)> = Vec::new();
    for way in patterns(&first.plan, job.stock_row(&kind.item), rules) {
        match repack(&first.plan, &way, count, &parts, rules) {
            Ok(new) => return Some(gather(new.into_iter()).into_iter().map(tried).collect()),
            Err(left) => ways.push((left, way)),
        }
    }
    ways.sort_by_key(|w| w.0);
    ways.iter().take(PATTERNS).find_map(|(_, way)| {
        let sub = on_blanks(task, kind, way, &pieces, count)?;
        let quick = SolveOptions {
            effort: Effort::Quick,
            ..*options
        };
        let found = sheets::solve(&sub, &quick, &mut |_| {});
        if !found.unplaced.is_empty() {
            return None;
        }
        let mut on: Vec<Vec<SheetPlan>> = vec![Vec::new(); sub.kinds.len()];
        for plan in found.sheets {
            let k = sub.kinds.iter().position(|k| k.item == plan.item)?;
            let n = plan.count as usize;
            on[k].extend(std::iter::repeat_n(plan, n));
        }
        let used = on.iter().map(Vec::len).max().unwrap_or_default();
        let new: Option<Vec<SheetPlan>> = (0..used)
            .map(|i| {
                let here: Vec<Option<SheetPlan>> = on.iter().map(|k| k.get(i).cloned()).collect();
                assemble(&first.plan, way, &here, rules)
            })
            .collect();
        Some(gather(new?.into_iter()).into_iter().map(tried).collect())
    })
}

/// Each of a kind of piece by itself, with the ways the grain lets it lie.
fn loose(kind: &SheetKind, piece: &PieceKind) -> Vec<Loose> {
    let [length, width] = piece.size;
    let straight = ([length, width], false);
    let turned = ([width, length], true);
    let along_x = match piece.grain {
        Grain::Length => !kind.grain_along_y,
        Grain::Width => kind.grain_along_y,
        Grain::Any => true,
    };
    let ways = match piece.grain {
        Grain::Any if length != width => vec![straight, turned],
        _ if along_x => vec![straight],
        _ => vec![turned],
    };
    let one = Loose {
        mark: piece.mark.clone(),
        ways,
    };
    vec![one; piece.count as usize]
}

/// The task of placing the parts on the pieces of a pattern. `None` where they cannot all go on.
fn on_blanks(
    task: &SheetTask,
    kind: &SheetKind,
    way: &Pattern,
    pieces: &[PieceKind],
    count: u32,
) -> Option<SheetTask> {
    let kinds: Vec<SheetKind> = way
        .blanks()
        .into_iter()
        .enumerate()
        .map(|(n, blank)| SheetKind {
            item: format!("{} {n}", kind.item),
            size: blank.size,
            clean_edge: blank.clean_edge,
            cost: None,
            have: count,
            at_most: Some(0),
            ..kind.clone()
        })
        .collect();
    let usable = |k: &SheetKind| {
        let [x0, x1, y0, y1] = k.clean_edge;
        let x = (k.size[0] - x0 - x1).units().max(0);
        let y = (k.size[1] - y0 - y1).units().max(0);
        i128::from(x) * i128::from(y) * i128::from(count)
    };
    let needed = |p: &PieceKind| {
        i128::from(p.size[0].units()) * i128::from(p.size[1].units()) * i128::from(p.count)
    };
    let room: i128 = kinds.iter().map(usable).sum();
    (pieces.iter().map(needed).sum::<i128>() <= room).then(|| SheetTask {
        kinds,
        pieces: pieces.to_vec(),
        // The store's cuts came first.
        first: FirstCut::Either,
        turns: task.turns.map(|t| t.saturating_sub(1).max(1)),
        ..task.clone()
    })
}
