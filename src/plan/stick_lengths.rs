//! Sticks that the car takes: where the cheapest sticks are too long for it and shorter ones of the same cost no more, the way
//! home counted, the shorter ones are taken.

use super::make::{Answer, bought_sticks};
use super::tasks::{Ask, MaterialTask};
use crate::car::{Spaces, delivers, longest_stick};
use crate::model::certificate::Certificate;
use crate::model::task::{SolveOptions, StickAnswer, StickTask};
use crate::model::{Job, PartSize, StockKind};
use crate::sticks;
use crate::units::Cents;

/// Changes the answers for sticks where that is so, and says which.
pub(super) fn for_the_car(
    job: &Job,
    route: &str,
    solved: &mut [(MaterialTask, Answer)],
    options: &SolveOptions,
) -> Vec<String> {
    let Some(spaces) = Spaces::of(&job.car) else {
        return Vec::new();
    };
    let mut changes: Vec<(usize, Change)> = Vec::new();
    // Stores whose van comes for sticks that nothing shorter stands for.
    let mut vans: Vec<String> = Vec::new();
    for (i, (asked, answer)) in solved.iter().enumerate() {
        let (Ask::Sticks(task), Answer::Sticks(answer)) = (&asked.ask, answer) else {
            continue;
        };
        let long = too_long(job, &spaces, task, answer);
        if long.is_empty() {
            continue;
        }
        let store = |n: &usize| store_of(job, &task.kinds[*n].item);
        match change(job, task, answer, &long, options) {
            Some(found) => changes.push((i, found)),
            None => vans.extend(long.iter().map(store)),
        }
    }
    let mut said = Vec::new();
    for (i, change) in changes {
        let saved =
            if vans.contains(&change.store) || van_anyway(job, route, &spaces, &change.store) {
                Cents::ZERO
            } else {
                van_price(job, &change.store)
            };
        if change.now.0 > change.was.0 + saved.0 {
            continue;
        }
        said.push(change.sentence(saved));
        if let Answer::Sticks(answer) = &mut solved[i].1 {
            *answer = change.answer;
        }
    }
    said
}

/// Shorter sticks in place of longer ones.
struct Change {
    answer: StickAnswer,
    store: String,
    long: Vec<String>,
    short: Vec<String>,
    was: Cents,
    now: Cents,
}

impl Change {
    fn sentence(&self, saved: Cents) -> String {
        let more = self.now.0 - self.was.0;
        let cost = match more {
            0 => "at the same cost".to_owned(),
            m if m < 0 => format!("for {} less", Cents(-m).print()),
            m => format!(
                "for {} more, and no delivery at {}",
                Cents(m).print(),
                saved.print()
            ),
        };
        format!(
            "{} goes in no space of the car: {} is taken instead, {cost}.",
            self.long.join(", "),
            self.short.join(", ")
        )
    }
}

/// Kinds of the answer that are bought and go in no space.
fn too_long(job: &Job, spaces: &Spaces, task: &StickTask, answer: &StickAnswer) -> Vec<usize> {
    let bought = |item: &str, length| {
        answer
            .sticks
            .iter()
            .any(|s| s.rack.is_none() && s.item == item && s.length == length)
    };
    let kinds = task.kinds.iter().enumerate();
    kinds
        .filter(|(_, k)| k.rack.is_none() && k.have == 0 && bought(&k.item, k.length))
        .filter(|(_, k)| {
            job.stock_row(&k.item)
                .is_some_and(|r| !r.by_the_foot() && k.length > longest_stick(spaces, r))
        })
        .map(|(n, _)| n)
        .collect()
}

/// The pieces from sticks that do go in; `None` where they do not all come out of them, or a price is missing.
fn change(
    job: &Job,
    task: &StickTask,
    answer: &StickAnswer,
    long: &[usize],
    options: &SolveOptions,
) -> Option<Change> {
    let spaces = Spaces::of(&job.car)?;
    let mut short = task.clone();
    for kind in &mut short.kinds {
        let row = job.stock_row(&kind.item)?;
        if kind.rack.is_none() && kind.length > longest_stick(&spaces, row) {
            kind.at_most = Some(0);
        }
    }
    let found = sticks::solve(&short, options);
    if !answer.unplaced.is_empty() || !found.unplaced.is_empty() {
        return None;
    }
    let was = bought_sticks(task, &answer.sticks).cost?;
    let now = bought_sticks(task, &found.sticks).cost?;
    let mut names: Vec<String> = Vec::new();
    for s in found.sticks.iter().filter(|s| s.rack.is_none()) {
        if !names.contains(&s.item) {
            names.push(s.item.clone());
        }
    }
    let long: Vec<&str> = long.iter().map(|n| task.kinds[*n].item.as_str()).collect();
    names.retain(|n| !long.contains(&n.as_str()) || names_in_hand(task, n));
    // What was shown of all lengths still holds; the shorter ones are the cheapest only at the same cost.
    let proved = answer.proved && now == was;
    Some(Change {
        store: store_of(job, long.first()?),
        long: long.iter().map(|l| (*l).to_owned()).collect(),
        short: names,
        was,
        now,
        answer: StickAnswer {
            sticks: found.sticks,
            searched: answer.searched + found.searched,
            proved,
            certificate: if proved {
                answer.certificate.clone()
            } else {
                Certificate::None
            },
            ..answer.clone()
        },
    })
}

fn names_in_hand(task: &StickTask, item: &str) -> bool {
    task.kinds.iter().any(|k| k.item == item && k.have > 0)
}

fn store_of(job: &Job, item: &str) -> String {
    job.stock_row(item)
        .map_or_else(String::new, |r| r.store.clone())
}

/// Price of the store's van, nothing where it has none or none is known.
fn van_price(job: &Job, store: &str) -> Cents {
    let row = delivers(job, store).and_then(|item| job.stock_row(&item)?.likely());
    row.unwrap_or(Cents::ZERO)
}

/// True where that store's van comes for something else: a part or a carton that goes in no space, sheets that nobody cuts, or sticks
/// she lists herself.
fn van_anyway(job: &Job, route: &str, spaces: &Spaces, store: &str) -> bool {
    let panel = |p: &crate::model::Part| {
        let row = job.stock_row(&p.item);
        let Some(row) = row.filter(|r| r.kind == StockKind::Sheet && r.store == store) else {
            return false;
        };
        let thick = row.thickness().unwrap_or_default();
        let whole = row.length.zip(row.width).map(|(l, w)| [l, w]);
        let PartSize::Panel { length, width } = p.size else {
            return false;
        };
        !spaces.takes([length, width], thick)
            || job.saw.store.is_none() && whole.is_some_and(|s| !spaces.takes(s, thick))
    };
    let frames = || {
        let runs = job.runs.iter().filter(|r| r.route == route);
        runs.flat_map(|r| job.listed_frames(r))
    };
    let carton = |f: &&crate::model::PrefabUnit| {
        f.store == store
            && f.carton.is_some_and(|c| {
                let [long, wide, thick] = c.size;
                !spaces.takes([long, wide], thick)
            })
    };
    let hers = |n: &crate::model::Need| {
        n.route == route
            && job.stock_row(&n.item).is_some_and(|r| {
                matches!(r.kind, StockKind::Moulding | StockKind::Board)
                    && r.store == store
                    && r.length.is_some_and(|l| l > longest_stick(spaces, r))
            })
    };
    job.route_parts(route).any(panel) || frames().any(|f| carton(&f)) || job.needs.iter().any(hers)
}
