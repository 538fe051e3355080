//! From the facts of a job to what the optimisers are asked: one task for each material of a route.
//! Owns the reading of banding, clean edges, rack pieces and limits; must not choose layouts.

use crate::model::task::{PieceKind, SheetKind, SheetTask, StickKind, StickPiece, StickTask};
use crate::model::{
    CleanEdges, Edge, Job, NeedUnit, Offcut, OffcutState, Part, PartSize, StockKind, StockRow,
    banding_of,
};
use crate::units::{Cents, Length};

/// The longest stick of goods sold by the foot that a store is taken to have, where the row names none
/// (common practice, no source).
const LONGEST_BY_THE_FOOT: Length = Length::inches(16 * 12);

/// One material of a route and what is asked about it.
#[derive(Clone, PartialEq, Debug)]
pub struct MaterialTask {
    /// The code its parts name first.
    pub item: String,
    /// Sheets or sticks.
    pub ask: Ask,
}

/// Sheets or sticks.
#[derive(Clone, PartialEq, Debug)]
pub enum Ask {
    /// Panels from sheets.
    Sheets(SheetTask),
    /// Pieces from sticks.
    Sticks(StickTask),
}

/// A thing that had to be decided on the way and that she should know.
pub(super) type Notes = Vec<String>;

/// The tasks of a route, in the order its parts first name the materials, and what was noticed on the way.
pub fn tasks(job: &Job, route: &str) -> (Vec<MaterialTask>, Vec<String>) {
    let mut notes = Notes::new();
    let mut groups: Vec<(String, &StockRow, Vec<&Part>)> = Vec::new();
    for part in job.route_parts(route) {
        let Some(row) = job.stock_row(&part.item) else {
            continue;
        };
        match groups
            .iter_mut()
            .find(|(_, first, _)| first.same_material(row))
        {
            Some((_, _, parts)) => parts.push(part),
            None => groups.push((part.item.clone(), row, vec![part])),
        }
    }
    let tasks = groups
        .into_iter()
        .filter_map(|(item, row, parts)| {
            let ask = match row.kind {
                StockKind::Sheet => Ask::Sheets(sheet_task(job, row, &parts, &mut notes)),
                StockKind::Moulding | StockKind::Board => {
                    Ask::Sticks(stick_task(job, row, &parts, &mut notes))
                }
                _ => return None,
            };
            Some(MaterialTask { item, ask })
        })
        .collect();
    (tasks, notes)
}

/// The rows that are sizes of one material, in file order.
fn sizes<'a>(job: &'a Job, row: &'a StockRow) -> impl Iterator<Item = &'a StockRow> {
    job.stock.iter().filter(move |r| r.same_material(row))
}

/// Whole pieces in hand.
pub(super) fn pieces_in_hand(row: &StockRow) -> u32 {
    match row.have {
        NeedUnit::Count(thousandths) => {
            u32::try_from(thousandths.max(0) / 1000).unwrap_or(u32::MAX)
        }
        NeedUnit::Run(_) | NeedUnit::Volume(_) => 0,
    }
}

/// What comes off the edges of a rack piece: every edge that is not named good.
pub(super) fn rack_clean_edges(job: &Job, piece: &Offcut) -> CleanEdges {
    [Edge::X0, Edge::X1, Edge::Y0, Edge::Y1].map(|e| {
        if piece.good_edges.contains(&e) {
            Length::ZERO
        } else {
            job.saw.clean_edge
        }
    })
}

/// Rack pieces of a material that may be planned on: ready, or promised to this very job; never doubtful.
fn rack<'a>(job: &'a Job, row: &'a StockRow, notes: &mut Notes) -> Vec<&'a Offcut> {
    let mut usable = Vec::new();
    for piece in &job.rack {
        let Some(of) = job.stock_row(&piece.item) else {
            continue;
        };
        if !of.same_material(row) {
            continue;
        }
        let ours = piece.promised_to.as_deref() == Some(job.project.name.as_str());
        match piece.state {
            OffcutState::Ready => {}
            OffcutState::Promised if ours => {}
            OffcutState::Doubtful => {
                notes.push(format!(
                    "{} on the rack is marked doubtful and is not planned on.",
                    piece.mark
                ));
                continue;
            }
            OffcutState::Promised | OffcutState::Spent => continue,
        }
        // What this job leaves is there only once its sheets are bought and sawn.
        if piece.is_left_by(&job.project.name) && !ours {
            notes.push(format!(
                "{} on the rack is left over by this very job and is not planned on: its sheet would have to be bought \
                 and sawn first. If it is sawn, promise it to the job.",
                piece.mark
            ));
            continue;
        }
        if piece
            .thick
            .is_some_and(|t| of.thickness().is_some_and(|r| r != t) && of.thick != Some(t))
        {
            notes.push(format!(
                "{} on the rack is {} thick, not {}: it is not planned on.",
                piece.mark,
                job.project.tape.print(piece.thick.unwrap_or_default()),
                job.project.tape.print(of.thickness().unwrap_or_default()),
            ));
            continue;
        }
        usable.push(piece);
    }
    usable
}

/// Prices of a material's sizes, or none at all where one is missing: half a price list would mislead.
fn prices(rows: &[&StockRow], notes: &mut Notes) -> Vec<Option<Cents>> {
    let all: Vec<_> = rows.iter().map(|r| r.likely()).collect();
    // What cannot be bought needs no price.
    let missing = |r: &StockRow| r.price.is_none() && r.at_most != Some(0);
    if !rows.iter().any(|r| missing(r)) {
        return all;
    }
    if all.iter().any(Option::is_some) {
        let missing: Vec<_> = rows
            .iter()
            .filter(|r| missing(r))
            .map(|r| r.item.as_str())
            .collect();
        notes.push(format!(
            "No price for {}: the sizes of {} were weighed by their area, not by what they cost.",
            missing.join(", "),
            rows[0].what,
        ));
    }
    vec![None; rows.len()]
}

fn sheet_task(job: &Job, row: &StockRow, parts: &[&Part], notes: &mut Notes) -> SheetTask {
    let rows: Vec<&StockRow> = sizes(job, row)
        .filter(|r| r.length.is_some() && r.width.is_some())
        .collect();
    let costs = prices(&rows, notes);
    let mut kinds: Vec<SheetKind> = rows
        .iter()
        .zip(costs)
        .map(|(r, cost)| SheetKind {
            item: r.item.clone(),
            rack: None,
            size: [r.length.unwrap_or_default(), r.width.unwrap_or_default()],
            clean_edge: job.saw.bought_clean_edges(),
            grain_along_y: r.grain_along_width,
            cost,
            have: pieces_in_hand(r),
            at_most: r.at_most,
        })
        .collect();
    for piece in rack(job, row, notes) {
        let Some(width) = piece.width else { continue };
        kinds.push(SheetKind {
            item: piece.item.clone(),
            rack: Some(piece.mark.clone()),
            size: [piece.length, width],
            clean_edge: rack_clean_edges(job, piece),
            grain_along_y: piece.grain_along_width,
            cost: None,
            have: 1,
            at_most: Some(0),
        });
    }
    let mut groups: Vec<&str> = Vec::new();
    let pieces = parts
        .iter()
        .filter_map(|p| {
            let PartSize::Panel { .. } = p.size else {
                return None;
            };
            let match_group = p.match_group.as_deref().map(|name| {
                let at = groups.iter().position(|g| *g == name).unwrap_or_else(|| {
                    groups.push(name);
                    groups.len() - 1
                });
                u32::try_from(at).unwrap_or(u32::MAX)
            });
            Some(PieceKind {
                mark: p.mark.clone(),
                count: p.count(),
                size: cut_size(job, p, notes),
                grain: p.grain,
                match_group,
            })
        })
        .collect();
    SheetTask {
        kinds,
        pieces,
        kerf: job.saw.kerf,
        turns: job.saw.turns,
        first: job.saw.first,
        keep: job.saw.keep,
        narrowest_safe_rip: job.saw.narrowest_safe_rip,
    }
}

/// The size the saw cuts, [length, width]: with `band_in_size` the finished size less the banding on each banded edge.
fn cut_size(job: &Job, part: &Part, notes: &mut Notes) -> [Length; 2] {
    let (length, width) = match part.size {
        PartSize::Panel { length, width } => (length, width),
        PartSize::Piece { length } => (length, Length::ZERO),
    };
    let b = part.band;
    if !part.band_in_size || !(b.front || b.back || b.left || b.right) {
        return [length, width];
    }
    let row = banding_of(&job.stock, part);
    let Some(thick) = row.and_then(StockRow::thickness) else {
        notes.push(format!(
            "{}: its size includes the banding, but no thickness of the banding is known, so nothing is taken off.",
            part.mark
        ));
        return [length, width];
    };
    let bandings = job.stock.iter().filter(|r| r.kind == StockKind::Banding);
    if let (None, Some(row), 2..) = (&part.band_item, row, bandings.count()) {
        notes.push(format!(
            "{}: it names no banding, so {} is taken: its size includes {}.",
            part.mark,
            row.item,
            job.project.tape.print(thick)
        ));
    }
    let times = |a: bool, b: bool| i64::from(a) + i64::from(b);
    [
        length - thick * times(b.left, b.right),
        width - thick * times(b.front, b.back),
    ]
}

fn stick_task(job: &Job, row: &StockRow, parts: &[&Part], notes: &mut Notes) -> StickTask {
    let rows: Vec<&StockRow> = sizes(job, row)
        .filter(|r| r.length.is_some() || r.by_the_foot())
        .collect();
    let costs = prices(&rows, notes);
    let mut kinds: Vec<StickKind> = Vec::new();
    for (r, cost) in rows.iter().zip(costs) {
        if r.by_the_foot() {
            let longest = r.length.unwrap_or(LONGEST_BY_THE_FOOT) / Length::FOOT;
            kinds.extend((1..=longest).map(|feet| StickKind {
                item: r.item.clone(),
                rack: None,
                length: Length::FOOT * feet,
                cost: cost.map(|c| c * feet),
                have: 0,
                at_most: r.at_most,
            }));
        } else {
            kinds.push(StickKind {
                item: r.item.clone(),
                rack: None,
                length: r.length.unwrap_or_default(),
                cost,
                have: pieces_in_hand(r),
                at_most: r.at_most,
            });
        }
    }
    for piece in rack(job, row, notes) {
        let width = job.stock_row(&piece.item).and_then(|r| r.width);
        if piece.width.is_some() && piece.width != width {
            notes.push(format!(
                "{} on the rack is not as wide as {}: it is not planned on.",
                piece.mark, piece.item
            ));
            continue;
        }
        kinds.push(StickKind {
            item: piece.item.clone(),
            rack: Some(piece.mark.clone()),
            length: piece.length,
            cost: None,
            have: 1,
            at_most: Some(0),
        });
    }
    let mut groups: Vec<&str> = Vec::new();
    let pieces = parts
        .iter()
        .filter_map(|p| {
            let PartSize::Piece { length } = p.size else {
                return None;
            };
            let together = p.match_group.as_deref().map(|name| {
                let at = groups.iter().position(|g| *g == name).unwrap_or_else(|| {
                    groups.push(name);
                    groups.len() - 1
                });
                u32::try_from(at).unwrap_or(u32::MAX)
            });
            Some(StickPiece {
                mark: p.mark.clone(),
                count: p.count(),
                length,
                together,
            })
        })
        .collect();
    StickTask {
        kinds,
        pieces,
        kerf: job.saw.kerf,
    }
}
