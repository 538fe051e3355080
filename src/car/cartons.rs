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

/// Sticks are tied in bundles no wider than this (common practice, no source).
const BUNDLE: Length = Length::inches(8);

/// The mouldings and boards of a list, each row of stock in one bundle.
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
        let n = i64::from(pack.packs);
        if n == 0 {
            continue;
        }
        let width = row.width.unwrap_or(Length::INCH);
        let thick = row.thickness().unwrap_or(Length::INCH);
        // Side by side in layers, as wide as a bundle is tied.
        let abreast = (BUNDLE / width.max(Length::INCH_64)).clamp(1, n);
        let layers = (n + abreast - 1) / abreast;
        let one = if n == 1 {
            "1 stick".to_owned()
        } else {
            format!("bundle of {n} sticks")
        };
        all.push(StorePiece {
            name: format!("{one} {}", row.item),
            item: row.item.clone(),
            sheet: None,
            size: [length, width * abreast],
            thick: thick * layers,
            grams: row.weight_grams.map(|g| g.saturating_mul(n)),
        });
    }
    all
}
