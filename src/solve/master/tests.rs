//! The master program by hand and against a general library.

use super::*;
use crate::solve::rng::Rng;
use good_lp::{
    Expression, Solution, SolverModel, Variable, constraint, microlp, variable, variables,
};

/// Bars of 10 cut into 3 x 4 and 4 x 3 pieces: patterns (2,0), (1,2), (0,3). Worked by hand: 2 x (1,2) and half of
/// (2,0) are 2 1/2 bars; prices 1/2 for a 4 and 1/4 for a 3.
#[test]
fn a_hand_worked_cutting_stock_program() {
    let mut steps = u64::MAX;
    let mut master = Master::new(vec![3.0, 4.0], vec![9.0, 9.0]);
    master.add(&[(0, 2.0)], 1.0);
    master.add(&[(1, 3.0)], 1.0);
    let (_, before) = master.solve(&mut steps).unwrap();
    assert!((before - (1.5 + 4.0 / 3.0)).abs() < 1e-6);
    master.add(&[(0, 1.0), (1, 2.0)], 1.0);
    let (y, value) = master.solve(&mut steps).unwrap();
    assert!((value - 2.5).abs() < 1e-6 && (y[0] - 0.5).abs() < 1e-9 && (y[1] - 0.25).abs() < 1e-9);
    let (used, whole) = master.used();
    assert!(
        whole
            && (used[0] - 0.5).abs() < 1e-6
            && used[1].abs() < 1e-6
            && (used[2] - 2.0).abs() < 1e-6
    );
}

/// The same program for the library: its value.
fn by_library(need: &[f64], top: &[f64], columns: &[(Vec<(usize, f64)>, f64)]) -> f64 {
    let mut vars = variables!();
    let x: Vec<Variable> = columns
        .iter()
        .map(|_| vars.add(variable().min(0)))
        .collect();
    let missing: Vec<Variable> = need.iter().map(|_| vars.add(variable().min(0))).collect();
    let mut cost = Expression::from(0.0);
    let mut rows: Vec<Expression> = vec![Expression::from(0.0); need.len()];
    for ((terms, c), x) in columns.iter().zip(&x) {
        cost += *c * *x;
        for (row, amount) in terms {
            rows[*row] += *amount * *x;
        }
    }
    for ((row, m), top) in rows.iter_mut().zip(&missing).zip(top) {
        if top.is_finite() {
            cost += *top * *m;
            *row += *m;
        }
    }
    let mut model = vars.minimise(cost.clone()).using(microlp);
    for (row, n) in rows.into_iter().zip(need) {
        model = model.with(constraint!(row >= *n));
    }
    let solved = model.solve().unwrap();
    solved.eval(cost)
}

/// Against a general linear programming library, on 400 programs with limits, equal columns and rows without a need.
#[test]
fn values_equal_a_general_library() {
    for seed in 0..400 {
        let mut rng = Rng::new(&[seed, 81]);
        let rows = 1 + rng.index(9);
        let limits = rng.index(3);
        let mut need: Vec<f64> = (0..rows).map(|_| rng.index(9) as f64).collect();
        let mut top: Vec<f64> = vec![4.0; rows];
        for _ in 0..limits {
            need.push(-(1.0 + rng.index(4) as f64));
            top.push(f64::INFINITY);
        }
        let mut master = Master::new(need.clone(), top.clone());
        let mut columns = Vec::new();
        for round in 0..4 {
            // Now and then more columns than the short list holds.
            let most = if seed % 4 == 0 { 90 } else { 12 };
            for _ in 0..rng.index(most) {
                let mut terms: Vec<(usize, f64)> = (0..rows)
                    .map(|i| {
                        (
                            i,
                            if rng.chance(400) {
                                1.0 + rng.index(4) as f64
                            } else {
                                0.0
                            },
                        )
                    })
                    .filter(|t| t.1 > 0.0)
                    .collect();
                if limits > 0 && rng.chance(500) {
                    terms.push((rows + rng.index(limits), -1.0));
                }
                let cost = [0.0, 1.0, 1.0, 0.75][rng.index(4)];
                // Free without a limit would be no program of this kind.
                let free = cost == 0.0 && terms.last().is_none_or(|t| t.0 < rows);
                let cost = if free { 1.0 } else { cost };
                master.add(&terms, cost);
                columns.push((terms, cost));
            }
            let (prices, value) = master.solve(&mut u64::MAX.clone()).expect("settles");
            let prices = prices.to_vec();
            let library = by_library(&need, &top, &columns);
            assert!(
                (value - library).abs() < 1e-5,
                "seed {seed} round {round}: {value} or {library}"
            );
            for (terms, cost) in &columns {
                let worth: f64 = terms.iter().map(|(row, a)| prices[*row] * a).sum();
                assert!(worth <= cost + 1e-6);
            }
            let (used, whole) = master.used();
            let paid: f64 = used.iter().zip(&columns).map(|(u, c)| u * c.1).sum();
            assert!(
                !whole || (paid - value).abs() < 1e-5,
                "seed {seed}: pays {paid} for {value}"
            );
        }
    }
}

/// So many columns that a working list is kept: the same value as the library's, whatever is looked at first.
#[test]
fn values_of_many_columns_equal_a_general_library() {
    for seed in 0..4 {
        let mut rng = Rng::new(&[seed, 82]);
        let rows = 8 + rng.index(8);
        let need: Vec<f64> = (0..rows).map(|_| 1.0 + rng.index(9) as f64).collect();
        let top = vec![4.0; rows];
        let mut columns = Vec::new();
        while columns.len() <= MANY + 500 * seed as usize {
            let mut terms = Vec::new();
            for row in 0..rows {
                if rng.chance(250) {
                    terms.push((row, 1.0 + rng.index(3) as f64));
                }
            }
            if !terms.is_empty() {
                columns.push((terms, 0.5 + rng.index(1_000) as f64 / 1_000.0));
            }
        }
        let library = by_library(&need, &top, &columns);
        let last = columns.len() as u32 - 1;
        for first in [vec![], vec![last], (0..last / 2).collect()] {
            let mut master = Master::new(need.clone(), top.clone());
            for (terms, cost) in &columns {
                master.add(terms, *cost);
            }
            master.look_first(first);
            let (_, value) = master.solve(&mut u64::MAX.clone()).expect("settles");
            assert!(
                (value - library).abs() < 1e-5,
                "seed {seed}: {value} or {library}"
            );
        }
    }
}
