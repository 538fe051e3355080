//! The studs of a wall: those she found at one height, and where she looked at two which of them lean.

use crate::model::{Opening, Reading, Studs, WallSide};
use crate::units::{Length, Tape};

/// Two readings so near are of one stud: studs stand further apart than that. Common practice, no source.
const SAME: Length = Length::inches(4);
/// A stud that leans less than this over its readings still takes a screw in its middle. Common practice, no source: 1/4 in.
pub(super) const LEANS: Length = Length::in_64(16);

/// One stud.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stud {
    /// Its middle from the left end of its wall.
    pub from_left: Length,
    /// How high up that was read.
    pub height: Reading,
    /// The same at another height.
    pub also: Option<(Length, Reading)>,
}

/// The studs of a wall from its left end; one read at two heights is one stud, at the lower of them.
pub fn studs_on(opening: &Opening, wall: WallSide) -> Vec<Stud> {
    let mut read: Vec<&Studs> = opening.studs.iter().filter(|s| s.wall == wall).collect();
    read.sort_by_key(|s| s.height);
    let mut list: Vec<Stud> = Vec::new();
    for studs in read {
        for from in &studs.from_left {
            let elsewhere = |s: &&mut Stud| {
                s.also.is_none() && s.height != studs.height && (s.from_left - *from).abs() <= SAME
            };
            let near = list.iter_mut().filter(elsewhere);
            match near.min_by_key(|s| (s.from_left - *from).abs()) {
                Some(stud) => stud.also = Some((*from, studs.height)),
                None => list.push(Stud {
                    from_left: *from,
                    height: studs.height,
                    also: None,
                }),
            }
        }
    }
    list.sort_by_key(|s| s.from_left);
    list
}

/// Studs that lean so far that a screw above or below misses their middle.
pub(super) fn leaning(opening: &Opening, wall: WallSide, tape: Tape) -> Vec<String> {
    let said = |s: Stud| {
        let (low, (at, high)) = (s.height?, s.also?);
        let high = high.filter(|_| (at - s.from_left).abs() >= LEANS)?;
        Some(format!(
            "The stud in the {} wall {} from its left end at {} up stands at {} at {} up: it leans, so find it again at the height of each screw.",
            wall.word(),
            tape.print(s.from_left),
            tape.print(low),
            tape.print(at),
            tape.print(high)
        ))
    };
    studs_on(opening, wall)
        .into_iter()
        .filter_map(said)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::opening::samples::{inch, inches};

    fn studs(height: Option<&str>, from_left: &[&str]) -> Studs {
        Studs {
            wall: WallSide::Back,
            from_left: inches(from_left),
            height: height.map(inch),
            found_by: String::new(),
        }
    }

    /// At 12 up three studs, at 80 up the second is 1/2 to the right, and the third was not found.
    #[test]
    fn a_stud_read_at_two_heights_is_one_that_may_lean() {
        let mut o = Opening {
            studs: vec![
                studs(Some("80"), &["8", "24 1/2"]),
                studs(Some("12"), &["8", "24", "40"]),
            ],
            ..Opening::default()
        };
        let found = studs_on(&o, WallSide::Back);
        let at: Vec<Length> = found.iter().map(|s| s.from_left).collect();
        assert_eq!(at, inches(&["8", "24", "40"]));
        assert_eq!(found[1].also, Some((inch("24 1/2"), Some(inch("80")))));
        let said = leaning(&o, WallSide::Back, Tape::default());
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains("24 from its left end at 12 up stands at 24 1/2 at 80 up"));
        assert!(studs_on(&o, WallSide::Left).is_empty());
        // One list without a height is as it was.
        o.studs = vec![studs(None, &["8", "10"])];
        assert_eq!(studs_on(&o, WallSide::Back).len(), 2);
    }
}
