//! What a piece of sheet weighs.

use super::stock::StockRow;
use crate::units::Length;

/// Plywood: 3 lb a square foot for each inch of thickness (S15, a conservative rule for softwood; hardwood is within it).
const PLYWOOD: i128 = 1_360_777;
/// MDF and particleboard: 47 lb a cubic foot (S16), so 3.917 lb a square foot an inch.
const BOARD: i128 = 1_776_570;
/// The above are milligrams for this volume.
const SQUARE_FOOT_INCH: i128 = 144;
/// Taken where a row names no thickness.
const THICK: Length = Length::INCH;

/// A weight and whether it is worked out from the thickness, not given.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Weight {
    /// Grams, rounded up.
    pub grams: i64,
    /// True where the row gives no weight.
    pub reckoned: bool,
}

/// How thick a sheet is stacked.
pub(crate) fn thickness(row: Option<&StockRow>) -> Length {
    row.and_then(StockRow::thickness)
        .filter(|t| t.is_positive())
        .unwrap_or(THICK)
}

/// The weight of a piece of this stock row.
pub fn weigh(row: Option<&StockRow>, size: [Length; 2]) -> Weight {
    let area = |s: [Length; 2]| i128::from(s[0].units()) * i128::from(s[1].units());
    let up = |n: i128, d: i128| i64::try_from((n + d - 1) / d).unwrap_or(i64::MAX);
    if let Some(row) = row
        && let (Some(grams), Some(l), Some(w)) = (row.weight_grams, row.length, row.width)
        && l.is_positive()
        && w.is_positive()
    {
        return Weight {
            grams: up(area(size) * i128::from(grams), area([l, w])),
            reckoned: false,
        };
    }
    let rule = if row.is_some_and(StockRow::is_pressed_board) {
        BOARD
    } else {
        PLYWOOD
    };
    let inch = i128::from(Length::INCH.units());
    let thick = i128::from(thickness(row).units());
    // In inches and thousandths, so that the product stays within its type.
    let volume = area(size) / (inch * inch / 1_000_000) * thick / inch;
    Weight {
        grams: up(volume * rule, SQUARE_FOOT_INCH * 1_000_000 * 1_000),
        reckoned: true,
    }
}
