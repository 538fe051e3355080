//! Closed space: how much of it is wanted, and how many bought frames their doors close.

use crate::model::{Job, PrefabUnit, Want};
use crate::units::{Length, ReadAs, Unit, parse_length};

/// Closed space wanted, where it is given as a length.
pub(super) fn wanted(want: &Want, unit: Unit) -> Option<Length> {
    let how = ReadAs {
        unit,
        ..ReadAs::default()
    };
    parse_length(want.closed.as_deref()?, how).ok()
}

/// Closed space wanted in words alone is counted by nobody.
pub(super) fn in_words_alone(job: &Job) -> Option<String> {
    let want = job.want.as_ref()?;
    let text = want.closed.as_deref().filter(|t| !t.trim().is_empty())?;
    wanted(want, job.project.tape.unit).is_none().then(|| {
        format!("`closed` under [want] says \"{text}\": give a length, such as 6 ft, and it is held against the shelves behind doors and the drawers.")
    })
}

/// How many of `n` frames alike are closed by their doors: as many as the doors side by side are wide enough for. A door without a
/// width, or as broad as the frame, closes one.
pub(super) fn frames_behind(frame: &PrefabUnit, n: u32, doors: &[(&PrefabUnit, u32)]) -> u32 {
    let each = |(door, n): &(&PrefabUnit, u32)| door_width(frame, door) * i64::from(*n);
    let sum: Length = doors.iter().map(each).sum();
    let count: u32 = doors.iter().map(|d| d.1).sum();
    let closes = |n: &u32| count >= *n && sum >= closing_width(frame, *n);
    (1..=n).take_while(closes).count() as u32
}

/// What a door closes of that frame: its own width, or the whole frame where it has none or is broader.
pub fn door_width(frame: &PrefabUnit, door: &PrefabUnit) -> Length {
    let wide = frame.width.unwrap_or_default();
    let own = door.width.filter(|w| w.is_positive() && *w < wide);
    own.unwrap_or(wide)
}

/// Width of doors that closes `n` of a frame. Doors leave gaps between them: nine tenths of the width count as closed.
pub fn closing_width(frame: &PrefabUnit, n: u32) -> Length {
    let nine = frame.width.unwrap_or_default() * 9 * i64::from(n);
    Length::from_units((nine.units() + 9) / 10)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::PrefabKind;
    use crate::opening::fit_tests::unit;
    use crate::opening::samples::inch;

    /// Frames 24 wide: a pair of doors of 11 3/4 closes one, three of them one, a door of 23 3/4 one.
    #[test]
    fn doors_close_frames() {
        let frame = unit("W24", PrefabKind::Frame, "24");
        let half = unit("D12", PrefabKind::Door, "11 3/4");
        let whole = unit("D24", PrefabKind::Door, "23 3/4");
        assert_eq!(frames_behind(&frame, 3, &[]), 0);
        assert_eq!(frames_behind(&frame, 3, &[(&half, 1)]), 0);
        assert_eq!(frames_behind(&frame, 3, &[(&half, 3)]), 1);
        assert_eq!(frames_behind(&frame, 3, &[(&half, 2), (&whole, 1)]), 2);
        assert_eq!(frames_behind(&frame, 1, &[(&whole, 4)]), 1);
        assert_eq!(
            wanted(
                &Want {
                    closed: Some("6 ft".into()),
                    ..Want::default()
                },
                Unit::Inch
            ),
            Some(inch("72"))
        );
        assert_eq!(
            wanted(
                &Want {
                    closed: Some("the boots".into()),
                    ..Want::default()
                },
                Unit::Inch
            ),
            None
        );
    }
}
