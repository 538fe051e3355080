//! Cartons and sticks on the way home: the rest of what is bought that has a size.

use super::load::StorePiece;
use crate::model::compare::BuyList;
use crate::model::{Job, StockKind};
use crate::units::Length;

/// Something bought that the car must take.
pub type Carried = StorePiece;

/// The cartons of a list, one for each unit that has one.
pub fn cartons(job: &Job, list: &BuyList) -> Vec<Carried> {
    let mut all = Vec::new();
    for line in &list.lines {
        let unit = job.prefab.iter().find(|u| u.unit == line.item);
        let Some((unit, carton)) = unit.and_then(|u| Some((u, u.carton?))) else {
            continue;
        };
        let [length, width, thick] = carton.size;
        let count: u32 = line.packs.iter().map(|p| p.packs).sum();
        all.extend((0..count).map(|_| StorePiece {
            name: format!("carton {}", unit.unit),
            item: unit.unit.clone(),
            sheet: None,
            size: [length, width],
            thick,
            grams: carton.grams,
        }));
    }
    all
}

/// The mouldings and boards of a list, stick by stick.
pub fn sticks(job: &Job, list: &BuyList) -> Vec<Carried> {
    let mut all = Vec::new();
    for pack in list.lines.iter().flat_map(|l| &l.packs) {
        let Some(row) = job.stock_row(&pack.item) else {
            continue;
        };
        let (true, Some(length)) = (
            matches!(row.kind, StockKind::Moulding | StockKind::Board) && !row.by_the_foot(),
            row.length,
        ) else {
            continue;
        };
        let inch = Length::INCH;
        all.extend((0..pack.packs).map(|_| StorePiece {
            name: format!("stick {}", row.item),
            item: row.item.clone(),
            sheet: None,
            size: [length, row.width.unwrap_or(inch)],
            thick: row.thickness().unwrap_or(inch),
            grams: row.weight_grams,
        }));
    }
    all
}
