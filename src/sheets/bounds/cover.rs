//! The least cost, and the least number, of sheets that hold a given weight. Exact for the few sizes a job has; with many
//! it falls back to the linear relaxation, which can only be lower.

/// A kind of sheet that can be bought.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Stock {
    /// Most weight one can hold, above 0.
    pub holds: i64,
    /// Price of one.
    pub cost: i64,
    /// How many can be bought.
    pub buy: u32,
}

/// Nodes of the search for the least cost before the relaxation stands in. Default 20,000, any positive number is safe.
const NODES: u32 = 20_000;

/// Fewest sheets that hold `weight`; `None` if all together do not.
pub(super) fn least_sheets(stock: &[Stock], weight: i128) -> Option<u32> {
    let mut by_size = stock.to_vec();
    by_size.sort_by_key(|k| std::cmp::Reverse(k.holds));
    let (mut rest, mut sheets) = (weight, 0u32);
    for k in by_size {
        if rest <= 0 {
            break;
        }
        let holds = i128::from(k.holds);
        let take = ((rest + holds - 1) / holds).min(i128::from(k.buy));
        sheets = sheets.saturating_add(u32::try_from(take).unwrap_or(u32::MAX));
        rest -= take * holds;
    }
    (rest <= 0).then_some(sheets)
}

/// Least cost of sheets that hold `weight`; `None` if all together do not.
pub(super) fn least_cost(stock: &[Stock], weight: i128) -> Option<i64> {
    let by_price = cheapest_first(stock.to_vec());
    let relaxed = relaxation(&by_price, weight)?;
    let mut search = Search {
        best: i128::MAX,
        nodes: NODES,
    };
    search.descend(&by_price, weight, 0);
    let exact = search.nodes > 0;
    let cost = if exact { search.best } else { relaxed };
    Some(i64::try_from(cost).unwrap_or(i64::MAX))
}

/// Least cost if sheets could be bought in fractions: to compare weights by, never to claim.
pub(super) fn least_cost_in_fractions(stock: Vec<Stock>, weight: i128) -> f64 {
    let (mut rest, mut cost) = (weight as f64, 0.0);
    for k in cheapest_first(stock) {
        if rest <= 0.0 {
            break;
        }
        let take = (rest / k.holds as f64).min(f64::from(k.buy));
        cost += take * k.cost as f64;
        rest -= take * k.holds as f64;
    }
    cost
}

fn cheapest_first(mut by_price: Vec<Stock>) -> Vec<Stock> {
    // Cheapest for what it holds first: a / b < c / d without dividing.
    by_price.sort_by(|a, b| {
        let (left, right) = (
            i128::from(a.cost) * i128::from(b.holds),
            i128::from(b.cost) * i128::from(a.holds),
        );
        left.cmp(&right).then(b.holds.cmp(&a.holds))
    });
    by_price
}

/// Least cost if sheets could be bought in fractions, rounded up; `stock` cheapest for what it holds first.
fn relaxation(stock: &[Stock], weight: i128) -> Option<i128> {
    let (mut rest, mut cost) = (weight, 0i128);
    for k in stock {
        if rest <= 0 {
            break;
        }
        let (holds, price) = (i128::from(k.holds), i128::from(k.cost));
        let all = holds * i128::from(k.buy);
        if all >= rest {
            return Some(cost + (rest * price + holds - 1) / holds);
        }
        cost += price * i128::from(k.buy);
        rest -= all;
    }
    (rest <= 0).then_some(cost)
}

struct Search {
    best: i128,
    nodes: u32,
}

impl Search {
    fn descend(&mut self, stock: &[Stock], rest: i128, cost: i128) {
        if rest <= 0 {
            self.best = self.best.min(cost);
            return;
        }
        if self.nodes == 0 {
            return;
        }
        self.nodes -= 1;
        match relaxation(stock, rest) {
            Some(more) if cost + more < self.best => {}
            _ => return,
        }
        let k = stock[0];
        let holds = i128::from(k.holds);
        let most = ((rest + holds - 1) / holds).min(i128::from(k.buy));
        if stock.len() == 1 {
            return self.descend(&[], rest - most * holds, cost + most * i128::from(k.cost));
        }
        let mut take = most;
        while take >= 0 && self.nodes > 0 {
            self.descend(
                &stock[1..],
                rest - take * holds,
                cost + take * i128::from(k.cost),
            );
            take -= 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all_ways(stock: &[Stock], rest: i128) -> Option<(i64, u32)> {
        // Complete enumeration: (least cost, least number), each by itself.
        let Some((k, others)) = stock.split_first() else {
            return (rest <= 0).then_some((0, 0));
        };
        let mut best: Option<(i64, u32)> = None;
        for take in 0..=k.buy {
            if let Some((c, n)) = all_ways(others, rest - i128::from(take) * i128::from(k.holds)) {
                let (c, n) = (c + i64::from(take) * k.cost, n + take);
                best = Some(best.map_or((c, n), |(bc, bn)| (bc.min(c), bn.min(n))));
            }
        }
        best
    }

    proptest::proptest! {
        #[test]
        fn equals_trying_every_number(
            stock in proptest::collection::vec((1i64..20, 0i64..30, 0u32..5), 0..4),
            weight in 0i64..120,
        ) {
            let stock: Vec<Stock> = stock.iter().map(|&(holds, cost, buy)| Stock { holds, cost, buy }).collect();
            let truth = all_ways(&stock, i128::from(weight));
            proptest::prop_assert_eq!(least_cost(&stock, i128::from(weight)), truth.map(|t| t.0));
            proptest::prop_assert_eq!(least_sheets(&stock, i128::from(weight)), truth.map(|t| t.1));
        }
    }
}
