//! Hanging rails: how far one sinks, and where it wants a support in the middle.

use super::beam::{Beam, Held, round_moment};
use super::judge::{Rule, Sag, Verdict, about, shown};
use crate::model::{PrefabUnit, StockRow, names_metal};
use crate::units::{Length, Tape};

/// Pounds on each inch of a full rail: 10 lb a foot (common practice, no source).
const LOAD: f64 = 10.0 / 12.0;
/// A rail longer than this wants a support in the middle (S37: over 4 ft).
const UNSUPPORTED: Length = Length::inches(48);
/// A wooden rail: 1 5/16 in round, 1.5 million psi, from memory.
const WOOD_PSI: f64 = 1_500_000.0;
const WOOD_ROUND: f64 = 1.3125;
/// Stiffness times moment of the weakest steel rail published: 75 lb in the middle of 6 ft sink it 1 in (S37).
const STEEL: f64 = 583_200.0;

/// True if a rail so long wants a support in the middle, whatever it sinks.
pub fn needs_middle_support(span: Length) -> bool {
    span > UNSUPPORTED
}

/// What a rail is bought as; the default: no row of stock.csv is one.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct RailStuff {
    /// Its stock row.
    pub item: Option<String>,
    /// What its row says.
    pub words: String,
    /// The smaller of its two sizes, where its row gives one.
    pub round: Option<Length>,
}

impl RailStuff {
    /// By its row.
    pub fn of(row: &StockRow) -> Self {
        let sizes = [row.width, row.thickness()].into_iter().flatten();
        Self {
            item: Some(row.item.clone()),
            words: row.what.clone(),
            round: sizes.filter(|l| l.is_positive()).min(),
        }
    }
    /// By its row of prefab.csv: a rail's height and depth are what it measures across.
    pub fn of_unit(unit: &PrefabUnit) -> Self {
        let sizes = [unit.height, unit.depth].into_iter().flatten();
        Self {
            item: Some(unit.unit.clone()),
            words: unit.what.clone(),
            round: sizes.filter(|l| l.is_positive()).min(),
        }
    }
    fn is_metal(&self) -> bool {
        names_metal(&self.words.to_lowercase())
    }
    fn is_wood(&self) -> bool {
        let words = self.words.to_lowercase();
        let woods = [
            "wood", "timber", "dowel", "oak", "beech", "birch", "pine", "spruce", "fir", "maple",
            "ash", "poplar", "walnut",
        ];
        let mut said = words.split(|c: char| !c.is_alphabetic());
        said.any(|w| {
            woods
                .iter()
                .any(|wood| w.starts_with(wood) || w.ends_with("wood"))
        })
    }
    /// Its stuff in words: which row it is, or what was taken and why.
    fn in_words(&self) -> String {
        let of = |item: &String| format!("{item}, ");
        let item = self.item.as_ref().map_or_else(String::new, of);
        if self.is_metal() {
            return format!("{item}metal");
        }
        let round = self
            .round
            .map_or_else(|| "1 5/16".into(), |r| Tape::default().print_exact(r));
        match (&self.item, self.round) {
            (None, _) if self.words.is_empty() => {
                "no rail stands in stock.csv, so wood 1 5/16 round is taken".into()
            }
            (Some(_), None) if !self.is_wood() => {
                format!(
                    "{item}taken as wood {round} round, for its row gives no material and no size"
                )
            }
            (Some(_), None) => {
                format!("{item}taken as wood {round} round, for its row gives no size")
            }
            (Some(_), Some(_)) if !self.is_wood() => {
                format!("{item}taken as wood {round} round, for its row gives no material")
            }
            _ => format!("{item}wood {round} round"),
        }
    }
}

/// Reckons a rail of such stuff: metal if its words say so, else wood.
pub fn rail_sag(name: &str, length: Length, of: &RailStuff) -> Sag {
    let metal = of.is_metal();
    let beam = if metal {
        Beam {
            load: LOAD,
            psi: STEEL,
            moment: 1.0,
        }
    } else {
        Beam {
            load: LOAD,
            psi: WOOD_PSI,
            moment: round_moment(of.round.map_or(WOOD_ROUND, |r| r.as_inches())),
        }
    };
    let span = length.as_inches();
    let alone = beam.sinks(span, Held::OnPins);
    let allowed = Rule::RAIL.slope * span;
    let middle_support = needs_middle_support(length) || alone > allowed;
    let sinks = if middle_support {
        beam.sinks(span, Held::MiddleSupport)
    } else {
        alone
    };
    let verdict = if alone <= allowed {
        Verdict::Flat
    } else {
        Verdict::Shows
    };
    let longest = beam
        .longest(Held::OnPins, Rule::RAIL.slope)
        .min(UNSUPPORTED.as_inches());
    let longest_span = Length::in_64((longest * 64.0).round() as i64);
    let stuff = of.in_words();
    let mut told = format!(
        "{}: {stuff}, full of clothes (10 lb a foot) it sinks {} in.",
        verdict.words(),
        about(alone)
    );
    if middle_support {
        told += &format!(
            " Hold it in the middle as well: then {} in. Alone it may be {} in long.",
            about(sinks),
            Tape::default().print_exact(longest_span)
        );
    }
    Sag {
        shelf: name.to_owned(),
        span: length,
        load: "hanging clothes, 10 lb a foot".into(),
        deflection_in: shown(alone),
        after_years_in: shown(alone * if metal { 1.0 } else { 1.5 }),
        limit_in: shown(allowed),
        limit: Rule::RAIL.words.to_owned(),
        verdict,
        longest_span,
        lip: None,
        middle_support,
        words: told,
    }
}
