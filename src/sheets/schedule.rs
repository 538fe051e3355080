//! What is done in which order, and with how many work steps: the policy of the whole search, in one place.

use super::Progress;
use super::bounds::{self, Bound};
use super::build::{self, multistart};
use super::course::Course;
use super::effort::Steps;
use super::instance::Instance;
use super::packing::Packing;
use super::problem::{Price, Problem};
use super::recreate::Search;
use super::second::Taste;
use super::{answer, groups, second, sizes};
use crate::model::certificate::Certificate;
use crate::model::task::{SheetAnswer, SheetTask, SolveOptions, UnplacedPiece};
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::units::Cents;

/// Jobs with more pieces are searched by groups of sheets. [default: 150] [range: 100 to 500]
const LARGE: usize = 150;
/// Those with no more than this are then searched as a whole too. [default: 400] [range: 150 to 1,000]
const MIDDLING: usize = 400;
/// Copies of a size, on average, from which column generation comes before a long search. [default: 4] [range: 2 to 10]
const MANY_COPIES: usize = 4;
/// Copies of a size, on average, from which it pays more than a long search does. [default: 2] [range: 2 to 4]
const SOME_COPIES: usize = 2;
/// With more sizes the linear bound does not come to an end in any time she would wait: groups get its steps. [default: 200]
/// [range: 100 to 1,000]
const MANY_TYPES: usize = 200;
/// Pieces for which the search by groups then gets its steps once; for more it gets more. [default: 700] [range: 300 to
/// 2,000]
const PIECES_EACH: u64 = 700;

/// What an earlier plan gives to begin with.
pub(super) struct Start {
    pub(super) best: Packing,
    pub(super) bound: Bound,
    /// Steps spent on it.
    pub(super) spent: u64,
}

/// Plans the sheets of one material.
pub(super) fn solve(
    task: &SheetTask,
    options: &SolveOptions,
    progress: &mut dyn FnMut(Progress),
) -> SheetAnswer {
    solve_from(task, options, |_, _| None, progress)
}

/// The same from what `start` knows of the task; where that proves itself least, no more is done.
pub(super) fn solve_from(
    task: &SheetTask,
    options: &SolveOptions,
    start: impl FnOnce(&Instance, &Problem) -> Option<Start>,
    progress: &mut dyn FnMut(Progress),
) -> SheetAnswer {
    let mut instance = Instance::new(task);
    let unplaced = set_aside(&mut instance);
    let priced = task
        .kinds
        .iter()
        .all(|k| k.cost.is_some() || k.at_most == Some(0));
    if instance.types.is_empty() {
        return SheetAnswer {
            sheets: Vec::new(),
            unplaced,
            at_least: 0,
            cost_at_least: priced.then_some(Cents::ZERO),
            proved: true,
            certificate: Certificate::NothingToBuy,
            searched: 0,
        };
    }
    let problem = Problem::new(task, &instance);
    let steps = Steps::of(options.effort);
    let workers = options.threads.max(1);
    let known = start(&instance, &problem);
    let (known, bound, spent) = match known {
        Some(s) => (Some(s.best), s.bound, s.spent),
        None => (None, bounds::quick(&instance), 0),
    };
    let serves = |p: &Packing| p.is_whole() && p.price.money <= bound.cost;
    if known.as_ref().is_some_and(serves) {
        let best = known.unwrap_or_default();
        let mut course = Course::new(&problem, &instance, workers, best, bound);
        course.searched = spent;
        return finish(task, course, options.second_aims, priced, unplaced);
    }
    let mut budget = Budget::new(steps.multistart);
    let enough = Price {
        money: bound.cost,
        in_hand: 0,
    };
    let best = multistart(&problem, &mut budget, enough);
    let mut course = Course::new(&problem, &instance, workers, best, bound);
    course.searched += spent + budget.spent();
    if let Some(known) = known {
        course.take(known);
    }
    let mut tell = |course: &Course| {
        progress(Progress {
            sheets: bought(course.problem, &course.best),
            at_least: course.bound.sheets,
            unplaced: course.best.absent.len() as u32,
        });
    };
    tell(&course);
    each_size_alone(&mut course, &steps);
    improve(&mut course, &steps, &mut tell);
    if course.best.is_whole() {
        fewer_in_hand(&mut course, steps.first_search);
    } else {
        // Whatever still fits somewhere is placed, whatever the search thought of it.
        for bin in &mut course.best.bins {
            bin.refresh(&problem);
        }
        build::complete(&problem, &mut course.best, &mut budget);
    }
    if options.second_aims {
        second_aims(task, &mut course, &steps);
    }
    // Second aims may empty a sheet in hand that a bought one can then make way for.
    build::downsize(&problem, &mut course.best);
    tell(&course);
    finish(task, course, options.second_aims, priced, unplaced)
}

/// With several sizes, plans each that could be cheaper by itself; the mix then starts from the best of them.
pub(super) fn each_size_alone(course: &mut Course, steps: &Steps) {
    if course.problem.sheets.len() < 2 {
        return;
    }
    for kind in 0..course.problem.sheets.len() {
        let sheet = &course.problem.sheets[kind];
        if sheet.limit <= sheet.free {
            continue;
        }
        let Some(instance) = sizes::alone(course.instance, kind) else {
            continue;
        };
        let bound = bounds::quick(&instance);
        if course.best.is_whole() && bound.cost >= course.best.price.money {
            continue;
        }
        let problem = sizes::problem_alone(course.problem, kind);
        let mut budget = Budget::new(steps.multistart);
        let enough = Price {
            money: bound.cost,
            in_hand: 0,
        };
        let best = multistart(&problem, &mut budget, enough);
        let mut by_itself = Course::new(&problem, &instance, course.workers, best, bound);
        by_itself.aim = course.aim;
        improve(&mut by_itself, steps, &mut |_| {});
        course.searched += budget.spent() + by_itself.searched;
        if by_itself.best.is_whole() {
            let found = sizes::among_all(course.problem, kind, by_itself.best);
            course.take(found);
        }
    }
}

/// The stages, in order, until nothing cheaper is possible.
pub(super) fn improve(course: &mut Course, steps: &Steps, tell: &mut impl FnMut(&Course)) {
    let pieces: usize = course.problem.counts.iter().map(|n| *n as usize).sum();
    if pieces <= LARGE {
        course.search(steps.first_search, None, 1);
        tell(course);
        if !course.is_settled() {
            linear(course, steps, pieces);
            tell(course);
        }
        let less = course.listed.min(steps.search / 2);
        course.search(steps.search - less, None, 2);
        return;
    }
    let too_many = course.problem.items.len() > MANY_TYPES;
    if !too_many && !course.is_settled() {
        linear(course, steps, pieces);
        tell(course);
    }
    if !course.is_settled() {
        let times = if too_many {
            (pieces as u64 / PIECES_EACH).max(1)
        } else {
            1
        };
        by_groups(course, steps.groups * times, 3);
        tell(course);
    }
    if pieces <= MIDDLING || !course.best.is_whole() {
        course.search(steps.search, None, 5);
        tell(course);
    }
}

/// The linear bound and plans from it, with more steps where sizes repeat or its tables are large.
fn linear(course: &mut Course, steps: &Steps, pieces: usize) {
    let copies = pieces / course.problem.items.len().max(1);
    let (bound, dives, rest) = if copies >= MANY_COPIES {
        (steps.linear_copies, u64::MAX, steps.rest_some)
    } else if bounds::tables_are_large(course.instance) {
        (steps.linear_large, u64::MAX, steps.rest_large)
    } else if copies >= SOME_COPIES {
        (steps.linear_some, u64::MAX, steps.rest_some)
    } else {
        (steps.linear, steps.dives, steps.rest)
    };
    course.linear(bound, steps.listed, (dives, rest));
}

fn by_groups(course: &mut Course, steps: u64, seed: u64) {
    if !course.best.is_whole() {
        return;
    }
    let mut budget = Budget::new(steps);
    let (enough, workers) = (course.enough(), course.workers);
    groups::improve(
        &course.quick,
        &mut course.best,
        enough,
        seed,
        workers,
        &mut budget,
    );
    course.searched += budget.spent();
}

/// At the same money, takes less from the rack and from sheets in hand.
fn fewer_in_hand(course: &mut Course, steps: u64) {
    if course.best.price.in_hand == 0 {
        return;
    }
    let mut budget = Budget::new(steps);
    let mut search = Search::new(
        &course.quick,
        &course.best,
        course.best.price,
        Rng::new(&[6]),
    );
    while search.run(&mut budget) {
        let mut found = search.now().clone();
        found.tidy();
        let price = found.price;
        course.best = found;
        if price.in_hand == 0 {
            break;
        }
        search.lower(price);
    }
    course.searched += budget.spent();
}

fn second_aims(task: &SheetTask, course: &mut Course, steps: &Steps) {
    let pieces: u64 = course.problem.counts.iter().map(|n| u64::from(*n)).sum();
    let all = (steps.second_square * pieces * pieces).min(steps.second_most);
    // Steps of gathering take less time. Of a large job the emptiest sheets are few: most of what there is to gain lies in the
    // cuts of the others.
    let part = if pieces > MIDDLING as u64 { 1 } else { 3 };
    let mut gather = Budget::new(all / 5 * part);
    let taste = Taste::of(task, course.instance);
    second::gather(
        &course.quick,
        &taste,
        &mut course.best,
        8,
        course.workers,
        &mut gather,
    );
    course.searched += gather.spent();
    let mut budget = Budget::new(all / 5 * (5 - part));
    let rng = Rng::new(&[7]);
    second::improve(&course.quick, &taste, &mut course.best, rng, &mut budget);
    course.searched += budget.spent();
}

fn finish(
    task: &SheetTask,
    course: Course,
    second_aims: bool,
    priced: bool,
    mut unplaced: Vec<UnplacedPiece>,
) -> SheetAnswer {
    let Course {
        problem,
        instance,
        best,
        bound,
        searched,
        ..
    } = course;
    let taste = second_aims.then(|| Taste::of(task, instance));
    let (sheets, short) = answer::plans(task, instance, problem, &best, taste.as_ref());
    unplaced.extend(short);
    if !best.is_whole() {
        // The bounds speak of all pieces; of a part of them nothing is claimed.
        return SheetAnswer {
            sheets,
            unplaced,
            at_least: 0,
            cost_at_least: priced.then_some(Cents::ZERO),
            proved: false,
            certificate: Certificate::None,
            searched,
        };
    }
    let certificate = bounds::certificate(task, instance, &bound);
    let one_size = problem.sheets.iter().filter(|s| s.limit > s.free).count() <= 1;
    let least =
        best.price.money <= bound.cost || (one_size && bought(problem, &best) <= bound.sheets);
    SheetAnswer {
        sheets,
        unplaced,
        at_least: bound.sheets,
        cost_at_least: priced.then_some(Cents(bound.cost)),
        proved: least && certificate != Certificate::None,
        certificate,
        searched,
    }
}

/// Takes the types that fit no kind out of the instance and names their pieces.
pub(super) fn set_aside(instance: &mut Instance) -> Vec<UnplacedPiece> {
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
