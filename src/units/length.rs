//! The exact length. Owns the unit and its arithmetic; reading and printing live beside it.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Rem, Sub, SubAssign};

/// A length in whole units of 1/80 000 mm. May be negative only where a wall can lean in.
///
/// The unit is the greatest that makes 1/128 in, 0.001 in and 1/1000 mm x 12.5 all whole: 1 in = 25.4 mm exactly.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Length(i64);

/// Which unit a bare number is read in, and sizes are shown in.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Hash)]
pub enum Unit {
    /// Inches and fractions of them.
    #[default]
    Inch,
    /// Millimetres.
    Mm,
}

impl Unit {
    /// Down to what a stop can be set to: 1/64 in, 1/10 mm.
    pub fn on_grid(self, length: Length) -> Length {
        let step = match self {
            Self::Inch => Length::INCH_64,
            Self::Mm => Length::MM / 10,
        };
        length - length % step
    }
    /// What areas are counted in beside this unit.
    pub const fn area_name(self) -> &'static str {
        match self {
            Self::Inch => "sq ft",
            Self::Mm => "sq m",
        }
    }
    /// Square feet as an area is shown: `285.0`, `26.48`. A foot is 304.8 mm by definition.
    pub fn area(self, sq_ft: f64) -> String {
        match self {
            Self::Inch => format!("{sq_ft:.1}"),
            Self::Mm => format!("{:.2}", sq_ft * 0.092_903_04),
        }
    }
    /// US gallons as an amount of paint is shown: `1.42 gal`, `5.38 l`. A gallon is 3.785411784 l by definition.
    pub fn volume(self, gallons: f64) -> String {
        match self {
            Self::Inch => format!("{gallons:.2} gal"),
            Self::Mm => format!("{:.2} l", gallons * 3.785_411_784),
        }
    }
}

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// One millimetre.
    pub const MM: Self = Self(80_000);
    /// One inch, 25.4 mm exactly.
    pub const INCH: Self = Self(2_032_000);
    /// One foot.
    pub const FOOT: Self = Self(12 * 2_032_000);
    /// 1/64 in: what *full* and *shy* add or take away in an inch job.
    pub const INCH_64: Self = Self(31_750);
    /// The longest length any file may name: 100 m.
    pub const LIMIT: Self = Self(100_000 * 80_000);

    /// From whole units of 1/80 000 mm.
    pub const fn from_units(units: i64) -> Self {
        Self(units)
    }
    /// In whole units of 1/80 000 mm.
    pub const fn units(self) -> i64 {
        self.0
    }
    /// From whole millimetres.
    pub const fn mm(mm: i64) -> Self {
        Self(mm * Self::MM.0)
    }
    /// From whole inches.
    pub const fn inches(inches: i64) -> Self {
        Self(inches * Self::INCH.0)
    }
    /// From 1/64 in steps, e.g. `Length::in_64(23 * 64 + 16)` is 23 1/4 in.
    pub const fn in_64(sixty_fourths: i64) -> Self {
        Self(sixty_fourths * Self::INCH_64.0)
    }
    /// As a floating-point number of inches, for angles, deflections and drawings only: never to be turned back.
    pub fn as_inches(self) -> f64 {
        self.0 as f64 / Self::INCH.0 as f64
    }
    /// As a floating-point number of millimetres, for angles, deflections and drawings only.
    pub fn as_mm(self) -> f64 {
        self.0 as f64 / Self::MM.0 as f64
    }
    /// Without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
    /// Zero instead of a negative length.
    #[must_use]
    pub fn at_least_zero(self) -> Self {
        Self(self.0.max(0))
    }
    /// True for a length above zero.
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}u", self.0)
    }
}
impl Add for Length {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0 + o.0)
    }
}
impl Sub for Length {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self(self.0 - o.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, o: Self) {
        self.0 += o.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, o: Self) {
        self.0 -= o.0;
    }
}
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, k: i64) -> Self {
        Self(self.0 * k)
    }
}
/// Whole-number division, rounding toward zero.
impl Div<i64> for Length {
    type Output = Self;
    fn div(self, k: i64) -> Self {
        Self(self.0 / k)
    }
}
/// How many times one length goes into another, rounding toward zero.
impl Div for Length {
    type Output = i64;
    fn div(self, o: Self) -> i64 {
        self.0 / o.0
    }
}
impl Rem for Length {
    type Output = Self;
    fn rem(self, o: Self) -> Self {
        Self(self.0 % o.0)
    }
}
impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(it: I) -> Self {
        Self(it.map(|l| l.0).sum())
    }
}
