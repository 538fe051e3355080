//! How a rule finds its row of stock.csv: by kind and by a word in `what`; a row she names under `[[need]]` for the route goes
//! first. And how an amount is said in what that row's `holds` counts.

use super::volumes::GALLON_CUBIC_INCHES;
use crate::model::{Job, NeedUnit, StockKind, StockRow};
use crate::units::{Length, ReadAs, Unit, parse_length};

/// An amount before it is known what it is bought in.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Amount {
    /// Pieces.
    Pieces(i64),
    /// Cubic inches; `usual` = what one pack holds where neither `holds` nor the name says.
    Volume {
        /// How much.
        cubic_inches: f64,
        /// In a usual pack.
        usual: f64,
    },
}

/// Microlitres of a cubic inch: 16 387.064, exact.
const CUBIC_INCH: f64 = 16_387.064;

/// What is looked for.
pub(super) struct Wanted {
    pub(super) kinds: &'static [StockKind],
    /// One of these in `what`.
    pub(super) words: &'static [&'static str],
    /// None of these.
    pub(super) not: &'static [&'static str],
}

impl Wanted {
    fn takes(&self, row: &StockRow) -> bool {
        let what = row.what.to_lowercase();
        self.kinds.contains(&row.kind)
            && self.words.iter().any(|w| what.contains(w))
            && !self.not.iter().any(|w| what.contains(w))
    }

    /// Every row that qualifies: those she names under `[[need]]` first, else in the order of stock.csv.
    pub(super) fn rows<'a>(&self, job: &'a Job, route: &str) -> Vec<&'a StockRow> {
        let mut all: Vec<&StockRow> = job.stock.iter().filter(|r| self.takes(r)).collect();
        let named = |r: &StockRow| {
            let mut needs = job.needs.iter();
            needs.any(|n| n.route == route && n.item == r.item)
        };
        all.sort_by_key(|r| !named(r));
        all
    }
}

/// The amount in what the row's `holds` counts.
pub(super) fn in_holds(row: &StockRow, amount: Amount) -> NeedUnit {
    match (amount, row.holds) {
        (Amount::Pieces(n), _) => NeedUnit::Count(n * 1_000),
        (Amount::Volume { cubic_inches, .. }, NeedUnit::Volume(_)) => {
            NeedUnit::Volume((cubic_inches * CUBIC_INCH).ceil() as i64)
        }
        (
            Amount::Volume {
                cubic_inches,
                usual,
            },
            _,
        ) => {
            let pack = content(&row.what).unwrap_or(usual);
            NeedUnit::Count((cubic_inches / pack * 1_000.0).ceil() as i64)
        }
    }
}

/// Cubic inches named in a row's words: `10 oz`, `1 qt`, `500 ml`.
pub(super) fn content(what: &str) -> Option<f64> {
    let words: Vec<String> = what
        .to_lowercase()
        .split_whitespace()
        .map(str::to_owned)
        .collect();
    words.windows(2).find_map(|pair| {
        let number: f64 = pair[0]
            .parse()
            .ok()
            .filter(|n: &f64| *n > 0.0 && n.is_finite())?;
        let one = match pair[1].trim_matches([',', '.']) {
            "oz" | "floz" => GALLON_CUBIC_INCHES / 128.0,
            "pt" => GALLON_CUBIC_INCHES / 8.0,
            "qt" => GALLON_CUBIC_INCHES / 4.0,
            "gal" => GALLON_CUBIC_INCHES,
            "ml" => 1_000.0 / CUBIC_INCH,
            "l" => 1_000_000.0 / CUBIC_INCH,
            _ => return None,
        };
        Some(number * one)
    })
}

/// Length of a screw: the row's own, else the last size of what its words say before a comma (`box of 50` is a number of them).
pub(super) fn screw_length(row: &StockRow, unit: Unit) -> Option<Length> {
    if row.length.is_some() {
        return row.length;
    }
    let said = |text: &str| {
        let words: Vec<&str> = text.split_whitespace().collect();
        let read_as = ReadAs {
            unit,
            ..ReadAs::default()
        };
        (0..words.len()).find_map(|from| parse_length(&words[from..].join(" "), read_as).ok())
    };
    row.what
        .split([',', ';', '('])
        .filter(|text| !text.to_lowercase().contains(" of "))
        .find_map(said)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_content_of_a_pack_is_read_from_its_name() {
        let near = |what: &str, cubic: f64| {
            let found = content(what).expect("a content");
            assert!((found - cubic).abs() < 0.001, "{what}: {found}");
        };
        // 231 cubic inches a gallon; a quart is 57.75, ten ounces 231 x 10 / 128 = 18.047, half a litre 30.512.
        near("fine filler 1 qt", 57.75);
        near("paintable caulk 10 oz", 18.047);
        near("filler, 500 ml tub", 30.512);
        assert_eq!(content("cedar shims"), None);
        assert_eq!(content("sanding discs 120/180/220"), None);
    }
}
