//! What a bound is, what it rests on, and what column generation hands back. Data; the sums are in `cover`.

use super::columns::Column;
use super::cover::{Stock, least_cost, least_sheets};
use crate::sheets::instance::Instance;

/// A lower bound on every plan that places all pieces.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Bound {
    /// Cost of what is bought, in the terms of `Kind::cost`.
    pub cost: i64,
    /// Sheets bought, over all kinds, by the same certificate: the cheapest plan may need more.
    pub sheets: u32,
    /// True if the stock there is cannot hold all pieces; then `cost` and `sheets` are those of all that can be bought.
    pub impossible: bool,
    /// What shows it.
    pub draft: CertificateDraft,
}

/// What a bound rests on, in the terms of the instance.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) enum CertificateDraft {
    /// Nothing is claimed.
    None,
    /// No piece at all, or sheets in hand may do: nothing to show.
    Nothing,
    /// f along the grain times g across it (Fekete & Schepers 2004).
    Product {
        /// (piece side with kerf, weight), sides ascending.
        f: Vec<(i64, i64)>,
        /// The same across.
        g: Vec<(i64, i64)>,
        /// Both ways of laying the pair added up; all kinds square.
        symmetric: bool,
        /// The weights that follow.
        weights: Weights,
    },
    /// Free weights against the best guillotine pattern.
    Pattern {
        /// Types whose copies are counted.
        limits: Vec<CopyLimitDraft>,
        /// The weights.
        weights: Weights,
    },
    /// Every way of laying some of the pieces was tried.
    Exhaustive {
        /// How many of each type were tried.
        counts: Vec<u32>,
        /// Weights that shorten the search, by type.
        weights: Vec<i64>,
        /// The least cost found, and the fewest bought.
        cost: i64,
        /// See above.
        sheets: u32,
        /// Nodes of the search.
        nodes: u64,
    },
}

/// Types whose copies in a pattern are counted together.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct CopyLimitDraft {
    /// Indices of types.
    pub types: Vec<usize>,
    /// How many pieces they are together.
    pub most: u32,
}

/// A weight for each type and the most one sheet of each kind holds.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(crate) struct Weights {
    /// By type.
    pub piece: Vec<i64>,
    /// By kind.
    pub most: Vec<i64>,
}

impl Weights {
    /// The weight of all pieces.
    pub(crate) fn total(&self, instance: &Instance) -> i128 {
        let each = instance.types.iter().zip(&self.piece);
        each.map(|(t, w)| i128::from(t.count) * i128::from(*w))
            .sum()
    }

    /// The bound that follows: the least that can be bought so that all sheets together hold the weight of all pieces.
    pub(crate) fn bound(&self, instance: &Instance, draft: CertificateDraft) -> Bound {
        let mut rest = self.total(instance);
        let mut stock = Vec::new();
        for (kind, most) in instance.kinds.iter().zip(&self.most) {
            rest -= i128::from(kind.free) * i128::from(*most);
            if kind.buy > 0 && *most > 0 {
                stock.push(Stock {
                    holds: *most,
                    cost: kind.cost,
                    buy: kind.buy,
                });
            }
        }
        if let (Some(cost), Some(sheets)) = (least_cost(&stock, rest), least_sheets(&stock, rest)) {
            let draft = if sheets == 0 {
                CertificateDraft::Nothing
            } else {
                draft
            };
            return Bound {
                cost,
                sheets,
                impossible: false,
                draft,
            };
        }
        let all = |k: &Stock| i64::from(k.buy).saturating_mul(k.cost);
        Bound {
            cost: stock.iter().map(all).fold(0, i64::saturating_add),
            sheets: stock.iter().map(|k| k.buy).fold(0, u32::saturating_add),
            impossible: true,
            draft,
        }
    }
}

impl Bound {
    /// No claim at all.
    pub(crate) fn none() -> Self {
        Self {
            cost: 0,
            sheets: 0,
            impossible: false,
            draft: CertificateDraft::None,
        }
    }

    /// The stronger of two, by cost, then by sheets. Both numbers stay those of the one certificate that shows them.
    #[must_use]
    pub(crate) fn or(self, other: Self) -> Self {
        let key = |b: &Self| (b.impossible, b.cost, b.sheets);
        if key(&other) > key(&self) {
            other
        } else {
            self
        }
    }
}

/// How the pieces of a pattern lie together.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) enum Tree {
    /// One piece, lying as `Type::ways[way]` says.
    Piece {
        /// Index of its type.
        kind: usize,
        /// Index of the way.
        way: usize,
    },
    /// Parts side by side along the grain (x), parted by cuts across it.
    Beside(Vec<Tree>),
    /// Parts one above the other across the grain (y), parted by cuts along it.
    Above(Vec<Tree>),
}

/// A sheet's layout and how often it is cut.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Pattern {
    /// Index of the kind of sheet.
    pub kind: usize,
    /// Its layout; never holds more copies than are left to place.
    pub tree: Tree,
    /// How many sheets are cut like this.
    pub times: u32,
}

/// What column generation found.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct LpOutcome {
    /// The best bound, never weaker than area.
    pub bound: Bound,
    /// What [`super::dive`] makes plans of; empty where no plan can be better.
    pub pool: Pool,
    /// What each type is worth by the best weights, in millionths of the dearest sheet; empty where no plan can be better.
    pub worth: Vec<i64>,
    /// The same once no pattern improves the program; empty where nothing would come of it.
    pub settled: Vec<i64>,
}

/// Patterns that column generation has found.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(crate) struct Pool {
    pub(super) columns: Vec<(Column, Tree)>,
}

impl Pool {
    /// Nothing to make plans of.
    pub(crate) fn is_empty(&self) -> bool {
        self.columns.is_empty()
    }
}
