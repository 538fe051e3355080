//! The least cost of stock that can hold a total weight: the last step of every bound, done the referee's way.

/// One kind of stock that must be paid for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Paid {
    /// Cost of one.
    pub cost: i64,
    /// Most weight one holds.
    pub most: i128,
    /// How many can be had.
    pub limit: u64,
}

/// Combinations tried before the plain fractional bound has to do.
const TRIES: u32 = 300_000;

/// The least cost that covers `need`; `None` if all of it does not.
pub(super) fn least(kinds: &[Paid], need: i128) -> Option<i64> {
    if need <= 0 {
        return Some(0);
    }
    let mut kinds: Vec<Paid> = (kinds.iter().copied())
        .filter(|k| k.most > 0 && k.limit > 0)
        .collect();
    // Most weight for the money first; a free kind before all.
    // Of equal ones the largest, so that what is left over after whole ones is small: sticks sold by the foot are all equal.
    kinds.sort_by(|a, b| {
        (i128::from(a.cost) * b.most)
            .cmp(&(i128::from(b.cost) * a.most))
            .then(b.most.cmp(&a.most))
    });
    let all = (kinds.iter()).fold(0i128, |s, k| {
        s.saturating_add(k.most.saturating_mul(i128::from(k.limit)))
    });
    if all < need {
        return None;
    }
    let mut tries = TRIES;
    let mut best = i64::MAX;
    go(&kinds, need, 0, &mut best, &mut tries);
    Some(if tries == 0 {
        parts(&kinds, need)
    } else {
        best
    })
}

/// Cost where parts of a kind may be bought, rounded up.
fn parts(kinds: &[Paid], mut need: i128) -> i64 {
    let mut cost = 0i128;
    for k in kinds {
        let all = k.most.saturating_mul(i128::from(k.limit));
        if all >= need {
            let more = (need * i128::from(k.cost)).div_euclid(k.most)
                + i128::from((need * i128::from(k.cost)).rem_euclid(k.most) > 0);
            return i64::try_from(cost + more).unwrap_or(i64::MAX);
        }
        need -= all;
        cost = cost.saturating_add(i128::from(k.cost) * i128::from(k.limit));
    }
    i64::MAX
}

fn go(kinds: &[Paid], need: i128, spent: i64, best: &mut i64, tries: &mut u32) {
    if need <= 0 {
        *best = (*best).min(spent);
        return;
    }
    let Some((first, rest)) = kinds.split_first() else {
        return;
    };
    if *tries == 0 || spent.saturating_add(parts(kinds, need)) >= *best {
        return;
    }
    *tries -= 1;
    let enough = (need + first.most - 1) / first.most;
    let top = enough.min(i128::from(first.limit));
    for n in (0..=top).rev() {
        let Some(cost) = i64::try_from(n * i128::from(first.cost)).ok() else {
            continue;
        };
        go(
            rest,
            need - n * first.most,
            spent.saturating_add(cost),
            best,
            tries,
        );
        if *tries == 0 {
            return;
        }
    }
}
