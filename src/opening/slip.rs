//! Kinds of slip a tape reading suffers, recognised by their size, and said in words.
//!
//! Owns the list of kinds. It does not decide which reading slipped. The kinds are common practice, no source; the length of a
//! tape's case (2 7/8 to 3 1/8 in, often printed on it) is from memory.

use crate::units::{Length, Tape, Unit};

/// What can go wrong between the tape and the page.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum SlipKind {
    /// The tape was held at the 1 inch mark and the inch not taken off, or taken off twice.
    OneInch,
    /// A foot mark misread.
    OneFoot,
    /// Ten millimetres misread.
    TenMm,
    /// Two digits changed places.
    SwappedDigits,
    /// 3/4 written for 3/8.
    FractionDoubled,
    /// 3/8 written for 3/4.
    FractionHalved,
    /// The reading of the other side.
    LeftForRight,
    /// The tape's own case forgotten or counted twice.
    TapeCase,
}

/// Shortest and longest case of a pocket tape, in 1/64 in.
const CASE: (i64, i64) = (184, 200);

impl SlipKind {
    /// In two or three words, for the written survey.
    pub const fn name(self) -> &'static str {
        match self {
            Self::OneInch => "one inch",
            Self::OneFoot => "one foot",
            Self::TenMm => "ten millimetres",
            Self::SwappedDigits => "swapped digits",
            Self::FractionDoubled => "fraction doubled",
            Self::FractionHalved => "fraction halved",
            Self::LeftForRight => "left for right",
            Self::TapeCase => "tape case",
        }
    }
    /// What to ask of one who may have slipped so.
    pub(crate) const fn asks(self) -> &'static str {
        match self {
            Self::OneInch => "Was the tape started at the 1 inch mark?",
            Self::OneFoot => "Was the wrong foot mark read?",
            Self::TenMm => "Was the wrong centimetre read?",
            Self::SwappedDigits => "Did two digits change places?",
            Self::FractionDoubled | Self::FractionHalved => "Was one fraction written for another?",
            Self::LeftForRight => "Left written for right?",
            Self::TapeCase => "Was the tape's case counted twice, or left out?",
        }
    }
    /// How much likelier such a slip is than one of the same size without a name, as a logarithm: a recognised slip falls into a
    /// window of a tape mark or two, any other anywhere within a foot or so either way. Between 1 and 4 nothing much changes.
    pub(crate) fn weight(self) -> f64 {
        match self {
            Self::OneInch | Self::OneFoot => 4.5,
            Self::SwappedDigits | Self::FractionDoubled | Self::FractionHalved => 3.0,
            Self::TenMm | Self::LeftForRight => 2.5,
            Self::TapeCase => 2.0,
        }
    }
}

/// The true readings that a slip of a known kind could have turned into `read`, with the kind, likeliest first.
/// `other` is the same reading on the other side, where there is one.
pub(crate) fn known(read: Length, other: Option<Length>, unit: Unit) -> Vec<(SlipKind, Length)> {
    let mut out = Vec::new();
    let mut both = |kind, by: Length| {
        out.push((kind, read - by));
        out.push((kind, read + by));
    };
    both(SlipKind::OneInch, Length::INCH);
    both(SlipKind::OneFoot, Length::FOOT);
    let (whole_of, digits_unit) = match unit {
        Unit::Inch => (read.abs() / Length::INCH, Length::INCH),
        Unit::Mm => (read.abs() / Length::MM, Length::MM),
    };
    for turned in swapped(whole_of) {
        let t = read.abs() + digits_unit * (turned - whole_of);
        out.push((
            SlipKind::SwappedDigits,
            if read < Length::ZERO { -t } else { t },
        ));
    }
    if unit == Unit::Inch {
        let part = read.abs() % Length::INCH;
        let sign = if read < Length::ZERO { -1 } else { 1 };
        if part.is_positive() {
            out.push((SlipKind::FractionDoubled, read - part / 2 * sign));
            if part * 2 < Length::INCH {
                out.push((SlipKind::FractionHalved, read + part * sign));
            }
        }
    }
    let mut both = |kind, by: Length| {
        out.push((kind, read - by));
        out.push((kind, read + by));
    };
    both(SlipKind::TenMm, Length::mm(10));
    for case in CASE.0..=CASE.1 {
        both(SlipKind::TapeCase, Length::in_64(case));
    }
    if let Some(other) = other.filter(|o| *o == read) {
        out.push((SlipKind::LeftForRight, other));
    }
    out
}

/// A whole number with two neighbouring digits changed about.
fn swapped(number: i64) -> Vec<i64> {
    let digits: Vec<char> = number.to_string().chars().collect();
    (1..digits.len())
        .filter_map(|i| {
            let mut d = digits.clone();
            d.swap(i - 1, i);
            d.into_iter().collect::<String>().parse::<i64>().ok()
        })
        .filter(|n| *n != number)
        .collect()
}

/// One or two sentences: how far out, and what to think of.
pub(crate) fn words(kind: Option<SlipKind>, read: Length, truth: Length, tape: Tape) -> String {
    let by = read - truth;
    let way = if by > Length::ZERO { "over" } else { "under" };
    let (amount, should) = (tape.print(by.abs()), tape.print(truth));
    match kind {
        Some(SlipKind::OneInch) if by > Length::ZERO => {
            "Exactly 1 inch over. Was the tape started at the 1 inch mark and the inch not taken off?"
                .into()
        }
        Some(SlipKind::OneInch) => {
            "Exactly 1 inch under. Was an inch taken off that had not been added?".into()
        }
        Some(kind @ SlipKind::OneFoot) => format!("Exactly 1 foot {way}. {}", kind.asks()),
        Some(SlipKind::TenMm) if tape.unit == Unit::Inch => {
            format!("{amount} {way}, about 10 mm. Was the wrong side of a tape with centimetres read?")
        }
        Some(kind @ SlipKind::TenMm) => format!("10 mm {way}. {}", kind.asks()),
        Some(SlipKind::SwappedDigits) => format!(
            "Read {}, the others make it {should}: two digits changed places?",
            tape.print(read)
        ),
        Some(SlipKind::FractionDoubled) => format!(
            "{amount} {way}: the fraction is twice what the others make it ({should}). Was 3/4 written for 3/8, or the like?"
        ),
        Some(SlipKind::FractionHalved) => format!(
            "{amount} {way}: the fraction is half what the others make it ({should}). Was 3/8 written for 3/4, or the like?"
        ),
        Some(kind @ SlipKind::LeftForRight) => format!(
            "{amount} {way}: it is the reading of the other side. {}",
            kind.asks()
        ),
        Some(SlipKind::TapeCase) => format!(
            "{amount} {way}, about the length of a tape's case. Was the case added twice, or left out?"
        ),
        None => format!("{amount} {way}: the other readings make it {should}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(read: Length, truth: Length) -> Vec<SlipKind> {
        known(read, None, Unit::Inch)
            .into_iter()
            .filter(|(_, t)| *t == truth)
            .map(|(k, _)| k)
            .collect()
    }

    #[test]
    fn each_kind_is_recognised_by_its_size() {
        let i = |n: i64, sixteenths: i64| Length::in_64(n * 64 + sixteenths * 4);
        assert_eq!(kinds(i(119, 10), i(118, 10)), [SlipKind::OneInch]);
        assert_eq!(kinds(i(60, 3), i(72, 3)), [SlipKind::OneFoot]);
        assert_eq!(kinds(i(63, 2), i(36, 2)), [SlipKind::SwappedDigits]);
        assert_eq!(kinds(i(72, 12), i(72, 6)), [SlipKind::FractionDoubled]);
        assert_eq!(kinds(i(72, 6), i(72, 12)), [SlipKind::FractionHalved]);
        assert_eq!(kinds(i(72, 6), i(75, 6)), [SlipKind::TapeCase]);
        let metric = known(Length::mm(1830), None, Unit::Mm);
        assert!(metric.contains(&(SlipKind::TenMm, Length::mm(1820))));
        assert!(metric.contains(&(SlipKind::SwappedDigits, Length::mm(1380))));
    }
}
