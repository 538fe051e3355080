//! Where the opening goes: what a route lets her use of it, and what is lost above, under, beside, behind and inside the boards.

use crate::units::{Length, Unit};
use serde::Serialize;

/// Volumes in whole cubic millimetres; the last six together are exactly the first.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize)]
pub struct SpaceUse {
    /// Of the largest level and plumb box.
    pub opening: i64,
    /// Inside of boxes or frames: what can be used.
    pub inside: i64,
    /// From their tops to the head of the opening.
    pub above: i64,
    /// The base or the feet.
    pub under: i64,
    /// Beside them, from floor to head.
    pub beside: i64,
    /// Behind or before them.
    pub behind: i64,
    /// Their own boards, backs and edges.
    pub boards: i64,
}

/// Words for the six shares, in the order of [`SpaceUse::parts`].
pub const SPACE_WORDS: [&str; 6] = [
    "inside, to be used",
    "above them",
    "under them",
    "beside them",
    "behind or before them",
    "inside the boards",
];

impl SpaceUse {
    /// From exact volumes in cubic units, in the order of [`SpaceUse::parts`]; `None` where one is less than nothing.
    pub fn of(exact: [i128; 6]) -> Option<Self> {
        if exact.iter().any(|v| *v < 0) {
            return None;
        }
        let cubic_mm = i128::from(Length::MM.units()).pow(3);
        let (opening, [inside, above, under, beside, behind, boards]) = shares(exact, cubic_mm);
        (opening > 0).then_some(Self {
            opening,
            inside,
            above,
            under,
            beside,
            behind,
            boards,
        })
    }

    /// What is used, and the five ways the rest is lost.
    pub const fn parts(&self) -> [i64; 6] {
        [
            self.inside,
            self.above,
            self.under,
            self.beside,
            self.behind,
            self.boards,
        ]
    }

    /// Share of the opening that can be used, in whole per cent.
    pub const fn percent(&self) -> i64 {
        (self.inside * 100 + self.opening / 2) / self.opening
    }

    /// The opening and its parts in tenths of a cubic foot, or in whole litres, so that the printed figures add up too.
    pub fn print(&self, unit: Unit) -> (String, [String; 6]) {
        // A cubic foot is 304.8 mm by itself three times: 28 316 846.592 cubic millimetres.
        let (of, tenths) = match unit {
            Unit::Inch => (28_316_846_592_i128, true),
            Unit::Mm => (10_000_000_000, false),
        };
        let say = |n: i64| {
            if tenths {
                format!("{}.{}", n / 10, n % 10)
            } else {
                n.to_string()
            }
        };
        let (whole, parts) = shares(self.parts().map(|p| i128::from(p) * 10_000), of);
        (say(whole), parts.map(say))
    }

    /// What [`SpaceUse::print`] counts in.
    pub const fn unit_word(unit: Unit) -> &'static str {
        match unit {
            Unit::Inch => "cu ft",
            Unit::Mm => "litres",
        }
    }
}

/// The sum of `parts` in whole times `of`, rounded half up, and the parts likewise so that they add up to it: what is wanting
/// after all are rounded down goes where most was cut off.
fn shares(parts: [i128; 6], of: i128) -> (i64, [i64; 6]) {
    let whole = (parts.iter().sum::<i128>() + of / 2) / of;
    let mut out = parts.map(|p| p / of);
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_by_key(|i| (-(parts[*i] % of), *i));
    let left = usize::try_from(whole - out.iter().sum::<i128>()).unwrap_or(0);
    for i in order.into_iter().take(left) {
        out[i] += 1;
    }
    let fit = |n: i128| i64::try_from(n).unwrap_or(i64::MAX);
    (fit(whole), out.map(fit))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 200 in twenties is 10; of 3 1/2, 3 1/2 and 3 the first is rounded up; exact and printed figures add up to the opening.
    #[test]
    fn shares_add_up_to_the_opening() {
        assert_eq!(shares([70, 70, 60, 0, 0, 0], 20), (10, [4, 3, 3, 0, 0, 0]));
        let litre = i128::from(Length::mm(100).units()).pow(3);
        let cases = [
            [7, 1, 0, 2, 3, 5],
            [1, 1, 1, 1, 1, 1],
            [900, 13, 0, 0, 7, 1],
        ];
        for exact in cases.map(|c| c.map(|n: i128| n * litre * 10 / 3)) {
            let space = SpaceUse::of(exact).expect("a volume");
            assert_eq!(space.parts().iter().sum::<i64>(), space.opening);
            for unit in [Unit::Inch, Unit::Mm] {
                let (whole, parts) = space.print(unit);
                let tenths = |s: &String| s.replace('.', "").parse::<i64>().expect("a number");
                let sum: i64 = parts.iter().map(tenths).sum();
                assert_eq!(sum, tenths(&whole), "{parts:?}");
            }
        }
        assert_eq!(SpaceUse::of([1, -1, 0, 0, 0, 0]), None);
        // One litre of ten is a tenth.
        let space = SpaceUse::of([litre, 9 * litre, 0, 0, 0, 0]).expect("a volume");
        assert_eq!((space.percent(), space.opening), (10, 10_000_000));
    }
}
