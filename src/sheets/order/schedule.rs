//! Which strip is never measured, and the order of settings.
//!
//! Two greedy steps, each tried a few ways with the best kept: first the strip of each block that is left over is chosen so
//! that few different sizes need setting at all; then the setting is taken next that can be finished for good, wide before
//! narrow. Only where none can be finished is one begun that will be gone back to.

use super::OrderRules;
use super::strips::{Block, Holds, Strip, Work};
use crate::model::{Cut, SawAt, Setting, SettingKind, SettingPiece, SheetPlan};
use crate::units::Length;
use std::collections::BTreeMap;

/// What a fence or stop is set for and to, and at which saw: the store's cuts come first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) struct Mark {
    home: bool,
    kind: SettingKind,
    size: Length,
}

fn mark(block: &Block, strip: &Strip) -> Mark {
    Mark {
        home: block.saw != Some(SawAt::Store),
        kind: if block.across {
            SettingKind::Stop
        } else {
            SettingKind::Rip
        },
        size: strip.size(),
    }
}

/// One cut: a strip taken off one end of a block.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Step {
    sheet: usize,
    block: usize,
    /// Which strip comes off.
    strip: usize,
    /// True if it comes off the far end.
    far: bool,
    /// The other strip that this cut frees, if it was the block's last.
    rest: Option<usize>,
}

/// Lines of the settings page: a setting and its cuts in order.
pub(super) type Order = Vec<(Mark, Vec<Step>)>;

/// How far a block is cut: strips `lo..=hi` are still together.
#[derive(Clone, Copy, Debug)]
struct State {
    free: bool,
    lo: usize,
    hi: usize,
    /// The strip that is never measured; one past the last where the last cut runs off.
    rest: usize,
}

/// The strip of each block that is what remains, for few different settings.
fn choose_rests(works: &[Work], rules: &OrderRules) -> Vec<Vec<usize>> {
    let mut uses: BTreeMap<Mark, i64> = BTreeMap::new();
    for b in works.iter().flat_map(|w| &w.blocks) {
        for s in &b.strips {
            *uses.entry(mark(b, s)).or_default() += 1;
        }
    }
    let mut rests: Vec<Vec<usize>> = (works.iter())
        .map(|w| w.blocks.iter().map(|b| b.strips.len()).collect())
        .collect();
    for round in 0..4 {
        for (work, rests) in works.iter().zip(&mut rests) {
            for (b, rest) in work.blocks.iter().zip(rests.iter_mut()) {
                if b.runs_off || b.strips.is_empty() {
                    continue;
                }
                if let Some(s) = b.strips.get(*rest) {
                    *uses.entry(mark(b, s)).or_default() += 1;
                }
                // The store measures from an edge that is not sawn: its strips come off one end, the last is what remains.
                let first = if b.saw == Some(SawAt::Store) {
                    b.strips.len() - 1
                } else {
                    0
                };
                let best = (first..b.strips.len()).min_by_key(|i| {
                    let s = &b.strips[*i];
                    let saves = uses[&mark(b, s)] == 1;
                    let left = s.holds == Holds::Left;
                    let matched =
                        matches!(&s.holds, Holds::Part(m) if rules.matched.contains_key(m));
                    // A leftover is never worth a setting; then a size nothing else needs; then the last strip.
                    (
                        !left,
                        !saves,
                        matched,
                        uses[&mark(b, s)] * i64::from(round > 0),
                        std::cmp::Reverse(*i),
                    )
                });
                *rest = best.expect("a block has strips");
                *uses.entry(mark(b, &b.strips[*rest])).or_default() -= 1;
            }
        }
    }
    rests
}

struct Shop<'a> {
    works: &'a [Work],
    states: Vec<Vec<State>>,
    /// Where each setting is needed: (sheet, block).
    needed: BTreeMap<Mark, Vec<(usize, usize)>>,
    /// Cuts left at each setting.
    left: BTreeMap<Mark, usize>,
}

impl<'a> Shop<'a> {
    fn new(works: &'a [Work], rests: &[Vec<usize>]) -> Self {
        let mut needed: BTreeMap<Mark, Vec<(usize, usize)>> = BTreeMap::new();
        let mut left: BTreeMap<Mark, usize> = BTreeMap::new();
        let mut states = Vec::new();
        for (sheet, work) in works.iter().enumerate() {
            let mut row = Vec::new();
            for (block, b) in work.blocks.iter().enumerate() {
                let rest = rests[sheet][block];
                row.push(State {
                    free: block == 0,
                    lo: 0,
                    hi: b.strips.len().saturating_sub(1),
                    rest,
                });
                for (i, s) in b.strips.iter().enumerate().filter(|(i, _)| *i != rest) {
                    let _ = i;
                    let m = mark(b, s);
                    *left.entry(m).or_default() += 1;
                    let places = needed.entry(m).or_default();
                    if places.last() != Some(&(sheet, block)) {
                        places.push((sheet, block));
                    }
                }
            }
            states.push(row);
        }
        Self {
            works,
            states,
            needed,
            left,
        }
    }

    /// The next cut a block allows at this setting, near end first.
    fn ready(&self, sheet: usize, block: usize, m: Mark) -> Option<Step> {
        let (s, b) = (&self.states[sheet][block], &self.works[sheet].blocks[block]);
        if !s.free {
            return None;
        }
        let step = |strip: usize, far: bool| {
            let only_rest = if far {
                s.lo + 1 == strip
            } else {
                strip + 1 == s.hi
            };
            let rest = if far {
                strip.wrapping_sub(1)
            } else {
                strip + 1
            };
            Step {
                sheet,
                block,
                strip,
                far,
                rest: (only_rest && rest == s.rest).then_some(rest),
            }
        };
        if s.lo < s.rest && s.lo < b.strips.len() && mark(b, &b.strips[s.lo]) == m {
            return Some(step(s.lo, false));
        }
        (s.rest < b.strips.len() && s.hi > s.rest && mark(b, &b.strips[s.hi]) == m)
            .then(|| step(s.hi, true))
    }

    fn free(&mut self, sheet: usize, block: usize, strip: usize) -> Option<usize> {
        match self.works[sheet].blocks[block].strips[strip].holds {
            Holds::Block(inner) => {
                self.states[sheet][inner].free = true;
                Some(inner)
            }
            _ => None,
        }
    }

    /// Makes every cut that can be made at a setting. The cuts, in an order that can be followed.
    fn make(&mut self, m: Mark) -> Vec<Step> {
        let mut steps = Vec::new();
        for (sheet, block) in self.needed[&m].clone() {
            let mut open = vec![block];
            while let Some(block) = open.pop() {
                while let Some(step) = self.ready(sheet, block, m) {
                    let state = &mut self.states[sheet][block];
                    if step.far {
                        state.hi -= 1;
                    } else {
                        state.lo += 1;
                    }
                    steps.push(step);
                    for strip in [Some(step.strip), step.rest].into_iter().flatten() {
                        open.extend(self.free(sheet, block, strip));
                    }
                }
            }
        }
        *self.left.get_mut(&m).expect("a setting in use") -= steps.len();
        steps
    }

    /// How many cuts could be made now at a setting, without making them. Blocks freed on the way count only where they
    /// are divided the same way, which strips seldom are, so they are left out: the count may be low, never high.
    fn could(&self, m: Mark) -> usize {
        let mut n = 0;
        for (sheet, block) in &self.needed[&m] {
            let (s, b) = (
                &self.states[*sheet][*block],
                &self.works[*sheet].blocks[*block],
            );
            if !s.free {
                continue;
            }
            n += (s.lo..s.rest.min(b.strips.len()))
                .take_while(|i| mark(b, &b.strips[*i]) == m)
                .count();
            if s.rest < b.strips.len() {
                n += (s.rest + 1..=s.hi)
                    .rev()
                    .take_while(|i| mark(b, &b.strips[*i]) == m)
                    .count();
            }
        }
        n
    }
}

/// How a setting is chosen where none can be finished.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Unfinished {
    /// The one with the fewest cuts left to come back for.
    FewestLeft,
    /// The one that frees the most cuts.
    Most,
    /// The widest.
    Widest,
}

/// What goes first: the store's saw, what can be finished, how much is left of it, wide rips, large sizes.
type Key = (bool, bool, i64, bool, i64);

fn run(works: &[Work], rests: &[Vec<usize>], narrow: Length, how: Unfinished) -> Order {
    let mut shop = Shop::new(works, rests);
    let mut order: Order = Vec::new();
    loop {
        let mut best: Option<(Key, Mark)> = None;
        for (m, left) in &shop.left {
            if *left == 0 {
                continue;
            }
            let could = shop.could(*m);
            if could == 0 {
                continue;
            }
            let rest = (left - could.min(*left)) as i64;
            let unfinished = match how {
                _ if rest == 0 => 0,
                Unfinished::FewestLeft => rest,
                Unfinished::Most => -(could as i64),
                Unfinished::Widest => 0,
            };
            let slim = m.kind == SettingKind::Rip && m.size < narrow;
            let key = (m.home, rest > 0, unfinished, slim, -m.size.units());
            if best.as_ref().is_none_or(|(k, _)| key < *k) {
                best = Some((key, *m));
            }
        }
        let Some((_, m)) = best else { return order };
        let steps = shop.make(m);
        order.push((m, steps));
    }
}

/// The best order found: fewest lines.
pub(super) fn order(works: &[Work], rules: &OrderRules) -> Order {
    let rests = choose_rests(works, rules);
    let last: Vec<Vec<usize>> = (works.iter())
        .map(|w| {
            (w.blocks.iter())
                .map(|b| b.strips.len() - usize::from(!b.runs_off && !b.strips.is_empty()))
                .collect()
        })
        .collect();
    // Rips under 6 in are a strip's last; under the safe width more so.
    let narrow = Length::inches(6).max(rules.narrowest_safe_rip);
    let mut best: Option<Order> = None;
    for rests in [&rests, &last] {
        for how in [Unfinished::FewestLeft, Unfinished::Most, Unfinished::Widest] {
            let order = run(works, rests, narrow, how);
            if best.as_ref().is_none_or(|b| order.len() < b.len()) {
                best = Some(order);
            }
        }
    }
    best.unwrap_or_default()
}

/// The clean-up cuts: one line for each width taken off, the sheets in order.
pub(super) fn clean_ups(sheets: &[SheetPlan], rules: &OrderRules) -> Vec<Setting> {
    let mut widths: Vec<Length> = sheets.iter().flat_map(|s| s.clean_edge).collect();
    widths.retain(|w| w.is_positive());
    widths.sort_unstable();
    widths.dedup();
    let names = ["left edge", "right edge", "lower edge", "upper edge"];
    (widths.into_iter().rev())
        .map(|size| Setting {
            n: 0,
            item: rules.item.clone(),
            kind: SettingKind::Clean,
            size,
            again: false,
            pieces: (sheets.iter().enumerate())
                .filter(|(_, s)| s.clean_edge.contains(&size))
                .map(|(i, s)| SettingPiece {
                    sheet: rules.first_sheet + i,
                    copy: 0,
                    cut: 0,
                    gives: (s.clean_edge.iter().zip(names))
                        .filter(|(c, _)| **c == size)
                        .map(|(_, name)| name)
                        .collect::<Vec<_>>()
                        .join(", "),
                })
                .collect(),
        })
        .collect()
}

fn name(strip: &Strip) -> Option<&str> {
    match &strip.holds {
        Holds::Part(mark) => Some(mark),
        Holds::Block(_) => Some("strip"),
        Holds::Left => None,
    }
}

/// Writes an order out: the sheets' cuts, renumbered, and the lines of the page. How many of these are the store's: they lead.
pub(super) fn write(
    works: &[Work],
    order: &Order,
    sheets: &mut [SheetPlan],
    rules: &OrderRules,
    settings: &mut Vec<Setting>,
) -> usize {
    for (sheet, work) in sheets.iter_mut().zip(works) {
        if !work.blocks.is_empty() {
            sheet.cuts.clear();
        }
    }
    let mut states: Vec<Vec<[Length; 4]>> = (works.iter())
        .map(|w| w.blocks.iter().map(|b| b.rect).collect())
        .collect();
    let mut seen: Vec<Mark> = Vec::new();
    for (m, steps) in order {
        let mut pieces = Vec::new();
        for step in steps {
            let block = &works[step.sheet].blocks[step.block];
            let strip = &block.strips[step.strip];
            let axis = usize::from(!block.across);
            let of = states[step.sheet][step.block];
            let now = &mut states[step.sheet][step.block];
            let at = if step.far {
                now[axis + 2] = strip.from - block.kerf;
                strip.from - block.kerf
            } else {
                now[axis] = strip.to + block.kerf;
                strip.to
            };
            let cuts = &mut sheets[step.sheet].cuts;
            let n = cuts.len() as u32 + 1;
            cuts.push(Cut {
                n,
                across: block.across,
                at,
                of,
                kerf: block.own_kerf,
                saw: block.saw,
            });
            let also = step.rest.and_then(|r| name(&block.strips[r]));
            let gives: Vec<&str> = name(strip).into_iter().chain(also).collect();
            pieces.push(SettingPiece {
                sheet: rules.first_sheet + step.sheet,
                copy: 0,
                cut: n,
                gives: if gives.is_empty() {
                    "leftover".into()
                } else {
                    gives.join(", ")
                },
            });
        }
        settings.push(Setting {
            n: 0,
            item: rules.item.clone(),
            kind: m.kind,
            size: m.size,
            again: seen.contains(m),
            pieces,
        });
        seen.push(*m);
    }
    order.iter().take_while(|(m, _)| !m.home).count()
}
