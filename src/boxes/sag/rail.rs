//! Hanging rails: how far one sinks, and where it wants a support in the middle.

use super::beam::{Beam, Held, round_moment};
use super::judge::{Rule, Sag, Verdict, about, shown};
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

/// Reckons a rail; `words` name its stuff: metal if they say so, else wood.
pub fn rail_sag(name: &str, length: Length, words: &str) -> Sag {
    let words = words.to_lowercase();
    let metal = ["steel", "metal", "chrome", "alumin"]
        .iter()
        .any(|w| words.contains(w));
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
            moment: round_moment(WOOD_ROUND),
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
    let stuff = if metal { "metal" } else { "wood 1 5/16 round" };
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
