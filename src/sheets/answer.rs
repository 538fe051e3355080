//! From packed sheets to the answer: equal layouts gathered, marks handed out, what could not be placed named.

use super::instance::Instance;
use super::layout::{Layout, Lying, lay_out, lay_out_as_is, with_all_places};
use super::packing::Packing;
use super::problem::Problem;
use super::second::{self, Taste};
use crate::model::task::{SheetTask, UnplacedPiece};
use crate::model::{Place, SheetPlan};
use crate::units::Length;

/// Task pieces of a type that have no place yet.
#[derive(Clone, Copy)]
struct Waiting {
    piece: usize,
    count: u32,
    length_across: bool,
}

/// Sheets as they are cut, and pieces (by index into the task) left without a place.
pub(crate) fn plans(
    task: &SheetTask,
    instance: &Instance,
    problem: &Problem,
    packing: &Packing,
    taste: Option<&Taste>,
) -> (Vec<SheetPlan>, Vec<UnplacedPiece>) {
    let mut waiting: Vec<Vec<Waiting>> = instance
        .types
        .iter()
        .map(|t| {
            t.of.iter()
                .map(|m| Waiting {
                    piece: m.piece,
                    count: m.count,
                    length_across: m.length_across,
                })
                .collect()
        })
        .collect();
    let mut groups: Vec<(Layout, u32)> = Vec::new();
    for layout in layouts(task, instance, problem, packing, taste) {
        match groups.iter_mut().find(|g| g.0 == layout) {
            Some(g) => g.1 += 1,
            None => groups.push((layout, 1)),
        }
    }
    // Full sheets first, the one that leaves most last; rack pieces after bought sheets of the same size.
    groups.sort_by_key(|(layout, count)| {
        let kind = &task.kinds[instance.kinds[layout.kind].task_kind];
        let filled: i128 = layout
            .lying
            .iter()
            .map(|l| i128::from(l.size[0]) * i128::from(l.size[1]))
            .sum();
        (
            kind.rack.is_some(),
            layout.kind,
            std::cmp::Reverse(filled),
            std::cmp::Reverse(*count),
        )
    });
    let mut sheets = Vec::new();
    for (layout, count) in &groups {
        let mut left = *count;
        while left > 0 {
            let (places, n) = hand_out(task, instance, layout, left, &mut waiting);
            left -= n;
            sheets.push(plan_of(task, instance, layout, places, n));
        }
    }
    let mut unplaced: Vec<UnplacedPiece> = waiting
        .iter()
        .flatten()
        .filter(|w| w.count > 0)
        .map(|w| UnplacedPiece {
            piece: w.piece,
            count: w.count,
            fits_nothing: false,
        })
        .collect();
    unplaced.sort_by_key(|u| u.piece);
    (sheets, unplaced)
}

/// Every sheet laid out.
fn layouts(
    task: &SheetTask,
    instance: &Instance,
    problem: &Problem,
    packing: &Packing,
    taste: Option<&Taste>,
) -> Vec<Layout> {
    let bins = || packing.bins.iter().filter(|b| !b.is_empty());
    // Limits on turns and first cuts hold where every bit of room is given to a leftover.
    let limited = task.turns.is_some() || problem.sheets.iter().any(|s| s.first.is_some());
    match taste.filter(|_| !limited) {
        Some(taste) => second::leftovers(&with_all_places(problem), taste, packing)
            .iter()
            .map(|bin| lay_out_as_is(task, instance, problem, bin))
            .collect(),
        None => bins()
            .map(|bin| lay_out(task, instance, problem, bin))
            .collect(),
    }
}

/// Chooses a task piece for each piece of a layout so that as many copies as possible (up to `most`) get the same.
fn hand_out(
    task: &SheetTask,
    instance: &Instance,
    layout: &Layout,
    most: u32,
    waiting: &mut [Vec<Waiting>],
) -> (Vec<Place>, u32) {
    let transposed = instance.kinds[layout.kind].transposed;
    // How often a copy of the layout takes each task piece of a type.
    let mut taken: Vec<(usize, usize, u32)> = Vec::new();
    let mut chosen = Vec::new();
    for lying in &layout.lying {
        let of = &waiting[lying.item as usize];
        let uses = |m: usize, taken: &[(usize, usize, u32)]| {
            taken
                .iter()
                .find(|t| t.0 == lying.item as usize && t.1 == m)
                .map_or(0, |t| t.2)
        };
        // The one that lasts for most copies; among equals the first.
        let best = (0..of.len())
            .max_by_key(|m| {
                (
                    (of[*m].count / (uses(*m, &taken) + 1)).min(most),
                    std::cmp::Reverse(*m),
                )
            })
            .expect("a type stands for some piece");
        match taken
            .iter_mut()
            .find(|t| t.0 == lying.item as usize && t.1 == best)
        {
            Some(t) => t.2 += 1,
            None => taken.push((lying.item as usize, best, 1)),
        }
        chosen.push(best);
    }
    let n = taken
        .iter()
        .map(|(t, m, uses)| waiting[*t][*m].count / uses)
        .min()
        .unwrap_or(most)
        .clamp(1, most);
    for (t, m, uses) in &taken {
        let w = &mut waiting[*t][*m];
        w.count = w.count.saturating_sub(uses * n);
    }
    let places = layout
        .lying
        .iter()
        .zip(&chosen)
        .map(|(lying, m)| place(task, lying, waiting[lying.item as usize][*m], transposed))
        .collect();
    (places, n)
}

fn place(task: &SheetTask, lying: &Lying, of: Waiting, transposed: bool) -> Place {
    Place {
        mark: task.pieces[of.piece].mark.clone(),
        at: lying.at.map(Length::from_units),
        size: lying.size.map(Length::from_units),
        turned: of.length_across ^ lying.second_way ^ transposed,
    }
}

fn plan_of(
    task: &SheetTask,
    instance: &Instance,
    layout: &Layout,
    places: Vec<Place>,
    count: u32,
) -> SheetPlan {
    let kind = &task.kinds[instance.kinds[layout.kind].task_kind];
    SheetPlan {
        item: kind.item.clone(),
        rack: kind.rack.clone(),
        count,
        size: kind.size,
        clean_edge: kind.clean_edge,
        places,
        left: layout.left.clone(),
        cuts: layout.cuts.clone(),
    }
}
