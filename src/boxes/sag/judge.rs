//! What was reckoned of one shelf or rail, and the limits it is held to.

use crate::units::Length;
use serde::Serialize;

/// A published limit: inches of sinking for each inch of span.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Rule {
    /// Inches for each inch.
    pub slope: f64,
    /// In words.
    pub words: &'static str,
}

impl Rule {
    /// The one a shelf is held to when first loaded; it will sink on (S27: 0.02 in a foot).
    pub const FLAT: Self = Self {
        slope: 0.02 / 12.0,
        words: "1/50 in a foot when first loaded",
    };
    /// Where the eye begins to see it (S27: 1/32 in a foot).
    pub const SEEN: Self = Self {
        slope: 1.0 / 384.0,
        words: "1/32 in a foot",
    };
    /// ANSI/KCMA A161.1: 1/16 in a foot, by which rails are judged; no rule for rails was found.
    pub const RAIL: Self = Self {
        slope: 1.0 / 192.0,
        words: "1/16 in a foot, as ANSI/KCMA A161.1 allows a shelf",
    };
    /// Architectural Woodwork Standards 2009, 1.2.21: a 144th of the span.
    pub const WOODWORK: Self = Self {
        slope: 1.0 / 144.0,
        words: "a 144th of the span (Architectural Woodwork Standards 2009)",
    };
}

/// In words of fixed meaning.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize)]
pub enum Verdict {
    /// Within the limit.
    #[serde(rename = "stays flat")]
    Flat,
    /// Over it, and under what the eye sees.
    #[serde(rename = "slightly hollow")]
    Hollow,
    /// Over what the eye sees.
    #[serde(rename = "will show")]
    Shows,
}

impl Verdict {
    /// As it is printed.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Flat => "stays flat",
            Self::Hollow => "slightly hollow",
            Self::Shows => "will show",
        }
    }
}

/// One kind of shelf, or a rail.
#[derive(Clone, PartialEq, Debug, Serialize)]
pub struct Sag {
    /// Which: box and kind.
    pub shelf: String,
    /// Clear span.
    pub span: Length,
    /// Load, in words.
    pub load: String,
    /// How far it sinks when first loaded, in, to four decimals.
    pub deflection_in: f64,
    /// After years, in.
    pub after_years_in: f64,
    /// How far the limit lets it sink, in.
    pub limit_in: f64,
    /// The limit applied, in words.
    pub limit: String,
    /// The judgement.
    pub verdict: Verdict,
    /// The longest span that would pass, down to 1/16 in.
    pub longest_span: Length,
    /// Height of a 3/4 in lip of poplar under the front edge, flush on top, that would mend it; `None` where it passes or none
    /// up to 4 in would. For a rail always `None`.
    pub lip: Option<Length>,
    /// True for a rail that wants a support in the middle.
    pub middle_support: bool,
    /// The whole in one or two sentences.
    pub words: String,
}

/// To four decimals.
pub(super) fn shown(inches: f64) -> f64 {
    (inches * 10_000.0).round() / 10_000.0
}

/// About how much that is on a tape, in 64ths: `about 1/32`.
pub(super) fn about(inches: f64) -> String {
    let n = ((inches * 64.0).round() as i64).max(0);
    if n == 0 {
        return "less than 1/64".into();
    }
    format!(
        "about {}",
        crate::units::Tape::default().print_exact(Length::in_64(n))
    )
}
