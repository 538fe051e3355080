//! How high the hinges of a door are set: near both ends and evenly between, each clear of slides, shelves, bottom and top.

use super::drawers::Drawers;
use crate::units::Length;

/// From an end of a door to the middle of its first hinge; on a low door no more than a quarter of it. Common practice, no source.
const FROM_END: Length = Length::inches(4);
/// A hinge that is moved stays at least so far from an end of its door. Common practice, no source.
const NEAREST: Length = Length::inches(2);
/// And one at an end no further from it than this, or the door hangs out of true. Common practice, no source.
const FURTHEST: Length = Length::inches(8);
/// From the middle of a hinge to what its plate keeps clear of. Common practice, no source.
const PLATE: Length = Length::INCH;

/// The middles of so many hinges, up from the lower edge of a door so high: near both ends, the rest evenly between, on the marks of
/// her tape.
pub(super) fn hinges_at(high: Length, hinges: u32, mark: Length) -> Vec<Length> {
    let end = FROM_END.min(high / 4);
    let steps = i64::from(hinges.saturating_sub(1)).max(1);
    let on_mark = |l: Length| {
        if mark.is_positive() {
            (l + mark / 2) - (l + mark / 2) % mark
        } else {
            l
        }
    };
    (0..i64::from(hinges))
        .map(|n| on_mark(end + (high - end * 2) * n / steps))
        .collect()
}

/// What a hinge would be screwed to where there is no room for its plate: lower and upper edge, up from the doors' own lower edge.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct InWay {
    /// `slide`, `fixed shelf`, `loose shelf`, `bottom`, `top`.
    pub(super) what: &'static str,
    pub(super) y: [Length; 2],
}

impl InWay {
    fn leaves(&self, at: Length) -> bool {
        at + PLATE <= self.y[0] || at - PLATE >= self.y[1]
    }
}

/// Slides and packers behind doors, and boards across the box, for doors whose lower edges are there; `boards` are up from the
/// bottom edge of the box. A slide goes on the packer, level with the lower edge of its drawer.
pub(super) fn before_doors(
    (drawers, packer): (Option<&Drawers>, Length),
    boards: &[InWay],
    doors_low: impl Iterator<Item = Length>,
) -> Vec<InWay> {
    let inside = drawers.filter(|d| d.inside).map(|d| &d.each).into_iter();
    let slides = inside.flatten().map(|d| InWay {
        what: "slide",
        y: [d.low, d.low + packer],
    });
    let all: Vec<InWay> = slides.chain(boards.iter().copied()).collect();
    let from = |low: Length| {
        all.iter().map(move |w| InWay {
            what: w.what,
            y: w.y.map(|y| y - low),
        })
    };
    doors_low.flat_map(from).collect()
}

/// The hinges of a door, and each that finds no clear place with what it meets.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Set {
    pub(super) at: Vec<Length>,
    pub(super) meets: Vec<(Length, &'static str)>,
}

/// The hinges, each that would meet something moved just clear of all of it, the shorter way, within the usual distances from the
/// ends of the door and over the hinge below. One that finds no such place moves clear of all but loose shelves, which can be moved
/// themselves; else it stays.
pub(super) fn clear_of(hinges: &[Length], high: Length, all: &[InWay], mark: Length) -> Set {
    let on_mark = |l: Length, up: bool| {
        if !mark.is_positive() || !(l % mark).is_positive() {
            l
        } else if up {
            l + mark - l % mark
        } else {
            l - l % mark
        }
    };
    let fixed: Vec<InWay> = all
        .iter()
        .filter(|w| w.what != "loose shelf")
        .copied()
        .collect();
    let mut set = Set {
        at: Vec::new(),
        meets: Vec::new(),
    };
    let last = hinges.len().saturating_sub(1);
    for (n, at) in hinges.iter().copied().enumerate() {
        let low = set.at.last().map_or(NEAREST, |under| *under + PLATE * 2);
        // One of the middle stays below the next one, where that stands at first.
        let over = hinges
            .get(n + 1)
            .map_or(high - NEAREST, |next| *next - PLATE * 2);
        let reach = [
            if n == last && n > 0 {
                low.max(high - FURTHEST)
            } else {
                low
            },
            if n == 0 { over.min(FURTHEST) } else { over },
        ];
        let clear_of = |list: &[InWay]| {
            let clear = |at: Length| list.iter().all(|w| w.leaves(at));
            let edges = list.iter().flat_map(|w| {
                [
                    on_mark(w.y[1] + PLATE, true),
                    on_mark(w.y[0] - PLATE, false),
                ]
            });
            let free = edges.filter(|p| *p >= reach[0] && *p <= reach[1] && clear(*p));
            let moved = free.min_by_key(|p| ((*p - at).abs(), *p));
            if clear(at) { Some(at) } else { moved }
        };
        let found = clear_of(all).or_else(|| clear_of(&fixed)).unwrap_or(at);
        let met = all.iter().filter(|w| !w.leaves(found));
        let worst = met.min_by_key(|w| w.what == "loose shelf");
        set.meets.extend(worst.map(|w| (found, w.what)));
        set.at.push(found);
    }
    set
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a door 60 high has 3 hinges, 4 from both ends and in the middle at 30; one of 12 has its two a quarter in, at 3 and 9.
    #[test]
    fn hinges_stand_near_both_ends_and_evenly_between() {
        let inches = |list: &[i64]| list.iter().map(|n| Length::inches(*n)).collect::<Vec<_>>();
        let mark = Length::in_64(4);
        assert_eq!(hinges_at(Length::inches(60), 3, mark), inches(&[4, 30, 56]));
        assert_eq!(hinges_at(Length::inches(12), 2, mark), inches(&[3, 9]));
        assert_eq!(
            hinges_at(Length::inches(88), 4, mark)[1],
            Length::in_64(30 * 64 + 44),
            "4 and a third of 80 is 30 2/3: 30 11/16 on a tape of sixteenths"
        );
    }

    fn in_way(what: &'static str, from: i64, to: i64) -> InWay {
        InWay {
            what,
            y: [from, to].map(Length::inches),
        }
    }

    /// By hand: a slide from 3 to 5 takes hinges from 2 to 6; one at 4 1/2 goes up to 6, the others stay, and a second slide from 6 to
    /// 8 sends the first down to 2. A fixed shelf from 29 to 30 sends the middle one from 30 up to 31, or down to 28 where a second
    /// lies from 31 to 32.
    #[test]
    fn hinges_keep_clear_of_slides_and_shelves() {
        let at = |n: i64| Length::inches(n);
        let (mark, high) = (Length::in_64(4), at(60));
        let hinges = [Length::in_64(4 * 64 + 32), at(30), at(56)];
        let set = |all: &[InWay]| clear_of(&hinges, high, all, mark);
        let slide = in_way("slide", 3, 5);
        assert_eq!(set(&[slide]).at, [at(6), at(30), at(56)]);
        let two = [slide, in_way("slide", 6, 8)];
        assert_eq!(set(&two).at, [at(2), at(30), at(56)]);
        let shelf = in_way("fixed shelf", 29, 30);
        assert_eq!(set(&[shelf]).at[1], at(31));
        let shelves = [shelf, in_way("loose shelf", 31, 32)];
        let found = set(&shelves);
        assert_eq!((found.at[1], found.meets.is_empty()), (at(28), true));
    }

    /// A hinge at an end goes no further from it than 8 and no nearer than 2: shelves all over that stretch leave it none. Where they
    /// are loose it moves clear of the fixed ones alone, and says which it meets.
    #[test]
    fn a_hinge_without_a_clear_place_is_named() {
        let at = |n: i64| Length::inches(n);
        let hinges = [at(4), at(56)];
        let set = |all: &[InWay]| clear_of(&hinges, at(60), all, Length::in_64(4));
        let found = set(&[in_way("fixed shelf", 1, 8)]);
        assert_eq!(found.at, hinges);
        assert_eq!(found.meets, [(at(4), "fixed shelf")]);
        let found = set(&[in_way("loose shelf", 4, 8), in_way("fixed shelf", 2, 3)]);
        assert_eq!(found.at, hinges, "4 is clear of the fixed one");
        assert_eq!(found.meets, [(at(4), "loose shelf")]);
        assert_eq!(set(&[]).meets, []);
    }
}
