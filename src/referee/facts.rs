//! The materials of a route, read from the job by the referee's own rules: which parts, what size, off which stock.

use super::fault::Fault;
use crate::model::task::{PieceKind, SheetKind, SheetTask, StickKind, StickPiece, StickTask};
use crate::model::{Edge, Job, NeedUnit, Offcut, OffcutState, Part, PartSize, StockKind, StockRow};
use crate::units::Length;

/// What a material is cut from and into.
#[derive(Debug)]
pub(super) enum Goods {
    /// Sheets.
    Sheets(SheetTask),
    /// Sticks.
    Sticks(StickTask),
}

/// One material of a route.
#[derive(Debug)]
pub(super) struct Material {
    /// The code its parts name first.
    pub item: String,
    /// Every code of its sizes.
    pub codes: Vec<String>,
    /// The task.
    pub goods: Goods,
}

/// True if a part belongs to a route: its own, or where it names none the first run that has boxes, else the first.
fn belongs(job: &Job, part: &Part, route: &str) -> bool {
    if let Some(own) = &part.route {
        return own == route;
    }
    let with_boxes = job.runs.iter().find(|r| r.has_boxes());
    match with_boxes.or_else(|| job.runs.first()) {
        Some(run) => run.route == route,
        None => route == "custom",
    }
}

/// True where two stock rows are sizes of one material.
fn alike(a: &StockRow, b: &StockRow) -> bool {
    a.kind == b.kind && a.thick == b.thick && a.what == b.what
}

/// The materials of a route in the order its parts name them.
pub(super) fn materials(job: &Job, route: &str) -> Vec<Material> {
    let mut found: Vec<(&StockRow, Vec<&Part>)> = Vec::new();
    for part in job.parts.iter().filter(|p| belongs(job, p, route)) {
        let Some(row) = job.stock.iter().find(|s| s.item == part.item) else {
            continue;
        };
        let cut_up = match part.size {
            PartSize::Panel { .. } => row.kind == StockKind::Sheet,
            PartSize::Piece { .. } => matches!(row.kind, StockKind::Moulding | StockKind::Board),
        };
        if !cut_up || (part.how_many == 0 && part.spare == 0) {
            continue;
        }
        match found.iter_mut().find(|(r, _)| alike(r, row)) {
            Some((_, parts)) => parts.push(part),
            None => found.push((row, vec![part])),
        }
    }
    (found.into_iter())
        .map(|(row, parts)| {
            let rows: Vec<&StockRow> = job.stock.iter().filter(|s| alike(s, row)).collect();
            let goods = if row.kind == StockKind::Sheet {
                Goods::Sheets(sheets(job, &rows, &parts))
            } else {
                Goods::Sticks(sticks(job, &rows, &parts))
            };
            Material {
                item: parts[0].item.clone(),
                codes: rows.iter().map(|r| r.item.clone()).collect(),
                goods,
            }
        })
        .collect()
}

fn in_hand(row: &StockRow) -> u32 {
    match row.have {
        NeedUnit::Count(thousandths) => {
            u32::try_from((thousandths / 1000).max(0)).unwrap_or(u32::MAX)
        }
        _ => 0,
    }
}

/// Why a rack piece may not be planned on, if it may not.
pub(super) fn barred(job: &Job, row: &StockRow, piece: &Offcut) -> Option<String> {
    match piece.state {
        OffcutState::Ready => {}
        OffcutState::Promised
            if piece.promised_to.as_deref() == Some(job.project.name.as_str()) => {}
        OffcutState::Promised => return Some("it is promised to another job".into()),
        OffcutState::Spent => return Some("it is spent".into()),
        OffcutState::Doubtful => return Some("it is only mentioned".into()),
    }
    if piece.state == OffcutState::Ready && piece.is_left_by(&job.project.name) {
        return Some("this very job leaves it".into());
    }
    let known = row.thick.is_some() || row.measured.is_some();
    let thick = |t: Length| Some(t) == row.thick || Some(t) == row.measured;
    match (piece.thick, piece.width) {
        (Some(t), _) if known && !thick(t) => Some("it is of another thickness".into()),
        (_, Some(w)) if row.kind != StockKind::Sheet && row.width != Some(w) => {
            Some("it is of another width".into())
        }
        _ => None,
    }
}

/// The rack pieces of a material that may be planned on.
fn rack<'a>(job: &'a Job, rows: &'a [&StockRow]) -> impl Iterator<Item = &'a Offcut> {
    job.rack.iter().filter(move |o| {
        let row = rows.iter().find(|r| r.item == o.item);
        row.is_some_and(|r| barred(job, r, o).is_none())
    })
}

/// Cut size: the finished size less the banding on each banded edge, where the row says its size is the finished one.
fn cut_size(job: &Job, part: &Part, length: Length, width: Length) -> [Length; 2] {
    let edges = |a: bool, b: bool| i64::from(a) + i64::from(b);
    let b = part.band;
    if !part.band_in_size {
        return [length, width];
    }
    let banding = || job.stock.iter().filter(|s| s.kind == StockKind::Banding);
    let row = match &part.band_item {
        Some(item) => job.stock.iter().find(|s| s.item == *item),
        // The first that covers the edge, else the first.
        None => {
            let of = job.stock.iter().find(|s| s.item == part.item);
            let edge = of
                .and_then(|s| s.measured.or(s.thick))
                .unwrap_or(Length::ZERO);
            let wide = |s: &&StockRow| edge == Length::ZERO || s.width.is_some_and(|w| w >= edge);
            banding().find(wide).or_else(|| banding().next())
        }
    };
    let thick = row
        .and_then(|r| r.measured.or(r.thick))
        .unwrap_or(Length::ZERO);
    [
        length - thick * edges(b.left, b.right),
        width - thick * edges(b.front, b.back),
    ]
}

fn sheets(job: &Job, rows: &[&StockRow], parts: &[&Part]) -> SheetTask {
    let saw = &job.saw;
    let edges = [Edge::X0, Edge::X1, Edge::Y0, Edge::Y1];
    let off = |cleaned: bool| {
        if cleaned {
            saw.clean_edge
        } else {
            Length::ZERO
        }
    };
    let mut kinds: Vec<SheetKind> = Vec::new();
    for row in rows {
        let (Some(length), Some(width)) = (row.length, row.width) else {
            continue;
        };
        kinds.push(SheetKind {
            item: row.item.clone(),
            rack: None,
            size: [length, width],
            clean_edge: edges.map(|e| off(saw.clean_edges.contains(&e))),
            grain_along_y: row.grain_along_width,
            cost: row.price.map(|p| p.likely),
            have: in_hand(row),
            at_most: row.at_most,
        });
    }
    for o in rack(job, rows) {
        let Some(width) = o.width else { continue };
        kinds.push(SheetKind {
            item: o.item.clone(),
            rack: Some(o.mark.clone()),
            size: [o.length, width],
            clean_edge: edges.map(|e| off(!o.good_edges.contains(&e))),
            grain_along_y: o.grain_along_width,
            cost: None,
            have: 1,
            at_most: Some(0),
        });
    }
    let pieces = (parts.iter())
        .filter_map(|p| match p.size {
            PartSize::Panel { length, width } => Some(PieceKind {
                mark: p.mark.clone(),
                count: p.how_many.saturating_add(p.spare),
                size: cut_size(job, p, length, width),
                grain: p.grain,
                match_group: None,
            }),
            PartSize::Piece { .. } => None,
        })
        .collect();
    SheetTask {
        kinds,
        pieces,
        kerf: saw.kerf,
        turns: saw.turns,
        first: saw.first,
        keep: saw.keep,
        narrowest_safe_rip: saw.narrowest_safe_rip,
    }
}

fn sticks(job: &Job, rows: &[&StockRow], parts: &[&Part]) -> StickTask {
    let mut kinds: Vec<StickKind> = Vec::new();
    for row in rows {
        let price = row.price.map(|p| p.likely);
        let kind = |length, cost, have| StickKind {
            item: row.item.clone(),
            rack: None,
            length,
            cost,
            have,
            at_most: row.at_most,
        };
        if ["foot", "feet", "ft"].contains(&row.sold_by.to_lowercase().as_str()) {
            // Whole feet up to the longest sold; 16 where the row does not say (common practice, no source).
            let foot = Length::FOOT.units();
            let longest = row.length.map_or(16, |l| l.units() / foot);
            kinds.extend(
                (1..=longest).map(|n| kind(Length::from_units(n * foot), price.map(|c| c * n), 0)),
            );
        } else if let Some(length) = row.length {
            kinds.push(kind(length, price, in_hand(row)));
        }
    }
    for o in rack(job, rows) {
        kinds.push(StickKind {
            item: o.item.clone(),
            rack: Some(o.mark.clone()),
            length: o.length,
            cost: None,
            have: 1,
            at_most: Some(0),
        });
    }
    // Rows with one text under `match` are one group, numbered by the first row that has it.
    let group = |text: &String| {
        parts
            .iter()
            .position(|q| q.match_group.as_ref() == Some(text))
    };
    let pieces = (parts.iter())
        .filter_map(|p| match p.size {
            PartSize::Piece { length } => Some(StickPiece {
                mark: p.mark.clone(),
                count: p.how_many.saturating_add(p.spare),
                length,
                together: p.match_group.as_ref().and_then(group).map(|g| g as u32),
            }),
            PartSize::Panel { .. } => None,
        })
        .collect();
    StickTask {
        kinds,
        pieces,
        kerf: job.saw.kerf,
    }
}

/// Says why a rack piece that a plan uses is not one it may use; `None` if it may.
pub(super) fn rack_fault(job: &Job, item: &str, mark: &str) -> Option<Fault> {
    let rack = mark.to_string();
    let fault = |why: &str| {
        Some(Fault::RackPiece {
            rack: mark.into(),
            why: why.into(),
        })
    };
    let Some(piece) = job.rack.iter().find(|o| o.mark == mark) else {
        return fault("it is not on the rack");
    };
    if piece.item != item {
        return fault("it is of another material");
    }
    let row = job.stock.iter().find(|s| s.item == item)?;
    barred(job, row, piece).map(|why| Fault::RackPiece { rack, why })
}
