//! What is done in which order, and with how many work steps: the policy of the whole search, in one place.

use super::Progress;
use super::bounds::{self, Bound, Pool};
use super::build::{self, multistart};
use super::instance::Instance;
use super::packing::Packing;
use super::problem::{Price, Problem};
use super::recreate::Search;
use super::second::Taste;
use super::{answer, groups, patterns, second, sizes};
use crate::model::Effort;
use crate::model::certificate::Certificate;
use crate::model::task::{SheetAnswer, SheetTask, SolveOptions, UnplacedPiece};
use crate::solve::budget::Budget;
use crate::solve::rng::Rng;
use crate::solve::threads;
use crate::units::Cents;

/// Jobs with more pieces are searched by groups of sheets. [default: 150] [range: 100 to 500]
const LARGE: usize = 150;
/// Copies of a size, on average, from which column generation comes before a long search. [default: 4] [range: 2 to 10]
const MANY_COPIES: usize = 4;

/// Work steps of each stage. A step takes about six nanoseconds of one core in the search, one in the tables of the bound.
#[derive(Clone, Copy, Debug)]
struct Steps {
    /// Quick rules; the first pass is always finished.
    multistart: u64,
    /// Before the linear bound.
    first_search: u64,
    /// The linear bound and the plan made from it.
    linear: u64,
    /// The same where sizes repeat: there it decides.
    linear_copies: u64,
    /// What the plans made from it leave.
    rest: u64,
    /// After it.
    search: u64,
    /// By groups, for large jobs.
    groups: u64,
    /// Second aims, for each piece; at least as for ten pieces, at most as for five hundred.
    second_each: u64,
}

const QUICK: Steps = Steps {
    multistart: 10_000_000,
    first_search: 8_000_000,
    linear: 20_000_000,
    linear_copies: 50_000_000,
    rest: 10_000_000,
    search: 4_000_000,
    groups: 50_000_000,
    second_each: 50_000,
};
const NORMAL: Steps = Steps {
    multistart: 40_000_000,
    first_search: 30_000_000,
    linear: 300_000_000,
    linear_copies: 800_000_000,
    rest: 160_000_000,
    search: 150_000_000,
    groups: 240_000_000,
    second_each: 300_000,
};
const THOROUGH: Steps = Steps {
    multistart: 80_000_000,
    first_search: 100_000_000,
    linear: 600_000_000,
    linear_copies: 1_200_000_000,
    rest: 600_000_000,
    search: 1_500_000_000,
    groups: 4_000_000_000,
    second_each: 1_500_000,
};

/// A plan in the making.
struct Course<'a> {
    problem: &'a Problem,
    /// The same without the places that only single passes need.
    quick: Problem,
    instance: &'a Instance,
    workers: usize,
    best: Packing,
    bound: Bound,
    searched: u64,
}

impl<'a> Course<'a> {
    fn new(
        problem: &'a Problem,
        instance: &'a Instance,
        workers: usize,
        best: Packing,
        bound: Bound,
    ) -> Self {
        Self {
            problem,
            quick: Problem {
                standing: false,
                ..problem.clone()
            },
            instance,
            workers,
            best,
            bound,
            searched: 0,
        }
    }

    /// Nothing cheaper is possible.
    fn is_least(&self) -> bool {
        self.best.is_whole() && self.best.price.money <= self.bound.cost
    }

    fn enough(&self) -> Price {
        Price {
            money: self.bound.cost,
            in_hand: i64::MAX,
        }
    }

    fn trace(&self, what: &str, t: std::time::Instant) {
        if std::env::var("TRACE").is_ok() {
            eprintln!("TRACE {what}: sheets {} absent {} bound {} searched {}M  {:.2}s", self.best.bins.iter().filter(|b| !b.is_empty()).count(), self.best.absent.len(), self.bound.sheets, self.searched/1_000_000, t.elapsed().as_secs_f64());
        }
    }

    fn take(&mut self, found: Packing) {
        if found.better_than(&self.best) {
            self.best = found;
            self.best.tidy();
        }
    }

    /// Ruin and recreate: two streams that start alike and go on from the better of both after each round.
    fn search(&mut self, steps: u64, from: Option<&Packing>, seed: u64) {
        let t0=std::time::Instant::now();
        self.search2(steps, from, seed);
        self.trace("search", t0);
    }
    fn search2(&mut self, steps: u64, from: Option<&Packing>, seed: u64) {
        const ROUNDS: u64 = 4;
        let mut from = from.cloned();
        for round in 0..ROUNDS {
            if self.is_least() {
                return;
            }
            let problem = &self.quick;
            let enough = self.enough();
            let start = from.take().unwrap_or_else(|| self.best.clone());
            let best = &self.best;
            let streams = threads::map(self.workers, vec![0, 1], |stream| {
                let mut budget = Budget::new(steps / (2 * ROUNDS));
                let rng = Rng::new(&[seed, round, stream]);
                let found = descend(problem, &start, best, enough, rng, &mut budget);
                (found, budget.spent())
            });
            for (found, spent) in streams {
                self.searched += spent;
                if let Some(found) = found {
                    self.take(found);
                }
            }
        }
    }

    fn linear(&mut self, steps: u64, each: u64) {
        let t0=std::time::Instant::now();
        self.linear2(steps, each);
        self.trace("linear", t0);
    }
    fn linear2(&mut self, steps: u64, each: u64) {
        let mut left = steps;
        let incumbent = if self.best.is_whole() {
            self.best.price.money
        } else {
            i64::MAX
        };
        let known = patterns::of(&self.best);
        let out = bounds::lp(self.instance, &mut left, incumbent, known);
        self.searched += steps - left;
        self.bound = out.bound.or(self.bound.clone());
        self.dives(&out.pool, left, each);
    }

    /// Plans rounded from patterns, each another way; the few sheets they leave are searched alone.
    fn dives(&mut self, pool: &Pool, steps: u64, each: u64) {
        const ROUNDS: u64 = 4;
        if pool.is_empty() {
            return;
        }
        for round in 0..ROUNDS {
            if self.is_least() {
                return;
            }
            let (problem, quick, instance) = (self.problem, &self.quick, self.instance);
            let enough = self.enough();
            let found = threads::map(self.workers, vec![2 * round, 2 * round + 1], |nth| {
                let mut left = steps / (2 * ROUNDS);
                let patterns = bounds::dive(instance, pool, nth, &mut left);
                let mut budget = Budget::new(each / (2 * ROUNDS));
                let (mut found, first) = patterns::packing(problem, &patterns, &mut budget);
                groups::rest(quick, &mut found, first, enough, nth, &mut budget);
                (found, steps / (2 * ROUNDS) - left + budget.spent())
            });
            for (found, spent) in found {
                self.searched += spent;
                if std::env::var("TRACE").is_ok() { eprintln!("   dive round {round}: whole {} sheets {}", found.is_whole(), found.bins.len()); }
                self.take(found);
            }
        }
    }
}

/// Goes down in price from `start` as long as the budget lasts; gives the best whole plan that beats `best`.
fn descend(
    problem: &Problem,
    start: &Packing,
    best: &Packing,
    enough: Price,
    rng: Rng,
    budget: &mut Budget,
) -> Option<Packing> {
    if !best.is_whole() {
        // Limits are tight: what matters is to place more.
        let mut least = best.clone();
        let mut search = Search::new(problem, start, Price::MOST, rng);
        search.run_keeping(budget, &mut least);
        return Some(least);
    }
    let mut found: Option<Packing> = None;
    let mut search = Search::new(problem, start, best.price.less_money(), rng);
    while search.run(budget) {
        let mut packing = search.now().clone();
        packing.tidy();
        let price = packing.price;
        found = Some(packing);
        if price <= enough || price.money == 0 {
            break;
        }
        search.lower(price.less_money());
    }
    found
}

/// Plans the sheets of one material.
pub(super) fn solve(
    task: &SheetTask,
    options: &SolveOptions,
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
    let steps = match options.effort {
        Effort::Quick => QUICK,
        Effort::Normal => NORMAL,
        Effort::Thorough => THOROUGH,
    };
    let ev = |n: &str, d: u64| std::env::var(n).ok().and_then(|v| v.parse::<u64>().ok()).map_or(d, |v| v * 1_000_000);
    let steps = Steps { first_search: ev("S_FIRST", steps.first_search), linear: ev("S_LIN", steps.linear), linear_copies: ev("S_LINC", steps.linear_copies), rest: ev("S_REST", steps.rest), search: ev("S_SEARCH", steps.search), groups: ev("S_GROUPS", steps.groups), ..steps };
    let bound = bounds::quick(&instance);
    let mut budget = Budget::new(steps.multistart);
    let enough = Price {
        money: bound.cost,
        in_hand: 0,
    };
    let best = multistart(&problem, &mut budget, enough);
    let workers = options.threads.max(1);
    let mut course = Course::new(&problem, &instance, workers, best, bound);
    course.searched += budget.spent();
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
    let t0=std::time::Instant::now();
    second_aims(task, &mut course, &steps);
    course.trace("second", t0);
    tell(&course);
    finish(task, course, priced, unplaced)
}

/// With several sizes, plans each that could be cheaper by itself; the mix then starts from the best of them.
fn each_size_alone(course: &mut Course, steps: &Steps) {
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
        improve(&mut by_itself, steps, &mut |_| {});
        course.searched += budget.spent() + by_itself.searched;
        if by_itself.best.is_whole() {
            let found = sizes::among_all(course.problem, kind, by_itself.best);
            course.take(found);
        }
    }
}

/// The stages, in order, until nothing cheaper is possible.
fn improve(course: &mut Course, steps: &Steps, tell: &mut impl FnMut(&Course)) {
    let pieces: usize = course.problem.counts.iter().map(|n| *n as usize).sum();
    let copies = pieces / course.problem.items.len().max(1);
    let linear = if copies >= MANY_COPIES {
        steps.linear_copies
    } else {
        steps.linear
    };
    if pieces <= LARGE {
        course.search(steps.first_search, None, 1);
        tell(course);
        if !course.is_least() {
            course.linear(linear, steps.rest);
            tell(course);
        }
        course.search(steps.search, None, 2);
        return;
    }
    if !course.is_least() {
        course.linear(linear, steps.rest);
        tell(course);
    }
    if !course.is_least() {
        by_groups(course, steps.groups, 3);
        tell(course);
    }
    if !course.best.is_whole() {
        course.search(steps.search, None, 5);
    }
}

fn by_groups(course: &mut Course, steps: u64, seed: u64) {
    let t0=std::time::Instant::now();
    by_groups2(course, steps, seed);
    course.trace("groups", t0);
}
fn by_groups2(course: &mut Course, steps: u64, seed: u64) {
    if !course.best.is_whole() {
        return;
    }
    let mut budget = Budget::new(steps);
    let (enough, workers) = (course.enough(), course.workers);
    let problem = course.problem;
    groups::improve(
        problem,
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
    let mut budget = Budget::new(steps.second_each * pieces.clamp(10, 500));
    let unit = course.instance.unit.units();
    let taste = Taste {
        narrow: i32::try_from((task.narrowest_safe_rip + task.kerf).units() / unit.max(1))
            .unwrap_or(i32::MAX / 4)
            .min(i32::MAX / 4),
        keep: task.keep,
        unit,
        kerf: task.kerf.units(),
    };
    let rng = Rng::new(&[7]);
    second::improve(&course.quick, &taste, &mut course.best, rng, &mut budget);
    course.searched += budget.spent();
}

fn finish(
    task: &SheetTask,
    course: Course,
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
    let (sheets, short) = answer::plans(task, instance, problem, &best);
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
