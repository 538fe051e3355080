//! The sticks of one moulding against the task they answer.

use super::bounds::{self, Claim, Piece, Stock};
use super::fault::Fault;
use super::sheets::{Bought, given_up, limits};
use crate::model::StickPlan;
use crate::model::task::{StickAnswer, StickKind, StickTask, UnplacedPiece};
use crate::units::Length;
use std::collections::BTreeMap;

/// Checks an answer against its task.
pub fn check_sticks(task: &StickTask, answer: &StickAnswer) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    let numbers: Vec<usize> = (0..answer.sticks.len()).collect();
    let item = task.kinds.first().map_or("", |k| &k.item);
    check(item, task, answer, &numbers, &mut faults);
    if faults.is_empty() {
        Ok(())
    } else {
        Err(faults)
    }
}

/// The same with the material's name and the sticks' numbers in a larger plan.
pub(super) fn check(
    item: &str,
    task: &StickTask,
    answer: &StickAnswer,
    numbers: &[usize],
    faults: &mut Vec<Fault>,
) -> Bought {
    let kerf = task.kerf.units();
    let mut stock: Vec<Stock> = (task.kinds.iter())
        .map(|k| Stock {
            item: k.item.clone(),
            rack: k.rack.clone(),
            room: (k.length.units() + kerf, 1),
            area: i128::from(k.length.units()),
            price: k.cost,
            have: u64::from(k.have),
            at_most: k.at_most,
            used: 0,
        })
        .collect();
    let lengths: BTreeMap<&str, Length> = (task.pieces.iter())
        .map(|p| (p.mark.as_str(), p.length))
        .collect();
    let mut cut: BTreeMap<&str, u64> = BTreeMap::new();
    for (stick, number) in answer.sticks.iter().zip(numbers) {
        // What is sold by the foot has a kind for each length.
        let named = |k: &StickKind| k.item == stick.item && k.rack == stick.rack;
        let kind = (task.kinds.iter())
            .position(|k| named(k) && k.length == stick.length)
            .or_else(|| task.kinds.iter().position(named));
        let Some(kind) = kind else {
            faults.push(Fault::UnknownStock {
                item: stick.item.clone(),
                rack: stick.rack.clone(),
            });
            continue;
        };
        stock[kind].used += u64::from(stick.count);
        one(
            *number,
            stick,
            task.kinds[kind].length,
            task.kerf,
            &lengths,
            faults,
        );
        for p in &stick.pieces {
            *cut.entry(&p.mark).or_default() += u64::from(stick.count);
        }
    }
    limits(&stock, faults);
    unused(task, answer, &stock, faults);
    together(task, answer, faults);
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
        pieces.push(Piece {
            mark: p.mark.clone(),
            ways: vec![(p.length.units() + kerf, 1)],
            placed: cut,
        });
    }
    for u in &answer.unplaced {
        let (Some(p), Some(row)) = (pieces.get(u.piece), task.pieces.get(u.piece)) else {
            let what = "an unplaced piece".into();
            faults.push(Fault::OutOfRange { what });
            continue;
        };
        // A group goes as a whole, so the whole group must fit for one of its pieces to be placed.
        let mut p = p.clone();
        if let Some(g) = row.together {
            let whole = (task.pieces.iter().filter(|q| q.together == Some(g)))
                .map(|q| (q.length.units() + kerf) * i64::from(q.count));
            p.ways = vec![(whole.sum(), 1)];
        }
        given_up(&p, u.count, u.fits_nothing, &stock, faults);
        let room = answer
            .sticks
            .iter()
            .position(|s| s.left.units() + kerf >= p.ways[0].0 && s.left.is_positive());
        if let (Some(i), true) = (room, u.count > 0) {
            faults.push(Fault::Placeable {
                mark: p.mark.clone(),
                on: format!("what stick {} leaves", numbers[i]),
            });
        }
    }
    let facts = bounds::Facts {
        stock: &stock,
        pieces: &pieces,
        sticks: true,
        kerf,
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

/// One stick: its length, its pieces, what is left.
fn one(
    number: usize,
    stick: &StickPlan,
    length: Length,
    kerf: Length,
    lengths: &BTreeMap<&str, Length>,
    faults: &mut Vec<Fault>,
) {
    let sane = |l: Length| (Length::ZERO..=Length::LIMIT).contains(&l);
    let ok = sane(stick.length) && sane(stick.left) && stick.pieces.iter().all(|p| sane(p.length));
    if !ok || stick.pieces.len() > 1_000_000 {
        let what = format!("a length of stick {number}");
        faults.push(Fault::OutOfRange { what });
        return;
    }
    if stick.length != length {
        faults.push(Fault::Field {
            what: format!("the length of stick {number}"),
            found: format!("{:?}", stick.length),
            expected: format!("{length:?}"),
        });
    }
    if stick.count == 0 {
        let what = format!("stick {number}");
        faults.push(Fault::NoCount { what });
    }
    if stick.pieces.is_empty() {
        let what = format!("stick {number}");
        faults.push(Fault::NothingCut { what });
    }
    for p in &stick.pieces {
        match lengths.get(p.mark.as_str()) {
            None => {
                let mark = p.mark.clone();
                faults.push(Fault::UnknownPart { mark });
            }
            Some(l) if *l != p.length => {
                let thick = Length::ZERO;
                faults.push(Fault::PartSize {
                    mark: p.mark.clone(),
                    found: [p.length, thick],
                    expected: [*l, thick],
                });
            }
            Some(_) => {}
        }
    }
    let n = stick.pieces.len() as i64;
    let pieces: Length = stick.pieces.iter().map(|p| p.length).sum();
    let used = pieces + kerf * (n - 1).max(0);
    if used > length {
        faults.push(Fault::StickOverfull {
            stick: number,
            used,
            length,
        });
        return;
    }
    let expected = (length - pieces - kerf * n).at_least_zero();
    if stick.left != expected {
        faults.push(Fault::StickLeft {
            stick: number,
            found: stick.left,
            expected,
        });
    }
}

/// Nothing is bought for pieces that would go on a stick that lies free and unused.
fn unused(task: &StickTask, answer: &StickAnswer, stock: &[Stock], faults: &mut Vec<Fault>) {
    for free in stock.iter().filter(|s| s.used < s.have) {
        for (s, k) in stock.iter().zip(&task.kinds) {
            let fits = |p: &&StickPlan| {
                let needed = k.length - p.left;
                p.item == s.item
                    && p.rack == s.rack
                    && p.length == k.length
                    && needed.units() <= free.room.0
            };
            let dear = s.bought() > 0 && s.price.is_none_or(|c| c.0 > 0);
            if dear && answer.sticks.iter().any(|p| fits(&p)) {
                let name = |s: &Stock| s.rack.as_ref().unwrap_or(&s.item).clone();
                faults.push(Fault::FreeUnused {
                    free: name(free),
                    bought: name(s),
                });
                break;
            }
        }
    }
}

/// Every piece of a group comes off one stick, all of them or none.
fn together(task: &StickTask, answer: &StickAnswer, faults: &mut Vec<Fault>) {
    let mut groups: Vec<u32> = task.pieces.iter().filter_map(|p| p.together).collect();
    groups.sort_unstable();
    groups.dedup();
    for g in groups {
        let of = |mark: &str| (task.pieces.iter()).any(|p| p.together == Some(g) && p.mark == mark);
        let with: Vec<&StickPlan> = (answer.sticks.iter())
            .filter(|s| s.pieces.iter().any(|p| of(&p.mark)))
            .collect();
        let given_up = |u: &UnplacedPiece| {
            u.count > 0 && (task.pieces.get(u.piece)).is_some_and(|p| p.together == Some(g))
        };
        let parted = !with.is_empty() && answer.unplaced.iter().any(given_up);
        if parted || with.len() > 1 || with.iter().any(|s| s.count > 1) {
            let first = with[0].pieces.iter().find(|p| of(&p.mark));
            let mark = first.map_or_else(String::new, |p| p.mark.clone());
            faults.push(Fault::NotTogether { mark });
        }
    }
}
