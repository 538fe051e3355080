//! Finding room: where a part's words, a leftover's size and a cut's number can stand without touching anything. Owns the
//! order in which ways of writing are tried; nothing is ever made smaller than 2.5 mm to fit.

use crate::book::draw::Anchor;
use crate::book::draw::{Area, Text, Turn, Weight, line_pitch, pt, text_width};

/// Words that stand together: lines of one size, the first bold.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Words {
    /// The lines.
    pub(crate) lines: Vec<(String, Weight)>,
    /// Height of capitals.
    pub(crate) size: f64,
    /// Which way they read.
    pub(crate) turn: Turn,
}

impl Words {
    /// Width and height on the paper.
    fn extent(&self) -> [f64; 2] {
        let long = self
            .lines
            .iter()
            .map(|(t, w)| text_width(t, self.size, *w))
            .fold(0.0, f64::max);
        // From the top of the first line's letters to the foot of the last one's.
        let [above, below] = self.reach();
        let high = (self.lines.len() - 1) as f64 * line_pitch(self.size) + above + below;
        match self.turn {
            Turn::Level => [long, high],
            Turn::Up => [high, long],
        }
    }
    /// How far the first line reaches up and the last one down.
    fn reach(&self) -> [f64; 2] {
        let of = |(text, weight): &(String, Weight)| {
            Text::new(pt(0.0, 0.0), self.size, *weight, text).reach()
        };
        [
            self.lines.first().map_or(0.0, |l| of(l)[0]),
            self.lines.last().map_or(0.0, |l| of(l)[1]),
        ]
    }
    /// The texts, centred on a place.
    pub(crate) fn at(&self, area: &Area) -> Vec<Text> {
        let centre = area.centre();
        let mut along = self.reach()[0];
        self.lines
            .iter()
            .map(|(line, weight)| {
                let at = match self.turn {
                    Turn::Level => pt(centre.x, area.y + along),
                    Turn::Up => pt(area.x + along, centre.y),
                };
                along += line_pitch(self.size);
                Text::new(at, self.size, *weight, line)
                    .anchored(Anchor::Centre)
                    .turned(self.turn)
            })
            .collect()
    }
    /// Where they can stand inside `inside` without meeting `taken`: the middle first, then around it.
    pub(crate) fn place(&self, inside: &Area, taken: &[Area]) -> Option<Area> {
        let [w, h] = self.extent();
        find_room(inside, [w, h], taken)
    }
}

/// Where along the spare room a place is tried: the middle, then towards the ends.
const STEPS: [f64; 5] = [0.5, 0.25, 0.75, 0.0, 1.0];

/// Where something of that size can stand inside `inside` without meeting `taken`: the middle first, then around it.
pub(crate) fn find_room(inside: &Area, [w, h]: [f64; 2], taken: &[Area]) -> Option<Area> {
    let (spare_x, spare_y) = (inside.w - w, inside.h - h);
    if spare_x < 0.0 || spare_y < 0.0 {
        return None;
    }
    let mut ways: Vec<(f64, f64)> = Vec::new();
    for fy in STEPS {
        for fx in STEPS {
            ways.push((fx, fy));
        }
    }
    ways.sort_by(|a, b| {
        let far =
            |(x, y): &(f64, f64)| ((x - 0.5) * spare_x).powi(2) + ((y - 0.5) * spare_y).powi(2);
        far(a).total_cmp(&far(b))
    });
    ways.into_iter()
        .map(|(fx, fy)| Area::new(inside.x + spare_x * fx, inside.y + spare_y * fy, w, h))
        .find(|a| !taken.iter().any(|t| t.meets(a)))
}

/// The ways a part's mark and size are written, best first.
pub(crate) fn ways(mark: &str, size: &str) -> Vec<Words> {
    let mark = (mark.to_owned(), Weight::Bold);
    let size = (size.to_owned(), Weight::Regular);
    let joined = (format!("{}  {}", mark.0, size.0), Weight::Regular);
    let mut all = Vec::new();
    for height in [3.5, 2.5] {
        for turn in [Turn::Level, Turn::Up] {
            for lines in [vec![mark.clone(), size.clone()], vec![joined.clone()]] {
                all.push(Words {
                    lines,
                    size: height,
                    turn,
                });
            }
        }
    }
    all
}

/// The ways a mark alone is written: the size goes into the table.
pub(crate) fn mark_ways(mark: &str) -> Vec<Words> {
    let mut all = Vec::new();
    for height in [3.5, 2.5] {
        for turn in [Turn::Level, Turn::Up] {
            all.push(Words {
                lines: vec![(mark.to_owned(), Weight::Bold)],
                size: height,
                turn,
            });
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_inside_and_clear_of_what_is_there() {
        let inside = Area::new(0.0, 0.0, 40.0, 20.0);
        let words = &ways("L1", "20 13/16 x 23")[0];
        let taken = [Area::new(15.0, 6.0, 10.0, 8.0)];
        if let Some(area) = words.place(&inside, &taken) {
            assert!(inside.holds(&area) && !area.meets(&taken[0]));
            for text in words.at(&area) {
                assert!(inside.holds(&text.area()), "{text:?}");
            }
        }
        let free = words.place(&inside, &[]).expect("room");
        assert!((free.centre().x - 20.0).abs() < 0.01);
        assert!(find_room(&inside, [41.0, 5.0], &[]).is_none());
    }
}
