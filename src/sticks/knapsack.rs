//! The best set of things for one stick, exactly, in whole numbers: a list of undominated states (length, worth) grown
//! thing by thing and pruned by a bound (the classic list form of dynamic programming, Nemhauser & Ullmann 1969).
//!
//! It works on lengths of any fineness, since it never makes a table over the length. It counts its steps.

/// A thing that may be taken.
#[derive(Clone, Copy, Debug)]
pub(super) struct Thing {
    /// Index the caller knows it by.
    pub id: usize,
    /// Length, above 0.
    pub size: i64,
    /// Worth, at least 0.
    pub worth: i64,
    /// Copies there are.
    pub copies: u32,
}

#[derive(Clone, Copy)]
struct State {
    size: i64,
    worth: i64,
    /// Index into the trail; `u32::MAX` = empty set.
    last: u32,
}

/// What was found.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Best {
    /// Worth of the best set.
    pub worth: i64,
    /// The set: (id, copies).
    pub set: Vec<(usize, u32)>,
}

/// The best set of total length at most `cap`. `None` if `budget` steps do not suffice; what is spent is taken off it.
pub(super) fn best_set(things: &[Thing], cap: i64, budget: &mut u64) -> Option<Best> {
    let mut parts: Vec<(Thing, u32)> = Vec::new();
    for t in things
        .iter()
        .filter(|t| t.worth > 0 && t.size <= cap && t.copies > 0)
    {
        let mut left = i64::from(t.copies).min(cap / t.size);
        let mut chunk = 1;
        while left > 0 {
            let take = chunk.min(left);
            let lot = Thing {
                size: t.size * take,
                worth: t.worth * take,
                ..*t
            };
            parts.push((lot, take as u32));
            left -= take;
            chunk *= 2;
        }
    }
    // Densest first; within one density the larger first, so that states stay few.
    parts.sort_by(|(a, _), (b, _)| {
        (i128::from(b.worth) * i128::from(a.size))
            .cmp(&(i128::from(a.worth) * i128::from(b.size)))
            .then(b.size.cmp(&a.size))
            .then(a.id.cmp(&b.id))
    });
    let mut trail: Vec<(u32, u32)> = Vec::new(); // (part, previous)
    let mut states = vec![State {
        size: 0,
        worth: 0,
        last: u32::MAX,
    }];
    let mut best = greedy(&parts, cap, &mut trail);
    let mut grown: Vec<State> = Vec::new();
    for (i, (part, _)) in parts.iter().enumerate() {
        *budget = budget.checked_sub(states.len() as u64 + 1)?;
        if trail.len() > (u32::MAX / 2) as usize {
            return None;
        }
        grown.clear();
        let next = parts.get(i + 1).map(|(p, _)| (p.worth, p.size));
        // Two sorted lists, with and without this part, merged; a state must be worth more than every shorter one.
        let (mut a, mut b) = (0, 0);
        let mut top = -1;
        while a < states.len() || b < states.len() {
            let with = states
                .get(b)
                .map(|s| (s.size + part.size, s.worth + part.worth));
            let take_with = match (states.get(a), with) {
                (Some(s), Some((size, worth))) => (size, -worth) < (s.size, -s.worth),
                (None, _) => true,
                (_, None) => false,
            };
            let (size, worth, last) = if take_with {
                let (size, worth) = with.expect("taken only where there is one");
                b += 1;
                (size, worth, None)
            } else {
                let s = states[a];
                a += 1;
                (s.size, s.worth, Some(s.last))
            };
            if size > cap {
                if take_with {
                    b = states.len();
                }
                continue;
            }
            if worth <= top {
                continue;
            }
            top = worth;
            let last = last.unwrap_or_else(|| {
                trail.push((i as u32, states[b - 1].last));
                (trail.len() - 1) as u32
            });
            let state = State { size, worth, last };
            if worth > best.worth {
                best = state;
            }
            // What the rest can add at most: its best density times the room left.
            let may = next.map_or(0, |(w, s)| {
                (i128::from(cap - size) * i128::from(w) / i128::from(s)) as i64
            });
            if worth + may > best.worth {
                grown.push(state);
            }
        }
        std::mem::swap(&mut states, &mut grown);
        if states.is_empty() {
            break;
        }
    }
    let mut set: Vec<(usize, u32)> = Vec::new();
    let mut at = best.last;
    while at != u32::MAX {
        let (part, before) = trail[at as usize];
        let (thing, copies) = parts[part as usize];
        match set.iter_mut().find(|(id, _)| *id == thing.id) {
            Some((_, n)) => *n += copies,
            None => set.push((thing.id, copies)),
        }
        at = before;
    }
    set.sort_unstable();
    Some(Best {
        worth: best.worth,
        set,
    })
}

fn greedy(parts: &[(Thing, u32)], cap: i64, trail: &mut Vec<(u32, u32)>) -> State {
    let mut state = State {
        size: 0,
        worth: 0,
        last: u32::MAX,
    };
    for (i, (part, _)) in parts.iter().enumerate() {
        if state.size + part.size <= cap {
            trail.push((i as u32, state.last));
            state = State {
                size: state.size + part.size,
                worth: state.worth + part.worth,
                last: (trail.len() - 1) as u32,
            };
        }
    }
    state
}
