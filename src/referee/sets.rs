//! The heaviest set of pieces that goes side by side into a length, each piece once: the referee's own knapsack.
//!
//! States (length, weight) that nothing beats, pieces heaviest for their length first, and a state is dropped once even
//! the best weight for length of what is still to come cannot lift it over what is known. Exact, or `None` at its limit.

/// Pieces that are alike: how many, and in which lengths each may be used (a piece that may turn has two).
#[derive(Clone, Debug)]
pub(super) struct Lot {
    /// How many.
    pub count: u64,
    /// (length, weight) of each way to use one; a piece is used in one way or not at all.
    pub ways: Vec<(i64, i128)>,
}

/// States looked at before the referee gives up.
const LIMIT: u64 = 300_000_000;

/// The most weight within `room`, or `floor` if nothing beats it.
pub(super) fn heaviest(lots: &[Lot], room: i64, floor: i128) -> Option<i128> {
    let mut lots: Vec<Lot> = lots.to_vec();
    for lot in &mut lots {
        lot.ways.retain(|(l, w)| *w > 0 && *l <= room && *l > 0);
    }
    lots.retain(|l| l.count > 0 && !l.ways.is_empty());
    // The better weight for length of a lot's ways.
    let best_way = |lot: &Lot| {
        let mut ways = lot.ways.iter().copied();
        let first = ways.next().expect("lots without ways are gone");
        ways.fold(first, |a, b| {
            if b.1 * i128::from(a.0) > a.1 * i128::from(b.0) {
                b
            } else {
                a
            }
        })
    };
    lots.sort_by(|a, b| {
        let (a, b) = (best_way(a), best_way(b));
        (b.1 * i128::from(a.0)).cmp(&(a.1 * i128::from(b.0)))
    });
    let mut best = floor;
    let mut states: Vec<(i64, i128)> = vec![(0, 0)];
    let mut looked = 0u64;
    for (i, lot) in lots.iter().enumerate() {
        let least = lot.ways.iter().map(|w| w.0).min().unwrap_or(1);
        let copies = lot.count.min((room / least) as u64);
        for copy in 1..=copies {
            // What may still come: more of this lot, or what follows it.
            let next = if copy < copies {
                Some(lot)
            } else {
                lots.get(i + 1)
            }
            .map(best_way);
            let mut grown: Vec<(i64, i128)> = states.clone();
            for (l, w) in &lot.ways {
                grown.extend(
                    states
                        .iter()
                        .take_while(|s| s.0 + l <= room)
                        .map(|s| (s.0 + l, s.1 + w)),
                );
            }
            grown.sort_unstable_by_key(|s| (s.0, std::cmp::Reverse(s.1)));
            looked += grown.len() as u64;
            if looked > LIMIT {
                return None;
            }
            best = grown.iter().map(|s| s.1).fold(best, i128::max);
            let before = states.len();
            let mut top = -1;
            let old = std::mem::take(&mut states);
            for s in grown {
                let more = next.map_or(0, |(l, w)| i128::from(room - s.0) * w / i128::from(l));
                if s.1 > top && s.1 + more > best {
                    top = s.1;
                    states.push(s);
                }
            }
            if states.is_empty() {
                return Some(best);
            }
            if states.len() == before && states == old {
                break; // further copies change nothing
            }
        }
    }
    Some(best)
}
