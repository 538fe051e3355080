//! What is done in which order, and with how many work steps: the policy of the whole search, in one place.

use super::Progress;
use super::answer;
use super::build::multistart;
use super::instance::Instance;
use super::packing::Packing;
use super::problem::{Price, Problem};
use super::recreate::Search;
use crate::model::Effort;
use crate::model::certificate::Certificate;
use crate::model::task::{SheetAnswer, SheetTask, SolveOptions, UnplacedPiece};
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::units::Cents;

/// Work steps of an effort.
#[derive(Clone, Copy)]
struct Effort_ {
    multistart: u64,
    search: u64,
}

fn steps(effort: Effort) -> Effort_ {
    match effort {
        Effort::Quick => Effort_ {
            multistart: 20_000_000,
            search: 20_000_000,
        },
        Effort::Normal => Effort_ {
            multistart: 100_000_000,
            search: 1_000_000_000,
        },
        Effort::Thorough => Effort_ {
            multistart: 200_000_000,
            search: 5_000_000_000,
        },
    }
}

/// Plans the sheets of one material.
pub(super) fn solve(
    task: &SheetTask,
    options: &SolveOptions,
    progress: &mut dyn FnMut(Progress),
) -> SheetAnswer {
    let mut instance = Instance::new(task);
    let mut unplaced = set_aside(&mut instance);
    if instance.types.is_empty() {
        return SheetAnswer {
            sheets: Vec::new(),
            unplaced,
            at_least: 0,
            cost_at_least: task
                .kinds
                .iter()
                .all(|k| k.cost.is_some())
                .then_some(Cents::ZERO),
            proved: true,
            certificate: Certificate::NothingToBuy,
            searched: 0,
        };
    }
    let problem = Problem::new(task, &instance);
    let steps = steps(options.effort);
    let mut budget = Budget::new(steps.multistart);
    let least = Price {
        money: area_bound(&instance),
        in_hand: i64::MAX,
    };
    let mut best = multistart(&problem, &mut budget, least);
    let mut searched = budget.spent();
    progress(Progress {
        sheets: bought(&problem, &best),
        at_least: 0,
        unplaced: best.absent.len() as u32,
    });
    if !best.is_whole() || best.price > least {
        let mut budget = Budget::new(steps.search);
        let limit = if best.is_whole() {
            best.price.less_money()
        } else {
            Price::MOST
        };
        let mut search = Search::new(&problem, &best, limit, Rng::new(&[1]));
        while search.run(&mut budget) {
            best.clone_from(search.now());
            best.tidy();
            if best.price.money <= least.money {
                break;
            }
            search.lower(best.price.less_money());
        }
        searched += budget.spent();
    }
    let (sheets, short) = answer::plans(task, &instance, &problem, &best);
    unplaced.extend(short);
    SheetAnswer {
        sheets,
        unplaced,
        at_least: 0,
        cost_at_least: None,
        proved: best.is_whole() && best.price.money <= least.money,
        certificate: Certificate::None,
        searched,
    }
}

/// Takes the types that fit no kind out of the instance and names their pieces.
fn set_aside(instance: &mut Instance) -> Vec<UnplacedPiece> {
    let kinds = &instance.kinds;
    let (fits, not): (Vec<_>, Vec<_>) =
        std::mem::take(&mut instance.types)
            .into_iter()
            .partition(|t| {
                t.ways.iter().any(|way| {
                    kinds
                        .iter()
                        .any(|k| k.free.max(k.buy) > 0 && way.0 <= k.w && way.1 <= k.h)
                })
            });
    instance.types = fits;
    let mut unplaced: Vec<UnplacedPiece> = not
        .iter()
        .flat_map(|t| &t.of)
        .map(|m| UnplacedPiece {
            piece: m.piece,
            count: m.count,
            fits_nothing: true,
        })
        .collect();
    unplaced.sort_by_key(|u| u.piece);
    unplaced
}

/// Sheets that are bought.
fn bought(problem: &Problem, packing: &Packing) -> u32 {
    problem
        .sheets
        .iter()
        .zip(&packing.used)
        .map(|(s, n)| n.saturating_sub(s.free))
        .sum()
}

/// Least money by area alone, all of one kind.
fn area_bound(instance: &Instance) -> i64 {
    let area: i128 = instance
        .types
        .iter()
        .map(|t| i128::from(t.ways[0].0) * i128::from(t.ways[0].1) * i128::from(t.count))
        .sum();
    let [k] = &instance.kinds[..] else { return 0 };
    let sheets = area.div_euclid(i128::from(k.w) * i128::from(k.h))
        + i128::from(area % (i128::from(k.w) * i128::from(k.h)) != 0);
    (sheets as i64 - i64::from(k.free)).max(0) * k.cost
}
