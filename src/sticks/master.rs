//! The linear programme over stick patterns: a revised simplex with an explicit inverse, made for columns that arrive one
//! by one. Small (a row for each size and each limit), so nothing cleverer pays.
//!
//! Its floating-point results only steer the search and suggest weights. Bounds are worked out again in whole numbers.

/// One column.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// Its cost.
    pub cost: f64,
    /// Non-zero entries by row.
    pub rows: Vec<(usize, f64)>,
}

/// minimise cost x, with columns x = right-hand side, x >= 0.
pub(super) struct Master {
    rows: usize,
    /// All columns; the first `rows` are the unit columns that start the basis.
    pub columns: Vec<Column>,
    basis: Vec<usize>,
    in_basis: Vec<bool>,
    inverse: Vec<f64>,
    /// Values of the basic columns, by row.
    level: Vec<f64>,
    /// Prices of the rows.
    pub duals: Vec<f64>,
}

const SMALL: f64 = 1e-9;

impl Master {
    /// Starts from unit columns of the given costs.
    pub(super) fn new(right: &[f64], unit_costs: &[f64]) -> Self {
        let rows = right.len();
        let mut inverse = vec![0.0; rows * rows];
        for i in 0..rows {
            inverse[i * rows + i] = 1.0;
        }
        let columns = (0..rows)
            .map(|i| Column {
                cost: unit_costs[i],
                rows: vec![(i, 1.0)],
            })
            .collect();
        Self {
            rows,
            columns,
            basis: (0..rows).collect(),
            in_basis: vec![true; rows],
            inverse,
            level: right.to_vec(),
            duals: unit_costs.to_vec(),
        }
    }

    /// Adds a column.
    pub(super) fn add(&mut self, column: Column) {
        self.columns.push(column);
        self.in_basis.push(false);
    }

    fn reduced(&self, c: &Column) -> f64 {
        c.cost - c.rows.iter().map(|(i, a)| self.duals[*i] * a).sum::<f64>()
    }

    /// Pivots until no column here improves. False if the budget ran out.
    pub(super) fn optimise(&mut self, budget: &mut u64) -> bool {
        let mut pivots = 0;
        loop {
            let spent = (self.rows * self.rows / 8 + self.columns.len() * 2 + 8) as u64;
            let Some(left) = budget.checked_sub(spent) else {
                *budget = 0;
                return false;
            };
            *budget = left;
            let mut enter: Option<(usize, f64)> = None;
            for (j, c) in self.columns.iter().enumerate() {
                if self.in_basis[j] {
                    continue;
                }
                let d = self.reduced(c);
                if d < -1e-7 * (1.0 + c.cost.abs()) && enter.is_none_or(|(_, best)| d < best) {
                    enter = Some((j, d));
                }
            }
            let Some((j, _)) = enter else { return true };
            if !self.pivot(j) {
                return true;
            }
            pivots += 1;
            if pivots > 50 * self.rows + 200 {
                return true;
            }
        }
    }

    /// Brings column `j` in. False where nothing limits it, which a bounded programme never shows.
    fn pivot(&mut self, j: usize) -> bool {
        let m = self.rows;
        let mut way = vec![0.0; m];
        for (i, a) in &self.columns[j].rows {
            for (r, w) in way.iter_mut().enumerate() {
                *w += self.inverse[r * m + i] * a;
            }
        }
        let mut out: Option<(usize, f64)> = None;
        for (r, w) in way.iter().enumerate() {
            if *w > SMALL {
                let step = self.level[r] / w;
                let better = out
                    .is_none_or(|(o, s)| step < s - 1e-12 || (step < s + 1e-12 && way[r] > way[o]));
                if better {
                    out = Some((r, step));
                }
            }
        }
        let Some((r, step)) = out else { return false };
        let step = step.max(0.0);
        for (level, w) in self.level.iter_mut().zip(&way) {
            *level = (*level - step * w).max(0.0);
        }
        self.level[r] = step;
        let d = self.reduced(&self.columns[j]);
        let scale = 1.0 / way[r];
        let row: Vec<f64> = self.inverse[r * m..(r + 1) * m]
            .iter()
            .map(|v| v * scale)
            .collect();
        for (i, w) in way.iter().enumerate() {
            if i == r {
                self.inverse[i * m..(i + 1) * m].copy_from_slice(&row);
            } else if w.abs() > 1e-13 {
                for (v, p) in self.inverse[i * m..(i + 1) * m].iter_mut().zip(&row) {
                    *v -= w * p;
                }
            }
        }
        for (y, p) in self.duals.iter_mut().zip(&row) {
            *y += d * p;
        }
        self.in_basis[self.basis[r]] = false;
        self.in_basis[j] = true;
        self.basis[r] = j;
        true
    }

    /// Columns in use and how much of each.
    pub(super) fn in_use(&self) -> Vec<(usize, f64)> {
        let mut used: Vec<(usize, f64)> = (self.basis.iter())
            .zip(&self.level)
            .filter(|(_, x)| **x > 1e-7)
            .map(|(j, x)| (*j, *x))
            .collect();
        used.sort_by_key(|(j, _)| *j);
        used
    }
}
