//! Several sizes: each alone first, so that a mix never ends dearer than the best single size.

use super::build::downsize;
use super::instance::Instance;
use super::packing::Packing;
use super::problem::{Price, Problem};

/// The job on kind `kind` alone; `None` if some piece does not fit it.
pub(crate) fn alone(instance: &Instance, kind: usize) -> Option<Instance> {
    let k = &instance.kinds[kind];
    let fits = |way: &(i64, i64)| way.0 <= k.w && way.1 <= k.h;
    if !instance.types.iter().all(|t| t.ways.iter().any(fits)) {
        return None;
    }
    Some(Instance {
        kinds: vec![k.clone()],
        ..instance.clone()
    })
}

/// The single kind's part of the problem.
pub(crate) fn problem_alone(problem: &Problem, kind: usize) -> Problem {
    Problem {
        sheets: vec![problem.sheets[kind]],
        ..problem.clone()
    }
}

/// A packing of one kind as a packing of all; sheets whose content fits a cheaper kind become that.
pub(crate) fn among_all(problem: &Problem, kind: usize, mut packing: Packing) -> Packing {
    packing.tidy();
    let n = packing.used[0];
    packing.used = vec![0; problem.sheets.len()];
    packing.price = Price::default();
    for _ in 0..n {
        if let Some(price) = packing.price_of_next(problem, kind) {
            packing.price = packing.price.plus(price);
        }
        packing.used[kind] += 1;
    }
    for bin in &mut packing.bins {
        bin.kind = kind;
        bin.refresh(problem);
    }
    downsize(problem, &mut packing);
    packing
}
