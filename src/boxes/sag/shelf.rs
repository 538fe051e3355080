//! One shelf, judged.

use super::beam::{Beam, Held, board_moment, lipped_moment};
use super::judge::{Rule, Sag, Verdict, about, shown};
use super::stiffness::{POPLAR, Stiffness};
use crate::model::ShelfLoad;
use crate::units::{Length, Tape};

/// Thickness of the lip that is offered.
const LIP: f64 = 0.75;
/// The highest lip that is offered, in quarters of an inch.
const HIGHEST: u32 = 16;

/// What a shelf is.
#[derive(Clone, PartialEq, Debug)]
pub struct Shelf {
    /// Its name.
    pub name: String,
    /// Clear span.
    pub span: Length,
    /// From front to back.
    pub deep: Length,
    /// As measured.
    pub thick: Length,
    /// How its ends are held.
    pub held: Held,
    /// What stands on it.
    pub load: ShelfLoad,
    /// What it is made of.
    pub stiff: Stiffness,
}

/// Reckons a shelf and judges it by [`Rule::FLAT`] and [`Rule::SEEN`].
pub fn shelf_sag(shelf: &Shelf) -> Sag {
    let (span, deep, thick) = (
        shelf.span.as_inches(),
        shelf.deep.as_inches(),
        shelf.thick.as_inches(),
    );
    let (load_words, load) = shelf.load.on(deep);
    let beam = Beam {
        load,
        psi: shelf.stiff.psi,
        moment: board_moment(deep, thick),
    };
    let sinks = beam.sinks(span, shelf.held);
    let verdict = judged(sinks, span);
    let passes = |quarters: u32| {
        let high = f64::from(quarters) / 4.0;
        let moment = lipped_moment(deep, thick, (LIP, high), POPLAR / shelf.stiff.psi);
        high > thick && Beam { moment, ..beam }.sinks(span, shelf.held) <= Rule::FLAT.slope * span
    };
    let lip = (verdict != Verdict::Flat)
        .then(|| (1..=HIGHEST).find(|q| passes(*q)))
        .flatten()
        .map(|q| Length::in_64(i64::from(q) * 16));
    let longest = beam.longest(shelf.held, Rule::FLAT.slope);
    let longest_span = Length::in_64((longest * 64.0).round() as i64);
    let years = sinks * shelf.stiff.creep;
    let mut words = format!(
        "{}: sinks {} in, {} in after years; {}, {}.",
        verdict.words(),
        about(sinks),
        about(years),
        load_words,
        shelf.stiff.known_as,
    );
    if verdict != Verdict::Flat {
        let tape = Tape::default();
        let within = sinks <= Rule::WOODWORK.slope * span;
        words += &format!(
            " Limit {}; {} {}. {} in would stay flat.",
            Rule::FLAT.words,
            if within { "within" } else { "over" },
            Rule::WOODWORK.words,
            tape.print_exact(longest_span)
        );
        match lip {
            Some(high) => {
                words += &format!(
                    " A lip 3/4 x {} in along the front mends it.",
                    tape.print_exact(high)
                )
            }
            None => words += " No lip up to 4 in mends it: put a partition under it.",
        }
    }
    Sag {
        shelf: shelf.name.clone(),
        span: shelf.span,
        load: load_words.to_owned(),
        deflection_in: shown(sinks),
        after_years_in: shown(years),
        limit_in: shown(Rule::FLAT.slope * span),
        limit: Rule::FLAT.words.to_owned(),
        verdict,
        longest_span,
        lip,
        middle_support: false,
        words,
    }
}

fn judged(sinks: f64, span: f64) -> Verdict {
    if sinks <= Rule::FLAT.slope * span {
        Verdict::Flat
    } else if sinks <= Rule::SEEN.slope * span {
        Verdict::Hollow
    } else {
        Verdict::Shows
    }
}
