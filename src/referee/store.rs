//! The store's cuts: what they leave goes in the car, and no part comes near them.
//!
//! Worked out edge by edge on the sheet as it is bought. A store cut may lie off by what the store's saw is true to, and by
//! as much more as the edge it is measured from; it is measured from a factory edge where its piece has one.

use super::fault::Fault;
use crate::model::{Car, Cut, Job, Plan, SawAt, SheetPlan, StockRow, StoreSaw};
use crate::units::Length;

/// A side of a piece: where it lies, and how far off it may be; a factory side is not off.
#[derive(Clone, Copy)]
struct Side {
    at: Length,
    off: Option<Length>,
}

/// A piece between two sides along x and two along y.
#[derive(Clone)]
struct Bit {
    /// [[x0, x1], [y0, y1]]
    sides: [[Side; 2]; 2],
    /// Cut at home already.
    home: bool,
}

impl Bit {
    /// The piece as cuts name it: factory sides cleaned.
    fn named(&self, clean: [[Length; 2]; 2]) -> [Length; 4] {
        let at = |axis: usize, end: usize| {
            let side = self.sides[axis][end];
            side.off.map_or(clean[axis][end], |_| side.at)
        };
        [at(0, 0), at(1, 0), at(0, 1), at(1, 1)]
    }
    fn across(&self, axis: usize) -> Length {
        self.sides[axis][1].at - self.sides[axis][0].at
    }
    /// As large as it may turn out.
    fn at_most(&self, axis: usize) -> Length {
        let off = |end: usize| self.sides[axis][end].off.unwrap_or_default();
        self.across(axis) + off(0) + off(1)
    }
}

/// Checks every sheet that the store cuts.
pub(super) fn check(job: &Job, plan: &Plan, faults: &mut Vec<Fault>) {
    for (index, sheet) in plan.sheets.iter().enumerate() {
        let asked = sheet.cuts.iter().any(|c| c.saw == Some(SawAt::Store));
        if !asked || !super::layout::sane(sheet) {
            continue;
        }
        let mut say = |n: u32, why: String| {
            faults.push(Fault::StoreCut {
                sheet: index,
                n,
                why,
            });
        };
        let Some(store) = &job.saw.store else {
            say(0, "no store saw is given".into());
            continue;
        };
        if sheet.rack.is_some() {
            say(0, "a rack piece is at home".into());
        }
        let bits = replay(job, sheet, store, &mut say);
        if job.car.spaces.is_empty() {
            continue;
        }
        let row = job.stock.iter().find(|r| r.item == sheet.item);
        for bit in &bits {
            let size = [bit.at_most(0), bit.at_most(1)];
            if !goes_in(&job.car, size, thick(row)) {
                say(
                    0,
                    format!(
                        "a piece of {:.1} x {:.1} mm goes in no space of the car",
                        size[0].as_mm(),
                        size[1].as_mm()
                    ),
                );
            }
            if let Some(limit) = job.car.carries_grams
                && grams(row, size) > limit as f64 + 2.0
            {
                say(0, "a piece is heavier than the car carries".into());
            }
        }
    }
}

/// Makes the store's cuts on the sheet as bought; the pieces that leave the store.
fn replay(
    job: &Job,
    sheet: &SheetPlan,
    store: &StoreSaw,
    say: &mut impl FnMut(u32, String),
) -> Vec<Bit> {
    let [x0, x1, y0, y1] = sheet.clean_edge;
    let [x, y] = sheet.size;
    let clean = [[x0, x - x1], [y0, y - y1]];
    let factory = |at: Length| Side { at, off: None };
    let zero = Length::ZERO;
    let mut bits = vec![Bit {
        sides: [[factory(zero), factory(x)], [factory(zero), factory(y)]],
        home: false,
    }];
    let mut cuts: Vec<&Cut> = sheet.cuts.iter().collect();
    cuts.sort_by_key(|c| c.n);
    for cut in cuts {
        let found = bits.iter().position(|b| b.named(clean) == cut.of);
        if cut.saw != Some(SawAt::Store) {
            if let Some(i) = found {
                bits[i].home = true;
            }
            continue;
        }
        let Some(i) = found.filter(|i| !bits[*i].home) else {
            say(cut.n, "its piece has been cut at home by then".into());
            continue;
        };
        let bit = bits.swap_remove(i);
        let axis = usize::from(!cut.across);
        let [a, b] = bit.sides[axis].map(|s| s.off.unwrap_or_default());
        let off = store.true_to + a.min(b);
        let far_at = cut.at + store.kerf;
        // Her own saw takes the rough edge off, and needs a kerf for it.
        let clear = off + job.saw.clean_edge.max(job.saw.kerf);
        let inside = |p: &crate::model::Place| {
            let here = |k: usize| {
                let [from, to] = bit.sides[k].map(|s| s.at);
                p.at[k] >= from && p.at[k] + p.size[k] <= to
            };
            here(0) && here(1)
        };
        for part in sheet.places.iter().filter(|p| inside(p)) {
            let (from, to) = (part.at[axis], part.at[axis] + part.size[axis]);
            if to > cut.at - clear && from < far_at + clear {
                say(
                    cut.n,
                    format!("it leaves {} no room for a clean cut of her own", part.mark),
                );
            }
        }
        let (mut near, mut far) = (bit.clone(), bit);
        near.sides[axis][1] = Side {
            at: cut.at,
            off: Some(off),
        };
        far.sides[axis][0] = Side {
            at: far_at,
            off: Some(off),
        };
        for bit in [near, far] {
            let size = bit.across(axis);
            if !size.is_positive() || store.smallest_piece.is_some_and(|s| size < s) {
                say(
                    cut.n,
                    "it leaves a piece smaller than the store cuts".into(),
                );
            }
            bits.push(bit);
        }
    }
    bits
}

fn thick(row: Option<&StockRow>) -> Length {
    row.and_then(StockRow::thickness)
        .filter(|t| t.is_positive())
        .unwrap_or(Length::INCH)
}

/// Lying square in a space, on any of its faces.
fn goes_in(car: &Car, size: [Length; 2], thick: Length) -> bool {
    let mut piece = [size[0], size[1], thick];
    piece.sort_unstable();
    car.spaces.iter().any(|s| {
        let mut space = s.size.map(|side| side - car.clearance);
        space.sort_unstable();
        piece.iter().zip(&space).all(|(p, s)| p <= s)
    })
}

/// By the row's own weight, else 3 lb a square foot an inch (S15), for MDF and particleboard 47 lb a cubic foot (S16).
fn grams(row: Option<&StockRow>, size: [Length; 2]) -> f64 {
    let [a, b] = size.map(Length::as_inches);
    if let Some(row) = row
        && let (Some(g), Some(l), Some(w)) = (row.weight_grams, row.length, row.width)
    {
        return g as f64 * a * b / (l.as_inches() * w.as_inches());
    }
    let pounds = if row.is_some_and(StockRow::is_pressed_board) {
        47.0 / 1728.0
    } else {
        3.0 / 144.0
    };
    a * b * thick(row).as_inches() * pounds * 453.592
}
