//! The linear bound of cutting stock (Gilmore & Gomory 1961, 1965) over guillotine patterns, by column generation.
//!
//! Whatever weights a round tries, the table says what a sheet holds, and the bound that follows is good (Farley 1990);
//! the best one is kept. Weights are whole numbers, rounded down from the program's prices, so rounding only weakens.
//! Prices are smoothed toward the best weights so far (Wentges 1997).

use super::bound::{Bound, CertificateDraft, CopyLimitDraft, Tree, Weights};
use super::cover::{Stock, least_cost_in_fractions};
use super::dive::trim;
use super::limited::Limited;
use super::points::Grid;
use super::pricing::Priced;
use super::rounds::TINY;
use crate::sheets::instance::Instance;
use crate::solve::master::Master;
use std::collections::BTreeSet;
use std::rc::Rc;

/// What a price of one dearest sheet is in whole numbers, unless that would overflow. Default 2^20.
const SCALE: f64 = 1_048_576.0;
/// A pattern's weight stays below this.
pub(super) const ROOM: f64 = 1_073_741_824.0;
/// Highest price of a piece, in dearest sheets. It keeps the program bounded where stock is limited. Default 4.
const DEAREST: f64 = 4.0;
/// Patterns taken from one table for each kind of sheet. Default 6, range 1..=50.
const PATTERNS: usize = 6;
/// Patterns taken for one type each from a table. Default 24, range 0..=200.
const EACH: usize = 24;
/// Points a side of the quick tables. Default 160, range 20..=1,000.
const THIN: usize = 160;

/// A pattern as a column.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Column {
    /// Kind of sheet.
    pub kind: usize,
    /// (type, copies), types ascending.
    pub holds: Vec<(usize, u32)>,
}

/// Column generation under way.
pub(super) struct Generation<'a> {
    pub instance: &'a Instance,
    /// How many of each type are to be placed.
    pub need: Vec<u32>,
    /// Dearest sheet: what prices are measured in.
    pub(super) dearest: f64,
    pub columns: Vec<(Column, Tree)>,
    seen: BTreeSet<Column>,
    pub program: Master,
    /// By column of the program: of which pattern.
    pub(super) of: Vec<usize>,
    /// Best prices so far and what they prove, in dearest sheets.
    pub center: Vec<f64>,
    pub proved: f64,
    /// What quick tables would prove if they were exact.
    shown: f64,
    /// Best bound so far; of the whole instance only if `need` is.
    pub bound: Bound,
    /// Value of the program over the columns there are.
    pub value: f64,
    /// Types whose copies are counted in the tables.
    pub limits: Vec<CopyLimitDraft>,
    /// Whether rounds go on where the bound cannot rise any more.
    pub(super) to_the_end: bool,
    /// Where cuts need be looked for, and a thinned choice of it; `None` if that is too much to think of.
    pub(super) grids: Option<(Rc<Grid>, Rc<Grid>)>,
}

/// The grid for what is needed, and a thinned one where it is large.
fn grids(instance: &Instance, need: &[u32]) -> Option<(Rc<Grid>, Rc<Grid>)> {
    let wanted: Vec<bool> = need.iter().map(|n| *n > 0).collect();
    let all = Rc::new(Grid::new(instance, &wanted)?);
    let quick = Rc::new(all.thinned(instance, &wanted, THIN));
    Some((all, quick))
}

/// What the dearest sheet costs: prices are measured in it. `None` = nothing to buy, or it costs nothing.
pub(super) fn dearest(instance: &Instance) -> Option<f64> {
    let buyable = instance.kinds.iter().filter(|k| k.buy > 0);
    let most = buyable.map(|k| k.cost).max();
    most.filter(|c| *c > 0).map(|c| c as f64)
}

/// Adds a pattern to the program: on a sheet in hand, and on one that is bought.
pub(super) fn add(program: &mut Master, instance: &Instance, column: &Column, dearest: f64) {
    let k = &instance.kinds[column.kind];
    let each = column.holds.iter();
    let terms: Vec<(usize, f64)> = each.map(|&(t, n)| (t, f64::from(n))).collect();
    let extra = instance.types.len() + 2 * column.kind;
    if k.free > 0 {
        let mut row = terms.clone();
        row.push((extra, -1.0));
        program.add(&row, 0.0);
    }
    if k.buy > 0 {
        let mut row = terms;
        if k.buy < u32::MAX {
            row.push((extra + 1, -1.0));
        }
        program.add(&row, k.cost as f64 / dearest);
    }
}

/// Good patterns of a table for a kind of sheet, unlike each other. Spends `steps` on reading them off it.
fn some_of(table: &Priced, kind: usize, least: i64, steps: &mut u64) -> Vec<Tree> {
    let mut all = table.patterns(kind, least, PATTERNS);
    all.extend(table.with_each(kind, least, EACH));
    *steps = steps.saturating_sub(all.len() as u64 * table.steps_to_read());
    all
}

/// How often a type comes in a tree.
pub(super) fn count(tree: &Tree, into: &mut Vec<(usize, u32)>) {
    match tree {
        Tree::Piece { kind, .. } => match into.binary_search_by_key(kind, |c| c.0) {
            Ok(i) => into[i].1 += 1,
            Err(i) => into.insert(i, (*kind, 1)),
        },
        Tree::Beside(parts) | Tree::Above(parts) => parts.iter().for_each(|p| count(p, into)),
    }
}

impl<'a> Generation<'a> {
    /// For `need` of each type. `start`: weights to begin with (any).
    pub(super) fn new(instance: &'a Instance, need: Vec<u32>, start: &[i64]) -> Option<Self> {
        let dearest = dearest(instance)?;
        let mut generation = Self {
            instance,
            dearest,
            columns: Vec::new(),
            seen: BTreeSet::new(),
            of: Vec::new(),
            program: Self::program(instance, &need),
            center: vec![0.0; need.len()],
            proved: 0.0,
            shown: 0.0,
            bound: Bound::none(),
            value: f64::INFINITY,
            limits: Vec::new(),
            to_the_end: false,
            grids: grids(instance, &need),
            need,
        };
        let largest = instance
            .kinds
            .iter()
            .map(|k| k.w as f64 * k.h as f64)
            .fold(1.0, f64::max);
        let whole = start.iter().copied().max().unwrap_or(0).max(1) as f64;
        for (i, t) in instance.types.iter().enumerate() {
            let area = t.ways[0].0 as f64 * t.ways[0].1 as f64 / largest;
            let given = start.get(i).copied().unwrap_or(0) as f64 / whole;
            generation.center[i] = if start.is_empty() { area } else { given };
        }
        Some(generation)
    }

    /// Gains: what each type needs; then sheets in hand (cost 0) and limits on buying, which take away.
    pub(super) fn program(instance: &Instance, need: &[u32]) -> Master {
        let mut gain: Vec<f64> = need.iter().map(|n| f64::from(*n)).collect();
        let mut upper: Vec<f64> = need
            .iter()
            .map(|n| if *n > 0 { DEAREST } else { 0.0 })
            .collect();
        for k in &instance.kinds {
            for limit in [k.free, if k.buy == u32::MAX { 0 } else { k.buy }] {
                gain.push(-f64::from(limit));
                upper.push(if limit > 0 { f64::INFINITY } else { 0.0 });
            }
        }
        Master::new(gain, upper)
    }

    /// Adds a pattern if it is new.
    pub(super) fn add(&mut self, kind: usize, tree: Tree) -> bool {
        let mut holds = Vec::new();
        count(&tree, &mut holds);
        let column = Column { kind, holds };
        if column.holds.is_empty() || !self.seen.insert(column.clone()) {
            return false;
        }
        add(&mut self.program, self.instance, &column, self.dearest);
        self.of.resize(self.program.columns(), self.columns.len());
        self.columns.push((column, tree));
        true
    }

    /// Whole-number weights for prices.
    fn weights(&self, prices: &[f64]) -> Vec<i64> {
        let densest = self
            .instance
            .types
            .iter()
            .zip(prices)
            .map(|(t, p)| p / (t.ways[0].0 as f64 * t.ways[0].1 as f64));
        let largest = self
            .instance
            .kinds
            .iter()
            .map(|k| k.w as f64 * k.h as f64)
            .fold(1.0, f64::max);
        let most = densest.fold(0.0, f64::max) * largest;
        let scale = if most * SCALE > ROOM {
            ROOM / most
        } else {
            SCALE
        };
        let each = prices.iter().zip(&self.need);
        each.map(|(p, n)| {
            if *n > 0 {
                (p * scale).floor().max(0.0) as i64
            } else {
                0
            }
        })
        .collect()
    }

    /// What weights prove, in dearest sheets, as a fraction.
    fn in_fractions(&self, weights: &Weights) -> f64 {
        let each = self.need.iter().zip(&weights.piece);
        let mut rest: i128 = each.map(|(n, w)| i128::from(*n) * i128::from(*w)).sum();
        let mut stock = Vec::new();
        for (k, most) in self.instance.kinds.iter().zip(&weights.most) {
            rest -= i128::from(k.free) * i128::from(*most);
            if k.buy > 0 && *most > 0 {
                stock.push(Stock {
                    holds: *most,
                    cost: k.cost,
                    buy: k.buy,
                });
            }
        }
        least_cost_in_fractions(stock, rest) / self.dearest
    }

    /// One table for the given prices: keeps the bound if it is better, adds patterns that improve the program at
    /// `prices`. `None` if the table cannot be made.
    pub(super) fn round(&mut self, tried: &[f64], prices: &[f64], steps: &mut u64) -> Option<bool> {
        let piece = self.weights(tried);
        if piece.iter().all(|w| *w == 0) {
            return Some(false);
        }
        let grid = Rc::clone(&self.grids.as_ref()?.0);
        if self.limits.is_empty() {
            let table = Priced::new(self.instance, &piece, grid, steps)?;
            let most = table.most();
            self.keep_bound(piece, most.clone());
            let read = &mut |k, least| some_of(&table, k, least, steps);
            return Some(self.gather(read, &most, prices));
        }
        let table = Limited::new(self.instance, &piece, &self.limits, grid, steps)?;
        let most = table.most();
        self.keep_bound(piece, most.clone());
        Some(self.gather_counted(&table, &most, prices, steps))
    }

    /// Keeps what weights prove, if it is more than before.
    fn keep_bound(&mut self, piece: Vec<i64>, most: Vec<i64>) {
        let weights = Weights { piece, most };
        let proves = self.in_fractions(&weights);
        if proves > self.proved {
            self.proved = proves;
            self.move_center(&weights);
        }
        let draft = CertificateDraft::Pattern {
            limits: self.limits.clone(),
            weights: weights.clone(),
        };
        let bound = weights.bound(self.instance, draft);
        self.bound = std::mem::replace(&mut self.bound, Bound::none()).or(bound);
    }

    /// Prices as a sheet of the deciding kind makes them: then they can be mixed with the program's.
    fn move_center(&mut self, weights: &Weights) {
        let kinds = self.instance.kinds.iter().zip(&weights.most);
        let holds = kinds
            .filter(|(k, _)| k.buy > 0)
            .map(|(k, m)| *m as f64 / (k.cost as f64 / self.dearest).max(1e-9));
        let whole = holds.fold(1.0, f64::max);
        self.center = weights.piece.iter().map(|w| *w as f64 / whole).collect();
    }

    /// Patterns from a thinned table: quick, and no word about what a sheet holds.
    pub(super) fn thin_round(
        &mut self,
        tried: &[f64],
        prices: &[f64],
        steps: &mut u64,
    ) -> Option<bool> {
        let piece = self.weights(tried);
        let grid = Rc::clone(&self.grids.as_ref()?.1);
        let table = Priced::new(self.instance, &piece, grid, steps)?;
        let most = table.most();
        if self.limits.is_empty() {
            self.show(piece, &most);
        }
        let read = &mut |k, least| some_of(&table, k, least, steps);
        Some(self.gather(read, &most, prices))
    }

    /// The same from a thinned table that counts copies.
    pub(super) fn thin_counted_round(
        &mut self,
        tried: &[f64],
        prices: &[f64],
        steps: &mut u64,
    ) -> Option<bool> {
        let piece = self.weights(tried);
        let grid = Rc::clone(&self.grids.as_ref()?.1);
        let table = Limited::new(self.instance, &piece, &self.limits, grid, steps)?;
        let most = table.most();
        self.show(piece, &most);
        Some(self.gather_counted(&table, &most, prices, steps))
    }

    /// Over the thinned grid alone these weights may be the best so far: good enough to smooth toward.
    fn show(&mut self, piece: Vec<i64>, most: &[i64]) {
        let weights = Weights {
            piece,
            most: most.to_vec(),
        };
        let shows = self.in_fractions(&weights);
        if shows > self.shown {
            self.shown = shows;
            self.move_center(&weights);
        }
    }

    fn gather_counted(
        &mut self,
        table: &Limited,
        most: &[i64],
        prices: &[f64],
        steps: &mut u64,
    ) -> bool {
        let read = &mut |k, least| {
            let some = table.patterns(k, least, PATTERNS);
            *steps = steps.saturating_sub(some.len() as u64 * table.steps_to_read());
            some
        };
        self.gather(read, most, prices)
    }

    /// Adds the patterns of a table that improve the program.
    fn gather(
        &mut self,
        patterns: &mut dyn FnMut(usize, i64) -> Vec<Tree>,
        most: &[i64],
        prices: &[f64],
    ) -> bool {
        let mut added = false;
        for (kind, most) in most.iter().enumerate() {
            let least = most - most / 16;
            for tree in patterns(kind, least) {
                let Some(tree) = self.within_limits(tree) else {
                    continue;
                };
                if self.improves(kind, &tree, prices) {
                    added |= self.add(kind, tree);
                }
            }
        }
        added
    }

    /// The tree without copies beyond the limits (quick tables do not count).
    fn within_limits(&self, tree: Tree) -> Option<Tree> {
        if self.limits.is_empty() {
            return Some(tree);
        }
        let mut left = self.most_copies();
        trim(&tree, &mut left)
    }

    /// By type: how often it may come in a column.
    pub(super) fn most_copies(&self) -> Vec<u32> {
        let mut most = vec![u32::MAX; self.need.len()];
        for t in self.limits.iter().flat_map(|l| &l.types) {
            most[*t] = self.need[*t];
        }
        most
    }

    /// True if a pattern is worth more at these prices than its sheet costs.
    fn improves(&self, kind: usize, tree: &Tree, prices: &[f64]) -> bool {
        let mut holds = Vec::new();
        count(tree, &mut holds);
        let worth: f64 = holds.iter().map(|&(t, n)| prices[t] * f64::from(n)).sum();
        let k = &self.instance.kinds[kind];
        let extra = self.need.len() + 2 * kind;
        let free = k.free > 0 && worth > prices[extra] + TINY;
        free || (k.buy > 0 && worth > k.cost as f64 / self.dearest + prices[extra + 1] + TINY)
    }
}
