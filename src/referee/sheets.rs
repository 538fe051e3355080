//! The sheets of one material against the task they answer.

use super::bounds::{self, Claim, Piece, Stock};
use super::fault::Fault;
use super::layout::{self, Asked};
use crate::model::FirstCut;
use crate::model::task::{SheetAnswer, SheetKind, SheetTask};
use crate::units::Length;
use std::collections::BTreeMap;

/// Checks an answer against its task: every layout replayed, every part counted, every claim worked out again.
pub fn check_sheets(task: &SheetTask, answer: &SheetAnswer) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    let numbers: Vec<usize> = (0..answer.sheets.len()).collect();
    let item = task.kinds.first().map_or("", |k| &k.item);
    check(item, task, answer, &numbers, None, &mut faults);
    if faults.is_empty() {
        Ok(())
    } else {
        Err(faults)
    }
}

/// What a material comes to by its own sheets.
pub(super) struct Bought {
    /// Of each kind of the task.
    pub each: Vec<u64>,
}

/// The same with the material's name, the sheets' numbers in a larger plan, and the store saw's kerf where it cuts.
pub(super) fn check(
    item: &str,
    task: &SheetTask,
    answer: &SheetAnswer,
    numbers: &[usize],
    store: Option<Length>,
    faults: &mut Vec<Fault>,
) -> Bought {
    let rows: BTreeMap<&str, Asked> = (task.pieces.iter())
        .map(|p| {
            let asked = Asked {
                size: p.size,
                grain: p.grain,
            };
            (p.mark.as_str(), asked)
        })
        .collect();
    let mut stock: Vec<Stock> = task.kinds.iter().map(|k| stock_of(k, task.kerf)).collect();
    let mut cut: BTreeMap<&str, u64> = BTreeMap::new();
    for (sheet, number) in answer.sheets.iter().zip(numbers) {
        let kind = (task.kinds.iter()).position(|k| k.item == sheet.item && k.rack == sheet.rack);
        let Some(kind) = kind else {
            faults.push(Fault::UnknownStock {
                item: sheet.item.clone(),
                rack: sheet.rack.clone(),
            });
            continue;
        };
        let k = &task.kinds[kind];
        stock[kind].used += u64::from(sheet.count);
        let facts = layout::Facts {
            size: k.size,
            clean: k.clean_edge,
            grain_along_y: k.grain_along_y,
            kerf: task.kerf,
            store,
            keep: &task.keep,
            turns: task.turns,
            first: first_cut(task, k),
        };
        layout::check(*number, sheet, &facts, &|m| rows.get(m).copied(), faults);
        for p in &sheet.places {
            *cut.entry(&p.mark).or_default() += u64::from(sheet.count);
        }
    }
    limits(&stock, faults);
    free_unused(task, &stock, faults);
    let mut pieces = Vec::new();
    for (i, p) in task.pieces.iter().enumerate() {
        let cut = cut.get(p.mark.as_str()).copied().unwrap_or(0);
        let unplaced: u64 = (answer.unplaced.iter())
            .filter(|u| u.piece == i)
            .map(|u| u64::from(u.count))
            .sum();
        if cut + unplaced != u64::from(p.count) {
            faults.push(Fault::PartCount {
                mark: p.mark.clone(),
                asked: u64::from(p.count),
                cut,
                unplaced,
            });
        }
        // Along and across the grain: a part that follows it by its length lies one way only.
        let kerf = task.kerf.units();
        let (l, w) = (p.size[0].units() + kerf, p.size[1].units() + kerf);
        let (straight, turned) = Asked {
            size: p.size,
            grain: p.grain,
        }
        .may(false);
        let mut ways = Vec::new();
        ways.extend(straight.then_some((l, w)));
        if turned && !ways.contains(&(w, l)) {
            ways.push((w, l));
        }
        pieces.push(Piece {
            mark: p.mark.clone(),
            ways,
            placed: cut,
        });
    }
    for u in &answer.unplaced {
        let Some(p) = pieces.get(u.piece) else {
            let what = "an unplaced piece".into();
            faults.push(Fault::OutOfRange { what });
            continue;
        };
        given_up(p, u.count, u.fits_nothing, &stock, faults);
        if !u.fits_nothing && task.turns.is_none() {
            let fits = fits_leftover(task, answer, p);
            if let (Some(i), true) = (fits, u.count > 0) {
                faults.push(Fault::Placeable {
                    mark: p.mark.clone(),
                    on: format!("the leftover of sheet {}", numbers[i]),
                });
            }
        }
    }
    let facts = bounds::Facts {
        stock: &stock,
        pieces: &pieces,
        sticks: false,
        kerf: task.kerf.units(),
    };
    let claim = Claim {
        item,
        at_least: answer.at_least,
        cost_at_least: answer.cost_at_least,
        proved: answer.proved,
        certificate: &answer.certificate,
    };
    bounds::check(&facts, &claim, faults);
    Bought {
        each: stock.iter().map(Stock::bought).collect(),
    }
}

/// Which way the first cuts of a kind go. Where a part of the task is as wide as the kind's usable width (for a rip; as
/// long, for a crosscut) and not the whole of it, no first cut can go that way beside it, and either will do. The rule is
/// for whole sheets: what is left of one is cut either way.
pub(super) fn first_cut(task: &SheetTask, k: &SheetKind) -> FirstCut {
    if k.rack.is_some() {
        return FirstCut::Either;
    }
    let c = k.clean_edge;
    let usable = [k.size[0] - c[0] - c[1], k.size[1] - c[2] - c[3]];
    let (across, along) = match task.first {
        FirstCut::Either => return FirstCut::Either,
        FirstCut::Rip => (1, 0),
        FirstCut::Crosscut => (0, 1),
    };
    let in_the_way = task.pieces.iter().filter(|p| p.count > 0).any(|p| {
        let asked = Asked {
            size: p.size,
            grain: p.grain,
        };
        let (straight, turned) = asked.may(k.grain_along_y);
        let lies = |own: [usize; 2]| {
            p.size[own[across]] == usable[across] && p.size[own[along]] < usable[along]
        };
        straight && lies([0, 1]) || turned && lies([1, 0])
    });
    if in_the_way {
        FirstCut::Either
    } else {
        task.first
    }
}

fn stock_of(k: &SheetKind, kerf: Length) -> Stock {
    let x = (k.size[0] - k.clean_edge[0] - k.clean_edge[1]).units();
    let y = (k.size[1] - k.clean_edge[2] - k.clean_edge[3]).units();
    // Nothing is cut from a sheet without usable width.
    let side = |s: i64| if s > 0 { s + kerf.units() } else { 0 };
    let (x, y) = (side(x), side(y));
    Stock {
        item: k.item.clone(),
        rack: k.rack.clone(),
        room: if k.grain_along_y { (y, x) } else { (x, y) },
        area: i128::from(k.size[0].units()) * i128::from(k.size[1].units()),
        price: k.cost,
        have: u64::from(k.have),
        at_most: k.at_most,
        used: 0,
    }
}

fn name(s: &Stock) -> String {
    s.rack.as_ref().unwrap_or(&s.item).clone()
}

/// No more of a kind than there are.
pub(super) fn limits(stock: &[Stock], faults: &mut Vec<Fault>) {
    for s in stock {
        let there = s.have + s.at_most.map_or(u64::MAX / 2, u64::from);
        if s.used > there {
            faults.push(Fault::TooMany {
                item: name(s),
                used: s.used,
                there,
            });
        }
    }
}

/// Nothing is bought while something lies free and unused that is as large and cut by the same rules, or by none. Where turns
/// are counted the size must be the same too: what fills a sheet may need one more on a larger one.
fn free_unused(task: &SheetTask, stock: &[Stock], faults: &mut Vec<Fault>) {
    let rules: Vec<(FirstCut, bool)> = (task.kinds.iter())
        .map(|k| match first_cut(task, k) {
            FirstCut::Either => (FirstCut::Either, false),
            first => (first, k.grain_along_y),
        })
        .collect();
    let all = || stock.iter().zip(&rules);
    for (free, on_free) in all().filter(|(s, _)| s.used < s.have) {
        let like = |(s, rule): &(&Stock, &(FirstCut, bool))| {
            let fits = match task.turns {
                None => s.room.0 <= free.room.0 && s.room.1 <= free.room.1,
                Some(_) => s.room == free.room,
            };
            let same_rule = on_free.0 == FirstCut::Either || on_free == *rule;
            s.bought() > 0 && fits && same_rule && s.price.is_none_or(|c| c.0 > 0)
        };
        if let Some((s, _)) = all().find(like) {
            faults.push(Fault::FreeUnused {
                free: name(free),
                bought: name(s),
            });
        }
    }
}

/// A part given up must fit nothing, or everything it fits must be used up, as the plan says.
pub(super) fn given_up(
    p: &Piece,
    count: u32,
    nothing: bool,
    stock: &[Stock],
    faults: &mut Vec<Fault>,
) {
    let fits = |s: &&Stock| {
        let there = s.have > 0 || s.at_most != Some(0);
        there && p.ways.iter().any(|w| w.0 <= s.room.0 && w.1 <= s.room.1)
    };
    let open = |s: &&Stock| s.at_most.is_none_or(|m| s.used < s.have + u64::from(m));
    let on = stock.iter().filter(fits).find(open);
    if let (Some(s), true) = (on, count > 0) {
        let on = name(s);
        faults.push(Fault::Placeable {
            mark: p.mark.clone(),
            on,
        });
    } else if nothing == stock.iter().any(|s| fits(&s)) {
        let mark = p.mark.clone();
        faults.push(Fault::UnplacedReason { mark });
    }
}

/// A sheet with a leftover that would hold the part.
fn fits_leftover(task: &SheetTask, answer: &SheetAnswer, p: &Piece) -> Option<usize> {
    let kerf = task.kerf.units();
    answer.sheets.iter().position(|s| {
        let along_y = (task.kinds.iter())
            .find(|k| k.item == s.item && k.rack == s.rack)
            .is_some_and(|k| k.grain_along_y);
        s.left.iter().any(|l| {
            let (x, y) = (l.size[0].units() + kerf, l.size[1].units() + kerf);
            let room = if along_y { (y, x) } else { (x, y) };
            p.ways.iter().any(|w| w.0 <= room.0 && w.1 <= room.1)
        })
    })
}
