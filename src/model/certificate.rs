//! What shows that no plan is better, in a form the referee (and anyone with plan.json) can check on its own.
//!
//! **Weights.** Give piece kind i a weight w(i) >= 0. If one sheet of kind k can never hold more than M(k) of weight,
//! then any plan has  sum over k of x(k) M(k) >= sum over i of count(i) w(i)  with x(k) sheets of kind k used. Sheets in
//! hand and rack pieces count at cost 0 up to what there is; what is bought costs its price, at most `at_most` each. The
//! least cost of an integer x that satisfies this is the bound. It holds for whatever weights: a careless weight gives
//! a weak bound, never a wrong one, as long as M(k) is right; so the referee re-derives M(k) and trusts nothing else.
//!
//! All sizes in a certificate are real cut sizes. In the inequalities each piece is taken a kerf longer and wider and each
//! usable sheet (clean edges off) a kerf longer and wider, which is exact for edge-to-edge cuts.

use crate::units::Length;
use serde::{Deserialize, Serialize};

/// The weight of one kind of piece.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct PieceWeight {
    /// The part's mark.
    pub mark: String,
    /// How many of it.
    pub count: u32,
    /// Its weight.
    pub weight: i64,
}

/// The most weight one sheet or stick of a kind can hold.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct Holds {
    /// Stock row.
    pub item: String,
    /// Rack piece, if it is one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rack: Option<String>,
    /// The most it can hold.
    pub most: i64,
}

/// A size (piece side plus kerf) and its weight in one direction.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct SizeWeight {
    /// Side of a piece, without kerf.
    pub size: Length,
    /// Its weight.
    pub weight: i64,
}

/// Pieces whose copies in one pattern are counted together: no pattern that can be cut holds more of them than the job
/// has, so a dynamic program may carry one counter for each limit (0 up to the number there is) and needs no other cap.
/// The product of (counter + 1) over all limits of a proof is at most 65,536, of at most 16 limits,
/// none above 127.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct CopyLimit {
    /// The parts' marks, each in one limit only.
    pub marks: Vec<String>,
    /// The sum of their counts.
    pub most: u32,
}

/// Why a sheet can hold no more.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(tag = "rule", rename_all = "kebab-case")]
pub enum WeightRule {
    /// A piece weighs its area (its length, on a stick) with the kerf; a sheet holds its usable area with a kerf.
    Area,
    /// A piece weighs f(side along the grain) * g(side across it); a sheet holds F * G, where F is the most f-weight of
    /// any set of the pieces that fits side by side along the sheet's grain (each piece once, each lying one way), G
    /// likewise across it (Fekete & Schepers 2004, conservative scales). A side that is not listed weighs 0. A piece that
    /// may turn weighs the lesser of its two ways (a way that fits no kind of sheet is left out, and a piece with no way
    /// left weighs nothing); with `symmetric` (every kind is square and every piece may turn) the weight is
    /// f(l)g(w) + f(w)g(l) and a sheet holds 2FG.
    Product {
        /// f: along the grain (x, unless the sheet's grain runs along y).
        along: Vec<SizeWeight>,
        /// g: across it.
        across: Vec<SizeWeight>,
        /// See above.
        symmetric: bool,
    },
    /// Weights are free; a sheet holds what the best guillotine pattern (stick: the best set) of any number of copies
    /// holds, found by dynamic programming. With `capped`, no more than `count` copies of each piece. With `limits`, any
    /// number of copies, except that the pieces of each limit together come at most as often as there are of them.
    Pattern {
        /// True if copies are limited to those that exist.
        capped: bool,
        /// Limits on copies; none for `any number`.
        #[serde(skip_serializing_if = "Vec::is_empty", default)]
        limits: Vec<CopyLimit>,
    },
}

/// A bound from weights.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub struct WeightsProof {
    /// Why a sheet holds no more than it says.
    #[serde(flatten)]
    pub rule: WeightRule,
    /// One for each piece kind that counts (weight 0 may be left out).
    pub weights: Vec<PieceWeight>,
    /// One for each kind of sheet or stick; the lengths of a row sold by the foot one after another, shortest first.
    pub holds: Vec<Holds>,
}

/// What a claim rests on.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize, Default)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Certificate {
    /// No claim.
    #[default]
    None,
    /// Nothing is bought, and nothing is cheaper than that.
    NothingToBuy,
    /// Weights.
    Weights(WeightsProof),
    /// Some pieces by themselves already need that much, for every way of laying them was tried. Stock in hand and on the
    /// rack is used as well, at no cost.
    Exhaustive {
        /// Marks and counts of the pieces that are enough to show it. Their weights are those of a weights proof with free
        /// weights and any number of copies, which shortens the search; 0 where there is none.
        pieces: Vec<PieceWeight>,
        /// No choice of stock that buys so many sheets or fewer holds them.
        not_on: u32,
        /// No choice of stock that costs less holds them: cents; without prices, areas in hundredths of the largest size.
        costs: i64,
        /// Search nodes of the optimiser's own search.
        nodes: u64,
    },
}
