//! Standing boxes up, and getting them, the sheets and the cartons to the opening.
//!
//! Owns the tilt-up rule: a box stood up from its back sweeps its side-view diagonal, which must be no more than the ceiling
//! (published rule, S39); and the passage rule: two of three sizes go through a door, the third is the length.

use super::sit::{Row, Standing};
use super::survey::Survey;
use super::trace::hypotenuse_up;
use crate::model::{Opening, WayIn};
use crate::units::Length;
use serde::Serialize;

/// What a lifted box needs to clear the base's edge: 1/4 in, common practice, no source.
pub(crate) const LIFT: Length = Length::in_64(16);

/// Stood up on the opening's own floor.
const FLOOR: &str = "on the floor of the opening";
/// Tilted up on the base.
pub(crate) const ON_BASE: &str = "on top of the base";
/// Stood up elsewhere, then lifted on.
const LIFTED: &str = "lifted upright on to the base";

/// Standing boxes of one height and depth up in one place.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct StandUp {
    /// Where.
    #[serde(rename = "where")]
    pub place: String,
    /// The boxes or frames.
    pub what: String,
    /// What sweeps: the side-view diagonal, with the base where it stands on it; the height alone where it is lifted.
    pub diagonal: Length,
    /// The ceiling there.
    pub ceiling: Length,
    /// True if it goes.
    pub goes: bool,
    /// By how much it is too tall; nothing where it goes.
    pub short_by: Length,
    /// True where the height would do, but the floor there is shorter than the box needs while it is tilted up.
    pub no_floor: bool,
}

/// One thing through one door, turn or stair.
#[derive(Clone, PartialEq, Eq, Debug, Serialize)]
pub struct Passage {
    /// The thing.
    pub what: String,
    /// The door, turn or stair.
    pub through: String,
    /// True if it goes.
    pub goes: bool,
    /// Upright, on its side, on edge tilted, or why not.
    pub how: String,
}

fn stand(place: &str, what: &str, diagonal: Length, ceiling: Length) -> StandUp {
    StandUp {
        place: place.to_owned(),
        what: what.to_owned(),
        diagonal,
        ceiling,
        goes: diagonal <= ceiling,
        short_by: (diagonal - ceiling).at_least_zero(),
        no_floor: false,
    }
}

/// Boxes of one height and depth, which are stood up alike: their names, and one of them with its diagonal. The hardest first.
fn alike(row: &Row) -> Vec<(String, &Standing, Length)> {
    let mut kinds: Vec<(String, &Standing, Length)> = Vec::new();
    for b in &row.boxes {
        let same =
            |k: &&mut (String, &Standing, Length)| (k.1.height, k.1.depth) == (b.height, b.depth);
        match kinds.iter_mut().find(same) {
            // Frames of one code have one name.
            Some(k) if k.0.split(", ").any(|n| n == b.name) => {}
            Some(k) => k.0 += &format!(", {}", b.name),
            None => kinds.push((b.name.clone(), b, hypotenuse_up(b.height, b.depth))),
        }
    }
    kinds.sort_by_key(|k| std::cmp::Reverse(k.2));
    kinds
}

/// Each kind of box in each place on the way that has only a height, on the opening's own floor, tilted up on the base, and
/// lifted on to it.
pub fn stand_up(opening: &Opening, survey: &Survey, row: &Row) -> Vec<StandUp> {
    let kinds = alike(row).into_iter();
    kinds
        .flat_map(|(names, b, diagonal)| one_stood(opening, survey, row, (&names, b, diagonal)))
        .collect()
}

fn one_stood(
    opening: &Opening,
    survey: &Survey,
    row: &Row,
    (names, b, diagonal): (&str, &Standing, Length),
) -> Vec<StandUp> {
    let mut list: Vec<StandUp> = opening
        .way_in
        .iter()
        .filter(|w| w.is_ceiling())
        .filter_map(|w| {
            let mut s = stand(&w.what, names, diagonal, w.height?);
            // Lying down, tilting, upright: along the floor a box takes at most its diagonal.
            s.no_floor = s.goes && w.turn.is_some_and(|floor| floor < diagonal);
            s.goes &= !s.no_floor;
            Some(s)
        })
        .collect();
    if let Some(ceiling) = survey.largest_box.height {
        list.push(stand(FLOOR, names, diagonal, ceiling));
        let base = row.base_height;
        if base.is_positive() {
            list.push(stand(ON_BASE, names, diagonal + base, ceiling));
            list.push(stand(LIFTED, names, b.height + base + LIFT, ceiling));
        }
    }
    list
}

/// The boxes that can in no way be stood up in their places, each with its ways.
pub(crate) fn cannot_be_stood(list: &[StandUp]) -> Vec<Vec<&StandUp>> {
    let mut kinds: Vec<Vec<&StandUp>> = Vec::new();
    for s in list {
        match kinds.iter_mut().find(|k| k[0].what == s.what) {
            Some(kind) => kind.push(s),
            None => kinds.push(vec![s]),
        }
    }
    kinds.retain(|k| !one_can(k));
    kinds
}

/// True where every box can be got upright in its place in some way.
pub fn can_be_stood(list: &[StandUp]) -> bool {
    cannot_be_stood(list).is_empty()
}

/// True where some way of getting it upright in its place is left: tilted up on the base, or stood up elsewhere and lifted on.
fn one_can(list: &[&StandUp]) -> bool {
    let goes = |name: &str| list.iter().find(|s| s.place == name).map(|s| s.goes);
    let own = |s: &StandUp| s.place == FLOOR || s.place == ON_BASE || s.place == LIFTED;
    // Where a place on the way is known, that is where boxes are stood up: the base takes the opening's own floor. Where none is
    // known, the floor in front of the opening is taken to be as high as the opening.
    let elsewhere_known = list.iter().any(|s| !own(s));
    let upright_elsewhere = list
        .iter()
        .any(|s| s.goes && (!own(s) || (!elsewhere_known && s.place == FLOOR)));
    match (goes(ON_BASE), goes(LIFTED)) {
        (Some(true), _) => true,
        (_, Some(lifted)) => lifted && upright_elsewhere,
        _ => upright_elsewhere || goes(FLOOR) == Some(true),
    }
}

/// One thing with three sizes (height first, as it stands) through a door, turn or stair.
pub fn passage(what: &str, size: [Length; 3], way: &WayIn) -> Option<Passage> {
    let [height, a, b] = size;
    let (small, wide) = (a.min(b), a.max(b));
    let (w, h) = (way.width?, way.height?);
    let mut sorted = size;
    sorted.sort_unstable();
    let [least, middle, length] = sorted;
    // In a turn the length swings with the least thickness: its diagonal must clear what she measured.
    let turns = |length: Length| way.turn.is_none_or(|t| hypotenuse_up(length, least) <= t);
    let (goes, how) = if height <= h && small <= w && turns(wide) {
        (true, "upright")
    } else if least <= w && middle <= h && turns(length) {
        (true, "on its side")
    } else if least <= h && middle <= w && turns(length) {
        (true, "flat")
    } else if tilted(least, middle, w, h) && turns(length) {
        (true, "tilted in the doorway")
    } else if !turns(length) && least <= w && middle <= h {
        (false, "too long to turn")
    } else {
        (false, "too large for it")
    };
    Some(Passage {
        what: what.to_owned(),
        through: way.what.clone(),
        goes,
        how: how.to_owned(),
    })
}

/// A rectangle p x q (q the longer, longer than the opening's longer side) passes aslant through a x b
/// if b >= (2 p q a + (q^2 - p^2) sqrt(p^2 + q^2 - a^2)) / (p^2 + q^2): Carver's condition, 1957, from memory.
fn tilted(p: Length, q: Length, w: Length, h: Length) -> bool {
    let (p, q) = (p.as_inches(), q.as_inches());
    let (a, b) = (w.max(h).as_inches(), w.min(h).as_inches());
    let sum = p * p + q * q;
    if p > b || q <= a || sum < a * a {
        return false;
    }
    b >= (2.0 * p * q * a + (q * q - p * p) * (sum - a * a).sqrt()) / sum
}

/// Everything through everything on the way; equal things once.
pub fn way_in(opening: &Opening, things: &[(String, [Length; 3])]) -> Vec<Passage> {
    let mut list: Vec<Passage> = Vec::new();
    for way in &opening.way_in {
        for (what, size) in things {
            if let Some(p) = passage(what, *size, way).filter(|p| !list.contains(p)) {
                list.push(p);
            }
        }
    }
    list
}

/// The mark by which sizes are tried.
const MARK: Length = Length::in_64(4);

/// The least size up to `most` that does, by marks; what does is taken to do the more, the larger it is.
pub(crate) fn least(most: Length, does: impl Fn(Length) -> bool) -> Option<Length> {
    let (mut low, mut high) = (0, most.units() / MARK.units());
    if high < 1 || !does(MARK * high) {
        return None;
    }
    while high - low > 1 {
        let middle = (low + high) / 2;
        if does(MARK * middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(MARK * high)
}

#[cfg(test)]
mod tests {
    use super::super::samples::inch;
    use super::*;
    use crate::units::Length;

    /// S39's rule worked by hand for pairs of sizes, and the failure published in S40.
    #[test]
    fn the_published_tilt_up_pairs() {
        let d = |h: &str, depth: &str| hypotenuse_up(inch(h), inch(depth));
        assert!(d("93", "24") > inch("96"));
        assert!(d("92 1/2", "24") <= inch("96"));
        assert!(d("94", "16") <= inch("96") && d("95", "12") <= inch("96"));
        assert!(d("90", "24") <= inch("96") && d("90", "24") > inch("92"));
        let mm = hypotenuse_up(Length::mm(2360), Length::mm(580)).as_mm();
        assert!((mm - 2430.2).abs() < 0.05);
    }

    #[test]
    fn a_box_through_a_door() {
        let door = |turn| WayIn {
            what: "door".into(),
            width: Some(inch("30 1/2")),
            height: Some(inch("79")),
            turn,
            not_taken: Vec::new(),
        };
        let tall = [inch("88"), inch("24 1/2"), inch("23 1/4")];
        let p = passage("box", tall, &door(None)).unwrap();
        assert_eq!((p.goes, p.how.as_str()), (true, "on its side"));
        let p = passage("box", tall, &door(Some(inch("88")))).unwrap();
        assert_eq!((p.goes, p.how.as_str()), (false, "too long to turn"));
        let low = [inch("36"), inch("60"), inch("23")];
        assert_eq!(passage("low", low, &door(None)).unwrap().how, "upright");
    }

    /// Two kinds of frames under one ceiling of 94 3/4 on a base of 3 3/4: 80 x 12 goes up on the base (80.9 + 3.75); 92 x 23 tilts
    /// up nowhere (94.8), so it is named alone, whatever the other does.
    #[test]
    fn every_kind_of_box_is_stood_up_by_itself() {
        let b = |name: &str, height: &str, depth: &str| Standing {
            name: name.into(),
            x: Length::ZERO,
            width: inch("20"),
            height: inch(height),
            depth: inch(depth),
        };
        let o = super::super::samples::alcove();
        let s = super::super::survey::survey(&o);
        let row = Row {
            boxes: vec![b("A", "80", "12"), b("B", "92", "23"), b("C", "80", "12")],
            base_below_line: Length::ZERO,
            base_height: inch("3 3/4"),
        };
        let list = stand_up(&o, &s, &row);
        let names: Vec<&str> = list.iter().map(|s| s.what.as_str()).collect();
        assert!(names.contains(&"A, C") && names.contains(&"B"), "{names:?}");
        let cannot = cannot_be_stood(&list);
        assert_eq!(cannot.len(), 1);
        assert!(cannot[0].iter().all(|s| s.what == "B"), "{cannot:?}");
    }
}
