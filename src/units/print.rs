//! Printing a length to the finest mark of her tape, with *full*/*shy*. Rounds once, here and nowhere else.

use super::{Length, Unit};

/// How lengths are shown: the unit and the finest mark she trusts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Tape {
    /// Inches or millimetres.
    pub unit: Unit,
    /// The finest mark, e.g. 1/16 in or 1 mm.
    pub mark: Length,
}

impl Default for Tape {
    fn default() -> Self {
        Self {
            unit: Unit::Inch,
            mark: Length::in_64(4),
        }
    }
}

/// What a rounding left over, in her words.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Hair {
    None,
    Full,
    Shy,
}

impl Hair {
    const fn suffix(self) -> &'static str {
        match self {
            Self::None => "",
            Self::Full => " full",
            Self::Shy => " shy",
        }
    }
}

impl Tape {
    /// For widths that are scribed: half the usual mark, 1/32 in where the tape has 1/16.
    pub fn for_scribing(mut self) -> Self {
        if self.unit == Unit::Inch {
            self.mark = self.mark.min(Length::in_64(2));
        }
        self
    }
    /// The usual tape of a unit: 1/16 in or 1 mm.
    pub fn usual(unit: Unit) -> Self {
        match unit {
            Unit::Inch => Self::default(),
            Unit::Mm => Self {
                unit,
                mark: Length::MM,
            },
        }
    }

    /// Rounded to the nearest mark (half up), followed by *full* or *shy* where that moved it more than a quarter mark.
    pub fn print(&self, length: Length) -> String {
        let (rounded, hair) = self.round(length);
        format!("{}{}", self.bare(rounded), hair.suffix())
    }

    /// As [`Tape::print`], with its unit: `23 1/4 in`, `590 mm`, `20 13/16 in shy`.
    pub fn print_with_unit(&self, length: Length) -> String {
        let (rounded, hair) = self.round(length);
        format!(
            "{} {}{}",
            self.bare(rounded),
            self.unit_name(),
            hair.suffix()
        )
    }

    /// Rounded up to the next half mark, so that what is taken off or kept free for it always suffices.
    pub fn print_up(&self, length: Length) -> String {
        let step = (self.mark / 2).max(Length::from_units(1)).units();
        let up = -((-length.units()).div_euclid(step) * step);
        let fine = Self {
            mark: Length::from_units(step),
            ..*self
        };
        fine.print(Length::from_units(up))
    }

    /// For long runs, where she asks for them: above 8 ft in feet and inches, `28 ft 3 3/4 in`; else as [`Tape::print`].
    pub fn print_feet(&self, length: Length) -> String {
        let (rounded, hair) = self.round(length);
        if self.unit == Unit::Mm || rounded.abs() <= i128::from(8 * Length::FOOT.units()) {
            return format!("{}{}", self.bare(rounded), hair.suffix());
        }
        let foot = i128::from(Length::FOOT.units());
        let (feet, rest) = (rounded.abs() / foot, rounded.abs() % foot);
        let sign = if rounded < 0 { "-" } else { "" };
        format!("{sign}{feet} ft {} in{}", inches(rest), hair.suffix())
    }

    /// Exactly, in a form that reads back to the same length: what is written to files.
    ///
    /// Inches as a fraction down to 128ths, else as a decimal where that ends, else in mm with the unit; millimetres as a
    /// decimal. Three decimals get a fourth, a nought, so that nobody and no file takes the point for a thousands mark.
    pub fn print_exact(&self, length: Length) -> String {
        let units = i128::from(length.units());
        match self.unit {
            Unit::Mm => decimal(units, Length::MM.units(), 7),
            Unit::Inch if units % 15_875 == 0 => inches(units),
            // An inch is 127 x 16 000 units: only multiples of 127 units are decimals that end.
            Unit::Inch if units % 127 == 0 => decimal(units, Length::INCH.units(), 7),
            Unit::Inch => format!("{} mm", decimal(units, Length::MM.units(), 7)),
        }
    }

    /// `in` or `mm`.
    pub const fn unit_name(&self) -> &'static str {
        match self.unit {
            Unit::Inch => "in",
            Unit::Mm => "mm",
        }
    }

    /// To the nearest mark, half up (away from zero for a negative one, so that a size and its negative read alike).
    fn round(&self, length: Length) -> (i128, Hair) {
        let mark = i128::from(self.mark.units().max(1));
        let units = i128::from(length.units());
        let marks = (units.abs() + mark / 2) / mark;
        let rounded = marks * mark * units.signum();
        let moved = units - rounded;
        let hair = if moved.abs() * 4 <= mark {
            Hair::None
        } else if (moved > 0) == (units > 0 || rounded == 0) {
            Hair::Full
        } else {
            Hair::Shy
        };
        (rounded, hair)
    }

    /// A length on a mark, without its unit.
    fn bare(&self, units: i128) -> String {
        match self.unit {
            Unit::Inch if units % 15_875 == 0 => inches(units),
            Unit::Inch => decimal(units, Length::INCH.units(), 4),
            Unit::Mm => decimal(units, Length::MM.units(), 7),
        }
    }
}

/// Inches with a fraction in lowest terms; `units` must be a whole number of 128ths.
fn inches(units: i128) -> String {
    let sign = if units < 0 { "-" } else { "" };
    let parts = units.abs() / 15_875;
    let (whole, mut top, mut bottom) = (parts / 128, parts % 128, 128);
    while top > 0 && top % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    match (whole, top) {
        (w, 0) => format!("{sign}{w}"),
        (0, t) => format!("{sign}{t}/{bottom}"),
        (w, t) => format!("{sign}{w} {t}/{bottom}"),
    }
}

/// `units / per` as a decimal of at most `places`, rounded half up if that is not enough; see [`Tape::print_exact`] on
/// three decimals.
fn decimal(units: i128, per: i64, places: u32) -> String {
    let sign = if units < 0 { "-" } else { "" };
    let ten = 10_i128.pow(places);
    let scaled = (units.abs() * ten * 2 + i128::from(per)) / (2 * i128::from(per));
    let (whole, part) = (scaled / ten, scaled % ten);
    let digits = format!("{part:0width$}", width = places as usize);
    let digits = digits.trim_end_matches('0');
    match digits.len() {
        0 if whole == 0 => "0".into(),
        0 => format!("{sign}{whole}"),
        3 => format!("{sign}{whole}.{digits}0"),
        _ => format!("{sign}{whole}.{digits}"),
    }
}
