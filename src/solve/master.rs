//! The master program of column generation, by the revised simplex method with the inverse of the basis kept whole.
//!
//! Minimise cost * x so that the columns add up to at least `need` in every row. Whatever is missing of a row may be had
//! at the row's `top` price, so there is always a solution and no price passes it; a need below 0 is a limit (columns
//! take from it with amounts below 0) and has no top. Columns come one by one and the old basis serves on: that, and that
//! prices and uses both come out, is why this is not left to a library. Programs here have a few hundred rows, and
//! columns with a dozen entries: the whole inverse is small, and one pivot costs less than looking through a sheet.
//!
//! Needs are disturbed by hundred-millionths so that no two rows are exhausted by the same step (Charnes 1952). Prices
//! stay exact solutions of the dual all the same, for the dual constraints do not hold the needs. What prices are used
//! for must stand rounding all the same: bounds are re-derived in whole numbers from whatever weights come out.

/// A reduced cost below this, relative to the column's length, is worth a pivot.
const GAIN: f64 = 1e-9;
/// Smallest entry to pivot on.
const PIVOT: f64 = 1e-8;
/// Size of the disturbance.
const DISTURB: f64 = 1e-8;
/// Error in the rows or the prices from which the inverse is made anew.
const ERROR: f64 = 1e-7;
/// A basic value below minus this: the basis is not one.
const LOST: f64 = 1e-5;
/// Pivots between looks at the error. Default 64, range 10..=1,000.
const LOOK: u32 = 64;

/// Columns that are looked at again before all are. Default 40, range 1 (all, at every pivot)..=1,000.
const SHORT_LIST: usize = 40;
/// Of very many columns, one in so many: to look at all of them is dear. Default 100, range 20..=1,000.
const ONE_IN: usize = 100;
/// With more columns than this a working list stands between the short list and all. Default 3,000, range 500..=10,000.
const MANY: usize = 3_000;
/// Columns that a look at all of them puts on the working list: at least so many, and one in so many. Defaults 500 and 50,
/// ranges 100..=2,000 and 10..=200.
const WORKING: usize = 500;
const WORKING_IN: usize = 50;
/// The working list begins anew once it is so many times as long. Default 10, range 3..=30.
const WORKING_MOST: usize = 10;

/// Entries of a column, about.
const ENTRIES: usize = 6;

/// The program and its basis.
#[derive(Clone, Debug)]
pub(crate) struct Master {
    need: Vec<f64>,
    disturbed: Vec<f64>,
    top: Vec<f64>,
    columns: Vec<Column>,
    /// Entries of all columns, one after the other: they are walked through at every pivot.
    terms: Vec<(u32, f64)>,
    /// What is basic in each row.
    basis: Vec<Basic>,
    is_basic: Vec<bool>,
    /// Inverse of the basis, by column.
    inverse: Vec<f64>,
    /// Values of the basic variables.
    x: Vec<f64>,
    prices: Vec<f64>,
    /// The column at hand in terms of the basis.
    entering: Vec<f64>,
    /// Columns that were worth a pivot when more were last looked at.
    short_list: Vec<u32>,
    /// Of many columns those that are looked at before all are.
    working: Vec<u32>,
}

/// A column that gains by its length, its reduced cost, and which it is.
type Gaining = (f64, f64, u32);

#[derive(Clone, Debug)]
struct Column {
    /// Where its entries begin and end.
    from: u32,
    to: u32,
    cost: f64,
    /// One over the length, to compare columns fairly.
    scale: f64,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Basic {
    /// More than needed of a row.
    Surplus(usize),
    /// Had at the top price.
    Missing(usize),
    Column(usize),
}

impl Master {
    /// Without columns yet: everything is missing. `top` is infinite for limits.
    pub(crate) fn new(need: Vec<f64>, top: Vec<f64>) -> Self {
        let rows = need.len();
        let shake = |(i, n): (usize, &f64)| {
            // Golden-section fractions: far from each other and always the same.
            let fraction = (i as f64 + 1.0) * 0.618_033_988_749_895;
            n + DISTURB * (0.5 + fraction.fract())
        };
        let disturbed = need.iter().enumerate().map(shake).collect();
        let mut master = Self {
            need,
            disturbed,
            top,
            columns: Vec::new(),
            terms: Vec::new(),
            basis: Vec::new(),
            is_basic: Vec::new(),
            inverse: Vec::new(),
            x: Vec::new(),
            prices: vec![0.0; rows],
            entering: vec![0.0; rows],
            short_list: Vec::new(),
            working: Vec::new(),
        };
        master.start();
        master
    }

    fn rows(&self) -> usize {
        self.need.len()
    }

    /// How many columns there are.
    pub(crate) fn columns(&self) -> usize {
        self.columns.len()
    }

    /// Adds a column: (row, amount), each row once.
    pub(crate) fn add(&mut self, terms: &[(usize, f64)], cost: f64) {
        let length: f64 = terms.iter().map(|t| t.1 * t.1).sum();
        let from = self.terms.len() as u32;
        self.terms.extend(terms.iter().map(|t| (t.0 as u32, t.1)));
        self.columns.push(Column {
            from,
            to: self.terms.len() as u32,
            cost,
            scale: (1.0 + length).sqrt().recip(),
        });
        self.is_basic.push(false);
    }

    /// What a column adds to which rows.
    fn terms(&self, column: &Column) -> &[(u32, f64)] {
        &self.terms[column.from as usize..column.to as usize]
    }

    /// What the rows that a column serves are worth at the prices now.
    fn worth(&self, column: &Column) -> f64 {
        let terms = self.terms(column).iter();
        terms.map(|t| self.prices[t.0 as usize] * t.1).sum()
    }

    /// The basis in which everything is missing and every limit untouched.
    fn start(&mut self) {
        let m = self.rows();
        self.basis = (0..m).map(|i| self.alone(i)).collect();
        self.is_basic.fill(false);
        self.unit_inverse();
        self.x = self.disturbed.iter().map(|b| b.abs()).collect();
        self.find_prices();
    }

    /// What a row has without columns.
    fn alone(&self, row: usize) -> Basic {
        if self.top[row].is_infinite() {
            Basic::Surplus(row)
        } else {
            Basic::Missing(row)
        }
    }

    /// The inverse of a basis of surpluses and missing amounts, each in its own row.
    fn unit_inverse(&mut self) {
        let m = self.rows();
        self.inverse.clear();
        self.inverse.resize(m * m, 0.0);
        for i in 0..m {
            let sign = if matches!(self.basis[i], Basic::Surplus(_)) {
                -1.0
            } else {
                1.0
            };
            self.inverse[i * m + i] = sign;
        }
    }

    fn cost_of(&self, basic: Basic) -> f64 {
        match basic {
            Basic::Surplus(_) => 0.0,
            Basic::Missing(i) => self.top[i],
            Basic::Column(j) => self.columns[j].cost,
        }
    }

    fn find_prices(&mut self) {
        let m = self.rows();
        let costs: Vec<f64> = self.basis.iter().map(|b| self.cost_of(*b)).collect();
        for (price, column) in self
            .prices
            .iter_mut()
            .zip(self.inverse.chunks_exact(m.max(1)))
        {
            *price = column
                .iter()
                .zip(&costs)
                .map(|(a, c)| if *c == 0.0 { 0.0 } else { a * c })
                .sum();
        }
    }

    /// Solves the program: prices of the rows, and the value they prove for these columns. `None` if it does not settle.
    /// Takes the work from `steps`.
    pub(crate) fn solve(&mut self, steps: &mut u64) -> Option<(&[f64], f64)> {
        let m = self.rows();
        let mut work = 0;
        let mut settled = false;
        let mut checked = false;
        for pivot in 0..(50 * m + 20_000) as u32 {
            if pivot % LOOK == LOOK - 1 && !self.is_exact() {
                self.renew(&mut work);
            }
            let Some((basic, gain)) = self.best_to_enter(&mut work) else {
                if checked || self.is_exact() {
                    settled = true;
                    break;
                }
                checked = true;
                self.renew(&mut work);
                continue;
            };
            checked = false;
            let Some(row) = self.leaving_row(basic) else {
                break;
            };
            self.pivot(row, basic, gain);
            work += (m * m) as u64;
        }
        // Eight of these cost about as much as one cell of a table.
        *steps = steps.saturating_sub(work / 8);
        let finite = self.prices.iter().all(|p| p.is_finite());
        if !settled || !finite {
            self.start();
            return None;
        }
        for price in &mut self.prices {
            *price = price.max(0.0);
        }
        let value = self.prices.iter().zip(&self.need).map(|(p, n)| p * n).sum();
        Some((&self.prices, value))
    }

    /// The variable whose entering gains most for its length, and its reduced cost: among rows and the columns of the short list, and
    /// where none of them gains, among more, of which the best are the new list.
    fn best_to_enter(&mut self, work: &mut u64) -> Option<(Basic, f64)> {
        let mut best = None;
        let mut least = -GAIN;
        for (i, price) in self.prices.iter().enumerate() {
            let unit = std::f64::consts::FRAC_1_SQRT_2;
            if price * unit < least {
                least = price * unit;
                best = Some((Basic::Surplus(i), *price));
            }
            let reduced = self.top[i] - price;
            if reduced * unit < least {
                least = reduced * unit;
                best = Some((Basic::Missing(i), reduced));
            }
        }
        *work += (2 * self.rows() + ENTRIES * self.short_list.len()) as u64;
        for &j in &self.short_list {
            let (gain, reduced) = self.gain(j as usize);
            if gain < least {
                least = gain;
                best = Some((Basic::Column(j as usize), reduced));
            }
        }
        if best.is_some() {
            return best;
        }
        let mut gaining = Vec::new();
        if self.columns.len() > MANY {
            *work += (ENTRIES * self.working.len()) as u64;
            gaining = self.gaining(self.working.iter().copied());
        }
        if gaining.is_empty() {
            gaining = self.gaining_of_all(work);
        }
        best_of(&mut gaining, SHORT_LIST.max(self.listed() / ONE_IN));
        self.short_list.clear();
        self.short_list.extend(gaining.iter().map(|g| g.2));
        self.short_list.sort_unstable();
        let first = gaining
            .iter()
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.2.cmp(&b.2)));
        first.map(|(_, reduced, j)| (Basic::Column(*j as usize), *reduced))
    }

    /// Columns from which the short list is made.
    fn listed(&self) -> usize {
        if self.columns.len() > MANY {
            self.working.len()
        } else {
            self.columns.len()
        }
    }

    /// Looks at all columns. Of many, the best that gain join the working list.
    fn gaining_of_all(&mut self, work: &mut u64) -> Vec<Gaining> {
        let all = self.columns.len();
        let mut gaining = self.gaining(0..all as u32);
        if all <= MANY {
            *work += (ENTRIES * all) as u64;
            return gaining;
        }
        // So many wait for memory.
        *work += (2 * ENTRIES * all) as u64;
        let most = WORKING.max(all / WORKING_IN);
        best_of(&mut gaining, most);
        if self.working.len() > WORKING_MOST * most {
            self.working.clear();
        }
        let basic = self.basis.iter().filter_map(|b| match b {
            Basic::Column(j) => Some(*j as u32),
            _ => None,
        });
        self.working.extend(basic);
        self.working.extend(gaining.iter().map(|g| g.2));
        self.working.sort_unstable();
        self.working.dedup();
        gaining
    }

    /// Those of some columns that gain.
    fn gaining(&self, columns: impl Iterator<Item = u32>) -> Vec<Gaining> {
        let each = columns.map(|j| (self.gain(j as usize), j));
        each.filter(|((gain, _), _)| *gain < -GAIN)
            .map(|((gain, reduced), j)| (gain, reduced, j))
            .collect()
    }

    /// Columns to look at before all are, where there are many.
    pub(crate) fn look_first(&mut self, columns: Vec<u32>) {
        self.working = columns;
    }

    /// Reduced cost of a column, by its length and as it is; nothing for one in the basis.
    fn gain(&self, j: usize) -> (f64, f64) {
        if self.is_basic[j] {
            return (0.0, 0.0);
        }
        let column = &self.columns[j];
        let reduced = column.cost - self.worth(column);
        (reduced * column.scale, reduced)
    }

    /// The variable in terms of the basis, into `entering`.
    fn express(&mut self, basic: Basic) {
        let m = self.rows();
        let inverse = &self.inverse;
        self.entering.fill(0.0);
        let mut add = |row: usize, amount: f64| {
            let column = &inverse[row * m..(row + 1) * m];
            for (sum, a) in self.entering.iter_mut().zip(column) {
                *sum += amount * a;
            }
        };
        match basic {
            Basic::Surplus(i) => add(i, -1.0),
            Basic::Missing(i) => add(i, 1.0),
            Basic::Column(j) => {
                let Column { from, to, .. } = self.columns[j];
                for &(row, amount) in &self.terms[from as usize..to as usize] {
                    add(row as usize, amount);
                }
            }
        }
    }

    /// The row that is exhausted first; of several the one with the largest entry.
    fn leaving_row(&mut self, basic: Basic) -> Option<usize> {
        self.express(basic);
        let mut best: Option<(f64, f64, usize)> = None;
        for (row, (d, x)) in self.entering.iter().zip(&self.x).enumerate() {
            if *d <= PIVOT {
                continue;
            }
            let ratio = x.max(0.0) / d;
            let better = best.is_none_or(|(least, entry, _)| {
                ratio < least - 1e-13 || (ratio <= least + 1e-13 && *d > entry)
            });
            if better {
                best = Some((ratio, *d, row));
            }
        }
        best.map(|(_, _, row)| row)
    }

    /// Brings `basic`, expressed in `entering`, into the basis at `row`; `gain` is its reduced cost.
    fn pivot(&mut self, row: usize, basic: Basic, gain: f64) {
        let m = self.rows();
        let entry = self.entering[row];
        let length = self.x[row].max(0.0) / entry;
        for (x, d) in self.x.iter_mut().zip(&self.entering) {
            *x -= length * d;
        }
        self.x[row] = length;
        for (k, column) in self.inverse.chunks_exact_mut(m.max(1)).enumerate() {
            if column[row] == 0.0 {
                continue;
            }
            let share = column[row] / entry;
            self.prices[k] += gain * share;
            for (c, d) in column.iter_mut().zip(&self.entering) {
                *c -= share * d;
            }
            column[row] = share;
        }
        self.replace(row, basic);
    }

    fn replace(&mut self, row: usize, basic: Basic) {
        if let Basic::Column(j) = self.basis[row] {
            self.is_basic[j] = false;
        }
        if let Basic::Column(j) = basic {
            self.is_basic[j] = true;
        }
        self.basis[row] = basic;
    }

    /// True if the basic values still add up to the needs, and the prices to the costs of what is basic.
    fn is_exact(&self) -> bool {
        let mut rest = self.disturbed.clone();
        for (basic, x) in self.basis.iter().zip(&self.x) {
            let (worth, cost) = match *basic {
                Basic::Surplus(i) => {
                    rest[i] += x;
                    (-self.prices[i], 0.0)
                }
                Basic::Missing(i) => {
                    rest[i] -= x;
                    (self.prices[i], self.top[i])
                }
                Basic::Column(j) => {
                    let column = &self.columns[j];
                    for &(row, amount) in self.terms(column) {
                        rest[row as usize] -= amount * x;
                    }
                    (self.worth(column), column.cost)
                }
            };
            if (worth - cost).abs() > ERROR * (1.0 + cost) {
                return false;
            }
        }
        let off = rest
            .iter()
            .zip(&self.need)
            .map(|(r, n)| r.abs() / (1.0 + n.abs()));
        off.fold(0.0, f64::max) <= ERROR
    }

    /// Makes the inverse anew from the basis. From the very start if the basis has lost its meaning.
    fn renew(&mut self, work: &mut u64) {
        let m = self.rows();
        let old = std::mem::take(&mut self.basis);
        let mut own = vec![None; m];
        let mut columns = Vec::new();
        for basic in old {
            match basic {
                Basic::Surplus(i) | Basic::Missing(i) if own[i].is_none() => own[i] = Some(basic),
                Basic::Column(j) => columns.push(j),
                _ => {}
            }
        }
        self.basis = (0..m).map(|i| own[i].unwrap_or(self.alone(i))).collect();
        self.unit_inverse();
        self.is_basic.fill(false);
        let mut open: Vec<bool> = own.iter().map(Option::is_none).collect();
        for j in columns {
            self.express(Basic::Column(j));
            let entries = self.entering.iter().enumerate();
            let row = entries
                .filter(|(i, d)| open[*i] && d.abs() > PIVOT)
                .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()).then(b.0.cmp(&a.0)));
            let Some((row, _)) = row else { continue };
            open[row] = false;
            self.x.fill(0.0);
            self.pivot(row, Basic::Column(j), 0.0);
            *work += (m * m) as u64;
        }
        self.find_prices();
        self.x = self.values(&self.disturbed);
        if self.x.iter().any(|x| *x < -LOST) {
            self.start();
        }
        for x in &mut self.x {
            *x = x.max(0.0);
        }
    }

    /// What the basis uses to meet given needs.
    fn values(&self, need: &[f64]) -> Vec<f64> {
        let m = self.rows();
        let mut x = vec![0.0; m];
        for (column, n) in self.inverse.chunks_exact(m.max(1)).zip(need) {
            for (sum, a) in x.iter_mut().zip(column) {
                *sum += a * n;
            }
        }
        x
    }

    /// How much of each column the last solution uses, and whether nothing is missing.
    pub(crate) fn used(&self) -> (Vec<f64>, bool) {
        let mut used = vec![0.0; self.columns.len()];
        let mut whole = true;
        for (basic, x) in self.basis.iter().zip(self.values(&self.need)) {
            match *basic {
                Basic::Column(j) => used[j] = x.max(0.0),
                Basic::Missing(i) if x > 1e-6 && self.need[i] > 0.0 => whole = false,
                _ => {}
            }
        }
        (used, whole)
    }
}

/// Leaves the best so many.
fn best_of(all: &mut Vec<Gaining>, few: usize) {
    if all.len() > few {
        let by_gain = |a: &Gaining, b: &Gaining| a.0.total_cmp(&b.0).then(a.2.cmp(&b.2));
        all.select_nth_unstable_by(few - 1, by_gain);
        all.truncate(few);
    }
}

#[cfg(test)]
mod tests;
