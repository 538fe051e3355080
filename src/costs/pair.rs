//! Two routes held against each other: how far one is ahead under any prices and hours, and what moves that.
//!
//! Owns the ranges of uncertain inputs. Prices move within their own low and high, the same price for both routes. Hours of a
//! route she builds may be 20% under and 40% over what is stated (a judgement, no source); those of bought frames are taken as
//! stated. Her own hourly rate is a choice, and a tool or a delivery a switch: listed, never weighed.

use super::route::{PriceOf, Priced, hours_cost};
use super::shopping::{Entry, Group};
use crate::model::Hours;
use crate::model::compare::Move;
use crate::units::{Cents, PriceRange};

/// Her hours on boxes, under and over, in hundredths. [default: 80 and 140] [range: 1-1000]
const HOURS_RANGE: [i64; 2] = [80, 140];

/// The cheaper route and the one it is held against.
pub(crate) struct Pair<'a> {
    pub(crate) winner: &'a Priced,
    pub(crate) other: &'a Priced,
    /// Her rate; zero where none is known, so that money alone is compared.
    pub(crate) rate: Cents,
}

/// One uncertain price.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Input {
    pub(crate) code: String,
    pub(crate) group: Group,
    pub(crate) price: PriceRange,
}

impl Pair<'_> {
    /// How much cheaper the winner is; hours as hundredths of those stated for [winner, other].
    pub(crate) fn ahead(&self, price_of: &PriceOf, pace: [i64; 2]) -> Option<i64> {
        let cost = |route: &Priced, pace: i64| {
            let hours = Hours(route.hours?.0.saturating_mul(pace) / 100);
            Some(route.money(price_of)? + hours_cost(hours, self.rate).0)
        };
        Some(cost(self.other, pace[1])? - cost(self.winner, pace[0])?)
    }

    /// The same with every price as stated.
    pub(crate) fn ahead_now(&self) -> Option<i64> {
        self.ahead(&|_, p| p.likely.0, [100, 100])
    }

    /// Every price that either route pays, once.
    pub(crate) fn inputs(&self) -> Vec<Input> {
        let mut found: Vec<Input> = Vec::new();
        for e in self
            .winner
            .bought
            .entries
            .iter()
            .chain(&self.other.bought.entries)
        {
            let Some(price) = e.price else { continue };
            if !found.iter().any(|i| i.code == e.code && i.group == e.group) {
                found.push(Input {
                    code: e.code.clone(),
                    group: e.group,
                    price,
                });
            }
        }
        found.sort_by_key(|i| i.group);
        found
    }

    /// How far ahead where the entries that `moved` picks have the price that `pick` gives.
    pub(crate) fn ahead_where(
        &self,
        moved: &dyn Fn(&Entry) -> bool,
        pick: &dyn Fn(PriceRange) -> i64,
    ) -> Option<i64> {
        let price_of = |e: &Entry, p: PriceRange| if moved(e) { pick(p) } else { p.likely.0 };
        self.ahead(&price_of, [100, 100])
    }

    /// Single prices that flip the answer within their own range, with the price it happens at the end of.
    pub(crate) fn prices_that_flip(&self) -> Vec<Input> {
        let flips = |i: &Input| {
            let this = |e: &Entry| e.code == i.code && e.group == i.group;
            let ends: [&dyn Fn(PriceRange) -> i64; 2] = [&|p| p.low.0, &|p| p.high.0];
            ends.iter()
                .filter_map(|end| self.ahead_where(&this, *end))
                .any(|ahead| ahead <= 0)
        };
        self.inputs().into_iter().filter(flips).collect()
    }

    /// True if the hours of a route she builds flip it within their range.
    pub(crate) fn pace_that_flips(&self) -> Option<&Priced> {
        let [under, over] = HOURS_RANGE;
        let tries = [(self.other, [100, under]), (self.winner, [over, 100])];
        tries
            .into_iter()
            .filter(|(route, _)| route.built)
            .find(|(_, pace)| {
                self.ahead(&|_, p| p.likely.0, *pace)
                    .is_some_and(|a| a <= 0)
            })
            .map(|(route, _)| route)
    }

    /// How far ahead with every price at its worst for the winner and her pace at its worst too: the other route's hours
    /// 20% under if she builds it, else her own route's 40% over.
    pub(crate) fn ahead_at_worst(&self) -> Option<i64> {
        let worst: Vec<(Input, i64)> = self
            .inputs()
            .into_iter()
            .map(|i| {
                let this = |e: &Entry| e.code == i.code && e.group == i.group;
                let low = self.ahead_where(&this, &|p| p.low.0);
                let high = self.ahead_where(&this, &|p| p.high.0);
                let price = if low < high {
                    i.price.low
                } else {
                    i.price.high
                };
                (i, price.0)
            })
            .collect();
        let price_of = |e: &Entry, p: PriceRange| {
            worst
                .iter()
                .find(|(i, _)| i.code == e.code && i.group == e.group)
                .map_or(p.likely.0, |(_, cents)| *cents)
        };
        let [under, over] = HOURS_RANGE;
        let pace = match (self.other.built, self.winner.built) {
            (true, _) => [100, under],
            (false, true) => [over, 100],
            (false, false) => [100, 100],
        };
        self.ahead(&price_of, pace)
    }

    /// What moves the answer and how far, the largest first; `rates` = the ends of her hourly rate.
    pub(crate) fn moves(&self, rates: Option<[Cents; 2]>) -> Vec<Move> {
        let mut all = Vec::new();
        let now = self.ahead_now();
        let mut push = |what: String, ends: [(String, Option<i64>); 2], switch: bool| {
            let [(from, a), (to, b)] = ends;
            let (Some(a), Some(b)) = (a, b) else { return };
            if a == b {
                return;
            }
            let ((from, a), (to, b)) = if a >= b {
                ((from, a), (to, b))
            } else {
                ((to, b), (from, a))
            };
            all.push(Move {
                what,
                from,
                to,
                ahead_from: Cents(a),
                ahead_to: Cents(b),
                switch,
            });
        };
        if let Some(rates) = rates {
            let ends = rates.map(|rate| {
                let at = Pair { rate, ..*self };
                (format!("{} an hour", rate.print()), at.ahead_now())
            });
            push("an hour of yours".into(), ends, true);
        }
        let [under, over] = HOURS_RANGE;
        for (i, route) in [self.winner, self.other].into_iter().enumerate() {
            if !route.built {
                continue;
            }
            let ends = [(under, "20% fewer"), (over, "40% more")].map(|(share, words)| {
                let mut pace = [100, 100];
                pace[i] = share;
                (words.to_owned(), self.ahead(&|_, p| p.likely.0, pace))
            });
            push(format!("hours of {}", route.name), ends, false);
        }
        let inputs = self.inputs();
        let mut groups: Vec<Group> = inputs.iter().map(|i| i.group).collect();
        groups.dedup();
        for group in groups {
            let this = |e: &Entry| e.group == group;
            let ends = [
                (
                    "all cheap".to_owned(),
                    self.ahead_where(&this, &|p| p.low.0),
                ),
                (
                    "all dear".to_owned(),
                    self.ahead_where(&this, &|p| p.high.0),
                ),
            ];
            push(group.word().into(), ends, false);
        }
        for i in inputs
            .iter()
            .filter(|i| matches!(i.group, Group::Tools | Group::Services))
        {
            let this = |e: &Entry| e.code == i.code && e.group == i.group;
            let without = if i.group == Group::Tools {
                "owned or lent"
            } else {
                "not needed"
            };
            let ends = [
                (without.to_owned(), self.ahead_where(&this, &|_| 0)),
                ("paid for".to_owned(), now),
            ];
            push(i.code.clone(), ends, true);
        }
        all.sort_by_key(|m| -(m.ahead_from.0 - m.ahead_to.0));
        all
    }
}
