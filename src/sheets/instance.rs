//! The task in the optimiser's own terms: small whole numbers, kerf folded in, grain turned to run along x.
//!
//! Adding one kerf to each side of a piece and to each side of the usable sheet makes edge-to-edge cutting with a kerf the
//! same problem as cutting without one, exactly: also for a piece flush with the far edge and for a last gap narrower
//! than the blade. Sheets whose grain runs along y are transposed here and turned back by `layout`.

use crate::model::Grain;
use crate::model::task::SheetTask;
use crate::units::Length;

/// One kind of sheet, usable size plus kerf, in reduced units.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Kind {
    /// Index into `SheetTask::kinds`.
    pub task_kind: usize,
    /// Along the grain.
    pub w: i64,
    /// Across it.
    pub h: i64,
    /// True if the real sheet's grain runs along y: `w`, `h` are swapped against its x, y.
    pub transposed: bool,
    /// What buying one costs: cents, or without prices the area in hundredths of the largest kind.
    pub cost: i64,
    /// How many cost nothing.
    pub free: u32,
    /// How many can be bought (`u32::MAX` = any number).
    pub buy: u32,
}

/// Pieces that are the same to the optimiser.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Type {
    /// Size plus kerf as it may lie, (along grain, across): one way, or two for a piece that may be turned.
    pub ways: Vec<(i64, i64)>,
    /// How many.
    pub count: u32,
    /// Which task pieces they are, with counts; `turned_first` tells whether `ways[0]` has the piece's length across x'.
    pub of: Vec<Member>,
    /// Match group they share.
    pub group: Option<u32>,
}

/// A task piece within a type.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Member {
    /// Index into `SheetTask::pieces`.
    pub piece: usize,
    /// How many.
    pub count: u32,
    /// True if in `ways[0]` the piece's own length lies across the grain direction.
    pub length_across: bool,
}

/// A whole task, reduced.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Instance {
    /// Kinds of sheet.
    pub kinds: Vec<Kind>,
    /// Types of piece, largest area first.
    pub types: Vec<Type>,
    /// Length of one reduced unit.
    pub unit: Length,
    /// Kerf, for real leftover sizes.
    pub kerf: Length,
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}

impl Instance {
    /// Reduces a task. Kinds without usable area are dropped.
    pub(crate) fn new(task: &SheetTask) -> Self {
        let kerf = task.kerf.units();
        let mut kinds: Vec<Kind> = Vec::new();
        let priced = task
            .kinds
            .iter()
            .all(|k| k.cost.is_some() || k.at_most == Some(0));
        let largest = task
            .kinds
            .iter()
            .map(|k| i128::from(k.size[0].units()) * i128::from(k.size[1].units()))
            .max()
            .unwrap_or(1)
            .max(1);
        for (task_kind, k) in task.kinds.iter().enumerate() {
            let w = k.size[0].units() - k.clean_edge[0].units() - k.clean_edge[1].units() + kerf;
            let h = k.size[1].units() - k.clean_edge[2].units() - k.clean_edge[3].units() + kerf;
            if w <= kerf || h <= kerf {
                continue;
            }
            let area = i128::from(k.size[0].units()) * i128::from(k.size[1].units());
            let cost = match k.cost {
                Some(c) if priced => c.0,
                _ => i64::try_from((area * 100 + largest / 2) / largest)
                    .unwrap_or(100)
                    .max(1),
            };
            let (w, h) = if k.grain_along_y { (h, w) } else { (w, h) };
            kinds.push(Kind {
                task_kind,
                w,
                h,
                transposed: k.grain_along_y,
                cost,
                free: k.have,
                buy: k.at_most.unwrap_or(u32::MAX),
            });
        }
        let mut types: Vec<Type> = Vec::new();
        for (piece, p) in task.pieces.iter().enumerate().filter(|(_, p)| p.count > 0) {
            let (l, w) = (p.size[0].units() + kerf, p.size[1].units() + kerf);
            let (ways, length_across) = match p.grain {
                Grain::Length => (vec![(l, w)], false),
                Grain::Width => (vec![(w, l)], true),
                Grain::Any if l == w => (vec![(l, w)], false),
                Grain::Any if l > w => (vec![(l, w), (w, l)], false),
                Grain::Any => (vec![(w, l), (l, w)], true),
            };
            let member = Member {
                piece,
                count: p.count,
                length_across,
            };
            if let Some(t) = types
                .iter_mut()
                .find(|t| t.ways == ways && t.group == p.match_group)
            {
                t.count += p.count;
                t.of.push(member);
            } else {
                types.push(Type {
                    ways,
                    count: p.count,
                    of: vec![member],
                    group: p.match_group,
                });
            }
        }
        // Every sum of piece sides is a multiple of their common divisor, so a sheet may be rounded down to one: exact.
        let sides = types.iter().flat_map(|t| [t.ways[0].0, t.ways[0].1]);
        let unit = sides.fold(0, gcd).max(1);
        for k in &mut kinds {
            (k.w, k.h) = (k.w / unit, k.h / unit);
        }
        for t in &mut types {
            for way in &mut t.ways {
                *way = (way.0 / unit, way.1 / unit);
            }
        }
        types.sort_by_key(|t| {
            (
                std::cmp::Reverse(t.ways[0].0 * t.ways[0].1),
                t.ways[0],
                t.of[0].piece,
            )
        });
        Self {
            kinds,
            types,
            unit: Length::from_units(unit),
            kerf: task.kerf,
        }
    }
}
