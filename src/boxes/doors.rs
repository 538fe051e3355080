//! Where the doors of a box stand, for its drawings, and how high their hinges are set.

use super::draw::{door_gap, doors_of};
use super::drawers::{Drawers, face, places};
use super::facts::Inside;
use crate::model::{BoxPlan, DoorLay, Job, Run};
use crate::units::Length;

/// From an end of a door to the middle of its first hinge; on a low door no more than a quarter of it. Common practice, no source.
const FROM_END: Length = Length::inches(4);

/// One door as it is seen from the front.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DoorFront {
    /// From the left edge and the bottom edge of the box to its own.
    pub at: [Length; 2],
    /// Width and height.
    pub size: [Length; 2],
    /// True where it hangs at its left edge, false at its right; `None` = by itself, so she chooses.
    pub hung_left: Option<bool>,
}

/// The doors of a box: over its drawers, row on row from the bottom, left to right.
pub(super) fn door_fronts(job: &Job, run: &Run, plan: &BoxPlan, inside: &Inside) -> Vec<DoorFront> {
    let found = doors_of(job, run, plan, inside);
    let Some(rows) = found.first().map(|d| d.rows) else {
        return Vec::new();
    };
    let all: usize = found.iter().map(|d| d.columns).sum();
    let gap = door_gap(job, run);
    let bays = places(run, inside);
    let whole = || match run.build.door_lay {
        DoorLay::Overlay => vec![[Length::ZERO, inside.outside.width]],
        DoorLay::Inset => {
            let half = run.build.door_gap / 2;
            vec![[
                inside.thick + half,
                inside.outside.width - inside.thick - half,
            ]]
        }
    };
    let across = if (plan.doors as usize).is_multiple_of(bays.len()) {
        bays
    } else {
        whole()
    };
    let columns = (all / across.len().max(1)).max(1);
    let foot = match run.build.door_lay {
        DoorLay::Overlay => Length::ZERO,
        DoorLay::Inset => inside.thick + run.build.door_gap / 2,
    };
    // Before drawers inside, doors close the whole face.
    let under = inside.drawers.iter().filter(|_| !inside.drawers_inside);
    let drawers: Length = under.copied().sum();
    let high = (face(run, inside)[1] - drawers) / rows as i64;
    let mut list = Vec::new();
    for row in 0..rows {
        for [from, to] in &across {
            let wide = (*to - *from) / columns as i64;
            for column in 0..columns {
                let left = *from + wide * column as i64;
                let low = foot + drawers + high * row as i64;
                list.push(DoorFront {
                    at: [left + gap / 2, low + gap / 2],
                    size: [wide - gap, high - gap],
                    hung_left: (columns == 2).then_some(column == 0),
                });
            }
        }
    }
    list
}

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

/// From the middle of a hinge to what its plate keeps clear of. Common practice, no source.
const PLATE: Length = Length::INCH;

/// Lower and upper edge of the slides and packers behind doors, up from the doors' own lower edges; a slide goes on the packer, level
/// with the lower edge of its drawer.
pub(super) fn slides_before(
    drawers: Option<&Drawers>,
    doors_low: impl Iterator<Item = Length>,
    high: Length,
) -> Vec<[Length; 2]> {
    let lows: Vec<Length> = doors_low.collect();
    let each = drawers.filter(|d| d.inside).map(|d| &d.each).into_iter();
    each.flatten()
        .flat_map(|d| {
            lows.iter()
                .map(move |low| [d.low - *low, d.low - *low + high])
        })
        .collect()
}

/// The hinges, each that would meet a slide moved just clear of all of them, the shorter way, and no nearer than 2 in to an end of the
/// door; one that finds no place stays.
pub(super) fn clear_of(
    hinges: &[Length],
    high: Length,
    slides: &[[Length; 2]],
    mark: Length,
) -> Vec<Length> {
    let clear = |at: Length| (slides.iter()).all(|s| at + PLATE <= s[0] || at - PLATE >= s[1]);
    let on_mark = |l: Length, up: bool| {
        if !mark.is_positive() || !(l % mark).is_positive() {
            l
        } else if up {
            l + mark - l % mark
        } else {
            l - l % mark
        }
    };
    let end = FROM_END / 2;
    let moved = |at: Length| {
        if clear(at) {
            return at;
        }
        let over = slides.iter().map(|s| on_mark(s[1] + PLATE, true));
        let under = slides.iter().map(|s| on_mark(s[0] - PLATE, false));
        let places = over.chain(under);
        let free = places.filter(|p| *p >= end && *p <= high - end && clear(*p));
        free.min_by_key(|p| ((*p - at).abs(), *p)).unwrap_or(at)
    };
    hinges.iter().map(|at| moved(*at)).collect()
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

    /// By hand: a slide from 3 to 5 takes hinges from 2 to 6; one at 4 1/2 goes up to 6, one at 30 stays, and a second slide from 6 to
    /// 8 sends the first down to 2.
    #[test]
    fn hinges_keep_clear_of_slides() {
        let at = |n: i64| Length::inches(n);
        let (mark, high) = (Length::in_64(4), at(60));
        let hinges = [Length::in_64(4 * 64 + 32), at(30)];
        let one = [[at(3), at(5)]];
        assert_eq!(clear_of(&hinges, high, &one, mark), [at(6), at(30)]);
        let two = [[at(3), at(5)], [at(6), at(8)]];
        assert_eq!(clear_of(&hinges, high, &two, mark), [at(2), at(30)]);
    }
}
