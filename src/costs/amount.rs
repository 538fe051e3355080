//! Amounts of goods: the one dimension they are counted in, the waste put on them, and their words.
//!
//! Owns arithmetic on [`NeedUnit`]; must not know routes or prices. Waste allowances that no row gives are common practice,
//! no source: 8% on banding, 10% on paint and on mouldings bought by length instead of by a stick plan.

use crate::model::{NeedUnit, StockKind, StockRow};
use crate::units::{Length, PerCent, Unit};

/// One US gallon, in microlitres (231 cubic inches exactly, to the microlitre).
pub(crate) const GALLON: i64 = 3_785_412;

/// The bare number of an amount, in thousandths, length units or microlitres.
pub(crate) fn bare(amount: NeedUnit) -> i64 {
    match amount {
        NeedUnit::Count(n) | NeedUnit::Volume(n) => n,
        NeedUnit::Run(l) => l.units(),
    }
}

/// The same dimension as `like`, with another number.
pub(crate) fn with_number(like: NeedUnit, number: i64) -> NeedUnit {
    match like {
        NeedUnit::Count(_) => NeedUnit::Count(number),
        NeedUnit::Volume(_) => NeedUnit::Volume(number),
        NeedUnit::Run(_) => NeedUnit::Run(Length::from_units(number)),
    }
}

/// True if two amounts can be added.
pub(crate) fn alike(a: NeedUnit, b: NeedUnit) -> bool {
    std::mem::discriminant(&a) == std::mem::discriminant(&b)
}

/// What one pack of a row holds, in the dimension of `need`; `None` if it cannot be said.
pub(crate) fn content(row: &StockRow, need: NeedUnit) -> Option<i64> {
    let by_the_foot = row.by_the_foot();
    let holds = match (need, row.holds) {
        (NeedUnit::Run(_), _) if by_the_foot => Length::FOOT.units(),
        (NeedUnit::Run(_), NeedUnit::Count(_)) => row.length?.units(),
        (need, holds) if alike(need, holds) => bare(holds),
        _ => return None,
    };
    (holds > 0).then_some(holds)
}

/// The waste put on an amount of this row that she or a rule asks for (never on whole pieces counted by a plan).
pub(crate) fn waste(row: &StockRow, need: NeedUnit) -> PerCent {
    row.waste.unwrap_or(match (row.kind, need) {
        (StockKind::Banding, _) => PerCent(800),
        (StockKind::Paint, _) | (StockKind::Moulding | StockKind::Board, NeedUnit::Run(_)) => {
            PerCent(1_000)
        }
        _ => PerCent(0),
    })
}

/// An amount with its waste, rounded up to the smallest unit.
pub(crate) fn with_waste(number: i64, waste: PerCent) -> i64 {
    let raw = i128::from(number) * i128::from(10_000 + waste.0.max(0));
    i64::try_from((raw + 9_999) / 10_000).unwrap_or(i64::MAX)
}

/// In words: `112`, `6 sh`, `27.0 ft`, `1.52 gal`, `5.75 l`.
pub(crate) fn say(amount: NeedUnit, kind: StockKind, unit: Unit) -> String {
    match (amount, unit) {
        (NeedUnit::Count(n), _) => {
            let mut text = decimal(n, 1_000, 3);
            if text.contains('.') {
                text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
            }
            if kind == StockKind::Sheet {
                text.push_str(" sh");
            }
            text
        }
        (NeedUnit::Run(l), Unit::Inch) => format!("{} ft", decimal(l.units(), FOOT, 1)),
        (NeedUnit::Run(l), Unit::Mm) => format!("{} m", decimal(l.units(), METRE, 2)),
        (NeedUnit::Volume(v), Unit::Inch) => format!("{} gal", decimal(v, GALLON, 2)),
        (NeedUnit::Volume(v), Unit::Mm) => format!("{} l", decimal(v, 1_000_000, 2)),
    }
}

const FOOT: i64 = Length::FOOT.units();
const METRE: i64 = 1_000 * Length::MM.units();

/// A number of `one`s with so many decimals, rounded half up.
fn decimal(number: i64, one: i64, places: u32) -> String {
    let scale = 10_i128.pow(places);
    let scaled = i128::from(number.unsigned_abs()) * scale;
    let rounded = (2 * scaled + i128::from(one)) / (2 * i128::from(one));
    let sign = if number < 0 && rounded > 0 { "-" } else { "" };
    if places == 0 {
        return format!("{sign}{rounded}");
    }
    format!(
        "{sign}{}.{:0width$}",
        rounded / scale,
        rounded % scale,
        width = places as usize
    )
}

/// What packs are called when there are so many: `roll`, `boxes`, `board feet`; empty for what is sold singly. Regular
/// English plurals, and `foot`, whose plural is not.
pub fn pack_word(count: u32, sold_by: &str) -> String {
    let word = sold_by.trim();
    if word.is_empty() || word == "each" {
        return String::new();
    }
    if count == 1 || word == "ft" {
        return word.to_owned();
    }
    if let Some(before) = word.strip_suffix("foot") {
        return format!("{before}feet");
    }
    let hissing = ["s", "x", "z", "ch", "sh"]
        .iter()
        .any(|e| word.ends_with(e));
    format!("{word}{}", if hissing { "es" } else { "s" })
}

/// So many packs in words: `2 rolls of 25.0 ft`, `1 can of 1 gal`, `3` of what is sold singly.
pub(crate) fn say_packs(count: u32, row: &StockRow, unit: Unit) -> String {
    let single = row.holds == NeedUnit::Count(1_000);
    let name = pack_word(count, &row.sold_by);
    if name.is_empty() {
        return format!("{count} {}", row.item);
    }
    if single {
        return format!("{count} {name}");
    }
    format!("{count} {name} of {}", say_content(row, unit))
}

fn say_content(row: &StockRow, unit: Unit) -> String {
    if let NeedUnit::Volume(v) = row.holds {
        for (size, name) in [(GALLON, "gal"), (946_353, "qt"), (473_176, "pt")] {
            // A quart is a quarter of a gallon to the microlitre, a pint half a quart less half a microlitre.
            if unit == Unit::Inch && v % size <= 1 && v / size > 0 && v / size < 10 {
                return format!("{} {name}", v / size);
            }
        }
        if v % 1_000_000 == 0 {
            return format!("{} l", v / 1_000_000);
        }
    }
    say(row.holds, row.kind, unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_said_with_their_unit() {
        let say = |a, k| say(a, k, Unit::Inch);
        assert_eq!(say(NeedUnit::Count(6_000), StockKind::Sheet), "6 sh");
        assert_eq!(say(NeedUnit::Count(2_500), StockKind::Hardware), "2.5");
        assert_eq!(
            say(NeedUnit::Run(Length::FOOT * 27), StockKind::Banding),
            "27.0 ft"
        );
        assert_eq!(
            say(NeedUnit::Volume(GALLON * 152 / 100), StockKind::Paint),
            "1.52 gal"
        );
    }

    #[test]
    fn packs_are_called_by_their_plural() {
        for (count, word, says) in [
            (1, "pack", "pack"),
            (2, "pack", "packs"),
            (2, "box", "boxes"),
            (3, "foot", "feet"),
            (2, "board foot", "board feet"),
            (2, "bunch", "bunches"),
            (0, "tube", "tubes"),
            (4, "each", ""),
        ] {
            assert_eq!(pack_word(count, word), says);
        }
    }

    /// 29.6 ft of shelf fronts and 10% are 32.5 ft (worked by hand: 32.54): one 50 ft roll.
    #[test]
    fn waste_is_added_exactly_and_rounded_up() {
        let net = Length::from_units(with_waste(FOOT * 296 / 10, PerCent(1_000)));
        assert_eq!(
            super::say(NeedUnit::Run(net), StockKind::Banding, Unit::Inch),
            "32.6 ft"
        );
        assert_eq!(with_waste(1, PerCent(1)), 2);
        assert_eq!(with_waste(i64::MAX, PerCent(1)), i64::MAX);
    }
}
