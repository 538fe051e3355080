//! Linear programs for column generation. The only file that names the LP crate.
//!
//! The crate gives no dual values, so the dual of the master is solved as a program of its own ([`Dual`]): a new column
//! is a new row, added to the solved program and mended from there. What the numbers are used for must stand rounding:
//! bounds are re-derived in whole numbers from whatever weights come out.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

/// Maximise gain * y with 0 <= y <= upper and rows `terms * y <= limit`.
#[derive(Debug)]
pub(crate) struct Dual {
    gain: Vec<f64>,
    upper: Vec<f64>,
    rows: Vec<(Vec<(usize, f64)>, f64)>,
    variables: Vec<Variable>,
    solved: Option<Solution>,
}

impl Dual {
    /// Without rows yet. `upper` keeps the program bounded.
    pub(crate) fn new(gain: Vec<f64>, upper: Vec<f64>) -> Self {
        Self {
            gain,
            upper,
            rows: Vec::new(),
            variables: Vec::new(),
            solved: None,
        }
    }

    /// Adds a row; a variable may come once in it.
    pub(crate) fn add_row(&mut self, terms: Vec<(usize, f64)>, limit: f64) {
        if let Some(solved) = self.solved.take() {
            let sum: Vec<(Variable, f64)> =
                terms.iter().map(|&(v, a)| (self.variables[v], a)).collect();
            let mended = solved.add_constraint(sum, ComparisonOp::Le, limit);
            self.solved = mended.ok().and_then(|o| o.into_solution().ok());
        }
        self.rows.push((terms, limit));
    }

    /// The best y and its gain; `None` if the solver gives up on it.
    pub(crate) fn solve(&mut self) -> Option<(Vec<f64>, f64)> {
        if self.solved.is_none() {
            let mut program = Problem::new(OptimizationDirection::Maximize);
            let bounds = self.gain.iter().zip(&self.upper);
            self.variables = bounds
                .map(|(g, u)| program.add_var(*g, (0.0, *u)))
                .collect();
            for (terms, limit) in &self.rows {
                let sum: Vec<(Variable, f64)> =
                    terms.iter().map(|&(v, a)| (self.variables[v], a)).collect();
                program.add_constraint(sum, ComparisonOp::Le, *limit);
            }
            self.solved = program.solve().ok().and_then(|o| o.into_solution().ok());
        }
        let solved = self.solved.as_ref()?;
        let y: Vec<f64> = self
            .variables
            .iter()
            .map(|v| solved.var_value_raw(*v))
            .collect();
        y.iter()
            .all(|v| v.is_finite())
            .then(|| (y, solved.objective()))
    }
}

/// How much of each column at least cost: minimise cost * x with 0 <= x <= upper so that the columns add up to at least
/// `need` in every row (below 0: a limit, with amounts below 0). `None` if they cannot, or the solver gives up.
pub(crate) fn cover(columns: &[(Vec<(usize, f64)>, f64, f64)], need: &[f64]) -> Option<Vec<f64>> {
    let mut program = Problem::new(OptimizationDirection::Minimize);
    let mut rows: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); need.len()];
    let mut variables = Vec::with_capacity(columns.len());
    for (terms, cost, upper) in columns {
        let x = program.add_var(*cost, (0.0, *upper));
        variables.push(x);
        for &(row, amount) in terms {
            rows[row].push((x, amount));
        }
    }
    for (sum, need) in rows.into_iter().zip(need) {
        if *need != 0.0 {
            program.add_constraint(sum, ComparisonOp::Ge, *need);
        }
    }
    let solved = program.solve().ok()?.into_solution().ok()?;
    let x: Vec<f64> = variables.iter().map(|v| solved.var_value_raw(*v)).collect();
    x.iter().all(|v| v.is_finite()).then_some(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bars of 10 cut into 3 x 4 and 4 x 3 pieces: patterns (2,0), (1,2), (0,3). Worked by hand: duals 1/2 and 1/4... the
    /// master's optimum is 2 x (1,2) and 1/2 x (2,0): 2 1/2 bars, dual prices 1/2 for a 4 and 1/4 for a 3.
    #[test]
    fn a_hand_worked_cutting_stock_program() {
        let mut dual = Dual::new(vec![3.0, 4.0], vec![9.0, 9.0]);
        dual.add_row(vec![(0, 2.0)], 1.0);
        dual.add_row(vec![(1, 3.0)], 1.0);
        let (_, before) = dual.solve().unwrap();
        assert!((before - (1.5 + 4.0 / 3.0)).abs() < 1e-9);
        dual.add_row(vec![(0, 1.0), (1, 2.0)], 1.0);
        let (y, gain) = dual.solve().unwrap();
        assert!(
            (gain - 2.5).abs() < 1e-9 && (y[0] - 0.5).abs() < 1e-9 && (y[1] - 0.25).abs() < 1e-9
        );
        let column = |terms: &[(usize, f64)]| (terms.to_vec(), 1.0, f64::INFINITY);
        let x = cover(
            &[
                column(&[(0, 2.0)]),
                column(&[(1, 3.0)]),
                column(&[(0, 1.0), (1, 2.0)]),
            ],
            &[3.0, 4.0],
        );
        assert!((x.unwrap().iter().sum::<f64>() - 2.5).abs() < 1e-9);
    }
}
