//! Every claim of `at least` and `proved`, worked out again from the certificate and the facts.
//!
//! Sheets and sticks are asked alike: a stick is a sheet of width 1 on which every piece has width 1. All sides carry one
//! kerf more, along and across the grain.

use super::complete::{Complete, Supply};
use super::cover::{self, Paid};
use super::fault::Fault;
use super::guillotine::{Shape, most_weight};
use super::sets::{Lot, heaviest};
use crate::model::certificate::{
    Certificate, CopyLimit, PieceWeight, SizeWeight, WeightRule, WeightsProof,
};
use crate::units::Cents;

/// A kind of stock.
#[derive(Clone, Debug)]
pub(super) struct Stock {
    /// Stock row.
    pub item: String,
    /// Rack mark.
    pub rack: Option<String>,
    /// Usable sides, along and across the grain, a kerf more.
    pub room: (i64, i64),
    /// Whole area, for sizes without a price.
    pub area: i128,
    /// Price.
    pub price: Option<Cents>,
    /// In hand.
    pub have: u64,
    /// To be had.
    pub at_most: Option<u32>,
    /// Used by the plan.
    pub used: u64,
}

impl Stock {
    /// How many of it the plan buys.
    pub(super) fn bought(&self) -> u64 {
        self.used.saturating_sub(self.have)
    }
    fn limit(&self) -> u64 {
        self.at_most.map_or(u64::from(u32::MAX), u64::from)
    }
    fn there(&self) -> bool {
        self.have > 0 || self.limit() > 0
    }
}

/// A kind of piece and how many of it the plan places.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// Mark.
    pub mark: String,
    /// Ways it may lie, a kerf more on each side.
    pub ways: Vec<(i64, i64)>,
    /// How many are placed.
    pub placed: u64,
}

/// What is claimed of a material.
pub(super) struct Claim<'a> {
    /// The material, for the faults.
    pub item: &'a str,
    /// Lower bound on the number bought.
    pub at_least: u32,
    /// Lower bound on the cost.
    pub cost_at_least: Option<Cents>,
    /// Whether the plan is said to be proved.
    pub proved: bool,
    /// What shows it.
    pub certificate: &'a Certificate,
}

/// What the referee makes of a certificate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Shown {
    cost: i64,
    count: i64,
}

/// The facts a claim is held against.
pub(super) struct Facts<'a> {
    /// Stock and what is used of it.
    pub stock: &'a [Stock],
    /// Pieces placed.
    pub pieces: &'a [Piece],
    /// True for sticks.
    pub sticks: bool,
    /// The kerf, as added to every side.
    pub kerf: i64,
}

impl Facts<'_> {
    /// True where every kind that can be bought has a price.
    pub(super) fn priced(&self) -> bool {
        let free = |s: &Stock| s.limit() == 0;
        self.stock.iter().all(|s| s.price.is_some() || free(s))
    }

    /// Cost of one of each kind: its price, or without prices its area in hundredths of the largest.
    fn costs(&self) -> Vec<i64> {
        let priced = self.priced();
        let largest = self.stock.iter().map(|s| s.area).max().unwrap_or(1).max(1);
        (self.stock.iter())
            .map(|s| match s.price {
                Some(c) if priced => c.0.max(0),
                _ => i64::try_from((s.area * 100 + largest / 2) / largest).map_or(1, |c| c.max(1)),
            })
            .collect()
    }

    /// What the plan comes to, in those costs.
    pub(super) fn cost(&self) -> i64 {
        let each = self.costs();
        (self.stock.iter().zip(each)).fold(0i64, |sum, (s, c)| {
            sum.saturating_add(c.saturating_mul(s.bought() as i64))
        })
    }

    fn bought(&self) -> i64 {
        self.stock.iter().map(|s| s.bought() as i64).sum()
    }

    /// Ways of a piece that fit some stock that is there.
    fn ways(&self, p: &Piece) -> Vec<(i64, i64)> {
        let fits = |w: &(i64, i64)| {
            let holds = |s: &Stock| s.there() && w.0 <= s.room.0 && w.1 <= s.room.1;
            self.stock.iter().any(holds)
        };
        p.ways.iter().copied().filter(fits).collect()
    }

    /// The least cost and number bought, if the pieces weigh `need` and one of each kind holds `most`.
    fn least(&self, need: i128, most: &[i128]) -> Shown {
        let in_hand: i128 = (self.stock.iter().zip(most))
            .map(|(s, m)| i128::from(s.have) * m)
            .sum();
        let left = need - in_hand;
        let paid = |cost: &dyn Fn(usize) -> i64| -> Vec<Paid> {
            (self.stock.iter().enumerate())
                .map(|(i, s)| Paid {
                    cost: cost(i),
                    most: most[i],
                    limit: s.limit(),
                })
                .collect()
        };
        let each = self.costs();
        Shown {
            cost: cover::least(&paid(&|i| each[i]), left).unwrap_or(i64::MAX),
            count: cover::least(&paid(&|_| 1), left).unwrap_or(i64::MAX),
        }
    }

    /// The bound of area (of length, for sticks), which needs no certificate.
    fn by_area(&self) -> Shown {
        let area = |w: (i64, i64)| i128::from(w.0) * i128::from(w.1);
        let need = (self.pieces.iter())
            .filter_map(|p| p.ways.first().map(|w| area(*w) * i128::from(p.placed)))
            .sum();
        let most: Vec<i128> = self.stock.iter().map(|s| area(s.room)).collect();
        self.least(need, &most)
    }
}

/// Holds a claim against the facts.
pub(super) fn check(facts: &Facts, claim: &Claim, faults: &mut Vec<Fault>) {
    let item = claim.item.to_string();
    let area = facts.by_area();
    let (bought, cost) = (facts.bought(), facts.cost());
    said(facts, claim, bought, faults);
    let shown = match show(facts, claim) {
        Ok(s) => s,
        Err(fault) => {
            faults.push(fault);
            Shown { cost: 0, count: 0 }
        }
    };
    let count = shown.count.max(area.count).min(bought);
    if i64::from(claim.at_least) > count {
        faults.push(Fault::BoundTooHigh {
            item: item.clone(),
            claimed: i64::from(claim.at_least),
            shown: count,
        });
    }
    if let Some(c) = claim.cost_at_least {
        let most = shown.cost.max(area.cost).min(cost);
        if c.0 > most || !facts.priced() {
            faults.push(Fault::BoundTooHigh {
                item: item.clone(),
                claimed: c.0,
                shown: most,
            });
        }
    }
    if claim.proved && shown.cost < cost {
        faults.push(Fault::NotProved {
            item,
            shown: shown.cost,
            bought: cost,
        });
    }
}

/// What must be said: with several sizes a bound on the cost; with one, `proved` means that no plan needs fewer.
fn said(facts: &Facts, claim: &Claim, bought: i64, faults: &mut Vec<Fault>) {
    let sizes: Vec<&Stock> = facts.stock.iter().filter(|s| s.rack.is_none()).collect();
    let mut field = |what: &str, found: String, expected: String| {
        let what = format!("{what} of {}", claim.item);
        faults.push(Fault::Field {
            what,
            found,
            expected,
        });
    };
    if sizes.len() > 1 && facts.priced() && claim.cost_at_least.is_none() {
        field(
            "cost_at_least_cents",
            "nothing".into(),
            "a bound on the cost".into(),
        );
    }
    let dear = |s: &Stock| s.price.is_none_or(|c| c.0 > 0);
    if let (true, [one]) = (claim.proved, &sizes[..])
        && dear(one)
        && i64::from(claim.at_least) != bought
    {
        field("at_least", claim.at_least.to_string(), bought.to_string());
    }
}

fn show(facts: &Facts, claim: &Claim) -> Result<Shown, Fault> {
    let lie = |why: &str| Fault::FalseCertificate {
        item: claim.item.into(),
        why: why.into(),
    };
    match claim.certificate {
        Certificate::None | Certificate::NothingToBuy => Ok(Shown { cost: 0, count: 0 }),
        Certificate::Weights(proof) => {
            let weights = weights_of(facts, &proof.weights).map_err(|w| lie(&w))?;
            let most = holds(facts, proof, &weights, claim.item)?;
            let need = (facts.pieces.iter().zip(&weights))
                .map(|(_, (w, n))| i128::from(*w) * i128::from(*n));
            Ok(facts.least(need.sum(), &most))
        }
        Certificate::Exhaustive {
            pieces,
            not_on,
            costs,
            ..
        } => {
            let counts = weights_of(facts, pieces).map_err(|w| lie(&w))?;
            match tried(facts, &counts, *not_on, *costs) {
                None => Err(Fault::Uncheckable {
                    item: claim.item.into(),
                }),
                Some(false) => Err(lie("its pieces fit on less than it says they do")),
                Some(true) => Ok(Shown {
                    cost: *costs,
                    count: i64::from(*not_on) + 1,
                }),
            }
        }
    }
}

/// True if the pieces need more than `not_on` bought and at least `costs`, by a search of the referee's own. `None`: too
/// much work.
fn tried(facts: &Facts, counts: &[(i64, u32)], not_on: u32, costs: i64) -> Option<bool> {
    let shapes: Vec<Shape> = (facts.pieces.iter().zip(counts))
        .filter(|(_, (_, n))| *n > 0)
        .map(|(p, (w, n))| Shape {
            ways: facts.ways(p),
            weight: *w,
            count: *n,
            limit: None,
        })
        .collect();
    let supply = |each: &dyn Fn(usize) -> i64| -> Vec<Supply> {
        let of = |(i, s): (usize, &Stock)| {
            let bought = (each(i), s.limit());
            [(0, s.have), bought].map(|(cost, left)| Supply {
                room: s.room,
                cost,
                left,
            })
        };
        facts.stock.iter().enumerate().flat_map(of).collect()
    };
    let prices = facts.costs();
    let mut search = Complete::new(&shapes);
    let cheaper = search.fits_for(&supply(&|i| prices[i]), costs - 1)?;
    let fewer = search.fits_for(&supply(&|_| 1), i64::from(not_on))?;
    Some(!cheaper && !fewer)
}

/// Weight and count for each piece of the facts, or what is wrong with the list.
fn weights_of(facts: &Facts, list: &[PieceWeight]) -> Result<Vec<(i64, u32)>, String> {
    let mut found = vec![(0i64, 0u32); facts.pieces.len()];
    for w in list {
        if w.weight < 0 {
            return Err(format!("{} has a weight below nothing", w.mark));
        }
        let free = |i: &usize| facts.pieces[*i].mark == w.mark && found[*i] == (0, 0);
        let Some(i) = (0..found.len()).find(free) else {
            return Err(format!(
                "{} is not a part of this material, or is weighed twice",
                w.mark
            ));
        };
        if u64::from(w.count) > facts.pieces[i].placed {
            return Err(format!(
                "{} of {} are weighed, and {} are placed",
                w.count, w.mark, facts.pieces[i].placed
            ));
        }
        found[i] = (w.weight, w.count);
    }
    Ok(found)
}

/// What one of each kind of stock really holds of the weights; a fault where the certificate says less.
fn holds(
    facts: &Facts,
    proof: &WeightsProof,
    weights: &[(i64, u32)],
    item: &str,
) -> Result<Vec<i128>, Fault> {
    let lie = |why: String| Fault::FalseCertificate {
        item: item.into(),
        why,
    };
    if let WeightRule::Area = proof.rule {
        for (p, (w, _)) in facts.pieces.iter().zip(weights) {
            let area = p
                .ways
                .first()
                .map_or(0, |w| i128::from(w.0) * i128::from(w.1));
            if i128::from(*w) > area {
                return Err(lie(format!(
                    "{} weighs more than its area with the kerf",
                    p.mark
                )));
            }
        }
    }
    if let WeightRule::Product {
        along,
        across,
        symmetric,
    } = &proof.rule
    {
        check_product(facts, weights, (along, across), *symmetric).map_err(lie)?;
    }
    let mut most = Vec::new();
    for (i, s) in facts.stock.iter().enumerate() {
        // Lengths of one row that is sold by the foot stand in the list shortest first.
        let before = facts.stock[..i].iter();
        let nth = before
            .filter(|o| o.item == s.item && o.rack == s.rack)
            .count();
        let claimed = (proof.holds.iter())
            .filter(|h| h.item == s.item && h.rack == s.rack)
            .nth(nth)
            .map(|h| i128::from(h.most));
        if !s.there() {
            most.push(0);
            continue;
        }
        let floor = claimed.unwrap_or(0).max(0);
        let real = match &proof.rule {
            WeightRule::Area => Some(i128::from(s.room.0) * i128::from(s.room.1)),
            WeightRule::Product {
                along,
                across,
                symmetric,
            } => product(facts, weights, (along, across), *symmetric, s.room),
            WeightRule::Pattern { capped, limits } if facts.sticks => {
                stick(facts, weights, *capped, limits, s.room.0, floor)
            }
            WeightRule::Pattern { capped, limits } => {
                sheet(facts, weights, *capped, limits, s.room, floor).map_err(lie)?
            }
        };
        let Some(real) = real else {
            return Err(Fault::Uncheckable { item: item.into() });
        };
        match claimed {
            None if real > 0 => return Err(lie(format!("it does not say what {} holds", s.item))),
            Some(c) if real > c => {
                return Err(lie(format!(
                    "one {} holds {real} of its weight, not {c}",
                    s.item
                )));
            }
            _ => most.push(claimed.unwrap_or(0)),
        }
    }
    Ok(most)
}

/// The heaviest set of pieces on a stick.
fn stick(
    facts: &Facts,
    weights: &[(i64, u32)],
    capped: bool,
    limits: &[CopyLimit],
    room: i64,
    floor: i128,
) -> Option<i128> {
    let lots: Vec<Lot> = (facts.pieces.iter().zip(weights))
        .map(|(p, (w, n))| {
            let limit = limits.iter().find(|l| l.marks.contains(&p.mark));
            let limit = limit.map(|_| u64::from(*n));
            Lot {
                count: if capped {
                    u64::from(*n)
                } else {
                    limit.unwrap_or(u64::MAX)
                },
                ways: vec![(p.ways.first().map_or(0, |w| w.0), i128::from(*w))],
            }
        })
        .collect();
    heaviest(&lots, room, floor)
}

/// The heaviest guillotine pattern on a sheet. Limits must speak of the pieces' true counts.
fn sheet(
    facts: &Facts,
    weights: &[(i64, u32)],
    capped: bool,
    limits: &[CopyLimit],
    room: (i64, i64),
    floor: i128,
) -> Result<Option<i128>, String> {
    let mut shapes: Vec<Shape> = (facts.pieces.iter().zip(weights))
        .map(|(p, (w, n))| Shape {
            ways: facts.ways(p),
            weight: *w,
            count: *n,
            limit: limits.iter().position(|l| l.marks.contains(&p.mark)),
        })
        .collect();
    let mut tops: Vec<u32> = Vec::new();
    for (i, l) in limits.iter().enumerate() {
        let there: u64 = (facts.pieces.iter().zip(weights))
            .filter(|(p, (w, _))| l.marks.contains(&p.mark) && *w > 0)
            .map(|(_, (_, n))| u64::from(*n))
            .sum();
        if u64::from(l.most) < there {
            return Err(format!(
                "limit {} allows fewer copies than there are",
                i + 1
            ));
        }
        tops.push(l.most);
    }
    // Pieces that are alike in size may be told apart by nothing but weight, so they stay apart here.
    let plain = most_weight(&shapes, &tops, room).map(i128::from);
    if !capped || plain.is_some_and(|m| m <= floor) {
        return Ok(plain);
    }
    let heavy = |s: &Shape| s.weight > 0 && s.count > 0;
    let tops: Vec<u32> = shapes
        .iter()
        .filter(|s| heavy(s))
        .map(|s| s.count)
        .collect();
    for (i, s) in shapes.iter_mut().filter(|s| heavy(s)).enumerate() {
        s.limit = Some(i);
    }
    Ok(most_weight(&shapes, &tops, room).map(i128::from))
}

fn value(scale: &[SizeWeight], kerf_side: i64, kerf: i64) -> i128 {
    (scale.iter())
        .find(|s| s.size.units() + kerf == kerf_side)
        .map_or(0, |s| i128::from(s.weight))
}

type Scales<'a> = (&'a [SizeWeight], &'a [SizeWeight]);

/// Weights of a product proof are no more than its scales give, and its rules are kept.
fn check_product(
    facts: &Facts,
    weights: &[(i64, u32)],
    (along, across): Scales,
    symmetric: bool,
) -> Result<(), String> {
    if along.iter().chain(across).any(|s| s.weight < 0) {
        return Err("a scale falls below nothing".into());
    }
    if symmetric {
        let square = facts
            .stock
            .iter()
            .filter(|s| s.there())
            .all(|s| s.room.0 == s.room.1);
        let turning = |p: &Piece| p.ways.first().is_some_and(|w| p.ways.contains(&(w.1, w.0)));
        // What is not weighed adds nothing to either side.
        let weighed = facts
            .pieces
            .iter()
            .zip(weights)
            .filter(|(_, (_, n))| *n > 0);
        if !square || !weighed.map(|(p, _)| p).all(turning) {
            return Err("its scales want square sheets and pieces that turn".into());
        }
    }
    let kerf = facts.kerf;
    for (p, (w, n)) in facts.pieces.iter().zip(weights) {
        let each = |s: (i64, i64)| value(along, s.0, kerf) * value(across, s.1, kerf);
        let ways = facts.ways(p);
        let least = if symmetric {
            ways.first().map_or(0, |s| each(*s) + each((s.1, s.0)))
        } else {
            ways.iter().map(|s| each(*s)).min().unwrap_or(0)
        };
        if *n > 0 && i128::from(*w) > least {
            return Err(format!("{} weighs more than its scales give", p.mark));
        }
    }
    Ok(())
}

/// F times G for a sheet.
fn product(
    facts: &Facts,
    weights: &[(i64, u32)],
    (along, across): Scales,
    symmetric: bool,
    room: (i64, i64),
) -> Option<i128> {
    let kerf = facts.kerf;
    let side = |scale: &[SizeWeight], second: bool, room: i64| {
        let lots: Vec<Lot> = (facts.pieces.iter().zip(weights))
            .map(|(p, (_, n))| Lot {
                count: u64::from(*n),
                ways: (facts.ways(p).iter())
                    .map(|w| if second { w.1 } else { w.0 })
                    .map(|l| (l, value(scale, l, kerf)))
                    .collect(),
            })
            .collect();
        heaviest(&lots, room, 0)
    };
    let (f, g) = (side(along, false, room.0)?, side(across, true, room.1)?);
    f.checked_mul(g)?.checked_mul(if symmetric { 2 } else { 1 })
}
