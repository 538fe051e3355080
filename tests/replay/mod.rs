//! A small checker of sheet answers that trusts nothing they say: it replays the cuts on bare rectangles.
//! Shares no code with the optimiser beyond the types of task and answer.

use nookwright::model::task::{SheetAnswer, SheetTask};
use nookwright::model::{FirstCut, Grain, SheetPlan};

#[derive(Clone, Copy, Debug)]
struct Piece {
    r: [i64; 4],
    /// Direction of the cut that freed it and how many directions there were so far.
    last: Option<bool>,
    turns: u32,
}

/// What is wrong with an answer; `Ok(cost in the task's prices or sheets bought where there are none)` if nothing.
pub fn check(task: &SheetTask, answer: &SheetAnswer) -> Result<(i64, u32), String> {
    let mut left: Vec<i64> = task.pieces.iter().map(|p| i64::from(p.count)).collect();
    let mut used = vec![0u32; task.kinds.len()];
    for plan in &answer.sheets {
        let kind = task
            .kinds
            .iter()
            .position(|k| {
                k.item == plan.item
                    && k.rack == plan.rack
                    && k.size == plan.size
                    && k.clean_edge == plan.clean_edge
            })
            .ok_or("no such kind of sheet")?;
        used[kind] += plan.count;
        replay(task, kind, plan, &mut left).map_err(|e| format!("{e} in {plan:?}"))?;
    }
    for u in &answer.unplaced {
        left[u.piece] -= i64::from(u.count);
    }
    if let Some(p) = left.iter().position(|n| *n != 0) {
        return Err(format!("{} of piece {p} not accounted for", left[p]));
    }
    let (mut cost, mut bought) = (0, 0);
    for (k, n) in task.kinds.iter().zip(&used) {
        let buys = n.saturating_sub(k.have);
        if k.at_most.is_some_and(|m| buys > m) {
            return Err(format!("{n} of {} used", k.item));
        }
        bought += buys;
        cost += k.cost.map_or(1, |c| c.0) * i64::from(buys);
    }
    if answer.proved
        && (answer.at_least > bought || answer.cost_at_least.is_some_and(|c| c.0 > cost))
    {
        return Err("a bound above the answer".into());
    }
    Ok((cost, bought))
}

/// A part as long as the sheet leaves no room for the prescribed first cut beside it; then either way will do.
fn in_the_way(task: &SheetTask, kind: usize) -> bool {
    let k = &task.kinds[kind];
    let e = k.clean_edge;
    let sheet = [k.size[0] - e[0] - e[1], k.size[1] - e[2] - e[3]];
    task.pieces.iter().any(|p| {
        let [l, w] = p.size;
        let ways = match (p.grain, k.grain_along_y) {
            (Grain::Any, _) => vec![[l, w], [w, l]],
            (Grain::Length, false) | (Grain::Width, true) => vec![[l, w]],
            _ => vec![[w, l]],
        };
        ways.iter().any(|[x, y]| match task.first {
            FirstCut::Either => false,
            FirstCut::Rip => *y == sheet[1] && *x < sheet[0],
            FirstCut::Crosscut => *x == sheet[0] && *y < sheet[1],
        })
    })
}

fn replay(task: &SheetTask, kind: usize, plan: &SheetPlan, left: &mut [i64]) -> Result<(), String> {
    let k = &task.kinds[kind];
    let kerf = task.kerf.units();
    let e = k.clean_edge.map(|l| l.units());
    let mut pieces = vec![Piece {
        r: [
            e[0],
            e[2],
            k.size[0].units() - e[1],
            k.size[1].units() - e[3],
        ],
        last: None,
        turns: 0,
    }];
    for (n, cut) in plan.cuts.iter().enumerate() {
        if cut.n as usize != n + 1 {
            return Err("cuts are not numbered in order".into());
        }
        let of = cut.of.map(|l| l.units());
        let at = pieces
            .iter()
            .position(|p| p.r == of)
            .ok_or(format!("cut {} of a piece that is not there", cut.n))?;
        let piece = pieces.swap_remove(at);
        if n == 0 && k.rack.is_none() && !in_the_way(task, kind) {
            match task.first {
                FirstCut::Rip if cut.across => return Err("first cut is no rip".into()),
                FirstCut::Crosscut if !cut.across => return Err("first cut is no crosscut".into()),
                _ => {}
            }
        }
        let turns = piece.turns + u32::from(piece.last != Some(cut.across));
        if task.turns.is_some_and(|t| turns > u32::from(t)) {
            return Err(format!("cut {} is turn {turns}", cut.n));
        }
        let at = cut.at.units();
        let (lo, hi) = if cut.across { (0, 2) } else { (1, 3) };
        if at <= of[lo] || at >= of[hi] {
            return Err(format!("cut {} cuts nothing", cut.n));
        }
        let (mut a, mut b) = (of, of);
        a[hi] = at;
        b[lo] = at + kerf;
        for r in [a, b] {
            if r[lo] < r[hi] {
                pieces.push(Piece {
                    r,
                    last: Some(cut.across),
                    turns,
                });
            }
        }
    }
    for place in &plan.places {
        let [x, y] = place.at.map(|l| l.units());
        let [w, h] = place.size.map(|l| l.units());
        let at = pieces
            .iter()
            .position(|p| p.r == [x, y, x + w, y + h])
            .ok_or(format!("{} is not freed", place.mark))?;
        pieces.swap_remove(at);
        let piece = task
            .pieces
            .iter()
            .position(|p| p.mark == place.mark)
            .ok_or("no such mark")?;
        left[piece] -= i64::from(plan.count);
        let p = &task.pieces[piece];
        let (l, s) = (p.size[0].units(), p.size[1].units());
        if (place.turned && [w, h] != [s, l]) || (!place.turned && [w, h] != [l, s]) {
            return Err(format!("{} has the wrong size", place.mark));
        }
        let length_along_grain = place.turned == k.grain_along_y;
        let right = match p.grain {
            Grain::Length => length_along_grain,
            Grain::Width => !length_along_grain,
            Grain::Any => true,
        };
        if !right {
            return Err(format!("{} lies against the grain", place.mark));
        }
    }
    for l in &plan.left {
        let [x, y] = l.at.map(|l| l.units());
        let [w, h] = l.size.map(|l| l.units());
        let at = pieces
            .iter()
            .position(|p| p.r == [x, y, x + w, y + h])
            .ok_or("a leftover that is not there")?;
        pieces.swap_remove(at);
        if l.keep != task.keep.keeps(l.size[0], l.size[1]) {
            return Err("a leftover wrongly marked".into());
        }
    }
    if pieces.is_empty() {
        Ok(())
    } else {
        Err(format!("{} pieces not named", pieces.len()))
    }
}
