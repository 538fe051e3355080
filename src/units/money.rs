//! Money in whole cents, rates in whole ten-thousandths. No floating point.

use serde::{Deserialize, Serialize};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// An amount of money in whole cents (or the hundredth of whatever `money` names).
#[derive(
    Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Cents(pub i64);

/// A rate in hundredths of a per cent: 7.25% is 725.
#[derive(
    Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct PerCent(pub i64);

/// A price with what it is on a cheap and on a dear day. A firm price has all three alike.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Serialize, Deserialize)]
pub struct PriceRange {
    /// On a cheap day.
    pub low: Cents,
    /// As found.
    pub likely: Cents,
    /// On a dear day.
    pub high: Cents,
}

impl Cents {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// `1234.56` with thousands commas: `1,234.56`.
    pub fn print(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let (whole, cents) = (self.0.unsigned_abs() / 100, self.0.unsigned_abs() % 100);
        let digits = whole.to_string();
        let mut grouped = String::new();
        for (i, c) in digits.chars().enumerate() {
            if i > 0 && (digits.len() - i).is_multiple_of(3) {
                grouped.push(',');
            }
            grouped.push(c);
        }
        format!("{sign}{grouped}.{cents:02}")
    }
}

impl PerCent {
    /// This share of an amount, rounded half up to the cent (half away from zero for a refund).
    pub fn of(self, amount: Cents) -> Cents {
        let raw = i128::from(amount.0) * i128::from(self.0);
        let half = if raw < 0 { -5_000 } else { 5_000 };
        Cents(
            i64::try_from((raw + half) / 10_000)
                .expect("a share of an amount is smaller than the amount's type"),
        )
    }
}

impl PriceRange {
    /// A price that does not move.
    pub const fn firm(price: Cents) -> Self {
        Self {
            low: price,
            likely: price,
            high: price,
        }
    }
}

impl Add for Cents {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0 + o.0)
    }
}
impl Sub for Cents {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self(self.0 - o.0)
    }
}
impl AddAssign for Cents {
    fn add_assign(&mut self, o: Self) {
        self.0 += o.0;
    }
}
impl Neg for Cents {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<i64> for Cents {
    type Output = Self;
    fn mul(self, k: i64) -> Self {
        Self(self.0 * k)
    }
}
impl Sum for Cents {
    fn sum<I: Iterator<Item = Self>>(it: I) -> Self {
        Self(it.map(|c| c.0).sum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sales tax rounded half up to the cent: 412.37 at 8.25% is 34.02 (worked by hand: 34.020525).
    #[test]
    fn tax_is_rounded_half_up() {
        assert_eq!(PerCent(825).of(Cents(41_237)), Cents(3_402));
        assert_eq!(PerCent(5_000).of(Cents(1)), Cents(1));
        assert_eq!(PerCent(4_999).of(Cents(1)), Cents(0));
    }

    #[test]
    fn money_prints_with_thousands() {
        assert_eq!(Cents(101_634).print(), "1,016.34");
        assert_eq!(Cents(-5).print(), "-0.05");
    }
}
